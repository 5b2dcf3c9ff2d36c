"""Quantities as the planner writes them; plain mm, deg, kg, min and N inside."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

Mm = float
Deg = float
Kg = float
Minutes = float
Newton = float
NewtonMetre = float
Kilowatt = float
Rpm = float
MetrePerMinute = float
Micrometre = float

MM_PER_INCH: Final = 25.4

_NUMBER = r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_QUANTITY = re.compile(rf"^\s*({_NUMBER})\s*((?:1/)?[^0-9\s,.].*?)?\s*$")
#: A longer text is no quantity that somebody wrote.
_LONGEST: Final = 60
_FRACTION = re.compile(r"^\s*([+-]?)(?:([0-9]+)[ -])?([0-9]+)/([0-9]+)\s*(in|inch|\")\s*$")
_PITCH = re.compile(rf"^\s*(DP|NDP|TDP)\s*({_NUMBER})\s*$")
_SEXAGESIMAL = re.compile(
    r"^\s*([+-]?)([0-9]+)\s*°\s*(?:([0-9]+(?:\.[0-9]+)?)\s*['′])?\s*(?:([0-9]+(?:\.[0-9]+)?)\s*(?:\"|″|''))?\s*$"
)

#: Unit name to factor, by dimension; the first unit of each is the one used inside.
UNITS: Final[dict[str, dict[str, float]]] = {
    "length": {
        "mm": 1.0,
        "cm": 10.0,
        "m": 1000.0,
        "um": 0.001,
        "µm": 0.001,
        "μm": 0.001,
        "in": MM_PER_INCH,
        "inch": MM_PER_INCH,
        '"': MM_PER_INCH,
        "ft": 12 * MM_PER_INCH,
        "uin": MM_PER_INCH / 1e6,
        "µin": MM_PER_INCH / 1e6,
        "mil": MM_PER_INCH / 1000,
    },
    "angle": {"deg": 1.0, "°": 1.0, "arcmin": 1 / 60, "'": 1 / 60, "arcsec": 1 / 3600},
    "mass": {"kg": 1.0, "g": 0.001, "t": 1000.0, "lb": 0.45359237, "lbs": 0.45359237},
    "time": {"min": 1.0, "s": 1 / 60, "h": 60.0, "d": 1440.0},
    "force": {"N": 1.0, "kN": 1000.0, "lbf": 4.4482216152605},
    "torque": {"N m": 1.0, "Nm": 1.0, "kN m": 1000.0, "kNm": 1000.0, "ft lbf": 1.3558179483314004},
    "power": {"kW": 1.0, "W": 0.001, "hp": 0.74569987158227},
    "speed": {"rpm": 1.0, "1/min": 1.0, "/min": 1.0},
    "cutting speed": {"m/min": 1.0, "m/s": 60.0, "ft/min": 0.3048, "sfm": 0.3048, "SFM": 0.3048},
    "feed": {"mm": 1.0, "mm/rev": 1.0, "in": MM_PER_INCH, "in/rev": MM_PER_INCH, "ipr": MM_PER_INCH},
    "feed rate": {"mm/min": 1.0, "m/min": 1000.0, "in/min": MM_PER_INCH, "ipm": MM_PER_INCH},
    "pressure": {"MPa": 1.0, "N/mm2": 1.0, "N/mm²": 1.0},
    "moment of mass": {"kg m": 1.0},
    "temperature difference": {"K": 1.0, "°C": 1.0},
}

#: The unit in which each dimension is computed.
HOUSE_UNIT: Final[dict[str, str]] = {name: next(iter(units)) for name, units in UNITS.items()}


class Quantity(float):
    """A number in the house unit of its dimension that remembers how it was written.

    Parameters
    ----------
    value
        The value in the house unit.
    text
        The quantity as the planner wrote it.
    """

    text: str

    def __new__(cls, value: float, text: str) -> Quantity:
        """Make a float and attach the text."""
        quantity = super().__new__(cls, value)
        quantity.text = text
        return quantity

    def __repr__(self) -> str:
        return f"Quantity({float(self)!r}, {self.text!r})"

    def __str__(self) -> str:
        return self.text

    def __reduce__(self) -> tuple[type[Quantity], tuple[float, str]]:
        return Quantity, (float(self), self.text)


def parse(written: object, dimension: str) -> Quantity:
    """Read a quantity as written, such as "12.5 mm", "1/2 in", "20°30'" or "1.3 t".

    Parameters
    ----------
    written
        The text of the file; a bare 0 needs no unit.
    dimension
        A key of `UNITS`, such as "length" or "angle".

    Raises
    ------
    ValueError
        When it is no number, has no unit or a unit of another kind; the words are for the planner.
    """
    if isinstance(written, Quantity):
        return written
    if isinstance(written, bool) or not isinstance(written, str | int | float):
        raise ValueError(
            f"{written!r} is not a {dimension}; write a number and a unit, such as {_example(dimension)}"
        )
    text = _as_text(written)
    if len(text) > _LONGEST:
        raise ValueError(f"{text[:20]!r}... is too long to be a {dimension}; at most {_LONGEST} characters")
    refuse_other_digits(text)
    value = _value(text, dimension)
    if value != value or value in (float("inf"), float("-inf")):
        raise ValueError(f"{text!r} is too large to be a {dimension}")
    return Quantity(value, text)


def refuse_other_digits(text: str) -> None:
    """Refuse digits of other scripts, which look like numbers and are none here.

    Parameters
    ----------
    text
        A text of the file.

    Raises
    ------
    ValueError
        When it holds a decimal digit that is not one of 0 to 9.
    """
    if text.isascii():
        return
    other = next((sign for sign in text if sign.isdecimal() and not sign.isascii()), None)
    if other is not None:
        raise ValueError(f"{text!r} holds the digit {other!r}; numbers are written with the digits 0 to 9")


def _as_text(written: str | int | float) -> str:
    return written.strip() if isinstance(written, str) else repr(written)


def _value(text: str, dimension: str) -> float:
    if dimension == "angle" and (match := _SEXAGESIMAL.match(text)):
        return _sexagesimal(text, *match.groups())
    if dimension == "length" and (match := _FRACTION.match(text)):
        return _fraction(text, *match.groups())
    match = _QUANTITY.match(text)
    if match is None:
        raise ValueError(
            f"{text!r} is not a {dimension}; write a number and a unit, "
            f"such as {_example(dimension)}{_comma(text)}"
        )
    number, unit = float(match[1]), match[2]
    if unit is None:
        if number == 0:
            return 0.0
        raise ValueError(
            f"{text!r} has no unit; a {dimension} is written with one, such as {_example(dimension)}"
        )
    factor = UNITS[dimension].get(unit)
    if factor is None:
        raise ValueError(_wrong_unit(unit, dimension))
    return number * factor


def _wrong_unit(unit: str, dimension: str) -> str:
    other = next((name for name, units in UNITS.items() if unit in units), None)
    known = ", ".join(UNITS[dimension])
    if other is None:
        return f"unknown unit {unit!r}; units of {dimension}: {known}"
    return f"{unit!r} is a unit of {other}, not of {dimension}; units of {dimension}: {known}"


def _comma(text: str) -> str:
    return " (decimals are written with a point)" if re.search(r"\d,\d", text) else ""


def _example(dimension: str) -> str:
    number = {"length": "12.5", "angle": "20", "mass": "850", "speed": "120"}.get(dimension, "1.5")
    return f'"{number} {HOUSE_UNIT[dimension]}"'


def _fraction(text: str, sign: str, whole: str | None, over: str, under: str, _unit: str) -> float:
    if int(under) == 0:
        raise ValueError(f"{text!r} divides by zero")
    inches = int(whole or 0) + int(over) / int(under)
    return (-inches if sign == "-" else inches) * MM_PER_INCH


def _sexagesimal(text: str, sign: str, degrees: str, minutes: str | None, seconds: str | None) -> float:
    least, finest = float(minutes or 0), float(seconds or 0)
    if least >= 60 or finest >= 60:
        raise ValueError(f"{text!r}: minutes and seconds of an angle stay below 60")
    value = int(degrees) + least / 60 + finest / 3600
    return -value if sign == "-" else value


@dataclass(frozen=True)
class Module:
    """Size of teeth as the drawing gives it: a module or a diametral pitch.

    Parameters
    ----------
    millimetres
        The module [mm].
    system
        "normal", "transverse" or "either": which section the drawing's value is taken in.
    text
        As written.
    """

    millimetres: Mm
    system: str
    text: str

    def __str__(self) -> str:
        return self.text


def parse_module(written: object) -> Module:
    """Read the size of teeth: "8 mm", "DP 4", "NDP 4" (normal) or "TDP 4" (transverse).

    Parameters
    ----------
    written
        The text of the file.

    Raises
    ------
    ValueError
        When it is neither a length nor a diametral pitch, or not above zero.
    """
    if isinstance(written, Module):
        return written
    if isinstance(written, str):
        refuse_other_digits(written)
    if isinstance(written, str) and (match := _PITCH.match(written)):
        pitch = float(match[2])
        if pitch <= 0:
            raise ValueError(f"{written!r}: a diametral pitch is above 0")
        if not 1e-6 < pitch < 1e6:
            raise ValueError(f"{written!r} is no usable diametral pitch")
        system = {"DP": "either", "NDP": "normal", "TDP": "transverse"}[match[1]]
        return Module(MM_PER_INCH / pitch, system, written.strip())
    try:
        length = parse(written, "length")
    except ValueError as error:
        raise ValueError(
            f'{error}; a module is written "8 mm", a diametral pitch "DP 4", "NDP 4" or "TDP 4"'
        ) from None
    if length <= 0:
        raise ValueError(f"{length.text!r}: a module is above 0")
    return Module(float(length), "normal", length.text)


#: Formats of numbers by places behind the point, ready made: sheets write many.
_PLACES: Final = tuple(f".{count}f" for count in range(30))


def shown(value: float, decimals: int = 3) -> str:
    """Write a computed number for a sheet: at most `decimals` places, no trailing zeros.

    Parameters
    ----------
    value
        The number.
    decimals
        Most places behind the point.
    """
    text = format(value, _PLACES[decimals] if decimals < len(_PLACES) else f".{decimals}f")
    if decimals:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
