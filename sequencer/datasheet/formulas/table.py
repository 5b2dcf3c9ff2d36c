"""Puts formulas into the table of one chapter."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from sequencer.datasheet.formula import Formula, source_of

DERIVED: Final = "derived"
Source = str | Callable[..., Any]


def formula(key: str, name: str, unit: str, expression: str, source: Source) -> tuple[str, Formula]:
    """Give a row of a table of formulas.

    Parameters
    ----------
    key
        Symbol of the result, with a variant behind a slash.
    name
        What the result is.
    unit
        Unit of the result.
    expression
        Expression in the symbols.
    source
        The function whose docstring names the source, or the source in words.
    """
    words = source if isinstance(source, str) else source_of(source)
    return key, Formula(key.split("/")[0], name, unit, expression, words)
