"""Diameters, helix and lead of a cylindrical gear.

For an internal gear teeth and diameters count positive here, and a positive profile shift enlarges the
gear. ISO 21771 instead counts the teeth, the diameters and the centre distance of an internal gear
negative; its profile shift factor is then the negative of the one used here.
"""

from __future__ import annotations

from math import asin, atan, cos, degrees, inf, pi, radians, sin, tan

from sequencer.errors import OutOfRange
from sequencer.gears.involute import diameter_at_roll_length
from sequencer.units import Deg, Mm


def reference_diameter(normal_module: Mm, teeth: int, helix_angle: Deg = 0.0) -> Mm:
    """Give the reference diameter.

    Source: ISO 21771:2007 (from memory)

    d = z mn / cos b

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return teeth * normal_module / cos(radians(helix_angle))


def base_diameter(reference_diameter: Mm, transverse_pressure_angle: Deg) -> Mm:
    """Give the base diameter.

    Source: ISO 21771:2007 (from memory)

    db = d cos at

    Parameters
    ----------
    reference_diameter
        Reference diameter [mm].
    transverse_pressure_angle
        Transverse pressure angle [deg].
    """
    return reference_diameter * cos(radians(transverse_pressure_angle))


def shifted_diameter(reference_diameter: Mm, normal_module: Mm, profile_shift: float = 0.0) -> Mm:
    """Give the diameter on which the datum line of the shifted rack lies (V-circle).

    Source: ISO 21771:2007 (from memory)

    dv = d + 2 x mn

    Parameters
    ----------
    reference_diameter
        Reference diameter [mm].
    normal_module
        Normal module [mm].
    profile_shift
        Profile shift factor; positive enlarges external and internal gears [-].
    """
    return reference_diameter + 2.0 * profile_shift * normal_module


def tip_diameter(
    reference_diameter: Mm,
    normal_module: Mm,
    profile_shift: float = 0.0,
    addendum_factor: float = 1.0,
    *,
    internal: bool = False,
) -> Mm:
    """Give the tip diameter without tip shortening.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, tables 4-1 and 5-1

    da = d + 2 x mn + 2 haP* mn; internal: da = d + 2 x mn - 2 haP* mn

    Parameters
    ----------
    reference_diameter
        Reference diameter [mm].
    normal_module
        Normal module [mm].
    profile_shift
        Profile shift factor; positive enlarges external and internal gears [-].
    addendum_factor
        Addendum over module [-].
    internal
        Whether the teeth point inwards.
    """
    shifted = shifted_diameter(reference_diameter, normal_module, profile_shift)
    return shifted + (-2.0 if internal else 2.0) * addendum_factor * normal_module


def root_diameter(
    reference_diameter: Mm,
    normal_module: Mm,
    profile_shift: float = 0.0,
    dedendum_factor: float = 1.25,
    *,
    internal: bool = False,
) -> Mm:
    """Give the root diameter.

    Source: ISO 21771:2007 (from memory); Elements of Metric Gear Technology, tables 4-1 and 5-1

    df = d + 2 x mn - 2 hfP* mn; internal: df = d + 2 x mn + 2 hfP* mn

    Parameters
    ----------
    reference_diameter
        Reference diameter [mm].
    normal_module
        Normal module [mm].
    profile_shift
        Profile shift factor; positive enlarges external and internal gears [-].
    dedendum_factor
        Dedendum over module [-].
    internal
        Whether the teeth point inwards.
    """
    shifted = shifted_diameter(reference_diameter, normal_module, profile_shift)
    return shifted + (2.0 if internal else -2.0) * dedendum_factor * normal_module


def base_helix_angle(helix_angle: Deg, pressure_angle: Deg) -> Deg:
    """Give the helix angle on the base cylinder.

    Source: ISO 21771:2007 (from memory)

    sin bb = sin b cos an

    Parameters
    ----------
    helix_angle
        Helix angle at the reference circle [deg].
    pressure_angle
        Normal pressure angle [deg].
    """
    return degrees(asin(sin(radians(helix_angle)) * cos(radians(pressure_angle))))


def helix_angle_at_diameter(helix_angle: Deg, reference_diameter: Mm, diameter: Mm) -> Deg:
    """Give the helix angle on another cylinder of the same gear.

    Source: ISO 21771:2007 (from memory)

    tan by = tan b dy / d

    Parameters
    ----------
    helix_angle
        Helix angle at the reference circle [deg].
    reference_diameter
        Reference diameter [mm].
    diameter
        Diameter of the other cylinder [mm].
    """
    return degrees(atan(tan(radians(helix_angle)) * diameter / reference_diameter))


def lead(normal_module: Mm, teeth: int, helix_angle: Deg) -> Mm:
    """Give the lead, the axial length of one turn of a tooth; endless (inf) for a spur gear.

    Source: ISO 21771:2007 (from memory)

    pz = pi mn z / sin b

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    sine = sin(radians(helix_angle))
    return pi * normal_module * teeth / sine if sine else inf


def helix_angle_from_lead(normal_module: Mm, teeth: int, lead: Mm) -> Deg:
    """Give the helix angle of a gear of given lead.

    Source: ISO 21771:2007 (from memory)

    sin b = pi mn z / pz

    Parameters
    ----------
    normal_module
        Normal module [mm].
    teeth
        Number of teeth [-].
    lead
        Lead [mm].

    Raises
    ------
    OutOfRange
        When the lead is too short for the normal module and the teeth.
    """
    shortest = pi * normal_module * teeth
    if not lead > shortest:
        raise OutOfRange(
            f"lead is {lead:.6g} mm",
            limit=f"above {shortest:.6g} mm for {teeth} teeth of normal module {normal_module:g} mm",
            remedy="Correct the lead or the module",
        )
    return degrees(asin(shortest / lead))


def virtual_teeth(teeth: int, helix_angle: Deg) -> float:
    """Give the number of teeth of the spur gear that resembles the normal section.

    Source: Elements of Metric Gear Technology, section 6, equivalent spur gear

    zv = z / cos^3 b

    Parameters
    ----------
    teeth
        Number of teeth [-].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return float(teeth / cos(radians(helix_angle)) ** 3)


def virtual_teeth_by_base_helix(teeth: int, helix_angle: Deg, pressure_angle: Deg) -> float:
    """Give the virtual number of teeth with the helix of the base cylinder.

    Source: ISO 21771:2007 (from memory)

    znx = z / (cos^2 bb cos b)

    Parameters
    ----------
    teeth
        Number of teeth [-].
    helix_angle
        Helix angle at the reference circle [deg].
    pressure_angle
        Normal pressure angle [deg].
    """
    cosine_base = cos(radians(base_helix_angle(helix_angle, pressure_angle)))
    return float(teeth / (cosine_base**2 * cos(radians(helix_angle))))


def root_form_diameter(
    base_diameter: Mm,
    reference_diameter: Mm,
    transverse_pressure_angle: Deg,
    normal_module: Mm,
    profile_shift: float,
    straight_dedendum_factor: float,
) -> Mm:
    """Give the diameter at which the involute of an external gear cut by a rack begins.

    Source: ISO 21771:2007 (from memory; generation by the straight flank of a rack, no undercut)

    dFf = 2 sqrt( rb^2 + L^2 ), L = r sin at - (hFfP* - x) mn / sin at; L below 0 means undercut, and the
    base diameter is given

    Parameters
    ----------
    base_diameter
        Base diameter [mm].
    reference_diameter
        Reference diameter [mm].
    transverse_pressure_angle
        Transverse pressure angle [deg].
    normal_module
        Normal module [mm].
    profile_shift
        Profile shift factor [-].
    straight_dedendum_factor
        Depth of the straight flank of the rack over module [-].
    """
    sine = sin(radians(transverse_pressure_angle))
    depth = (straight_dedendum_factor - profile_shift) * normal_module
    roll_length = reference_diameter / 2.0 * sine - depth / sine
    return diameter_at_roll_length(max(roll_length, 0.0), base_diameter)
