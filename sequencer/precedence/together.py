"""Operations that any clampings must do together: by tolerances that no re-clamping leaves, and by wish."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from sequencer.operations import FittedClamping, OperationList
from sequencer.operations.context import Context
from sequencer.operations.covering import Together
from sequencer.precedence.context import RuleContext
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.house import own_rules, part_wishes, rules_in_force
from sequencer.precedence.register import RULE_BY_ID
from sequencer.precedence.rules.tolerances import last_pairs
from sequencer.tolerancing import apart_and_together, relations_of
from sequencer.tolerancing.apart import partners

_RELATIONS = (Relation.SAME_CLAMPING, Relation.SAME_ZERO)


def bound_to_one_clamping(operations: OperationList) -> tuple[Together, ...]:
    """Give the pairs of operations that must be done in one clamping, however the part is held.

    A tolerance binds if no means of the shop re-clamps closely enough; R53 is silent where the clampings at
    hand leave no choice, here it speaks in any case.

    Source: derived

    Parameters
    ----------
    operations
        Operations of the part in some clampings.
    """
    context = RuleContext(operations)
    found = [*_by_tolerance(context), *_by_wish(context)]
    return tuple({(each.first, each.second): each for each in reversed(found)}.values())[::-1]


def _by_tolerance(context: RuleContext) -> Iterator[Together]:
    in_force = rules_in_force(context.shop, (RULE_BY_ID["R53"],))
    if not in_force or in_force[0].softened:
        return
    seen = Context(context.part, context.shop, context.section, context.clampings)
    elsewhere = _elsewhere(context)
    for relation in relations_of(seen):
        for partner in partners(relation):
            pairs = tuple(last_pairs(context, relation, partner))
            found = apart_and_together(seen, relation, partner, elsewhere) if pairs else None
            if found is not None and found.needs_one_clamping:
                for one, two in pairs:
                    yield Together(one.name, two.name, found.sentence)


def _elsewhere(context: RuleContext) -> list[FittedClamping]:
    """One clamping for each means of the shop, to reckon what re-clamping with it leaves."""
    if not context.clampings:
        return []
    like = context.clampings[0]
    named = like.clamping.model_copy(update={"name": "another clamping"})
    return [replace(like, clamping=named, means=means) for means in context.shop.clamping_means]


def _by_wish(context: RuleContext) -> Iterator[Together]:
    own = (each for each in own_rules(context) if isinstance(each, Dependency))
    for each in (*part_wishes(context), *own):
        if each.relation in _RELATIONS and each.strength is Strength.MUST:
            yield Together(each.first, each.second, f"{each.rule}: {each.reason}")
