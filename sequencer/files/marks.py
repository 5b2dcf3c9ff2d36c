"""Places in a file and faults of its text."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Mark:
    """A place in a file.

    Parameters
    ----------
    line, column
        Counted from 1.
    """

    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.line}:{self.column}"


@dataclass(frozen=True)
class TextFault:
    """A fault of the text itself.

    Parameters
    ----------
    mark
        Where it is.
    what, limit, remedy
        The answers of the message.
    """

    mark: Mark
    what: str
    limit: str = ""
    remedy: str = ""


class BadText(Exception):
    """The text cannot be read on; holds the fault.

    Parameters
    ----------
    fault
        The fault.
    """

    def __init__(self, fault: TextFault) -> None:
        super().__init__(fault.what)
        self.fault = fault
