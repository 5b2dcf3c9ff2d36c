"""Growth of the part with temperature and the wait until it may be finished or measured."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting._ranges import above_zero, finite, not_negative
from sequencer.units import Micrometre, Minutes, Mm

#: Thermal expansion of steel, from memory of handbooks [1/K].
STEEL_EXPANSION: Final = 12e-6


def growth(size: Mm, temperature_rise: float, expansion: float = STEEL_EXPANSION) -> Micrometre:
    """Growth of a size with temperature, 1000 alpha D dT.

    Source: physics, linear expansion.

    Parameters
    ----------
    size
        Diameter or length [mm].
    temperature_rise
        Temperature above the reference, may be negative [K].
    expansion
        Coefficient of linear expansion [1/K].

    Raises
    ------
    OutOfRange
        When size or expansion is not above 0 or the temperature not finite.
    """
    above_zero("thermal growth", size=size, expansion=expansion)
    finite("thermal growth", temperature_rise=temperature_rise)
    return 1000 * expansion * size * temperature_rise


def allowed_temperature_difference(
    tolerance: Micrometre, size: Mm, expansion: float = STEEL_EXPANSION, share: float = 0.25
) -> float:
    """Greatest temperature difference [K] for finishing or measuring, tol / (4 alpha D).

    Source: common practice, no source: heat may use a quarter of the tolerance.

    Parameters
    ----------
    tolerance
        Tolerance of the size [um].
    size
        Diameter or length [mm].
    expansion
        Coefficient of linear expansion [1/K].
    share
        Share of the tolerance that heat may use [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("temperature difference", tolerance=tolerance, size=size, expansion=expansion, share=share)
    return share * tolerance / (1000 * expansion * size)


def wait(temperature_rise: float, allowed: float, time_constant: Minutes) -> Minutes:
    """Wait until a part has cooled to an allowed difference, t = tau ln(dT / dT_allowed).

    Source: physics, Newton's law of cooling; 0 when the part is cool enough already.

    Parameters
    ----------
    temperature_rise
        Size of the temperature difference now [K].
    allowed
        Allowed difference [K].
    time_constant
        Time in which the difference falls to 1/e, a value of the shop [min].

    Raises
    ------
    OutOfRange
        When the difference is negative or another value not above 0.
    """
    not_negative("cooling wait", temperature_rise=temperature_rise)
    above_zero("cooling wait", allowed_difference=allowed, time_constant=time_constant)
    if temperature_rise <= allowed:
        return 0.0
    return time_constant * math.log(temperature_rise / allowed)
