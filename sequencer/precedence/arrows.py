"""Which operations certainly come before which, whatever clamping each is done in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from sequencer.operations import BENCH, Operation
from sequencer.precedence.dependency import Dependency, Relation, Strength

_PLAIN = (Relation.BEFORE, Relation.IMMEDIATELY_AFTER, Relation.MINIMUM_WAIT)
_TOGETHER = (Relation.SAME_CLAMPING, Relation.SAME_ZERO)


@dataclass(frozen=True)
class Arrow:
    """One operation before another, because of a dependency.

    Parameters
    ----------
    first, second
        Names of the operations.
    because
        The dependency that says so.
    certain
        False if it holds only where the conditional operation is done in the dependency's clamping.
    """

    first: str
    second: str
    because: Dependency
    certain: bool = True

    @property
    def must(self) -> bool:
        """Whether it binds."""
        return self.because.strength is Strength.MUST


def is_plain(dependency: Dependency) -> bool:
    """Say whether a dependency is an arrow by itself, whatever the clampings.

    Parameters
    ----------
    dependency
        The dependency.
    """
    return dependency.relation in _PLAIN


def joined_operations(
    operations: Iterable[Operation], dependencies: Iterable[Dependency]
) -> dict[str, tuple[str, ...]]:
    """Give for each operation the operations that musts bind to the same clamping visit, itself included.

    Parameters
    ----------
    operations
        The operations.
    dependencies
        Their dependencies.
    """
    group: dict[str, tuple[str, ...]] = {operation.name: (operation.name,) for operation in operations}
    for dependency in dependencies:
        if dependency.relation in _TOGETHER and dependency.strength is Strength.MUST:
            one, other = group[dependency.first], group[dependency.second]
            if dependency.second not in one:
                joined = (*one, *other)
                group |= dict.fromkeys(joined, joined)
    return group


def possible_clampings(
    operations: Iterable[Operation], dependencies: Iterable[Dependency]
) -> dict[str, tuple[str, ...]]:
    """Give the clampings that each operation can be done in once those bound together are joined.

    Parameters
    ----------
    operations
        The operations.
    dependencies
        Their dependencies.
    """
    own = {operation.name: operation.clampings for operation in operations}
    group = joined_operations(operations, dependencies)
    return {
        name: tuple(c for c in own[name] if all(c in own[other] for other in names))
        for name, names in group.items()
    }


def arrows_of(
    operations: tuple[Operation, ...],
    dependencies: Iterable[Dependency],
    possible: Mapping[str, tuple[str, ...]],
) -> tuple[Arrow, ...]:
    """Turn dependencies into arrows between single operations.

    What opens or closes a clamping is certain for an operation that can be done only in clampings opened or
    closed by the same operation.

    Parameters
    ----------
    operations
        All operations.
    dependencies
        Their dependencies.
    possible
        Clampings that each operation can be done in.
    """
    plain: list[Arrow] = []
    conditional: dict[tuple[str, str], dict[str, Dependency]] = {}
    by_name = {operation.name: operation for operation in operations}
    for dependency in dependencies:
        if dependency.relation in _PLAIN:
            plain.append(Arrow(dependency.first, dependency.second, dependency))
        elif dependency.relation in (Relation.OPENS, Relation.CLOSES):
            for name in meant_by(dependency, operations, by_name):
                if dependency.clamping in possible[name]:
                    ends = (dependency.first, name)
                    if dependency.relation is Relation.CLOSES:
                        ends = (name, dependency.first)
                    conditional.setdefault(ends, {}).setdefault(dependency.clamping, dependency)
    found = list(plain)
    for (first, second), by_clamping in conditional.items():
        for name in (first, second):
            meant = [d for d in by_clamping.values() if name != d.first]
            covered = {d.clamping for d in meant}
            if meant and covered >= set(possible[name]):
                found.append(Arrow(first, second, meant[0]))
                break
        else:
            found.extend(Arrow(first, second, d, certain=False) for d in by_clamping.values())
    return tuple(found)


def meant_by(
    dependency: Dependency, operations: tuple[Operation, ...], by_name: Mapping[str, Operation]
) -> Iterator[str]:
    """Give the operations that a dependency tied to a clamping speaks of.

    Parameters
    ----------
    dependency
        What opens or closes a clamping.
    operations
        All operations.
    by_name
        The same by name.
    """
    if dependency.second:
        yield dependency.second
        return
    first = by_name[dependency.first]
    for operation in operations:
        both_open = first.opening and operation.opening and dependency.clamping in operation.clampings
        if operation.name != first.name and not both_open:
            yield operation.name


class Reachability:
    """Which operations follow which along arrows; grows by one arrow at a time.

    Parameters
    ----------
    names
        Names of the operations.
    arrows
        Pairs of names, first before second.
    """

    def __init__(self, names: Iterable[str], arrows: Iterable[tuple[str, str]]) -> None:
        self.index = {name: number for number, name in enumerate(names)}
        self.names = tuple(self.index)
        self.below = [0] * len(self.names)
        self.above = [0] * len(self.names)
        for first, second in arrows:
            self.add(first, second)

    def add(self, first: str, second: str) -> None:
        """Add an arrow.

        Parameters
        ----------
        first, second
            Names of the operations.
        """
        a, b = self.index[first], self.index[second]
        if self.below[a] >> b & 1:
            return
        earlier = self.above[a] | 1 << a
        later = self.below[b] | 1 << b
        for number in members(earlier):
            self.below[number] |= later
        for number in members(later):
            self.above[number] |= earlier

    def leads(self, first: str, second: str) -> bool:
        """Say whether arrows lead from one operation to another.

        Parameters
        ----------
        first, second
            Names of the operations.
        """
        return bool(self.below[self.index[first]] >> self.index[second] & 1)

    def mask(self, names: Iterable[str]) -> int:
        """Give a set of operations as bits.

        Parameters
        ----------
        names
            Their names.
        """
        return sum(1 << self.index[name] for name in dict.fromkeys(names))

    def listed(self, mask: int) -> tuple[str, ...]:
        """Give the names of a set of bits, in order.

        Parameters
        ----------
        mask
            The set.
        """
        return tuple(self.names[number] for number in members(mask))


def members(mask: int) -> Iterator[int]:
    """List the numbers in a set of bits, smallest first.

    Parameters
    ----------
    mask
        The set.
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def order_of_clampings(
    dependencies: Iterable[Dependency], possible: Mapping[str, tuple[str, ...]], reach: Reachability
) -> tuple[tuple[str, str], ...]:
    """Pairs of clampings of which the first must be visited before the second can be opened.

    Parameters
    ----------
    dependencies
        All dependencies.
    possible
        Clampings that each operation can be done in.
    reach
        What certainly follows on what.
    """
    only = {name: clampings[0] for name, clampings in possible.items() if len(clampings) == 1}
    pairs: dict[tuple[str, str], None] = {}
    for dependency in dependencies:
        if dependency.relation is Relation.OPENS and not dependency.second:
            needed = (*reach.listed(reach.above[reach.index[dependency.first]]), dependency.first)
            for name in needed:
                earlier = only.get(name, "")
                if earlier not in ("", BENCH, dependency.clamping):
                    pairs[(earlier, dependency.clamping)] = None
    return tuple(pairs)


def forced_returns(
    order: Iterable[tuple[str, str]], possible: Mapping[str, tuple[str, ...]], reach: Reachability
) -> frozenset[tuple[str, str]]:
    """Pairs of clampings of which the first must be visited again after work in the second.

    Parameters
    ----------
    order
        Pairs of clampings in the order that they open.
    possible
        Clampings that each operation can be done in.
    reach
        What certainly follows on what.
    """
    returns = set()
    for earlier, later in order:
        in_earlier = reach.mask(name for name, where in possible.items() if where == (earlier,))
        in_later = [name for name, where in possible.items() if where == (later,)]
        if any(reach.below[reach.index[name]] & in_earlier for name in in_later):
            returns.add((earlier, later))
    return frozenset(returns)
