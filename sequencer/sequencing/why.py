"""Why one operation stands before another, and what the other way round would break and cost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from sequencer.errors import NoPlan, SequencerError
from sequencer.operations import OperationList
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing.order import make_sequence
from sequencer.sequencing.steps import Level, Sequence

#: Rule under which the swap itself is asked for.
ASKED = "asked"


@dataclass(frozen=True)
class Why:
    """The answer to "why is this before that".

    Parameters
    ----------
    first, second
        The two operations in the order of the plan.
    chain
        Shortest chain of reasons from the first to the second; empty if only cost puts them so.
    broken
        Fewest musts that must be dropped before the second can stand before the first.
    swapped
        Best order with the two the other way round, those musts dropped; None if none exists.
    levels
        Levels of the plan, for comparison.
    obstacle
        Why no order has them the other way round even so; empty if there is one.
    shoulds
        Shoulds that only the swapped order breaks.
    """

    first: str
    second: str
    chain: tuple[Dependency, ...]
    broken: tuple[Dependency, ...]
    swapped: Sequence | None
    levels: tuple[Level, ...]
    obstacle: str
    shoulds: tuple[Dependency, ...]

    @property
    def extra_minutes(self) -> float:
        """Minutes that the swapped order costs more; below 0 if it breaks something to save time [min]."""
        if self.swapped is None:
            return 0.0
        mine, other = self.levels[-1], self.swapped.levels[-1]
        return other.value - mine.value


def explain_pair(
    operations: OperationList,
    graph: DependencyGraph,
    sequence: Sequence,
    one: str,
    other: str,
    *,
    seconds: float = 10.0,
    stop: Callable[[], bool] | None = None,
) -> Why:
    """Say why two operations stand in the order that the plan gives them.

    Parameters
    ----------
    operations, graph, sequence
        Stages of the plan.
    one, other
        Names of the two operations, in any order.
    seconds
        Longest search time for the swapped order [s].
    stop
        Asked now and then whether to stop.

    Raises
    ------
    SequencerError
        When a name is unknown, or both are the same.
    """
    place = {step.operation.name: index for index, step in reversed(list(enumerate(sequence.steps)))}
    for name in (one, other):
        if name not in place:
            raise unknown_operation(name, tuple(place))
    if one == other:
        raise SequencerError(f"{one} is named twice", where="why", remedy="name two operations")
    first, second = sorted((one, other), key=lambda name: place[name])
    broken = graph.cut(first, second)
    opening = [name for name in (first, second) if operations.by_name[name].opening]
    if opening:
        swapped, obstacle = None, f"{opening[0]} opens its clamping: it always stands at the beginning"
    else:
        swapped, obstacle = _search(operations, _relaxed(graph, broken, first, second), seconds, stop)
    kept = set(sequence.broken)
    held = _held(operations, graph, sequence)
    return Why(
        first=first,
        second=second,
        chain=held.chain(first, second),
        broken=broken,
        swapped=swapped,
        levels=sequence.levels,
        obstacle=obstacle,
        shoulds=() if swapped is None else tuple(each for each in swapped.broken if each not in kept),
    )


def as_chosen(operations: OperationList, sequence: Sequence) -> OperationList:
    """Leave each operation only the alternative that an order does it by.

    Parameters
    ----------
    operations
        All operations.
    sequence
        The order.
    """
    chosen = {step.operation.name: step.alternative for step in sequence.steps}
    narrowed = tuple(
        replace(operation, alternatives=(chosen[operation.name],)) if operation.name in chosen else operation
        for operation in operations.operations
    )
    return replace(operations, operations=narrowed)


def _held(operations: OperationList, graph: DependencyGraph, sequence: Sequence) -> DependencyGraph:
    """Give the dependencies as they hold in this plan: with its clampings, without the shoulds it breaks."""
    broken = set(sequence.broken)
    return replace(
        graph,
        operations=as_chosen(operations, sequence),
        dependencies=tuple(each for each in graph.dependencies if each not in broken),
    )


def _relaxed(
    graph: DependencyGraph, broken: tuple[Dependency, ...], first: str, second: str
) -> DependencyGraph:
    asked = Dependency(Relation.BEFORE, second, first, rule=ASKED, reason="the other way round")
    dropped = set(broken)
    kept = tuple(
        dependency
        for dependency in graph.dependencies
        if dependency not in dropped
        and not (
            dependency.strength is Strength.MUST
            and dependency.relation is Relation.IMMEDIATELY_AFTER
            and (dependency.first, dependency.second) == (first, second)
        )
    )
    return replace(graph, dependencies=(*kept, asked))


def _search(
    operations: OperationList,
    graph: DependencyGraph,
    seconds: float,
    stop: Callable[[], bool] | None,
) -> tuple[Sequence | None, str]:
    try:
        return make_sequence(operations, graph, seconds=seconds, stop=stop), ""
    except NoPlan as error:
        return None, str(error)


def unknown_operation(name: str, known: tuple[str, ...], where: str = "why") -> SequencerError:
    """Make the error for an operation that the plan does not have, with near misses.

    Parameters
    ----------
    name
        What was asked for.
    known
        Names of the plan's operations.
    where
        What asked for it.
    """
    from difflib import get_close_matches

    near = get_close_matches(name, known, n=3, cutoff=0.5)
    of_feature = [each for each in known if each.split("/")[0] == name]
    listed = of_feature or near or list(known[:8])
    return SequencerError(
        f"no operation is called {name!r}", where=where, remedy=f"did you mean {', '.join(listed)}?"
    )
