"""Reach: what a tool from above gets at in a clamping, in words."""

from __future__ import annotations

import re

import pytest
from small_parts import (
    FROM_ABOVE,
    FROM_BELOW,
    LOWER,
    UPPER,
    bore,
    outside,
    part,
    plain_ring,
    standing_of,
    zone,
)

from sequencer.operations.reach import reach_of
from sequencer.part import Part


def answer(made: Part, feature: str, clamping: str) -> tuple[bool, str]:
    """Give reach and reason of one feature."""
    reach = reach_of(standing_of(made, clamping), made.by_name[feature])
    return reach.reachable, reach.reason


STEPPED = part(
    LOWER,
    UPPER,
    {"name": "shelf", "kind": "face", "side": "upper", "z": "120 mm"},
    bore(0, 150, 120),
    zone("wide", "bore", 150, 200, diameter="180 mm"),
    zone("deep_groove", "groove", 60, 70, place="inside", diameter="140 mm"),
    outside("flange", 0, 120, 390),
    outside("hub", 120, 200, 260),
    zone("rim_groove", "groove", 50, 60, diameter="370 mm", on="flange"),
    {"name": "ring_groove", "kind": "face_groove", "on": "shelf", "side": "upper", "outer_diameter": "340 mm",
     "inner_diameter": "300 mm", "depth": "20 mm"},
    {"name": "holes", "kind": "bolt_circle", "on": "shelf", "circle_diameter": "320 mm", "count": 6,
     "diameter": "14 mm", "depth": "30 mm"},
    {"name": "through", "kind": "bolt_circle", "on": "shelf", "circle_diameter": "360 mm", "count": 6,
     "diameter": "14 mm"},
    {"name": "cross", "kind": "bolt_circle", "direction": "radial", "on": "flange", "z": "100 mm", "count": 2,
     "diameter": "14 mm", "depth": "20 mm"},
    zone("slot", "keyway", 0, 150, on="bore", width="20 mm", depth="5 mm"),
    {"name": "both_edges", "kind": "chamfer", "on": "bore", "edge": "lower", "size": "2 mm"},
    {"name": "hub_edge", "kind": "chamfer", "on": "hub", "edge": "upper", "size": "2 mm"},
    {"name": "flange_edges", "kind": "chamfer", "on": "flange", "edge": "both", "size": "2 mm"},
    {"name": "fillet", "kind": "radius", "on": "hub", "edge": "lower", "size": "3 mm"},
    {"name": "text", "kind": "marking", "on": "shelf", "text": "T-1"},
)  # fmt: skip

CASES = [
    ("lower_face", "I", True, "looks up, nothing above it"),
    ("lower_face", "II", False, "the part stands on it in clamping II"),
    ("upper_face", "I", False, "looks down in clamping I"),
    ("shelf", "II", True, "looks up outside hub"),
    ("shelf", "I", False, "looks down"),
    ("bore", "I", True, "far end 150 mm below the top"),
    ("bore", "II", False, "partly covered by the inside jaws, which cover z 0 mm to 40 mm"),
    ("wide", "II", True, "far end 50 mm below the top"),
    ("wide", "I", False, r"bore above it \(diameter 120 mm\) stands 30 mm proud; the deepest inside blade "
     "reaches 15 mm"),
    ("deep_groove", "I", True, "far end 70 mm below the top"),
    ("deep_groove", "II", True, "far end 140 mm below the top"),
    ("flange", "I", True, r"outside, above the jaws \(z 160 mm to 203 mm\)"),
    ("flange", "II", True, "outside, free of the clamping means"),
    ("hub", "I", False, "partly covered by the outside jaws, which cover z 160 mm to 203 mm"),
    ("hub", "II", True, "outside"),
    ("rim_groove", "I", True, "outside"),
    ("ring_groove", "II", True, "open to above outside hub"),
    ("ring_groove", "I", False, "enters a face that looks down"),
    ("holes", "II", True, "open to above outside hub"),
    ("holes", "I", False, "enters a face that looks down in clamping I"),
    ("through", "I", True, "through holes, from the other side"),
    ("cross", "II", True, "outside"),
    ("slot", "II", False, "inside jaws"),
    ("slot", "I", True, "open to above through diameter 120 mm"),
    ("both_edges", "I", True, "looks up"),
    ("both_edges", "II", False, "hidden by the inside jaws"),
    ("hub_edge", "II", True, "looks up"),
    ("hub_edge", "I", False, "hidden by the outside jaws"),
    ("flange_edges", "II", True, "lower edge: looks down to the table in clamping II; upper edge: looks up"),
    ("fillet", "II", True, "a corner, open to above"),
    ("text", "II", True, "on shelf: looks up outside hub"),
    ("text", "I", False, "on shelf: looks down"),
]  # fmt: skip


@pytest.mark.parametrize(("feature", "clamping", "reachable", "words"), CASES)
def test_reach_says_why(feature, clamping, reachable, words):
    """Every answer has its reason in words that the planner can check on the drawing."""
    got, reason = answer(STEPPED, feature, clamping)
    assert got is reachable, reason
    assert re.search(words, reason), reason


def test_a_diameter_behind_a_flange_needs_a_blade_from_the_side():
    """A neck under a flange is reached only as deep as the shop's blade: 30 mm of 40 mm."""
    made = part(LOWER, UPPER, bore(), outside("neck", 0, 50, 330), outside("flange", 50, 200, 390))
    reachable, reason = answer(made, "neck", "II")
    assert reachable
    assert reason == (
        "outside, with a blade from the side: flange above it (diameter 390 mm) stands 30 mm proud"
    )


def test_a_diameter_too_deep_behind_a_flange_is_not_reached():
    """60 mm proud, but the deepest blade reaches 40 mm."""
    made = part(LOWER, UPPER, bore(), outside("neck", 0, 50, 270), outside("flange", 50, 200, 390))
    reachable, reason = answer(made, "neck", "II")
    assert not reachable
    assert reason == (
        "flange above it (diameter 390 mm) stands 60 mm proud; the deepest outside blade reaches 40 mm"
    )


def test_a_bore_below_solid_material_is_closed():
    """A blind bore from below is closed for a tool from above."""
    made = part(
        LOWER,
        UPPER,
        bore(0, 100),
        blank={"form": "bar", "diameter": "400 mm", "z_from": "-3 mm", "z_to": "203 mm"},
        clampings=[FROM_BELOW, {**FROM_ABOVE, "hold": "outside jaws", "on": "blank"}],
    )
    assert answer(made, "bore", "II") == (False, "closed above: the part is solid there")
    assert answer(made, "bore", "I") == (True, "open to above, far end 100 mm below the top")


def test_jaws_hide_what_lies_below_them():
    """Jaws stand on the table: what lies under the gripped band is hidden too."""
    grip = {**FROM_BELOW, "z_from": "120 mm", "z_to": "150 mm"}
    made = plain_ring(
        zone("low_groove", "groove", 170, 180, diameter="380 mm", on="rim"), clampings=[grip, FROM_ABOVE]
    )
    reachable, reason = answer(made, "low_groove", "I")
    assert not reachable
    assert reason == "lies below the outside jaws, which cover z 120 mm to 150 mm"


BOLTED = {
    "name": "II",
    "up": "upper",
    "hold": "bolts",
    "on": "clamps",
    "rests_on": "lower_face",
    "riser": "60 mm",
}


@pytest.mark.parametrize(
    ("keys", "reachable", "words"),
    [
        ({"thread_pitch": "2.5 mm", "depth": "50 mm"}, True, "looks up, nothing above it"),
        ({}, False, "bolt heads stand on it from diameter 250 mm to 310 mm"),
    ],
)
def test_bolts_from_above_stand_on_the_upper_face(keys, reachable, words):
    """Bolts into threads come from below; through holes have heads 1.5 d wide (ISO 4762, from memory)."""
    holes = {
        "name": "clamps", "kind": "bolt_circle", "on": "lower_face", "circle_diameter": "280 mm", "count": 8,
        "diameter": "20 mm", "use": "clamping", **keys,
    }  # fmt: skip
    made = plain_ring(holes, clampings=[FROM_BELOW, BOLTED])
    assert answer(made, "upper_face", "II") == (reachable, words)
    assert answer(made, "clamps", "II") == (False, "the bolts of clamping II sit in it")


def test_a_bevel_gear_is_reached_from_its_apex():
    """Bevel teeth are cut from the side of the cone apex only."""
    teeth = zone(
        "bevel", "bevel_gear", 160, 200, apex="upper", teeth=40, module="8 mm", mate_teeth=20,
        face_width="40 mm", mounting_distance="120 mm", mounting_face="lower_face",
    )  # fmt: skip
    grip = {**FROM_BELOW, "z_from": "100 mm", "z_to": "150 mm"}
    made = part(LOWER, UPPER, bore(), teeth, clampings=[grip, FROM_ABOVE])
    assert answer(made, "bevel", "I") == (False, "its cone apex lies below in clamping I")
    assert answer(made, "bevel", "II")[0]


def test_inside_teeth_behind_a_lip_are_not_reached():
    """A cutter of the size of the teeth does not pass a smaller bore above them."""
    teeth = zone(
        "ring_teeth",
        "internal_gear",
        100,
        200,
        teeth=60,
        module="4 mm",
        flank_class={"year": 2013, "class": 8},
    )
    made = part(LOWER, UPPER, bore(0, 100, 200), teeth, outside("rim", 0, 200, 390))
    reachable, reason = answer(made, "ring_teeth", "I")
    assert not reachable
    # Tip diameter 60*4 - 2*4 = 232 mm, the bore has 200 mm: 16 mm per side.
    assert reason == "bore above it (diameter 200 mm) stands 16 mm proud: a tool of its size does not pass"
    assert answer(made, "ring_teeth", "II")[0]
