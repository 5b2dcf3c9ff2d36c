"""Speeds, forces, roughness and tool life: inverses, sums and refusals."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import forces, life, roughness, speeds
from sequencer.errors import OutOfRange


@given(diameter=st.floats(1, 3000), speed=st.floats(1, 600))
@settings(deadline=None, derandomize=True)
def test_revolutions_and_cutting_speed_are_inverse(diameter, speed):
    assert speeds.cutting_speed(diameter, speeds.spindle_rpm(diameter, speed)) == pytest.approx(speed)


def test_revolutions_stop_at_the_cap():
    assert speeds.capped_rpm(100, 200, 300) == 300
    assert speeds.capped_rpm(1000, 200, 300) == pytest.approx(200 / math.pi)


@pytest.mark.parametrize("value", [0, -5, math.nan, math.inf])
def test_zero_and_senseless_speeds_are_refused(value):
    with pytest.raises(OutOfRange, match=r"cutting speed is .*above 0.*Give a cutting speed above 0"):
        speeds.spindle_rpm(100, value)


def test_removal_rates():
    assert speeds.turning_removal_rate(100, 0.2, 3) == pytest.approx(60_000)
    assert speeds.milling_removal_rate(3, 40, 500) == pytest.approx(60_000)
    assert speeds.drilling_removal_rate(20, 0.2, 500) == pytest.approx(math.pi * 100 * 100)


def test_kienzle_at_one_millimetre_is_the_coefficient():
    assert forces.specific_force(2100, 0.26, 1.0) == 2100
    assert forces.specific_force(2100, 0.26, 0.1) == pytest.approx(2100 * 10**0.26)


def test_chip_section_does_not_depend_on_the_approach_angle():
    """Chip thickness times chip width stays depth times feed."""
    thickness = forces.turning_chip_thickness(0.4, 60)
    width = 5 / math.sin(math.radians(60))
    assert forces.turning_force(2000, 5, 0.4) == pytest.approx(2000 * thickness * width)


def test_drilling_torque_is_the_sum_of_two_edges():
    """Each edge cuts D/2 x f/2 at D/4 from the axis."""
    each = forces.turning_force(2500, 10, 0.15)
    assert forces.drilling_torque(20, 0.3, 2500) == pytest.approx(2 * each * 5 / 1000)
    bored = forces.drilling_torque(20, 0.3, 2500, pilot=10)
    assert bored == pytest.approx(forces.drilling_torque(20, 0.3, 2500) * 0.75)


def test_pilot_not_smaller_than_the_drill_is_refused():
    with pytest.raises(OutOfRange, match=r"pilot is 20"):
        forces.drilling_torque(20, 0.3, 2500, pilot=20)


def test_drilling_thrust_and_chip():
    assert forces.drilling_chip_thickness(0.3, 180) == pytest.approx(0.15)
    assert forces.drilling_thrust(20, 0.3, 2500, 180) == pytest.approx(3750)


def test_tapping_torque_grows_with_the_square_of_the_pitch():
    assert forces.tapping_torque(20, 2.5, 2500) == pytest.approx(39.0625)
    assert forces.tapping_torque(20, 5.0, 2500) == pytest.approx(4 * 39.0625)


def test_power_and_torque_are_one_thing():
    power = forces.power_of_torque(500, 120)
    assert forces.torque_of_power(power, 120) == pytest.approx(500)
    # force at a rim: F v = M omega
    moment = forces.torque(4000, 600)
    speed = speeds.cutting_speed(600, 50)
    assert forces.cutting_power(4000, speed) == pytest.approx(forces.power_of_torque(moment, 50))


def test_efficiency_above_one_is_refused():
    with pytest.raises(OutOfRange, match=r"efficiency is 1\.2.*0\.05 to 1"):
        forces.cutting_power(1000, 100, 1.2)


@given(ra=st.floats(0.1, 12.5), radius=st.floats(0.2, 3.2))
@settings(deadline=None, derandomize=True)
def test_largest_feed_gives_just_the_roughness(ra, radius):
    assert roughness.turned_ra(roughness.largest_feed_for_ra(ra, radius), radius) == pytest.approx(ra)


def test_roughness_is_the_sagitta_of_the_nose():
    exact = 0.8 - math.sqrt(0.8**2 - 0.1**2)
    assert roughness.turned_rt(0.2, 0.8) == pytest.approx(1000 * exact, rel=0.005)


@given(exponent=st.floats(0.1, 0.9), speed=st.floats(30, 300))
@settings(deadline=None, derandomize=True)
def test_taylor_life_and_speed_are_inverse(exponent, speed):
    minutes = life.taylor_life(exponent, 400, speed)
    assert life.taylor_speed(exponent, 400, minutes) == pytest.approx(speed)


def test_taylor_tests_that_contradict_are_refused():
    with pytest.raises(OutOfRange, match=r"160 m/min lasts 41 min.*the faster test has the shorter life"):
        life.taylor_constants(160, 41, 100, 5)


def test_hob_life_counts_tooth_metres():
    """4 gears of z 104, b 240, beta 20 have 106.2 m of teeth; 60 hob teeth cut 1.77 m each."""
    metres = life.hob_tooth_metres(4, 104, 240, 20, 60)
    assert metres == pytest.approx(4 * 104 * 0.24 / math.cos(math.radians(20)) / 60)
    assert life.gears_per_hob(metres, 60, 104, 240, 20) == pytest.approx(4)


@pytest.mark.parametrize(
    ("parts", "minutes", "minutes_of_life", "reserve", "tools"),
    [(4, 12, 60, 0.8, 1), (4, 12.1, 60, 0.8, 2), (1, 0.1, 60, 0.8, 1), (10, 45, 60, 0.75, 10)],
)
def test_number_of_sister_tools(parts, minutes, minutes_of_life, reserve, tools):
    assert life.tools_needed(parts, minutes, minutes_of_life, reserve) == tools
