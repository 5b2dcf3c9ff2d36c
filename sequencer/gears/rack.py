"""Basic rack: modules, pressure angles, pitches and the profiles of ISO 53."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, cos, degrees, inf, pi, radians, sin, tan
from typing import Final

from sequencer.gears._ranges import check_range
from sequencer.units import MM_PER_INCH, Deg, Mm


@dataclass(frozen=True)
class BasicRack:
    """Proportions of the standard rack that a gear's tools are made to, in modules.

    Parameters
    ----------
    name
        Letter of the profile in ISO 53.
    addendum_factor
        Addendum over module [-].
    dedendum_factor
        Dedendum over module [-].
    root_fillet_factor
        Fillet radius at the root over module [-].
    """

    name: str
    addendum_factor: float
    dedendum_factor: float
    root_fillet_factor: float


#: ISO 53:1998 profiles at 20 deg (addendum and dedendum from a handbook table, the rest from memory).
ISO_53_RACKS: Final[tuple[BasicRack, ...]] = (
    BasicRack("A", 1.0, 1.25, 0.38),
    BasicRack("B", 1.0, 1.25, 0.3),
    BasicRack("C", 1.0, 1.25, 0.25),
    BasicRack("D", 1.0, 1.4, 0.39),
)

#: ISO 54:1996 modules, series I, in mm (from memory).
ISO_54_SERIES_1: Final[tuple[Mm, ...]] = (
    *(1.0, 1.25, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0),
    *(8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 32.0, 40.0, 50.0),
)
#: ISO 54:1996 modules, series II, in mm (from memory; 6.5 is to be avoided).
ISO_54_SERIES_2: Final[tuple[Mm, ...]] = (
    *(1.125, 1.375, 1.75, 2.25, 2.75, 3.5, 4.5, 5.5, 6.5),
    *(7.0, 9.0, 11.0, 14.0, 18.0, 22.0, 28.0, 36.0, 45.0),
)


def transverse_module(normal_module: Mm, helix_angle: Deg) -> Mm:
    """Give the transverse module of a helical gear.

    Source: ISO 21771:2007 (from memory)

    mt = mn / cos b

    Parameters
    ----------
    normal_module
        Normal module [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return normal_module / cos(radians(helix_angle))


def normal_module(transverse_module: Mm, helix_angle: Deg) -> Mm:
    """Give the normal module of a helical gear drawn in the transverse system.

    Source: ISO 21771:2007 (from memory)

    mn = mt cos b

    Parameters
    ----------
    transverse_module
        Transverse module [mm].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return transverse_module * cos(radians(helix_angle))


def module_from_diametral_pitch(diametral_pitch: float) -> Mm:
    """Give the module of a gear drawn with a diametral pitch.

    Source: Machinery's Handbook, diametral pitch and module

    m = 25.4 / P

    Parameters
    ----------
    diametral_pitch
        Teeth for each inch of reference diameter [1/in].

    Raises
    ------
    OutOfRange
        When the pitch is not above zero.
    """
    check_range("diametral pitch", diametral_pitch, 0.0, inf, unit="1/in", open_low=True)
    return MM_PER_INCH / diametral_pitch


def diametral_pitch(module: Mm) -> float:
    """Give the diametral pitch in 1/in of a gear drawn with a module.

    Source: Machinery's Handbook, diametral pitch and module

    P = 25.4 / m

    Parameters
    ----------
    module
        Module [mm].

    Raises
    ------
    OutOfRange
        When the module is not above zero.
    """
    check_range("module", module, 0.0, inf, unit="mm", open_low=True)
    return MM_PER_INCH / module


def transverse_pressure_angle(pressure_angle: Deg, helix_angle: Deg) -> Deg:
    """Give the pressure angle in the transverse section.

    Source: ISO 21771:2007 (from memory)

    tan at = tan an / cos b

    Parameters
    ----------
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return degrees(atan(tan(radians(pressure_angle)) / cos(radians(helix_angle))))


def normal_pressure_angle(transverse_pressure_angle: Deg, helix_angle: Deg) -> Deg:
    """Give the normal pressure angle of a gear drawn in the transverse system.

    Source: ISO 21771:2007 (from memory)

    tan an = tan at cos b

    Parameters
    ----------
    transverse_pressure_angle
        Transverse pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    return degrees(atan(tan(radians(transverse_pressure_angle)) * cos(radians(helix_angle))))


def base_pitch(normal_module: Mm, pressure_angle: Deg) -> Mm:
    """Give the normal base pitch.

    Source: ISO 21771:2007 (from memory)

    pbn = pi mn cos an

    Parameters
    ----------
    normal_module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    """
    return pi * normal_module * cos(radians(pressure_angle))


def transverse_base_pitch(normal_module: Mm, pressure_angle: Deg, helix_angle: Deg) -> Mm:
    """Give the transverse base pitch.

    Source: ISO 21771:2007 (from memory)

    pbt = pi mt cos at

    Parameters
    ----------
    normal_module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    helix_angle
        Helix angle at the reference circle [deg].
    """
    alpha_t = transverse_pressure_angle(pressure_angle, helix_angle)
    return pi * transverse_module(normal_module, helix_angle) * cos(radians(alpha_t))


def root_land_factor(pressure_angle: Deg, dedendum_factor: float) -> float:
    """Give the width, in modules, that is left between the flanks of the rack at its root line.

    Source: derived (trapezoid of the basic rack)

    w* = pi/2 - 2 hfP* tan an

    Parameters
    ----------
    pressure_angle
        Normal pressure angle [deg].
    dedendum_factor
        Dedendum over module [-].
    """
    return pi / 2.0 - 2.0 * dedendum_factor * tan(radians(pressure_angle))


def deepest_dedendum_factor(pressure_angle: Deg) -> float:
    """Give the dedendum, in modules, at which the tooth of the rack becomes pointed.

    Source: derived (trapezoid of the basic rack)

    hfP* = pi / (4 tan an)

    Parameters
    ----------
    pressure_angle
        Normal pressure angle [deg].
    """
    return pi / (4.0 * tan(radians(pressure_angle)))


def largest_root_fillet_factor(pressure_angle: Deg, dedendum_factor: float) -> float:
    """Give the largest fillet radius, in modules, that fits between the flanks of the rack at its root.

    Source: derived (full radius in the trapezoid of the basic rack)

    rho* = w* cos an / (2 (1 - sin an)), w* the width left at the root line

    Parameters
    ----------
    pressure_angle
        Normal pressure angle [deg].
    dedendum_factor
        Dedendum over module [-].
    """
    angle = radians(pressure_angle)
    return root_land_factor(pressure_angle, dedendum_factor) * cos(angle) / (2.0 * (1.0 - sin(angle)))


def clearance_fillet_factor(pressure_angle: Deg, clearance_factor: float) -> float:
    """Give the fillet radius, in modules, that ends where the mating tooth tip reaches.

    Source: derived (the fillet of a rack meets its flank at the clearance line)

    rho* = c* / (1 - sin an)

    Parameters
    ----------
    pressure_angle
        Normal pressure angle [deg].
    clearance_factor
        Tip clearance over module [-].
    """
    return clearance_factor / (1.0 - sin(radians(pressure_angle)))


def straight_dedendum_factor(pressure_angle: Deg, dedendum_factor: float, root_fillet_factor: float) -> float:
    """Give the depth, in modules, to which the flank of the rack is straight below the datum line.

    Source: ISO 53:1998 (from memory), form dedendum hFfP

    hFfP* = hfP* - rho* (1 - sin an)

    Parameters
    ----------
    pressure_angle
        Normal pressure angle [deg].
    dedendum_factor
        Dedendum over module [-].
    root_fillet_factor
        Fillet radius at the root over module [-].
    """
    return dedendum_factor - root_fillet_factor * (1.0 - sin(radians(pressure_angle)))
