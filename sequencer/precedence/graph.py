"""The dependency graph: asks and answers about the order that the rules demand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import TYPE_CHECKING

from sequencer.errors import Finding
from sequencer.operations import OperationList
from sequencer.precedence.arrows import Arrow, Reachability
from sequencer.precedence.deduction import Deduction, deduce
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.settle import shortest_way
from sequencer.units import Minutes

if TYPE_CHECKING:
    import networkx


@dataclass(frozen=True)
class CriticalChain:
    """The chain of operations, each of which must wait for the one before, that takes longest.

    Parameters
    ----------
    operations
        Names of the operations in order.
    arrows
        Why each waits for the one before.
    minutes
        Least minutes of all of them together, waits included [min].
    """

    operations: tuple[str, ...]
    arrows: tuple[Dependency, ...]
    minutes: Minutes


@dataclass(frozen=True)
class DependencyGraph:
    """Operations with their dependencies.

    Dependencies that hold only in some clamping count as arrows where they hold whatever clamping is chosen.

    Parameters
    ----------
    operations
        All operations.
    dependencies
        All dependencies.
    findings
        What the rules found besides.
    """

    operations: OperationList
    dependencies: tuple[Dependency, ...]
    findings: tuple[Finding, ...] = ()

    @cached_property
    def musts(self) -> tuple[Dependency, ...]:
        """Dependencies that bind."""
        return tuple(each for each in self.dependencies if each.strength is Strength.MUST)

    @cached_property
    def shoulds(self) -> tuple[Dependency, ...]:
        """Dependencies that cost minutes when they are broken."""
        return tuple(each for each in self.dependencies if each.strength is Strength.SHOULD)

    @cached_property
    def deduction(self) -> Deduction:
        """What follows from the dependencies."""
        return deduce(self.operations.operations, self.dependencies)

    @property
    def possible(self) -> dict[str, tuple[str, ...]]:
        """Clampings left to each operation."""
        return self.deduction.possible

    @cached_property
    def arrows(self) -> tuple[Arrow, ...]:
        """Arrows between single operations, certain ones before conditional ones, musts first."""
        return tuple(sorted(self.deduction.arrows, key=lambda arrow: (not arrow.certain, not arrow.must)))

    @cached_property
    def certain(self) -> tuple[Arrow, ...]:
        """Arrows that bind whatever clampings are chosen."""
        return tuple(arrow for arrow in self.arrows if arrow.certain and arrow.must)

    @property
    def reach(self) -> Reachability:
        """What certainly follows on what."""
        return self.deduction.reach

    # -- questions about one or two operations -----------------------------------------------------

    def leads(self, first: str, second: str) -> bool:
        """Say whether one operation must come before another.

        Parameters
        ----------
        first, second
            Names of the operations.

        Raises
        ------
        SequencerError
            When there is no such operation.
        """
        self._check(first, second)
        return self.reach.leads(first, second)

    def chain(self, first: str, second: str) -> tuple[Dependency, ...]:
        """Give the shortest chain of reasons why one operation comes before another; empty if none is.

        Musts alone are preferred, then musts with shoulds, then what holds only in some clamping; such a link
        names its clamping. Each link is written as "before".

        Parameters
        ----------
        first, second
            Names of the operations.

        Raises
        ------
        SequencerError
            When there is no such operation.
        """
        self._check(first, second)
        certain = [arrow for arrow in self.arrows if arrow.certain]
        for arrows in (self.certain, certain, self.arrows):
            way = shortest_way(arrows, first, second)
            if way:
                return tuple(as_before(arrow) for arrow in way)
        return ()

    def between(self, one: str, other: str) -> tuple[Dependency, ...]:
        """Give all dependencies that speak of both operations, in whichever direction.

        Parameters
        ----------
        one, other
            Names of the operations.

        Raises
        ------
        SequencerError
            When there is no such operation.
        """
        self._check(one, other)
        pair = {one, other}
        found = [d for d in self.dependencies if pair <= {d.first, d.second, d.third}]
        found += [arrow.because for arrow in self.arrows if {arrow.first, arrow.second} == pair]
        return tuple(dict.fromkeys(found))

    def of(self, operation: str) -> tuple[Dependency, ...]:
        """Give all dependencies of an operation, also those of all work in a clamping that it can be in.

        Parameters
        ----------
        operation
            Name of the operation.

        Raises
        ------
        SequencerError
            When there is no such operation.
        """
        self._check(operation)
        found = [d for d in self.dependencies if operation in (d.first, d.second, d.third)]
        found += [arrow.because for arrow in self.arrows if operation in (arrow.first, arrow.second)]
        return tuple(dict.fromkeys(found))

    def cut(self, first: str, second: str) -> tuple[Dependency, ...]:
        """Give the fewest musts that must be dropped before the second can stand before the first.

        Parameters
        ----------
        first, second
            Names of the operations.

        Raises
        ------
        SequencerError
            When there is no such operation.
        """
        import networkx as nx

        self._check(first, second)
        if not self.reach.leads(first, second):
            return ()
        graph: networkx.DiGraph[object] = nx.DiGraph()
        for number, dependency in enumerate(self.musts):
            ends = [arrow for arrow in self.certain if arrow.because is dependency]
            if not ends:
                continue
            into, out = ("in", number), ("out", number)
            graph.add_edge(into, out, capacity=1)
            for arrow in ends:
                graph.add_edge(arrow.first, into)
                graph.add_edge(out, arrow.second)
        _, (near, _) = nx.minimum_cut(graph, first, second)
        return tuple(
            dependency
            for number, dependency in enumerate(self.musts)
            if ("in", number) in near and ("out", number) not in near
        )

    # -- questions about the whole -----------------------------------------------------------------

    def cycle(self) -> tuple[Dependency, ...] | None:
        """Give the shortest loop of arrows that bind, or None if there is none.

        Each link is written as "before", with its rule and reason.
        """
        looped = [name for name in self.reach.names if self.reach.leads(name, name)]
        loops = [shortest_way(self.certain, name, name) for name in looped]
        if not loops:
            return None
        return tuple(as_before(arrow) for arrow in min(loops, key=len))

    def reduced(self, order: Iterable[str] | None = None) -> tuple[Dependency, ...]:
        """Leave out arrows that follow from others, for diagrams; each kept arrow is written as "before".

        Without an order the musts are reduced. With one, shoulds that the order keeps are reduced with them.

        Parameters
        ----------
        order
            Names of the operations in the order of a plan; operations that it leaves out have no arrows.

        Raises
        ------
        SequencerError
            When the order names no operation of the part, or the musts form a loop.
        """
        import networkx as nx

        arrows = list(self.certain)
        if order is not None:
            place: dict[str, int] = {}
            for number, name in enumerate(order):
                self._check(name)
                place.setdefault(name, number)
            arrows = [
                arrow
                for arrow in self.arrows
                if arrow.certain
                and arrow.first in place
                and arrow.second in place
                and (arrow.must or place[arrow.first] < place[arrow.second])
            ]
        graph: networkx.DiGraph[str] = nx.DiGraph()
        graph.add_nodes_from(self.reach.names)
        kept: dict[tuple[str, str], Arrow] = {}
        for arrow in arrows:
            kept.setdefault((arrow.first, arrow.second), arrow)
        graph.add_edges_from(kept)
        self._check_loop()
        edges = set(nx.transitive_reduction(graph).edges)
        return tuple(as_before(arrow) for ends, arrow in kept.items() if ends in edges)

    def critical_chain(self) -> CriticalChain:
        """Give the longest chain of operations that must wait for each other, by least minutes.

        Raises
        ------
        SequencerError
            When the musts form a loop.
        """
        self._check_loop()
        least = {
            operation.name: min((each.minutes for each in operation.alternatives), default=0.0)
            for operation in self.operations.operations
        }
        into: dict[str, list[Arrow]] = {}
        for arrow in self.certain:
            into.setdefault(arrow.second, []).append(arrow)
        ends: dict[str, Minutes] = {}
        last: dict[str, Arrow] = {}
        for name in sorted(least, key=lambda each: self.reach.above[self.reach.index[each]].bit_count()):
            start = 0.0
            for arrow in into.get(name, []):
                wait = arrow.because.minutes if arrow.because.relation is Relation.MINIMUM_WAIT else 0.0
                if ends[arrow.first] + wait > start or name not in last:
                    start, last[name] = ends[arrow.first] + wait, arrow
            ends[name] = start + least[name]
        if not ends:
            return CriticalChain((), (), 0.0)
        name = max(ends, key=lambda each: ends[each])
        minutes, chain, links = ends[name], [name], list[Dependency]()
        while name in last:
            links.append(as_before(last[name]))
            name = last[name].first
            chain.append(name)
        return CriticalChain(tuple(reversed(chain)), tuple(reversed(links)), minutes)

    def _check(self, *names: str) -> None:
        from sequencer.precedence.house import unknown_operation

        for name in names:
            if name not in self.operations.by_name:
                raise unknown_operation(name, tuple(self.operations.by_name))

    def _check_loop(self) -> None:
        from sequencer.errors import SequencerError

        loop = self.cycle()
        if loop is not None:
            raise SequencerError(
                "the musts form a loop: " + " ".join(explain_cycle(loop)),
                where="dependencies",
                remedy="Drop or soften one of them",
            )


def as_before(arrow: Arrow) -> Dependency:
    """Write an arrow as "first before second", with rule, reason and source of what it comes from.

    Parameters
    ----------
    arrow
        The arrow.
    """
    because = arrow.because
    if because.relation is Relation.BEFORE:
        return because
    wait = because.minutes if because.relation is Relation.MINIMUM_WAIT else 0.0
    clamping = "" if arrow.certain else because.clamping
    return replace(
        because,
        relation=Relation.BEFORE,
        first=arrow.first,
        second=arrow.second,
        clamping=clamping,
        minutes=wait,
    )


def explain_cycle(cycle: Iterable[Dependency]) -> tuple[str, ...]:
    """Say a loop in words, one sentence a link.

    Parameters
    ----------
    cycle
        Links of the loop.
    """
    return tuple(
        f'"{link.first}" must come before "{link.second}" ({link.rule}: {link.reason}).' for link in cycle
    )
