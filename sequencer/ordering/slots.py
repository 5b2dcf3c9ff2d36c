"""Either-or groups as slots of the search: the operations of which exactly one fills the slot.

A slot is done when one of its operations is. A constraint that needs to know which one it was cannot be told
from a set of slots; the groups it concerns are decided beforehand, each choice giving a model of its own.
An arrow from a member to an operation outside need not know: once that operation is done, the member is
barred from its slot, and a sister must fill it. An arrow into a group need not know either, nor need arrows
between two groups if all members of one come before all of the other.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from typing import Final

from sequencer.ordering.problem import Pair, Problem

#: For each operation of the search the operations of which exactly one is done there.
Slots = tuple[tuple[int, ...], ...]

#: Constraints between operations that need to know which member was done.
_TELLING: Final = (
    "immediately_after",
    "same_clamping",
    "not_same_clamping",
    "same_zero",
    "not_between",
    "forbidden_neighbours",
    "only_with",
)


def arrows(problem: Problem) -> Iterator[Pair]:
    """List the pairs of which the first is done before the second, if both are done.

    Parameters
    ----------
    problem
        The problem.
    """
    yield from problem.before
    yield from ((a, b) for a, b, _ in problem.minimum_wait)
    yield from problem.immediately_after


def choices(problem: Problem) -> int:
    """Count the ways to decide the groups that must be decided beforehand.

    Parameters
    ----------
    problem
        The problem.
    """
    count = 1
    for index in _decided(problem):
        count *= len(problem.either_or[index])
    return count


def settlements(problem: Problem) -> Iterator[Slots]:
    """List the slots for each way to decide those groups.

    Parameters
    ----------
    problem
        The problem.
    """
    decided = _decided(problem)
    kept = [group for index, group in enumerate(problem.either_or) if index not in decided]
    grouped = {op for group in problem.either_or for op in group}
    tied = _tied_sets(problem)
    seen: set[Slots] = set()
    for chosen in product(*(problem.either_or[index] for index in decided)):
        done = {op for op in range(problem.size) if op not in grouped} | set(chosen)
        out = {op for index in decided for op in problem.either_or[index]} - set(chosen)
        done -= {op for ties in tied if ties & out for op in ties if op not in grouped}
        if any(ties & done and ties & out for ties in tied):
            continue
        slots = tuple(sorted([*((op,) for op in done), *(tuple(sorted(group)) for group in kept)]))
        if slots not in seen:
            seen.add(slots)
            yield slots


def _decided(problem: Problem) -> tuple[int, ...]:
    """Groups that must be decided beforehand."""
    holder = {op: index for index, group in enumerate(problem.either_or) if len(group) > 1 for op in group}
    decided = {holder[op] for op in _told_apart(problem) if op in holder}
    decided |= {index for index, group in enumerate(problem.either_or) if len(group) == 1}
    drawn = set(arrows(problem))
    for a, b in sorted(drawn):
        one, two = holder.get(a, -1), holder.get(b, -1)
        if -1 in (one, two) or one == two or one in decided or two in decided:
            continue
        if not drawn.issuperset(product(problem.either_or[one], problem.either_or[two])):
            decided.add(min(one, two, key=lambda index: (len(problem.either_or[index]), index)))
    return tuple(sorted(decided))


def _told_apart(problem: Problem) -> Iterator[int]:
    """Operations whose being done, and not a sister's, matters to a constraint other than an arrow."""
    for name in _TELLING:
        for entry in getattr(problem, name):
            yield from entry
    yield from problem.re_references
    yield from (op for op, _ in problem.pinned)
    yield from (op for _, op in (*problem.opens, *problem.closes))
    yield from (op for _, op, _ in (*problem.opens_for, *problem.closes_for))
    for a, b, size in (*problem.minimum_wait, *problem.soft_before):
        if size:
            yield from (a, b)


def _tied_sets(problem: Problem) -> list[set[int]]:
    sets: list[set[int]] = []
    for pair in problem.only_with:
        joined = set(pair)
        rest = []
        for known in sets:
            if known & joined:
                joined |= known
            else:
                rest.append(known)
        sets = [*rest, joined]
    return sets
