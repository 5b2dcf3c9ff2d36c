"""How words and numbers are written on the sheets: language, decimal sign, unit of length."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from importlib import resources
from typing import Final

from sequencer.errors import SequencerError
from sequencer.language.catalogue import Catalogue
from sequencer.units import MM_PER_INCH

_POINT: Final = re.compile(r"(?<![\w./])(?<!\w-)(\d+)\.(\d+)(?!\w|\.\d)")
_NUMBER: Final = r"-?\d+(?:\.\d+)?"
#: A length in a sentence, or several that share their unit; a module stays a module.
_LENGTHS: Final = re.compile(
    rf"(?<!module )(?<![\w.])({_NUMBER}(?: (?:to|and|or|x|by|from) {_NUMBER})*) mm"
    r"(/rev|/tooth|/min)?(?![\w/])"
)
_SPEED: Final = re.compile(rf"(?<![\w.])({_NUMBER}) m/min(?!\w)")
_FEET: Final = 0.3048


@dataclass(frozen=True)
class Wording:
    """How words and numbers are written.

    Parameters
    ----------
    language
        Code of the language, such as "en".
    catalogue
        Texts of the language; None for English.
    comma
        True if numbers have a decimal comma.
    inches
        True if computed lengths in sentences are written in inches.
    names
        Names given by the planner and the shop: they stay as they are.
    """

    language: str = "en"
    catalogue: Catalogue | None = None
    comma: bool = False
    inches: bool = False
    names: frozenset[str] = frozenset()

    def keeping(self, names: Iterable[str]) -> Wording:
        """Give the same wording that leaves these names as they are.

        Parameters
        ----------
        names
            Names of features, tools and the like.
        """
        kept = self.names | frozenset(names)
        catalogue = None if self.catalogue is None else self.catalogue.keeping(kept)
        return replace(self, names=kept, catalogue=catalogue)

    def words(self, text: str) -> str:
        """Write a text of a sheet.

        Parameters
        ----------
        text
            English text with decimal points and millimetres.
        """
        if text in self.names or not text:
            return text
        if self.inches:
            text = in_inches(text)
        if self.catalogue is not None:
            text = self.catalogue.words(text)
        return self.number(text)

    def number(self, text: str) -> str:
        """Write the numbers of a text with the decimal sign.

        Parameters
        ----------
        text
            Text with decimal points.
        """
        return _POINT.sub(r"\1,\2", text) if self.comma and text not in self.names else text


#: English, decimal point, millimetres.
PLAIN: Final = Wording()


def in_inches(text: str) -> str:
    """Write the computed lengths, feeds and cutting speeds of a sentence in inches and feet.

    Two places more than in millimetres, so that nothing is lost.

    Parameters
    ----------
    text
        A sentence.
    """
    text = _LENGTHS.sub(
        lambda found: (
            re.sub(_NUMBER, lambda one: _divided(one[0], MM_PER_INCH, 2), found[1]) + f" in{found[2] or ''}"
        ),
        text,
    )
    return _SPEED.sub(lambda found: f"{_divided(found[1], _FEET, 0)} ft/min", text)


def _divided(number: str, divisor: float, more: int) -> str:
    places = len(number.partition(".")[2]) + more
    return f"{float(number) / divisor:.{places}f}"


def languages() -> tuple[str, ...]:
    """Give the codes of all languages that have a catalogue, English first."""
    folder = resources.files("sequencer.language").joinpath("texts")
    return ("en", *sorted(f.name.removesuffix(".yaml") for f in folder.iterdir() if f.name.endswith(".yaml")))


def read_catalogue(language: str) -> Catalogue | None:
    """Read the catalogue of a language; None for English.

    Parameters
    ----------
    language
        Code of the language, such as "de".

    Raises
    ------
    SequencerError
        When there is no catalogue for it.
    """
    if language == "en":
        return None
    if language not in languages():
        raise SequencerError(
            f'there is no catalogue of texts for language "{language}"',
            where="language of the sheets",
            limit=f"one of {', '.join(languages())}",
            remedy="choose one of these, or add a file of texts to sequencer/language/texts",
        )
    import yaml

    text = resources.files("sequencer.language").joinpath(f"texts/{language}.yaml").read_text("utf-8")
    return Catalogue(yaml.load(text, Loader=yaml.CSafeLoader if yaml.__with_libyaml__ else yaml.SafeLoader))
