"""Steps: operations placed in the order, with the changes between them and the proof."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import fsum

from sequencer.operations import Alternative, Operation
from sequencer.precedence import Dependency
from sequencer.units import Minutes


@dataclass(frozen=True)
class Change:
    """Time that passes before a step because of the step before it.

    Parameters
    ----------
    name
        "re-clamping", "tool change", "mode change", "positioning" or "waiting".
    minutes
        How long [min].
    reason
        From what to what.
    """

    name: str
    minutes: Minutes
    reason: str


@dataclass(frozen=True)
class Step:
    """An operation placed in the order.

    Parameters
    ----------
    number
        Number on the route sheet, in tens.
    operation
        What is done.
    alternative
        How it is done.
    visit
        Which clamping visit it belongs to, from 1; 0 on the bench.
    start
        Start of its changes, from the start of the plan [min].
    changes
        What passes before its own time.
    because
        Nearest reasons for its place: why it does not stand earlier.
    """

    number: int
    operation: Operation
    alternative: Alternative
    visit: int
    start: Minutes
    changes: tuple[Change, ...]
    because: tuple[Dependency, ...]

    @property
    def change_minutes(self) -> Minutes:
        """Time of all changes before it [min]."""
        return fsum(change.minutes for change in self.changes)

    @property
    def minutes(self) -> Minutes:
        """Changes and own time together [min]."""
        return self.change_minutes + self.alternative.minutes

    @property
    def end(self) -> Minutes:
        """End, from the start of the plan [min]."""
        return round(self.start + self.minutes, 6)


@dataclass(frozen=True)
class Level:
    """One level of the objective with its proof.

    Parameters
    ----------
    name
        "clampings", "tool changes", "mode changes" or "minutes and penalties".
    value
        Value of this order.
    bound
        No order can have less.
    proven
        True if value and bound meet.
    """

    name: str
    value: float
    bound: float
    proven: bool


@dataclass(frozen=True)
class Sequence:
    """The order of a plan.

    Parameters
    ----------
    steps
        All steps in order.
    objective
        What is least, in words.
    levels
        Value, bound and proof of each level.
    proven
        True if every level is proven.
    sentence
        The proof in words.
    broken
        Shoulds that this order breaks.
    ignored
        What the bound left out, in words.
    """

    steps: tuple[Step, ...]
    objective: str
    levels: tuple[Level, ...]
    proven: bool
    sentence: str
    broken: tuple[Dependency, ...]
    ignored: tuple[str, ...]

    @cached_property
    def by_operation(self) -> dict[str, Step]:
        """Steps by the name of their operation; of a repeated opening step the first."""
        steps: dict[str, Step] = {}
        for step in self.steps:
            steps.setdefault(step.operation.name, step)
        return steps

    @cached_property
    def visits(self) -> tuple[tuple[str, tuple[Step, ...]], ...]:
        """Clamping visits in order: name of the clamping and its steps; work on the bench included."""
        groups: list[tuple[str, list[Step]]] = []
        for step in self.steps:
            if not groups or groups[-1][0] != step.alternative.clamping:
                groups.append((step.alternative.clamping, []))
            groups[-1][1].append(step)
        return tuple((name, tuple(steps)) for name, steps in groups)

    @property
    def clampings(self) -> int:
        """Number of clamping visits on the machine."""
        return max((step.visit for step in self.steps), default=0)

    def count(self, change: str) -> int:
        """How often a change happens.

        Parameters
        ----------
        change
            Name of the change, such as "tool change".
        """
        return sum(1 for step in self.steps for each in step.changes if each.name == change)

    @property
    def minutes(self) -> Minutes:
        """Time from the first to the last step [min]."""
        return self.steps[-1].end if self.steps else 0.0

    @cached_property
    def time_away(self) -> Minutes:
        """Time away from the shop [min]; what is sent out by one method in a row goes in one trip."""
        return time_of_trips(self.steps)


def time_of_trips(steps: tuple[Step, ...]) -> Minutes:
    """Give the time away from the shop of some steps; what goes out by one method in a row is one trip [min].

    Source: derived

    Parameters
    ----------
    steps
        The steps in their order.
    """
    trips: list[tuple[str, float]] = []
    for step in steps:
        method, away = step.alternative.method, step.alternative.lead_time
        if away <= 0:
            trips.append(("", 0.0))
        elif trips and trips[-1][0] == method:
            trips[-1] = (method, max(trips[-1][1], away))
        else:
            trips.append((method, away))
    return fsum(away for _, away in trips)
