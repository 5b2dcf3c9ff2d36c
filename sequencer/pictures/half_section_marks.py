"""Holes, keyways, dimension lines, scale bar and legend of the half-section."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

import drawsvg as svg

from sequencer.part import Part
from sequencer.part.milled import BoltCircle, Keyway
from sequencer.part.section import Section
from sequencer.pictures import ink
from sequencer.pictures.half_section_layout import FOOT_SIZE, FOOT_WORDS, HalfSectionLayout
from sequencer.pictures.lettering import text_width
from sequencer.pictures.rounding import length_words

_THIN: Final = 0.18
_TEXT: Final = FOOT_SIZE


def draw_holes(target: svg.Group, layout: HalfSectionLayout, part: Part, section: Section) -> None:
    """Draw the holes of bolt circles with their centre lines.

    Parameters
    ----------
    target
        Group that is clipped to the material.
    layout
        Places on paper.
    part, section
        What is drawn.
    """
    for feature in part.of_kind("bolt_circle"):
        assert isinstance(feature, BoltCircle)
        extent = section.extent(feature.name)
        if feature.direction == "radial":
            if feature.z is None:
                continue
            middle, half = float(feature.z), float(feature.diameter) / 2
            _hole(target, layout, (middle - half, middle + half), (extent.inner / 2, extent.outer / 2))
            _axis(target, layout, (middle, extent.inner / 2), (middle, extent.outer / 2))
        elif feature.circle_diameter is not None:
            middle, half = float(feature.circle_diameter) / 2, float(feature.diameter) / 2
            _hole(target, layout, (extent.z_from, extent.z_to), (middle - half, middle + half))
            _counterbore(target, layout, feature, section)
            _axis(target, layout, (extent.z_from, middle), (extent.z_to, middle))


def _hole(
    target: svg.Group, layout: HalfSectionLayout, heights: tuple[float, float], radii: tuple[float, float]
) -> None:
    x, y = layout.point(heights[1], radii[0])
    width, height = (radii[1] - radii[0]) * layout.scale, (heights[1] - heights[0]) * layout.scale
    target.append(
        svg.Rectangle(
            round(x, 3), round(y, 3), round(width, 3), round(height, 3),
            fill=ink.PAPER, stroke=ink.INK, stroke_width=0.25,
        )
    )  # fmt: skip


def _counterbore(target: svg.Group, layout: HalfSectionLayout, feature: BoltCircle, section: Section) -> None:
    if feature.counterbore is None or feature.circle_diameter is None:
        return
    extent = section.extent(feature.name)
    middle, half = float(feature.circle_diameter) / 2, float(feature.counterbore.diameter) / 2
    depth = float(feature.counterbore.depth)
    carrier = section.part.by_name.get(feature.on)
    side = feature.side or getattr(carrier, "side", "upper")
    heights = (
        (extent.z_to - depth, extent.z_to) if side == "upper" else (extent.z_from, extent.z_from + depth)
    )
    _hole(target, layout, heights, (middle - half, middle + half))


def _axis(
    target: svg.Group, layout: HalfSectionLayout, one: tuple[float, float], other: tuple[float, float]
) -> None:
    (x1, y1), (x2, y2) = layout.point(*one), layout.point(*other)
    target.append(
        svg.Line(
            round(x1, 3), round(y1, 3), round(x2, 3), round(y2, 3),
            stroke=ink.INK, stroke_width=_THIN, stroke_dasharray="3 0.7 0.7 0.7",
        )
    )  # fmt: skip


def draw_keyways(target: svg.Group, layout: HalfSectionLayout, part: Part, section: Section) -> None:
    """Draw keyways as zones without hatching.

    Parameters
    ----------
    target
        Group that is clipped to the material.
    layout
        Places on paper.
    part, section
        What is drawn.
    """
    for feature in part.of_kind("keyway"):
        assert isinstance(feature, Keyway)
        extent = section.extent(feature.name)
        _hole(target, layout, (extent.z_from, extent.z_to), (extent.inner / 2, extent.outer / 2))


def draw_dimensions(drawing: svg.Drawing, layout: HalfSectionLayout, section: Section, units: str) -> None:
    """Draw the overall height and the largest diameter as dimension lines.

    Parameters
    ----------
    drawing
        The picture.
    layout
        Places on paper.
    section
        What is drawn.
    units
        Unit of length of the sheets.
    """
    x = layout.x_axis - 6.0
    top, bottom = layout.point(section.z_to, 0)[1], layout.point(section.z_from, 0)[1]
    height = length_words(section.z_to - section.z_from, units)
    for y in (top, bottom):
        _line(drawing, (x - 1.5, y), (layout.x_axis - 1.0, y))
    _arrow(drawing, (x, bottom), (x, top))
    _arrow(drawing, (x, top), (x, bottom))
    crossing = tuple(label.leader[-2][1] for label in layout.labels if label.column == "left")
    start, end = _quiet(crossing, top, bottom)
    if end - start > text_width(height, _TEXT) + 1:
        _dimension_text(drawing, height, (x - 0.9, (start + end) / 2), turned=True)
    else:
        crowded = any(top - 4 < y < top for y in crossing)
        at = (x - text_width(height, _TEXT) / 2, bottom + 3.4 if crowded else top - 1.2)
        _dimension_text(drawing, height, at, turned=False)
    largest = max(max(piece.lower, piece.upper) for piece in section.outside.pieces)
    y = layout.body[3] + 6.5
    edge = layout.point(0, largest / 2)[0]
    lowest = max(
        layout.point(z, r)[1] for line in section.outline() for z, r in line if r >= largest / 2 - 1e-6
    )
    _line(drawing, (edge, lowest + 1.0), (edge, y + 1.5))
    _line(drawing, (layout.x_axis, y), (edge, y))
    _arrow(drawing, (layout.x_axis, y), (edge, y))
    words = f"Ø {length_words(largest, units)}"
    crossing = tuple(x for label in layout.labels for x, lower in label.leader[-2:-1] if lower > y)
    start, end = _quiet(crossing, layout.x_axis, edge)
    fits = end - start > text_width(words, _TEXT) + 2
    _dimension_text(drawing, words, (start + 1.2, y - 0.8) if fits else (edge + 1.2, y + 0.9), turned=False)


def _quiet(crossing: tuple[float, ...], start: float, end: float) -> tuple[float, float]:
    """Widest stretch between two ends that no leader line crosses."""
    stops = [start, *sorted(place for place in crossing if start < place < end), end]
    return max(pairwise(stops), key=lambda stretch: stretch[1] - stretch[0])


def _line(drawing: svg.Drawing, one: tuple[float, float], other: tuple[float, float]) -> None:
    numbers = [round(value, 3) for value in (*one, *other)]
    drawing.append(svg.Line(*numbers, stroke=ink.INK, stroke_width=_THIN))


def _arrow(drawing: svg.Drawing, start: tuple[float, float], tip: tuple[float, float]) -> None:
    _line(drawing, start, tip)
    length = max(abs(tip[0] - start[0]), abs(tip[1] - start[1]), 1e-9)
    size = min(2.2, length / 2.5)
    along = ((tip[0] - start[0]) / length, (tip[1] - start[1]) / length)
    back = (tip[0] - along[0] * size, tip[1] - along[1] * size)
    across = (-along[1] * size * 0.17, along[0] * size * 0.17)
    points = (*tip, back[0] + across[0], back[1] + across[1], back[0] - across[0], back[1] - across[1])
    drawing.append(svg.Lines(*(round(value, 3) for value in points), close=True, fill=ink.INK))


def _dimension_text(drawing: svg.Drawing, text: str, at: tuple[float, float], *, turned: bool) -> None:
    x, y = round(at[0], 3), round(at[1], 3)
    style = {"transform": f"rotate(-90 {x} {y})", "text_anchor": "middle"} if turned else {}
    drawing.append(
        svg.Text(
            text, _TEXT, x, y, fill=ink.INK, stroke=ink.PAPER, stroke_width=0.8, paint_order="stroke", **style
        )
    )


def draw_foot(drawing: svg.Drawing, layout: HalfSectionLayout, units: str) -> None:
    """Draw scale, scale bar, legend and the words on the blank.

    Parameters
    ----------
    drawing
        The picture.
    layout
        Places on paper.
    units
        Unit of length of the sheets.
    """
    y = layout.foot + 2.5
    drawing.append(
        svg.Line(3, layout.foot, layout.width - 3, layout.foot, stroke=ink.FAINT, stroke_width=_THIN)
    )
    _text(drawing, f"Scale {layout.scale_words}", (3, y + 2.4), bold=True)
    _scale_bar(drawing, layout, units, (3, y + 6.0))
    x = FOOT_WORDS
    for words, style in (
        ("material", {"fill": ink.PAPER, "stroke": ink.INK}),
        ("teeth, tip to root", {"fill": ink.SHADE, "stroke": ink.INK}),
        ("blank", {"fill": "none", "stroke": ink.QUIET, "stroke_dasharray": "2 1.2"}),
    ):
        drawing.append(svg.Rectangle(x, y, 6, 3, stroke_width=0.3, **style))
        if words == "material":
            for step in (1.0, 3.0, 5.0):
                _line(drawing, (x + step - 1.0, y + 3), (x + min(step + 2.0, 6.0), y + 0.0))
        _text(drawing, words, (x + 7.5, y + 2.4))
        x += 36.0
    for index, words in enumerate(layout.foot_lines):
        _text(drawing, words, (FOOT_WORDS, y + 9.4 + index * FOOT_SIZE * 1.3))


def _scale_bar(drawing: svg.Drawing, layout: HalfSectionLayout, units: str, at: tuple[float, float]) -> None:
    """Bar of a round length of the part, so that a copy of any size can be measured."""
    unit = 25.4 if units == "in" else 1.0
    rounds = [step * 10.0**power for power in range(-3, 5) for step in (1, 2, 5)]
    length = max((each for each in rounds if each * unit * layout.scale <= 42.0), default=rounds[0])
    end = at[0] + length * unit * layout.scale
    _line(drawing, at, (end, at[1]))
    for x in (at[0], end):
        _line(drawing, (x, at[1] - 1.2), (x, at[1] + 1.2))
    _text(drawing, f"{length:g} {units}", (at[0], at[1] + 4.2))


def _text(drawing: svg.Drawing, text: str, at: tuple[float, float], *, bold: bool = False) -> None:
    weight = "bold" if bold else "normal"
    drawing.append(svg.Text(text, _TEXT, round(at[0], 3), round(at[1], 3), font_weight=weight, fill=ink.INK))
