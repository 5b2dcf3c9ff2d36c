"""The deviation of a cut tooth space as SVG: both flanks beside each other over the diameter."""

from __future__ import annotations

from math import ceil, floor, log10
from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.lettering import FAMILY, wrapped
from sequencer.units import shown

if TYPE_CHECKING:
    from sequencer.cutting.simulation import Deviation
    from sequencer.cutting.simulation.deviation import Flank

#: Sizes on paper [mm].
WIDTH: Final = 174.0
PANEL: Final = 62.0
TALL: Final = 84.0
TOP: Final = 12.0
LEFT: Final = 24.0
GUTTER: Final = 16.0
SIZE: Final = 3.0
_UNDER: Final = "deviation square to the flank [um]; above 0 material stays, below 0 cut too deep"
_STEPS: Final = (1.0, 2.0, 5.0, 10.0)


def draw_deviation(deviation: Deviation, title: str, notes: tuple[str, ...] = ()) -> str:
    """Draw what is left on both flanks; one millimetre of the picture is one millimetre on paper.

    Parameters
    ----------
    deviation
        The result of a simulated cut.
    title
        What was cut with which tool.
    notes
        Lines under the picture: the set-up, and what limits the answer.
    """
    lines = [line for note in notes for line in wrapped(note, SIZE, WIDTH - 12)]
    heads = wrapped(title, 3.8, WIDTH - 12, bold=True)
    top = TOP + 5.0 * len(heads)
    height = top + TALL + 21 + len(lines) * SIZE * 1.35 + 4
    drawing = svg.Drawing(WIDTH, height, id_prefix="deviation", font_family=FAMILY)
    drawing.set_render_size(f"{WIDTH:.2f}mm", f"{height:.2f}mm")
    drawing.append_title(title)
    drawing.append(svg.Rectangle(0, 0, WIDTH, height, fill=ink.PAPER))
    for at, head in enumerate(heads):
        _text(drawing, head, 6, 8 + 5.0 * at, size=3.8, bold=True)
    scale = _Scale.of(deviation, top)
    for place, (name, flank) in enumerate((("left flank", deviation.left), ("right flank", deviation.right))):
        _draw_panel(drawing, scale, LEFT + place * (PANEL + GUTTER), name, flank)
    _draw_diameters(drawing, scale)
    under = top + TALL + 16
    _text(
        drawing, "deviation square to the flank [um]; above 0 material stays, below 0 cut too deep", 6, under
    )
    for at, line in enumerate(lines):
        _text(drawing, line, 6, under + 5 + at * SIZE * 1.35, shade=ink.QUIET)
    return str(drawing.as_svg())


class _Scale:
    """From diameter and deviation to places on paper."""

    def __init__(self, low: float, high: float, step: float, reach: float, top: float) -> None:
        self.low, self.high, self.step, self.reach, self.top = low, high, step, reach, top

    @classmethod
    def of(cls, deviation: Deviation, top: float) -> _Scale:
        diameters = [diameter for diameter, _ in deviation.left]
        step = _round_step(max(deviation.largest, 0.05) / 2)
        reach = step * max(2, ceil(deviation.largest / step - 1e-9))
        return cls(min(diameters), max(diameters), step, reach, top)

    def y(self, diameter: float) -> float:
        share = (diameter - self.low) / (self.high - self.low)
        return self.top + TALL * (1 - share)

    def x(self, left: float, value: float) -> float:
        return left + PANEL / 2 * (1 + value / self.reach)

    def values(self) -> list[float]:
        count = round(self.reach / self.step)
        return [self.step * at for at in range(-count, count + 1)]

    def diameters(self) -> list[float]:
        step = _round_step((self.high - self.low) / 5)
        first = ceil(self.low / step - 1e-9)
        last = floor(self.high / step + 1e-9)
        return [step * at for at in range(first, last + 1)]


def _round_step(wanted: float) -> float:
    """A step of 1, 2 or 5 times a power of ten that is not below the wanted one."""
    decade = 10.0 ** floor(log10(wanted))
    return next(each * decade for each in _STEPS if each * decade >= wanted * (1 - 1e-9))


def _draw_panel(drawing: svg.Drawing, scale: _Scale, left: float, name: str, flank: Flank) -> None:
    bottom = scale.top + TALL
    for value in scale.values():
        x = round(scale.x(left, value), 3)
        middle = abs(value) < 1e-12
        drawing.append(
            svg.Line(
                x,
                scale.top,
                x,
                bottom,
                stroke=ink.INK if middle else ink.SHADE,
                stroke_width=0.3 if middle else 0.15,
            )
        )
        _text(drawing, shown(value, 4), x, bottom + 4, anchor="middle", size=2.6)
    for diameter in scale.diameters():
        y = round(scale.y(diameter), 3)
        drawing.append(svg.Line(left, y, left + PANEL, y, stroke=ink.SHADE, stroke_width=0.15))
    drawing.append(
        svg.Rectangle(left, scale.top, PANEL, TALL, fill="none", stroke=ink.INK, stroke_width=0.25)
    )
    _draw_curve(drawing, scale, left, flank)
    _text(drawing, name, left + PANEL / 2, bottom + 10, anchor="middle", bold=True)


def _draw_curve(drawing: svg.Drawing, scale: _Scale, left: float, flank: Flank) -> None:
    points = [(scale.x(left, value), scale.y(diameter)) for diameter, value in flank]
    zero = scale.x(left, 0.0)
    area = [(zero, points[0][1]), *points, (zero, points[-1][1])]
    drawing.append(svg.Lines(*_flat(area), close=True, fill=ink.LIGHT, stroke="none"))
    drawing.append(svg.Lines(*_flat(points), fill="none", stroke=ink.INK, stroke_width=0.5))
    worst = max(range(len(flank)), key=lambda at: abs(flank[at][1]))
    x, y = points[worst]
    drawing.append(
        svg.Circle(round(x, 3), round(y, 3), 0.9, fill=ink.PAPER, stroke=ink.INK, stroke_width=0.4)
    )
    inwards = x < left + PANEL / 2
    place = x + (2.2 if inwards else -2.2), y + (-2.4 if y > scale.top + TALL / 2 else 4.4)
    words, anchor = f"{shown(flank[worst][1], 2)} um", "start" if inwards else "end"
    # a white rim keeps the words readable where they cross the curve
    style = {"font_weight": "bold", "text_anchor": anchor}
    at = round(place[0], 3), round(place[1], 3)
    drawing.append(svg.Text(words, 2.8, *at, stroke=ink.PAPER, stroke_width=1.0, fill=ink.PAPER, **style))
    drawing.append(svg.Text(words, 2.8, *at, fill=ink.INK, **style))


def _draw_diameters(drawing: svg.Drawing, scale: _Scale) -> None:
    for diameter in scale.diameters():
        _text(drawing, shown(diameter, 3), LEFT - 2, scale.y(diameter) + 1, anchor="end", size=2.6)
    _text(drawing, "diameter [mm]", 6, scale.top - 2.5, size=2.6)


def _flat(points: list[tuple[float, float]]) -> list[float]:
    return [round(value, 3) for point in points for value in point]


def _text(
    drawing: svg.Drawing,
    words: str,
    x: float,
    y: float,
    *,
    size: float = SIZE,
    anchor: str = "start",
    bold: bool = False,
    shade: str = ink.INK,
) -> None:
    drawing.append(
        svg.Text(
            words,
            size,
            round(x, 3),
            round(y, 3),
            text_anchor=anchor,
            font_weight="bold" if bold else "normal",
            fill=shade,
        )
    )
