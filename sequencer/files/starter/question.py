"""One question of the starter, and which answers it takes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sequencer.part.fault import did_you_mean
from sequencer.units import Mm, parse, parse_module, shown


@dataclass(frozen=True)
class Question:
    """A question with its reason and its default.

    Parameters
    ----------
    key
        Name of the answer.
    text
        The question.
    why
        One sentence that says why it is asked.
    default
        Answer that is taken for an empty line.
    kind
        What an answer must be.
    choices
        Words to choose from, for a choice.
    least, most
        Bounds of a length [mm], an angle [deg] or a count; None for no bound.
    longest
        Most characters of a text.
    """

    key: str
    text: str
    why: str
    default: str
    kind: Literal["text", "choice", "count", "length", "angle", "module"]
    choices: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    longest: int = 40

    def read(self, written: str) -> str:
        """Check an answer and give it back without spaces around it; an empty one becomes the default.

        Parameters
        ----------
        written
            What was typed.

        Raises
        ------
        ValueError
            With a sentence that says what an answer must be.
        """
        text = written.strip() or self.default
        if not text.isprintable():
            raise ValueError("The answer holds signs that cannot be printed; type it again.")
        check = {
            "text": self._check_text,
            "choice": self._check_choice,
            "count": self._check_count,
            "length": self._check_length,
            "angle": self._check_angle,
            "module": self._check_module,
        }[self.kind]
        return check(text)

    def _check_text(self, text: str) -> str:
        if len(text) > self.longest:
            raise ValueError(f"{len(text)} characters are too long; at most {self.longest}.")
        return text

    def _check_choice(self, text: str) -> str:
        by_folded = {choice.lower(): choice for choice in self.choices}
        if text.lower() not in by_folded:
            hint = did_you_mean(text, self.choices, "choose one of")
            raise ValueError(f"{text!r} is no choice; {hint.rstrip('?')}{'?' if hint.endswith('?') else '.'}")
        return by_folded[text.lower()]

    def _check_count(self, text: str) -> str:
        if not (text.isascii() and text.isdigit() and len(text) <= 6):
            raise ValueError(f"{text!r} is not a whole number; type one such as {self.default}.")
        self._check_bounds(int(text), "")
        return str(int(text))

    def _check_length(self, text: str) -> str:
        self._check_bounds(float(_quantity(text, "length")), " mm")
        return text

    def _check_angle(self, text: str) -> str:
        self._check_bounds(float(_quantity(text, "angle")), " deg")
        return text

    def _check_module(self, text: str) -> str:
        try:
            module = parse_module(text)
        except ValueError as error:
            raise ValueError(f"{error}.") from None
        self._check_bounds(module.millimetres, " mm")
        return text

    def _check_bounds(self, value: Mm, unit: str) -> None:
        if self.least is not None and value < self.least - 1e-9:
            raise ValueError(f"{shown(value)}{unit} is too little; at least {shown(self.least)}{unit}.")
        if self.most is not None and value > self.most + 1e-9:
            raise ValueError(f"{shown(value)}{unit} is too much; at most {shown(self.most)}{unit}.")


def _quantity(text: str, dimension: str) -> float:
    try:
        return parse(text, dimension)
    except ValueError as error:
        raise ValueError(f"{error}.") from None
