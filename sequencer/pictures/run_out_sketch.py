"""Run-out sketches: the chosen cutter of each tooth system at both ends, to scale, against its neighbour."""

from __future__ import annotations

from dataclasses import dataclass
from math import isinf
from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.language.wording import in_inches
from sequencer.pictures import ink
from sequencer.pictures.columns import spread
from sequencer.pictures.drawing import (
    HEAD,
    SIZE,
    SMALL,
    Canvas,
    Point,
    arrow,
    box,
    hatch,
    line,
    paper,
    shape,
    write,
)
from sequencer.pictures.half_section import tooth_zones
from sequencer.pictures.keys import feature_key
from sequencer.pictures.lettering import wrapped
from sequencer.pictures.run_out_layout import TALL, WIDE, Window, make_window
from sequencer.units import MM_PER_INCH

if TYPE_CHECKING:
    from sequencer.operations import Alternative
    from sequencer.plan import Plan
    from sequencer.sequencing import Step

MARGIN: Final = 4.0
#: Room of dimension lines and their words beside a piece, of the words over and under it [mm].
BESIDE: Final = 46.0
OVER: Final = 9.0
CAPTION: Final = 14.5
LINE: Final = 3.5
_PANEL: Final = WIDE + BESIDE
_LEGEND: Final = 9.0


@dataclass(frozen=True)
class Cut:
    """A cutter at a tooth system.

    Parameters
    ----------
    feature, half
        The teeth; half is "lower", "upper" or empty.
    step
        The first step with it.
    """

    feature: str
    half: str
    step: Step

    @property
    def way(self) -> Alternative:
        """How it cuts."""
        return self.step.alternative


def cuts_of(plan: Plan) -> tuple[Cut, ...]:
    """Give the cutters of the tooth systems, each tooth system with each of its cutters once.

    Parameters
    ----------
    plan
        The plan.
    """
    found: dict[tuple[str, ...], Cut] = {}
    for step in plan.sequence.steps:
        operation, way = step.operation, step.alternative
        if way.run_out:
            key = (operation.feature, operation.half, way.tool, way.clamping)
            found.setdefault(key, Cut(operation.feature, operation.half, step))
    return tuple(found.values())


def run_out_sketch(plan: Plan) -> str:
    """Draw all run-out sketches of a plan as one SVG, a row for each cutter at its teeth.

    Parameters
    ----------
    plan
        The plan.
    """
    return _drawn(plan, cuts_of(plan), "all")


def run_out_sketches(plan: Plan) -> dict[str, str]:
    """Draw the run-out sketches of each tooth system, by feature.

    Parameters
    ----------
    plan
        The plan.
    """
    cuts = cuts_of(plan)
    names = dict.fromkeys(cut.feature for cut in cuts)
    return {
        name: _drawn(plan, tuple(cut for cut in cuts if cut.feature == name), str(place))
        for place, name in enumerate(names)
    }


def _drawn(plan: Plan, cuts: tuple[Cut, ...], mark: str) -> str:
    rows = [_rows(plan, cut) for cut in cuts]
    width = 2 * MARGIN + 2 * _PANEL
    tall = OVER + TALL + CAPTION
    height = MARGIN + tall * max(len(rows), 0.3) + _LEGEND
    drawing = paper(width, height, f"Run-out of the cutters of {plan.part.name}", f"runout{mark}-")
    if not rows:
        write(drawing, "No cutter that runs out of teeth in this plan.", (MARGIN, MARGIN + 4), size=SIZE)
    for place, (cut, windows) in enumerate(zip(cuts, rows, strict=True)):
        top = MARGIN + tall * place
        write(drawing, _head(cut), (MARGIN, top + 3.2), size=HEAD, bold=True)
        for index, window in enumerate(windows):
            x = MARGIN + index * _PANEL
            panel = svg.Group(transform=f"translate({x:.3f},{top + OVER:.3f})")
            panel.args["data-keys"] = feature_key(cut.feature)
            drawing.append(panel)
            _draw_panel(panel, plan, window)
            _write_caption(drawing, plan, window, (x, top + OVER + TALL + LINE + 0.6))
    _draw_legend(drawing, height - 4.0)
    return str(drawing.as_svg())


def _rows(plan: Plan, cut: Cut) -> tuple[Window, ...]:
    extent = plan.section.extent(cut.feature)
    internal = cut.way.run_out[0].setting.internal
    tip = (extent.inner if internal else extent.outer) / 2
    return tuple(make_window(each, tip) for each in cut.way.run_out)


def _head(cut: Cut) -> str:
    teeth = f"{cut.half} half of {cut.feature}" if cut.half else cut.feature
    return f"{teeth}: {cut.way.method} with {cut.way.tool}, clamping {cut.way.clamping}"


def _draw_panel(panel: svg.Group, plan: Plan, window: Window) -> None:
    frame = svg.ClipPath()
    frame.append(svg.Rectangle(0, 0, WIDE, TALL))
    inside = svg.Group(clip_path=frame)
    panel.append(inside)
    _draw_part(inside, plan, window)
    _draw_obstacle(inside, window)
    _draw_cutter(inside, window)
    box(panel, (0, 0), (WIDE, TALL), fill="none", stroke=ink.FAINT, width=0.15)
    _draw_dimensions(panel, plan, window)


def _draw_part(canvas: Canvas, plan: Plan, window: Window) -> None:
    def placed(outline: tuple[Point, ...]) -> tuple[Point, ...]:
        return tuple(window.point(window.standing(z), r) for z, r in outline)

    for outline in plan.section.outline():
        shape(canvas, placed(outline), fill=ink.PAPER, stroke="none")
        shape(canvas, placed(outline), fill=hatch(2.2, 45, ink.FAINT, 0.18), width=0.4)
    for _, zone in tooth_zones(plan.part, plan.section):
        shape(canvas, placed(zone), fill=ink.SHADE, width=0.2)
    for outline in plan.section.stock_outline():
        shape(canvas, placed(outline), stroke=ink.QUIET, width=0.25, dash="2 1.2")


def _draw_obstacle(canvas: Canvas, window: Window) -> None:
    """Jaws and table as boxes; of the part the face that counts, as a bold line."""
    run_out = window.run_out
    if not run_out.kind or not window.shows_neighbour:
        return
    face = window.way * run_out.has
    right = window.left + WIDE / window.scale
    inner, outer = max(run_out.inner, window.left), min(run_out.outer, right)
    near, far = window.point(face, inner), window.point(face, outer)
    if run_out.kind == "part":
        line(canvas, near, far, width=0.9)
        return
    deep = TALL if window.way < 0 else -TALL
    corner = (near[0], min(near[1], near[1] + deep))
    box(canvas, corner, (far[0] - near[0], abs(deep)), fill=ink.LIGHT, width=0.5)


def _draw_cutter(canvas: Canvas, window: Window) -> None:
    """Shadow of the cutter at the end of its travel, and its point that comes nearest."""
    upper = [window.point(each.high, each.radius) for each in window.shadow]
    lower = [window.point(each.low, each.radius) for each in reversed(window.shadow)]
    if not upper:
        return
    outline = (*upper, *lower)
    shape(canvas, outline, fill=ink.PAPER, stroke="none")
    shape(canvas, outline, fill=hatch(3.2, -45, ink.INK, 0.14), width=0.55)
    x, y = window.point(window.touch[1], window.touch[0])
    canvas.append(svg.Circle(round(x, 3), round(y, 3), 0.7, fill=ink.INK))


def _draw_dimensions(panel: svg.Group, plan: Plan, window: Window) -> None:
    """Room needed and room there as dimension lines from the end of the teeth outwards."""
    run_out, units = window.run_out, plan.part.units
    end = window.point(0.0, window.left)[1]
    edge = 0.8 if window.way > 0 else TALL - 0.8
    needed = window.point(window.way * run_out.needed, window.left)[1]
    lines = [(WIDE + 4.0, needed, f"needs {room_words(run_out.needed, units)}")]
    if not isinf(run_out.has):
        face = window.point(window.way * run_out.has, window.left)[1] if window.shows_neighbour else edge
        lines.append((WIDE + 10.0, face, f"has {room_words(run_out.has, units)}"))
    line(panel, (WIDE + 0.8, end), (lines[-1][0] + 1.5, end), width=0.15)
    for x, stop, _ in lines:
        line(panel, (WIDE + 0.8, stop), (x + 1.5, stop), width=0.15)
        arrow(panel, (x, end), (x, stop))
        if window.shows_neighbour or x == WIDE + 4.0:
            arrow(panel, (x, stop), (x, end))
    ordered = sorted(lines, key=lambda each: (each[1] + end) / 2)
    middles = spread(tuple((each[1] + end) / 2 for each in ordered), (SIZE * 1.2,) * len(ordered), 0.8)
    for (x, stop, words), middle in zip(ordered, middles, strict=True):
        text = WIDE + 14.0
        line(panel, (x, (stop + end) / 2), (text - 0.6, middle), width=0.15, shade=ink.QUIET)
        write(panel, words, (text, middle + SIZE * 0.35), bold=words.startswith("needs"))


def room_words(millimetres: float, units: str) -> str:
    """Write a room as the sentences of the methods do, in the unit of the part.

    Parameters
    ----------
    millimetres
        The room [mm].
    units
        "mm" or "in".
    """
    if units == "in":
        return f"{millimetres / MM_PER_INCH:.3f} in"
    return f"{millimetres:.1f} mm"


def _write_caption(drawing: svg.Drawing, plan: Plan, window: Window, at: Point) -> None:
    run_out, scale = window.run_out, window.scale
    ratio = f"{scale:g} : 1" if scale >= 1 else f"1 : {1 / scale:g}"
    limit = f"limited by {run_out.neighbour}" if run_out.kind else "nothing limits it"
    far = "" if window.shows_neighbour or not run_out.kind else "; it lies outside the sketch"
    units = plan.part.units
    if units == "in":
        limit = in_inches(limit)
    words = f"{run_out.side.capitalize()} the teeth, {ratio}: {limit}{far}. Reach of the cutter "
    words += room_words(run_out.reach, units)
    if run_out.overrun > 0:
        words += f", overrun {room_words(run_out.overrun, units)}"
    words += f", margin {room_words(run_out.needed - run_out.reach - run_out.overrun, units)}."
    for place, text in enumerate(wrapped(words, SMALL, _PANEL - 6.0)):
        write(drawing, text, (at[0], at[1] + LINE * place), size=SMALL)


def _draw_legend(drawing: svg.Drawing, y: float) -> None:
    words = (
        "Half-section as the part stands, axis to the left. Bold outline: what the cutter sweeps while the "
        "table turns, at the end of its travel; dot: its point that comes nearest. Dashed: blank."
    )
    write(drawing, words, (MARGIN, y), size=SMALL, shade=ink.QUIET)
