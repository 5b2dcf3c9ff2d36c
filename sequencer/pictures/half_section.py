"""True-to-scale half-section of a part as SVG: material, teeth, blank, datums and names of features."""

from __future__ import annotations

from typing import TYPE_CHECKING

import drawsvg as svg

from sequencer.part import Part
from sequencer.part.section import Section
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.pictures import ink
from sequencer.pictures.half_section_layout import DATUM_ROOM, HalfSectionLayout, Label, Point, lay_out
from sequencer.pictures.half_section_marks import draw_dimensions, draw_foot, draw_holes, draw_keyways
from sequencer.pictures.keys import feature_key
from sequencer.pictures.lettering import FAMILY

if TYPE_CHECKING:
    from sequencer.plan import Plan

THICK = 0.5
THIN = 0.18


def half_section(plan: Plan) -> str:
    """Draw the half-section of the part of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    return draw_half_section(plan.part, plan.section)


def draw_half_section(part: Part, section: Section) -> str:
    """Draw a half-section as SVG whose text stays text; one millimetre of it is one millimetre on paper.

    Parameters
    ----------
    part
        The part.
    section
        Its half-section.
    """
    layout = lay_out(part, section)
    drawing = svg.Drawing(layout.width, layout.height, id_prefix="section", font_family=FAMILY)
    drawing.set_render_size(f"{layout.width:.2f}mm", f"{layout.height:.2f}mm")
    drawing.append_title(f"Half-section of {part.name}, drawing {part.drawing}, revision {part.revision}")
    drawing.append(svg.Rectangle(0, 0, layout.width, layout.height, fill=ink.PAPER))
    _draw_body(drawing, layout, part, section)
    draw_dimensions(drawing, layout, section, part.units)
    for label in layout.labels:
        _draw_label(drawing, label)
    draw_foot(drawing, layout, part.units)
    return str(drawing.as_svg())


def _polygon(points: tuple[Point, ...], **style: object) -> svg.DrawingBasicElement:
    flat = [round(value, 3) for point in points for value in point]
    return svg.Lines(*flat, close=True, **style)


def _draw_body(drawing: svg.Drawing, layout: HalfSectionLayout, part: Part, section: Section) -> None:
    hatch = svg.Pattern(width=2.4, height=2.4, patternUnits="userSpaceOnUse", patternTransform="rotate(45)")
    hatch.append(svg.Line(0, 0, 0, 2.4, stroke=ink.QUIET, stroke_width=THIN))
    outlines = tuple(tuple(layout.point(z, r) for z, r in line) for line in section.outline())
    body = svg.ClipPath()
    for outline in outlines:
        body.append(_polygon(outline))
    for outline in outlines:
        drawing.append(_polygon(outline, fill=ink.PAPER, stroke="none"))
        drawing.append(_polygon(outline, fill=hatch, stroke="none"))
    inside = svg.Group(clip_path=body)
    for feature, zone in tooth_zones(part, section):
        points = tuple(layout.point(z, r) for z, r in zone)
        inside.append(
            _polygon(
                points, fill=ink.SHADE, stroke=ink.INK, stroke_width=0.25, data_keys=feature_key(feature)
            )
        )
    draw_keyways(inside, layout, part, section)
    draw_holes(inside, layout, part, section)
    drawing.append(inside)
    for outline in outlines:
        drawing.append(
            _polygon(outline, fill="none", stroke=ink.INK, stroke_width=THICK, stroke_linejoin="round")
        )
    for line in section.stock_outline():
        points = tuple(layout.point(z, r) for z, r in line)
        drawing.append(
            _polygon(points, fill="none", stroke=ink.QUIET, stroke_width=0.3, stroke_dasharray="2 1.2")
        )
    left, top, _, bottom = layout.body
    drawing.append(
        svg.Line(
            left,
            top - 5,
            left,
            bottom + 5,
            stroke=ink.INK,
            stroke_width=0.25,
            stroke_dasharray="7 1.2 1.2 1.2",
        )
    )


def tooth_zones(part: Part, section: Section) -> tuple[tuple[str, tuple[Point, ...]], ...]:
    """Give the zones between tip and root of all teeth: feature, then (z, r) of its corners.

    Parameters
    ----------
    part
        The part.
    section
        Its half-section.
    """
    toothed = ExternalGear | InternalGear | DoubleHelicalGear | Spline | BevelGear
    zones = []
    for profile in (section.outside, section.inside):
        for piece in profile.pieces:
            if isinstance(part.by_name.get(piece.feature), toothed):
                corners = (
                    (piece.z_from, piece.lower / 2),
                    (piece.z_to, piece.upper / 2),
                    (piece.z_to, piece.root_upper / 2),
                    (piece.z_from, piece.root_lower / 2),
                )
                zones.append((piece.feature, corners))
    return tuple(zones)


def _draw_label(drawing: svg.Drawing, label: Label) -> None:
    group = svg.Group(data_keys=feature_key(label.feature))
    drawing.append(group)
    _fill_label(group, label)


def _fill_label(drawing: svg.Group, label: Label) -> None:
    flat = [round(value, 3) for point in label.leader for value in point]
    drawing.append(svg.Lines(*flat, fill="none", stroke=ink.QUIET, stroke_width=THIN))
    x, y = label.leader[0]
    if label.datum:
        drawing.append(svg.Lines(x - 1, y + 0.85, x + 1, y + 0.85, x, y - 0.85, close=True, fill=ink.INK))
    else:
        drawing.append(svg.Circle(round(x, 3), round(y, 3), 0.55, fill=ink.INK))
    right = label.column == "right"
    edge = label.x if right else label.x + label.width
    if label.datum:
        _draw_datum(drawing, label, edge if right else edge - (DATUM_ROOM - 1))
        edge += DATUM_ROOM if right else -DATUM_ROOM
    line = label.y
    for text, size, bold in label.lines:
        line += size * 1.2
        drawing.append(
            svg.Text(
                text,
                size,
                round(edge, 3),
                round(line - size * 0.3, 3),
                text_anchor="start" if right else "end",
                font_weight="bold" if bold else "normal",
                fill=ink.INK,
            )
        )


def _draw_datum(drawing: svg.Group, label: Label, x: float) -> None:
    size = label.lines[0][1]
    box = DATUM_ROOM - 1
    middle = label.y + size * 0.6
    drawing.append(
        svg.Rectangle(
            round(x, 3),
            round(middle - box / 2, 3),
            box,
            box,
            fill=ink.PAPER,
            stroke=ink.INK,
            stroke_width=0.25,
        )
    )
    drawing.append(
        svg.Text(
            label.datum, 2.6, round(x + box / 2, 3), round(middle + 0.95, 3),
            text_anchor="middle", font_weight="bold", fill=ink.INK,
        )
    )  # fmt: skip
