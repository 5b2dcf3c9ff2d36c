"""From operations to the dependency graph: rules of the trade, the shop's changes, the planner's demands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from sequencer.errors import Finding, NoPlan, Severity
from sequencer.operations import BENCH, OperationList
from sequencer.precedence.arrows import arrows_of, joined_operations, possible_clampings
from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import Wanted, note
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph, as_before, explain_cycle
from sequencer.precedence.house import (
    RuleInForce,
    changes_noted,
    own_rules,
    part_wishes,
    rules_in_force,
)
from sequencer.precedence.register import RULES
from sequencer.precedence.rule import Rule, RuleResult, apply_rule
from sequencer.precedence.settle import Settlement


def make_graph(operations: OperationList, rules: tuple[Rule, ...] = RULES) -> DependencyGraph:
    """Apply all rules to the operations of a part.

    Demands of the planner and of the shop come first, then the rules that speak for themselves, then those
    that look at what the others demand. In the end all musts are taken, then the musts that give way to the
    clampings, and last the shoulds.

    Parameters
    ----------
    operations
        Operations of the part on the shop.
    rules
        Rules of the trade; all of them if left out.

    Raises
    ------
    NoPlan
        When musts form a loop, or bind operations together that share no clamping; it says why in words.
    SequencerError
        When the part or the shop names an operation or a rule that does not exist.
    """
    context = RuleContext(operations)
    in_force = rules_in_force(operations.shop, rules)
    findings: list[Finding] = list(changes_noted(operations.shop))
    first = [_spoken(each, context) for each in in_force if not each.rule.late]
    own = list(own_rules(context))
    findings += [each for each in own if isinstance(each, Finding)]
    firm = [*part_wishes(context), *(each for each in own if isinstance(each, Dependency))]
    late = _speak_late(context, in_force, firm, first)
    everything = (*first, *late)
    settlement = _settled(operations, firm, everything)
    kept, dropped = _keepable(settlement, _distinct(each for spoken in everything for each in spoken.shoulds))
    findings += [finding for spoken in everything for finding in spoken.findings]
    findings += [*settlement.findings, *dropped]
    graph = DependencyGraph(operations, (*settlement.dependencies, *kept), tuple(dict.fromkeys(findings)))
    _refuse_loops(graph)
    return graph


def _speak_late(
    context: RuleContext, in_force: tuple[RuleInForce, ...], firm: list[Dependency], first: list[_Spoken]
) -> list[_Spoken]:
    """Let the rules speak one by one that look at what the others demand."""
    settlement = _settled(context.operations, firm, first)
    shoulds = [each for spoken in first for each in spoken.shoulds]
    late: list[_Spoken] = []
    for each in (each for each in in_force if each.rule.late):
        spoken = _spoken(each, replace(context, known=(*settlement.dependencies, *shoulds)))
        settlement.take(spoken.musts)
        settlement.want(spoken.wanted)
        shoulds += spoken.shoulds
        late.append(spoken)
    return late


def _settled(operations: OperationList, firm: Iterable[Dependency], spoken: Iterable[_Spoken]) -> Settlement:
    """Take all musts first, so that what gives way gives way to every one of them."""
    listed = tuple(spoken)
    settlement = Settlement(operations.operations, (*firm, *(must for each in listed for must in each.musts)))
    settlement.want(wanted for each in listed for wanted in each.wanted)
    return settlement


@dataclass(frozen=True)
class _Spoken:
    """What one rule says, the shop's change applied."""

    musts: tuple[Dependency, ...]
    shoulds: tuple[Dependency, ...]
    wanted: tuple[Wanted, ...]
    findings: tuple[Finding, ...]


def _spoken(in_force: RuleInForce, context: RuleContext) -> _Spoken:
    result = apply_rule(in_force.rule, context, in_force.penalty)
    if in_force.softened:
        return _softened(in_force, result, context)
    musts = tuple(each for each in result.dependencies if each.strength is Strength.MUST)
    shoulds = tuple(each for each in result.dependencies if each.strength is Strength.SHOULD)
    return _Spoken(musts, shoulds, result.wanted, result.findings)


def _softened(in_force: RuleInForce, result: RuleResult, context: RuleContext) -> _Spoken:
    """Make shoulds of the musts of a rule; only an order between two operations can be a should."""
    demands = [*result.dependencies, *(wanted.dependency for wanted in result.wanted)]
    shoulds: dict[Dependency, None] = {}
    lost: dict[Relation, int] = {}
    for demand in demands:
        if demand.strength is Strength.SHOULD:
            shoulds[demand] = None
            continue
        possible = {op.name: op.clampings for op in context.all}
        arrows = [arrow for arrow in arrows_of(context.all, (demand,), possible) if arrow.certain]
        if not arrows:
            lost[demand.relation] = lost.get(demand.relation, 0) + 1
        for arrow in arrows:
            soft = replace(as_before(arrow), strength=Strength.SHOULD, penalty=in_force.penalty, minutes=0.0)
            shoulds[soft] = None
    findings = list(result.findings)
    if lost:
        words = ", ".join(f"{number} of kind {relation.value!r}" for relation, number in lost.items())
        findings.append(
            replace(
                note(
                    in_force.rule.id,
                    f"as a should it leaves out {words}",
                    "only an order between two operations can be weighed",
                ),
                subject=f"rule {in_force.rule.id}",
            )
        )
    return _Spoken((), tuple(shoulds), (), tuple(findings))


def _distinct(shoulds: Iterable[Dependency]) -> tuple[Dependency, ...]:
    """Of several shoulds between the same two the dearest stays: one swap breaks them all at once."""
    kept: dict[tuple[str, str], Dependency] = {}
    for each in shoulds:
        pair = (each.first, each.second)
        if pair not in kept or kept[pair].penalty < each.penalty:
            kept[pair] = each
    return tuple(kept.values())


def _keepable(
    settlement: Settlement, shoulds: tuple[Dependency, ...]
) -> tuple[tuple[Dependency, ...], tuple[Finding, ...]]:
    """Leave out shoulds that are settled anyway: kept by musts, or broken by musts or by the clampings."""
    kept: list[Dependency] = []
    broken: dict[tuple[str, str], list[Dependency]] = {}
    for each in shoulds:
        obstacle = settlement.new_return(each)
        if settlement.deduction.reach.leads(each.second, each.first):
            broken.setdefault((each.rule, "which musts put the other way round"), []).append(each)
        elif obstacle:
            broken.setdefault((each.rule, f"but {obstacle}"), []).append(each)
        elif not settlement.deduction.reach.leads(each.first, each.second):
            kept.append(each)
    return tuple(kept), tuple(_broken(words, listed) for (_, words), listed in broken.items())


def _broken(words: str, listed: list[Dependency]) -> Finding:
    example = listed[0]
    others = f" (and {len(listed) - 1} more)" if len(listed) > 1 else ""
    return Finding(
        Severity.NOTE,
        example.second.split("/")[0],
        f"{example.rule} would have {example.first} before {example.second}{others}, {words}",
        example.reason,
        "",
        f"rule {example.rule}",
    )


def _refuse_loops(graph: DependencyGraph) -> None:
    loop = graph.cycle()
    if loop is not None:
        names = " -> ".join((*(link.first for link in loop), loop[0].first))
        raise NoPlan(
            f"no order exists: {names} is a loop",
            explain_cycle(loop),
            graph.findings,
            "Drop or soften one of these rules, or change a datum or a clamping",
        )
    shared = possible_clampings(graph.operations.operations, graph.dependencies)
    for demand in graph.musts:
        if demand.relation not in (Relation.SAME_CLAMPING, Relation.SAME_ZERO):
            continue
        if not shared[demand.first]:
            raise NoPlan(
                f"{demand.first} and {demand.second} must share a clamping, and none reaches both",
                _why_apart(graph, demand),
                graph.findings,
                "Let one clamping reach both, or drop the demand",
            )
        _refuse_parting(graph, demand)
    for name in graph.deduction.stuck:
        raise NoPlan(
            f"{name} can be done in no clamping: the rules leave it none",
            tuple(_why_barred(graph, name)),
            graph.findings,
            "Drop or soften one of these rules, or change a clamping",
        )


def _why_barred(graph: DependencyGraph, name: str) -> Iterator[str]:
    """Say for each clamping of an operation, or of those bound to it, what keeps it out."""
    for demand in graph.musts:
        if demand.relation in (Relation.SAME_CLAMPING, Relation.SAME_ZERO) and name in (
            demand.first,
            demand.second,
        ):
            yield f"{demand.first} and {demand.second} are done together ({demand.rule}: {demand.reason})."
    for bar in graph.deduction.bars:
        because = bar.because
        if (
            bar.operation == name
            or bar.operation in joined_operations(graph.operations.operations, graph.dependencies)[name]
        ):
            verb = "opens" if because.relation is Relation.OPENS else "closes"
            yield (
                f"{bar.operation} cannot be done in {bar.clamping}: {because.first} {verb} that clamping "
                f"({because.rule}: {because.reason})."
            )
            ends = (bar.operation, because.first)
            yield from explain_cycle(graph.chain(*(ends if verb == "opens" else reversed(ends))))


def _refuse_parting(graph: DependencyGraph, demand: Dependency) -> None:
    """Refuse two operations of one clamping visit with work between them that is done elsewhere."""
    for first, second in ((demand.first, demand.second), (demand.second, demand.first)):
        shared = graph.possible[first]
        between = graph.reach.below[graph.reach.index[first]] & graph.reach.above[graph.reach.index[second]]
        for name in graph.reach.listed(between):
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


def _why_apart(graph: DependencyGraph, demand: Dependency) -> tuple[str, ...]:
    lines = [f"{demand.rule}: {demand.reason}"]
    for name in (demand.first, demand.second):
        clampings = graph.operations.by_name[name].clampings
        lines.append(f"{name} can be done in {', '.join(clampings) or BENCH}")
    return tuple(lines)
