"""What follows from dependencies: which clampings are left to each operation, and what comes before what."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property

from sequencer.operations import Operation
from sequencer.precedence.arrows import (
    Arrow,
    Reachability,
    arrows_of,
    forced_returns,
    joined_operations,
    meant_by,
    order_of_clampings,
    possible_clampings,
)
from sequencer.precedence.dependency import Dependency, Relation


@dataclass(frozen=True)
class Bar:
    """A clamping in which an operation cannot be done, and why.

    Parameters
    ----------
    operation, clamping
        Their names.
    because
        What opens or closes the clamping.
    """

    operation: str
    clamping: str
    because: Dependency


@dataclass(frozen=True)
class Deduction:
    """What certainly follows from a set of dependencies.

    Parameters
    ----------
    dependencies
        The dependencies.
    possible
        Clampings left to each operation.
    arrows
        Arrows between single operations, certain and conditional ones.
    reach
        What certainly follows on what.
    bars
        Clampings that are struck off.
    stuck
        Operations to which no clamping is left, though they can be done somewhere by themselves.
    """

    dependencies: tuple[Dependency, ...]
    possible: dict[str, tuple[str, ...]]
    arrows: tuple[Arrow, ...]
    reach: Reachability
    bars: tuple[Bar, ...]
    stuck: tuple[str, ...]

    @cached_property
    def certain(self) -> tuple[Arrow, ...]:
        """Arrows that bind whatever clampings are chosen."""
        return tuple(arrow for arrow in self.arrows if arrow.certain and arrow.must)

    @cached_property
    def order(self) -> tuple[tuple[str, str], ...]:
        """Pairs of clampings of which the first must be visited before the second can be opened."""
        return order_of_clampings(self.dependencies, self.possible, self.reach)

    @cached_property
    def returns(self) -> frozenset[tuple[str, str]]:
        """Pairs of clampings of which the first must be visited again after work in the second."""
        return forced_returns(self.order, self.possible, self.reach)

    @property
    def looped(self) -> bool:
        """Whether the certain arrows form a loop."""
        return any(self.reach.leads(name, name) for name in self.reach.names)


def deduce(operations: tuple[Operation, ...], dependencies: Iterable[Dependency]) -> Deduction:
    """Strike off clampings until nothing more follows.

    An operation that must come before what opens a clamping cannot be done in it, nor one that must come
    after what closes it. Each clamping struck off may make more arrows certain.

    Parameters
    ----------
    operations
        All operations.
    dependencies
        Their dependencies.
    """
    listed = tuple(dependencies)
    own = {operation.name: operation.clampings for operation in operations}
    groups = joined_operations(operations, listed)
    possible = possible_clampings(operations, listed)
    bars: dict[tuple[str, str], Bar] = {}
    while True:
        arrows = arrows_of(operations, listed, possible)
        certain = ((arrow.first, arrow.second) for arrow in arrows if arrow.certain and arrow.must)
        reach = Reachability(own, certain)
        stuck = tuple(name for name, clampings in own.items() if clampings and not possible[name])
        looped = any(reach.leads(name, name) for name in reach.names)
        fresh = () if stuck or looped else tuple(_bars(operations, listed, possible, reach))
        if not fresh:
            return Deduction(listed, possible, arrows, reach, tuple(bars.values()), stuck)
        for bar in fresh:
            bars.setdefault((bar.operation, bar.clamping), bar)
        possible = {
            name: tuple(c for c in left if all((other, c) not in bars for other in groups[name]))
            for name, left in possible.items()
        }


def _bars(
    operations: tuple[Operation, ...],
    dependencies: tuple[Dependency, ...],
    possible: dict[str, tuple[str, ...]],
    reach: Reachability,
) -> Iterator[Bar]:
    """Clampings that operations cannot be done in; what opens by cutting tells more than clamping itself."""
    by_name = {operation.name: operation for operation in operations}
    tied = [each for each in dependencies if each.relation in (Relation.OPENS, Relation.CLOSES)]
    for dependency in sorted(tied, key=lambda each: by_name[each.first].opening):
        index = reach.index[dependency.first]
        opens = dependency.relation is Relation.OPENS
        wrong = reach.above[index] if opens else reach.below[index]
        for name in meant_by(dependency, operations, by_name):
            if wrong >> reach.index[name] & 1 and dependency.clamping in possible[name]:
                yield Bar(name, dependency.clamping, dependency)
