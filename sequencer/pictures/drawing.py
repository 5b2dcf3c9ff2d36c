"""Elements that all pictures share: a sheet of paper, words, lines, boxes, hatching, dimension lines."""

from __future__ import annotations

from typing import Final, Literal, TypeAlias

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.lettering import FAMILY

#: Sizes of the lettering of pictures [mm of paper].
HEAD: Final = 3.4
SIZE: Final = 2.7
SMALL: Final = 2.3

Canvas: TypeAlias = "svg.Drawing | svg.Group"
Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


def paper(width: float, height: float, title: str, prefix: str) -> svg.Drawing:
    """Give an empty picture; one millimetre of it is one millimetre on paper.

    Parameters
    ----------
    width, height
        Its size [mm].
    title
        What it shows, for those who hear it read.
    prefix
        Beginning of the names inside it, of its own so that several pictures can stand on one page.
    """
    drawing = svg.Drawing(round(width, 3), round(height, 3), id_prefix=prefix, font_family=FAMILY)
    drawing.set_render_size(f"{width:.2f}mm", f"{height:.2f}mm")
    drawing.append_title(title)
    drawing.append(svg.Rectangle(0, 0, round(width, 3), round(height, 3), fill=ink.PAPER))
    return drawing


def write(
    canvas: Canvas,
    words: str,
    at: Point,
    *,
    size: float = SIZE,
    bold: bool = False,
    shade: str = ink.INK,
    anchor: Anchor = "start",
    turn: float = 0.0,
    halo: bool = False,
) -> None:
    """Write one line of text.

    Parameters
    ----------
    canvas
        Where it is drawn.
    words
        The line.
    at
        Place of its base line.
    size
        Height of the lettering [mm].
    bold
        Whether it is set in the bold face.
    shade
        Its shade.
    anchor
        Which end of it stands at the place.
    turn
        Angle by which it is turned, clockwise [deg].
    halo
        Whether it stands on lines, which then stop around it.
    """
    x, y = round(at[0], 3), round(at[1], 3)
    style: dict[str, object] = {"text_anchor": anchor, "font_weight": "bold" if bold else "normal"}
    if turn:
        style["transform"] = f"rotate({round(turn, 3):g} {x} {y})"
    if halo:
        style |= {"stroke": ink.PAPER, "stroke_width": 0.9, "paint_order": "stroke"}
    canvas.append(svg.Text(words, size, x, y, fill=shade, **style))


def line(
    canvas: Canvas, one: Point, other: Point, *, width: float = 0.2, shade: str = ink.INK, dash: str = ""
) -> None:
    """Draw a straight line.

    Parameters
    ----------
    canvas
        Where it is drawn.
    one, other
        Its ends.
    width
        Its width [mm].
    shade
        Its shade.
    dash
        Lengths of dashes and gaps; empty for a full line.
    """
    style: dict[str, object] = {"stroke_dasharray": dash} if dash else {}
    numbers = [round(value, 3) for value in (*one, *other)]
    canvas.append(svg.Line(*numbers, stroke=shade, stroke_width=width, **style))


def box(
    canvas: Canvas,
    corner: Point,
    size: Point,
    *,
    fill: object = ink.PAPER,
    stroke: str = ink.INK,
    width: float = 0.2,
    dash: str = "",
) -> None:
    """Draw a rectangle.

    Parameters
    ----------
    canvas
        Where it is drawn.
    corner
        Its left upper corner.
    size
        Width and height [mm].
    fill
        Shade or pattern.
    stroke
        Shade of its edge; "none" for none.
    width
        Width of its edge [mm].
    dash
        Lengths of dashes and gaps of its edge; empty for a full line.
    """
    style: dict[str, object] = {"stroke_dasharray": dash} if dash else {}
    numbers = [round(value, 3) for value in (*corner, *size)]
    canvas.append(svg.Rectangle(*numbers, fill=fill, stroke=stroke, stroke_width=width, **style))


def shape(
    canvas: Canvas,
    points: tuple[Point, ...],
    *,
    fill: object = "none",
    stroke: str = ink.INK,
    width: float = 0.2,
    dash: str = "",
    closed: bool = True,
    keys: str = "",
) -> None:
    """Draw a polygon or a bent line.

    Parameters
    ----------
    canvas
        Where it is drawn.
    points
        Its corners.
    fill
        Shade or pattern.
    stroke
        Shade of its edge; "none" for none.
    width
        Width of its edge [mm].
    dash
        Lengths of dashes and gaps of its edge; empty for a full line.
    closed
        Whether its last corner is joined to the first.
    keys
        What it is about; empty for nothing.
    """
    style: dict[str, object] = {"stroke_dasharray": dash} if dash else {}
    if keys:
        style["data_keys"] = keys
    flat = [round(value, 3) for point in points for value in point]
    canvas.append(
        svg.Lines(
            *flat, close=closed, fill=fill, stroke=stroke, stroke_width=width, stroke_linejoin="round",
            **style,
        )
    )  # fmt: skip


def hatch(pitch: float = 2.0, angle: float = 45.0, shade: str = ink.QUIET, width: float = 0.2) -> svg.Pattern:
    """Give hatching as a fill.

    Parameters
    ----------
    pitch
        Distance from line to line [mm].
    angle
        Direction of the lines [deg].
    shade
        Their shade.
    width
        Their width [mm].
    """
    pattern = svg.Pattern(
        width=pitch, height=pitch, patternUnits="userSpaceOnUse", patternTransform=f"rotate({angle:g})"
    )
    pattern.append(svg.Line(0, 0, 0, pitch, stroke=shade, stroke_width=width))
    return pattern


def arrow(canvas: Canvas, start: Point, tip: Point, *, width: float = 0.18) -> None:
    """Draw the arrow of a dimension line.

    Parameters
    ----------
    canvas
        Where it is drawn.
    start, tip
        Its ends.
    width
        Width of its line [mm].
    """
    line(canvas, start, tip, width=width)
    length = max(abs(tip[0] - start[0]), abs(tip[1] - start[1]), 1e-9)
    size = min(2.2, length / 2.5)
    along = ((tip[0] - start[0]) / length, (tip[1] - start[1]) / length)
    back = (tip[0] - along[0] * size, tip[1] - along[1] * size)
    across = (-along[1] * size * 0.17, along[0] * size * 0.17)
    corners = (tip, (back[0] + across[0], back[1] + across[1]), (back[0] - across[0], back[1] - across[1]))
    shape(canvas, corners, fill=ink.INK, stroke="none")
