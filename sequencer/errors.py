"""Findings and errors: each says where, what, which limit and what to do."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How much a finding matters to the planner."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True)
class Finding:
    """Something the planner must know.

    Parameters
    ----------
    severity
        Error, warning or note.
    where
        The feature, tool, clamping, file position or sheet that it is about.
    what
        What was found, with its numbers.
    limit
        The limit that it is held against; empty if there is none.
    remedy
        What the planner can do about it; empty if nothing needs doing.
    subject
        The part of the planning that found it, such as "magazine" or "method".
    """

    severity: Severity
    where: str
    what: str
    limit: str = ""
    remedy: str = ""
    subject: str = ""

    def __str__(self) -> str:
        return f"{self.severity}: {sentence(self.where, self.what, self.limit, self.remedy)}"


def sentence(where: str, what: str, limit: str = "", remedy: str = "") -> str:
    """Join the four answers of a message into one line of text.

    Parameters
    ----------
    where, what, limit, remedy
        The four answers; empty ones are left out.
    """
    text = f"{where}: {what}" if where else what
    if limit:
        text += f" ({limit})"
    text = text.rstrip(".") + "."
    if remedy:
        text += f" {remedy[0].upper()}{remedy[1:].rstrip('.')}"
        text += "" if remedy.endswith("?") else "."
    return text


class SequencerError(Exception):
    """Base of all errors of this package; keeps its facts as attributes.

    Parameters
    ----------
    what
        What is wrong, with the value that was given.
    where
        The object it is wrong with.
    limit
        The limit that is broken.
    remedy
        What to do.
    """

    def __init__(self, what: str, *, where: str = "", limit: str = "", remedy: str = "") -> None:
        super().__init__(what)
        self.what = what
        self.where = where
        self.limit = limit
        self.remedy = remedy

    def __str__(self) -> str:
        return sentence(self.where, self.what, self.limit, self.remedy)


class OutOfRange(SequencerError, ValueError):
    """A value outside the range in which a formula or a table is valid."""


class BadFile(SequencerError, ValueError):
    """A file that cannot be used; `faults` holds every fault, each with its place.

    Parameters
    ----------
    faults
        All faults of the file, in the order of their lines.
    """

    def __init__(self, faults: tuple[Finding, ...]) -> None:
        super().__init__("\n".join(sentence(f.where, f.what, f.limit, f.remedy) for f in faults))
        self.faults = faults

    def __str__(self) -> str:
        return self.what


class NoPlan(SequencerError):
    """No plan is possible; `conflicts` holds the smallest set of reasons that contradict each other.

    Parameters
    ----------
    what
        The sentence for the planner.
    conflicts
        One sentence a reason.
    findings
        What the planning had found up to here.
    """

    def __init__(
        self, what: str, conflicts: tuple[str, ...] = (), findings: tuple[Finding, ...] = (), remedy: str = ""
    ) -> None:
        super().__init__(what, remedy=remedy)
        self.conflicts = conflicts
        self.findings = findings

    def __str__(self) -> str:
        lines = [super().__str__(), *(f"  - {conflict}" for conflict in self.conflicts)]
        return "\n".join(lines)


class ProofBroken(SequencerError):
    """A bound and a plan contradict each other: a fault of this program, never of the part."""
