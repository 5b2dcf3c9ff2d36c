"""Hobbing: setting, speeds, travel, time, marks on the flank and chip thickness."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Micrometre, Minutes, Mm, Rpm

HANDS = ("right", "left", "spur")


def hob_pitch_diameter(outside_diameter: Mm, addendum: Mm) -> Mm:
    """Pitch diameter of a hob, d0 = d_a0 - 2 h_a0.

    Source: derived; h_a0 is usually 1.25 m_n.

    Parameters
    ----------
    outside_diameter
        Outside diameter, d_a0 [mm].
    addendum
        Addendum of the hob tooth, h_a0 [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the addendum leaves no pitch circle.
    """
    above_zero("hob", outside_diameter=outside_diameter, addendum=addendum)
    within("hob", 0.0, 0.45 * outside_diameter, addendum=addendum)
    return outside_diameter - 2 * addendum


def hob_lead_angle(starts: int, module: Mm, pitch_diameter: Mm) -> Deg:
    """Lead angle of a hob, sin(gamma) = z0 m_n / d0.

    Source: E. Bergseth, Virtual Hobbing, KTH 2011, as quoted; the same in hob makers' computations.

    Parameters
    ----------
    starts
        Number of starts, z0 [-].
    module
        Normal module [mm].
    pitch_diameter
        Pitch diameter of the hob [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the sine would exceed 0.9.
    """
    one_or_more("hob lead angle", starts=starts)
    above_zero("hob lead angle", module=module, pitch_diameter=pitch_diameter)
    sine = starts * module / pitch_diameter
    within("hob lead angle", 0.0, 0.9, "Take a larger hob or fewer starts", sine=sine)
    return math.degrees(math.asin(sine))


def swivel_angle(helix_angle: Deg, lead_angle: Deg, gear_hand: str, hob_hand: str) -> Deg:
    """Swivel of the hob axis out of the transverse plane; the size of beta - gamma or beta + gamma.

    Source: gear-cutting textbooks: same hand difference, opposite hand sum; spur gear gamma alone.

    Parameters
    ----------
    helix_angle
        Helix angle of the gear without sign [deg].
    lead_angle
        Lead angle of the hob [deg].
    gear_hand
        Hand of the gear: "right", "left" or "spur" [-].
    hob_hand
        Hand of the hob: "right" or "left" [-].

    Raises
    ------
    OutOfRange
        When an angle is negative or too large, a hand unknown, or a helix angle has no hand.
    """
    within("hob swivel", 0.0, 60.0, helix_angle=helix_angle)
    within("hob swivel", 0.0, 30.0, lead_angle=lead_angle)
    if gear_hand not in HANDS or hob_hand not in HANDS[:2]:
        raise OutOfRange(
            f'gear hand is "{gear_hand}", hob hand is "{hob_hand}"',
            where="hob swivel",
            limit='gear "right", "left" or "spur", hob "right" or "left"',
            remedy="Name the hands",
        )
    if (gear_hand == "spur") != (helix_angle == 0):
        raise OutOfRange(
            f'helix angle {helix_angle:g} deg with gear hand "{gear_hand}"',
            where="hob swivel",
            limit="a helix has a hand, a spur gear has none",
            remedy="Correct helix angle or hand",
        )
    if gear_hand == hob_hand:
        return abs(helix_angle - lead_angle)
    return helix_angle + lead_angle


def table_rpm(hob_rpm: Rpm, starts: int, teeth: int) -> Rpm:
    """Table revolutions, n2 = n0 z0 / z.

    Source: E. Bergseth, Virtual Hobbing, KTH 2011, as quoted.

    Parameters
    ----------
    hob_rpm
        Hob revolutions, n0 [1/min].
    starts
        Number of starts, z0 [-].
    teeth
        Teeth of the gear, z [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("table revolutions", hob_rpm=hob_rpm)
    one_or_more("table revolutions", starts=starts, teeth=teeth)
    return hob_rpm * starts / teeth


def lead(module: Mm, teeth: int, helix_angle: Deg) -> Mm:
    """Lead of a helical gear, p_z = pi m_n z / sin(beta).

    Source: derived; ISO 21771.

    Parameters
    ----------
    module
        Normal module [mm].
    teeth
        Teeth of the gear [-].
    helix_angle
        Helix angle, right hand positive; the lead has its sign [deg].

    Raises
    ------
    OutOfRange
        When the helix angle is 0 (endless lead) or beyond 60 deg.
    """
    above_zero("lead", module=module)
    one_or_more("lead", teeth=teeth)
    within("lead", -60.0, 60.0, helix_angle=helix_angle)
    if abs(helix_angle) < 1e-9:
        raise OutOfRange(
            "helix angle is 0",
            where="lead",
            limit="not 0",
            remedy="A spur gear has no lead; use the differential turns",
        )
    return math.pi * module * teeth / math.sin(math.radians(helix_angle))


def differential_turns(module: Mm, teeth: int, helix_angle: Deg) -> float:
    """Extra table turns for each mm of axial travel, sin(beta) / (pi m_n z) [1/mm].

    Source: derived; the reciprocal of the lead, 0 for a spur gear.

    Parameters
    ----------
    module
        Normal module [mm].
    teeth
        Teeth of the gear [-].
    helix_angle
        Helix angle, right hand positive [deg].

    Raises
    ------
    OutOfRange
        When module or teeth are not above 0 or the helix angle is beyond 60 deg.
    """
    above_zero("differential", module=module)
    one_or_more("differential", teeth=teeth)
    within("differential", -60.0, 60.0, helix_angle=helix_angle)
    return math.sin(math.radians(helix_angle)) / (math.pi * module * teeth)


def differential_rpm(feed: Mm, gear_rpm: Rpm, module: Mm, teeth: int, helix_angle: Deg) -> Rpm:
    """Revolutions added to the table while feeding axially, f_a n2 sin(beta) / (pi m_n z).

    Source: derived.

    Parameters
    ----------
    feed
        Axial feed per table revolution [mm].
    gear_rpm
        Table revolutions [1/min].
    module
        Normal module [mm].
    teeth
        Teeth of the gear [-].
    helix_angle
        Helix angle, right hand positive [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the helix angle is beyond 60 deg.
    """
    above_zero("differential", feed=feed, table_rpm=gear_rpm)
    return feed * gear_rpm * differential_turns(module, teeth, helix_angle)


def approach(outside_diameter: Mm, depth: Mm, tip_diameter: Mm, swivel: Deg) -> Mm:
    """Approach of a hob until it cuts full depth, E = sqrt(h (d_a0 - h + d_a sin^2 eta)) / cos eta.

    Source: hob makers' formula, from memory; exact for eta = 0, else shorter than the exact intersection:
    1.5 % at eta 17 to 30 deg on common sizes, up to 6 % for a small hob on a large gear. Use it for times;
    use `run_out.axial_room` for what fits.

    Parameters
    ----------
    outside_diameter
        Outside diameter of the hob, d_a0 [mm].
    depth
        Depth of cut, h [mm].
    tip_diameter
        Tip diameter of the gear, d_a [mm].
    swivel
        Swivel angle, eta [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the depth not below the hob diameter or the swivel beyond 75 deg.
    """
    above_zero("hob approach", outside_diameter=outside_diameter, depth=depth, tip_diameter=tip_diameter)
    within("hob approach", 0.0, min(outside_diameter, tip_diameter / 2), depth=depth)
    within("hob approach", -75.0, 75.0, swivel=swivel)
    eta = math.radians(swivel)
    square = depth * (outside_diameter - depth + tip_diameter * math.sin(eta) ** 2)
    return math.sqrt(square) / math.cos(eta)


def generating_length(module: Mm, pressure_angle: Deg, addendum_factor: float = 1.25) -> Mm:
    """Half the hob length that generates the flanks, l = 1.25 m_n / tan(alpha).

    Source: from memory; the line of action from the pitch point to the tip line of the rack.

    Parameters
    ----------
    module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    addendum_factor
        Hob addendum in modules [-].

    Raises
    ------
    OutOfRange
        When module or factor is not above 0 or the pressure angle is outside 5 to 45 deg.
    """
    above_zero("generating length", module=module, addendum_factor=addendum_factor)
    within("generating length", 5.0, 45.0, pressure_angle=pressure_angle)
    return addendum_factor * module / math.tan(math.radians(pressure_angle))


def overrun(module: Mm, pressure_angle: Deg, swivel: Deg, least: Mm = 2.0) -> Mm:
    """Travel behind the tooth end until both flanks are generated, U = max(l sin(eta), least).

    Source: derived, with l the generating length; the least value is common practice, no source.

    Parameters
    ----------
    module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    swivel
        Swivel angle [deg].
    least
        Least overrun [mm].

    Raises
    ------
    OutOfRange
        When the module is not above 0, the least overrun negative or an angle out of range.
    """
    not_negative("hob overrun", least_overrun=least)
    within("hob overrun", -75.0, 75.0, swivel=swivel)
    length = generating_length(module, pressure_angle)
    return max(length * math.sin(math.radians(abs(swivel))), least)


def total_travel(face_width: Mm, approach_length: Mm, overrun_length: Mm, spacers: Mm = 0.0) -> Mm:
    """Axial travel of a hob, face width + spacers + approach + overrun.

    Source: R. Endoy, Estimating Hobbing Times, Gear Technology 1989.

    Parameters
    ----------
    face_width
        Face width along the axis [mm].
    approach_length
        Approach [mm].
    overrun_length
        Overrun [mm].
    spacers
        Gaps between parts cut in one stack [mm].

    Raises
    ------
    OutOfRange
        When the face width is not above 0 or another length negative.
    """
    above_zero("hob travel", face_width=face_width)
    not_negative("hob travel", approach=approach_length, overrun=overrun_length, spacers=spacers)
    return face_width + approach_length + overrun_length + spacers


def hobbing_time(teeth: int, starts: int, hob_rpm: Rpm, feed: Mm, travel: Mm) -> Minutes:
    """Time of one hobbing cut, T = z L / (n0 z0 f_a).

    Source: R. Endoy, Estimating Hobbing Times, Gear Technology 1989, equation (1).

    Parameters
    ----------
    teeth
        Teeth of the gear, z [-].
    starts
        Number of starts, z0 [-].
    hob_rpm
        Hob revolutions, n0 [1/min].
    feed
        Axial feed per table revolution, f_a [mm].
    travel
        Axial travel, L [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("hobbing time", feed=feed, travel=travel)
    return travel / (feed * table_rpm(hob_rpm, starts, teeth))


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
