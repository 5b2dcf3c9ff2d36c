"""Takes demands one by one; a wanted must that the clampings make impossible becomes a warning instead."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sequencer.errors import Finding, Severity
from sequencer.operations import BENCH, Operation
from sequencer.precedence.arrows import Arrow, is_plain, joined_operations
from sequencer.precedence.deduction import deduce
from sequencer.precedence.demands import Wanted
from sequencer.precedence.dependency import Dependency, Relation, Strength

_TOGETHER = (Relation.SAME_CLAMPING, Relation.SAME_ZERO)
_TIED = (Relation.OPENS, Relation.CLOSES)


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
        self.findings: tuple[Finding, ...] = ()
        self.waiting: tuple[Dependency, ...] = ()
        self.deduction = deduce(operations, dict.fromkeys(taken))

    @property
    def dependencies(self) -> tuple[Dependency, ...]:
        """All dependencies that are taken."""
        return self.deduction.dependencies

    @property
    def possible(self) -> dict[str, tuple[str, ...]]:
        """Clampings left to each operation."""
        return self.deduction.possible

    def take(self, dependencies: Iterable[Dependency]) -> None:
        """Take dependencies that give way to nothing.

        Parameters
        ----------
        dependencies
            The dependencies.
        """
        listed = dict.fromkeys((*self.dependencies, *dependencies))
        if len(listed) > len(self.dependencies):
            self.deduction = deduce(self.operations, listed)

    def want(self, wanted: Iterable[Wanted]) -> None:
        """Take what is wanted where the clampings allow it, and say what follows where they do not.

        Arrows are tried together; only if they leave an operation without a clamping is each tried by itself.

        Parameters
        ----------
        wanted
            Musts that give way.
        """
        listed = tuple(wanted)
        before, findings = self.deduction, self.findings
        self._want_all(listed, careful=False)
        if self.deduction.stuck and not before.stuck:
            self.deduction, self.findings = deduce(self.operations, before.dependencies), findings
            self._want_all(listed, careful=True)

    def _want_all(self, wanted: tuple[Wanted, ...], *, careful: bool) -> None:
        for each in wanted:
            dependency = each.dependency
            ends = (name for name in (dependency.first, dependency.second) if name)
            if any(not self.possible[name] for name in ends):
                continue  # an operation that no clamping can do is an error of its own
            alone = careful or dependency.relation in (*_TOGETHER, *_TIED)
            if alone:
                self._take_waiting()
            obstacle = self._obstacle(dependency, careful)
            if obstacle:
                self._warn(each, obstacle)
            elif alone:
                self.take((dependency,))
            else:
                self.deduction.reach.add(dependency.first, dependency.second)
                self.waiting = (*self.waiting, dependency)
        self._take_waiting()

    def _take_waiting(self) -> None:
        """Take the arrows that were only drawn so far."""
        waiting, self.waiting = self.waiting, ()
        self.take(waiting)

    def _warn(self, wanted: Wanted, obstacle: str) -> None:
        dependency = wanted.dependency
        where, subject = (dependency.second or dependency.first).split("/")[0], f"rule {dependency.rule}"
        if any((f.where, f.what, f.subject) == (where, wanted.otherwise, subject) for f in self.findings):
            return  # the other half of the same gear has said it
        limit = f"{_demand(dependency)}: {obstacle}"
        warning = Finding(Severity.WARNING, where, wanted.otherwise, limit, wanted.remedy, subject)
        self.findings = (*self.findings, warning)

    def _obstacle(self, dependency: Dependency, careful: bool) -> str:
        """Why a dependency cannot be kept in these clampings; empty if it can."""
        if dependency.relation in _TOGETHER:
            return self._obstacle_to_together(dependency)
        if dependency.relation in _TIED:
            return self._obstacle_to_trial(dependency)
        if self.deduction.reach.leads(dependency.second, dependency.first):
            way = self._way(dependency.second, dependency.first)
            if any(not is_plain(arrow.because) for arrow in way):
                return f"{dependency.second} must come first, since " + "; ".join(
                    f"{arrow.first} before {arrow.second} ({arrow.because.rule})" for arrow in way
                )
            return ""
        if careful and not self.deduction.stuck:
            stuck = deduce(self.operations, (*self.dependencies, dependency)).stuck
            if stuck:
                return f"no clamping would be left to {stuck[0]}"
        return self.new_return(dependency)

    def new_return(self, dependency: Dependency) -> str:
        """Say how an arrow would force the part back into a clamping that it has left; empty if it does not.

        Parameters
        ----------
        dependency
            The arrow.
        """
        reach = self.deduction.reach
        a, b = reach.index[dependency.first], reach.index[dependency.second]
        earlier = {*reach.listed(reach.above[a]), dependency.first}
        later = {*reach.listed(reach.below[b]), dependency.second}
        for one, two in self.deduction.order:
            if (one, two) in self.deduction.returns:
                continue
            goes_back = any(self.possible[name] == (two,) for name in earlier) and any(
                self.possible[name] == (one,) for name in later
            )
            if goes_back:
                return f"the part would go back to clamping {one} after clamping {two}"
        return ""

    def _obstacle_to_together(self, dependency: Dependency) -> str:
        groups = joined_operations(self.operations, self.dependencies)
        if dependency.second in groups[dependency.first]:
            return ""
        one, two = self.possible[dependency.first], self.possible[dependency.second]
        common = [clamping for clamping in one if clamping in two and clamping != BENCH]
        if not common:
            return f"{dependency.first} in {_listed(one)}, {dependency.second} in {_listed(two)}"
        obstacle = self._obstacle_to_trial(dependency)
        if obstacle:
            return obstacle
        between = self._elsewhere_between(dependency, common, groups)
        return f"{between}, which is done elsewhere, comes between" if between else ""

    def _obstacle_to_trial(self, dependency: Dependency) -> str:
        """Why a dependency cannot be kept once all that follows from it is deduced; empty if it can."""
        trial = deduce(self.operations, (*self.dependencies, replace(dependency, strength=Strength.MUST)))
        if trial.looped and not self.deduction.looped:
            if dependency.relation in _TIED:
                return "other rules put them the other way round"
            return "other rules put them into different clampings"
        if trial.stuck and not self.deduction.stuck:
            return f"no clamping would be left to {trial.stuck[0]}"
        fresh = [pair for pair in trial.returns if pair not in self.deduction.returns]
        if fresh:
            earlier, later = min(fresh)
            return f"the part would go back to clamping {earlier} after clamping {later}"
        return ""

    def _elsewhere_between(
        self, dependency: Dependency, common: list[str], groups: dict[str, tuple[str, ...]]
    ) -> str:
        joined = (*groups[dependency.first], *groups[dependency.second])
        reach = self.deduction.reach
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
        drawn = (Arrow(each.first, each.second, each) for each in self.waiting)
        return shortest_way((*self.deduction.certain, *drawn), first, second)


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
        Relation.OPENS: "before {b} in clamping {c}",
        Relation.CLOSES: "after {b} in clamping {c}",
    }
    said = words[dependency.relation].format(b=dependency.second or "all work", c=dependency.clamping)
    return f"{dependency.rule} wants {dependency.first} {said}"


def _listed(clampings: tuple[str, ...]) -> str:
    return " or ".join(clampings) if clampings else "no clamping"
