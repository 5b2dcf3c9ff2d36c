"""Thin walls and thin rings."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.part.profile import SAME
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.precedence.demands import Outcome, warning, wish
from sequencer.precedence.dependency import Strength
from sequencer.precedence.rule import Kept, Rule
from sequencer.precedence.rules.roughing_and_heat import is_close_finish
from sequencer.units import shown

#: Fewer gripping points than this press a thin ring into lobes; common practice, no source.
MANY_POINTS = 6


def thin_walls_last(context: RuleContext) -> Iterator[Outcome]:
    """R16: thin walls are finished after the other heavy cuts.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    thin = thin_walled(context)
    for name in thin:
        for done in context.done(name):
            for heavy in (op for op in context.all if op.heavy and op.feature not in thin):
                if context.leads(heavy, done) or context.leads(done, heavy):
                    continue
                if set(heavy.clampings) <= set(done.clampings):
                    yield wish(
                        heavy, done, f"stock keeps the thin wall of {name} stiff until heavy cuts are over"
                    )


def thin_walled(context: RuleContext) -> tuple[str, ...]:
    """Give the turned features that bound a thin wall; all of them if the whole part is a thin ring.

    Parameters
    ----------
    context
        The operations.
    """
    section, found = context.section, dict[str, None]()
    for inside in section.inside.pieces:
        for outside in section.outside.between(inside.z_from, inside.z_to):
            bore = max(inside.diameter(outside.z_from), inside.diameter(outside.z_to))
            outer = min(outside.root_lower, outside.root_upper)
            if bore > SAME and 0 < (outer - bore) / 2 < context.shop.limits.thin_wall * outer:
                found |= {inside.feature: None, outside.feature: None}
    return tuple(
        name
        for name in found
        if name in context.part.by_name and not isinstance(context.part.by_name[name], Toothed)
    )


def thin_ring_grip(context: RuleContext) -> Iterator[Outcome]:
    """R17: a thin ring is finished on its face or in many soft points, not in a few hard jaws.

    Parameters
    ----------
    context
        The operations.
    """
    ratio, limit = context.section.wall_ratio(), float(context.shop.limits.thin_wall)
    if ratio >= limit:
        return
    for fitted in context.clampings:
        means = fitted.means
        finishing = any(is_close_finish(context, op) for op in context.all if fitted.name in op.clampings)
        few = means.count < MANY_POINTS or not means.soft
        if finishing and fitted.clamping.hold.endswith("jaws") and few:
            yield warning(
                fitted.name,
                f"a thin ring (wall {shown(ratio)} of its diameter) is finished in {means.count} "
                f"{'soft' if means.soft else 'hard'} jaws",
                f"thin below {shown(limit)}; soft jaws, at least {MANY_POINTS}",
                "Bolt it down on its face, or use many soft or pendulum jaws with low force",
            )


RULES = (
    Rule(
        "R16",
        "Thin walls last",
        Strength.SHOULD,
        "Stiffness goes with the stock.",
        "Turning thin rings without ovality (article)",
        thin_walls_last,
        penalty=10.0,
        late=True,
    ),
    Rule(
        "R17",
        "Thin rings held axially or in many points",
        Strength.SHOULD,
        "A force at three points makes three lobes.",
        "Distorting the facts: workholding distortion (trade article)",
        thin_ring_grip,
        Kept.CHECK,
    ),
)
