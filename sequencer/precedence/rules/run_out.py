"""Room for the cutter: grooves and neighbours at the ends of teeth."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.part.toothed import BevelGear
from sequencer.part.turned import ApexGroove, RunOutGroove
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.precedence.demands import Outcome, Wanted, before, error, in_reach, note, warning
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import (
    beside,
    face_grooves_at,
    is_internal,
    root_diameter,
    run_out_grooves,
)
from sequencer.precedence.rule import MEMORY, PRACTICE, Kept, Rule
from sequencer.units import shown

#: Run-out that leaves less than this share of its room free is reported; common practice, no source.
TIGHT = 0.05


def groove_before_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R7: run-out grooves and neighbours beside outside teeth are turned before the teeth.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        if is_internal(gear):
            continue
        yield from grooves_first(context, gear)
        for name in beside(context, gear):
            begun = context.opened(name)
            if begun is None or isinstance(context.part.by_name[name], ApexGroove | RunOutGroove):
                continue
            for tooth in context.first_teeth(gear.name):
                if begun.name != tooth.name:
                    yield from in_reach(
                        begun, tooth, f"stock on {name} would stand in the way of the cutter of {gear.name}"
                    )
        yield from _tight(context, gear)


def grooves_first(context: RuleContext, gear: Toothed) -> Iterator[Outcome]:
    """Demand that the turned grooves at the ends of teeth come before them.

    Parameters
    ----------
    context
        The operations.
    gear
        The gear or spline.
    """
    for groove in run_out_grooves(context, gear):
        if isinstance(groove, ApexGroove):
            continue
        for done in context.done(groove.name):
            for tooth in context.first_teeth(gear.name):
                yield before(
                    done,
                    tooth,
                    f"the cutter of {gear.name} runs out into {groove.name}, reckoned at full width",
                )


def _tight(context: RuleContext, gear: Toothed) -> Iterator[Outcome]:
    """Say which run-outs fit closely; the methods were checked for fit when they were chosen."""
    for tooth in context.teeth(gear.name):
        for quickest in tooth.alternatives[:1]:
            facts = {fact.name: fact.value for fact in quickest.facts}
            for side in ("below", "above"):
                need, room = facts.get(f"run-out needed {side}"), facts.get(f"run-out room {side}")
                if need is not None and room is not None and room - need < TIGHT * room:
                    yield note(
                        gear.name,
                        f"{quickest.tool} needs {shown(need, 1)} of {shown(room, 1)} mm of run-out {side}",
                        f"close from {shown(100 * (1 - TIGHT))} % of the room",
                        f"Measure the room {side} on the turned blank before {tooth.name}",
                    )


def groove_below_root(context: RuleContext) -> Iterator[Outcome]:
    """R8: grooves for run-out reach below the tooth root.

    Parameters
    ----------
    context
        The operations.
    """
    margin = float(context.shop.limits.groove_below_root)
    for gear in context.toothed:
        if isinstance(gear, BevelGear):
            continue
        root = root_diameter(context, gear)
        for groove in run_out_grooves(context, gear):
            depth = (float(groove.diameter) - root) / 2
            below = depth if is_internal(gear) else -depth
            if below >= margin:
                continue
            limit = f"at least {shown(margin)} mm below the root diameter {shown(root)} mm"
            remedy = f"Make the groove deeper by {shown(margin - below)} mm a side"
            if below < 0:
                yield error(
                    groove.name,
                    f"its floor stands {shown(-below)} mm above the root of {gear.name}: the cutter meets it",
                    limit,
                    remedy,
                )
            else:
                yield warning(
                    groove.name,
                    f"its floor lies only {shown(below)} mm below the root of {gear.name}",
                    limit,
                    remedy,
                )


def face_grooves(context: RuleContext) -> Iterator[Outcome]:
    """R35: a face groove at tooth ends comes before the teeth as their run-out, else after deburring.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        for groove, run_out in face_grooves_at(context, gear):
            done = context.done(groove.name)
            if run_out:
                for cut in done:
                    for tooth in context.first_teeth(gear.name):
                        yield before(cut, tooth, f"the cutter of {gear.name} runs out into {groove.name}")
                continue
            for deburring in context.deburring(gear.name):
                for cut in done:
                    yield Wanted(
                        before(deburring, cut, f"burr of {gear.name} would be pushed into {groove.name}"),
                        f"burr of {gear.name} may lie in {groove.name}",
                        f"Clean {groove.name} after deburring",
                    )


RULES = (
    Rule(
        "R7",
        "Run-out groove and neighbours before teeth",
        Strength.MUST,
        "Hob, disc or skiving cutter would hit the groove wall, the shoulder or stock left on it.",
        "Machining scheme for combined herringbone gears (article)",
        groove_before_teeth,
        Kept.BOTH,
    ),
    Rule(
        "R8",
        "Groove below the tooth root",
        Strength.MUST,
        "No step is left at the tooth end and chips leave freely.",
        MEMORY,
        groove_below_root,
        Kept.CHECK,
    ),
    Rule(
        "R35",
        "Face groove at tooth ends",
        Strength.MUST,
        "Needed before the teeth as run-out; otherwise the burr of the teeth would end in it.",
        PRACTICE,
        face_grooves,
    ),
)
