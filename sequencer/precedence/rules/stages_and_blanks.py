"""Stages of a feature, and the blank that teeth are cut into."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise, product

from sequencer.operations import BENCH, Action, Operation, Stage
from sequencer.part import AnyFeature
from sequencer.part.milled import Marking
from sequencer.part.toothed import BevelGear
from sequencer.part.turned import ApexGroove, Chamfer, Face, Groove, Radius, RunOutGroove, Thread
from sequencer.precedence.context import RuleContext, Toothed, stage_rank
from sequencer.precedence.demands import (
    Outcome,
    before,
    in_one_clamping,
    in_reach,
    opens,
    warning,
    wish_in_reach,
)
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import end_faces, is_internal, next_to, open_side_of, way_in
from sequencer.precedence.rule import PRACTICE, Kept, Rule

_GROOVES = Groove | ApexGroove | RunOutGroove
_TEETH = (Action.CUT_TEETH, Action.SEND_OUT)


def stages_in_order(context: RuleContext) -> Iterator[Outcome]:
    """R0: each feature is roughed, then finished; what is cut into a surface waits for its first cut.

    Parameters
    ----------
    context
        The operations.
    """
    yield from _receiving(context)
    for feature in context.part.features:
        yield from _stages(context, feature.name)
        if isinstance(feature, Face):
            yield from _shoulder(context, feature)
        if isinstance(feature, _GROOVES):
            yield from _between_surfaces(context, feature)
        elif feature.on is not None or isinstance(feature, Thread):
            for name, first in product(context.carriers(feature), context.starts(feature.name)):
                if not isinstance(feature, Toothed):
                    yield from _into_surface(context, name, feature.name, first)


def _receiving(context: RuleContext) -> Iterator[Outcome]:
    reason = "the blank is checked before work is put into it"
    for receiving in (op for op in context.all if op.action is Action.RECEIVE):
        for clamping in context.clampings:
            yield opens(clamping.name, receiving, None, reason)
        for op in context.all:
            if op.clampings == (BENCH,) and op is not receiving:
                yield before(receiving, op, reason)


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


def _shoulder(context: RuleContext, face: Face) -> Iterator[Outcome]:
    first = context.begun(face.name)
    for name in open_side_of(context, face) if first is not None else ():
        for begun in context.starts(name)[:1]:
            if first is not None and begun is not first:
                yield from in_reach(
                    begun, first, f"stock of {name} lies over {face.name} until it is taken off"
                )


def _between_surfaces(context: RuleContext, groove: Groove | ApexGroove | RunOutGroove) -> Iterator[Outcome]:
    """A groove waits for the first cut of what lies on both its sides, and of the bores that lead to it."""
    first = context.begun(groove.name)
    if first is None:
        return
    sides = dict.fromkeys((*context.carriers(groove), *next_to(context, groove)))
    for name in sides:
        for begun in context.starts(name)[:1]:
            yield from in_reach(
                begun, first, f"{groove.name} is cut into {name}: its stock is taken off first"
            )
    if groove.kind != "apex_groove" and groove.place == "inside":
        yield from opened_way(context, groove, first, skip=tuple(sides))


def opened_way(
    context: RuleContext, feature: AnyFeature, first: Operation, skip: tuple[str, ...] = ()
) -> Iterator[Outcome]:
    """Demand that the bores that lead down to an inside feature are opened before it, in each clamping.

    Parameters
    ----------
    context
        The operations.
    feature
        Inside groove or internal teeth.
    first
        Its first cut.
    skip
        Bores that are spoken of elsewhere.
    """
    for fitted in context.clampings:
        if fitted.name not in first.clampings:
            continue
        for name in way_in(context, feature, fitted.clamping.up):
            begun = context.begun(name)
            if begun is not None and begun is not first and name not in skip:
                reason = f"the tool for {feature.name} passes {name} in {fitted.name}, which is opened first"
                yield opens(fitted.name, begun, first, reason)


def _into_surface(context: RuleContext, carrier: str, name: str, first: Operation) -> Iterator[Outcome]:
    feature = context.part.by_name[name]
    begun = context.begun(carrier)
    if begun is not None and begun is not first:
        yield from in_reach(begun, first, f"{name} is cut into {carrier}: its stock is taken off first")
    if isinstance(context.part.by_name.get(carrier), Toothed):
        return
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
    blank = [op for op in context.blank(gear) if op.hard is not True]
    teeth = [op for op in context.teeth(gear.name) if op.hard is not True]
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
                    yield from wish_in_reach(
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
