"""Jaw forces, heat, reclamping, masses and fits: limits and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import chains, holding, iso286, mass, reclamping, thermal
from sequencer.errors import OutOfRange


def test_centrifugal_force_opens_outside_and_closes_inside():
    outside = holding.force_at_speed(90_000, 50, 188, inside=False)
    inside = holding.force_at_speed(90_000, 50, 188, inside=True)
    change = holding.centrifugal_force(50, 188)
    assert outside == pytest.approx(60_000 - change)
    assert inside == pytest.approx(60_000 + change)


def test_force_at_rest_for_inside_grip_does_not_count_on_speed():
    still = holding.force_needed_at_rest(3000, 2.668, 0, inside=True)
    assert holding.force_needed_at_rest(3000, 2.668, 1200, inside=True) == still == 6750


@given(force=st.floats(20_000, 400_000), cut=st.floats(0, 8_000), moment=st.floats(1, 80))
@settings(deadline=None, derandomize=True)
def test_at_the_permissible_speed_the_cut_is_still_held(force, cut, moment):
    rpm = holding.permissible_rpm(force, cut, moment)
    left = holding.force_at_speed(force, moment, rpm, inside=False)
    assert left >= 1.5 * cut - 1e-6
    assert holding.centrifugal_share(force, moment, rpm) <= 0.67 + 1e-9


def test_centrifugal_force_is_held_to_67_percent_without_safety_factors():
    rpm = holding.permissible_rpm(100_000, 0, 50, safety_jaws=1.0)
    assert holding.centrifugal_force(50, rpm) == pytest.approx(67_000)


def test_jaws_that_do_not_hold_standing_still_are_refused():
    with pytest.raises(
        OutOfRange, match=r"5000 N at rest does not hold the cut.*above 6750 N.*Raise the jaw"
    ):
        holding.permissible_rpm(5000, 3000, 2.668)


def test_gripping_torque_against_the_cut():
    force = holding.jaw_force_for_cut(6000, 900, 0.15, 800)
    assert holding.gripping_torque(force, 0.15, 800) == pytest.approx(6000 * 450 / 1000)
    assert holding.force_per_jaw(force, 6) == pytest.approx(force / 6)


def test_one_metre_ring_five_kelvin_warm():
    """About 60 um; with 12 um/m/K."""
    assert thermal.growth(1000, 5) == pytest.approx(60)
    assert thermal.growth(1000, -5) == pytest.approx(-60)


def test_wait_until_heat_uses_a_quarter_of_the_tolerance():
    allowed = thermal.allowed_temperature_difference(46, 200)
    assert allowed == pytest.approx(46 / (4 * 12e-3 * 200))
    assert 4 * thermal.growth(200, allowed) == pytest.approx(46)
    assert thermal.wait(20, 5, 60) == pytest.approx(60 * math.log(4))
    assert thermal.wait(4, 5, 60) == 0


def test_reclamping_errors():
    assert reclamping.runout_from_eccentricity(10) == 20
    assert reclamping.pitch_from_eccentricity(10, 20) == pytest.approx(21.28, abs=0.01)
    # 20 um over 800 mm on b = 150: 3.75 um of helix slope
    assert reclamping.helix_slope_from_wobble(20, 150, 800) == pytest.approx(3.75)
    assert reclamping.largest_wobble(3.75, 150, 800) == pytest.approx(20)
    assert reclamping.largest_indicated_runout(67) == pytest.approx(22.3, abs=0.05)


@pytest.mark.parametrize(("helix", "expected"), [(20, 20), (30, 12.6)])
def test_apex_shift_of_ten_arc_seconds(helix, expected):
    """On r = 300 mm: 20 um at 20 deg, 13 um at 30 deg (derived)."""
    shift = reclamping.apex_shift_from_angle(10 / 3600, 300, helix)
    assert shift == pytest.approx(expected, abs=0.1)


def test_apex_of_a_spur_gear_is_refused():
    with pytest.raises(OutOfRange, match=r"helix angle is 0.*1 to 60"):
        reclamping.apex_shift_from_angle(0.01, 300, 0)


def test_offset_turns_into_a_tangential_error():
    assert reclamping.tangential_shift_from_offset(10, 45) == pytest.approx(10)


@pytest.mark.parametrize("share", [0, -0.1, 1.1, math.nan])
def test_share_of_the_runout_is_a_share(share):
    with pytest.raises(OutOfRange, match=r"share is "):
        reclamping.largest_indicated_runout(67, share)


def test_acceleration_by_torque_and_then_by_power():
    """J 100 kg m2 to 10 rad/s with 500 N m: 2 s; power 2.5 kW takes over at 5 rad/s: 1 s + 1.5 s."""
    rpm = 10 * 60 / (2 * math.pi)
    assert mass.acceleration_time(100, rpm, 500) == pytest.approx(2 / 60)
    assert mass.acceleration_time(100, rpm, 500, 2.5) == pytest.approx((1 + 100 * 75 / 5000) / 60)


def test_ring_without_material_is_refused():
    with pytest.raises(OutOfRange, match=r"inner diameter is 700.*0 to 600"):
        mass.ring_volume(600, 700, 100)


def test_chain_needs_a_link():
    with pytest.raises(OutOfRange, match=r"the chain has no link"):
        chains.worst_case(())
    with pytest.raises(OutOfRange, match=r"tolerance is -0\.1"):
        chains.Link(10, -0.1)


@given(tolerances=st.lists(st.floats(0, 1), min_size=1, max_size=8))
@settings(deadline=None, derandomize=True)
def test_statistics_never_exceed_the_worst_case(tolerances):
    links = tuple(chains.Link(1.0, t) for t in tolerances)
    assert chains.root_sum_square(links) <= chains.worst_case(links) + 1e-12


@pytest.mark.parametrize(
    ("fit", "size", "words"),
    [
        ("zc7", 50, 'letter "zc".*shafts d, e, f, g, h, js, k.*holes D, E, F'),
        ("jS7", 50, 'letter "jS"'),
        ("H", 50, 'class "H".*letter and grade'),
        ("H17", 50, "grade IT17.*IT1 to IT16"),
        ("H7", 3200, "nominal size 3200 mm.*above 0 to 3150"),
        ("H7", 0, "nominal size 0 mm"),
        ("H7", math.nan, "nominal size nan mm"),
        ("K9", 50, "class K9.*finer grade"),
    ],
)
def test_fits_outside_the_tables_are_refused(fit, size, words):
    with pytest.raises(OutOfRange, match=words):
        iso286.limits(fit, size)


@given(
    letter=st.sampled_from([*iso286.SHAFTS, *iso286.HOLES]),
    grade=st.integers(5, 8),
    size=st.floats(0.5, 3150),
)
@settings(deadline=None, derandomize=True, max_examples=200)
def test_zone_is_as_wide_as_the_grade(letter, grade, size):
    upper, lower = iso286.limits(f"{letter}{grade}", size)
    assert upper - lower == pytest.approx(iso286.standard_tolerance(grade, size))


def test_size_at_the_end_of_a_step_belongs_to_it():
    assert iso286.limits("H7", 180) == (40, 0)
    assert iso286.limits("H7", 180.001) == (46, 0)
