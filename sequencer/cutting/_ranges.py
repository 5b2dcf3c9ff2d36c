"""Range checks shared by the formulas: a number outside its range is refused in words, never carried on."""

from __future__ import annotations

import math

from sequencer.errors import OutOfRange


def above_zero(where: str, **values: float) -> None:
    """Refuse every value that is not a finite number above zero.

    Parameters
    ----------
    where
        What is being computed.
    **values
        Values by name; underscores are written as spaces.

    Raises
    ------
    OutOfRange
        When one of them is zero, negative or not finite.
    """
    for name, value in values.items():
        if not (math.isfinite(value) and value > 0):
            words = name.replace("_", " ")
            what = f"{words} is {value:g}"
            raise OutOfRange(what, where=where, limit="above 0 and finite", remedy=f"Give a {words} above 0")


def not_negative(where: str, **values: float) -> None:
    """Refuse every value that is negative or not finite.

    Parameters
    ----------
    where
        What is being computed.
    **values
        Values by name; underscores are written as spaces.

    Raises
    ------
    OutOfRange
        When one of them is negative or not finite.
    """
    for name, value in values.items():
        if not (math.isfinite(value) and value >= 0):
            words = name.replace("_", " ")
            what = f"{words} is {value:g}"
            raise OutOfRange(
                what, where=where, limit="0 or more and finite", remedy=f"Give a {words} of 0 or more"
            )


def within(where: str, low: float, high: float, remedy: str = "", **values: float) -> None:
    """Refuse every value outside a closed range.

    Parameters
    ----------
    where
        What is being computed.
    low
        Smallest value allowed.
    high
        Largest value allowed.
    remedy
        What to do; a plain sentence is made when empty.
    **values
        Values by name; underscores are written as spaces.

    Raises
    ------
    OutOfRange
        When one of them is outside or not a number.
    """
    for name, value in values.items():
        if not low <= value <= high:
            words = name.replace("_", " ")
            what = f"{words} is {value:g}"
            raise OutOfRange(
                what,
                where=where,
                limit=f"{low:g} to {high:g}",
                remedy=remedy or f"Give a {words} from {low:g} to {high:g}",
            )


def one_or_more(where: str, **values: int) -> None:
    """Refuse every count below one.

    Parameters
    ----------
    where
        What is being computed.
    **values
        Counts by name; underscores are written as spaces.

    Raises
    ------
    OutOfRange
        When one of them is below 1 or no whole number.
    """
    for name, value in values.items():
        if value < 1 or value != int(value):
            words = name.replace("_", " ")
            what = f"{words} is {value:g}"
            raise OutOfRange(what, where=where, limit="a whole number from 1", remedy=f"Give a whole {words}")


def finite(where: str, **values: float) -> None:
    """Refuse every value that is infinite or not a number.

    Parameters
    ----------
    where
        What is being computed.
    **values
        Values by name; underscores are written as spaces.

    Raises
    ------
    OutOfRange
        When one of them is not finite.
    """
    for name, value in values.items():
        if not math.isfinite(value):
            words = name.replace("_", " ")
            what = f"{words} is {value:g}"
            raise OutOfRange(what, where=where, limit="a finite number", remedy=f"Give a finite {words}")
