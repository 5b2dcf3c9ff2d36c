"""A catalogue of texts: English words and sentences with holes, and what they are in another language."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Final

#: A hole of a text: something that the sheet fills in, such as a number or a name.
_HOLE: Final = re.compile(r"\{(\d*)\}")
#: Where a text without an entry of its own falls into parts, the coarsest first.
_SEPARATORS: Final = (". ", "; ", ": ", ", ")


@dataclass(frozen=True)
class _Pattern:
    """A text with holes, and the text that takes its place.

    Parameters
    ----------
    match
        What finds the text and its holes.
    parts
        Words between the holes of the other language.
    order
        Which hole of the English text stands in each hole of the other one.
    """

    match: re.Pattern[str]
    parts: tuple[str, ...]
    order: tuple[int, ...]


@dataclass(frozen=True)
class Catalogue:
    """Texts of one language.

    A text with holes, written `{}`, stands for all texts that have something in their place; in the other
    language holes may be numbered from 1, `{2}`, where they change places. What is in a hole is looked up by
    itself.

    Parameters
    ----------
    texts
        Text in the other language by English text.
    names
        Names that stay as they are, alone and in the holes of a text.

    Raises
    ------
    ValueError
        When the holes of a text do not agree in both languages.
    """

    texts: Mapping[str, str]
    names: frozenset[str] = frozenset()
    _known: dict[str, tuple[str, tuple[str, ...]]] = field(default_factory=dict, repr=False, compare=False)

    def __post_init__(self) -> None:
        _ = self._patterns

    def keeping(self, names: frozenset[str]) -> Catalogue:
        """Give the same catalogue that leaves these names as they are.

        Parameters
        ----------
        names
            Names of features, tools and the like.
        """
        return Catalogue(self.texts, self.names | names)

    def words(self, text: str) -> str:
        """Give a text in the other language; what has no entry stays as it is.

        Parameters
        ----------
        text
            English text.
        """
        return self._found(text)[0]

    def missing(self, text: str) -> tuple[str, ...]:
        """Give the pieces of a text that have no entry; numbers and signs need none.

        Parameters
        ----------
        text
            English text.
        """
        return self._found(text)[1]

    def _found(self, text: str) -> tuple[str, tuple[str, ...]]:
        if text not in self._known:
            self._known[text] = self._looked_up(text)
        return self._known[text]

    def _looked_up(self, text: str) -> tuple[str, tuple[str, ...]]:
        if text in self.names:
            return text, ()
        exact = self.texts.get(text)
        if exact is not None:
            return exact, ()
        if not re.search(r"[A-Za-z]{2}", text):
            return text, ()
        for pattern in self._candidates(text):
            found = pattern.match.fullmatch(text)
            if found:
                return self._filled(pattern, found.groups())
        return self._in_parts(text)

    def _filled(self, pattern: _Pattern, holes: tuple[str, ...]) -> tuple[str, tuple[str, ...]]:
        inside = [self._found(hole) for hole in holes]
        words = pattern.parts[0] + "".join(
            inside[place][0] + part for place, part in zip(pattern.order, pattern.parts[1:], strict=True)
        )
        return words, tuple(piece for _, missing in inside for piece in missing)

    def _in_parts(self, text: str) -> tuple[str, tuple[str, ...]]:
        for separator in _SEPARATORS:
            if separator in text:
                found = [self._found(part) for part in text.split(separator)]
                return separator.join(words for words, _ in found), tuple(
                    piece for _, missing in found for piece in missing
                )
        if text.endswith((".", ":")):
            words, missing = self._found(text[:-1])
            return words + text[-1], missing
        return text, (text,)

    def _candidates(self, text: str) -> tuple[_Pattern, ...]:
        first = text.split(" ", 1)[0]
        return (*self._patterns.get(first, ()), *self._patterns.get("", ()))

    @cached_property
    def _patterns(self) -> dict[str, tuple[_Pattern, ...]]:
        """Patterns by their first word, the longest text first; those that begin with a hole under ''."""
        listed: dict[str, list[tuple[int, str, _Pattern]]] = {}
        for english, other in self.texts.items():
            if not _HOLE.search(english):
                continue
            first = english.split(" ", 1)[0]
            key = "" if _HOLE.search(first) else first
            fixed = len(_HOLE.sub("", english))
            listed.setdefault(key, []).append((-fixed, english, _pattern(english, other)))
        return {key: tuple(entry[2] for entry in sorted(found, key=_size)) for key, found in listed.items()}


def _size(entry: tuple[int, str, _Pattern]) -> tuple[int, str]:
    return entry[0], entry[1]


def _pattern(english: str, other: str) -> _Pattern:
    pieces = _HOLE.split(english)[::2]
    match = re.compile("(.+?)".join(re.escape(piece) for piece in pieces), re.DOTALL)
    split = _HOLE.split(other)
    order = tuple(int(number) - 1 if number else place for place, number in enumerate(split[1::2]))
    if sorted(order) != list(range(len(pieces) - 1)):
        msg = f'the holes of "{english}" and of "{other}" do not agree'
        raise ValueError(msg)
    return _Pattern(match, tuple(split[::2]), order)
