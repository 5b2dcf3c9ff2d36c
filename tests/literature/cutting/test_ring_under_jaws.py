"""A thin ring under equal jaws: published factors, and the ring's equation solved by numbers.

Sources: S. Timoshenko, Strength of Materials, part II, thin rings: two opposite forces shorten the diameter
by 0.149 F R^3/(E I) and lengthen the other by 0.137 F R^3/(E I) (from memory). The other numbers of jaws are
held to a numerical solution of w'' + w = -M R^2/(E I), which is derived here.
"""

from __future__ import annotations

from math import cos, pi, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting.ring import (
    force_for_roundness,
    inward_at_jaw,
    outward_between_jaws,
    roundness_after_release,
)
from sequencer.errors import OutOfRange


def test_two_opposite_forces() -> None:
    """Factors of the book, half of the change of diameter each; tolerance half of their last digit."""
    assert 2 * inward_at_jaw(1.0, 1.0, 1.0, 2) == pytest.approx(0.149, abs=5e-4)
    assert 2 * outward_between_jaws(1.0, 1.0, 1.0, 2) == pytest.approx(0.137, abs=5e-4)


def by_numbers(jaws: int, steps: int = 4000) -> tuple[float, float]:
    """Movement at a jaw (inward) and between two (outward) for F = R = E I = 1, by shooting.

    From the middle between two jaws (x = 0) to a jaw (x = a): the section carries the hoop force
    N = F/(2 sin a) and a moment M = m0 + N R (1 - cos x); m0 follows from no turn at both ends. The ring's
    equation w'' + w = M (w outward positive, M positive where it flattens) is stepped by Runge and Kutta, and
    the ring keeps its length: the integral of w is 0.
    """
    half = pi / jaws
    hoop = 1 / (2 * sin(half))
    m0 = -hoop * (1 - sin(half) / half)

    def curvature(x: float, w: float) -> float:
        return m0 + hoop * (1 - cos(x)) - w

    def shoot(start: float) -> tuple[float, float, float]:
        w, slope, area, h = start, 0.0, 0.0, half / steps
        for i in range(steps):
            x = i * h
            k1, l1 = slope, curvature(x, w)
            k2, l2 = slope + h / 2 * l1, curvature(x + h / 2, w + h / 2 * k1)
            k3, l3 = slope + h / 2 * l2, curvature(x + h / 2, w + h / 2 * k2)
            k4, l4 = slope + h * l3, curvature(x + h, w + h * k3)
            before = w
            w += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
            slope += h / 6 * (l1 + 2 * l2 + 2 * l3 + l4)
            area += h / 2 * (before + w)
        return w, slope, area

    # The end slope is linear in the start value: choose it so that the ring has no kink at the jaw.
    zero, one = shoot(0.0)[1], shoot(1.0)[1]
    start = -zero / (one - zero)
    end, slope, area = shoot(start)
    assert slope == pytest.approx(0, abs=1e-9)
    assert area == pytest.approx(0, abs=1e-6)
    return end, start


@pytest.mark.parametrize("jaws", [2, 3, 4, 6, 8, 12])
def test_against_the_equation_of_the_ring(jaws: int) -> None:
    """Closed form against Runge and Kutta, to one part in a thousand (the small ones lose digits)."""
    end, start = by_numbers(jaws)
    assert abs(end) == pytest.approx(inward_at_jaw(1.0, 1.0, 1.0, jaws), rel=2e-3)
    assert abs(start) == pytest.approx(outward_between_jaws(1.0, 1.0, 1.0, jaws), rel=2e-3)
    assert end * start < 0


def test_roundness_by_hand() -> None:
    """Self-made pin: 3 jaws of 5 kN on a ring of radius 300 mm, section 40 x 80 mm; in um."""
    stiffness = 206_000 * 80 * 40**3 / 12
    half = pi / 3
    inward = half / (2 * sin(half) ** 2) + 1 / (2 * tan(half)) - 1 / half
    between = 2 / half - 1 / sin(half) - half * cos(half) / sin(half) ** 2
    by_hand = 5000 * 300**3 / stiffness * (inward / 2 + between / 4) * 1000
    assert roundness_after_release(5000, 300, stiffness, 3) == pytest.approx(by_hand)
    assert by_hand == pytest.approx(46.2, abs=0.3)


@settings(deadline=None, derandomize=True)
@given(jaws=st.integers(2, 20), deviation=st.floats(1, 500), radius=st.floats(50, 800))
def test_the_force_for_a_roundness_gives_that_roundness(jaws: int, deviation: float, radius: float) -> None:
    stiffness = 1e11
    force = force_for_roundness(deviation, radius, stiffness, jaws)
    assert roundness_after_release(force / jaws, radius, stiffness, jaws) == pytest.approx(deviation)


def test_more_jaws_press_less() -> None:
    at = [roundness_after_release(60_000 / jaws, 300, 1e11, jaws) for jaws in (2, 3, 4, 6, 8, 12)]
    assert at == sorted(at, reverse=True)


def test_one_jaw_is_refused() -> None:
    with pytest.raises(OutOfRange, match="jaws is 1"):
        inward_at_jaw(1000, 300, 1e11, 1)
