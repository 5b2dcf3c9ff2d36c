"""Engagement of a skiving cutter at the tooth end and its way into an internal gear."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.cutting.skiving.kinematics import sine_of_sigma
from sequencer.units import Deg, Mm


def engagement_reach(
    limit_diameter: Mm, root_diameter: Mm, cutter_diameter: Mm, sigma: Deg, internal: bool
) -> Mm:
    """Axial half extent of the cutter tip circle inside a limiting diameter, at full depth.

    Source: derived; external rho^2 = (a - r cos phi)^2 + (r sin phi cos Sigma)^2 with a = r_f + r, internal
    (a + r cos phi)^2 + ... with a = r_f - r, set equal to the limiting radius; reach = r sin phi sin Sigma.

    Parameters
    ----------
    limit_diameter
        Tip diameter of the gear, or diameter of the shoulder or bore next to it [mm].
    root_diameter
        Root diameter of the gear [mm].
    cutter_diameter
        Tip circle diameter of the cutter [mm].
    sigma
        Crossed-axes angle [deg].
    internal
        Whether the gear is internal [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the crossed-axes angle is below 1 deg, an internal cutter is not
        smaller than the root circle, or the limiting diameter is on the wrong side of the root.
    """
    where = "skiving reach"
    above_zero(where, root_diameter=root_diameter, cutter_diameter=cutter_diameter)
    above_zero(where, limit_diameter=limit_diameter)
    sine = sine_of_sigma(sigma)
    if internal:
        within(where, 0.0, root_diameter, limit_diameter=limit_diameter)
        within(
            where, 0.0, root_diameter * (1 - 1e-9), "Take a smaller cutter", cutter_diameter=cutter_diameter
        )
    else:
        within(where, root_diameter, math.inf, limit_diameter=limit_diameter)
    radius, limit, root = cutter_diameter / 2, limit_diameter / 2, root_diameter / 2
    axis = root - radius if internal else root + radius
    # rho^2 - limit^2 = a x^2 +- 2 b x + c, x = cos(phi) counted from the point of deepest engagement
    a = radius**2 * sine**2
    b = axis * radius
    c = axis**2 + radius**2 * (1 - sine**2) - limit**2
    inside = b * b - a * c
    # An internal tip circle that lies wholly beyond the limit has no crossing: all of it counts.
    way = -1.0 if internal else 1.0
    cosine = way * (b - math.sqrt(inside)) / a if inside >= 0 else -1.0
    cosine = max(-1.0, min(1.0, cosine))
    return radius * sine * (1.0 if cosine < 0 else math.sqrt(1 - cosine**2))


def largest_entering_diameter(tip_diameter: Mm, clearance: Mm = 1.0) -> Mm:
    """Largest cutter outside diameter that can be lowered into an internal gear, d_a - 2 clearance.

    Source: derived; lowered with its middle on the work axis a tilted cutter fills its own diameter.

    Parameters
    ----------
    tip_diameter
        Tip diameter of the internal gear, or a narrower bore above it [mm].
    clearance
        Clearance all round [mm].

    Raises
    ------
    OutOfRange
        When the diameter is not above 0 or the clearance negative or too large.
    """
    above_zero("cutter entry", tip_diameter=tip_diameter)
    within("cutter entry", 0.0, tip_diameter / 2 * (1 - 1e-9), clearance=clearance)
    return tip_diameter - 2 * clearance


def largest_cutter_teeth(gear_teeth: int, share: float = 0.65) -> int:
    """Largest number of cutter teeth for an internal gear, floor(share z_w).

    Source: common practice, no source: 0.6 to 0.7 of the gear keeps the flanks free at entry and exit.

    Parameters
    ----------
    gear_teeth
        Teeth of the internal gear [-].
    share
        Share of the gear teeth allowed [-].

    Raises
    ------
    OutOfRange
        When the teeth are below 1 or the share outside 0.1 to 0.95.
    """
    one_or_more("cutter teeth", gear_teeth=gear_teeth)
    within("cutter teeth", 0.1, 0.95, share=share)
    return math.floor(share * gear_teeth + 1e-9)
