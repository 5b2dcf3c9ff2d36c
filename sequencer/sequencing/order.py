"""Searches the order and turns the engine's answer into steps with their times and reasons."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from math import fsum
from typing import Final, Literal

from sequencer.errors import NoPlan, ProofBroken, SequencerError, Severity, sentence
from sequencer.operations import BENCH, Alternative, Mode, Operation, OperationList
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Objective
from sequencer.ordering.problem import Level as Weighted
from sequencer.ordering.result import Progress, Result
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing.integers import IntegerProblem, Places, make_problem
from sequencer.sequencing.reclamping import opening_operations, opening_way, side_of
from sequencer.sequencing.steps import Change, Level, Sequence, Step
from sequencer.sequencing.times import (
    positioning_minutes,
    to_minutes,
    to_units,
    tool_change_minutes,
)
from sequencer.units import Minutes, shown

Aim = Literal["clampings", "changes", "minutes"]

#: What each aim makes least, in words and as levels.
OBJECTIVES: Final[dict[Aim, tuple[str, Objective]]] = {
    "clampings": (
        "fewest clampings, then least total minutes",
        (Weighted("clampings", (("clampings", 1),)), Weighted("time", (("time", 1), ("penalty", 1)))),
    ),
    "changes": ("fewest clampings, then tool changes, then mode changes, then minutes", LEXICOGRAPHIC),
    "minutes": ("least total minutes", TOTAL_TIME),
}

_LEVEL_NAMES: Final = {
    "clampings": "clampings",
    "tools": "tool changes",
    "modes": "mode changes",
    "time": "minutes and penalties",
}


def make_sequence(
    operations: OperationList,
    graph: DependencyGraph,
    *,
    aim: Aim = "clampings",
    seconds: float = 20.0,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    places: Places | None = None,
) -> Sequence:
    """Choose one alternative for each operation and an order in which all musts hold, at least cost.

    Parameters
    ----------
    operations
        Operations with their alternatives.
    graph
        Their dependencies.
    aim
        What is least, a key of `OBJECTIVES`.
    seconds
        Longest search time [s].
    on_progress
        Told about the progress.
    stop
        Asked now and then whether to stop with the best order so far.
    places
        Pockets that its tools may take together; no limit if left out.

    Raises
    ------
    NoPlan
        When an operation has no alternative, or the dependencies contradict each other.
    ProofBroken
        When the independent check finds the engine's order invalid.
    """
    from sequencer.ordering.solve import solve

    refuse_errors(operations)
    words, objective = _objective(aim, seconds)
    integers = make_problem(operations, graph, places)
    result = solve(integers.problem, objective=objective, seconds=seconds, on_progress=on_progress, stop=stop)
    if not result.order and result.status != "impossible":
        # Stopped before anything was found: a first order is looked for all the same.
        result = solve(integers.problem, objective=objective, seconds=_FIRST_ORDER)
    if result.status == "impossible":
        raise _impossible(integers, result)
    if not result.order:
        raise NoPlan(
            "the search was stopped before it found a first order, and none was proven impossible",
            remedy="give the search more time with --seconds",
        )
    verify(integers, result, objective)
    return to_sequence(operations, graph, integers, result, words)


#: Time in which a first order is looked for after the search was stopped [s].
_FIRST_ORDER = 5.0


def _objective(aim: Aim, seconds: float) -> tuple[str, Objective]:
    if aim not in OBJECTIVES:
        raise SequencerError(f"no aim is called {aim!r}", where="aim", remedy=f"use {', '.join(OBJECTIVES)}")
    if not seconds > 0:
        raise SequencerError(f"{seconds!r} s is no time to search", where="seconds", limit="above 0")
    return OBJECTIVES[aim]


def refuse_errors(operations: OperationList) -> None:
    """Refuse to plan what this shop cannot hold or cut.

    Parameters
    ----------
    operations
        Operations with their findings.

    Raises
    ------
    NoPlan
        When an operation has no alternative, or a finding is an error; with what was tried.
    """
    gaps = [operation for operation in operations.operations if not operation.alternatives]
    names = {operation.name for operation in gaps}
    errors = [
        sentence(finding.where, finding.what, finding.limit, finding.remedy)
        for finding in operations.findings
        if finding.severity is Severity.ERROR and finding.where not in names
    ]
    if errors and not gaps:
        what = "the shop cannot hold or cut this part as it stands"
        raise NoPlan(what, conflicts=tuple(errors), findings=operations.findings)
    if gaps:
        raise _gaps(operations, gaps, errors)


def _gaps(operations: OperationList, gaps: list[Operation], errors: list[str]) -> NoPlan:
    first = {operation.feature: operation for operation in reversed(gaps)}
    conflicts = tuple(
        _tried(operation, [each.name for each in gaps if each.feature == feature and each is not operation])
        for feature, operation in sorted(first.items(), key=lambda pair: gaps.index(pair[1]))
    )
    return NoPlan(
        f"{len(gaps)} operation{'s' if len(gaps) > 1 else ''} cannot be done in this shop",
        conflicts=(*errors, *conflicts),
        findings=operations.findings,
        remedy="each line says what was tried; change the part, the clampings or the tools accordingly",
    )


#: Most rejections of one operation that a message tells.
_MOST_TOLD = 5


def _tried(operation: Operation, others: list[str]) -> str:
    """Tell what came nearest: ways that failed in a clamping before those that fail everywhere."""
    ranked = sorted(operation.rejected, key=lambda rejection: (not rejection.clamping, not rejection.remedy))
    lines = [f"{operation.name}:"]
    for rejection in ranked[:_MOST_TOLD]:
        way = " ".join(word for word in (rejection.method, rejection.tool) if word)
        place = f" in {rejection.clamping}" if rejection.clamping else ""
        lines.append(f"{way}{place}: {sentence('', rejection.sentence, '', rejection.remedy)}")
    if len(ranked) > _MOST_TOLD:
        lines.append(f"and {len(ranked) - _MOST_TOLD} more ways that fail")
    if not ranked:
        lines.append("this shop has no method for it")
    if others:
        lines.append(f"so neither can {', '.join(others)} be done")
    return "\n      ".join(lines)


def verify(integers: IntegerProblem, result: Result, objective: Objective) -> None:
    """Replay an order with the independent checker: every constraint, and the cost of every level.

    Parameters
    ----------
    integers
        The problem.
    result
        The engine's answer.
    objective
        Its levels.

    Raises
    ------
    ProofBroken
        When the order breaks a constraint or costs another value than the engine says.
    """
    violations = check(integers.problem, result.order, result.choice)
    if violations:
        first = violations[0]
        raise ProofBroken(
            f"the order breaks {integers.reason(first.constraint)}",
            where="independent check",
            remedy="this is a fault of this program; please report it with the part file",
        )
    replayed = evaluate(integers.problem, result.order, result.choice).values(objective)
    claimed = tuple(level.value for level in result.levels)
    if replayed != claimed or any(level.bound > level.value for level in result.levels):
        raise ProofBroken(
            f"the engine says {claimed}, the replay gives {replayed}",
            where="independent check",
            remedy="this is a fault of this program; please report it with the part file",
        )


def _impossible(integers: IntegerProblem, result: Result) -> NoPlan:
    names = [operation.name for operation in integers.numbering.operations]
    conflicts = list(dict.fromkeys(integers.reason(constraint) for constraint in result.conflict))
    what = "no order can satisfy all musts"
    if result.loop:
        loop = " -> ".join(names[index] for index in (*result.loop, result.loop[0]))
        what += f"; loop: {loop}"
    return NoPlan(
        what,
        conflicts=tuple(conflicts),
        remedy="drop or change one of these: a datum, a clamping, or the rule in the shop file",
    )


def to_sequence(
    operations: OperationList,
    graph: DependencyGraph,
    integers: IntegerProblem,
    result: Result,
    objective: str,
) -> Sequence:
    """Turn the engine's answer into steps.

    Parameters
    ----------
    operations, graph
        What was asked.
    integers
        The problem with the way back to names.
    result
        The engine's answer.
    objective
        The objective in words.
    """
    chosen = [
        (integers.numbering.operations[index], _rounded(integers.chosen(index, result.choice[index])))
        for index in result.order
    ]
    steps = _place(operations, graph, chosen)
    order = {operation.name: position for position, (operation, _) in enumerate(chosen)}
    broken = tuple(
        dependency
        for dependency in graph.dependencies
        if dependency.strength is Strength.SHOULD
        and dependency.relation is Relation.BEFORE
        and order.get(dependency.first, -1) > order.get(dependency.second, len(order))
    )
    levels = _levels(result, steps)
    proven = result.status == "proven"
    return Sequence(
        steps=steps,
        objective=objective,
        levels=levels,
        proven=proven,
        sentence=_proof_sentence(levels, proven),
        broken=broken,
        ignored=result.ignored,
    )


def _rounded(alternative: Alternative) -> Alternative:
    """Give an alternative with its time as the engine counts it, so that sums on the sheets agree."""
    return replace(alternative, minutes=to_minutes(to_units(alternative.minutes)))


def _place(
    operations: OperationList, graph: DependencyGraph, chosen: list[tuple[Operation, Alternative]]
) -> tuple[Step, ...]:
    """Put opening steps before each clamping visit and add up the times."""
    steps: list[Step] = []
    clamping, side, tool, mode, visit, clock = "", "", "", Mode.REST, 0, 0.0
    waits = _waits(graph)
    ends: dict[str, float] = {}
    reasons = _Reasons(graph)
    for operation, alternative in chosen:
        if alternative.clamping != clamping and alternative.clamping != BENCH:
            visit += 1
            source = clamping or BENCH
            up = side if side else side_of(operations, alternative.clamping)
            for opening in opening_operations(operations, alternative.clamping):
                way = _rounded(opening_way(operations, opening, source, up, alternative.clamping))
                steps.append(Step(10 * (len(steps) + 1), opening, way, visit, clock, (), ()))
                clock = steps[-1].end
            side = side_of(operations, alternative.clamping)
        changes = _changes(operations, alternative, tool, mode, first=not tool)
        ready = clock + fsum(change.minutes for change in changes if change.name != "positioning")
        waiting = _waiting(operation, waits, ends, ready)
        changes = changes if waiting is None else (*changes, waiting)
        on_bench = alternative.clamping == BENCH
        step = Step(
            number=10 * (len(steps) + 1),
            operation=operation,
            alternative=alternative,
            visit=0 if on_bench else visit,
            start=clock,
            changes=changes,
            because=reasons.of(operation, alternative, tuple(each.operation.name for each in steps)),
        )
        steps.append(step)
        clock = step.end
        ends[operation.name] = clock
        clamping = alternative.clamping
        tool = alternative.tool or tool
        mode = mode if alternative.mode is Mode.REST else alternative.mode
    return tuple(steps)


def _changes(
    operations: OperationList, alternative: Alternative, tool: str, mode: Mode, *, first: bool
) -> tuple[Change, ...]:
    """Tool change, mode change, positioning; the first tool and mode are part of setting up."""
    times = operations.shop.machine.times
    changes = []
    if alternative.tool and alternative.tool != tool and not first:
        minutes = to_minutes(to_units(tool_change_minutes(operations, alternative.tool)))
        changes.append(Change("tool change", minutes, f"{tool} to {alternative.tool}"))
    if alternative.mode is not Mode.REST and mode is not Mode.REST and alternative.mode is not mode:
        minutes = to_minutes(to_units(times.mode_change))
        changes.append(Change("mode change", minutes, f"{mode} to {alternative.mode}"))
    positioning = to_minutes(to_units(positioning_minutes(alternative, times.positioning)))
    if positioning:
        changes.append(Change("positioning", positioning, "to the feature"))
    return tuple(changes)


def _waits(graph: DependencyGraph) -> dict[str, list[Dependency]]:
    waits: dict[str, list[Dependency]] = {}
    for dependency in graph.dependencies:
        if dependency.relation is Relation.MINIMUM_WAIT:
            waits.setdefault(dependency.second, []).append(dependency)
    return waits


def _waiting(
    operation: Operation, waits: dict[str, list[Dependency]], ends: dict[str, float], now: Minutes
) -> Change | None:
    longest, reason = 0.0, ""
    for dependency in waits.get(operation.name, []):
        if dependency.first in ends:
            left = ends[dependency.first] + dependency.minutes - now
            if left > longest:
                longest, reason = left, f"{dependency.rule}: {dependency.reason}"
    return Change("waiting", longest, reason) if longest > 0 else None


class _Reasons:
    """Finds the nearest reasons for the place of a step."""

    _MOST = 3

    def __init__(self, graph: DependencyGraph) -> None:
        self._by_second: dict[str, list[Dependency]] = {}
        self._opening: dict[str, list[Dependency]] = {}
        for dependency in graph.dependencies:
            if dependency.relation is Relation.OPENS and not dependency.second:
                self._opening.setdefault(dependency.clamping, []).append(dependency)
            elif dependency.relation in (
                Relation.BEFORE,
                Relation.IMMEDIATELY_AFTER,
                Relation.MINIMUM_WAIT,
                Relation.OPENS,
            ):
                self._by_second.setdefault(dependency.second, []).append(dependency)

    def of(
        self, operation: Operation, alternative: Alternative, placed: tuple[str, ...]
    ) -> tuple[Dependency, ...]:
        """Musts and kept shoulds that hold it behind the steps placed just before it, nearest first."""
        position = {name: index for index, name in enumerate(placed)}
        candidates = [
            dependency
            for dependency in (
                *self._by_second.get(operation.name, []),
                *self._opening.get(alternative.clamping, []),
            )
            if dependency.first in position
            and dependency.first != operation.name
            and dependency.clamping in ("", alternative.clamping)
        ]
        candidates.sort(key=lambda each: (-position[each.first], each.strength, each.rule))
        nearest: dict[str, Dependency] = {}
        for dependency in candidates:
            nearest.setdefault(dependency.first, dependency)
        return tuple(nearest.values())[: self._MOST]


def _levels(result: Result, steps: tuple[Step, ...]) -> tuple[Level, ...]:
    """Levels in the planner's terms: clamping visits on the machine, minutes."""
    visits = max((step.visit for step in steps), default=0)
    levels = []
    for level in result.levels:
        name = _LEVEL_NAMES[level.name]
        if name == "minutes and penalties":
            value, bound = to_minutes(level.value), to_minutes(level.bound)
        elif name == "clampings":
            value, bound = visits, max(visits - (level.value - level.bound), 0)
        else:
            value, bound = level.value, level.bound
        levels.append(Level(name, value, bound, level.proven))
    return tuple(levels)


def _proof_sentence(levels: tuple[Level, ...], proven: bool) -> str:
    if proven:
        first, *rest = (level.name for level in levels)
        among = "".join(f"; among those, none has fewer {name}" for name in rest)
        return f"Proven optimal: no order has fewer {first}{among}."
    settled = [level.name for level in levels if level.proven]
    unsettled = next(level for level in levels if not level.proven)
    gap = 100 * (unsettled.value - unsettled.bound) / unsettled.value if unsettled.value else 0.0
    text = (
        f"Best found, not proven: {unsettled.name} {shown(unsettled.value, 1)}, "
        f"at least {shown(unsettled.bound, 1)} (gap {gap:.1f} %)."
    )
    return f"{text} Proven least: {', '.join(settled)}." if settled else text
