"""What it breaks and costs to do one operation before another."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sequencer.errors import OutOfRange
from sequencer.ordering.explain import with_constraints
from sequencer.ordering.problem import LEXICOGRAPHIC, Constraint, Objective, Problem
from sequencer.ordering.result import Result
from sequencer.ordering.solve import STATE_LIMIT, solve

_ARCS = ("before", "minimum_wait", "immediately_after")


@dataclass(frozen=True)
class Swap:
    """The best order with two operations the other way round.

    Parameters
    ----------
    broken
        Constraints given up for it: the fewest that keep the wanted order out.
    result
        The best order then; "impossible" if other constraints still forbid it.
    extra
        Difference of each level to the order compared with; empty if impossible.
    """

    broken: tuple[Constraint, ...]
    result: Result
    extra: tuple[int, ...]


def swap_cost(
    problem: Problem,
    result: Result,
    a: int,
    b: int,
    *,
    objective: Objective = LEXICOGRAPHIC,
    seconds: float | None = None,
    state_limit: int = STATE_LIMIT,
    stop: Callable[[], bool] | None = None,
) -> Swap:
    """Find the best order with b before a, all other constraints held as far as they allow it.

    If a must come before b, the fewest arrows are given up that leave no chain from a to b.

    Parameters
    ----------
    problem
        The problem.
    result
        The order to compare with.
    a, b
        The two operations.
    objective
        Levels, each minimised without worsening those above.
    seconds
        Time limit [s].
    state_limit
        Most states kept in memory.
    stop
        Asked now and then; the search ends when it says yes.

    Raises
    ------
    OutOfRange
        When the operations are the same or do not exist.
    """
    for op in (a, b):
        if not 0 <= op < problem.size:
            raise OutOfRange(f"operation {op}", where="swap", limit=f"0 to {problem.size - 1}")
    if a == b:
        raise OutOfRange(f"{a} before itself", where="swap", limit="two operations")
    broken = fewest_arcs_between(problem, a, b)
    if broken:
        problem = with_constraints(problem, [one for one in problem.constraints() if one not in broken])
    swapped = replace(problem, before=(*problem.before, (b, a)))
    found = solve(swapped, objective=objective, seconds=seconds, state_limit=state_limit, stop=stop)
    extra: tuple[int, ...] = ()
    if found.order and result.order:
        extra = tuple(new.value - old.value for new, old in zip(found.levels, result.levels, strict=True))
    return Swap(broken, found, extra)


def fewest_arcs_between(problem: Problem, start: int, end: int) -> tuple[Constraint, ...]:
    """Name the fewest arrows without which no chain leads from one operation to another.

    Source: Ford and Fulkerson, Canadian Journal of Mathematics 8 (1956), from memory.

    Parameters
    ----------
    problem
        The problem.
    start, end
        The operations at the two ends.
    """
    arcs = [
        (a, b, Constraint(kind, index))
        for kind in _ARCS
        for index, (a, b, *_) in enumerate(getattr(problem, kind))
    ]
    taken = [False] * len(arcs)
    while True:
        came = _reach(problem.size, arcs, taken, start)
        if came[end] is None:
            break
        op = end
        while op != start:
            step = came[op]
            if step is None:
                break
            taken[step] = not taken[step]
            a, b, _ = arcs[step]
            op = a if op == b else b
    reached = [step is not None for step in came]
    return tuple(sorted(arc for a, b, arc in arcs if reached[a] and not reached[b]))


def _reach(
    size: int, arcs: list[tuple[int, int, Constraint]], taken: list[bool], start: int
) -> list[int | None]:
    """Arc by which each operation is reached along free arcs or back along taken ones."""
    came: list[int | None] = [None] * size
    came[start] = -1
    queue = [start]
    for op in queue:
        for number, (a, b, _) in enumerate(arcs):
            goal = b if a == op and not taken[number] else a if b == op and taken[number] else -1
            if goal >= 0 and came[goal] is None:
                came[goal] = number
                queue.append(goal)
    return came
