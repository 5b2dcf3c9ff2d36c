"""Interference of mating gears: tips against root fillets, and the ways a pinion jams in an internal gear."""

from __future__ import annotations

from math import acos, asin, cos, radians, sin, sqrt, tan

from sequencer.gears._ranges import check_range
from sequencer.gears.involute import involute, pressure_angle_at_diameter
from sequencer.units import Deg, Mm


def involute_interference_margin(
    teeth_1: int, teeth_2: int, tip_diameter_2: Mm, base_diameter_2: Mm, working_pressure_angle: Deg
) -> float:
    """Give the margin against the tip of the internal gear meeting the pinion below its base circle.

    Source: Elements of Metric Gear Technology, section 5 (involute interference, from memory)

    margin = z1/z2 - (1 - tan aa2 / tan aw); below 0 they interfere

    Parameters
    ----------
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the internal gear [-].
    tip_diameter_2
        Tip diameter of the internal gear [mm].
    base_diameter_2
        Base diameter of the internal gear [mm].
    working_pressure_angle
        Transverse working pressure angle [deg].

    Raises
    ------
    OutOfRange
        When the tip of the internal gear is below its base circle or the working pressure angle is 0.
    """
    tip = tan(radians(pressure_angle_at_diameter(tip_diameter_2, base_diameter_2)))
    check_range(
        "working pressure angle", working_pressure_angle, 0.0, 90.0, unit="deg", open_low=True, open_high=True
    )
    return teeth_1 / teeth_2 - (1.0 - tip / tan(radians(working_pressure_angle)))


def trochoid_interference_margin(
    teeth_1: int,
    teeth_2: int,
    tip_diameter_1: Mm,
    base_diameter_1: Mm,
    tip_diameter_2: Mm,
    centre_distance: Mm,
    working_pressure_angle: Deg,
) -> float:
    """Give the margin in radians against the tips meeting as the pinion leaves the internal gear.

    Source: Elements of Metric Gear Technology, section 5 (trochoid interference, from memory)

    margin = theta1 z1/z2 + inv aw - inv aa2 - theta2; below 0 they interfere

    Parameters
    ----------
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the internal gear [-].
    tip_diameter_1
        Tip diameter of the pinion [mm].
    base_diameter_1
        Base diameter of the pinion [mm].
    tip_diameter_2
        Tip diameter of the internal gear [mm].
    centre_distance
        Working centre distance [mm].
    working_pressure_angle
        Transverse working pressure angle [deg].

    Raises
    ------
    OutOfRange
        When a tip diameter is below its base diameter.
    """
    base_diameter_2 = base_diameter_1 * teeth_2 / teeth_1
    at_work = involute(working_pressure_angle)
    tip_1 = involute(pressure_angle_at_diameter(tip_diameter_1, base_diameter_1))
    tip_2 = involute(pressure_angle_at_diameter(tip_diameter_2, base_diameter_2))
    r1, r2, a = tip_diameter_1 / 2.0, tip_diameter_2 / 2.0, centre_distance
    cosine_1 = (r2 * r2 - r1 * r1 - a * a) / (2.0 * a * r1)
    cosine_2 = (a * a + r2 * r2 - r1 * r1) / (2.0 * a * r2)
    if not (-1.0 <= cosine_1 <= 1.0 and -1.0 <= cosine_2 <= 1.0):
        # the tip circles do not cross: the pinion's teeth never pass the tips of the internal gear
        return float("inf")
    theta_1 = acos(cosine_1) + tip_1 - at_work
    return theta_1 * teeth_1 / teeth_2 + at_work - tip_2 - acos(cosine_2)


def trimming_interference_margin(
    teeth_1: int,
    teeth_2: int,
    tip_diameter_1: Mm,
    base_diameter_1: Mm,
    tip_diameter_2: Mm,
    working_pressure_angle: Deg,
) -> float:
    """Give the margin in radians against tips that collide when the pinion is fed in radially.

    Source: Elements of Metric Gear Technology, section 5 (trimming interference, from memory)

    margin = theta1 + inv aa1 - inv aw - z2/z1 (theta2 + inv aa2 - inv aw); below 0 the pinion must be
    brought in along the axis

    Parameters
    ----------
    teeth_1
        Number of teeth of the pinion [-].
    teeth_2
        Number of teeth of the internal gear [-].
    tip_diameter_1
        Tip diameter of the pinion [mm].
    base_diameter_1
        Base diameter of the pinion [mm].
    tip_diameter_2
        Tip diameter of the internal gear [mm].
    working_pressure_angle
        Transverse working pressure angle [deg].

    Raises
    ------
    OutOfRange
        When a tip diameter is below its base diameter or the pinion has as many teeth as the gear.
    """
    check_range("teeth of the internal gear", teeth_2, teeth_1, float("inf"), open_low=True)
    angle_1 = pressure_angle_at_diameter(tip_diameter_1, base_diameter_1)
    angle_2 = pressure_angle_at_diameter(tip_diameter_2, base_diameter_1 * teeth_2 / teeth_1)
    quotient = cos(radians(angle_1)) / cos(radians(angle_2))
    if quotient >= 1.0:
        # the tip of the pinion stays inside the tips of the internal gear
        return float("inf")
    ratio = teeth_1 / teeth_2
    sine_1 = sqrt((1.0 - quotient**2) / (1.0 - ratio**2))
    sine_2 = sqrt((1.0 / quotient**2 - 1.0) / (1.0 / ratio**2 - 1.0))
    if sine_1 > 1.0 or sine_2 > 1.0:
        return float("-inf")
    at_work = involute(working_pressure_angle)
    left = asin(sine_1) + involute(angle_1) - at_work
    return left - (asin(sine_2) + involute(angle_2) - at_work) / ratio


def roll_length_at_mating_tip(
    mating_tip_diameter: Mm,
    mating_base_diameter: Mm,
    centre_distance: Mm,
    working_pressure_angle: Deg,
    *,
    internal: bool = False,
    mate_internal: bool = False,
) -> Mm:
    """Give the length of the tangent to the base circle at which the tip of the mate meets a flank.

    Source: ISO 21771:2007 (from memory; start of active profile)

    L = a sin awt - LM with LM = sqrt(raM^2 - rbM^2); mate internal: LM - a sin awt; this gear internal:
    LM + a sin awt; below 0 the mate meets the flank inside the base circle

    Parameters
    ----------
    mating_tip_diameter
        Tip diameter of the mating gear [mm].
    mating_base_diameter
        Base diameter of the mating gear [mm].
    centre_distance
        Working centre distance [mm].
    working_pressure_angle
        Transverse working pressure angle [deg].
    internal
        Whether this gear is internal.
    mate_internal
        Whether the mating gear is internal.

    Raises
    ------
    OutOfRange
        When the tip of the mate is inside its base circle.
    """
    check_range(
        "tip diameter of the mating gear", mating_tip_diameter, mating_base_diameter, float("inf"), unit="mm"
    )
    mate = sqrt(mating_tip_diameter**2 - mating_base_diameter**2) / 2.0
    across = centre_distance * sin(radians(working_pressure_angle))
    if internal:
        return mate + across
    return mate - across if mate_internal else across - mate


def tip_clearance(
    centre_distance: Mm, tip_diameter: Mm, mating_root_diameter: Mm, *, internal: bool = False
) -> Mm:
    """Give the gap between the tip of one gear and the root of its mate.

    Source: ISO 21771:2007 (from memory)

    c = a - (da + dfM)/2; pinion in an internal gear, of their diameters that face each other:
    c = d2/2 - a - d1/2

    Parameters
    ----------
    centre_distance
        Working centre distance [mm].
    tip_diameter
        Tip diameter; internal: tip or root diameter of the pinion [mm].
    mating_root_diameter
        Root diameter of the mate; internal: root or tip diameter of the internal gear [mm].
    internal
        Whether one of the gears is internal.
    """
    if internal:
        return mating_root_diameter / 2.0 - centre_distance - tip_diameter / 2.0
    return centre_distance - (tip_diameter + mating_root_diameter) / 2.0
