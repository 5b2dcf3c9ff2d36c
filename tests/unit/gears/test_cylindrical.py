"""What a cylindrical gear may be, and what its properties say."""

from __future__ import annotations

from dataclasses import FrozenInstanceError, fields, replace
from math import inf, isfinite, nan, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear, inspection_sizes

SPUR = CylindricalGear(normal_module=3.0, teeth=40, face_width=30.0)
HELICAL = CylindricalGear(normal_module=8.0, teeth=104, face_width=120.0, helix_angle=20.0, hand="right")
RING = CylindricalGear(normal_module=4.0, teeth=60, face_width=40.0, internal=True)


REFUSED = [
    (SPUR, {"teeth": 2}, r"number of teeth is 2 \(allowed: a whole number from 3 to 2000\)"),
    (SPUR, {"teeth": 2001}, r"number of teeth is 2001"),
    (SPUR, {"teeth": 40.0}, r"number of teeth is 40.0 .*whole number"),
    (SPUR, {"teeth": True}, r"number of teeth is True"),
    (SPUR, {"normal_module": 0.04}, r"normal module is 0.04 mm \(allowed: at least 0.05 mm and at most 100"),
    (SPUR, {"normal_module": nan}, r"normal module is nan mm"),
    (SPUR, {"face_width": 0.0}, r"face width is 0 mm \(allowed: above 0 mm\)"),
    (SPUR, {"face_width": inf}, r"face width is inf mm"),
    (SPUR, {"pressure_angle": 9.0}, r"pressure angle is 9 deg \(allowed: at least 10 deg and at most 45 deg"),
    (HELICAL, {"helix_angle": 60.0}, r"helix angle is 60 deg .*below 60 deg"),
    (HELICAL, {"helix_angle": -20.0}, r"helix angle is -20 deg .*direction as hand"),
    (HELICAL, {"hand": None}, r"helix angle 20 deg and hand none do not go together"),
    (SPUR, {"hand": "left"}, r"helix angle 0 deg and hand left do not go together"),
    (HELICAL, {"hand": "both"}, r"hand is 'both'"),
    (SPUR, {"profile_shift": 5.1}, r"profile shift factor is 5.1 \(allowed: at least -5 and at most 5\)"),
    (SPUR, {"addendum_factor": -0.1}, r"addendum factor is -0.1"),
    (SPUR, {"dedendum_factor": nan}, r"dedendum factor is nan"),
    (SPUR, {"root_fillet_factor": 0.6}, r"root fillet factor 0.6 does not fit .*at most 0.47"),
    (SPUR, {"dedendum_factor": 2.2}, r"tool tooth pointed \(below 2.158 at 20 deg\)"),
    (SPUR, {"given_tip_diameter": 110.0}, r"root diameter 112.5 mm, tip diameter 110 mm"),
    (SPUR, {"given_tip_diameter": 119.0}, r"tip diameter 119 mm \(above the shifted reference diameter 120"),
    (SPUR, {"given_root_diameter": 121.0}, r"root diameter 121 mm \(below the shifted reference diameter"),
    (RING, {"given_tip_diameter": 245.0}, r"tip diameter 245 mm \(below the shifted reference diameter 240"),
    (RING, {"given_root_diameter": 239.0}, r"root diameter 239 mm \(above the shifted reference diameter"),
    (RING, {"given_root_diameter": 230.0}, r"tip diameter 232 mm, root diameter 230 mm"),
    (RING, {"given_root_diameter": -1.0}, r"root diameter is -1 mm"),
    (SPUR, {"teeth": 8, "profile_shift": 1.0}, r"tooth is pointed: tip thickness -\d.*above 0 mm"),
    (SPUR, {"teeth": 5, "profile_shift": -1.0}, r"undercut takes away the whole flank"),
    (
        RING,
        {"teeth": 30},
        r"tip diameter 112 mm is inside the base circle \(at least the base diameter 112.76",
    ),
    (RING, {"teeth": 24, "profile_shift": 1.0}, r"space closes before the root diameter 114 mm"),
]


@pytest.mark.parametrize(("gear", "change", "words"), REFUSED)
def test_gear_that_cannot_exist_is_refused(
    gear: CylindricalGear, change: dict[str, object], words: str
) -> None:
    with pytest.raises(OutOfRange, match=words):
        replace(gear, **change)  # type: ignore[arg-type]


def test_every_refusal_names_limit_and_remedy() -> None:
    for gear, change, _ in REFUSED:
        with pytest.raises(OutOfRange, match=r"\(.+\)\. .+\.$") as caught:
            replace(gear, **change)  # type: ignore[arg-type]
        assert caught.value.where
        assert caught.value.limit
        assert caught.value.remedy


def test_gear_is_frozen() -> None:
    with pytest.raises(FrozenInstanceError, match="teeth"):
        SPUR.teeth = 41  # type: ignore[misc]


def test_helical_gear_of_the_worked_part() -> None:
    """Module 8, 104 teeth, 20 deg: reference 885.40, tip 901.40 mm (8*104/cos 20, plus 16)."""
    assert HELICAL.reference_diameter == pytest.approx(885.3959, abs=1e-4)
    assert HELICAL.tip_diameter == pytest.approx(901.3959, abs=1e-4)
    assert HELICAL.root_diameter == pytest.approx(865.3959, abs=1e-4)
    assert HELICAL.tooth_depth == pytest.approx(18.0)
    assert HELICAL.transverse_module == pytest.approx(8.0 / 0.9396926207859084)
    assert HELICAL.lead == pytest.approx(7642.255, abs=0.001)
    assert HELICAL.outside_diameter == HELICAL.tip_diameter
    assert HELICAL.normal_tooth_thickness == pytest.approx(4 * pi)
    assert HELICAL.helix_angle_at(HELICAL.reference_diameter) == pytest.approx(20.0)
    assert HELICAL.transverse_base_pitch == pytest.approx(HELICAL.base_diameter * pi / 104)
    assert HELICAL.base_pitch == pytest.approx(23.6171, abs=1e-4)


def test_helix_has_a_sign_by_its_hand() -> None:
    assert HELICAL.reference_helix == 20.0
    assert replace(HELICAL, hand="left").reference_helix == -20.0
    assert SPUR.reference_helix == 0.0
    assert SPUR.lead == inf


def test_positive_shift_enlarges_external_and_internal_gears() -> None:
    """By x mn on each radius: 4 mm times 0.25 is 1 mm, 2 mm on diameter."""
    shifted = replace(RING, profile_shift=0.25)
    assert shifted.tip_diameter - RING.tip_diameter == pytest.approx(2.0)
    assert shifted.root_diameter - RING.root_diameter == pytest.approx(2.0)
    assert shifted.normal_tooth_thickness < RING.normal_tooth_thickness
    assert replace(SPUR, profile_shift=0.25).normal_tooth_thickness > SPUR.normal_tooth_thickness


def test_drawing_diameters_win_over_the_factors() -> None:
    gear = replace(SPUR, given_tip_diameter=125.5, given_root_diameter=112.0)
    assert (gear.tip_diameter, gear.root_diameter) == (125.5, 112.0)
    assert gear.tooth_depth == pytest.approx(6.75)
    assert gear.addendum == pytest.approx(2.75)
    assert RING.addendum == pytest.approx(4.0)


def test_fillet_shrinks_where_the_tool_has_no_room_for_it() -> None:
    """At 30 deg and 1.25 m deep the tool tooth is only 0.127 m wide: fillet 0.1102 m at most."""
    assert SPUR.used_root_fillet_factor == 0.38
    assert replace(SPUR, pressure_angle=30.0).used_root_fillet_factor == pytest.approx(0.1103, abs=1e-4)
    assert replace(SPUR, root_fillet_factor=0.2).used_root_fillet_factor == 0.2
    assert RING.used_root_fillet_factor == 0.38


def test_thickness_and_space_fill_the_pitch() -> None:
    for gear in (SPUR, HELICAL, RING):
        diameter = gear.shifted_diameter + 1.0
        both = gear.tooth_thickness_at(diameter) + gear.space_width_at(diameter)
        assert both == pytest.approx(pi * diameter / gear.teeth)
    with pytest.raises(OutOfRange, match="diameter is 100 mm"):
        SPUR.tooth_thickness_at(100.0)


@settings(deadline=None, derandomize=True, max_examples=400)
@given(
    teeth=st.integers(3, 2000),
    module=st.floats(0.05, 100.0),
    helix=st.floats(0.0, 59.9),
    shift=st.floats(-2.0, 2.0),
    angle=st.floats(10.0, 45.0),
    internal=st.booleans(),
    face=st.floats(0.1, 2000.0),
    allowance=st.floats(-0.25, 0.0),
)
def test_every_gear_is_right_or_refused(
    teeth: int,
    module: float,
    helix: float,
    shift: float,
    angle: float,
    internal: bool,
    face: float,
    allowance: float,
) -> None:
    """No value is nan and no other error than a refusal leaves the gear or its inspection sizes."""
    try:
        gear = CylindricalGear(
            normal_module=module,
            teeth=teeth,
            face_width=face,
            helix_angle=helix,
            hand="right" if helix else None,
            profile_shift=shift,
            pressure_angle=angle,
            dedendum_factor=min(1.25, 0.74 / (2 * (angle / 45.0))),
            internal=internal,
        )
    except OutOfRange:
        return
    for name in ("tip_diameter", "root_form_diameter", "tip_thickness", "base_helix_angle", "virtual_teeth"):
        assert isfinite(getattr(gear, name))
    inner, outer = sorted((gear.root_diameter, gear.tip_diameter))
    assert inner - 1e-9 <= max(gear.root_form_diameter, inner) <= outer + 1e-9
    try:
        sizes = inspection_sizes(gear, allowance * module, 2 * allowance * module)
    except OutOfRange:
        assert gear.normal_tooth_thickness <= -2 * allowance * module
        return
    for size, reason in (
        (sizes.span, sizes.span_reason),
        (sizes.over_balls, sizes.over_balls_reason),
        (sizes.chordal, sizes.chordal_reason),
    ):
        assert (size is None) == bool(reason)
        if size is not None:
            values = [getattr(size, each.name) for each in fields(size)]
            assert all(isfinite(value) and value >= 0 for value in values)
            assert size.lower <= size.upper


def test_an_allowance_that_takes_the_whole_tooth_is_refused() -> None:
    """A thin tooth (large negative shift) with a coarse allowance."""
    gear = CylindricalGear(
        normal_module=1.0,
        teeth=60,
        face_width=10.0,
        pressure_angle=32.0,
        profile_shift=-0.9,
        dedendum_factor=0.5,
    )
    with pytest.raises(OutOfRange, match=r"-0\.5 mm leaves no tooth"):
        inspection_sizes(gear, -0.25, -0.5)
