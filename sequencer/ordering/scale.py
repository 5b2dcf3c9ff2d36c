"""Makes the levels of an objective one integer.

Each level is multiplied by more than all lower levels together can cost, so the order of two integers is the
order of the objective.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sequencer.ordering.problem import MEASURES, Objective, Problem


@dataclass(frozen=True)
class Scale:
    """How the levels of an objective become one integer.

    Parameters
    ----------
    objective
        The levels.
    factors
        What one unit of each level counts.
    largest
        No order costs more than this.
    """

    objective: Objective
    factors: tuple[int, ...]
    largest: int

    def unit(self, measure: str) -> int:
        """Tell what one unit of a measure counts.

        Parameters
        ----------
        measure
            A name of `MEASURES`.
        """
        return sum(
            factor * weight
            for level, factor in zip(self.objective, self.factors, strict=True)
            for name, weight in level.weights
            if name == measure
        )

    def joined(self, values: Sequence[int]) -> int:
        """Give the single integer of the values of the levels, 0 for those not given.

        Parameters
        ----------
        values
            One value a level, from the top.
        """
        return sum(factor * value for factor, value in zip(self.factors, values, strict=False))

    def split(self, cost: int) -> tuple[int, ...]:
        """Give the value of each level.

        Parameters
        ----------
        cost
            The single integer.
        """
        values = []
        for factor in self.factors:
            values.append(cost // factor)
            cost %= factor
        return tuple(values)


def scale_of(problem: Problem, objective: Objective) -> Scale:
    """Find the factor of each level.

    Parameters
    ----------
    problem
        The problem, for the largest value a level can have.
    objective
        The levels.
    """
    largest = _largest_measures(problem)
    factors: list[int] = []
    factor = 1
    for level in reversed(objective):
        factors.append(factor)
        factor *= 1 + sum(weight * largest[measure] for measure, weight in level.weights)
    return Scale(objective, tuple(reversed(factors)), factor)


def _largest_measures(problem: Problem) -> dict[str, int]:
    steps = max(problem.size - 1, 0)
    highest = _highest(problem.clamping_change) + max(problem.tool_change, default=0)
    highest += _highest(problem.mode_change)
    highest += max(_highest(problem.positioning), 2 * max(problem.home_positioning, default=0))
    own = sum(max(way.minutes for way in ways) for ways in problem.operations)
    waits = sum(wait for _, _, wait in problem.minimum_wait)
    penalty = sum(cost for _, _, cost in problem.soft_before)
    values = (steps, steps, steps, own + steps * highest + waits, penalty)
    return dict(zip(MEASURES, values, strict=True))


def _highest(table: Sequence[Sequence[int]]) -> int:
    return max((max(row, default=0) for row in table), default=0)
