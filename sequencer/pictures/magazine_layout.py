"""Places of the pockets on the magazine map, as the magazine is built, in millimetres of paper."""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, cos, hypot, pi, sin
from typing import Final

from sequencer.magazine import MagazineTable
from sequencer.pictures.drawing import SMALL
from sequencer.pictures.lettering import text_width
from sequencer.shop import Shop

#: Widest chain and drum or rack, margin round the pockets, and distance of the words from the tools [mm].
WIDTH: Final = 250.0
MARGIN: Final = 4.0
GAP: Final = 1.2
#: Pockets closer than this cannot carry words; wider apart than that the picture only grows [mm].
CLOSEST: Final = 3.0
WIDEST: Final = 12.0
#: Pockets of a rack carry their words inside, and its rows are broken where they would be closer.
CLOSEST_RACK: Final = 12.0
#: Names longer than this stand in a list under the map [mm].
LONGEST: Final = 34.0


@dataclass(frozen=True)
class Place:
    """A pocket on paper.

    Parameters
    ----------
    number
        Number of the pocket, from 1.
    x, y
        Its middle.
    way
        Direction in which its words run, clockwise from the right [deg].
    words
        Name of the tool in it, with the sister; empty for none.
    listed
        True if the name stands in the list under the map.
    """

    number: int
    x: float
    y: float
    way: float
    words: str
    listed: bool


@dataclass(frozen=True)
class MagazineLayout:
    """The magazine on paper.

    Parameters
    ----------
    form
        "chain", "drum" or "rack".
    places
        All pockets in order.
    scale
        Paper over magazine.
    start
        Distance from the middle of a pocket to its words.
    width, height
        Size of pockets and words together.
    track
        Outline along which the pockets run: corners and bends as (x, y, radius); empty for a rack.
    """

    form: str
    places: tuple[Place, ...]
    scale: float
    start: float
    width: float
    height: float
    track: tuple[tuple[float, float, float], ...]


def lay_out_magazine(table: MagazineTable, shop: Shop) -> MagazineLayout:
    """Place the pockets of a magazine and their words.

    Parameters
    ----------
    table
        Pockets of the plan.
    shop
        Shop with magazine and tools.
    """
    count = max(len(table.pockets), shop.magazine.pockets)
    words = pocket_words(table, count)
    widths = [text_width(each, SMALL) for each in words]
    listed = tuple(width > LONGEST for width in widths)
    pitch = float(shop.magazine.pitch)
    held = {pocket.tool for pocket in table.pockets if pocket.tool}
    widest = max([float(shop.tool_by_name[name].body_diameter) for name in held] + [pitch])
    reach = widest / pitch / 2
    longest = max(width for width, out in zip((*widths, 0.0), (*listed, False), strict=True) if not out)
    number = text_width(f"{count} ", SMALL, bold=True)
    room = number + longest + GAP
    form = shop.magazine.form
    if form == "rack":
        return _rack(shop, words, reach)
    if form == "drum":
        return _drum(words, listed, reach, room, pitch)
    return _chain(words, listed, reach, room, pitch)


def pocket_words(table: MagazineTable, count: int) -> tuple[str, ...]:
    """Give the words of each pocket: the tool and which of its sisters it is.

    Parameters
    ----------
    table
        Pockets of the plan.
    count
        Pockets of the map.
    """
    named = [f"{each.tool} sister {each.sister}" if each.sister else each.tool for each in table.pockets]
    return (*named, *([""] * (count - len(named))))


def _places(
    spots: list[tuple[float, float, float]], words: tuple[str, ...], listed: tuple[bool, ...]
) -> tuple[Place, ...]:
    return tuple(
        Place(index + 1, x, y, way, name, out)
        for index, ((x, y, way), name, out) in enumerate(zip(spots, words, listed, strict=True))
    )


def _drum(
    words: tuple[str, ...], listed: tuple[bool, ...], reach: float, room: float, pitch: float
) -> MagazineLayout:
    """Pockets round a disc, the first one on top, clockwise."""
    count = len(words)
    step = max(CLOSEST, min(WIDEST, 130.0 * pi / count))
    radius = step / (2 * sin(pi / count))
    start = reach * step + GAP
    middle = MARGIN + radius + start + room
    turns = [2 * pi * index / count - pi / 2 for index in range(count)]
    spots = [
        (middle + radius * cos(turn), middle + radius * sin(turn), turn * 180 / pi % 360) for turn in turns
    ]
    track = ((middle, middle, radius),)
    return MagazineLayout(
        "drum", _places(spots, words, listed), step / pitch, start, 2 * middle, 2 * middle, track
    )


def _chain(
    words: tuple[str, ...], listed: tuple[bool, ...], reach: float, room: float, pitch: float
) -> MagazineLayout:
    """Pockets round a loop of two strands, the first one left on top, clockwise."""
    count = len(words)
    steps = [WIDEST - 0.1 * index for index in range(round((WIDEST - CLOSEST) / 0.1) + 1)]
    step = next((each for each in steps if _narrow(count, each, reach, room)), CLOSEST)
    bend, straight = _loop(count, step, reach, room)
    start = reach * step + GAP
    left = top = MARGIN + start + room
    spots = []
    for index in range(count):
        along = (index + 0.5) * step % (2 * straight + 2 * pi * bend)
        spots.append(_on_loop(along, left + bend, top + bend, straight, bend))
    track = ((left + bend, top + bend, bend), (left + bend + straight, top + bend, bend))
    width, height = 2 * (left + bend) + straight, 2 * (top + bend)
    return MagazineLayout("chain", _places(spots, words, listed), step / pitch, start, width, height, track)


def _bend(count: int, step: float, reach: float) -> float:
    """Least radius of the ends: tools of the two strands stay clear of each other."""
    return min(max(10.0, reach * step * 1.6 + 2.0), count * step / (2 * pi))


def _free(step: float, reach: float, room: float) -> float:
    """Width that is left for the chain itself."""
    return WIDTH - 2 * (reach * step + GAP + room + MARGIN)


def _narrow(count: int, step: float, reach: float, room: float) -> bool:
    """Whether a chain of two long strands fits the paper."""
    bend = _bend(count, step, reach)
    return (count * step - 2 * pi * bend) / 2 + 2 * bend <= _free(step, reach, room)


def _loop(count: int, step: float, reach: float, room: float) -> tuple[float, float]:
    """Radius of the ends and length of a strand; wider ends where the strands would be too long."""
    whole = count * step
    bend = _bend(count, step, reach)
    if not _narrow(count, step, reach, room):
        wider = (whole - 2 * _free(step, reach, room)) / (2 * pi - 4)
        bend = min(max(bend, wider), whole / (2 * pi))
    return bend, max((whole - 2 * pi * bend) / 2, 0.0)


def _on_loop(along: float, x: float, y: float, straight: float, bend: float) -> tuple[float, float, float]:
    """Point and outward direction some way along a loop whose left bend has its middle at (x, y)."""
    if along < straight:
        return x + along, y - bend, 270.0
    along -= straight
    if along < pi * bend:
        turn = along / bend - pi / 2
        return x + straight + bend * cos(turn), y + bend * sin(turn), turn * 180 / pi % 360
    along -= pi * bend
    if along < straight:
        return x + straight - along, y + bend, 90.0
    turn = (along - straight) / bend + pi / 2
    return x + bend * cos(turn), y + bend * sin(turn), turn * 180 / pi % 360


def _rack(shop: Shop, words: tuple[str, ...], reach: float) -> MagazineLayout:
    """Pockets in rows from left to right, words inside; long rows are broken."""
    magazine, count = shop.magazine, len(words)
    pitch = float(magazine.pitch)
    in_row = ceil(count / magazine.rows)
    beside = reach * pitch
    most = max(1, int((WIDTH - 2 * MARGIN) / CLOSEST_RACK))
    strips = ceil(in_row / most)
    columns = ceil(in_row / strips)
    step = min(16.0, (WIDTH - 2 * MARGIN) / (columns - 1 + 2 * max(reach, 0.5)))
    scale = step / pitch
    row_step = max(float(magazine.row_pitch or 0) * scale, 2 * beside * scale + 2.0, step + 2.0)
    edge = max(beside * scale, step / 2)
    spots = []
    for index in range(count):
        row, column = divmod(index, in_row)
        strip, column = divmod(column, columns)
        y = MARGIN + edge + (row * strips + strip) * row_step
        spots.append((MARGIN + edge + column * step, y, 0.0))
    listed = tuple(text_width(each, SMALL) > step - 0.8 for each in words)
    height = max(y for _, y, _ in spots) + edge + MARGIN
    width = 2 * (MARGIN + edge) + (columns - 1) * step
    return MagazineLayout("rack", _places(spots, words, listed), scale, 0.0, width, height, ())


def nearest(layout: MagazineLayout) -> float:
    """Least distance between the middles of two pockets that follow each other [mm of paper].

    Parameters
    ----------
    layout
        The magazine on paper.
    """
    pairs = zip(layout.places, layout.places[1:], strict=False)
    return min(hypot(one.x - other.x, one.y - other.y) for one, other in pairs)
