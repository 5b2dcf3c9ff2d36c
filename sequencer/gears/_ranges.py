"""Checks that turn a number outside the range of a formula into an error with its limit and remedy."""

from __future__ import annotations

from math import isfinite

from sequencer.errors import OutOfRange


def check_range(
    name: str,
    value: float,
    low: float,
    high: float,
    *,
    unit: str = "",
    where: str = "",
    remedy: str = "",
    open_low: bool = False,
    open_high: bool = False,
) -> None:
    """Refuse a number that is not finite or lies outside a range.

    Parameters
    ----------
    name
        What the number is, in the words of the message.
    value
        The number [any unit].
    low, high
        Least and greatest value allowed [unit of the value].
    unit
        Unit shown behind the numbers.
    where
        The object that it belongs to.
    remedy
        What the planner can do.
    open_low, open_high
        Whether the limit itself is refused too.

    Raises
    ------
    OutOfRange
        When the number is outside.
    """
    below = value <= low if open_low else value < low
    above = value >= high if open_high else value > high
    if isfinite(value) and not below and not above:
        return
    tail = f" {unit}" if unit else ""
    first = "above" if open_low else "at least"
    last = "below" if open_high else "at most"
    limits = [f"{first} {low:g}{tail}"] if isfinite(low) else []
    limits += [f"{last} {high:g}{tail}"] if isfinite(high) else []
    raise OutOfRange(
        f"{name} is {value:.6g}{tail}",
        where=where,
        limit=f"allowed: {' and '.join(limits) or 'a finite number'}",
        remedy=remedy or f"Correct the {name}",
    )


def check_count(name: str, value: int, low: int, high: int, *, where: str = "", remedy: str = "") -> None:
    """Refuse a count that is no whole number or lies outside a range.

    Parameters
    ----------
    name
        What is counted, in the words of the message.
    value
        The count [-].
    low, high
        Least and greatest count allowed [-].
    where
        The object that it belongs to.
    remedy
        What the planner can do.

    Raises
    ------
    OutOfRange
        When it is no whole number or outside.
    """
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise OutOfRange(
            f"{name} is {value!r}",
            where=where,
            limit=f"allowed: a whole number from {low} to {high}",
            remedy=remedy or f"Correct the {name}",
        )
