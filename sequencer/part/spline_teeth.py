"""Splines of a part's features as the formulas know them."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final, Literal

from sequencer.errors import OutOfRange
from sequencer.gears.din_5480 import DEDENDUM_FACTORS
from sequencer.gears.spline_data import SplineData
from sequencer.gears.spline_limits import spline_limits
from sequencer.gears.splines import spline_data
from sequencer.part.teeth import ToothHeight
from sequencer.part.toothed import Spline

#: Class and fit of ISO 4156 as a drawing writes them, either way round.
_ISO_CLASS: Final = re.compile(r"^\s*(?:([4-7])\s*(H|d|e|f|h|js|k)|(H|d|e|f|h|js|k)\s*/?\s*([4-7]))\s*$")


#: Roots of DIN 5480 by the method of the part file.
_MADE_BY: Final[dict[str, str]] = {
    "broaching": "broached",
    "hobbing": "hobbed",
    "power skiving": "hobbed",
    "shaping": "shaped",
    "disc milling": "shaped",
    "end-mill milling": "shaped",
}


@dataclass(frozen=True)
class SplineClass:
    """Tolerance class and fit of ISO 4156.

    Parameters
    ----------
    number
        Tolerance class; 7 where none is given [-].
    fit
        Letter of the fit.
    known
        Whether the drawing gives them in a form that can be computed.
    """

    number: int
    fit: str
    known: bool


def spline_class(spline: Spline) -> SplineClass:
    """Read class and fit of a spline to ISO 4156; tolerances that the drawing gives win.

    Source: designations of ISO 4156-1 (from memory)

    Parameters
    ----------
    spline
        The spline.
    """
    usual = "H" if spline.place == "inside" else "h"
    match = _ISO_CLASS.match(spline.tolerance_class)
    if spline.standard != "ISO 4156" or match is None or spline.actual_tolerance is not None:
        return SplineClass(7, usual, False)
    return SplineClass(int(match[1] or match[4]), match[2] or match[3], True)


def spline_dimensions(spline: Spline) -> SplineData:
    """Give the dimensions of a spline to its standard, with limits by class or by the numbers of the drawing.

    Source: DIN 5480-1, ISO 4156-1, ANSI B92.1, as the functions named there say

    Parameters
    ----------
    spline
        The spline.

    Raises
    ------
    OutOfRange
        When the standard has no spline of these sizes, or the limits leave no tooth.
    """
    graded = spline_class(spline)
    sizes = spline_data(
        spline.standard,
        module=float(spline.module.millimetres),
        teeth=spline.teeth,
        internal=spline.place == "inside",
        reference_diameter=None if spline.reference_diameter is None else float(spline.reference_diameter),
        pressure_angle=float(spline.pressure_angle),
        root=spline_root(spline),
        tolerance_class=graded.number if graded.known else None,
        fit=graded.fit if graded.known else None,
        length=spline.length,
        dedendum_factor=din_root(spline).dedendum,
    )
    if spline.actual_tolerance is None or spline.effective_tolerance is None:
        return sizes
    limits = spline_limits(
        sizes.circular_size,
        float(spline.size_deviation or 0.0),
        float(spline.actual_tolerance),
        float(spline.effective_tolerance),
        internal=sizes.internal,
    )
    return replace(sizes, limits=limits)


def spline_root(spline: Spline) -> Literal["flat", "fillet", "flat major"]:
    """Give the form of the root: at 37.5 and 45 deg the standards know only the fillet.

    Source: ISO 4156-1 and ANSI B92.1, as the functions of their dimensions say; flat is usual at 30 deg

    Parameters
    ----------
    spline
        The spline.
    """
    if spline.root == "flat" or spline.root == "fillet" or spline.root == "flat major":
        return spline.root
    return "flat" if float(spline.pressure_angle) == 30.0 else "fillet"


@dataclass(frozen=True)
class DinRoot:
    """Root of a DIN 5480 spline.

    Parameters
    ----------
    making
        How it is made: broached, hobbed, shaped or rolled.
    known_by
        Key of the part file that says so; empty for the usual one.
    """

    making: str
    known_by: str

    @property
    def dedendum(self) -> float:
        """Dedendum of the rack over module [-]."""
        return DEDENDUM_FACTORS[self.making]


def din_root(spline: Spline) -> DinRoot:
    """Give the root of a DIN 5480 spline: as the drawing says, else by its method, else the usual one.

    Source: DIN 5480-1:2006 (from memory); skived as hobbed, milled as shaped: common practice, no source

    Parameters
    ----------
    spline
        The spline.
    """
    if spline.root in DEDENDUM_FACTORS:
        return DinRoot(spline.root, "root")
    if spline.method in _MADE_BY:
        return DinRoot(_MADE_BY[spline.method], "method")
    return DinRoot("broached" if spline.place == "inside" else "hobbed", "")


def spline_height(spline: Spline) -> ToothHeight:
    """Give tip and root of an involute spline; two modules deep if it has none.

    Source: DIN 5480-1, ISO 4156-1, ANSI B92.1, as the functions named there say

    Parameters
    ----------
    spline
        The spline; the checks of the part say what is wrong with one that its standard does not know.
    """
    outside = spline.place == "outside"
    try:
        sizes = spline_dimensions(spline)
    except OutOfRange:
        module = float(spline.module.millimetres)
        largest = float(spline.reference_diameter or (spline.teeth + 1) * module)
        ends = largest, largest - 2 * module
        return ToothHeight(*ends) if outside else ToothHeight(*ends[::-1])
    major, minor = sizes.major_diameter, sizes.minor_diameter
    return ToothHeight(major, minor) if outside else ToothHeight(minor, major)
