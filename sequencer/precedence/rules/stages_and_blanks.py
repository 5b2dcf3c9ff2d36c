"""Stages of a feature, and the blank that teeth are cut into."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise, product

from sequencer.operations import BENCH, Action, Operation, Stage
from sequencer.part.milled import Marking
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import BevelGear
from sequencer.part.turned import ApexGroove, Chamfer, Groove, Radius, RunOutGroove, Thread
from sequencer.precedence.context import RuleContext, Toothed, shared
from sequencer.precedence.demands import (
    Outcome,
    Wanted,
    before,
    in_one_clamping,
    in_reach,
    opens,
    same_clamping,
    warning,
    wish,
)
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import end_faces, is_internal
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.rules.access import stock_off_first
from sequencer.precedence.work import is_late, stage_rank
from sequencer.units import shown

_GROOVES = Groove | ApexGroove | RunOutGroove
_TEETH = (Action.CUT_TEETH, Action.SEND_OUT)


def stages_in_order(context: RuleContext) -> Iterator[Outcome]:
    """R0: each feature is roughed, then finished; what is cut into a surface waits for its first cut.

    Clampings that hold the part alike are used in the order of the part file.

    Parameters
    ----------
    context
        The operations.
    """
    yield from _receiving(context)
    yield from _alike_in_order(context)
    yield from _drilled_open(context)
    for feature in context.part.features:
        yield from _stages(context, feature.name)
        yield from stock_off_first(context, feature)
        if isinstance(feature, Toothed | _GROOVES) or not (feature.on or isinstance(feature, Thread)):
            continue
        for name, first in product(context.carriers(feature), context.starts(feature.name)):
            yield from _into_surface(context, name, feature.name, first)


def _receiving(context: RuleContext) -> Iterator[Outcome]:
    reason = "the blank is checked before work is put into it"
    for receiving in (op for op in context.all if op.action is Action.RECEIVE):
        for clamping in context.clampings:
            yield opens(clamping.name, receiving, None, reason)
        for op in context.all:
            if BENCH in op.clampings and op is not receiving:
                yield before(receiving, op, reason)


def _drilled_open(context: RuleContext) -> Iterator[Outcome]:
    """A solid blank is drilled open before anything is cut inside it."""
    if context.part.blank.bore > 0:
        return
    inside = {feature.name for feature in context.part.features if place_of(feature) == "inside"}
    for drill in context.all:
        if drill.action is not Action.DRILL or drill.feature not in inside:
            continue
        for op in context.all:
            if op.cuts and op.feature in inside and op is not drill and op.action is not Action.DRILL:
                yield before(drill, op, "the blank is solid until it is drilled open")


def _alike_in_order(context: RuleContext) -> Iterator[Outcome]:
    for first, second in combinations(context.clampings, 2):
        held = [each.clamping.model_copy(update={"name": ""}) for each in (first, second)]
        steps = context.in_clamping(first.name, Action.SOAK, Action.RELEASE, Action.WASH)
        if held[0] == held[1] and first.means.name == second.means.name and steps:
            yield Wanted(
                opens(
                    second.name, steps[0], None, f"{first.name} and {second.name} hold alike: in their order"
                ),
                f"{second.name} is used before {first.name}, which is listed before it",
                "List them in the order of their use",
            )


def _stages(context: RuleContext, name: str) -> Iterator[Outcome]:
    chains: dict[tuple[bool, str], list[Operation]] = {}
    for op in context.cuts(name):
        chains.setdefault((op.action in _TEETH, op.half), []).append(op)
    for (toothed, half), chain in chains.items():
        ordered = sorted(chain, key=lambda op: stage_rank(op.stage))
        for first, second in pairwise(ordered):
            if stage_rank(first.stage) < stage_rank(second.stage):
                yield before(first, second, f"{second.stage} work follows {first.stage} work on {name}")
        if half and (toothed, "") in chains:
            whole = chains[(toothed, "")][0]
            yield before(ordered[-1], whole, f"both halves of {name} are cut before they are {whole.stage}ed")


def _into_surface(context: RuleContext, carrier: str, name: str, first: Operation) -> Iterator[Outcome]:
    feature = context.part.by_name[name]
    begun = context.opened(carrier)
    if begun is not None and begun is not first:
        yield from in_reach(begun, first, f"{name} is cut into {carrier}: its stock is taken off first")
    if isinstance(context.part.by_name.get(carrier), Toothed | Thread):
        return  # edges of teeth and threads come before them, by rules of their own
    for done in context.ready(carrier, first):
        if isinstance(feature, Marking) and done is not begun:
            yield from in_reach(done, first, f"{name} would be turned away with the stock of {carrier}")
        elif isinstance(feature, Chamfer | Radius) and done is not begun:
            yield from in_one_clamping(done, first, f"{name} is measured from finished {carrier}")


def blank_before_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R1: tip cylinder and end faces are turned before outside teeth are cut.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        if not is_internal(gear) and not isinstance(gear, BevelGear):
            yield from blank_first(context, gear, "tip cylinder")
            yield from _tip_with_teeth(context, gear)


def _tip_with_teeth(context: RuleContext, gear: Toothed) -> Iterator[Outcome]:
    """Finish the tip cylinder with the teeth: it is what an indicator finds of them later."""
    tip = [op for op in context.blank(gear) if not is_late(op)][-1:]
    teeth = context.done(gear.name)
    for blank, tooth in product(tip, teeth):
        if shared(blank, tooth):
            error = 1000 * context.shop.machine.capability.reclamping
            yield Wanted(
                same_clamping(blank, tooth, f"the tip of {gear.name} shows its axis if made with its teeth"),
                f"the tip of {gear.name} may run out by {shown(2 * error, 0)} um against its teeth",
                "Indicate the bore or a band made with the teeth, not the tip",
            )


def blank_first(context: RuleContext, gear: Toothed, words: str) -> Iterator[Outcome]:
    """Demand that the cylinder and the end faces of teeth are turned before them.

    Roughing of teeth needs a blank that is turned round; only the finish needs it finished.

    Parameters
    ----------
    context
        The operations.
    gear
        The gear or spline.
    words
        What the cylinder is called.
    """
    blank = [op for op in context.blank(gear) if not is_late(op)]
    teeth = [op for op in context.teeth(gear.name) if not is_late(op)]
    if teeth and not blank:
        yield warning(
            gear.name,
            f"no operation turns its {words}",
            "depth and edges of the teeth refer to it",
            "Name the turned feature that carries the teeth (key on)",
        )
    for op in teeth:
        rough = op.stage is Stage.ROUGH
        if blank:
            need = blank[0] if rough else blank[-1]
            state = "turned round" if rough else "finished"
            yield before(need, op, f"tooth depth and edges of {gear.name} refer to its {state} {words}")
        for face in end_faces(context, gear):
            begun = context.begun(face.name)
            for done in (begun,) if rough else context.done(face.name):
                if done is not None:
                    yield from in_reach(
                        done, op, f"{gear.name} ends in {face.name}: its cutter runs in and out there"
                    )


def tip_chamfer_before_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R34: turned chamfers at the ends of teeth come before the teeth.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        carriers = {gear.name, gear.on}
        for edge in context.part.features:
            if not isinstance(edge, Chamfer | Radius) or edge.on not in carriers:
                continue
            for cut in context.cuts(edge.name):
                for tooth in context.first_teeth(gear.name):
                    yield wish(
                        cut, tooth, f"{edge.name} turned first leaves less burr at the ends of {gear.name}"
                    )


RULES = (
    Rule(
        "R0",
        "Stages of a feature follow each other",
        Strength.MUST,
        "Stock is taken off before a surface is finished or cut into; the blank is checked first.",
        PRACTICE,
        stages_in_order,
    ),
    Rule(
        "R1",
        "Blank before outside teeth",
        Strength.MUST,
        "Tooth depth, run-in and edges refer to the turned blank; its error becomes an error of the gear.",
        "Gear production process (article); "
        "The critical impact of datum face errors in gear cutting (article)",
        blank_before_teeth,
        Kept.BOTH,
    ),
    Rule(
        "R34",
        "Turned tip chamfer before teeth",
        Strength.SHOULD,
        "A chamfer on the blank leaves tooth ends nearly finished and with less burr.",
        PRACTICE,
        tip_chamfer_before_teeth,
        penalty=5.0,
    ),
)
