"""Deburring, cleaning, measuring and the last cut."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.operations import BENCH, Action, Operation
from sequencer.part.toothed import BevelGear
from sequencer.precedence.context import RuleContext, Toothed, machine_clampings
from sequencer.precedence.demands import (
    Outcome,
    Wanted,
    before,
    closes,
    note,
    opens,
    same_clamping,
    warning,
    wish,
)
from sequencer.precedence.dependency import Strength
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.rules.roughing_and_heat import is_close_finish
from sequencer.precedence.work import is_late, removes

_HARDENING = ("case hardening", "nitriding", "induction hardening")


def deburr_after_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R33: tooth edges are deburred after cutting, before hardening, measuring and handling.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        deburring = context.deburring(gear.name)
        if not deburring and any(not op.rejected or op.alternatives for op in context.teeth(gear.name)):
            yield warning(
                gear.name,
                "no operation deburrs its teeth",
                "burr hurts people and tools and breaks off in service",
                "Plan deburring by tool or by hand",
            )
        for op in deburring:
            yield from _deburring(context, gear, op)


def _deburring(context: RuleContext, gear: Toothed, op: Operation) -> Iterator[Outcome]:
    for tooth in context.last_teeth(gear.name, hard=is_late(op)):
        yield before(tooth, op, f"the burr of {gear.name} is there once its teeth are cut")
        if machine_clampings(tooth):
            yield Wanted(
                same_clamping(tooth, op, f"{gear.name} is not handled with burr on its teeth"),
                f"{gear.name} is unclamped and handled with sharp burr on its teeth",
                "Break the edges by hand before unclamping; wear cut-proof gloves",
            )
    treatment = context.heat_treatment(*_HARDENING)
    if treatment is not None and op.hard is not True:
        yield before(op, treatment, f"sharp edges of {gear.name} would harden through and break off")
    for check in context.measuring(gear.name):
        if check.hard is not False or op.hard is not True:
            yield before(op, check, f"{gear.name} is measured free of burr")


def measure_finished_and_clean(context: RuleContext) -> Iterator[Outcome]:
    """R36: a feature is measured finished, deburred and clean, before unclamping where that helps.

    Parameters
    ----------
    context
        The operations.
    """
    for fitted in context.clampings:
        yield from washed_before_measuring(context, fitted.name)
    for check in (op for op in context.all if op.action is Action.MEASURE):
        if check.feature in context.operations.clamping_by_name:
            yield from _clamping_measured(context, check)
        elif check.feature in context.part.by_name:
            yield from _feature_measured(context, check)


def _clamping_measured(context: RuleContext, check: Operation) -> Iterator[Outcome]:
    clamping = check.feature
    for op in context.all:
        edge = op.action is Action.DEBURR and clamping in op.clampings
        if edge or (clamping in op.clampings and is_close_finish(context, op)):
            yield closes(clamping, check, op, f"what is cut in {clamping} is measured before it is unclamped")


def _feature_measured(context: RuleContext, check: Operation) -> Iterator[Outcome]:
    name = check.feature
    done = context.done(name, hard=check.hard is not False)
    for op in done:
        yield before(op, check, f"{name} is measured once it is finished")
        if machine_clampings(op) and check.hard is not True and not is_late(op):
            yield Wanted(
                same_clamping(op, check, f"an error of {name} can be corrected only while it is clamped"),
                f"{name} is measured after unclamping: an error found then can hardly be corrected",
                "Measure on the machine before unclamping, or leave stock until it is measured; where the "
                "part comes back to a clamping, list it once more as a further one, with its own washing",
            )


def washed_before_measuring(context: RuleContext, clamping: str) -> Iterator[Outcome]:
    """Put the washing of a clamping after all its cutting and before all its measuring.

    There is one washing a clamping: where the part comes back to it, from hardening or from outside, all that
    is measured there waits for the last visit, so that nothing is ever measured with chips on it.

    Parameters
    ----------
    context
        The operations.
    clamping
        Name of the clamping.
    """
    checks = [op for op in context.all if op.action is Action.MEASURE and clamping in op.clampings]
    for wash in context.in_clamping(clamping, Action.WASH):
        for check in checks:
            yield opens(clamping, wash, check, f"chips and coolant falsify what is measured in {clamping}")
        for feature in context.part.features:
            name = feature.name
            done = (*context.done(name), *context.done(name, hard=True), *context.deburring(name))
            for op in dict.fromkeys(done):
                if clamping in op.clampings:
                    yield closes(
                        clamping, wash, op, f"chips of all work in {clamping} are washed off together"
                    )


def inspection_last(context: RuleContext) -> Iterator[Outcome]:
    """R37: final acceptance comes after all that can move the teeth.

    Parameters
    ----------
    context
        The operations.
    """
    reason = "release, hardening and all cutting can still move the teeth; acceptance comes last"
    for inspection in (op for op in context.all if op.action is Action.INSPECT):
        for clamping in context.clampings:
            yield closes(clamping.name, inspection, None, reason)
        for op in context.all:
            if BENCH in op.clampings and op.action is not Action.INSPECT:
                yield before(op, inspection, reason)


def best_teeth_last(context: RuleContext) -> Iterator[Outcome]:
    """R38: the teeth of the best class are the last metal cut in their clamping, deburring apart.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    classes = {gear.name: gear.flank_class.number for gear in context.toothed if gear.flank_class is not None}
    best = [name for name, number in classes.items() if number == min(classes.values())]
    asked = {(d.first, d.second) for d in context.known}
    for name in best:
        for tooth in (op for op in context.last_teeth(name) if machine_clampings(op)):
            for op in context.all:
                rival = op.feature in best and op.action in (Action.CUT_TEETH, Action.SEND_OUT)
                if not removes(op) or is_late(op) or rival:
                    continue
                if (
                    context.leads(op, tooth)
                    or (tooth.name, op.name) in asked
                    or (op.name, tooth.name) in asked
                ):
                    continue
                if set(op.clampings) <= set(tooth.clampings):
                    yield wish(op, tooth, f"no later heat or force on {name}, which has the best class")


def stop_points(context: RuleContext) -> Iterator[Outcome]:
    """R52: the work stops before the first tooth finish and before unclamping, to correct what can be.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        if isinstance(gear, BevelGear) and gear.flank_class is None:
            continue
        if not context.tooth_roughs(gear.name):
            continue
        names = " and ".join(op.name for op in context.last_teeth(gear.name))
        if names:
            yield note(
                gear.name,
                f"stop before {names} and before unclamping",
                "the last chances to correct",
                "Measure size, run-out and stock of the roughed teeth at the stop",
            )


RULES = (
    Rule(
        "R33",
        "Deburr after teeth, before anything else touches them",
        Strength.MUST,
        "Burr hurts people and tools, breaks off in service, and a sharp edge hardens through.",
        "Gearing up to a better chamfering and deburring process (trade article); "
        "The bold new world of chamfering and deburring (trade article)",
        deburr_after_teeth,
        Kept.BOTH,
    ),
    Rule(
        "R36",
        "Measure finished, deburred and clean",
        Strength.MUST,
        "Chips, burr and heat falsify a measurement; before unclamping an error can be corrected.",
        PRACTICE,
        measure_finished_and_clean,
        Kept.BOTH,
        late=True,
    ),
    Rule(
        "R37",
        "Final acceptance last",
        Strength.MUST,
        "Release, hardening, hard finishing and balancing holes can move the teeth.",
        PRACTICE,
        inspection_last,
    ),
    Rule(
        "R38",
        "Teeth of the best class last",
        Strength.SHOULD,
        "No heat and no force comes after them.",
        PRACTICE,
        best_teeth_last,
        penalty=3.0,
        late=True,
    ),
    Rule(
        "R52",
        "Stop points",
        Strength.SHOULD,
        "Before the first tooth finish and before unclamping are the last chances to correct.",
        PRACTICE,
        stop_points,
        Kept.CHECK,
    ),
)
