"""Involute splines by the name of their standard."""

from __future__ import annotations

from typing import Final, TypeVar

from sequencer.errors import OutOfRange
from sequencer.gears.ansi_b92_1 import Form, ansi_b92_1
from sequencer.gears.din_5480 import din_5480
from sequencer.gears.iso_4156 import Root, iso_4156
from sequencer.gears.spline_data import PinSize, SplineData, SplineLimits
from sequencer.units import MM_PER_INCH, Deg, Mm

_Value = TypeVar("_Value", int, float)

STANDARDS: Final = ("DIN 5480", "ISO 4156", "ANSI B92.1")

__all__ = [
    "STANDARDS",
    "PinSize",
    "SplineData",
    "SplineLimits",
    "ansi_b92_1",
    "din_5480",
    "iso_4156",
    "spline_data",
]


def spline_data(
    standard: str,
    *,
    module: Mm,
    teeth: int | None = None,
    internal: bool = False,
    reference_diameter: Mm | None = None,
    pressure_angle: Deg = 30.0,
    root: str = "flat",
    tolerance_class: int | None = None,
    fit: str | None = None,
    length: Mm | None = None,
    dedendum_factor: float = 0.55,
) -> SplineData:
    """Give the dimensions of an involute spline to DIN 5480, ISO 4156 or ANSI B92.1.

    Source: the standard named, see the function that it calls

    Parameters
    ----------
    standard
        "DIN 5480", "ISO 4156" or "ANSI B92.1".
    module
        Module; 25.4 over the diametral pitch for ANSI B92.1 [mm].
    teeth
        Number of teeth; None only for DIN 5480, which pairs them with the reference diameter [-].
    internal
        Whether it is the hub.
    reference_diameter
        Reference diameter dB, for DIN 5480 only [mm].
    pressure_angle
        Pressure angle, 30 for DIN 5480 [deg].
    root
        "flat" or "fillet"; for ANSI B92.1 also "flat side" or "flat major".
    tolerance_class
        Tolerance class of ISO 4156; None for basic dimensions [-].
    fit
        Letter of the fit of ISO 4156; None for H or h.
    length
        Length of the spline; None for half the pitch diameter [mm].
    dedendum_factor
        Dedendum over module of DIN 5480 [-].

    Raises
    ------
    OutOfRange
        When the standard is unknown, a value is missing or outside its range.
    """
    name = " ".join(standard.upper().split())
    if name == "DIN 5480":
        if pressure_angle != 30.0:
            raise OutOfRange(
                f"pressure angle is {pressure_angle:g} deg",
                where=name,
                limit="30 deg",
                remedy="Other pressure angles: ISO 4156",
            )
        reference = _needed("reference diameter", reference_diameter, name)
        return din_5480(reference, module, teeth, internal=internal, dedendum_factor=dedendum_factor)
    if name == "ISO 4156":
        return iso_4156(
            module,
            _needed("number of teeth", teeth, name),
            internal=internal,
            pressure_angle=pressure_angle,
            root=_one_root(root, name),
            tolerance_class=tolerance_class,
            fit=fit,
            length=length,
        )
    if name == "ANSI B92.1":
        count = _needed("number of teeth", teeth, name)
        if not module > 0.0:
            raise OutOfRange(
                f"module is {module:g} mm", where=name, limit="above 0", remedy="Correct the module"
            )
        pitch, form = MM_PER_INCH / module, _one_form(root)
        return ansi_b92_1(pitch, count, internal=internal, pressure_angle=pressure_angle, form=form)
    raise OutOfRange(
        f"spline standard {standard!r} is unknown",
        limit=f"known: {', '.join(STANDARDS)}",
        remedy="Give the spline to one of these",
    )


def _needed(what: str, value: _Value | None, standard: str) -> _Value:
    if value is None:
        raise OutOfRange(
            f"{what} is missing", where=standard, limit=f"a {what} is needed", remedy=f"Give the {what}"
        )
    return value


def _one_root(root: str, standard: str) -> Root:
    if root == "flat":
        return "flat"
    if root == "fillet":
        return "fillet"
    raise OutOfRange(
        f"root {root!r} is unknown", where=standard, limit="known: flat, fillet", remedy="Choose one of these"
    )


def _one_form(root: str) -> Form:
    if root in ("flat", "flat side"):
        return "flat side"
    if root == "flat major":
        return "flat major"
    if root == "fillet":
        return "fillet"
    raise OutOfRange(
        f"root {root!r} is unknown",
        where="ANSI B92.1",
        limit="known: flat side, flat major, fillet",
        remedy="Choose one of these",
    )
