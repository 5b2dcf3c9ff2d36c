"""The shop's own word: changed rules, rules between named features, and the order wishes of a part."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from sequencer.errors import Finding, SequencerError
from sequencer.operations import Operation
from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import note, warning
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.register import FIXED, RULE_BY_ID
from sequencer.precedence.rule import Rule
from sequencer.shop.shop import LAST_RULE, OwnRule, RuleChange, Shop
from sequencer.units import Minutes

#: What a broken should costs if neither the shop nor the rule says so [min].
USUAL_PENALTY: Final = 15.0

#: Name under which demands of the part file stand.
PART_FILE: Final = "part file"

_RELATIONS: Final = {
    "before": Relation.BEFORE,
    "same clamping": Relation.SAME_CLAMPING,
    "immediately after": Relation.IMMEDIATELY_AFTER,
    "not same clamping": Relation.NOT_SAME_CLAMPING,
    "same zero": Relation.SAME_ZERO,
}


@dataclass(frozen=True)
class RuleInForce:
    """A rule as this shop holds it.

    Parameters
    ----------
    rule
        The rule of the trade.
    softened
        True if the shop makes its musts shoulds.
    penalty
        Minutes that a broken should costs [min].
    change
        The shop's change; None if the rule stands as it is.
    """

    rule: Rule
    softened: bool
    penalty: Minutes
    change: RuleChange | None


def rules_in_force(shop: Shop, rules: tuple[Rule, ...]) -> tuple[RuleInForce, ...]:
    """Apply the shop's changes to the rules of the trade.

    Parameters
    ----------
    shop
        The shop with its house rules.
    rules
        Rules of the trade.

    Raises
    ------
    SequencerError
        When a change names no rule, or one that cannot be changed, or one rule twice.
    """
    changes: dict[str, RuleChange] = {}
    for number, change in enumerate(shop.rules.changes):
        where = f"rules.changes[{number}]"
        if change.rule not in RULE_BY_ID:
            raise SequencerError(
                f"no rule is called {change.rule}",
                where=where,
                limit=f"R1 to R{LAST_RULE}",
                remedy="See the list of rules",
            )
        if change.rule in FIXED:
            raise SequencerError(
                f"{change.rule} cannot be changed",
                where=where,
                limit="it holds by the meaning of the words rough, finish and receive",
                remedy="Drop this change",
            )
        if change.rule in changes:
            raise SequencerError(
                f"{change.rule} is changed twice", where=where, remedy="Keep one of the two changes"
            )
        changes[change.rule] = change
    found = []
    for rule in rules:
        given = changes.get(rule.id)
        if given is not None and given.action == "off":
            continue
        penalty = float(given.penalty) if given is not None and given.penalty is not None else rule.penalty
        found.append(RuleInForce(rule, given is not None, penalty or USUAL_PENALTY, given))
    return tuple(found)


def changes_noted(shop: Shop) -> Iterator[Finding]:
    """Say which rules of the trade this shop changes, who decided it and why.

    Parameters
    ----------
    shop
        The shop with its house rules.
    """
    for change in shop.rules.changes:
        what = "is switched off" if change.action == "off" else "is only a should"
        yield note(
            change.rule,
            f"{what} in this shop ({change.owner}, {change.date.isoformat()}: {change.reason})",
            RULE_BY_ID[change.rule].title,
        )


def own_rules(context: RuleContext) -> Iterator[Dependency | Finding]:
    """Turn the shop's rules between named features into dependencies.

    "Before" holds between the last cut of the first feature and the first cut of the second.

    Parameters
    ----------
    context
        The operations.
    """
    for own in context.shop.rules.own:
        missing = [name for name in (own.first, own.second) if name not in context.part.by_name]
        if missing:
            if len(missing) == 1:
                yield note(own.name, f"does not apply: the part has no feature {missing[0]!r}")
            continue
        soft = own.strength == "should"
        if soft and own.relation != "before":
            yield warning(
                own.name,
                f"{own.relation!r} as a should is not weighed in the search",
                "only 'before' can be a should",
                "Make it a must, or drop it",
            )
            continue
        yield from _own(context, own, soft)


def _own(context: RuleContext, own: OwnRule, soft: bool) -> Iterator[Dependency]:
    relation = _RELATIONS[own.relation]
    penalty = float(own.penalty) if own.penalty is not None else USUAL_PENALTY
    for first, second in _ends(context, own, relation):
        yield Dependency(
            relation,
            first.name,
            second.name,
            strength=Strength.SHOULD if soft else Strength.MUST,
            rule=own.name,
            reason=own.reason,
            source=f"house rule of {own.owner}, {own.date.isoformat()}",
            penalty=penalty if soft else 0.0,
        )


def _ends(context: RuleContext, own: OwnRule, relation: Relation) -> Iterator[tuple[Operation, Operation]]:
    """Pairs of operations that a rule between two features speaks of."""
    if relation is Relation.BEFORE:
        for last in context.done(own.first, hard=True):
            for first in _firsts(context, own.second):
                yield last, first
    elif relation is Relation.IMMEDIATELY_AFTER:
        last_cuts, first_cuts = context.done(own.first, hard=True), _firsts(context, own.second)
        if last_cuts and first_cuts:
            yield last_cuts[-1], first_cuts[0]
    else:
        for one in context.done(own.first, hard=True):
            for two in context.done(own.second, hard=True):
                yield one, two


def _firsts(context: RuleContext, name: str) -> tuple[Operation, ...]:
    teeth = context.first_teeth(name)
    if teeth and not any(op not in context.teeth(name) for op in context.cuts(name)):
        return teeth
    begun = context.begun(name)
    return () if begun is None else (begun,)


def part_wishes(context: RuleContext) -> Iterator[Dependency]:
    """Turn what the part file demands of the order into dependencies.

    Parameters
    ----------
    context
        The operations.

    Raises
    ------
    SequencerError
        When a pair names an operation that the part does not have.
    """
    order = context.part.order
    demands = (
        ("before", Relation.BEFORE, order.before),
        ("never_next", Relation.NEVER_NEXT, order.never_next),
        ("same_clamping", Relation.SAME_CLAMPING, order.same_clamping),
    )
    for key, relation, pairs in demands:
        for number, (first, second) in enumerate(pairs):
            for name in (first, second):
                known_operation(context, name, f"order.{key}[{number}]")
            yield Dependency(
                relation, first, second, rule=PART_FILE, reason="the planner demands it", source=PART_FILE
            )


def known_operation(context: RuleContext, name: str, where: str) -> Operation:
    """Give an operation by its name.

    Parameters
    ----------
    context
        The operations.
    name
        Name of the operation.
    where
        Where the name was written.

    Raises
    ------
    SequencerError
        When the part has no such operation; near misses are named.
    """
    found = context.operations.by_name.get(name)
    if found is None:
        raise unknown_operation(name, tuple(context.operations.by_name), where)
    return found


def unknown_operation(name: str, known: tuple[str, ...], where: str = "") -> SequencerError:
    """Make the error for an operation that does not exist.

    Parameters
    ----------
    name
        What was asked for.
    known
        Names of the operations that exist.
    where
        Where the name was written.
    """
    of_feature = [each for each in known if each.split("/")[0] == name.split("/")[0]]
    near = get_close_matches(name, known, n=3, cutoff=0.6) or of_feature[:4]
    remedy = f"Did you mean {', '.join(near)}?" if near else f"Operations are {', '.join(known[:8])} ..."
    return SequencerError(f"no operation is called {name!r}", where=where, remedy=remedy)
