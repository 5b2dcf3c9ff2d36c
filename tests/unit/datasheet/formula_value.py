"""Computes what a printed formula says, with nothing but the text."""

from __future__ import annotations

import re
from math import acos, asin, atan, atan2, cos, pi, radians, sin, sqrt, tan

from scipy.optimize import brentq


def inv(angle: float) -> float:
    """The involute function of an angle in radians."""
    return tan(angle) - angle


def arcinv(value: float) -> float:
    """The angle in radians whose involute function has a value, by a second way."""
    if value == 0:
        return 0.0
    return float(brentq(lambda angle: inv(angle) - value, 0.0, pi / 2 - 1e-9, xtol=1e-15, rtol=1e-14))


_KNOWN = {
    "acos": acos, "asin": asin, "atan": atan, "atan2": atan2, "cos": cos, "sin": sin, "tan": tan,
    "sqrt": sqrt, "pi": pi, "inv": inv, "arcinv": arcinv, "min": min, "max": max, "abs": abs,
}  # fmt: skip


def value_of(text: str, unit: str) -> float:
    """The value of an expression with its numbers put in; angles stand in degrees."""
    plain = re.sub(r"(-?\d+(?:\.\d+)?) deg", lambda match: repr(radians(float(match[1]))), text)
    value = float(eval(plain.replace("^", "**"), {"__builtins__": {}}, _KNOWN))
    return value * 180 / pi if unit == "deg" else value
