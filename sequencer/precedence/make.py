"""From operations to the dependency graph: rules of the trade, the shop's changes, the planner's demands."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from sequencer.errors import Finding, Severity
from sequencer.operations import OperationList
from sequencer.precedence.arrows import arrows_of
from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import Wanted, note
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph, as_before
from sequencer.precedence.house import (
    RuleInForce,
    changes_noted,
    own_rules,
    part_wishes,
    rules_in_force,
)
from sequencer.precedence.refusals import refuse_impossible
from sequencer.precedence.register import RULES
from sequencer.precedence.rule import Rule, RuleResult, apply_rule
from sequencer.precedence.settle import Settlement, shortest_way


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
    refuse_impossible(graph)
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
    """Leave out shoulds that are settled anyway: kept by musts, or broken by musts or by the clampings.

    Those that cannot be kept are reported, the halves of a gear and the chain of stages together.
    """
    kept: list[Dependency] = []
    unkept: dict[tuple[str, ...], list[Dependency]] = {}
    reach = settlement.deduction.reach
    for each in shoulds:
        if reach.leads(each.second, each.first) or settlement.new_return(each):
            features = (name.split("/")[0] for name in (each.first, each.second))
            unkept.setdefault((each.rule, each.reason, *features), []).append(each)
        elif not reach.leads(each.first, each.second):
            kept.append(each)
    return tuple(kept), tuple(_unkept(settlement, listed) for listed in unkept.values())


def _unkept(settlement: Settlement, listed: list[Dependency]) -> Finding:
    """Say which shoulds no order can keep: every pair, the reason, and what stands against the first."""
    example = listed[0]
    pairs = ", ".join(f"{each.first} before {each.second}" for each in listed)
    way = shortest_way(settlement.deduction.certain, example.second, example.first)
    why = "; ".join(f"{arrow.first} before {arrow.second} ({arrow.because.rule})" for arrow in way)
    return Finding(
        Severity.NOTE,
        example.second.split("/")[0],
        f"a should of {example.rule} cannot be kept: {pairs}",
        f"{example.reason}; against it: {why or settlement.new_return(example)}",
        "Weigh what that means for the part, or do one of the two in another clamping",
        f"rule {example.rule}",
    )
