"""Takes demands one by one; a wanted must that the clampings make impossible becomes a warning instead."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sequencer.errors import Finding, Severity
from sequencer.operations import BENCH, Operation
from sequencer.precedence.arrows import (
    Arrow,
    Reachability,
    arrows_of,
    forced_returns,
    is_plain,
    joined_operations,
    order_of_clampings,
    possible_clampings,
)
from sequencer.precedence.demands import Wanted
from sequencer.precedence.dependency import Dependency, Relation, Strength

_TOGETHER = (Relation.SAME_CLAMPING, Relation.SAME_ZERO)


class Settlement:
    """Dependencies that are taken so far, and what follows from them.

    Parameters
    ----------
    operations
        All operations.
    taken
        Dependencies to begin with.
    """

    def __init__(self, operations: tuple[Operation, ...], taken: Iterable[Dependency] = ()) -> None:
        self.operations = operations
        self.taken: dict[Dependency, None] = {}
        self.findings: list[Finding] = []
        self.take(taken)

    @property
    def dependencies(self) -> tuple[Dependency, ...]:
        """All dependencies that are taken."""
        return tuple(self.taken)

    def take(self, dependencies: Iterable[Dependency]) -> None:
        """Take dependencies that give way to nothing.

        Parameters
        ----------
        dependencies
            The dependencies.
        """
        self.taken |= dict.fromkeys(dependencies)
        self._reckon()

    def _reckon(self) -> None:
        """Work out anew what is certain."""
        self.possible = possible_clampings(self.operations, self.taken)
        self.arrows = tuple(
            arrow
            for arrow in arrows_of(self.operations, self.taken, self.possible)
            if arrow.certain and arrow.must
        )
        names = [operation.name for operation in self.operations]
        self.reach = Reachability(names, ((arrow.first, arrow.second) for arrow in self.arrows))
        self.order = order_of_clampings(self.taken, self.possible, self.reach)
        self.returns = forced_returns(self.order, self.possible, self.reach)

    def want(self, wanted: Iterable[Wanted]) -> None:
        """Take what is wanted where the clampings allow it, and say what follows where they do not.

        Parameters
        ----------
        wanted
            Musts that give way.
        """
        for each in wanted:
            self._want_one(each)

    def _want_one(self, wanted: Wanted) -> None:
        dependency = wanted.dependency
        if any(not self.possible[name] for name in (dependency.first, dependency.second)):
            return  # an operation that no clamping can do is an error of its own
        obstacle = self._obstacle(dependency)
        if not obstacle:
            self.taken[dependency] = None
            if dependency.strength is Strength.MUST:
                self._reckon_with(dependency)
            return
        where, subject = dependency.second.split("/")[0], f"rule {dependency.rule}"
        if any((f.where, f.what, f.subject) == (where, wanted.otherwise, subject) for f in self.findings):
            return  # the other half of the same gear has said it
        limit = f"{_demand(dependency)}: {obstacle}"
        self.findings.append(
            Finding(Severity.WARNING, where, wanted.otherwise, limit, wanted.remedy, subject)
        )

    def _reckon_with(self, dependency: Dependency) -> None:
        if dependency.relation in _TOGETHER:
            self._reckon()
        elif is_plain(dependency):
            self.arrows = (*self.arrows, Arrow(dependency.first, dependency.second, dependency))
            self.reach.add(dependency.first, dependency.second)
            self.order = order_of_clampings(self.taken, self.possible, self.reach)

    def _obstacle(self, dependency: Dependency) -> str:
        """Why a dependency cannot be kept in these clampings; empty if it can."""
        if dependency.relation in _TOGETHER:
            return self._obstacle_to_together(dependency)
        if self.reach.leads(dependency.second, dependency.first):
            way = self._way(dependency.second, dependency.first)
            if any(not is_plain(arrow.because) for arrow in way):
                return f"{dependency.second} must come first, since " + "; ".join(
                    f"{arrow.first} before {arrow.second} ({arrow.because.rule})" for arrow in way
                )
            return ""
        return self.new_return(dependency)

    def new_return(self, dependency: Dependency) -> str:
        """Say how an arrow would force the part back into a clamping that it has left; empty if it does not.

        Parameters
        ----------
        dependency
            The arrow.
        """
        reach = self.reach
        a, b = reach.index[dependency.first], reach.index[dependency.second]
        earlier = {*reach.listed(reach.above[a]), dependency.first}
        later = {*reach.listed(reach.below[b]), dependency.second}
        for one, two in self.order:
            if (one, two) in self.returns:
                continue
            goes_back = any(self.possible[name] == (two,) for name in earlier) and any(
                self.possible[name] == (one,) for name in later
            )
            if goes_back:
                return f"the part would go back to clamping {one} after clamping {two}"
        return ""

    def _obstacle_to_together(self, dependency: Dependency) -> str:
        groups = joined_operations(self.operations, self.taken)
        if dependency.second in groups[dependency.first]:
            return ""
        one, two = self.possible[dependency.first], self.possible[dependency.second]
        common = [clamping for clamping in one if clamping in two and clamping != BENCH]
        if not common:
            return f"{dependency.first} in {_listed(one)}, {dependency.second} in {_listed(two)}"
        trial = Settlement(self.operations, (*self.taken, replace(dependency, strength=Strength.MUST)))
        if any(trial.reach.leads(name, name) for name in trial.reach.names) and not any(
            self.reach.leads(name, name) for name in self.reach.names
        ):
            return "other rules put them into different clampings"
        fresh = [pair for pair in trial.returns if pair not in self.returns]
        if fresh:
            earlier, later = min(fresh)
            return f"the part would go back to clamping {earlier} after clamping {later}"
        between = self._elsewhere_between(dependency, common, groups)
        return f"{between}, which is done elsewhere, comes between" if between else ""

    def _elsewhere_between(
        self, dependency: Dependency, common: list[str], groups: dict[str, tuple[str, ...]]
    ) -> str:
        joined = (*groups[dependency.first], *groups[dependency.second])
        reach = self.reach
        below = above = 0
        for name in joined:
            below |= reach.below[reach.index[name]]
            above |= reach.above[reach.index[name]]
        for name in reach.listed(below & above):
            where = self.possible[name]
            if where and not any(clamping in where for clamping in common):
                return name
        return ""

    def _way(self, first: str, second: str) -> tuple[Arrow, ...]:
        return shortest_way(self.arrows, first, second)


def shortest_way(arrows: Iterable[Arrow], first: str, second: str) -> tuple[Arrow, ...]:
    """Give the fewest arrows that lead from one operation to another; none if there is no way.

    Parameters
    ----------
    arrows
        The arrows, in the order of preference between equals.
    first, second
        Names of the operations; equal to ask for the shortest loop through it.
    """
    from_each: dict[str, list[Arrow]] = {}
    for arrow in arrows:
        from_each.setdefault(arrow.first, []).append(arrow)
    came: dict[str, Arrow] = {}
    front = [first]
    while front:
        fresh: list[str] = []
        for name in front:
            for arrow in from_each.get(name, []):
                if arrow.second not in came:
                    came[arrow.second] = arrow
                    if arrow.second == second:
                        return _traced(came, first, second)
                    fresh.append(arrow.second)
        front = fresh
    return ()


def _traced(came: dict[str, Arrow], first: str, second: str) -> tuple[Arrow, ...]:
    way = [came[second]]
    while way[-1].first != first:
        way.append(came[way[-1].first])
    return tuple(reversed(way))


def _demand(dependency: Dependency) -> str:
    words = {
        Relation.SAME_CLAMPING: "and {b} in one clamping",
        Relation.SAME_ZERO: "and {b} from one zero",
        Relation.BEFORE: "before {b}",
    }
    return f"{dependency.rule} wants {dependency.first} " + words[dependency.relation].format(
        b=dependency.second
    )


def _listed(clampings: tuple[str, ...]) -> str:
    return " or ".join(clampings) if clampings else "no clamping"
