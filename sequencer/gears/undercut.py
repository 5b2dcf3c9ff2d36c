"""Where the trochoid cut by the rounded tip of a rack-shaped tool ends the involute of a tooth."""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, hypot, pi, radians, sin, tan

from sequencer.gears.diameters import base_diameter, reference_diameter
from sequencer.gears.involute import involute, pressure_angle_at_diameter
from sequencer.gears.rack import transverse_pressure_angle
from sequencer.units import Deg


def undercut_form_factor(
    teeth: int,
    profile_shift: float,
    dedendum_factor: float,
    root_fillet_factor: float,
    pressure_angle: Deg = 20.0,
    helix_angle: Deg = 0.0,
) -> float:
    """Give the diameter, in modules, above which an undercut external tooth still has its involute.

    Source: derived (envelope of the rack's fillet rolling on the reference circle, crossed with the involute)

    Parameters
    ----------
    teeth
        Number of teeth [-].
    profile_shift
        Profile shift factor [-].
    dedendum_factor
        Dedendum of the rack over module [-].
    root_fillet_factor
        Fillet radius of the rack over module [-].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    angle = radians(pressure_angle)
    reference = reference_diameter(1.0, teeth, helix_angle)
    base = base_diameter(reference, transverse_pressure_angle(pressure_angle, helix_angle))
    trochoid = _trochoid(
        teeth, profile_shift, dedendum_factor, root_fillet_factor, angle, radians(helix_angle)
    )
    half_thickness = (pi / 2.0 + 2.0 * profile_shift * tan(angle)) / teeth
    foot = pi / teeth - half_thickness - involute(pressure_angle_at_diameter(reference, base))

    def beyond_flank(direction: float) -> bool:
        radius, polar = trochoid(direction)
        flank = foot + involute(pressure_angle_at_diameter(max(2.0 * radius, base), base))
        return polar >= flank

    at_base = _bisect(lambda direction: 2.0 * trochoid(direction)[0] <= base, angle, pi / 2.0)
    crossing = _bisect(beyond_flank, angle, at_base)
    return max(2.0 * trochoid(crossing)[0], base)


def _trochoid(
    teeth: int, shift: float, dedendum: float, fillet: float, angle: float, beta: float
) -> Callable[[float], tuple[float, float]]:
    """Give radius and polar angle from the middle of the space, by the direction of the fillet's normal."""
    depth = dedendum - fillet
    across = pi / 4.0 - (depth + fillet * sin(angle)) * tan(angle) - fillet * cos(angle)
    radius = teeth / (2.0 * cos(beta))

    def point(direction: float) -> tuple[float, float]:
        along = (across + fillet * cos(direction)) / cos(beta)
        inward = depth + fillet * sin(direction) - shift
        # the rack touches the gear where the normal of its profile passes the pitch point
        rolled = along - inward * cos(direction) * cos(beta) / sin(direction)
        turn = atan2(along - rolled, radius - inward)
        return hypot(radius - inward, along - rolled), rolled / radius + turn

    return point


def _bisect(reached: Callable[[float], bool], low: float, high: float) -> float:
    """Give the least value between low and high from which on the condition is reached."""
    for _ in range(48):
        middle = 0.5 * (low + high)
        if reached(middle):
            high = middle
        else:
            low = middle
    return high
