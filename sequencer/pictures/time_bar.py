"""The time bar: a row for each visit to a clamping or the bench, its steps along one time axis."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, floor
from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.operations import BENCH, Mode
from sequencer.pictures import ink
from sequencer.pictures.charts import round_step
from sequencer.pictures.keys import step_key
from sequencer.pictures.lettering import FAMILY, text_width, wrapped
from sequencer.pictures.rounding import number_words

if TYPE_CHECKING:
    from sequencer.plan import Plan
    from sequencer.sequencing import Sequence, Step

#: Sizes on paper [mm].
WIDTH: Final = 262.0
LEFT: Final = 46.0
RIGHT: Final = 8.0
TOP: Final = 14.0
ROW: Final = 15.0
BAR: Final = 8.0
FOOT: Final = 25.0
SIZE: Final = 2.8
SMALL: Final = 2.4

#: Look of each kind of time: shade, and whether it is hatched.
LOOKS: Final = {
    "changes and waiting": (ink.PAPER, False),
    str(Mode.REST): (ink.LIGHT, False),
    str(Mode.TURNING): (ink.PAPER, True),
    str(Mode.MILLING): (ink.SHADE, False),
    str(Mode.GEAR): (ink.QUIET, False),
}


@dataclass(frozen=True)
class Segment:
    """A stretch of the bar.

    Parameters
    ----------
    number
        Number of its step.
    kind
        Mode, or "changes and waiting".
    start, end
        From the start of the plan [min].
    """

    number: int
    kind: str
    start: float
    end: float


def segments(steps: tuple[Step, ...]) -> tuple[Segment, ...]:
    """Give the stretches of a row: the changes before a step, then the step.

    Parameters
    ----------
    steps
        Steps of one visit.
    """
    made = []
    for step in steps:
        cut = step.start + step.change_minutes
        if step.change_minutes > 0:
            made.append(Segment(step.number, "changes and waiting", step.start, cut))
        if step.end > cut:
            made.append(Segment(step.number, str(step.alternative.mode), cut, step.end))
    return tuple(made)


def time_bar(plan: Plan) -> str:
    """Draw the time bar of a plan as SVG; one millimetre of it is one millimetre on paper.

    Parameters
    ----------
    plan
        The plan.
    """
    title = f"Time bar of {plan.part.name}, drawing {plan.part.drawing}, revision {plan.part.revision}"
    return draw_time_bar(plan.sequence, title)


def draw_time_bar(sequence: Sequence, title: str) -> str:
    """Draw the time bar of an order as SVG.

    Parameters
    ----------
    sequence
        The order.
    title
        What it shows.
    """
    visits = sequence.visits
    height = TOP + ROW * len(visits) + FOOT
    drawing = svg.Drawing(WIDTH, height, id_prefix="time", font_family=FAMILY)
    drawing.set_render_size(f"{WIDTH:.2f}mm", f"{height:.2f}mm")
    drawing.append_title(title)
    drawing.append(svg.Rectangle(0, 0, WIDTH, height, fill=ink.PAPER))
    hatch = svg.Pattern(width=1.6, height=1.6, patternUnits="userSpaceOnUse", patternTransform="rotate(45)")
    hatch.append(svg.Line(0, 0, 0, 1.6, stroke=ink.QUIET, stroke_width=0.35))
    scale = (WIDTH - LEFT - RIGHT) / max(sequence.minutes, 1e-9)
    _draw_axis(drawing, sequence.minutes, scale, TOP + ROW * len(visits))
    for row, (name, steps) in enumerate(visits):
        _draw_row(drawing, name, steps, TOP + ROW * row, scale, hatch)
    _draw_legend(drawing, TOP + ROW * len(visits) + 17, hatch)
    return str(drawing.as_svg())


def _draw_axis(drawing: svg.Drawing, minutes: float, scale: float, bottom: float) -> None:
    step = round_step(minutes / 10)
    for count in range(floor(minutes / step + 1e-9) + 1):
        x = LEFT + count * step * scale
        drawing.append(svg.Line(x, TOP - 4, x, bottom, stroke=ink.SHADE, stroke_width=0.2))
        _text(drawing, number_words(count * step, ""), x, bottom + 4.5, anchor="middle")
    _text(drawing, "min", WIDTH - RIGHT + 1.5, bottom + 8.5, anchor="end")
    _text(drawing, "Numbers: steps of the route sheet.", LEFT, TOP - 6.5, shade=ink.QUIET)


def _draw_row(
    drawing: svg.Drawing, name: str, steps: tuple[Step, ...], top: float, scale: float, hatch: svg.Pattern
) -> None:
    visit = steps[0].visit
    words = f"Clamping {name}, visit {visit}" if visit else "Bench" if name == BENCH else name
    lines = wrapped(words, SIZE, LEFT - 6, bold=True)[:2]
    for place, line in enumerate(lines):
        _text(drawing, line, 3, top + 3.2 + 3.4 * place, bold=True)
    minutes = f"{number_words(steps[-1].end - steps[0].start, 'min')} min"
    _text(drawing, minutes, 3, top + 3.2 + 3.4 * len(lines), shade=ink.QUIET)
    free = LEFT
    for segment in segments(steps):
        x, end = LEFT + segment.start * scale, LEFT + segment.end * scale
        shade, hatched = LOOKS[segment.kind]
        line = ink.PAPER if shade == ink.QUIET else ink.INK
        group = svg.Group(data_keys=step_key(segment.number))
        drawing.append(group)
        for fill in (shade, hatch) if hatched else (shade,):
            group.append(
                svg.Rectangle(
                    round(x, 3), top, round(end - x, 3), BAR, fill=fill, stroke=line, stroke_width=0.15
                )
            )
        number = str(segment.number)
        wide = text_width(number, SMALL)
        middle = (x + end) / 2
        if segment.kind != "changes and waiting" and end - x > 1.2 and middle - wide / 2 > free + 0.6:
            _text(group, number, middle, top + BAR + 3, size=SMALL, anchor="middle")
            free = middle + wide / 2


def _draw_legend(drawing: svg.Drawing, y: float, hatch: svg.Pattern) -> None:
    x = LEFT
    for name, (shade, hatched) in LOOKS.items():
        for fill in (shade, hatch) if hatched else (shade,):
            drawing.append(svg.Rectangle(x, y - 3, 7, 4, fill=fill, stroke=ink.INK, stroke_width=0.15))
        _text(drawing, name, x + 8.5, y)
        x += 8.5 + ceil(text_width(name, SIZE)) + 6


def _text(
    drawing: svg.Drawing | svg.Group,
    words: str,
    x: float,
    y: float,
    *,
    size: float = SIZE,
    bold: bool = False,
    shade: str = ink.INK,
    anchor: str = "start",
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
