"""A clamping visit as a half-section: what holds the part, what is cut away and what is finished here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.clamping_layout import (
    BAND,
    FOOT,
    MARGIN,
    NAME,
    ClampingLayout,
    Mark,
    Point,
    lay_out_clamping,
)
from sequencer.pictures.keys import feature_key
from sequencer.pictures.lettering import FAMILY, text_width
from sequencer.pictures.rounding import quantity_words

if TYPE_CHECKING:
    from sequencer.plan import Plan
    from sequencer.setups import Rectangle, SetUp

#: Room for the drawing on a set-up sheet, and for one frame of the storyboard [mm of paper].
ROOM: Final = (74.0, 100.0)
FRAME: Final = (62.0, 78.0)
PER_ROW: Final = 4
SIZE: Final = 2.7
SMALL: Final = 2.3
#: Surfaces finished here, against the thin line of all others [mm of paper].
BOLD: Final = 1.1
_LEAST: Final = 0.05


def clamping_picture(plan: Plan, set_up: SetUp) -> str:
    """Draw one clamping visit as SVG, with the names of what is finished here.

    Parameters
    ----------
    plan
        The plan.
    set_up
        The visit.
    """
    layout = lay_out_clamping(set_up, plan.part, plan.section, ROOM)
    legend = _legend_width()
    width, height = max(layout.width, legend + 2 * MARGIN), layout.height + FOOT
    title = f"Clamping {set_up.name}, visit {set_up.visit}, of {plan.part.name}"
    drawing = _new(width, height, title, f"visit{set_up.visit}")
    _draw(drawing, layout, set_up)
    for mark in layout.marks:
        _draw_words(drawing, layout, mark)
    _draw_legend(drawing, height - 8.5)
    return str(drawing.as_svg())


def storyboard(plan: Plan) -> str:
    """Draw all clamping visits in one picture, a frame each, in their order.

    Parameters
    ----------
    plan
        The plan.
    """
    layouts = [lay_out_clamping(each, plan.part, plan.section, FRAME, words=False) for each in plan.set_ups]
    columns = min(PER_ROW, max(len(layouts), 1))
    wide = max([layout.width for layout in layouts] + [54.0]) + 4.0
    tall = max([layout.height for layout in layouts] + [20.0]) + 14.0
    rows = (len(layouts) + columns - 1) // columns
    width, height = max(wide * columns, _legend_width() + 2 * MARGIN), tall * rows + FOOT
    drawing = _new(width, height, f"Storyboard of {plan.part.name}", "story")
    for place, (layout, set_up) in enumerate(zip(layouts, plan.set_ups, strict=True)):
        x, y = place % columns * wide, place // columns * tall
        frame = svg.Group(transform=f"translate({x:.3f},{y + tall - layout.height - 3:.3f})")
        _draw(frame, layout, set_up)
        drawing.append(frame)
        head = f"Clamping {set_up.name}, visit {set_up.visit}"
        _text(drawing, head, x + MARGIN, y + 5.5, size=3.2, bold=True)
        mass = f"{quantity_words(set_up.before.mass, 'kg')} in, {quantity_words(set_up.after.mass, 'kg')} out"
        words = f"{len(set_up.finished)} features finished; {mass}"
        _text(drawing, words, x + MARGIN, y + 9.8, size=2.5)
    _draw_legend(drawing, height - 8.5)
    return str(drawing.as_svg())


def _new(width: float, height: float, title: str, prefix: str) -> svg.Drawing:
    drawing = svg.Drawing(width, height, id_prefix=prefix, font_family=FAMILY)
    drawing.set_render_size(f"{width:.2f}mm", f"{height:.2f}mm")
    drawing.append_title(title)
    drawing.append(svg.Rectangle(0, 0, width, height, fill=ink.PAPER))
    return drawing


def _hatch(angle: int) -> svg.Pattern:
    hatch = svg.Pattern(
        width=2.2, height=2.2, patternUnits="userSpaceOnUse", patternTransform=f"rotate({angle})"
    )
    hatch.append(svg.Line(0, 0, 0, 2.2, stroke=ink.FAINT, stroke_width=0.18))
    return hatch


def _draw(drawing: svg.Drawing | svg.Group, layout: ClampingLayout, set_up: SetUp) -> None:
    """Things on the table, the part as it goes, the stock that falls, and what is finished."""
    for thing in set_up.things:
        _draw_thing(drawing, layout, thing)
    _name_things(drawing, layout, set_up.things)
    hatch = _hatch(45)
    for outline in set_up.before.standing:
        _polygon(drawing, layout, outline, fill="none", stroke=ink.QUIET, width=0.3, dash="2 1.2")
    for outline in set_up.after.standing:
        _polygon(drawing, layout, outline, fill=ink.PAPER, stroke="none")
        _polygon(drawing, layout, outline, fill=hatch, stroke=ink.INK, width=0.3)
    for mark in layout.marks:
        _draw_finished(drawing, layout, mark)
    tops = [z for outline in set_up.before.standing for z, _ in outline]
    x, top = layout.point(max(tops), 0.0)
    low = layout.point(min(thing.z_from for thing in set_up.things), 0.0)[1]
    drawing.append(
        svg.Line(x, top - 4, x, low, stroke=ink.INK, stroke_width=0.25, stroke_dasharray="7 1.2 1.2 1.2")
    )


def _draw_thing(drawing: svg.Drawing | svg.Group, layout: ClampingLayout, thing: Rectangle) -> None:
    edge = layout.edge
    left, top = layout.point(thing.z_to, thing.r_from)
    right, bottom = layout.point(thing.z_from, thing.r_to)
    right = min(right, edge)
    shade = {"table": ink.LIGHT, "riser": ink.LIGHT}.get(thing.name, ink.SHADE)
    style: dict[str, object] = {"stroke_dasharray": "0.8 0.8"} if thing.estimate else {}
    drawing.append(
        svg.Rectangle(
            left, top, round(right - left, 3), round(bottom - top, 3),
            fill=shade, stroke=ink.INK, stroke_width=0.2, **style,
        )
    )  # fmt: skip


def _name_things(
    drawing: svg.Drawing | svg.Group, layout: ClampingLayout, things: tuple[Rectangle, ...]
) -> None:
    """Name each thing inside it where there is room, else beside the outermost of those that overlap."""
    for thing in things:
        others = [other for other in things if other is not thing and _overlap(thing, other)]
        middle = layout.point((thing.z_from + thing.z_to) / 2, 0.0)[1] + 0.8
        left, right = layout.point(0.0, thing.r_from)[0], min(layout.point(0.0, thing.r_to)[0], layout.edge)
        tall = (thing.z_to - thing.z_from) * layout.scale
        words = thing.name
        if words == "riser":
            words += f" {quantity_words(thing.z_to - thing.z_from, 'mm')}"
        if not others and right - left > text_width(words, SMALL) + 1.5 and tall > 3.4:
            _text(drawing, words, (left + right) / 2, middle, size=SMALL, anchor="middle")
        elif others and thing.r_from <= min(other.r_from for other in others):
            _text(drawing, words, left - 1.2, middle, size=SMALL, anchor="end")
        elif tall > 3.4:
            outer = max([thing.r_to, *(other.r_to for other in others)])
            _text(drawing, words, layout.point(0.0, outer)[0] + 1.2, middle, size=SMALL)


def _overlap(one: Rectangle, other: Rectangle) -> bool:
    return (
        one.r_from < other.r_to
        and other.r_from < one.r_to
        and one.z_from < other.z_to
        and other.z_from < one.z_to
    )


def _draw_finished(drawing: svg.Drawing | svg.Group, layout: ClampingLayout, mark: Mark) -> None:
    group = svg.Group(data_keys=feature_key(mark.feature))
    drawing.append(group)
    for low, high, inner, outer in mark.zones:
        left, top = layout.point(high, inner)
        right, bottom = layout.point(low, outer)
        if right - left < _LEAST or bottom - top < _LEAST:
            _edge(group, (left, top), (right, bottom), BOLD)
            continue
        fill = ink.SHADE if mark.teeth else ink.PAPER
        group.append(svg.Rectangle(left, top, round(right - left, 3), round(bottom - top, 3), fill=fill))
        corners = {
            "inner": ((left, top), (left, bottom)),
            "outer": ((right, top), (right, bottom)),
            "top": ((left, top), (right, top)),
            "bottom": ((left, bottom), (right, bottom)),
        }
        for side, (start, end) in corners.items():
            if side != mark.mouth:
                _edge(group, start, end, BOLD * 0.65)


def _edge(group: svg.Group, start: Point, end: Point, width: float) -> None:
    group.append(svg.Line(*start, *end, stroke=ink.INK, stroke_width=width, stroke_linecap="round"))


def _draw_words(drawing: svg.Drawing, layout: ClampingLayout, mark: Mark) -> None:
    radius, height = mark.anchor
    x, y = layout.point(height, radius)
    right = mark.side == "right"
    near = layout.edge if right else layout.x_axis - 2.0
    far = near + BAND if right else near - BAND
    group = svg.Group(data_keys=feature_key(mark.feature))
    drawing.append(group)
    points = (x, y, near, y, far - (0.8 if right else -0.8), round(mark.y, 3))
    group.append(svg.Lines(*points, fill="none", stroke=ink.QUIET, stroke_width=0.18))
    group.append(svg.Circle(x, y, 0.55, fill=ink.INK))
    line = mark.y - len(mark.lines) * NAME * 0.6
    for words in mark.lines:
        line += NAME * 1.2
        _text(group, words, far, line - NAME * 0.3, size=NAME, anchor="start" if right else "end")


def _polygon(
    drawing: svg.Drawing | svg.Group,
    layout: ClampingLayout,
    outline: tuple[Point, ...],
    *,
    fill: object,
    stroke: str,
    width: float = 0.0,
    dash: str = "",
) -> None:
    flat = [value for z, r in outline for value in layout.point(z, r)]
    style: dict[str, object] = {"stroke_dasharray": dash} if dash else {}
    drawing.append(svg.Lines(*flat, close=True, fill=fill, stroke=stroke, stroke_width=width, **style))


_LEGEND: Final = ("stays", "falls here", "finished here", "on the table; dotted: size assumed")


def _legend_width() -> float:
    return sum(9.0 + text_width(words, SIZE) + 6.0 for words in _LEGEND)


def _draw_legend(drawing: svg.Drawing, y: float) -> None:
    x = MARGIN
    looks: tuple[dict[str, object], ...] = (
        {"fill": _hatch(45), "stroke": ink.INK, "stroke_width": 0.3},
        {"fill": "none", "stroke": ink.QUIET, "stroke_width": 0.3, "stroke_dasharray": "2 1.2"},
        {"fill": ink.PAPER, "stroke": ink.INK, "stroke_width": BOLD * 0.65},
        {"fill": ink.SHADE, "stroke": ink.INK, "stroke_width": 0.2},
    )
    for words, look in zip(_LEGEND, looks, strict=True):
        drawing.append(svg.Rectangle(x, y, 7, 4, **look))
        _text(drawing, words, x + 9, y + 3.1, size=SIZE)
        x += 9.0 + text_width(words, SIZE) + 6.0


def _text(
    drawing: svg.Drawing | svg.Group,
    words: str,
    x: float,
    y: float,
    *,
    size: float,
    bold: bool = False,
    anchor: str = "start",
) -> None:
    drawing.append(
        svg.Text(
            words, size, round(x, 3), round(y, 3),
            text_anchor=anchor, font_weight="bold" if bold else "normal", fill=ink.INK,
        )
    )  # fmt: skip
