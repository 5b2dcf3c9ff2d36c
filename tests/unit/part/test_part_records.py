"""Checks that a record makes by itself: keys that must agree with each other."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from sequencer.part import Part

_F = "features."
WHEEL = [
    ([("blank.z_from", "500 mm")], "z_from 500 mm must be below z_to 448 mm"),
    ([("blank.bore", "930 mm")], "bore 930 mm must be below diameter 930 mm"),
    ([(_F + "hub.z_from", "440 mm")], "z_from 440 mm must be below z_to 440 mm"),
    ([(_F + "wheel.lower.z_to", 0)], "z_from 0 must be below z_to 0"),
    ([(_F + "wheel.helix_angle", "0 deg")], "a spur gear has no hand|helix angle above 0 deg"),
    ([(_F + "wheel.helix_angle", "50 deg")], "helix_angle 50 deg must be between 0 deg and 45 deg"),
    ([(_F + "wheel.upper.hand", "right")], "both halves are right hand"),
    ([(_F + "wheel.lower.z_to", "215 mm")], "the lower half ends at 215 mm, the upper begins at 210 mm"),
    ([(_F + "wheel.module", "DP 3")], "module 'DP 3' does not say in which section; write \"NDP 3\""),
    ([(_F + "spur.hand", "left")], "hand left: a spur gear has no hand"),
    ([(_F + "spur.helix_angle", "15 deg")], "hand is missing: a helical gear is right or left hand"),
    ([(_F + "spur.pressure_angle", "5 deg")], "pressure_angle 5 deg must be between 10 deg and 35 deg"),
    ([(_F + "spur.thickness_upper", "-0.1 mm")], "are given together or not at all"),
    ([(_F + "spur.thickness_upper", "-0.2 mm"), (_F + "spur.thickness_lower", "-0.1 mm")], "lower < upper "
    "<= 0"),
    ([(_F + "spur.mate_tip_diameter", "90 mm")], "mate_tip_diameter is given without mate_teeth"),
    ([(_F + "spur.backlash", "0.1 mm")], "backlash .or backlash_system. and thickness_tolerance are"),
    ([(_F + "spline.pressure_angle", "20 deg")], "pressure_angle 20 deg must be 30, 37.5 or 45 deg"),
    ([(_F + "spline.reference_diameter", ...)], "reference_diameter is missing; DIN 5480 names a spline "
    "by it"),
    ([(_F + "web_groove.inner_diameter", "700 mm")], "inner_diameter 700 mm must be below outer_diameter "
    "700 mm"),
    ([(_F + "bolts.circle_diameter", ...)], "circle_diameter is missing; axial holes lie on a pitch circle"),
    ([(_F + "oil_holes.z", ...)], "z is missing; radial holes have a position on the axis"),
    ([(_F + "bolts.ream", "H7")], "a hole is tapped or reamed, not both"),
    ([(_F + "bolts.counterbore", {"diameter": "20 mm", "depth": "5 mm"})], "counterbore diameter 20 mm "
    "must be above"),
    ([("clampings.I.z_to", ...)], "z_from and z_to are missing; with jaws they say which band the jaws "
    "cover"),
    ([("clampings.I.z_from", "448 mm")], "z_from 448 mm must be below z_to 448 mm"),
    ([(_F + "+", {"name": "d0"})], "kind"),
]  # fmt: skip
SHAFT = [
    ([(_F + "cone.upper_diameter", "110 mm")], "both diameters are 110 mm; a cylinder is a "
    "turned_diameter or a bore"),
    ([(_F + "bevel.form", "spiral")], "a spiral bevel gear needs spiral_angle and hand"),
    ([(_F + "bevel.form", "spiral"), (_F + "bevel.spiral_angle", "30 deg"), (_F + "bevel.hand", "left"),
      (_F + "bevel.proportions", "equal addendum")], "proportions equal addendum: a key of straight teeth"),
    ([(_F + "bevel.spiral_angle", "30 deg")], "spiral_angle 30 deg: a straight bevel gear has none"),
]  # fmt: skip


@pytest.mark.parametrize(("edits", "words"), WHEEL)
def test_wheel_that_contradicts_itself(wheel: Any, change: Any, edits: Any, words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        Part.model_validate(change(wheel, *edits))


@pytest.mark.parametrize(("edits", "words"), SHAFT)
def test_shaft_that_contradicts_itself(shaft: Any, change: Any, edits: Any, words: str) -> None:
    with pytest.raises(ValidationError, match=words):
        Part.model_validate(change(shaft, *edits))


def test_more_features_than_a_part_has(wheel: Any, change: Any) -> None:
    face = {"name": "x", "kind": "face", "side": "upper", "z": "1 mm"}
    with pytest.raises(ValidationError, match="at most 500 items"):
        Part.model_validate(change(wheel, *[(_F + "+", face)] * 500))


def test_stress_follows_from_the_form(wheel: Any, change: Any) -> None:
    forging = Part.model_validate(wheel)
    bar = Part.model_validate(change(wheel, ("blank.form", "bar")))
    relieved = Part.model_validate(change(wheel, ("blank.stress", "low")))
    assert (forging.blank.stressed, bar.blank.stressed, relieved.blank.stressed) == (True, False, False)


def test_transverse_module_gives_the_same_teeth(wheel: Any, change: Any) -> None:
    """By mn = mt cos beta: DP 3.175 in the transverse section is a transverse module of 8 mm."""
    from math import cos, radians

    from sequencer.part.teeth import cylindrical_gear, gear_height, normal_module
    from sequencer.part.toothed import DoubleHelicalGear

    part = Part.model_validate(change(wheel, ("features.wheel.module", "TDP 3.175")))
    gear = part.by_name["wheel"]
    assert isinstance(gear, DoubleHelicalGear)
    assert normal_module(gear) == pytest.approx(8 * cos(radians(20)))
    teeth = cylindrical_gear(gear, gear.upper)
    assert teeth.reference_diameter == pytest.approx(832)
    assert (teeth.hand, teeth.face_width) == ("left", 120.0)
    assert (teeth.tip_diameter, teeth.root_diameter) == pytest.approx(
        (gear_height(gear).tip, gear_height(gear).root)
    )
