"""Holes that hold, lift or balance the part while it is made."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from sequencer.operations import Operation
from sequencer.part.milled import BoltCircle
from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import Outcome, Wanted, before, note, opens, warning
from sequencer.precedence.dependency import Strength
from sequencer.precedence.hole_geometry import breaks_into
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.rules.holes_and_keyways import holes_of


def holes_needed_early(context: RuleContext) -> Iterator[Outcome]:
    """R23: holes that hold or lift the part are made before the surface around them is finished elsewhere.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for hole in holes_of(context):
        if not hole.use:
            continue
        for made in context.done(hole.name):
            for done in context.ready(hole.on, made):
                if context.leads(made, done):
                    yield before(
                        made, done, f"{hole.name} ({hole.use}) must be open before {hole.on} is finished"
                    )
                    yield note(
                        hole.on,
                        f"its finish turns over the open holes of {hole.name}",
                        "an interrupted cut",
                        f"Derate cutting speed and feed of {done.name}",
                    )


def holes_before_final_check(context: RuleContext) -> Iterator[Outcome]:
    """R47: lifting and balance holes lie outside the teeth, come before their check and before turn-over.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for hole in holes_of(context):
        if hole.use not in ("lifting", "balance"):
            continue
        cuts = context.cuts(hole.name)
        for gear in context.toothed:
            if breaks_into(context, hole, gear):
                yield warning(
                    hole.name,
                    f"lies in the tooth zone of {gear.name}",
                    "no hole in the teeth",
                    "Move the holes to a web or face",
                )
            for cut, check in product(cuts, context.measuring(gear.name)):
                yield Wanted(
                    before(
                        cut,
                        check,
                        f"drilling {hole.name} can move {gear.name}: its check comes last",
                    ),
                    f"{hole.name} is drilled after the check of {gear.name}",
                    f"Check {gear.name} again after drilling",
                )
        if hole.use == "lifting" and cuts:
            yield from _before_turn_over(hole, cuts[-1], context.deduction.order)


def _before_turn_over(
    hole: BoltCircle, last: Operation, order: tuple[tuple[str, str], ...]
) -> Iterator[Outcome]:
    for earlier, later in order:
        if earlier in last.clampings and later not in last.clampings:
            yield opens(later, last, None, f"{hole.name} lifts the part when it is turned over for {later}")


RULES = (
    Rule(
        "R23",
        "Holes that hold or lift are open early",
        Strength.MUST,
        "The hole is needed before the surface can be finished; turning over it is derated.",
        PRACTICE,
        holes_needed_early,
        Kept.BOTH,
        late=True,
    ),
    Rule(
        "R47",
        "Lifting and balance holes",
        Strength.MUST,
        "Holes outside the teeth, before the last check; lifting holes before the part is turned over.",
        PRACTICE,
        holes_before_final_check,
        Kept.BOTH,
        late=True,
    ),
)
