"""Moments against tipping, by hand."""

from __future__ import annotations

from math import cos, pi

import pytest

from sequencer.cutting import tipping
from sequencer.errors import OutOfRange


def test_weight_over_the_rim() -> None:
    assert tipping.moment_of_weight(1000, 800) == pytest.approx(1000 * 9.80665 * 0.4)


def test_friction_of_jaws_is_the_mean_over_the_rim() -> None:
    """Sum over many small jaws: each holds mu F/n along the axis at its distance from the line of tipping."""
    jaws, friction, force, diameter = 720, 0.15, 100_000.0, 500.0
    summed = sum(friction * force / jaws * diameter / 2000 * abs(cos(2 * pi * i / jaws)) for i in range(jaws))
    assert tipping.moment_of_jaws(force, friction, diameter) == pytest.approx(summed, rel=1e-4)


def test_bolts_pull_in_their_middle() -> None:
    assert tipping.moment_of_bolts(120_000, 700) == pytest.approx(42_000)


def test_force_before_tipping() -> None:
    assert tipping.force_before_tipping(3000, 400, 1.5) == pytest.approx(5000)
    with pytest.raises(OutOfRange, match="height"):
        tipping.force_before_tipping(3000, 0, 1.5)
