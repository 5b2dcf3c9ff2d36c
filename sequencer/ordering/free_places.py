"""Where each operation of an order may stand as well, the others kept as they are, at no cost."""

from __future__ import annotations

from collections.abc import Sequence

from sequencer.ordering.check import Measures, check, evaluate
from sequencer.ordering.problem import Problem


def free_places(
    problem: Problem, order: Sequence[int], choice: Sequence[int]
) -> tuple[tuple[int, int, int], ...]:
    """Give the operations that may stand elsewhere: operation, earliest and latest position.

    At every position between, no constraint is broken that the order keeps, and no clamping change, tool
    change, mode change, time or penalty is added. The alternatives stay as they are.

    Parameters
    ----------
    problem
        The problem.
    order
        Operations in their order.
    choice
        Alternative of each operation.
    """
    before: dict[int, set[int]] = {}
    for a, b in problem.before:
        before.setdefault(b, set()).add(a)
    most, broken = _costs(evaluate(problem, order, choice)), len(check(problem, order, choice))

    def fits(place: int, goal: int) -> bool:
        moved = [*order[:place], *order[place + 1 :]]
        moved.insert(goal, order[place])
        costs = _costs(evaluate(problem, moved, choice))
        return all(one <= two for one, two in zip(costs, most, strict=True)) and broken >= len(
            check(problem, moved, choice)
        )

    found = []
    for place, op in enumerate(order):
        first = last = place
        while first > 0 and order[first - 1] not in before.get(op, ()) and fits(place, first - 1):
            first -= 1
        while last + 1 < len(order) and op not in before.get(order[last + 1], ()) and fits(place, last + 1):
            last += 1
        if first < last:
            found.append((op, first, last))
    return tuple(found)


def _costs(measures: Measures) -> tuple[int, ...]:
    return measures.clampings, measures.tools, measures.modes, measures.time, measures.penalty
