"""Relations that hold only if both surfaces are made in one clamping."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from sequencer.operations import Operation
from sequencer.operations.context import Context
from sequencer.part.milled import BoltCircle
from sequencer.precedence.context import RuleContext, machine_clampings
from sequencer.precedence.demands import Outcome, same_clamping, same_zero
from sequencer.precedence.dependency import Strength
from sequencer.precedence.rule import Rule
from sequencer.precedence.work import is_late
from sequencer.tolerancing import Kind, TolerancedRelation, apart_and_together, relations_of
from sequencer.tolerancing.apart import partners


def held_only_together(context: RuleContext) -> Iterator[Outcome]:
    """R53: a relation that does not hold across clampings binds its surfaces to one clamping.

    Surfaces that only one and the same clamping reaches need no demand. A relation that the machine does not
    hold in one clamping either gives none: the ledger tells it.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    seen = Context(context.part, context.shop, context.section, context.clampings)
    for relation in relations_of(seen):
        for partner in partners(relation):
            pairs = [pair for pair in last_pairs(context, relation, partner) if _may_part(context, *pair)]
            names = {name for pair in pairs for op in pair for name in machine_clampings(op)}
            fitted = [each for each in context.clampings if each.name in names]
            found = apart_and_together(seen, relation, partner, fitted) if pairs else None
            if found is not None and found.needs_one_clamping:
                demand = same_zero if relation.kind in (Kind.PHASE, Kind.APEX) else same_clamping
                for one, two in pairs:
                    yield demand(one, two, found.sentence)


def last_pairs(
    context: RuleContext, relation: TolerancedRelation, partner: str
) -> Iterator[tuple[Operation, Operation]]:
    """Give the last cuts of the two surfaces of a relation on the machine, on the same side of hardening.

    Source: derived

    Parameters
    ----------
    context
        The operations and what is known.
    relation
        The relation.
    partner
        One of its partners.
    """
    if relation.kind is Kind.APEX:
        halves = [op for op in _last(context, relation.feature) if op.half]
        yield from pairwise(halves)
        return
    own = [op for op in _last(context, relation.feature) if relation.half in ("", op.half)]
    for one, two in product(own, _last(context, partner)):
        if one.name != two.name and is_late(one) is is_late(two):
            yield one, two


def _last(context: RuleContext, name: str) -> tuple[Operation, ...]:
    feature = context.part.by_name[name]
    cuts = context.cuts(name)[:1] if isinstance(feature, BoltCircle) else context.done(name, hard=True)
    return tuple(op for op in cuts if machine_clampings(op))


def _may_part(context: RuleContext, one: Operation, two: Operation) -> bool:
    """Whether the two could be made in different clampings, or are parted by work elsewhere."""
    first, second = context.possible[one.name], context.possible[two.name]
    if len(first) != 1 or first != second:
        return True
    return any(
        where and first[0] not in where and _between(context, one, context.operations.by_name[name], two)
        for name, where in context.possible.items()
    )


def _between(context: RuleContext, one: Operation, middle: Operation, two: Operation) -> bool:
    return (context.leads(one, middle) and context.leads(middle, two)) or (
        context.leads(two, middle) and context.leads(middle, one)
    )


RULES = (
    Rule(
        "R53",
        "Relations that hold only in one clamping",
        Strength.MUST,
        "What re-clamping leaves is more than the tolerance allows; made together the two surfaces hold it.",
        "derived: eccentricity, tilt and new zeros of a re-clamping against the tolerance",
        held_only_together,
        late=True,
    ),
)
