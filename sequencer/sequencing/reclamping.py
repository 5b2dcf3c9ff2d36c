"""What changing from one clamping to another takes: turning over only where another side comes up."""

from __future__ import annotations

from dataclasses import replace

from sequencer.operations import BENCH, Action, Alternative, Operation, OperationList
from sequencer.operations.general import NOTHING, RELEASED, TURNED, Handling, clamp_time
from sequencer.sequencing.times import to_units


def side_of(operations: OperationList, clamping: str) -> str:
    """Give the side of the drawing that looks up in a clamping, empty on the bench.

    Parameters
    ----------
    operations
        Operations with their clampings.
    clamping
        Name of the clamping.
    """
    return next((each.clamping.up for each in operations.clampings if each.name == clamping), "")


def sides(operations: OperationList) -> tuple[str, ...]:
    """List the sides that look up in some clamping, in the order of the clampings.

    Parameters
    ----------
    operations
        Operations with their clampings.
    """
    return tuple(dict.fromkeys(each.clamping.up for each in operations.clampings)) or ("",)


def opening_operations(operations: OperationList, clamping: str) -> tuple[Operation, ...]:
    """Steps that open a clamping: clamp, indicate.

    Parameters
    ----------
    operations
        Operations of the part.
    clamping
        Name of the clamping.
    """
    return tuple(
        operation
        for operation in operations.operations
        if operation.opening and operation.alternatives[0].clamping == clamping
    )


def handling(operations: OperationList, source: str, side: str, target: str) -> Handling:
    """Say what is done before clamping: nothing, release and lift, or turn over.

    From the bench, where the part lies as it was taken off, it is turned over only if another side comes up.

    Parameters
    ----------
    operations
        Operations with their clampings.
    source
        Clamping that the part comes from, or the bench.
    side
        Side that was up there.
    target
        Clamping that it goes into.
    """
    if side != side_of(operations, target):
        return TURNED
    if source != BENCH or _listed(operations, target) is not NOTHING:
        return RELEASED
    return NOTHING


def _listed(operations: OperationList, target: str) -> Handling:
    """Handling that the opening steps count with, from the clamping before in the list."""
    names = [each.name for each in operations.clampings]
    place = names.index(target)
    if place == 0:
        return NOTHING
    same = side_of(operations, names[place - 1]) == side_of(operations, target)
    return RELEASED if same else TURNED


def opening_way(
    operations: OperationList, opening: Operation, source: str, side: str, target: str
) -> Alternative:
    """Give an opening step with the time that it takes coming from a clamping.

    Parameters
    ----------
    operations
        Operations with their clampings.
    opening
        The opening step.
    source, side, target
        As in `handling`.
    """
    way = opening.alternatives[0]
    listed, needed = _listed(operations, target), handling(operations, source, side, target)
    if opening.action is not Action.CLAMP or listed is needed:
        return way
    times = operations.shop.machine.times
    actuation = operations.clamping_by_name[target].means.actuation
    told = clamp_time(times, needed, actuation)
    more = float(told.value) - float(clamp_time(times, listed, actuation).value)
    facts = tuple(told if fact.name == told.name else fact for fact in way.facts)
    return replace(way, minutes=way.minutes + more, facts=facts)


def opening_units(operations: OperationList, source: str, side: str, target: str) -> int:
    """Time of all opening steps of a clamping, coming from another, in the engine's units.

    Parameters
    ----------
    operations
        Operations with their clampings.
    source, side, target
        As in `handling`.
    """
    return sum(
        to_units(opening_way(operations, each, source, side, target).minutes)
        for each in opening_operations(operations, target)
    )
