"""The half-section: labels that never overlap, lines that never cross, a true scale, text that stays text."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from many_features import bevel_wheel, every_kind, many_features

from sequencer.files import read_part
from sequencer.part import Part
from sequencer.part.section import make_section
from sequencer.pictures.half_section import draw_half_section, tooth_zones
from sequencer.pictures.half_section_layout import SCALES, HalfSectionLayout, Label, lay_out
from sequencer.pictures.lettering import text_width

SHIPPED = sorted(
    path.name for path in (Path(__file__).parents[3] / "parts").glob("*.yaml") if path.name != "shop.yaml"
)
SVG = "{http://www.w3.org/2000/svg}"


def _overlap(one: Label, other: Label) -> bool:
    apart = (
        one.x + one.width <= other.x
        or other.x + other.width <= one.x
        or one.y + one.height <= other.y
        or other.y + other.height <= one.y
    )
    return not apart


def _cross(
    a: tuple[float, float], b: tuple[float, float], c: tuple[float, float], d: tuple[float, float]
) -> bool:
    """Whether two stretches cross properly; touching does not count."""

    def side(p: tuple[float, float], q: tuple[float, float], r: tuple[float, float]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return side(a, b, c) * side(a, b, d) < -1e-9 and side(c, d, a) * side(c, d, b) < -1e-9


def _crossings(layout: HalfSectionLayout) -> list[tuple[str, str]]:
    return [
        (one.feature, other.feature)
        for one, other in combinations(layout.labels, 2)
        for a, b in pairwise(one.leader)
        for c, d in pairwise(other.leader)
        if _cross(a, b, c, d)
    ]


def _check(part: Part) -> HalfSectionLayout:
    layout = lay_out(part, make_section(part))
    assert sorted(label.feature for label in layout.labels) == sorted(
        feature.name for feature in part.features
    )
    for one, other in combinations(layout.labels, 2):
        assert not _overlap(one, other), (one.feature, other.feature)
    left, top, right, bottom = layout.body
    for label in layout.labels:
        assert label.x >= 0
        assert label.x + label.width <= layout.width
        assert label.y >= 0
        assert label.y + label.height <= layout.foot
        inside = (
            label.x < right
            and label.x + label.width > left
            and label.y < bottom
            and label.y + label.height > top
        )
        assert not inside, label.feature
        for text, size, bold in label.lines:
            assert text_width(text, size, bold=bold) <= label.width + 1e-9
    return layout


@pytest.mark.parametrize("name", SHIPPED)
def test_shipped_parts_have_clear_labels_and_uncrossed_lines(parts_folder: Path, name: str) -> None:
    assert _crossings(_check(read_part(parts_folder / name))) == []


@pytest.mark.parametrize("part", [every_kind(), bevel_wheel()], ids=["every kind", "bevel"])
def test_every_kind_of_feature_finds_its_place(part: Part) -> None:
    assert _crossings(_check(part)) == []
    text = draw_half_section(part, make_section(part))
    assert all(feature.name in text for feature in part.features)


@pytest.mark.parametrize("long", [False, True])
@pytest.mark.parametrize("count", [3, 10, 30, 60])
def test_three_to_sixty_features(count: int, long: bool) -> None:
    assert _crossings(_check(many_features(count, long=long))) == []


@given(st.integers(3, 40), st.floats(10, 2500), st.floats(4, 2500), st.booleans())
@settings(deadline=None, derandomize=True, max_examples=25)
def test_any_size_and_aspect_has_clear_labels(count: int, diameter: float, height: float, long: bool) -> None:
    _check(many_features(count, diameter=round(diameter, 2), height=round(height, 2), long=long))


@given(st.integers(3, 40), st.floats(150, 1500), st.floats(100, 800))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_lines_never_cross_on_parts_of_usual_shape(count: int, diameter: float, height: float) -> None:
    part = many_features(count, diameter=round(diameter, 1), height=round(height, 1))
    assert _crossings(_check(part)) == []


def test_the_scale_is_one_of_the_standard_and_true() -> None:
    """ISO 5455: 1, 2 and 5 times a power of ten; one scale for both directions."""
    part = many_features(10, diameter=600.0, height=400.0)
    layout = lay_out(part, make_section(part))
    assert layout.scale in SCALES
    assert layout.scale_words == "1 : 5"
    x, y = layout.point(400.0, 300.0)
    assert (x - layout.x_axis, layout.y_zero - y) == (pytest.approx(60.0), pytest.approx(80.0))


def test_a_tiny_part_is_enlarged() -> None:
    part = many_features(5, diameter=12.0, height=4.0)
    assert lay_out(part, make_section(part)).scale_words == "20 : 1"


def _root(part: Part) -> ET.Element:
    return ET.fromstring(draw_half_section(part, make_section(part)))


def test_text_stays_text_in_one_family(parts_folder: Path) -> None:
    root = _root(read_part(parts_folder / "bridge_wheel.yaml"))
    words = [element.text or "" for element in root.iter(f"{SVG}text")]
    assert "Double-helical gear" in words
    assert "Scale 1 : 5" in words
    assert "Ø 160 mm H7, Ra 0.8 um" in words
    assert root.get("font-family", "").startswith("Arimo, Helvetica, Arial")


def test_everything_lies_inside_the_frame(parts_folder: Path) -> None:
    root = _root(read_part(parts_folder / "mill_ring_inch.yaml"))
    box = [float(number) for number in (root.get("viewBox") or "").split()]
    for element in root.iter():
        for name, limit in (("x", box[2]), ("x1", box[2]), ("x2", box[2]), ("y", box[3]), ("y1", box[3])):
            if (value := element.get(name)) is not None:
                assert 0 <= float(value) <= limit, (element.tag, name, value)


def test_one_millimetre_of_the_picture_is_one_on_paper(parts_folder: Path) -> None:
    root = _root(read_part(parts_folder / "first_wheel.yaml"))
    width = (root.get("viewBox") or "").split()[2]
    assert root.get("width") == f"{float(width):.2f}mm"


def test_only_greys_are_drawn(parts_folder: Path) -> None:
    text = draw_half_section(*_pair(parts_folder / "telescope_ring.yaml"))
    colours = set(re.findall(r"#[0-9a-fA-F]{6}", text))
    assert colours
    assert all(colour[1:3] == colour[3:5] == colour[5:7] for colour in colours)


def _pair(path: Path) -> tuple[Part, object]:
    part = read_part(path)
    return part, make_section(part)


def test_inch_parts_are_dimensioned_in_inches(parts_folder: Path) -> None:
    words = [
        element.text for element in _root(read_part(parts_folder / "mill_ring_inch.yaml")).iter(f"{SVG}text")
    ]
    assert "7 in" in words
    assert "5 in" in words


def test_tooth_zones_are_those_of_gears_and_splines(parts_folder: Path) -> None:
    """The double-helical gear gives two zones, the spur gear and the spline one each."""
    part = read_part(parts_folder / "bridge_wheel.yaml")
    zones = tooth_zones(part, make_section(part))
    assert len(zones) == 4
    heights = {(corners[0][0], corners[1][0]) for _, corners in zones}
    assert [name for name, _ in zones].count("wheel") == 2
    assert {(10.0, 105.0), (185.0, 280.0)} <= heights


def test_the_same_part_gives_the_same_bytes(parts_folder: Path) -> None:
    one, other = (draw_half_section(*_pair(parts_folder / "press_sleeve.yaml")) for _ in range(2))
    assert one == other


def test_short_names_leave_room_for_a_larger_drawing(parts_folder: Path) -> None:
    """At 1 : 5 the sleeve would fill a fifth of its page; at 1 : 2 the whole is no wider than others are."""
    part = read_part(parts_folder / "press_sleeve.yaml")
    layout = lay_out(part, make_section(part))
    assert layout.scale_words == "1 : 2"
    assert layout.width < 265
    left = min(label.x for label in layout.labels)
    assert left == pytest.approx(3.0, abs=0.1)
