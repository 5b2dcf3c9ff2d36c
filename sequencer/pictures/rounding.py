"""The rounding rules of all pictures and sheets; nothing else rounds a number."""

from __future__ import annotations

from math import floor, isfinite, log10
from typing import Final

from sequencer.units import MM_PER_INCH, shown

#: Places behind the point by unit: (from this size on, places), largest size first.
PLACES: Final[dict[str, tuple[tuple[float, int], ...]]] = {
    "min": ((0.1, 1), (0.0, 2)),
    "h": ((0.1, 1), (0.0, 2)),
    "d": ((0.0, 1),),
    "mm": ((0.0, 3),),
    "in": ((0.0, 4),),
    "kg": ((100.0, 0), (0.0, 1)),
    "rpm": ((100.0, 0), (1.0, 1), (0.0, 2)),
    "m/min": ((10.0, 0), (0.0, 1)),
    "ft/min": ((10.0, 0), (0.0, 1)),
    "kN": ((100.0, 0), (0.0, 1)),
    "N": ((0.0, 0),),
    "N m": ((10.0, 0), (0.0, 1)),
    "kW": ((10.0, 1), (0.0, 2)),
    "deg": ((0.0, 3),),
    "um": ((100.0, 0), (0.0, 1)),
}
_MM_PLACES: Final = PLACES["mm"][0][1]
#: A number of any other unit is shown with this many digits.
DIGITS: Final = 4

#: Units of length on the sheets of an inch part: unit inside, unit shown, divisor.
INCH: Final[dict[str, tuple[str, float]]] = {
    "mm": ("in", MM_PER_INCH),
    "mm/rev": ("in/rev", MM_PER_INCH),
    "mm/tooth": ("in/tooth", MM_PER_INCH),
    "mm/min": ("in/min", MM_PER_INCH),
    "m/min": ("ft/min", 0.3048),
}


def places(value: float, unit: str) -> int:
    """Give the places behind the point of a number on a sheet.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit.
    """
    rules = PLACES.get(unit) or PLACES.get(unit.split("/")[0])
    if rules is None:
        return 0 if value == 0 else max(DIGITS - 1 - floor(log10(abs(value))), 0)
    if len(rules) == 1 or value == 0:
        return rules[0][1]
    return next(count for least, count in rules if abs(value) >= least)


def number_words(value: float, unit: str) -> str:
    """Write a number for a column whose heading holds the unit: fixed places.

    Parameters
    ----------
    value
        The number.
    unit
        Unit of the column.
    """
    if not isfinite(value):
        return "no limit" if value > 0 else str(value)
    count = places(value, unit)
    fixed = unit in PLACES and unit not in ("mm", "in", "deg")
    return f"{value:.{count}f}" if fixed else shown(value, count)


def quantity_words(value: float, unit: str) -> str:
    """Write a computed quantity with its unit for a line of text.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit.
    """
    return f"{number_words(value, unit)} {unit}".rstrip()


def length_words(millimetres: float, units: str) -> str:
    """Write a computed length in the unit of the sheets.

    Parameters
    ----------
    millimetres
        The length [mm].
    units
        "mm" or "in".
    """
    value, unit = in_units(millimetres, "mm", units)
    return quantity_words(value, unit)


def in_units(value: float, unit: str, units: str) -> tuple[float, str]:
    """Convert a computed length, feed or cutting speed to the unit of the sheets.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit inside.
    units
        "mm" or "in": unit of length of the part's sheets.
    """
    if units == "in" and unit in INCH:
        shown_unit, divisor = INCH[unit]
        return value / divisor, shown_unit
    return value, unit


def gear_words(value: float, unit: str) -> str:
    """Write a number of a gear data sheet: angles in degrees and in minutes and seconds, um as tables do.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit.
    """
    if unit == "mm" and isfinite(value):
        return f"{shown(value, _MM_PLACES)} mm"
    if unit == "deg":
        return angle_words(value)
    if unit == "um":
        return f"{shown(value, 1)} um"
    if unit == "rad":
        return f"{shown(value, 7)} rad"
    return quantity_words(value, unit)


def angle_words(degrees: float) -> str:
    """Write an angle in decimal degrees, and to the second unless it is whole degrees.

    Parameters
    ----------
    degrees
        The angle [deg].
    """
    decimal = f"{shown(degrees, 4)} deg"
    seconds = round(abs(degrees) * 3600)
    if seconds % 3600 == 0 and abs(degrees * 3600 - round(degrees * 3600)) < 1e-6:
        return decimal
    whole, rest = divmod(seconds, 3600)
    sign = "-" if degrees < 0 else ""
    return f"{decimal} ({sign}{whole}°{rest // 60:02d}'{rest % 60:02d}\")"
