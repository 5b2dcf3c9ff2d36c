"""The dependency diagram: arrows that remain, lanes in order, every step drawn, the renderer."""

from __future__ import annotations

import os
import re
import stat
import xml.etree.ElementTree as ET
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import networkx
import pytest
from example_plan import example_plan
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import SequencerError
from sequencer.pictures.arrows import Arrow, make_arrows
from sequencer.pictures.dependency_diagram import diagram_dot, diagram_png, diagram_svg, sequence_dot
from sequencer.pictures.dot import render_dot
from sequencer.plan import Plan
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.sequencing import Sequence

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def plan() -> Plan:
    """The example plan."""
    return example_plan()


def _sequence(plan: Plan, count: int) -> Sequence:
    """An order of `count` steps named o0, o1, ... in the lanes of the example plan."""
    given_steps = plan.sequence.steps
    steps = []
    for index in range(count):
        step = given_steps[index * len(given_steps) // count]
        operation = replace(step.operation, name=f"o{index}")
        steps.append(replace(step, number=10 * (index + 1), operation=operation))
    return replace(plan.sequence, steps=tuple(steps))


def _before(first: int, second: int, rule: str = "R1", strength: Strength = Strength.MUST) -> Dependency:
    return Dependency(Relation.BEFORE, f"o{first}", f"o{second}", rule=rule, strength=strength)


@given(st.sets(st.tuples(st.integers(0, 11), st.integers(0, 11)).filter(lambda p: p[0] < p[1]), max_size=40))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_musts_are_reduced_as_networkx_reduces_them(pairs: set[tuple[int, int]]) -> None:
    """Independent check: networkx.transitive_reduction."""
    sequence = _sequence(example_plan(), 12)
    arrows = make_arrows(sequence, tuple(_before(*pair) for pair in sorted(pairs)))
    graph = networkx.DiGraph(sorted(pairs))
    assert {(arrow.first, arrow.second) for arrow in arrows} == set(
        networkx.transitive_reduction(graph).edges
    )


def test_a_must_never_hides_behind_a_should(plan: Plan) -> None:
    """0 to 2 stays, as the way over 1 is only a should; a should that musts imply goes."""
    sequence = _sequence(plan, 4)
    should = Strength.SHOULD
    kept = make_arrows(sequence, (_before(0, 1, "R2", should), _before(1, 2, "R3"), _before(0, 2)))
    assert [(a.first, a.second, a.must) for a in kept] == [(0, 1, False), (0, 2, True), (1, 2, True)]
    gone = make_arrows(sequence, (_before(0, 1), _before(1, 2), _before(0, 2, "R9", should)))
    assert [(a.first, a.second) for a in gone] == [(0, 1), (1, 2)]


def test_rules_of_one_pair_share_an_arrow(plan: Plan) -> None:
    both = (_before(0, 1, "R1"), _before(0, 1, "R12", Strength.SHOULD), _before(0, 1, "R1"))
    assert make_arrows(_sequence(plan, 4), both) == (Arrow(0, 1, ("R1", "R12"), must=True),)


def test_a_broken_should_points_against_the_order(plan: Plan) -> None:
    arrows = make_arrows(plan.sequence, plan.graph.dependencies)
    broken = [arrow for arrow in arrows if arrow.broken]
    assert [arrow.rules for arrow in broken] == [("H1",)]
    assert broken[0].first > broken[0].second
    assert "style=dotted" in diagram_dot(plan)


def test_opening_steps_reach_the_first_steps_of_their_visit_only(plan: Plan) -> None:
    steps = plan.sequence.steps
    opened = [a for a in make_arrows(plan.sequence, plan.graph.dependencies) if a.frame]
    assert opened
    for arrow in opened:
        assert steps[arrow.first].visit == steps[arrow.second].visit


def test_what_a_clamping_needs_points_at_its_first_step(plan: Plan) -> None:
    """Clamping II stands on the lower face: the arrow from its finish ends at the step that clamps."""
    needs = Dependency(Relation.OPENS, "lower_face/finish", clamping="II", rule="R40")
    arrows = make_arrows(plan.sequence, (*plan.graph.dependencies, needs))
    ends = [plan.sequence.steps[a.second].operation.name for a in arrows if a.rules == ("R40",)]
    assert ends == ["II/clamp"]


def test_a_step_repeated_in_each_visit_counts_for_its_own(plan: Plan) -> None:
    """The same clamping twice: its opening step stands in both visits and opens each."""
    sequence = _sequence(plan, 8)
    names = ("open", "a", "b", "c", "open", "d", "e", "f")
    visits = (1, 1, 1, 1, 2, 2, 2, 2)
    steps = tuple(
        replace(
            step,
            visit=visit,
            operation=replace(step.operation, name=name),
            alternative=replace(step.alternative, clamping="I"),
        )
        for step, name, visit in zip(sequence.steps, names, visits, strict=True)
    )
    opens = Dependency(Relation.OPENS, "open", clamping="I", rule="R18")
    found = make_arrows(replace(sequence, steps=steps), (opens,))
    assert [(a.first, a.second) for a in found] == [(0, 1), (0, 2), (0, 3), (4, 5), (4, 6), (4, 7)]


def test_every_step_is_drawn_once_with_its_number(plan: Plan) -> None:
    root = ET.fromstring(diagram_svg(plan))
    words = [element.text for element in root.iter(f"{SVG}text")]
    for step in plan.sequence.steps:
        assert words.count(str(step.number)) == 1


def test_lanes_stand_in_the_order_of_the_visits(plan: Plan) -> None:
    root = ET.fromstring(diagram_svg(plan))
    lanes = {}
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "cluster":
            title, polygon = group.find(f"{SVG}title"), group.find(f"{SVG}polygon")
            assert title is not None
            assert polygon is not None
            heights = [float(pair.split(",")[1]) for pair in (polygon.get("points") or "").split()]
            lanes[int((title.text or "").removeprefix("cluster_"))] = (min(heights), max(heights))
    assert len(lanes) == len(plan.sequence.visits)
    for above, below in pairwise(sorted(lanes)):
        assert lanes[above][1] < lanes[below][0]


def test_boxes_do_not_overlap(plan: Plan) -> None:
    dense = tuple(_before(i, j, f"R{i % 52 + 1}") for i in range(60) for j in range(i + 1, min(i + 6, 60)))
    root = ET.fromstring(render_dot(sequence_dot(_sequence(plan, 60), dense, "Sixty"), "svg"))
    boxes = []
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "node" and (polygon := group.find(f"{SVG}polygon")) is not None:
            points = [tuple(map(float, pair.split(","))) for pair in (polygon.get("points") or "").split()]
            xs, ys = [p[0] for p in points], [p[1] for p in points]
            boxes.append((min(xs), min(ys), max(xs), max(ys)))
    assert len(boxes) == 60
    for index, one in enumerate(boxes):
        for other in boxes[index + 1 :]:
            assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_a_hundred_and_fifty_steps_are_drawn(plan: Plan) -> None:
    chain = tuple(_before(i, j) for i in range(150) for j in (i + 1, i + 7, i + 20) if j < 150)
    picture = render_dot(sequence_dot(_sequence(plan, 150), chain, "Big"), "svg").decode()
    assert picture.count('class="node"') == 150


def test_words_of_any_kind_stay_words(plan: Plan) -> None:
    sequence = _sequence(plan, 3)
    odd = replace(sequence.steps[0].operation, title='Turn <b> & "face" \\N 5 °C é')
    steps = (replace(sequence.steps[0], operation=odd), *sequence.steps[1:])
    picture = render_dot(sequence_dot(replace(sequence, steps=steps), (), 'A "b" \\l'), "svg").decode()
    text = " ".join(element.text or "" for element in ET.fromstring(picture).iter(f"{SVG}text"))
    assert '<b> & "face"' in text.replace("\u00a0", " ")


def test_pictures_are_the_same_twice(plan: Plan) -> None:
    assert diagram_svg(plan) == diagram_svg(plan)
    assert diagram_png(plan).startswith(b"\x89PNG")


def test_only_greys_and_the_shipped_family(plan: Plan) -> None:
    picture = diagram_svg(plan)
    assert set(re.findall(r'font-family="([^"]*)"', picture)) == {"Arimo, Helvetica, Arial, sans-serif"}
    colours = set(re.findall(r"#[0-9a-f]{6}", picture))
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours)


def _program(folder: Path, text: str) -> str:
    path = folder / "dot"
    path.write_text(f"#!/bin/sh\n{text}\n")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)
    return str(path)


@pytest.mark.skipif(os.name == "nt", reason="the stand-in is a shell script")
def test_a_whole_picture_with_status_one_is_taken(tmp_path: Path) -> None:
    """Graphviz ends with status 1 when it lost the course of an edge but drew everything."""
    assert (
        render_dot("digraph{}", "svg", _program(tmp_path, 'echo "<svg></svg>"; exit 1')) == b"<svg></svg>\n"
    )


@pytest.mark.skipif(os.name == "nt", reason="the stand-in is a shell script")
def test_half_a_picture_is_refused(tmp_path: Path) -> None:
    program = _program(tmp_path, 'echo "<svg"; echo "syntax error in line 1" >&2; exit 1')
    with pytest.raises(
        SequencerError, match=r"gave no whole picture: syntax error in line 1.*Name another dot"
    ):
        render_dot("digraph{}", "svg", program)


def test_bad_dot_text_is_refused() -> None:
    with pytest.raises(SequencerError, match=r"dependency diagram: .* gave no whole picture"):
        render_dot("digraph{ a -> ", "svg")
