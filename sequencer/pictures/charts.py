"""Axes that the charts share: round steps, ticks, and fills that differ in black and white."""

from __future__ import annotations

from math import floor, log10
from typing import Final

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.drawing import SMALL, Canvas, box, hatch, line, write
from sequencer.pictures.lettering import text_width

#: Least distance between two ticks [mm].
_TICKS: Final = 13.0


def round_step(least: float) -> float:
    """Give a step of 1, 2 or 5 times a power of ten that is not below the least one.

    Parameters
    ----------
    least
        The least step.
    """
    decade = 10.0 ** floor(log10(max(least, 1e-3)))
    return next(factor * decade for factor in (1.0, 2.0, 5.0, 10.0) if factor * decade >= least - 1e-9)


def ticks(low: float, high: float, length: float) -> tuple[float, ...]:
    """Give round values between two ends of an axis.

    Parameters
    ----------
    low, high
        Its ends.
    length
        Its length [mm].
    """
    step = round_step((high - low) * _TICKS / max(length, _TICKS))
    first = -int(-low // step)
    return tuple(index * step for index in range(first, floor(high / step + 1e-9) + 1))


def money(value: float) -> str:
    """Write an amount of money on a picture: whole units.

    Parameters
    ----------
    value
        The amount.
    """
    return f"{value:.0f}"


def fills() -> tuple[tuple[object, str], ...]:
    """Give fills that differ without colour, each with the shade of words on it (empty: none is clear)."""
    return (
        (ink.PAPER, ink.INK),
        (hatch(1.8, 45, ink.INK, 0.22), ""),
        (ink.SHADE, ink.INK),
        (ink.QUIET, ""),
        (hatch(1.8, -45, ink.INK, 0.22), ""),
        (ink.LIGHT, ink.INK),
        (_dots(), ""),
        (hatch(1.2, 90, ink.QUIET, 0.35), ""),
        (ink.FAINT, ""),
    )


def _dots() -> svg.Pattern:
    dots = svg.Pattern(width=1.6, height=1.6, patternUnits="userSpaceOnUse")
    dots.append(svg.Circle(0.8, 0.8, 0.35, fill=ink.INK))
    return dots


def fill_box(canvas: Canvas, corner: tuple[float, float], size: tuple[float, float], fill: object) -> None:
    """Draw a box in one of the fills, on white.

    Parameters
    ----------
    canvas
        Where it is drawn.
    corner, size
        Left upper corner, width and height [mm].
    fill
        Shade or pattern.
    """
    box(canvas, corner, size, fill=ink.PAPER, stroke="none")
    box(canvas, corner, size, fill=fill, width=0.2)


def legend(
    canvas: Canvas, entries: tuple[tuple[str, object], ...], at: tuple[float, float], width: float
) -> float:
    """Draw boxes with words in rows, and give the height that they take.

    Parameters
    ----------
    canvas
        Where it is drawn.
    entries
        Words and fill of each.
    at
        Left upper corner.
    width
        Width of a row [mm].
    """
    x, y = at
    for words, fill in entries:
        wide = 8.0 + text_width(words, SMALL) + 5.0
        if x > at[0] and x + wide > at[0] + width:
            x, y = at[0], y + 5.0
        fill_box(canvas, (x, y), (6.0, 3.2), fill)
        write(canvas, words, (x + 8.0, y + 2.5), size=SMALL)
        x += wide
    return y + 5.0 - at[1]


def across(canvas: Canvas, x: tuple[float, float], values: tuple[tuple[float, str], ...]) -> None:
    """Draw faint lines across a chart with their words at the left.

    Parameters
    ----------
    canvas
        Where it is drawn.
    x
        Ends of the lines.
    values
        Height on paper and words of each.
    """
    for y, words in values:
        line(canvas, (x[0], y), (x[1], y), width=0.15, shade=ink.SHADE)
        write(canvas, words, (x[0] - 1.2, y + SMALL * 0.35), size=SMALL, anchor="end")
