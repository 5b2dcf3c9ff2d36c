"""The magazine: which tools the plan needs, in which pockets, and whether they fit."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.errors import Finding
from sequencer.units import Minutes


@dataclass(frozen=True)
class Pocket:
    """One pocket of the magazine.

    Parameters
    ----------
    number
        Number of the pocket, from 1.
    tool
        Tool in it; empty if none.
    sister
        0 for the first of its kind, 1, 2 ... for sister tools.
    blocked_by
        Tools whose diameter needs this pocket empty.
    resident
        True if the tool always stays in the magazine.
    """

    number: int
    tool: str
    sister: int
    blocked_by: tuple[str, ...]
    resident: bool


@dataclass(frozen=True)
class ToolUse:
    """What the plan needs of one tool.

    Parameters
    ----------
    tool
        Name of the tool.
    steps
        Numbers of the steps that use it.
    minutes
        Its cutting time for one part [min].
    needed
        Number of equal tools for the lot, sisters included.
    reason
        Why that many, with the numbers.
    """

    tool: str
    steps: tuple[int, ...]
    minutes: Minutes
    needed: int
    reason: str


@dataclass(frozen=True)
class MagazineTable:
    """Pockets and tools of a plan.

    Parameters
    ----------
    pockets
        All pockets of the magazine, in order.
    uses
        Tools in the order of their first use.
    needed
        Pockets that the tools take, blocked ones included.
    available
        Pockets of the magazine.
    by_hand
        Tools that are loaded by hand.
    findings
        What does not fit, and by how much.
    """

    pockets: tuple[Pocket, ...]
    uses: tuple[ToolUse, ...]
    needed: int
    available: int
    by_hand: tuple[str, ...]
    findings: tuple[Finding, ...]
