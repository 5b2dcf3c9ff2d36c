"""A picture too large for one sheet of paper as tiles, with marks by which they are put together."""

from __future__ import annotations

import re
from dataclasses import dataclass
from math import ceil
from typing import Final

from sequencer.errors import SequencerError
from sequencer.pictures import ink
from sequencer.pictures.lettering import FAMILY

#: Sizes of paper, upright [mm]: ISO 216, and ANSI Y14.1 size A.
PAPERS: Final = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4)}
#: Free edge of a tile, and how far two tiles show the same [mm].
EDGE: Final = 12.0
OVERLAP: Final = 10.0
_POINT: Final = 25.4 / 72
_HEAD: Final = re.compile(r'<svg[^>]*?width="[\d.]+pt"[^>]*?viewBox="([^"]*)"[^>]*>')


@dataclass(frozen=True)
class Tiling:
    """How a picture is cut.

    Parameters
    ----------
    page
        Width and height of a tile [mm].
    columns, rows
        Tiles beside and under each other.
    """

    page: tuple[float, float]
    columns: int
    rows: int

    @property
    def window(self) -> tuple[float, float]:
        """Width and height of the picture on a tile [mm]."""
        return self.page[0] - 2 * EDGE, self.page[1] - 2 * EDGE


def tiling(width: float, height: float, paper: str) -> Tiling:
    """Choose upright or lying paper, whichever needs fewer tiles.

    Parameters
    ----------
    width, height
        Size of the picture [mm].
    paper
        Name of the paper.

    Raises
    ------
    SequencerError
        When the paper is not known.
    """
    if paper not in PAPERS:
        raise SequencerError(
            f"paper {paper!r} is not known",
            where="tiles",
            limit=f"one of {', '.join(PAPERS)}",
            remedy="name one of these",
        )
    short, long = PAPERS[paper]
    found = [Tiling(page, *_counts(width, height, page)) for page in ((short, long), (long, short))]
    return min(found, key=lambda each: each.columns * each.rows)


def _counts(width: float, height: float, page: tuple[float, float]) -> tuple[int, int]:
    counts = []
    for size, whole in ((width, page[0]), (height, page[1])):
        window = whole - 2 * EDGE
        counts.append(1 if size <= window else ceil((size - OVERLAP) / (window - OVERLAP) - 1e-9))
    return counts[0], counts[1]


def tiles(drawn: str, paper: str, title: str) -> tuple[str, ...]:
    """Cut a picture whose size is given in points into tiles, row by row.

    Parameters
    ----------
    drawn
        The picture as SVG.
    paper
        Name of the paper.
    title
        What it shows; it stands on every tile.

    Raises
    ------
    SequencerError
        When the paper is not known or the picture does not give its size in points.
    """
    head = _HEAD.search(drawn)
    if head is None:
        raise SequencerError(
            "the picture does not give its size in points",
            where="tiles",
            remedy="take the picture as one page",
        )
    left, top, wide, tall = (float(each) for each in head[1].split())
    cut = tiling(wide * _POINT, tall * _POINT, paper)
    body = drawn[head.end() : drawn.rindex("</svg>")]
    window = tuple(each / _POINT for each in cut.window)
    found = []
    for row in range(cut.rows):
        for column in range(cut.columns):
            x = left + column * (cut.window[0] - OVERLAP) / _POINT
            y = top + row * (cut.window[1] - OVERLAP) / _POINT
            view = (x, y, *window)
            words = f"{title}: row {row + 1} of {cut.rows}, column {column + 1} of {cut.columns}"
            found.append(_tile(cut, body, view, (row, column), words))
    return tuple(found)


def _tile(cut: Tiling, body: str, view: tuple[float, ...], place: tuple[int, int], words: str) -> str:
    width, height = cut.page
    box = " ".join(f"{each:.2f}" for each in view)
    inner = f'width="{cut.window[0]:g}" height="{cut.window[1]:g}" viewBox="{box}"'
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" '
        f'width="{width:g}mm" height="{height:g}mm" viewBox="0 0 {width:g} {height:g}" '
        f'font-family="{FAMILY}"><rect width="{width:g}" height="{height:g}" fill="{ink.PAPER}"/>'
        f'<svg x="{EDGE:g}" y="{EDGE:g}" {inner}>{body}</svg>{_marks(cut, place)}'
        f'<text x="{EDGE + OVERLAP:g}" y="{height - 3.5:g}" font-size="2.7" fill="{ink.INK}">'
        f"{_escaped(words)}</text></svg>\n"
    )


def _escaped(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;")


def _marks(cut: Tiling, place: tuple[int, int]) -> str:
    """Strokes in the free edge where the next tile begins: cut one, glue the other under it."""
    (width, height), (row, column) = cut.page, place
    across = [EDGE + OVERLAP / 2] if column else []
    across += [width - EDGE - OVERLAP / 2] if column < cut.columns - 1 else []
    down = [EDGE + OVERLAP / 2] if row else []
    down += [height - EDGE - OVERLAP / 2] if row < cut.rows - 1 else []
    lines = [(x, y, x, y + 6.0) for x in across for y in (4.0, height - 10.0)]
    lines += [(x, y, x + 6.0, y) for y in down for x in (4.0, width - 10.0)]
    return "".join(
        f'<path d="M{x1:.3f},{y1:.3f} L{x2:.3f},{y2:.3f}" stroke="{ink.INK}" stroke-width="0.3"/>'
        for x1, y1, x2, y2 in lines
    )
