"""Sets aside alternatives that lose more time than all the changes which they could save."""

from __future__ import annotations

from sequencer.operations import Alternative, Operation, OperationList
from sequencer.sequencing.times import tool_change_minutes
from sequencer.units import Minutes


def worthwhile(operation: Operation, operations: OperationList) -> tuple[int, ...]:
    """Give the alternatives of an operation that are worth a place in the search, as indices.

    Source: derived. In any order a quick alternative can take the place of a slow one in the same clamping at
    the price of at most two tool changes and two mode changes, there and back; an alternative that loses more
    than that is in no order of least time. The same measure is kept when changes are counted before minutes:
    nobody mills a gear for hours to save the change to a hob. Work that can be done here is not sent out.

    Parameters
    ----------
    operation
        The operation.
    operations
        All operations, with the shop.
    """
    in_house = any(alternative.lead_time == 0 for alternative in operation.alternatives)
    quickest: dict[str, Alternative] = {}
    for alternative in operation.alternatives:
        best = quickest.get(alternative.clamping)
        if best is None or alternative.minutes < best.minutes:
            quickest[alternative.clamping] = alternative
    return tuple(
        index
        for index, alternative in enumerate(operation.alternatives)
        if not (in_house and alternative.lead_time > 0)
        and alternative.minutes
        <= quickest[alternative.clamping].minutes
        + most_saved(alternative, quickest[alternative.clamping], operations)
    )


def cut_here(operation: Operation) -> tuple[int, ...]:
    """Give the alternatives of an operation that are done in the shop, or all if none is, as indices.

    Source: derived. Where pockets are scarce a slow alternative may be the only one whose tool has a place.

    Parameters
    ----------
    operation
        The operation.
    """
    here = tuple(i for i, alternative in enumerate(operation.alternatives) if alternative.lead_time == 0)
    return here or tuple(range(len(operation.alternatives)))


def most_saved(slow: Alternative, quick: Alternative, operations: OperationList) -> Minutes:
    """Give the most time that changes can cost when a quick alternative takes the place of a slow one [min].

    Source: derived; see `worthwhile`.

    Parameters
    ----------
    slow, quick
        Alternatives of one operation in one clamping.
    operations
        All operations, with the shop.
    """
    changes = sum(tool_change_minutes(operations, each.tool) for each in (slow, quick) if each.tool)
    return changes + 2 * operations.shop.machine.times.mode_change
