"""Internal teeth and bevel teeth."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.operations import Action
from sequencer.part.toothed import BevelGear
from sequencer.precedence.context import RuleContext, machine_clampings, shared
from sequencer.precedence.demands import Outcome, Wanted, before, in_reach, note, same_clamping, warning, wish
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import beside, end_faces, is_blind, is_internal, run_out_grooves
from sequencer.precedence.rule import MEMORY, PRACTICE, Kept, Rule
from sequencer.precedence.rules.access import opened_way
from sequencer.precedence.rules.run_out import grooves_first
from sequencer.precedence.rules.stages_and_blanks import blank_first
from sequencer.precedence.work import is_late


def minor_diameter_before_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R29: the minor diameter of internal teeth and the groove at their end come before them.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        if is_internal(gear):
            yield from blank_first(context, gear, "minor diameter")
            yield from grooves_first(context, gear)


def blind_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R30: blind internal teeth need a groove at depth; the bore above them is open before they are cut.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        if not is_internal(gear):
            continue
        grooves = {groove.name for groove in run_out_grooves(context, gear)}
        near = tuple(name for name in beside(context, gear) if name not in grooves)
        for tooth in context.first_teeth(gear.name):
            for name in near:
                begun = context.opened(name)
                if begun is not None and begun.name != tooth.name:
                    yield from in_reach(
                        begun, tooth, f"stock on {name} would stand in the way of the cutter of {gear.name}"
                    )
            yield from opened_way(context, gear, tooth, skip=near)
        if is_blind(context, gear) and not run_out_grooves(context, gear):
            yield warning(
                gear.name,
                "its teeth are blind and end in no groove",
                "the cutter needs room behind the teeth",
                "Add a run-out groove at the blind end",
            )


def bevel_blank(context: RuleContext) -> Iterator[Outcome]:
    """R31: cones and mounting face are finished before bevel teeth, in one clamping with them.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in context.toothed:
        if not isinstance(gear, BevelGear):
            continue
        blank = [op for op in context.blank(gear) if not is_late(op)]
        name = context.resolve(gear.mounting_face)
        for tooth in (op for op in context.teeth(gear.name) if not is_late(op)):
            for done in blank[-1:]:
                yield before(done, tooth, f"tooth depth of {gear.name} refers to its turned cones")
            for face in end_faces(context, gear):
                for done in context.done(face.name):
                    yield from in_reach(
                        done, tooth, f"the cutter of {gear.name} runs in and out at {face.name}"
                    )
        for tooth in context.last_teeth(gear.name) if name else ():
            for face_done in context.done(name):
                yield from _mounting(context, gear, name, face_done.name, tooth.name)


def _mounting(context: RuleContext, gear: BevelGear, face: str, done: str, tooth: str) -> Iterator[Outcome]:
    one, two = context.operations.by_name[done], context.operations.by_name[tooth]
    yield Wanted(
        before(one, two, f"the mounting distance of {gear.name} counts from {face}"),
        f"{face} is made after {gear.name}: the mounting distance is set by grinding or shims",
        f"Finish {face} in a clamping before the teeth",
    )
    seats = [c.name for c in context.clampings if c.clamping.rests_on == face]
    if not shared(one, two) and all(name in seats for name in machine_clampings(two)):
        yield note(gear.name, f"stands on its mounting face {face} while its teeth are cut")
        return
    yield Wanted(
        same_clamping(one, two, f"contact of {gear.name} depends on its distance from {face}"),
        f"{face} and {gear.name} are made in different clampings: measure the mounting distance",
        "Let one clamping reach both, or stand the part on the mounting face",
    )


def bevel_after_heavy(context: RuleContext) -> Iterator[Outcome]:
    """R32: bevel teeth cut by end mill come after all heavy cutting.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for gear in context.toothed:
        if not isinstance(gear, BevelGear):
            continue
        for tooth in context.last_teeth(gear.name):
            if not any("mill" in each.method for each in tooth.alternatives):
                continue
            for heavy in (op for op in context.all if op.heavy and op.feature != gear.name):
                if not context.leads(heavy, tooth) and set(heavy.clampings) <= set(tooth.clampings):
                    yield wish(heavy, tooth, f"hours of fine milling on {gear.name} want a cold, calm part")


def chips_before_internal_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R51: grooves and holes that fill a cavity with chips come before the finish of its internal teeth.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for gear in context.toothed:
        if not is_internal(gear):
            continue
        for feature in context.part.features:
            inside = (
                feature.kind in ("groove", "run_out_groove") and getattr(feature, "place", "") == "inside"
            )
            radial = feature.kind == "bolt_circle" and getattr(feature, "direction", "") == "radial"
            if not inside and not radial:
                continue
            yield from _chips_first(context, feature.name, gear.name)


def _chips_first(context: RuleContext, name: str, gear: str) -> Iterator[Outcome]:
    for cut in context.cuts(name):
        if cut.action not in (Action.GROOVE, Action.DRILL, Action.TURN):
            continue
        for tooth in context.last_teeth(gear):
            if not context.leads(cut, tooth) and set(cut.clampings) <= set(tooth.clampings):
                yield wish(cut, tooth, f"chips of {name} would be pressed into finished flanks of {gear}")


RULES = (
    Rule(
        "R29",
        "Minor diameter and groove before internal teeth",
        Strength.MUST,
        "The tip cylinder of internal teeth is a bore, and the cutter runs out at their end.",
        PRACTICE,
        minor_diameter_before_teeth,
        Kept.BOTH,
    ),
    Rule(
        "R30",
        "Blind internal teeth end in a groove",
        Strength.MUST,
        "The groove is turned from above before the teeth; neck and holder must clear the bore.",
        PRACTICE,
        blind_teeth,
        Kept.BOTH,
    ),
    Rule(
        "R31",
        "Cones and mounting face before bevel teeth",
        Strength.MUST,
        "The contact pattern depends on the mounting distance.",
        MEMORY,
        bevel_blank,
        Kept.BOTH,
    ),
    Rule(
        "R32",
        "Bevel teeth by end mill last",
        Strength.SHOULD,
        "A long, fine cut suffers from heat and carries the value of all work before it.",
        PRACTICE,
        bevel_after_heavy,
        penalty=15.0,
        late=True,
    ),
    Rule(
        "R51",
        "Chips into a cavity before its teeth",
        Strength.SHOULD,
        "A chip pressed into a flank spoils it.",
        "Cutting method reacting to a chip pressed into a flank (patent)",
        chips_before_internal_teeth,
        penalty=8.0,
        late=True,
    ),
)
