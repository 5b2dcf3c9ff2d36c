"""The involute function, its inverse and the pressure angle at a diameter."""

from __future__ import annotations

from fractions import Fraction
from math import inf, isfinite, nan, radians

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from sequencer.errors import OutOfRange
from sequencer.gears.involute import (
    diameter_at_roll_length,
    inverse_involute,
    involute,
    pressure_angle_at_diameter,
)


@settings(deadline=None, derandomize=True)
@given(st.floats(0.0, 89.9))
@example(0.0)
@example(1e-6)
@example(89.0)
@example(89.9)
def test_inverse_undoes_the_involute(angle: float) -> None:
    assert inverse_involute(involute(angle)) == pytest.approx(angle, rel=2e-13, abs=1e-13)


@settings(deadline=None, derandomize=True)
@given(st.floats(0.0, 1e6))
def test_involute_undoes_its_inverse(value: float) -> None:
    angle = inverse_involute(value)
    assert 0.0 <= angle < 90.0
    # near 90 deg one step of the angle moves the function by far more than a step of its own
    if angle < 89.0:
        assert involute(angle) == pytest.approx(value, rel=1e-11, abs=1e-15)


@pytest.mark.parametrize("value", [1e-4, 0.0149, 0.3, 2.0, 40.0])
def test_inverse_against_a_bracketing_solver(value: float) -> None:
    """An independent root finder agrees."""
    found = brentq(lambda angle: involute(angle) - value, 0.0, 89.999, xtol=1e-13)
    assert inverse_involute(value) == pytest.approx(found, abs=1e-11)


@pytest.mark.parametrize("angle", [0.001, 0.5, 2.0, 5.0])
def test_small_angles_keep_their_digits(angle: float) -> None:
    """Against the power series of tan a - a summed in exact fractions."""
    a = Fraction(radians(angle))
    series = sum(
        (
            a**3 / 3,
            2 * a**5 / 15,
            17 * a**7 / 315,
            62 * a**9 / 2835,
            1382 * a**11 / 155925,
            21844 * a**13 / 6081075,
        )
    )
    assert involute(angle) == pytest.approx(float(series), rel=1e-13)


@pytest.mark.parametrize("angle", [-1.0, 90.0, 120.0, nan, inf])
def test_angle_outside_its_range_is_refused(angle: float) -> None:
    with pytest.raises(OutOfRange, match=r"pressure angle is .*at least 0 deg and below 90 deg"):
        involute(angle)


@pytest.mark.parametrize("value", [-1e-9, nan, inf])
def test_involute_without_an_angle_is_refused(value: float) -> None:
    with pytest.raises(OutOfRange, match=r"involute function is"):
        inverse_involute(value)


def test_diameter_inside_the_base_circle_is_refused() -> None:
    with pytest.raises(OutOfRange, match=r"diameter is 30 mm \(allowed: at least 33.8 mm\)"):
        pressure_angle_at_diameter(30.0, 33.8)
    with pytest.raises(OutOfRange, match=r"base diameter is 0 mm"):
        pressure_angle_at_diameter(30.0, 0.0)


def test_roll_length_and_pressure_angle_agree() -> None:
    """L = rb tan a."""
    diameter = diameter_at_roll_length(12.0, 70.0)
    assert pressure_angle_at_diameter(diameter, 70.0) == pytest.approx(18.92464441605, abs=1e-9)
    assert isfinite(diameter)
