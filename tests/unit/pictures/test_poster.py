"""The diagram as tiles and by features; the longest chain."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import networkx
import pytest
from example_plan import example_plan
from hypothesis import given, settings
from hypothesis import strategies as st
from planned_parts import planned

from sequencer.errors import SequencerError
from sequencer.papers.picture_files import picture_files
from sequencer.pictures.arrows import Arrow, longest_chain, make_arrows
from sequencer.pictures.dependency_diagram import BANDS, diagram_svg
from sequencer.pictures.feature_diagram import boxes_of, feature_arrows, feature_diagram
from sequencer.pictures.ink import INK, contrast
from sequencer.pictures.poster import EDGE, OVERLAP, PAPERS, tiles, tiling

SVG = "{http://www.w3.org/2000/svg}"


@given(st.floats(10, 4000), st.floats(10, 4000), st.sampled_from(sorted(PAPERS)))
@settings(deadline=None, derandomize=True)
def test_tiles_cover_the_whole_picture_and_none_is_empty(width: float, height: float, paper: str) -> None:
    cut = tiling(width, height, paper)
    for size, window, count in (
        (width, cut.window[0], cut.columns),
        (height, cut.window[1], cut.rows),
    ):
        covered = window + (count - 1) * (window - OVERLAP)
        assert covered >= size - 1e-6
        assert (count - 1) * (window - OVERLAP) < size


def test_tiles_follow_each_other_with_an_overlap() -> None:
    """Windows of neighbouring tiles start one window less the overlap apart."""
    drawn = diagram_svg(example_plan())
    found = tiles(drawn, "A4", "Diagram")
    views = [re.findall(r'viewBox="([^"]*)"', tile)[1].split() for tile in found]
    width = tiling(*_size(drawn), "A4").window[0]
    columns = tiling(*_size(drawn), "A4").columns
    assert len(found) > 1
    if columns > 1:
        step = (float(views[1][0]) - float(views[0][0])) * 25.4 / 72
        assert step == pytest.approx(width - OVERLAP, rel=0.01)
    for place, tile in enumerate(found):
        root = ET.fromstring(tile)
        words = [each.text or "" for each in root.findall(f"{SVG}text")]
        assert words == [
            f"Diagram: row {place // columns + 1} of {len(found) // columns}, "
            f"column {place % columns + 1} of {columns}"
        ]
        assert root.find(f"{SVG}svg") is not None
        assert root.findall(f"{SVG}path"), "no marks"
    assert EDGE > 10


def _size(drawn: str) -> tuple[float, float]:
    box = [float(each) for each in ET.fromstring(drawn).attrib["viewBox"].split()]
    return box[2] * 25.4 / 72, box[3] * 25.4 / 72


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(SequencerError, match="paper 'B7' is not known"):
        tiles(diagram_svg(example_plan()), "B7", "Diagram")
    with pytest.raises(SequencerError, match="does not give its size in points"):
        tiles("<svg></svg>", "A4", "Diagram")


def test_tiles_are_files_of_their_own() -> None:
    files = picture_files(example_plan(), tiles="A4")
    pages = [name for name in files if name.startswith("dependencies-A4-")]
    assert pages
    assert all(files[name].startswith(b"%PDF") for name in pages)


@given(st.sets(st.tuples(st.integers(0, 11), st.integers(0, 11)).filter(lambda p: p[0] < p[1]), max_size=30))
@settings(deadline=None, derandomize=True, max_examples=40)
def test_the_longest_chain_is_that_of_networkx(pairs: set[tuple[int, int]]) -> None:
    """Independent check: networkx.dag_longest_path_length with the minutes of the second step on each arc."""
    plan = example_plan()
    steps = (plan.sequence.steps * 12)[:12]
    sequence = replace(plan.sequence, steps=steps)
    minutes = [step.alternative.minutes + step.alternative.lead_time for step in steps]
    graph = networkx.DiGraph()
    for place, each in enumerate(minutes):
        graph.add_edge("start", place, weight=each)
    graph.add_weighted_edges_from([(one, other, minutes[other]) for one, other in sorted(pairs)])
    chain = longest_chain(sequence, tuple(Arrow(*pair, ("R1",), must=True) for pair in sorted(pairs)))
    assert sum(minutes[place] for place in chain) == pytest.approx(networkx.dag_longest_path_length(graph))
    assert all(pair in pairs for pair in pairwise(chain))


def test_titles_of_lanes_are_drawn_after_all_arrows(parts_folder: Path) -> None:
    drawn = diagram_svg(planned(parts_folder, "bridge_wheel"))
    last_arrow = drawn.rindex('class="edge"')
    for title in ("Clamping I, visit 1", "Clamping II, visit 2"):
        assert drawn.count(f">{title}<") == 1
        assert drawn.index(f">{title}<") > last_arrow
    assert 'paint-order="stroke"' in drawn


def test_bands_differ_and_their_letters_can_be_read() -> None:
    letters, grounds = zip(*BANDS.values(), strict=True)
    assert len(set(letters)) == len(set(grounds)) == len(BANDS)
    assert all(contrast(INK, ground) >= 4.5 for ground in grounds)


def test_each_step_stands_in_one_box_and_arrows_join_boxes(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    boxes, box_of = boxes_of(plan.sequence, plan.part.name)
    assert sorted(step.number for box in boxes for step in box.steps) == [
        step.number for step in plan.sequence.steps
    ]
    assert len(boxes) < len(plan.sequence.steps)
    arrows = make_arrows(plan.sequence, plan.graph.dependencies)
    joined = {(arrow.first, arrow.second) for arrow in feature_arrows(arrows, box_of)}
    expected = {(box_of[each.first], box_of[each.second]) for each in arrows}
    assert joined == {pair for pair in expected if pair[0] != pair[1]}
    drawn = feature_diagram(plan)
    assert drawn == feature_diagram(plan)
    plain = drawn.replace("&#45;", "-")
    for box in boxes:
        assert f'data-keys="feature-{box.feature}"' in plain
