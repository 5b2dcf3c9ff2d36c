"""Features cut into the same place, edges that are none, tolerances that do not fit: refused in words."""

from __future__ import annotations

import re
from math import cos, hypot, pi, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import BadFile
from sequencer.files import part_from_text
from sequencer.files.introductions import PART_EXAMPLE
from sequencer.part.checks.plan_view import Box, Disc, meet, spread

_HUB = "  - {name: hub,"
_BOLTS = (
    "name: bc, kind: bolt_circle, on: upper_face, count: 8, diameter: 12 mm, depth: 20 mm, circle_diameter: "
)
_POCKETS = (
    "name: pk, kind: pocket, on: upper_face, width: 20 mm, length: 40 mm, depth: 10 mm, corner_radius: 8 mm, "
)
_ON_CIRCLE = _POCKETS + "circle_diameter: 125 mm, count: "
_GROOVE = (
    "name: fg, kind: face_groove, on: upper_face, side: upper, outer_diameter: 140 mm, "
    "inner_diameter: 110 mm, depth: "
)
_KEYWAY = "name: k2, kind: keyway, on: bore, width: 20 mm, depth: 5 mm, z_from: 50 mm, z_to: 100 mm, angle: "
_G1 = "name: g1, kind: groove, z_from: 70 mm, z_to: 80 mm, diameter: "
_G2 = "name: g2, kind: groove, z_from: 75 mm, z_to: 78 mm, diameter: 130 mm"
_STEP = "name: n, kind: turned_diameter, diameter: 156 mm, z_from: 90 mm, z_to: 100 mm"
_EDGE = "name: c2, kind: %s, on: %s, edge: %s, size: %s mm"

MEETINGS = [
    ("pockets cut each other", [_ON_CIRCLE + "10"],
     "(pk) count: 10 pockets 40 mm long on a circle of 125 mm cut each other (from middle to middle 39.27 mm "
     "along the circle). Take fewer or smaller pockets, or a larger circle."),
    ("pocket without a circle round a bore", [_POCKETS + "count: 1"],
     "(pk): circle_diameter is missing: 'upper_face' has a hole of 90 mm in its middle (else it lies on the "
     "axis). Add circle_diameter."),
    ("height of pockets in a face", [_ON_CIRCLE + "3, z: 95 mm"],
     "(pk) z: z 95 mm means nothing for pockets in a face, which enter at it. Take it out, or correct on."),
    ("circle of pockets in a diameter", [_ON_CIRCLE.replace("upper_face", "hub") + "3, z: 80 mm"],
     "(pk) circle_diameter: circle_diameter 125 mm means nothing for pockets in a diameter."),
    ("pockets over holes", [_BOLTS + "125 mm", _ON_CIRCLE + "3"],
     "(pk) circle_diameter: the pockets and the holes 'bc' cut each other (each takes its own material). "
     "Move one of them to another angle or diameter."),
    ("pockets in a groove", [_GROOVE + "10 mm", _ON_CIRCLE + "3"],
     "(pk) on: the pockets run into 'fg' (groove from 110 mm to 140 mm, 10 mm deep). Place it beside the "
     "groove, or on a face of its own at the floor of 'fg'."),
    ("holes in a groove", [_GROOVE + "10 mm", _BOLTS + "125 mm"],
     "(bc) on: the holes begin in 'fg', not in 'upper_face' (groove from 110 mm to 140 mm, 10 mm deep)."),
    ("holes that a groove takes away", [_GROOVE + "30 mm", _BOLTS + "125 mm"],
     "(bc) depth: nothing is left of the holes: 'fg' is as deep as they are"),
    ("holes through a keyway", [_BOLTS + "104 mm"],
     "(keyway) on: the keyway and the holes 'bc' cut each other"),
    ("holes that touch a keyway", [_BOLTS + "112 mm"],
     "(keyway) on: the keyway and the holes 'bc' cut each other"),
    ("counterbore through the part", [_BOLTS.replace("depth: 20 mm, ", "")
     + "125 mm, counterbore: {diameter: 18 mm, depth: 500 mm}"],
     "(bc) counterbore.depth: the counterbore of 500 mm goes through the material (100 mm of material on "
     "that circle). Make it less deep."),
    ("blind holes from the other side", [_BOLTS + "125 mm, side: lower"],
     "(bc) side: side lower, but 'upper_face' looks to the upper side (blind holes enter from the side of "
     "their face). Write side: upper, or correct on."),
    ("second keyway at the same place", [_KEYWAY + "10 deg"],
     "(keyway): it and 'k2' are cut into the same place (middles 8.727 mm apart along the surface, 20 mm "
     "needed). Give it another angle or other ends."),
    ("grooves with two floors", [_G1 + "140 mm", _G2],
     "(g2) z_from: it and 'g1' have different floors at z 75 to 78 mm (floors of 140 mm and 130 mm). Correct "
     "the ends, or write on: g1 if it lies in the floor of that groove."),
    ("groove over a keyway", [_G1 + "101 mm"],
     "(keyway) depth: depth 5 mm leaves only 0.5 mm of wall to 'g1' (at least 1 mm to the floor or tooth "
     "root there). Make it less deep."),
    ("edge chamfered twice", [_EDGE % ("chamfer", "bore", "upper", 2)],
     "(bore_chamfer) edge: the upper edge of 'bore' has 'c2' already (each edge is broken once). Take one of "
     "them out."),
    ("chamfer and radius", [_EDGE % ("radius", "bore", "lower", 2)],
     "edge: the lower edge of 'bore' has 'c2' already"),
    ("chamfer in a corner", [_EDGE % ("chamfer", "hub", "lower", 2)],
     "(c2) edge: there is no edge at the lower end of 'hub' but a corner: 'teeth' of 310 mm stands there (a "
     "chamfer breaks an edge). Correct edge, or on."),
    ("chamfer larger than the step", [_STEP.replace("z_from: 90", "z_from: 95"),
     _EDGE % ("chamfer", "ring", "upper", 3),
     "name: ring, kind: turned_diameter, diameter: 160 mm, z_from: 80 mm, z_to: 95 mm"],
     "(c2) size: the chamfer takes 3 mm across at the upper end of 'ring' (the step to 'n' is 2 mm). Make it "
     "smaller."),
    ("edge that is cut away", [_STEP, _EDGE % ("chamfer", "hub", "upper", 1)],
     "(c2) on: the upper end of 'hub' is cut away: 'n' has 156 mm there ('hub' has 160 mm). Name 'n', or end "
     "'hub' where that begins."),
    ("no edge at all", [_STEP.replace("156 mm, z_from: 90", "160 mm, z_from: 80"),
     _EDGE % ("radius", "n", "lower", 1)],
     "(c2) edge: there is no edge at the lower end of 'n': 'hub' goes on with 160 mm (an edge is "
     "where the diameter changes). Correct edge, or on."),
    ("the same face", ["name: f2, kind: face, side: upper, z: 100 mm"],
     "(f2): 'upper_face' is the same face (both look to the upper side at z 100 mm). Take one out, or part "
     "them by outer_diameter and inner_diameter."),
    ("flat on teeth", ["name: fl, kind: flat, on: teeth, distance: 145 mm, z_from: 10 mm, z_to: 20 mm"],
     "(fl) on: 'teeth' has teeth, a flat would cut them (a flat lies on an outside diameter). Correct on."),
    ("keyway in teeth",
     [_KEYWAY.replace("on: bore", "on: teeth").replace("50 mm", "10 mm").replace("100", "20")
     + "0 deg"], "(k2) on: 'teeth' has teeth, a keyway would cut them"),
    ("reamed as a shaft", [_BOLTS + "125 mm, ream: h7"],
     "(bc) ream: h7 is a tolerance of a shaft, this is a hole (ISO 286: capital letters for holes, small "
     "ones for shafts). Write H7."),
    ("reamed with a slip", [_BOLTS + "125 mm, ream: +5/0 mm"],
     "(bc) ream: +5/0 mm lets a size of 12 mm deviate by 5 mm (at most a tenth of the size, here 1.2 mm)."),
]  # fmt: skip

_FORM = " geometric: [{characteristic: %s, value: 0.04 mm}]"
DRAWING = [
    ("wide tolerance", "tolerance: H7", "tolerance: ±500 mm",
     "(bore) tolerance: ±500 mm lets a size of 90 mm deviate by 500 mm (at most a tenth of the size, here "
     "9 mm). Check the number and its unit."),
    ("one-sided wide tolerance", "tolerance: H7", "tolerance: +0/-100 mm",
     "deviate by 100 mm (at most a tenth"),
    ("bore with the letter of a shaft", "tolerance: H7", "tolerance: h7",
     "h7 is a tolerance of a shaft, this lies inside (ISO 286: capital letters for holes, small ones for "
     "shafts). Write H7."),
    ("cylindricity of a face", "{name: upper_face,", "{name: upper_face," + _FORM % "cylindricity" + ",",
     "geometric[0].characteristic: cylindricity of a feature of kind face (cylindricity belongs to a round "
     "surface). Choose another characteristic, or give it at the feature that is meant."),
    ("roundness of a face", "{name: upper_face,", "{name: upper_face," + _FORM % "roundness" + ",",
     "roundness of a feature of kind face (roundness belongs to a round surface)"),
    ("flatness of a bore", "    tolerance: H7", "    tolerance: H7\n   " + _FORM % "flatness",
     "flatness of a feature of kind bore (flatness belongs to a plane)"),
]  # fmt: skip

RIGHT = [
    ("holes", [_BOLTS + "125 mm, ream: H7"]),
    ("pockets", [_ON_CIRCLE + "3"]),
    (
        "holes between pockets",
        [_BOLTS.replace("count: 8", "count: 3, start_angle: 60 deg") + "125 mm", _ON_CIRCLE + "3"],
    ),
    ("keyways opposite each other", [_KEYWAY + "180 deg"]),
    ("groove in the floor of another", [_G1 + "140 mm", _G2 + ", on: g1"]),
    ("groove that leaves enough over the keyway", [_G1 + "104 mm"]),
    ("radius in a corner", [_EDGE % ("radius", "hub", "lower", 2)]),
    ("chamfer of teeth", [_EDGE % ("chamfer", "teeth", "both", 2)]),
    ("wide limits of a narrow groove", [_G1 + "140 mm, tolerance: +0.5/0 mm"]),
]


def _with(features: list[str]) -> str:
    assert PART_EXAMPLE.count(_HUB) == 1
    return PART_EXAMPLE.replace(_HUB, "".join(f"  - {{{feature}}}\n" for feature in features) + _HUB)


@pytest.mark.parametrize(("features", "words"), [c[1:] for c in MEETINGS], ids=[c[0] for c in MEETINGS])
def test_features_that_cannot_be_together(features: list[str], words: str) -> None:
    with pytest.raises(BadFile, match=re.escape(words)):
        part_from_text(_with(features))


@pytest.mark.parametrize(("old", "new", "words"), [c[1:] for c in DRAWING], ids=[c[0] for c in DRAWING])
def test_tolerances_that_do_not_fit(old: str, new: str, words: str) -> None:
    assert PART_EXAMPLE.count(old) == 1
    with pytest.raises(BadFile, match=re.escape(words)):
        part_from_text(PART_EXAMPLE.replace(old, new))


@pytest.mark.parametrize("features", [case[1] for case in RIGHT], ids=[case[0] for case in RIGHT])
def test_features_that_can_be_together(features: list[str]) -> None:
    assert part_from_text(_with(features)).features


def test_outlines_seen_from_above() -> None:
    box = Box(100.0, 0.0, 0.0, 20.0, 40.0)
    assert box.reach == pytest.approx((90.0, hypot(110.0, 20.0)))
    assert meet(box, Disc(115.0, 0.0, 5.1))
    assert not meet(box, Disc(115.0, 0.0, 5.0))
    assert not meet(Disc(113.6, 23.6, 5.0), box)  # 3.6 by 3.6 beyond a corner is 5.09 away
    assert meet(box, Box(105.0, 30.0, 45.0, 20.0, 20.0))
    assert not meet(box, Box(100.0, 41.0, 0.0, 20.0, 40.0))
    assert Disc(3.0, 4.0, 1.0).reach == (4.0, 6.0)


@settings(deadline=None, derandomize=True)
@given(st.integers(2, 40), st.floats(5, 60), st.floats(5, 60), st.floats(0, 360))
def test_boxes_meet_as_their_points_do(count: int, radial: float, across: float, start: float) -> None:
    """Points of one box that lie well inside the other prove a meeting; a clear gap proves the contrary."""
    row = [Box(x, y, a, radial, across) for x, y, a in spread(count, 200.0, start)]
    one, other = row[0], row[1]
    grid = [(u * radial / 20, v * across / 20) for u in range(-10, 11) for v in range(-10, 11)]
    turned = Box(other.x, other.y, other.angle, radial - 1e-3, across - 1e-3)
    a = radians(one.angle)
    points = [(one.x + u * cos(a) - v * sin(a), one.y + u * sin(a) + v * cos(a)) for u, v in grid]
    seen = [turned.inside_frame(x, y) for x, y in points]
    if any(abs(u) < turned.radial / 2 and abs(v) < turned.across / 2 for u, v in seen):
        assert meet(one, other)
        assert meet(other, one)
    if 200.0 * sin(pi / count) > hypot(radial, across):
        assert not meet(one, other)
