"""What the checks of part and shop find: a place in the document and four answers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

Path = tuple[str | int, ...]

#: More words than this do not help to find the right one.
_MOST_LISTED: Final = 24


@dataclass(frozen=True)
class Fault:
    """Something that makes a document unusable.

    Parameters
    ----------
    path
        Keys and positions from the outermost value, such as ("features", 3, "on").
    what
        What is wrong, with the value that was given.
    limit
        The limit that is broken; empty if there is none.
    remedy
        What to do.
    """

    path: Path
    what: str
    limit: str = ""
    remedy: str = ""


def near(word: str, known: Iterable[str]) -> str:
    """Give the known word that looks most like another; empty if none does.

    Parameters
    ----------
    word
        The unknown word.
    known
        The known words.
    """
    by_folded = {_folded(other): other for other in known}
    close = get_close_matches(_folded(word), list(by_folded), n=1, cutoff=0.6)
    return by_folded[close[0]] if close else ""


def _folded(word: str) -> str:
    return word.lower().replace("-", "_").replace(" ", "_")


def did_you_mean(word: str, known: Iterable[str], what: str) -> str:
    """Suggest a near miss, or list what there is.

    Parameters
    ----------
    word
        The unknown word.
    known
        The known words, in the order to list them.
    what
        What the known words are, in the plural, such as "keys".
    """
    words = list(dict.fromkeys(known))
    close = near(word, words)
    if close:
        return f"did you mean {close!r}?"
    if not words:
        return f"there are no {what}"
    more = f" and {len(words) - _MOST_LISTED} more" if len(words) > _MOST_LISTED else ""
    return f"{what}: {', '.join(words[:_MOST_LISTED])}{more}"
