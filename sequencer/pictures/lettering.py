"""How wide text is in the lettering of all pictures (widths of Helvetica, which Arimo and Arial share)."""

from __future__ import annotations

import re
from typing import Final

#: Families for SVG text: the shipped font first, then fonts of equal widths.
FAMILY: Final = "Arimo, Helvetica, Arial, sans-serif"

#: Advance of the characters from space to tilde in thousandths of the size (from the shipped font files).
_PLAIN: Final = (
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778,
    722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278,
    278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
)  # fmt: skip
_BOLD: Final = (
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778,
    722, 278, 556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333,
    278, 333, 584, 556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
)  # fmt: skip
#: Advance of the characters from no-break space to y with diaeresis (Latin-1), from the same files.
_LATIN: Final = (
    278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 552, 400, 549, 333, 333,
    333, 576, 537, 333, 333, 333, 365, 556, 834, 834, 834, 611, 667, 667, 667, 667, 667, 667, 1000, 722,
    667, 667, 667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722,
    722, 667, 667, 611, 556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 549, 611, 556, 556, 556, 556, 500, 556, 500,
)  # fmt: skip
_LATIN_BOLD: Final = (
    278, 333, 556, 556, 556, 556, 280, 556, 333, 737, 370, 556, 584, 333, 737, 552, 400, 549, 333, 333,
    333, 576, 556, 333, 333, 333, 365, 556, 834, 834, 834, 611, 722, 722, 722, 722, 722, 722, 1000, 722,
    667, 667, 667, 667, 278, 278, 278, 278, 722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722,
    722, 667, 667, 611, 556, 556, 556, 556, 556, 556, 889, 556, 556, 556, 556, 556, 278, 278, 278, 278,
    611, 611, 611, 611, 611, 611, 611, 549, 611, 611, 611, 611, 611, 556, 611, 556,
)  # fmt: skip
#: Signs that sheets use beside these; the wider of the two faces.
_SIGNS: Final = {
    letter: width
    for letters, width in (
        ("\u2013\u20ac", 556),
        ("\u2264\u2265\u221a", 549),
        ("\u2190\u2192\u2014\u2026", 1000),
        ("\u201c\u201d\u201e", 500),
    )
    for letter in letters
}
#: Letters outside that range are taken this wide, which is more than nearly all of them are.
_OTHER: Final = 800


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    """Width of one line of text, in the unit of its size.

    Parameters
    ----------
    text
        One line.
    size
        Size of the lettering.
    bold
        Whether it is set in the bold face.
    """
    plain, latin = (_BOLD, _LATIN_BOLD) if bold else (_PLAIN, _LATIN)
    total = 0
    for letter in text:
        code = ord(letter)
        if 32 <= code < 32 + len(plain):
            total += plain[code - 32]
        elif 160 <= code < 160 + len(latin):
            total += latin[code - 160]
        else:
            total += _SIGNS.get(letter, _OTHER)
    return total * size / 1000


def wrapped(text: str, size: float, width: float, *, bold: bool = False) -> tuple[str, ...]:
    """Break text into lines that are no wider than allowed.

    Parameters
    ----------
    text
        The text; it is broken after blanks, hyphens and underscores, and only else inside a word.
    size
        Size of the lettering.
    width
        Widest line, in the unit of the size.
    bold
        Whether it is set in the bold face.
    """
    lines: list[str] = []
    line = ""
    for piece in _pieces(text, size, width, bold=bold):
        if line and text_width((line + piece).rstrip(), size, bold=bold) > width:
            lines.append(line.rstrip())
            line = ""
        line += piece if line else piece.lstrip()
    return (*lines, line.rstrip()) if line.strip() else tuple(lines)


def clauses(text: str, size: float, width: float) -> tuple[str, ...]:
    """Break text after commas, and inside a clause only where it is wider than a line.

    Parameters
    ----------
    text
        The text.
    size
        Size of the lettering.
    width
        Widest line, in the unit of the size.
    """
    lines: list[str] = []
    for clause in re.findall(r"(?:[^,]|,(?! ))+,?", text):
        piece = clause.strip()
        joined = f"{lines[-1]} {piece}" if lines else piece
        if lines and text_width(joined, size) <= width:
            lines[-1] = joined
        else:
            lines.extend(wrapped(piece, size, width))
    return tuple(lines)


def _pieces(text: str, size: float, width: float, *, bold: bool) -> list[str]:
    pieces: list[str] = []
    for piece in re.findall(r"[^\s_-]*(?:[_-]+|\s+|$)", " ".join(text.split())):
        rest = piece
        while text_width(rest.rstrip(), size, bold=bold) > width and len(rest) > 1:
            end = len(rest) - 1
            while end > 1 and text_width(rest[:end], size, bold=bold) > width:
                end -= 1
            pieces.append(rest[:end])
            rest = rest[end:]
        if rest:
            pieces.append(rest)
    return pieces
