"""A formula as text, and the same text with its numbers put in."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from math import isfinite
from typing import Any, Final

from sequencer.units import shown

#: Words of an expression that are functions or constants, not symbols.
FUNCTIONS: Final = frozenset(
    {"sin", "cos", "tan", "asin", "acos", "atan", "atan2", "inv", "arcinv", "sqrt", "pi", "min", "max", "abs"}
)
#: Most places behind the point of a number in a formula, by unit; enough for the next formula to agree.
PLACES: Final = {"mm": 5, "deg": 6, "um": 3, "rad": 9, "": 6, "1/in": 6}

_WORD = re.compile(r"[A-Za-z][A-Za-z_0-9]*")
#: What a straight tooth takes out of an expression, in this order.
_STRAIGHT: Final = (
    ("*cos(atan(tan(beta)*da/d))", ""),
    ("(2*cos(beta))", "2"),
    ("/cos(beta)^3", ""),
    ("/cos(beta)", ""),
    ("(Wk*cos(beta_b))^2", "Wk^2"),
    ("*cos(beta_b)", ""),
    ("alpha_t", "alpha_n"),
    ("mt*", "mn*"),
)


def number(value: float, unit: str) -> str:
    """Write a number for a formula, an angle with its unit.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit.
    """
    if not isfinite(value):
        return str(value)
    text = shown(value, PLACES[unit])
    return f"{text} deg" if unit == "deg" else text


def source_of(function: Callable[..., Any]) -> str:
    """Give the source that the docstring of a formula names.

    Parameters
    ----------
    function
        A function of `gears` or `cutting`.
    """
    lines = (function.__doc__ or "").splitlines()
    for at, line in enumerate(lines):
        if line.strip().startswith("Source: "):
            words = [line.strip().removeprefix("Source: ")]
            for more in lines[at + 1 :]:
                if not more.strip():
                    break
                words.append(more.strip())
            return " ".join(words)
    return ""


@dataclass(frozen=True)
class Symbol:
    """A symbol of the formulas.

    Parameters
    ----------
    unit
        Unit of its value; empty for a plain number.
    meaning
        What it is.
    """

    unit: str
    meaning: str


@dataclass(frozen=True)
class Formula:
    """How a number comes about, as text; the value itself is computed elsewhere.

    Parameters
    ----------
    symbol
        Symbol of the result.
    name
        What the result is.
    unit
        Unit of the result.
    expression
        Expression in the symbols; * / + - ^ and the functions above.
    source
        Standard, handbook, or "derived".
    """

    symbol: str
    name: str
    unit: str
    expression: str
    source: str

    @cached_property
    def straight(self) -> str:
        """The expression for straight teeth, without their helix."""
        text = self.expression
        for words, instead in _STRAIGHT:
            text = text.replace(words, instead)
        return text

    @cached_property
    def _plain(self) -> tuple[str, tuple[str, ...]]:
        return template(self.symbol, self.expression)

    @cached_property
    def _straight(self) -> tuple[str, tuple[str, ...]]:
        return template(self.symbol, self.straight)

    def text(self, texts: Mapping[str, str], *, straight: bool = False) -> str:
        """Write the formula with its numbers: symbol = expression = numbers = value unit.

        Parameters
        ----------
        texts
            Texts of the numbers by symbol, the result among them: angles with their unit, negative ones
            in brackets.
        straight
            Whether the teeth are straight.
        """
        made, symbols = self._straight if straight else self._plain
        text = made % tuple([texts[symbol] for symbol in symbols])
        end = texts[self.symbol].strip("()")
        unit = self.unit
        end = f" = {end} {unit}" if unit and unit != "deg" else f" = {end}"
        return text if text.endswith(end) else text + end


def template(symbol: str, expression: str) -> tuple[str, tuple[str, ...]]:
    """Give a formula with a place for each number, and the symbols of these places.

    Parameters
    ----------
    symbol
        Symbol of the result.
    expression
        Expression in symbols and functions.
    """
    symbols = tuple(word for word in _WORD.findall(expression) if word not in FUNCTIONS)
    places = _WORD.sub(lambda match: match[0] if match[0] in FUNCTIONS else "%s", expression)
    return f"{symbol} = {expression} = {places}", symbols


def bracketed(value: float, unit: str) -> str:
    """Write a number into a formula, a negative one in brackets.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit.
    """
    text = number(value, unit)
    return f"({text})" if text[0] == "-" else text
