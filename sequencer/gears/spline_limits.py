"""Limits of space width and tooth thickness of a spline from the numbers of its standard's table."""

from __future__ import annotations

from math import inf

from sequencer.gears._ranges import check_range
from sequencer.gears.spline_data import SplineLimits
from sequencer.units import Mm


def spline_limits(
    basic_size: Mm, deviation: Mm, actual_tolerance: Mm, effective_tolerance: Mm, *, internal: bool
) -> SplineLimits:
    """Give effective and actual limits of a spline whose deviation and tolerances are known.

    Source: DIN 5480-1:2006, table 6 (as quoted in public texts); ANSI B92.1 the same with machining
    tolerance and variation allowance (from memory)

    hub: evmin = e + A, emin = e + A + Teff, emax = e + A + Teff + Tact, evmax = emax - Teff;
    shaft: svmax = s + A, smax = s + A - Teff, smin = s + A - Teff - Tact, svmin = smin + Teff

    Parameters
    ----------
    basic_size
        Basic space width of a hub or tooth thickness of a shaft [mm].
    deviation
        Deviation of the effective size from it; 0 for H and h [mm].
    actual_tolerance
        Tolerance of the actual size, Tact; the machining tolerance of ANSI B92.1 [mm].
    effective_tolerance
        Share of pitch, profile and lead deviations, Teff; the variation allowance of ANSI B92.1 [mm].
    internal
        Whether it is the hub.

    Raises
    ------
    OutOfRange
        When a tolerance is not above 0, or the limits leave no tooth.
    """
    for name, value in (
        ("actual tolerance", actual_tolerance),
        ("effective tolerance", effective_tolerance),
    ):
        check_range(name, value, 0.0, inf, unit="mm", open_low=True)
    start, total = basic_size + deviation, actual_tolerance + effective_tolerance
    lowest = start if internal else start - total
    check_range(
        "least size of spaces or teeth",
        lowest,
        0.0,
        inf,
        unit="mm",
        remedy="Correct the deviation and the tolerances",
        open_low=True,
    )
    if internal:
        return SplineLimits(
            effective_upper=start + actual_tolerance,
            effective_lower=start,
            actual_upper=start + total,
            actual_lower=start + effective_tolerance,
        )
    return SplineLimits(
        effective_upper=start,
        effective_lower=start - actual_tolerance,
        actual_upper=start - effective_tolerance,
        actual_lower=start - total,
    )
