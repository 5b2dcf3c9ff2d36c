"""Marks that a hob leaves on the flank, and its chip thickness."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.units import Deg, Micrometre, Mm


def feed_mark_depth(feed: Mm, outside_diameter: Mm, pressure_angle: Deg, helix_angle: Deg) -> Micrometre:
    """Depth of the feed marks square to the flank, delta = 1000 (f_a/cos beta)^2 sin(alpha) / (4 d_a0).

    Source: hob makers' formula, from memory; confirmed by exact circle geometry.

    Parameters
    ----------
    feed
        Axial feed per table revolution [mm].
    outside_diameter
        Outside diameter of the hob or disc [mm].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle of the gear [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or an angle out of range.
    """
    above_zero("feed marks", feed=feed, outside_diameter=outside_diameter)
    within("feed marks", 5.0, 45.0, pressure_angle=pressure_angle)
    within("feed marks", -60.0, 60.0, helix_angle=helix_angle)
    along = feed / math.cos(math.radians(helix_angle))
    return 1000 * along**2 * math.sin(math.radians(pressure_angle)) / (4 * outside_diameter)


def largest_feed(depth_limit: Micrometre, outside_diameter: Mm, pressure_angle: Deg, helix_angle: Deg) -> Mm:
    """Largest axial feed whose marks stay within a depth, the feed-mark formula solved for f_a.

    Source: derived from delta = 1000 (f_a/cos beta)^2 sin(alpha) / (4 d_a0).

    Parameters
    ----------
    depth_limit
        Depth of feed marks allowed [um].
    outside_diameter
        Outside diameter of the hob or disc [mm].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle of the gear [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or an angle out of range.
    """
    above_zero("largest feed", depth_limit=depth_limit)
    at_one_mm = feed_mark_depth(1.0, outside_diameter, pressure_angle, helix_angle)
    return math.sqrt(depth_limit / at_one_mm)


def facet_height(module: Mm, teeth: int, starts: int, gashes: int, pressure_angle: Deg) -> Micrometre:
    """Height of the profile facets, delta = 1000 pi^2 z0^2 m_n sin(alpha) / (4 z i^2).

    Source: hob makers' formula, from memory; confirmed by tangent-polygon geometry. Starts and gashes
    without a common factor.

    Parameters
    ----------
    module
        Normal module [mm].
    teeth
        Teeth of the gear, z [-].
    starts
        Number of starts, z0 [-].
    gashes
        Gashes of the hob, i [-].
    pressure_angle
        Normal pressure angle [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the pressure angle is outside 5 to 45 deg.
    """
    above_zero("profile facets", module=module)
    one_or_more("profile facets", teeth=teeth, starts=starts, gashes=gashes)
    within("profile facets", 5.0, 45.0, pressure_angle=pressure_angle)
    sine = math.sin(math.radians(pressure_angle))
    return 1000 * math.pi**2 * starts**2 * module * sine / (4 * teeth * gashes**2)


def head_chip_thickness(
    module: Mm,
    teeth: int,
    helix_angle: Deg,
    profile_shift: float,
    outside_diameter: Mm,
    gashes: int,
    starts: int,
    feed: Mm,
    depth: Mm,
) -> Mm:
    """Greatest chip thickness at the hob tip after Hoffmeister.

    Source: B. Hoffmeister, thesis Aachen 1970; all exponents from memory and NOT confirmed: compare cuts
    with each other, do not take the value as exact.

    h = 4.9 m z^(9.25e-3 beta - 0.542) e^(-0.015 beta) e^(-0.015 x) (r_a0/m)^(-8.25e-3 beta - 0.225)
    (i/z0)^-0.877 (f_a/m)^0.511 (a/m)^0.319

    Parameters
    ----------
    module
        Normal module, m [mm].
    teeth
        Teeth of the gear, z [-].
    helix_angle
        Helix angle without sign, beta [deg].
    profile_shift
        Profile shift coefficient, x [-].
    outside_diameter
        Outside diameter of the hob, 2 r_a0 [mm].
    gashes
        Gashes of the hob, i [-].
    starts
        Number of starts, z0 [-].
    feed
        Axial feed per table revolution, f_a [mm].
    depth
        Depth of cut, a [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the helix angle outside 0 to 45 deg or the shift outside -3 to 3.
    """
    where = "hob chip thickness"
    above_zero(where, module=module, outside_diameter=outside_diameter, feed=feed, depth=depth)
    one_or_more(where, teeth=teeth, gashes=gashes, starts=starts)
    within(where, 0.0, 45.0, helix_angle=helix_angle)
    within(where, -3.0, 3.0, profile_shift=profile_shift)
    size = teeth ** (9.25e-3 * helix_angle - 0.542) * math.exp(-0.015 * (helix_angle + profile_shift))
    hob = (outside_diameter / 2 / module) ** (-8.25e-3 * helix_angle - 0.225) * (gashes / starts) ** -0.877
    cut = (feed / module) ** 0.511 * (depth / module) ** 0.319
    return float(4.9 * module * size * hob * cut)
