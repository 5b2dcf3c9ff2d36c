"""The answer for the parts of a week: order, dates, loading plan, pallets, findings."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from sequencer.errors import Finding
from sequencer.plan import Plan
from sequencer.rotation.keeping import Unit
from sequencer.rotation.pallets import LotTime
from sequencer.shop.rotation import Rotation
from sequencer.units import Minutes


@dataclass(frozen=True)
class Loading:
    """What is done to the magazine before a part.

    Parameters
    ----------
    stay
        Tools that stay, residents left out.
    out
        Tools taken out.
    put_in
        Tools put in.
    moved
        Tools that stay in the magazine, but not in their pocket.
    pockets
        Pocket of each tool in the magazine, residents included; empty if no place was found.
    needed
        Pockets that they need.
    """

    stay: tuple[Unit, ...]
    out: tuple[Unit, ...]
    put_in: tuple[Unit, ...]
    moved: tuple[Unit, ...]
    pockets: dict[Unit, int]
    needed: int


@dataclass(frozen=True)
class WeekPart:
    """One part of the week in its place.

    Parameters
    ----------
    plan
        Its plan.
    start, end
        Working time from the start of the week [min].
    begins, ready
        Day on which it is begun, and on which it is finished.
    due
        Its due date; None for none.
    loading
        What is done to the magazine before it.
    here
        Its lot on the machine as it is.
    compared
        Its lot with other pallets and clamping.
    """

    plan: Plan
    start: Minutes
    end: Minutes
    begins: datetime.date
    ready: datetime.date
    due: datetime.date | None
    loading: Loading
    here: LotTime
    compared: tuple[LotTime, ...]

    @property
    def days_late(self) -> int:
        """Days after its due date on which it is finished; 0 if it is not late."""
        return 0 if self.due is None else max(0, (self.ready - self.due).days)


@dataclass(frozen=True)
class Week:
    """Several parts and one magazine.

    Parameters
    ----------
    rotation
        What was asked.
    parts
        The parts in the order in which they are made.
    staying
        Tools that stay for the whole week, residents included.
    loads
        Tools put in, the first filling counted.
    bound
        No order that is as punctual puts in fewer.
    union
        Pockets that all tools of the week need together.
    findings
        What the planner must know, errors first.
    """

    rotation: Rotation
    parts: tuple[WeekPart, ...]
    staying: tuple[Unit, ...]
    loads: int
    bound: int
    union: int
    findings: tuple[Finding, ...]

    @property
    def proven(self) -> bool:
        """Whether no order that is as punctual puts in fewer tools."""
        return self.loads == self.bound

    @property
    def exchanges(self) -> int:
        """Tools put in after the first filling."""
        return sum(len(part.loading.put_in) for part in self.parts[1:])

    @property
    def sentence(self) -> str:
        """The proof in words."""
        if self.rotation.order == "as listed":
            order = "the order is as listed"
            least = "no loading plan for it puts in fewer tools"
        else:
            order = "the order is chosen"
            least = "no order that is as punctual puts in fewer tools"
        if self.proven:
            return f"{order}; {least}: {self.loads}, the first filling counted"
        return (
            f"{order}; it puts in {self.loads} tools, the first filling counted, none fewer than {self.bound}"
        )


def unit_words(unit: Unit) -> str:
    """Write a tool of the magazine, with its number among equal ones.

    Parameters
    ----------
    unit
        Name and number.
    """
    name, sister = unit
    return f"{name}/{sister + 1}" if sister else name
