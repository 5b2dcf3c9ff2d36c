"""Graphs that no order can keep are refused, with the reasons that contradict each other."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.errors import NoPlan
from sequencer.operations import Action, FittedClamping
from sequencer.part import BLANK
from sequencer.precedence.arrows import joined_operations, possible_clampings
from sequencer.precedence.context import machine_clampings
from sequencer.precedence.dependency import Dependency, Relation
from sequencer.precedence.graph import DependencyGraph, explain_cycle

_TOGETHER = (Relation.SAME_CLAMPING, Relation.SAME_ZERO)


def refuse_impossible(graph: DependencyGraph) -> None:
    """Refuse a graph whose musts contradict each other whatever the order.

    Operations that no clamping can do by themselves are left to the errors of the operations.

    Parameters
    ----------
    graph
        The graph.

    Raises
    ------
    NoPlan
        When musts form a loop, bind operations together that share no clamping or are parted by work
        elsewhere, or leave an operation no clamping.
    """
    loop = graph.cycle()
    if loop is not None:
        names = " -> ".join((*(link.first for link in loop), loop[0].first))
        raise NoPlan(
            f"no order exists: {names} is a loop",
            explain_cycle(loop),
            graph.findings,
            _clamped_again(graph, [link.first for link in loop])
            or "Drop or soften one of these rules, or change a datum or a clamping",
        )
    together = [
        demand
        for demand in graph.musts
        if demand.relation in _TOGETHER and _possible_by_themselves(graph, demand)
    ]
    _refuse_apart(graph, together)
    _refuse_stuck(graph)
    for demand in together:
        _refuse_parting(graph, demand)


def _clamped_again(graph: DependencyGraph, loop: list[str]) -> str:
    """What to do about a loop through hardening: what follows it needs a clamping that is left by then."""
    for place, name in enumerate(loop):
        if graph.operations.by_name[name].action is Action.HEAT_TREAT:
            after = (*loop[place + 1 :], *loop[:place])
            on_machine = (each for each in after if machine_clampings(graph.operations.by_name[each]))
            return _further_clamping(graph, name, next(on_machine, ""))
    return ""


def _after_hardening(graph: DependencyGraph, name: str) -> str:
    """What to do about work after hardening to which no clamping is left."""
    for treatment in graph.operations.operations:
        if treatment.action is Action.HEAT_TREAT and graph.leads(treatment.name, name):
            return _further_clamping(graph, treatment.name, name)
    return ""


def _further_clamping(graph: DependencyGraph, treatment: str, name: str) -> str:
    if not name:
        return ""
    operation = graph.operations.by_name[name]
    where = machine_clampings(operation)
    raw = [each for each in where if graph.operations.clamping_by_name[each].clamping.on == BLANK]
    gone = f" (the raw surface that {', '.join(raw)} grips is turned away by then)" if raw else ""
    listed = ", ".join(
        each.name
        for each in graph.operations.clampings
        if each.name not in raw and _reaches(each, operation.feature)
    )
    again = f", such as the holding of {listed} once more," if listed else ""
    return (
        f"{name} comes after {treatment}, when {', '.join(where)} would have to be entered again{gone}: list "
        f"a further clamping{again} that grips a turned surface and reaches {operation.feature}"
    )


def _reaches(fitted: FittedClamping, feature: str) -> bool:
    answer = fitted.reach_by_feature.get(feature)
    return answer is not None and answer.reachable


def _possible_by_themselves(graph: DependencyGraph, demand: Dependency) -> bool:
    by_name = graph.operations.by_name
    return bool(by_name[demand.first].clampings and by_name[demand.second].clampings)


def _refuse_apart(graph: DependencyGraph, together: list[Dependency]) -> None:
    shared = possible_clampings(graph.operations.operations, graph.dependencies)
    if all(shared[demand.first] for demand in together):
        return
    least = _fewest_apart(graph, together)
    names = tuple(dict.fromkeys(name for demand in least for name in (demand.first, demand.second)))
    both = "both" if len(names) == 2 else "all of them"
    raise NoPlan(
        f"{', '.join(names[:-1])} and {names[-1]} must share a clamping, and none reaches {both}",
        (
            *(f"{rule}: {reason}" for rule, reason in dict.fromkeys((d.rule, d.reason) for d in least)),
            *(_where(graph, name) for name in names),
        ),
        graph.findings,
        f"Let one clamping reach {both}, or drop the demand",
    )


def _fewest_apart(graph: DependencyGraph, together: list[Dependency]) -> list[Dependency]:
    """Give demands that bind operations without a common clamping, none of which can be left out."""
    kept = list(together)
    for demand in together:
        fewer = [each for each in kept if each is not demand]
        possible = possible_clampings(graph.operations.operations, fewer)
        if any(not possible[each.first] for each in fewer):
            kept = fewer
    return kept


def _where(graph: DependencyGraph, name: str) -> str:
    """Say in which clampings an operation can be done, and why not in the others."""
    operation = graph.operations.by_name[name]
    line = f"{name} can be done in {', '.join(operation.clampings)}"
    hidden = [
        f"in {fitted.name} ({answer.reason})"
        for fitted in graph.operations.clampings
        if fitted.name not in operation.clampings
        and (answer := fitted.reach_by_feature.get(operation.feature)) is not None
        and not answer.reachable
    ]
    return f"{line}; not {', not '.join(hidden)}" if hidden else line


def _refuse_stuck(graph: DependencyGraph) -> None:
    groups = joined_operations(graph.operations.operations, graph.dependencies)
    for name in graph.deduction.stuck:
        if all(graph.operations.by_name[other].clampings for other in groups[name]):
            raise NoPlan(
                f"{name} can be done in no clamping: the rules leave it none",
                tuple(_why_barred(graph, groups[name])),
                graph.findings,
                _after_hardening(graph, name) or "Drop or soften one of these rules, or change a clamping",
            )


def _why_barred(graph: DependencyGraph, group: tuple[str, ...]) -> Iterator[str]:
    """Say which operations are done together, and what keeps each of them out of which clamping."""
    for demand in graph.musts:
        if demand.relation in _TOGETHER and demand.first in group:
            yield f"{demand.first} and {demand.second} are done together ({demand.rule}: {demand.reason})."
    for bar in graph.deduction.bars:
        because = bar.because
        if bar.operation not in group:
            continue
        opens = because.relation is Relation.OPENS
        verb = "opens" if opens else "closes"
        yield (
            f"{bar.operation} cannot be done in {bar.clamping}: {because.first} {verb} that clamping "
            f"({because.rule}: {because.reason})."
        )
        ends = (bar.operation, because.first) if opens else (because.first, bar.operation)
        yield from explain_cycle(graph.chain(*ends))


def _refuse_parting(graph: DependencyGraph, demand: Dependency) -> None:
    """Refuse two operations of one clamping visit with work between them that is done elsewhere."""
    reach = graph.reach
    for first, second in ((demand.first, demand.second), (demand.second, demand.first)):
        shared = graph.possible[first]
        for name in reach.listed(reach.below[reach.index[first]] & reach.above[reach.index[second]]):
            where = graph.possible[name]
            if where and not any(clamping in shared for clamping in where):
                elsewhere = f"{name} comes between in {', '.join(where)}"
                raise NoPlan(
                    f"{first} and {second} must share a clamping, and {elsewhere}",
                    (
                        f"{demand.rule}: {demand.reason}",
                        *explain_cycle(graph.chain(first, name)),
                        *explain_cycle(graph.chain(name, second)),
                    ),
                    graph.findings,
                    "Drop one of these demands",
                )
