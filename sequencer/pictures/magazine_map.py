"""The magazine as it is built: what stands where, what is blocked, how wide the tools are."""

from __future__ import annotations

from math import cos, radians, sin
from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.drawing import HEAD, SIZE, SMALL, Canvas, hatch, line, paper, write
from sequencer.pictures.keys import tool_key
from sequencer.pictures.lettering import text_width, wrapped
from sequencer.pictures.magazine_layout import MARGIN, MagazineLayout, Place, lay_out_magazine
from sequencer.pictures.rounding import length_words, quantity_words

if TYPE_CHECKING:
    from sequencer.magazine import Pocket
    from sequencer.plan import Plan
    from sequencer.shop.magazine import Opening

#: Room above the pockets, of a line of words, and between columns of the list under the map [mm].
TOP: Final = 9.0
LINE: Final = 4.0
APART: Final = 5.0
_LEAST_WIDTH: Final = 180.0
_LEGEND: Final = (
    ("tool", "tool"),
    ("resident", "always in the magazine"),
    ("wide", "wider than a full pocket takes"),
    ("blocked", "blocked by a wide tool"),
    ("kept", "closed or kept empty"),
    ("free", "free"),
)


def magazine_map(plan: Plan) -> str:
    """Draw the magazine of a plan as SVG: chain, drum or rack, tools to the scale of the pitch.

    Parameters
    ----------
    plan
        The plan.
    """
    layout = lay_out_magazine(plan.magazine, plan.shop)
    width = max(layout.width, _LEAST_WIDTH)
    notes = [line for each in _notes(plan) for line in wrapped(each, SIZE, width - 2 * MARGIN)]
    rows = [f"{place.number}  {place.words}" for place in layout.places if place.listed]
    column = max((text_width(each, SMALL) for each in rows), default=0.0) + APART
    tall = -(-len(rows) // max(1, int((width - 2 * MARGIN) / column)))
    foot = TOP + layout.height + 2.0
    height = foot + 7.0 + LINE * (tall + (1 if tall else 0) + len(notes)) + MARGIN
    drawing = paper(width, height, f"Magazine of {plan.part.name}", "magazine")
    magazine = plan.shop.magazine
    pitch = length_words(float(magazine.pitch), plan.part.units)
    head = f"{magazine.form.capitalize()} of {magazine.pockets} pockets, pitch {pitch}"
    write(drawing, head, (MARGIN, 6.0), size=HEAD, bold=True)
    group = svg.Group(transform=f"translate({(width - layout.width) / 2:.3f},{TOP:.3f})")
    drawing.append(group)
    _draw_track(group, layout)
    _draw_pockets(group, layout, plan)
    _draw_legend(drawing, foot + 3.5)
    y = foot + 7.0
    for index, words in enumerate(rows):
        place, row = divmod(index, tall)
        write(drawing, words, (MARGIN + place * column, y + LINE * (row + 0.8)), size=SMALL)
    y += LINE * (tall + (1 if tall else 0))
    for index, text in enumerate(notes):
        write(drawing, text, (MARGIN, y + LINE * (index + 0.8)))
    return str(drawing.as_svg())


def _draw_track(canvas: Canvas, layout: MagazineLayout) -> None:
    """The chain or the rim of the disc, behind the pockets."""
    if not layout.track:
        return
    (x, y, radius), (right, _, _) = layout.track[0], layout.track[-1]
    style = {"fill": "none", "stroke": ink.FAINT, "stroke_width": 0.25, "stroke_dasharray": "5 1 1 1"}
    canvas.append(
        svg.Rectangle(
            round(x - radius, 3), round(y - radius, 3), round(right - x + 2 * radius, 3),
            round(2 * radius, 3), rx=round(radius, 3), **style,
        )
    )  # fmt: skip


def _draw_pockets(canvas: Canvas, layout: MagazineLayout, plan: Plan) -> None:
    magazine, tools = plan.shop.magazine, plan.shop.tool_by_name
    by_number = {pocket.number: pocket for pocket in plan.magazine.pockets}
    blocked = hatch(1.1, 45, ink.INK, 0.22)
    pocket_radius = min(float(magazine.pitch) * 0.36, float(magazine.diameter_full) / 2) * layout.scale
    for place in layout.places:
        pocket = by_number.get(place.number)
        group = svg.Group(data_keys=tool_key(pocket.tool)) if pocket and pocket.tool else svg.Group()
        canvas.append(group)
        kind = _kind(pocket, plan)
        diameter = 0.0
        if pocket is not None and pocket.tool:
            diameter = float(tools[pocket.tool].body_diameter) * layout.scale
        _draw_pocket(
            group, (place.x, place.y), kind, pocket_radius, diameter / 2, blocked, words=layout.form == "rack"
        )
        _write_place(group, layout, place)


def _kind(pocket: Pocket | None, plan: Plan) -> str:
    if pocket is None:
        return "free"
    if pocket.tool:
        if plan.shop.tool_by_name[pocket.tool].body_diameter > plan.shop.magazine.diameter_full:
            return "wide"
        return "resident" if pocket.resident else "tool"
    if pocket.blocked_by:
        return "blocked"
    return "kept" if pocket.remark else "free"


def _draw_pocket(
    canvas: Canvas,
    at: tuple[float, float],
    kind: str,
    radius: float,
    tool: float,
    blocked: svg.Pattern,
    *,
    words: bool = False,
) -> None:
    """The pocket, and in it the tool as wide as it is; fainter where words stand on it."""
    thin = {"stroke": ink.FAINT if words else ink.INK, "stroke_width": 0.12 if words else 0.2}
    x, y = round(at[0], 3), round(at[1], 3)
    if kind == "wide":
        canvas.append(svg.Circle(x, y, round(tool, 3), fill=ink.SHADE, stroke=ink.INK, stroke_width=0.4))
        canvas.append(svg.Circle(x, y, round(radius, 3), fill="none", **thin))
        return
    fill: object = blocked if kind == "blocked" else ink.PAPER
    dash: dict[str, object] = {"stroke_dasharray": "0.7 0.6"} if kind in ("kept", "free") else {}
    shade = ink.FAINT if kind == "free" else ink.INK
    canvas.append(svg.Circle(x, y, round(radius, 3), fill=fill, stroke=shade, stroke_width=0.2, **dash))
    if kind == "kept":
        side = radius * 0.7
        line(canvas, (x - side, y - side), (x + side, y + side))
        line(canvas, (x - side, y + side), (x + side, y - side))
    if tool > 0:
        canvas.append(svg.Circle(x, y, round(tool, 3), fill=ink.SHADE, **thin))
    if kind == "resident":
        dot = (y + radius * 0.78, 0.55) if words else (y, max(radius * 0.32, 0.5))
        canvas.append(svg.Circle(x, round(dot[0], 3), round(dot[1], 3), fill=ink.INK))


def _write_place(canvas: Canvas, layout: MagazineLayout, place: Place) -> None:
    """Number and name: outwards from a chain or drum, inside the pockets of a rack."""
    name = "" if place.listed else place.words
    number = str(place.number)
    if layout.form == "rack":
        write(canvas, number, (place.x, place.y - 0.6), size=SMALL, bold=True, anchor="middle")
        if name:
            write(canvas, name, (place.x, place.y + 2.4), size=SMALL, anchor="middle")
        return
    turn = radians(place.way)
    backwards = 90 < place.way < 270
    wide = text_width(f"{number} ", SMALL, bold=True)
    low = SMALL * 0.36
    for words, far, bold in ((number, layout.start, True), (name, layout.start + wide, False)):
        if words:
            x, y = place.x + far * cos(turn), place.y + far * sin(turn)
            angle = place.way - 180 if backwards else place.way
            lean = radians(angle)
            at = (x - low * sin(lean), y + low * cos(lean))
            write(
                canvas, words, at, size=SMALL, bold=bold, turn=angle, anchor="end" if backwards else "start"
            )


def _draw_legend(drawing: svg.Drawing, y: float) -> None:
    x = MARGIN
    blocked = hatch(1.1, 45, ink.INK, 0.22)
    for kind, words in _LEGEND:
        tool = {"tool": 1.1, "resident": 1.1, "wide": 2.0}.get(kind, 0.0)
        _draw_pocket(drawing, (x + 2.0, y - 0.9), kind, 1.4, tool, blocked)
        write(drawing, words, (x + 5.0, y), size=SMALL)
        x += 5.0 + text_width(words, SMALL) + 4.0


def _notes(plan: Plan) -> tuple[str, ...]:
    """What must be known beside the places: room, mass, balance, openings, tools by hand."""
    table, magazine = plan.magazine, plan.shop.magazine
    sides = "its left and right half" if magazine.form == "rack" else "any two halves"
    limit = "no limit given" if magazine.imbalance is None else f"{magazine.imbalance.text} allowed"
    lines = [
        f"{table.needed} of {table.available} pockets are taken, blocked ones included"
        + ("; no arrangement takes fewer." if table.proven else f"; at least {table.bound} are needed."),
        f"Mass of the tools {quantity_words(table.mass, 'kg')}, {magazine.total_mass.text} allowed. Between "
        f"{sides} the difference is {quantity_words(table.imbalance, 'kg')} at most, {limit}.",
    ]
    for name, opening in (("Door to the spindle", magazine.door), ("Load station", magazine.load_station)):
        if opening is not None:
            lines.append(f"{name}: {_opening_words(opening)}; the shop file does not say at which pocket.")
    shut = [f"{each.number} {each.remark}" for each in table.pockets if each.remark]
    if shut:
        lines.append(f"Pockets without a tool: {', '.join(shut)}.")
    if table.by_hand:
        lines.append(f"Loaded by hand, without a pocket: {', '.join(table.by_hand)}.")
    if not table.fits:
        lines.append("The tools do not fit; see the findings on the magazine.")
    return tuple(lines)


def _opening_words(opening: Opening) -> str:
    limits = [
        f"{name} {value.text}"
        for name, value in (
            ("diameter", opening.diameter),
            ("length", opening.length),
            ("mass", opening.mass),
        )
        if value is not None
    ]
    return f"takes tools up to {', '.join(limits)}" if limits else "no limit given"
