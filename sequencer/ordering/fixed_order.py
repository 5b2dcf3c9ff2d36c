"""Best alternatives for an order that is given, allowed or not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from sequencer.errors import OutOfRange
from sequencer.ordering.problem import LEXICOGRAPHIC, Objective, Problem
from sequencer.ordering.solve import solve

_PAIRS = ("same_clamping", "not_same_clamping", "same_zero")
_BY_CLAMPING = ("opens", "closes", "opens_for", "closes_for")


def best_choice(
    problem: Problem, order: Sequence[int], *, objective: Objective = LEXICOGRAPHIC
) -> tuple[int, ...]:
    """Choose the alternative of each operation of a fixed order at least cost.

    Constraints on clamping visits, the zero and the magazine are held if any choice holds them all; those
    that the order itself breaks or holds do not matter here.

    Parameters
    ----------
    problem
        The problem.
    order
        Operations in their order; others are left out and get -1.
    objective
        Levels, each minimised without worsening those above.

    Raises
    ------
    OutOfRange
        When the order names an operation twice or one that does not exist.
    """
    for op in order:
        if not 0 <= op < problem.size:
            raise OutOfRange(f"operation {op}", where="order", limit=f"0 to {problem.size - 1}")
    if len(set(order)) != len(order):
        raise OutOfRange("an operation is listed twice", where="order", limit="each at most once")
    number = {op: position for position, op in enumerate(order)}
    fixed = _in_order(problem, order, number)
    result = solve(fixed, objective=objective)
    if result.status == "impossible":
        freed: dict[str, Any] = dict.fromkeys((*_PAIRS, *_BY_CLAMPING, "single_visit"), ())
        result = solve(replace(fixed, capacity=-1, **freed), objective=objective)
    choice = [-1] * problem.size
    for op, position in number.items():
        choice[op] = result.choice[position]
    return tuple(choice)


def _in_order(problem: Problem, order: Sequence[int], number: dict[int, int]) -> Problem:
    """The same operations numbered by their position, in that order."""

    def kept(name: str, skip: int = 0) -> tuple[tuple[int, ...], ...]:
        return tuple(
            (*entry[:skip], *(number[op] for op in entry[skip:]))
            for entry in getattr(problem, name)
            if all(op in number for op in entry[skip:])
        )

    visits: dict[str, Any] = {name: kept(name) for name in _PAIRS} | {
        name: kept(name, 1) for name in _BY_CLAMPING
    }
    return replace(
        problem,
        **visits,
        operations=tuple(problem.operations[op] for op in order),
        before=tuple((position, position + 1) for position in range(len(order) - 1)),
        immediately_after=(),
        re_references=tuple(number[op] for op in problem.re_references if op in number),
        not_between=(),
        minimum_wait=tuple(
            (number[a], number[b], wait)
            for a, b, wait in problem.minimum_wait
            if a in number and b in number and number[a] < number[b]
        ),
        pinned=(),
        forbidden_neighbours=(),
        soft_before=(),
        either_or=(),
        only_with=(),
    )
