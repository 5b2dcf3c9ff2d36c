"""Bevel pairs at any shaft angle."""

from __future__ import annotations

from dataclasses import replace
from math import cos, isfinite, radians, sin, sqrt, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears import BevelPair
from sequencer.gears.bevel_cones import crown_to_back, pitch_cone_angle, virtual_bevel_teeth

PAIR = BevelPair(outer_module=4.0, teeth_1=20, teeth_2=40, face_width=28.0)

REFUSED = [
    ({"outer_module": 0.2}, r"outer module is 0.2 mm"),
    ({"teeth_1": 4}, r"number of teeth of the pinion is 4"),
    ({"teeth_2": 19}, r"number of teeth of the wheel is 19 .*fewer teeth first"),
    ({"face_width": 0.0}, r"face width is 0 mm"),
    (
        {"face_width": 95.0},
        r"face width is 95 mm \(allowed: above 0 mm and below 89.44\d* mm\)\. .*29.814 mm",
    ),
    ({"face_width": float("nan")}, r"face width is nan"),
    ({"shaft_angle": 180.0}, r"shaft angle is 180 deg"),
    (
        {"shaft_angle": 130.0},
        r"pitch cone angle of the bevel gear with 40 teeth is .*crown and internal bevel",
    ),
    (
        {"system": "flat"},
        r"bevel system 'flat' is unknown \(known: equal addendum, unequal addendum, spiral\)",
    ),
    ({"spiral_angle": 35.0}, r"spiral angle is 35 deg with system 'equal addendum'"),
    ({"system": "spiral", "spiral_angle": 50.0}, r"spiral angle is 50 deg"),
    ({"pressure_angle": 30.0}, r"pressure angle is 30 deg"),
    ({"shaft_angle": 119.0}, r"bevel gear with 40 teeth has root cone .* deg, tip cone 9\d"),
]


@pytest.mark.parametrize(("change", "words"), REFUSED)
def test_pair_that_cannot_exist_is_refused(change: dict[str, object], words: str) -> None:
    with pytest.raises(OutOfRange, match=words) as caught:
        replace(PAIR, **change)  # type: ignore[arg-type]
    assert caught.value.remedy


def test_equal_addendum_pair() -> None:
    """20/40 at 90 deg: tan d1 = 1/2, Re = 40 sqrt 5; tip 80 + 8 cos d1."""
    assert PAIR.pinion.pitch_cone_angle == pytest.approx(26.56505, abs=5e-6)
    assert PAIR.cone_distance == pytest.approx(40 * sqrt(5))
    assert PAIR.pinion.tip_diameter == pytest.approx(80 + 8 * 2 / sqrt(5))
    assert PAIR.pinion.whole_depth == pytest.approx(9.0)
    assert PAIR.pinion.addendum == PAIR.wheel.addendum == 4.0
    assert PAIR.pinion.virtual_teeth == pytest.approx(20 * sqrt(5) / 2)


def test_tip_of_each_gear_runs_parallel_to_the_root_of_its_mate_with_unequal_addenda() -> None:
    for system, spiral in (("unequal addendum", 0.0), ("spiral", 35.0)):
        pair = replace(PAIR, system=system, spiral_angle=spiral, face_width=25.0)  # type: ignore[arg-type]
        assert pair.pinion.tip_cone_angle + pair.wheel.root_cone_angle == pytest.approx(90.0)
        assert pair.pinion.addendum > pair.wheel.addendum
        assert pair.pinion.whole_depth == pytest.approx(pair.wheel.whole_depth)


def test_spiral_pair_depths() -> None:
    """Table 8-5, from memory: working depth 1.7 m, whole depth 1.888 m."""
    pair = replace(PAIR, system="spiral", spiral_angle=35.0, face_width=25.0)
    assert pair.pinion.addendum + pair.wheel.addendum == pytest.approx(1.7 * 4.0)
    assert pair.pinion.whole_depth == pytest.approx(1.888 * 4.0)
    assert pair.largest_face_width == pytest.approx(0.3 * pair.cone_distance)
    assert pair.pinion.virtual_teeth == pytest.approx(
        20 / (cos(radians(pair.pinion.pitch_cone_angle)) * cos(radians(35.0)) ** 3)
    )


def test_wide_face_is_told_but_not_refused() -> None:
    """A third of the cone distance is good practice, not a law."""
    assert not replace(PAIR, face_width=29.8).face_too_wide
    assert replace(PAIR, face_width=29.9).face_too_wide
    assert replace(PAIR, teeth_2=400, face_width=40.1).largest_face_width == 40.0


def test_blank_ends_lie_on_the_tip_cone() -> None:
    """From outer to inner end of the tip cone the radius falls by the axial length times tan of the angle."""
    for gear in (PAIR.pinion, PAIR.wheel):
        drop = (gear.tip_diameter - gear.inner_tip_diameter) / 2
        assert drop == pytest.approx(gear.axial_face_width * tan(radians(gear.tip_cone_angle)))


def test_crown_to_back_needs_a_face_behind_the_crown() -> None:
    assert PAIR.pinion.crown_to_back(100.0) == pytest.approx(100.0 - PAIR.pinion.apex_to_crown)
    with pytest.raises(OutOfRange, match=r"mounting distance is 50 mm .*above 60 mm"):
        crown_to_back(50.0, 60.0)


@settings(deadline=None, derandomize=True)
@given(st.integers(5, 200), st.integers(5, 200), st.floats(5.0, 175.0))
def test_cone_angles_add_up_to_the_shaft_angle(first: int, second: int, shaft: float) -> None:
    """And the pitch cones roll on each other: both have the same cone distance."""
    try:
        one, two = pitch_cone_angle(first, second, shaft), pitch_cone_angle(second, first, shaft)
    except OutOfRange:
        return
    assert one + two == pytest.approx(shaft)
    assert first / sin(radians(one)) == pytest.approx(second / sin(radians(two)))


@settings(deadline=None, derandomize=True)
@given(
    module=st.floats(0.3, 50.0),
    first=st.integers(5, 300),
    more=st.integers(0, 300),
    shaft=st.floats(1.0, 179.0),
    face=st.floats(0.1, 500.0),
    system=st.sampled_from(["equal addendum", "unequal addendum", "spiral"]),
)
def test_every_pair_is_right_or_refused(
    module: float, first: int, more: int, shaft: float, face: float, system: str
) -> None:
    try:
        pair = BevelPair(
            outer_module=module,
            teeth_1=first,
            teeth_2=first + more,
            face_width=face,
            shaft_angle=shaft,
            system=system,  # type: ignore[arg-type]
            spiral_angle=30.0 if system == "spiral" else 0.0,
        )
    except OutOfRange:
        return
    for gear in (pair.pinion, pair.wheel):
        assert isfinite(gear.apex_to_crown)
        assert 0 < gear.root_cone_angle < gear.pitch_cone_angle < gear.tip_cone_angle < 90
        assert 0 < gear.inner_tip_diameter < gear.tip_diameter
        assert gear.addendum > 0
        assert gear.dedendum > 0


def test_virtual_teeth_of_a_straight_gear() -> None:
    assert virtual_bevel_teeth(20, 60.0) == pytest.approx(40.0)
