"""Involute splines by reference diameter, DIN 5480, pressure angle 30 deg."""

from __future__ import annotations

from math import floor, pi, radians, tan
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.gears._ranges import check_count, check_range
from sequencer.gears.over_balls import BALL_DIAMETERS
from sequencer.gears.spline_data import SplineData
from sequencer.units import Deg, Mm

PRESSURE_ANGLE: Final[Deg] = 30.0
#: Dedendum of the rack over module by the way of making (from memory).
DEDENDUM_FACTORS: Final[dict[str, float]] = {
    "broached": 0.55,
    "hobbed": 0.60,
    "shaped": 0.65,
    "rolled": 0.84,
}
_LEAST_SHIFT, _LARGEST_SHIFT = -0.05, 0.45


def din_5480_profile_shift(reference_diameter: Mm, module: Mm, teeth: int) -> float:
    """Give the profile shift factor that fits the teeth to the reference diameter.

    Source: DIN 5480-1:2006 (from memory)

    dB = m z + 2 x m + 1.1 m

    Parameters
    ----------
    reference_diameter
        Reference diameter dB of the designation, not the pitch diameter [mm].
    module
        Module [mm].
    teeth
        Number of teeth [-].
    """
    return (reference_diameter / module - teeth - 1.1) / 2.0


def din_5480_teeth(reference_diameter: Mm, module: Mm) -> int:
    """Give the number of teeth that the standard pairs with a reference diameter and a module.

    Source: DIN 5480-1:2006 (from memory): profile shift factor -0.05 to 0.45; of two numbers the even one

    Parameters
    ----------
    reference_diameter
        Reference diameter dB of the designation [mm].
    module
        Module [mm].
    """
    most = floor(reference_diameter / module - 1.1 - 2.0 * _LEAST_SHIFT + 1e-9)
    fewer = most - 1
    both = din_5480_profile_shift(reference_diameter, module, fewer) <= _LARGEST_SHIFT + 1e-9
    return fewer if both and most % 2 else most


def din_5480(
    reference_diameter: Mm,
    module: Mm,
    teeth: int | None = None,
    *,
    internal: bool = False,
    dedendum_factor: float = DEDENDUM_FACTORS["broached"],
) -> SplineData:
    """Give the basic dimensions of a DIN 5480 spline.

    Source: DIN 5480-1:2006 (from memory)

    shaft: da1 = m z + 2 x m + 0.9 m = dB - 0.2 m, df1 = m z + 2 x m - 2 hfP; hub: da2 = dB - 2 m,
    df2 = m z + 2 x m + 2 hfP; s1 = e2 = m pi/2 + 2 x m tan 30; form clearance 0.02 m

    Parameters
    ----------
    reference_diameter
        Reference diameter dB of the designation, 6 to 500 [mm].
    module
        Module, 0.5 to 10 [mm].
    teeth
        Number of teeth; None for the number that the standard pairs with them [-].
    internal
        Whether it is the hub.
    dedendum_factor
        Dedendum of the rack over module: 0.55 broached, 0.60 hobbed, 0.65 shaped, 0.84 rolled [-].

    Raises
    ------
    OutOfRange
        When a value is outside the range of the standard or the teeth do not fit the reference diameter.
    """
    where = f"DIN 5480 - {reference_diameter:g} x {module:g}"
    check_range("reference diameter", reference_diameter, 6.0, 500.0, unit="mm", where=where)
    check_range("module", module, 0.5, 10.0, unit="mm", where=where)
    check_range("dedendum factor", dedendum_factor, 0.5, 1.0, where=where)
    count = din_5480_teeth(reference_diameter, module) if teeth is None else teeth
    check_count("number of teeth", count, 6, 500, where=where, remedy="Use a smaller module")
    shift = din_5480_profile_shift(reference_diameter, module, count)
    if not _LEAST_SHIFT - 1e-9 <= shift <= _LARGEST_SHIFT + 1e-9:
        raise OutOfRange(
            f"{count} teeth need a profile shift factor of {shift:.3f}",
            where=where,
            limit=f"{_LEAST_SHIFT:g} to {_LARGEST_SHIFT:g}",
            remedy=f"Use {din_5480_teeth(reference_diameter, module)} teeth",
        )
    shifted = module * (count + 2.0 * shift)
    shaft_tip, hub_tip = shifted + 0.9 * module, shifted - 0.9 * module
    clearance = 2.0 * 0.02 * module
    root = 2.0 * dedendum_factor * module
    side = "N" if internal else "W"
    return SplineData(
        standard="DIN 5480",
        designation=f"DIN 5480 - {side} {reference_diameter:g} x {module:g} x 30 x {count}",
        internal=internal,
        teeth=count,
        module=module,
        pressure_angle=PRESSURE_ANGLE,
        profile_shift=shift,
        major_diameter=shifted + root if internal else shaft_tip,
        minor_diameter=hub_tip if internal else shifted - root,
        form_diameter=shaft_tip + clearance if internal else hub_tip - clearance,
        circular_size=module * (pi / 2.0 + 2.0 * shift * tan(radians(PRESSURE_ANGLE))),
        pins=(_usual_pin(module, internal),),
    )


def _usual_pin(module: Mm, internal: bool) -> Mm:
    """Give the stock size nearest 2 modules for a shaft, 1.75 modules for a hub (from memory)."""
    wanted = (1.75 if internal else 2.0) * module
    return min(BALL_DIAMETERS, key=lambda pin: abs(pin - wanted))
