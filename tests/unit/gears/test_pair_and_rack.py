"""Pairs of cylindrical gears, the basic rack and the limits of the profile shift."""

from __future__ import annotations

from math import inf, pi

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.gears.diameters import helix_angle_from_lead, lead, virtual_teeth, virtual_teeth_by_base_helix
from sequencer.gears.interference import trimming_interference_margin, trochoid_interference_margin
from sequencer.gears.pair import (
    profile_shift_sum,
    reference_centre_distance,
    transverse_contact_ratio,
    working_pressure_angle,
    working_pressure_angle_from_centre_distance,
)
from sequencer.gears.rack import (
    ISO_54_SERIES_1,
    ISO_54_SERIES_2,
    deepest_dedendum_factor,
    diametral_pitch,
    largest_root_fillet_factor,
    module_from_diametral_pitch,
    normal_module,
    normal_pressure_angle,
    root_land_factor,
    transverse_module,
    transverse_pressure_angle,
)
from sequencer.gears.span import teeth_spanned
from sequencer.gears.thickness import (
    largest_profile_shift,
    least_profile_shift,
    normal_tooth_thickness,
    profile_shift_from_thickness,
    tip_diameter_of_pointed_tooth,
    tip_thickness_factor,
    transverse_tooth_thickness,
)


@settings(deadline=None, derandomize=True)
@given(
    st.integers(8, 200),
    st.integers(8, 200),
    st.floats(-0.2, 0.8),
    st.floats(-0.2, 0.8),
    st.floats(0.0, 40.0),
    st.booleans(),
)
def test_shift_sum_comes_back_from_the_working_angle(
    z1: int, more: int, x1: float, x2: float, helix: float, internal: bool
) -> None:
    z2 = z1 + more
    try:
        angle = working_pressure_angle(z1, z2, x1, x2, 20.0, helix, internal=internal)
    except OutOfRange:
        return
    expected = x2 - x1 if internal else x1 + x2
    found = profile_shift_sum(z1, z2, angle, 20.0, helix, internal=internal)
    assert found == pytest.approx(expected, abs=1e-9)


def test_impossible_pairs_are_refused() -> None:
    with pytest.raises(OutOfRange, match=r"involute of the working pressure angle is -\d.*larger sum"):
        working_pressure_angle(12, 12, -0.5, -0.5)
    with pytest.raises(OutOfRange, match=r"internal gear has 20 teeth, its pinion 24"):
        reference_centre_distance(3.0, 24, 20, internal=True)
    with pytest.raises(OutOfRange, match=r"centre distance is 50 mm \(allowed: at least 50.7\d+ mm"):
        working_pressure_angle_from_centre_distance(54.0, 20.0, 50.0)
    with pytest.raises(OutOfRange, match=r"tip diameter of the mating gear is 60 mm"):
        transverse_contact_ratio(42.0, 33.8, 60.0, 67.7, 54.0, 20.0, 8.856)


def test_contact_ratio_of_an_internal_pair_is_larger() -> None:
    """Module 3, 20 with 60 teeth: the internal mate wraps round the pinion."""
    outside = transverse_contact_ratio(66.0, 56.3816, 186.0, 169.1447, 120.0, 20.0, 8.8564)
    inside = transverse_contact_ratio(66.0, 56.3816, 174.0, 169.1447, 60.0, 20.0, 8.8564, internal=True)
    assert outside == pytest.approx(1.67, abs=0.01)
    assert inside > outside


def test_module_and_diametral_pitch() -> None:
    assert module_from_diametral_pitch(4.0) == pytest.approx(6.35)
    assert diametral_pitch(6.35) == pytest.approx(4.0)
    with pytest.raises(OutOfRange, match="diametral pitch is 0 1/in"):
        module_from_diametral_pitch(0.0)
    with pytest.raises(OutOfRange, match="module is -1 mm"):
        diametral_pitch(-1.0)


def test_normal_and_transverse_system_undo_each_other() -> None:
    assert normal_module(transverse_module(3.0, 30.0), 30.0) == pytest.approx(3.0)
    assert normal_pressure_angle(transverse_pressure_angle(20.0, 30.0), 30.0) == pytest.approx(20.0)


def test_series_of_modules_do_not_overlap() -> None:
    assert not set(ISO_54_SERIES_1) & set(ISO_54_SERIES_2)
    for series in (ISO_54_SERIES_1, ISO_54_SERIES_2):
        assert list(series) == sorted(series)


def test_rack_tooth_ends_at_its_deepest_dedendum() -> None:
    assert root_land_factor(20.0, deepest_dedendum_factor(20.0)) == pytest.approx(0.0, abs=1e-12)
    assert largest_root_fillet_factor(20.0, 1.25) == pytest.approx(0.4719, abs=1e-4)


def test_lead_and_helix_undo_each_other() -> None:
    assert helix_angle_from_lead(3.0, 40, lead(3.0, 40, 25.0)) == pytest.approx(25.0)
    assert lead(3.0, 40, 0.0) == inf
    with pytest.raises(OutOfRange, match=r"lead is 300 mm \(above 376.991 mm for 40 teeth"):
        helix_angle_from_lead(3.0, 40, 300.0)


def test_two_virtual_numbers_of_teeth_agree_for_spur_gears() -> None:
    assert virtual_teeth(31, 0.0) == virtual_teeth_by_base_helix(31, 0.0, 20.0) == 31.0
    assert virtual_teeth_by_base_helix(31, 30.0, 20.0) < virtual_teeth(31, 30.0)


@pytest.mark.parametrize("teeth", [5, 12, 17, 40, 300])
def test_largest_profile_shift_leaves_just_the_tip_wanted(teeth: int) -> None:
    for needed in (0.0, 0.2, 0.4):
        shift = largest_profile_shift(teeth, tip_thickness_factor_needed=needed)
        assert tip_thickness_factor(teeth, shift) == pytest.approx(needed, abs=1e-9)


def test_no_profile_shift_makes_a_tall_tooth_of_few_teeth_wide() -> None:
    with pytest.raises(OutOfRange, match=r"no profile shift leaves a tip of 1.5 modules on 8 teeth"):
        largest_profile_shift(8, addendum_factor=1.8, tip_thickness_factor_needed=1.5)


def test_undercut_limit_falls_with_teeth_and_helix() -> None:
    assert least_profile_shift(10) > least_profile_shift(14) > 0 > least_profile_shift(18)
    assert least_profile_shift(14, helix_angle=30.0) < least_profile_shift(14)


def test_thickness_and_shift_undo_each_other() -> None:
    for internal in (False, True):
        thickness = normal_tooth_thickness(3.0, 0.4, internal=internal)
        assert profile_shift_from_thickness(3.0, thickness, internal=internal) == pytest.approx(0.4)


def test_pointed_tooth_has_no_thickness() -> None:
    diameter = tip_diameter_of_pointed_tooth(60.0, 56.38, 1.5 * pi)
    assert transverse_tooth_thickness(diameter, 60.0, 56.38, 1.5 * pi) == pytest.approx(0.0, abs=1e-9)


def test_span_of_a_tooth_without_flank_at_its_middle_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"profile shift -1 puts the middle of the flank inside the base"):
        teeth_spanned(10, profile_shift=-1.0)


def test_tips_that_never_meet_leave_an_endless_margin() -> None:
    """A small pinion whose tip circle stays inside the tips of the ring."""
    assert trochoid_interference_margin(20, 60, 50.0, 45.0, 140.0, 30.0, 20.0) == inf
    assert trimming_interference_margin(20, 60, 46.0, 45.0, 150.0, 20.0) == inf
