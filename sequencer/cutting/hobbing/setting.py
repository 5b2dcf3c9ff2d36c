"""Hob and table: lead angle, swivel, revolutions and differential."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm, Rpm

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
    `signed_swivel` tells the side.

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

    Source: derived; positive is anticlockwise from above for a downward feed. `hob_senses` gives the signs of
    every case.

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
