"""What the search answers, and how it reports its progress."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sequencer.ordering.problem import Constraint

Status = Literal["proven", "between bounds", "impossible"]


@dataclass(frozen=True)
class LevelValue:
    """Value and bound of one level of the objective.

    Parameters
    ----------
    name
        The level.
    value
        What the order found costs on this level.
    bound
        No order that is as good on the levels above costs less.
    proven
        Whether value and bound are equal, and those of all levels above too.
    """

    name: str
    value: int
    bound: int
    proven: bool


@dataclass(frozen=True)
class Result:
    """The best order found and what is proven about it.

    Parameters
    ----------
    order
        The operations in their order; empty if none was found.
    choice
        The alternative of each operation, -1 for those left out; empty if no order was found.
    levels
        Value and bound by level.
    status
        "proven", "between bounds" or "impossible".
    ignored
        What the bound left out; empty when it saw everything.
    states
        States looked at.
    seconds
        Time taken [s].
    conflict
        For an impossible problem: constraints that cannot hold together, none of which can be spared.
    loop
        For an impossible problem: operations each of which comes before the next, the last before the first.
    smallest
        For an impossible problem: whether the conflict was reduced as far as possible.
    """

    order: tuple[int, ...]
    choice: tuple[int, ...]
    levels: tuple[LevelValue, ...]
    status: Status
    ignored: tuple[str, ...]
    states: int
    seconds: float
    conflict: tuple[Constraint, ...] = ()
    loop: tuple[int, ...] = ()
    smallest: bool = True

    @property
    def proven(self) -> bool:
        """Whether no better order exists."""
        return self.status == "proven"

    @property
    def gap(self) -> float:
        """Part of the first unproven level's value that the bound leaves open, 0 when proven."""
        for level in self.levels:
            if not level.proven:
                return (level.value - level.bound) / level.value if level.value else 0.0
        return 0.0


@dataclass(frozen=True)
class Progress:
    """How far the search has come.

    Parameters
    ----------
    phase
        What is being done, such as "improving" or "proving".
    done
        Part of the phase that is done, 0 to 1; -1 if not known.
    values
        Values of the best order by level; empty if there is none yet.
    states
        States looked at up to now.
    seconds
        Time taken up to now [s].
    """

    phase: str
    done: float
    values: tuple[int, ...]
    states: int
    seconds: float
