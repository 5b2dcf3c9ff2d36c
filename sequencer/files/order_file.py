"""An order written by hand: one operation a line, clampings in square brackets above their operations."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from sequencer.errors import BadFile, Finding, Severity


@dataclass(frozen=True)
class GivenStep:
    """One operation of an order written by hand.

    Parameters
    ----------
    operation
        Name of the operation.
    clamping
        Name of the clamping it stands under; empty if none was written above it.
    line
        Line of the file, from 1.
    """

    operation: str
    clamping: str
    line: int


def read_order(file: Path) -> tuple[GivenStep, ...]:
    """Read an order file.

    Parameters
    ----------
    file
        The file. What follows a # is a remark; empty lines are skipped.

    Raises
    ------
    BadFile
        When it cannot be read, a bracket is not closed, an operation stands twice, or there is none.
    """
    try:
        text = file.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise _bad(str(file), error.strerror or "it cannot be read", "name the order file") from error
    except UnicodeDecodeError as error:
        raise _bad(str(file), "it is not UTF-8 text", "save it as UTF-8") from error
    steps: list[GivenStep] = []
    clamping = ""
    seen: dict[str, int] = {}
    for number, line in enumerate(text.splitlines(), 1):
        words = line.partition("#")[0].strip()
        if words.startswith("["):
            if not words.endswith("]"):
                raise _bad(
                    f"{file}, line {number}", f"the bracket of {words!r} is not closed", "write [name]"
                )
            clamping = words[1:-1].strip()
        elif words:
            if words in seen:
                what = f"{words} stands here and in line {seen[words]}"
                raise _bad(f"{file}, line {number}", what, "leave one of them out")
            seen[words] = number
            steps.append(GivenStep(words, clamping, number))
    if not steps:
        raise _bad(str(file), "no operation stands in it", "write one operation a line")
    return tuple(steps)


def _bad(where: str, what: str, remedy: str) -> BadFile:
    return BadFile((Finding(Severity.ERROR, where, what, remedy=remedy),))
