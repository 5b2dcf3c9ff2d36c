"""Looks at the words of a picture: where they stand, whether they overlap, whether they can be read."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass
from itertools import combinations
from math import cos, radians, sin

from sequencer.pictures.ink import PAPER, contrast
from sequencer.pictures.lettering import text_width

SVG = "{http://www.w3.org/2000/svg}"
#: WCAG 2.2, 1.4.3: contrast of text.
LEAST_CONTRAST = 4.5

Point = tuple[float, float]


@dataclass(frozen=True)
class Words:
    """A line of text on the picture: its words, the four corners of its box, its shade."""

    text: str
    corners: tuple[Point, ...]
    shade: str


def words_of(svg: str) -> tuple[Words, ...]:
    """All lines of text of a picture, in its own measure."""
    found: list[Words] = []
    _collect(ET.fromstring(svg), (0.0, 0.0), found)
    return tuple(found)


def _collect(element: ET.Element, offset: Point, found: list[Words]) -> None:
    moved = re.match(r"translate\(([-\d.]+)[ ,]+([-\d.]+)\)$", element.get("transform", ""))
    if moved:
        offset = (offset[0] + float(moved[1]), offset[1] + float(moved[2]))
    if element.tag == f"{SVG}text" and (element.text or "").strip():
        found.append(_words(element, offset))
    for child in element:
        _collect(child, offset, found)


def _words(element: ET.Element, offset: Point) -> Words:
    size, x, y = (float(element.attrib[name]) for name in ("font-size", "x", "y"))
    text = element.text or ""
    wide = text_width(text, size, bold=element.get("font-weight") == "bold")
    left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[element.get("text-anchor", "start")]
    box = [(left, y - 0.72 * size), (left + wide, y - 0.72 * size), (left + wide, y + 0.2 * size),
           (left, y + 0.2 * size)]  # fmt: skip
    turned = re.match(r"rotate\(([-\d.]+)[ ,]+([-\d.]+)[ ,]+([-\d.]+)\)$", element.get("transform", ""))
    if turned:
        angle, middle = radians(float(turned[1])), (float(turned[2]), float(turned[3]))
        box = [_turned(point, middle, angle) for point in box]
    corners = tuple((px + offset[0], py + offset[1]) for px, py in box)
    return Words(text, corners, element.get("fill", "#000000"))


def _turned(point: Point, middle: Point, angle: float) -> Point:
    dx, dy = point[0] - middle[0], point[1] - middle[1]
    return (
        middle[0] + dx * cos(angle) - dy * sin(angle),
        middle[1] + dx * sin(angle) + dy * cos(angle),
    )


def overlap(one: Words, other: Words, slack: float = 0.05) -> bool:
    """Whether two boxes overlap: no edge of either parts them."""
    for box in (one.corners, other.corners):
        for (ax, ay), (bx, by) in ((box[0], box[1]), (box[1], box[2])):
            way = (bx - ax, by - ay)
            length = (way[0] ** 2 + way[1] ** 2) ** 0.5 or 1.0
            spans = [
                [(x * way[0] + y * way[1]) / length for x, y in each] for each in (one.corners, other.corners)
            ]
            if max(spans[0]) <= min(spans[1]) + slack or max(spans[1]) <= min(spans[0]) + slack:
                return False
    return True


def check_words(svg: str) -> tuple[Words, ...]:
    """Assert that no words overlap, all stand inside the frame, and all can be read on the paper."""
    found = words_of(svg)
    assert found
    _, _, width, height = (float(number) for number in ET.fromstring(svg).attrib["viewBox"].split())
    for each in found:
        assert all(-0.01 <= x <= width + 0.01 and -0.01 <= y <= height + 0.01 for x, y in each.corners), each
        assert contrast(each.shade, PAPER) >= LEAST_CONTRAST, each
    clashes = [(one.text, other.text) for one, other in combinations(found, 2) if overlap(one, other)]
    assert not clashes, clashes
    return found
