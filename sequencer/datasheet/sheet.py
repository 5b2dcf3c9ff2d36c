"""The data sheet of a tooth system: sections of numbers that can say where they come from, and statements."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.operations.operation import Fact


@dataclass(frozen=True)
class Statement:
    """A line of the sheet that is no number.

    Parameters
    ----------
    name
        What it is, such as "undercut".
    words
        What is to be said.
    source
        Where it comes from; empty if it follows from lines above.
    estimate
        True if the planner did not give it and it was assumed.
    """

    name: str
    words: str
    source: str = ""
    estimate: bool = False


@dataclass(frozen=True)
class Section:
    """A part of the sheet under one heading.

    Parameters
    ----------
    name
        Heading.
    lines
        Numbers and statements in the order of the sheet.
    """

    name: str
    lines: tuple[Fact | Statement, ...]

    @property
    def facts(self) -> tuple[Fact, ...]:
        """The numbers alone."""
        return tuple(line for line in self.lines if isinstance(line, Fact))


@dataclass(frozen=True)
class DataSheet:
    """What drawing block, inspector and reviewer want to know of one tooth system.

    Parameters
    ----------
    title
        Which tooth system it is.
    units
        "mm" or "in": unit of length that the sheet shows; facts hold mm.
    sections
        Its parts.
    """

    title: str
    units: str
    sections: tuple[Section, ...]

    @property
    def facts(self) -> tuple[Fact, ...]:
        """All numbers of the sheet."""
        return tuple(fact for section in self.sections for fact in section.facts)
