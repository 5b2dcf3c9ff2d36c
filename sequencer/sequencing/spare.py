"""Clampings that the part file lists but the plan may not need."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from sequencer.operations import OperationList

#: Most spare clampings of which every choice is tried; with more, each is tried to be left out alone.
_MOST_SPARE = 3


def spare_clampings(operations: OperationList) -> tuple[str, ...]:
    """Give the clampings in which nothing must be cut: every cut has another clamping as well.

    A part that is heat treated keeps all that it lists: the same holding is listed again on purpose.

    Parameters
    ----------
    operations
        Operations with their alternatives.
    """
    if operations.part.heat_treatment is not None:
        return ()
    forced = {
        operation.clampings[0]
        for operation in operations.operations
        if operation.cuts and not operation.opening and len(operation.clampings) == 1
    }
    return tuple(clamping.name for clamping in operations.clampings if clamping.name not in forced)


def choices_of_clampings(operations: OperationList) -> Iterator[tuple[str, ...]]:
    """Give the sets of clampings worth trying, the smallest first, all of them last.

    Parameters
    ----------
    operations
        Operations with all clampings.
    """
    names = tuple(clamping.name for clamping in operations.clampings)
    spare = spare_clampings(operations)
    least = 0 if len(spare) <= _MOST_SPARE else len(spare) - 1
    for count in range(least, len(spare) + 1):
        for kept in combinations(spare, count):
            chosen = tuple(name for name in names if name in kept or name not in spare)
            if chosen:
                yield chosen
