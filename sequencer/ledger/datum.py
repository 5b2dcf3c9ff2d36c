"""Datums of a plan: who makes them, where they are used, and how each clamping finds axis, face and angle."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sequencer.errors import Finding
from sequencer.operations import Fact


@dataclass(frozen=True)
class DatumUse:
    """One use of a datum.

    Parameters
    ----------
    step
        Number of the step on the route sheet.
    operation
        The operation there.
    clamping
        Where it is done.
    how
        What the datum does there, such as "shows the axis" or "is stood on".
    """

    step: int
    operation: str
    clamping: str
    how: str


@dataclass(frozen=True)
class Truth:
    """Whether a datum is still true after something that happens to the part.

    Parameters
    ----------
    step
        Number of the step that does it.
    event
        What happens, such as "let go after II".
    true
        False if the datum must be found or made again.
    reason
        Why, with the number where there is one.
    """

    step: int
    event: str
    true: bool
    reason: str


@dataclass(frozen=True)
class Datum:
    """A datum of the drawing or of the process.

    Parameters
    ----------
    letter
        Letter of the drawing, or P and a number for a datum of the process.
    feature
        The surface.
    process
        True if only the process uses it.
    operation
        Operation that gives it its last state; empty if nothing cuts it.
    step
        Number of that step; 0 if nothing cuts it.
    clamping
        Clamping in which it is made.
    uses
        Where it is used, in order.
    truths
        What may move it afterwards, in order.
    """

    letter: str
    feature: str
    process: bool
    operation: str
    step: int
    clamping: str
    uses: tuple[DatumUse, ...]
    truths: tuple[Truth, ...]

    @property
    def sentence(self) -> str:
        """Who makes it, where it is used and whether it stays true."""
        made = (
            f"made by {self.operation} in {self.clamping} (step {self.step})"
            if self.step
            else "nothing cuts it"
        )
        used = ", ".join(f"{use.how} in {use.clamping} (step {use.step})" for use in self.uses)
        moved = "; ".join(f"{each.event}: {each.reason}" for each in self.truths if not each.true)
        return f"{self.letter} is {self.feature}: {made}; {used or 'not used'}{f'; {moved}' if moved else ''}"


@dataclass(frozen=True)
class Target:
    """How a clamping finds its axis, its face or its angle.

    Parameters
    ----------
    kind
        "axis", "face" or "angle".
    feature
        Surface that is indicated, probed or stood on; "blank" for raw skin; empty where nothing is asked.
    letter
        Its datum letter; empty for a raw surface.
    direct
        True if the surface itself is indicated; False if the part stands on it or is gripped by it.
    limit
        Largest runout that may be left, total indicator reading; for an angle the error along the
        circumference. None where nothing is asked.
    reason
        Which relations set the limit, or why there is none.
    """

    kind: Literal["axis", "face", "angle"]
    feature: str
    letter: str
    direct: bool
    limit: Fact | None
    reason: str


@dataclass(frozen=True)
class SetupDatums:
    """What one clamping visit indicates before its first cut.

    Parameters
    ----------
    visit
        Number of the visit, from 1.
    clamping
        Name of the clamping.
    step
        Number of the step that indicates; 0 if there is none.
    axis, face, angle
        Its targets.
    produced
        Datums that this visit makes, by letter.
    """

    visit: int
    clamping: str
    step: int
    axis: Target
    face: Target
    angle: Target
    produced: tuple[str, ...]

    @property
    def targets(self) -> tuple[Target, ...]:
        """Axis, face and angle."""
        return (self.axis, self.face, self.angle)


@dataclass(frozen=True)
class DatumTable:
    """All datums of a plan.

    Parameters
    ----------
    datums
        Drawing letters first, then datums of the process.
    setups
        One for each clamping visit.
    findings
        What the planner must know.
    """

    datums: tuple[Datum, ...]
    setups: tuple[SetupDatums, ...]
    findings: tuple[Finding, ...]
