"""The involute function, its inverse, and the pressure angle at any diameter."""

from __future__ import annotations

from math import acos, atan, cbrt, degrees, hypot, inf, pi, radians, tan
from typing import Final

from sequencer.gears._ranges import check_range
from sequencer.units import Deg, Mm

#: Below this tangent the difference tan a - a loses digits and its series is used instead.
_SERIES_BELOW: Final = 0.1
#: The Newton steps shrink quadratically; this many reach the last digit from every start.
_STEPS: Final = 30
#: A Newton step shorter than this, relative, leaves an error below its square.
_LAST_STEP: Final = 1e-8


def _tangent_less_arc(tangent: float) -> float:
    """Give t - atan t without losing digits at small t."""
    if tangent > _SERIES_BELOW:
        return tangent - atan(tangent)
    s = tangent * tangent
    series = 1 / 9 - s * (1 / 11 - s * (1 / 13 - s * (1 / 15 - s / 17)))
    return (1 / 3 - s * (1 / 5 - s * (1 / 7 - s * series))) * tangent * s


def involute(angle: Deg) -> float:
    """Give the involute function, the polar angle of an involute in radians.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, table of involute functions

    inv a = tan a - a

    Parameters
    ----------
    angle
        Pressure angle, 0 to below 90 [deg].

    Raises
    ------
    OutOfRange
        When the angle is outside 0 to below 90 deg.

    Examples
    --------
    >>> round(involute(20.0), 6)
    0.014904
    """
    check_range("pressure angle", angle, 0.0, 90.0, unit="deg", open_high=True)
    return _tangent_less_arc(tan(radians(angle)))


def inverse_involute(value: float) -> Deg:
    """Give the angle whose involute function has a given value.

    Source: derived (Newton's method on t - atan t = inv a, which is convex in t = tan a)

    Parameters
    ----------
    value
        Involute function, not negative [rad].

    Raises
    ------
    OutOfRange
        When the value is negative or not finite.

    Examples
    --------
    >>> round(inverse_involute(0.0268197), 4)
    24.135
    """
    check_range("involute function", value, 0.0, inf, remedy="No involute has a negative polar angle")
    return degrees(atan(tangent_of_involute(value)))


def tangent_of_involute(value: float) -> float:
    """Give the tangent of the angle whose involute function has a given value.

    Source: derived (Newton's method on t - atan t = inv a, which is convex in t = tan a)

    Parameters
    ----------
    value
        Involute function, not negative [rad].
    """
    if value <= 0.0:
        return 0.0
    cube = cbrt(3.0 * value)
    if cube < 1.0:
        # the series of the inverse: t = q + q^3/5 + 3 q^5/175 - 2 q^7/1575 + ..., q^3 = 3 inv a
        square = cube * cube
        tangent = cube * (1.0 + square * (0.2 + square * (3 / 175 - square * 2 / 1575)))
    else:
        tangent = value + pi / 2
    for _ in range(_STEPS):
        square = tangent * tangent
        change = (_tangent_less_arc(tangent) - value) * (1.0 + square) / square
        tangent -= change
        if abs(change) <= _LAST_STEP * tangent:
            break
    return tangent


def pressure_angle_at_diameter(diameter: Mm, base_diameter: Mm) -> Deg:
    """Give the transverse pressure angle of an involute where it crosses a diameter.

    Source: ISO 21771:2007 (from memory)

    cos a_y = db / dy

    Parameters
    ----------
    diameter
        Diameter of the point on the involute [mm].
    base_diameter
        Base diameter [mm].

    Raises
    ------
    OutOfRange
        When the diameter is below the base diameter, where no involute exists.
    """
    check_range("base diameter", base_diameter, 0.0, inf, unit="mm", open_low=True)
    check_range(
        "diameter",
        diameter,
        base_diameter,
        inf,
        unit="mm",
        remedy="An involute exists only outside its base circle; choose a larger diameter",
    )
    return degrees(acos(base_diameter / diameter))


def diameter_at_roll_length(roll_length: Mm, base_diameter: Mm) -> Mm:
    """Give the diameter of the involute point at a length of the tangent to the base circle.

    Source: ISO 21771:2007 (from memory)

    dy = 2 sqrt(rb^2 + L^2)

    Parameters
    ----------
    roll_length
        Length of the tangent from the base circle to the point [mm].
    base_diameter
        Base diameter [mm].
    """
    return 2.0 * hypot(base_diameter / 2.0, roll_length)
