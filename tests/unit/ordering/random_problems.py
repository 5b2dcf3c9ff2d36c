"""Small random problems with every kind of constraint, and their full enumeration."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import product

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import Alternative, Objective, Problem


def random_problem(seed: int, *, largest: int = 6, stress: float = 0.35) -> Problem:
    """Draw a problem.

    Parameters
    ----------
    seed
        Chooses the problem.
    largest
        Most operations.
    stress
        Chance that each kind of constraint appears.
    """
    rnd = random.Random(seed)
    size = rnd.randint(2, largest)
    clampings, tools, modes, places = (rnd.randint(1, most) for most in (3, 4, 3, 4))
    top = rnd.choice([1, 5, 50])

    def way() -> Alternative:
        return Alternative(
            rnd.randrange(-1, tools) if rnd.random() < 0.3 else rnd.randrange(tools),
            rnd.randrange(clampings),
            rnd.randrange(-1, modes) if rnd.random() < 0.3 else rnd.randrange(modes),
            rnd.randint(0, 9),
            rnd.randrange(-1, places) if rnd.random() < 0.15 else rnd.randrange(places),
        )

    def some(most: int) -> range:
        return range(rnd.randint(1, most) if rnd.random() < stress else 0)

    def pick(count: int) -> tuple[int, ...]:
        return tuple(rnd.sample(range(size), count))

    def table(count: int, empty: float = 0.0) -> tuple[tuple[int, ...], ...]:
        if rnd.random() < empty:
            return ()
        return tuple(tuple(0 if a == b else rnd.randint(0, top) for b in range(count)) for a in range(count))

    before = tuple(
        (a, b) for a in range(size) for b in range(a + 1, size) if rnd.random() < rnd.choice([0.1, 0.4])
    )
    groups: tuple[tuple[int, ...], ...] = ()
    ties: tuple[tuple[int, int], ...] = ()
    if size >= 3 and rnd.random() < stress:
        groups = (pick(rnd.randint(1, 2)),)
        if rnd.random() < 0.5:
            ties = (pick(2),)
    triples = size >= 3
    return Problem(
        operations=tuple(tuple(way() for _ in range(rnd.choice([1, 1, 2, 3]))) for _ in range(size)),
        before=before,
        clamping_change=table(clampings),
        tool_change=tuple(rnd.randint(0, top) for _ in range(tools)),
        mode_change=table(modes),
        positioning=table(places, empty=0.3),
        home_positioning=tuple(rnd.randint(0, 5) for _ in range(places)) if rnd.random() < 0.6 else (),
        immediately_after=tuple(pick(2) for _ in some(1)),
        same_clamping=tuple(pick(2) for _ in some(2)),
        not_same_clamping=tuple(pick(2) for _ in some(1)),
        same_zero=tuple(pick(2) for _ in some(2)),
        re_references=tuple(rnd.randrange(size) for _ in some(2)),
        not_between=tuple(pick(3) for _ in some(2)) if triples else (),
        minimum_wait=tuple((*sorted(pick(2)), rnd.randint(0, 25)) for _ in some(2)),
        pinned=tuple((rnd.randrange(size), rnd.randrange(size)) for _ in some(1))
        if rnd.random() < 0.4
        else (),
        forbidden_neighbours=tuple(pick(2) for _ in some(2)),
        soft_before=tuple((*pick(2), rnd.randint(0, 12)) for _ in some(3)),
        opens=tuple((rnd.randrange(clampings), rnd.randrange(size)) for _ in some(1)),
        closes=tuple((rnd.randrange(clampings), rnd.randrange(size)) for _ in some(1)),
        opens_for=tuple((rnd.randrange(clampings), *pick(2)) for _ in some(2)),
        closes_for=tuple((rnd.randrange(clampings), *pick(2)) for _ in some(2)),
        single_visit=tuple(rnd.randrange(clampings) for _ in some(2)),
        either_or=groups,
        only_with=ties,
        tool_weight=tuple(rnd.randint(0, 2) for _ in range(tools)) if rnd.random() < 0.3 else (),
        capacity=rnd.randint(1, tools) if rnd.random() < 0.3 else -1,
    )


def with_groups(problem: Problem, seed: int) -> Problem:
    """Put some operations into either-or groups at random, and draw arrows between whole groups.

    Parameters
    ----------
    problem
        The problem.
    seed
        Chooses the groups.
    """
    rnd = random.Random(seed)
    left = rnd.sample(range(problem.size), problem.size)
    groups = []
    while len(left) > 1 and rnd.random() < 0.8:
        count = min(len(left), rnd.randint(1, 3))
        groups.append(tuple(left[:count]))
        left = left[count:]
    arcs = set(problem.before)
    for number, first in enumerate(groups):
        for second in groups[number + 1 :]:
            if rnd.random() < 0.3:
                arcs |= {(b, a) for a in second for b in first}
    return replace(problem, either_or=tuple(groups), before=tuple(sorted(arcs)))


def selections(problem: Problem) -> Iterator[tuple[int, ...]]:
    """List the sets of operations that may be done: every set, held against groups and ties.

    Parameters
    ----------
    problem
        The problem.
    """
    for kept in product((False, True), repeat=problem.size):
        done = tuple(op for op in range(problem.size) if kept[op])
        kinds = {"operations", "either_or", "only_with"}
        if not any(one.constraint.kind in kinds for one in check(problem, done, [0] * problem.size)):
            yield done


def _orders(problem: Problem, selection: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    def extend(order: tuple[int, ...], left: frozenset[int]) -> Iterator[tuple[int, ...]]:
        if not left:
            yield order
        for op in sorted(left):
            if not any(b == op and a in left for a, b in problem.before):
                yield from extend((*order, op), left - {op})

    yield from extend((), frozenset(selection))


def enumerate_all(problem: Problem, objective: Objective) -> tuple[int, ...] | None:
    """Value of the best order by trying every order and choice with the checker, None if none is allowed.

    Parameters
    ----------
    problem
        The problem.
    objective
        The levels.
    """
    best: tuple[int, ...] | None = None
    for selection in selections(problem):
        for order in _orders(problem, selection):
            for picked in product(*(range(len(problem.operations[op])) for op in selection)):
                choice = [-1] * problem.size
                for op, way in zip(selection, picked, strict=True):
                    choice[op] = way
                values = evaluate(problem, order, choice).values(objective)
                if (best is None or values < best) and not check(problem, order, choice):
                    best = values
    return best
