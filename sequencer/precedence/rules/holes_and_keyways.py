"""Holes, threads, keyways and pockets."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

from sequencer.operations import Action, FittedClamping
from sequencer.part import AnyFeature
from sequencer.part.extents import zone_of
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.profile import SAME
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Bore, Chamfer, Face, FaceGroove, Groove, Taper, Thread
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.precedence.demands import (
    Outcome,
    Wanted,
    before,
    in_reach,
    note,
    same_zero,
    warning,
    wish,
    wish_in_reach,
)
from sequencer.precedence.dependency import Strength
from sequencer.precedence.geometry import ends_at
from sequencer.precedence.hole_geometry import breaks_into, crossing, wall_beside_hole
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.rules.datums import axis_datum, locating
from sequencer.units import shown

_MILLED = Keyway | Flat | Pocket | BoltCircle
_HARDENING = ("case hardening", "nitriding", "induction hardening")


def holes_of(context: RuleContext) -> tuple[BoltCircle, ...]:
    """Bolt circles of the part.

    Parameters
    ----------
    context
        The operations.
    """
    return tuple(feature for feature in context.part.features if isinstance(feature, BoltCircle))


def drill_then_thread(context: RuleContext) -> Iterator[Outcome]:
    """R20: drill, then counterbore or ream, then thread; a thread comes after face and chamfer at its entry.

    Parameters
    ----------
    context
        The operations.
    """
    for hole in holes_of(context):
        drills = context.operations.of(hole.name, action=Action.DRILL)
        sinks = context.operations.of(hole.name, action=Action.COUNTERBORE)
        reams = context.operations.of(hole.name, action=Action.REAM)
        taps = context.operations.of(hole.name, action=Action.TAP)
        for drill, other in product(drills, (*sinks, *reams, *taps)):
            yield before(drill, other, f"{hole.name}: {other.action} needs the drilled hole")
        for sink, tap in product(sinks, taps):
            yield before(sink, tap, f"{hole.name}: the thread starts cleanly from a finished entry")
        for tap in taps:
            for done in context.ready(hole.on, tap):
                yield from in_reach(done, tap, f"{hole.name}: the thread starts from finished {hole.on}")
    for thread in context.part.of_kind("thread"):
        if isinstance(thread, Thread):
            yield from _turned_thread(context, thread)


def _turned_thread(context: RuleContext, thread: Thread) -> Iterator[Outcome]:
    threading = context.operations.of(thread.name, action=Action.THREAD)
    before_it = dict.fromkeys(context.carriers(thread))
    for feature in context.part.features:
        if isinstance(feature, Chamfer) and feature.on in (thread.name, *before_it):
            before_it[feature.name] = None
        if isinstance(feature, Groove) and feature.place == thread.place and ends_at(feature, thread):
            before_it[feature.name] = None
    for cut in threading:
        for op in context.cuts(thread.name):
            if op.action is Action.TURN:
                yield before(op, cut, f"{thread.name} is cut into its turned cylinder")
        for name in before_it:
            for done in context.ready(name, cut):
                yield from in_reach(done, cut, f"{thread.name} starts and ends cleanly at finished {name}")


def face_before_drilling(context: RuleContext) -> Iterator[Outcome]:
    """R21: the face that holes enter is finished before they are drilled, and roughed before bores are.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    yield from _face_before_boring(context)
    for hole in holes_of(context):
        face = context.part.by_name.get(hole.on)
        if hole.direction != "axial" or not isinstance(face, Face) or _needed_early(hole):
            continue
        for drill in context.cuts(hole.name)[:1]:
            for done in context.ready(face.name, drill):
                yield from wish_in_reach(
                    done, drill, f"{hole.name}: a drill starts true and to depth on a finished face"
                )


def _face_before_boring(context: RuleContext) -> Iterator[Outcome]:
    """The face that looks up is roughed before the bores under it that the same clamping can rough."""
    for fitted in context.clampings:
        for bore in context.part.features:
            if not isinstance(bore, Bore | Taper) or place_of(bore) != "inside":
                continue
            for face, boring in product(_entries(context, bore, fitted), context.cuts(bore.name)[:1]):
                later = [name for name in context.possible[boring.name] if name != fitted.name]
                first = len(later) < len(context.possible[boring.name])
                known = all((fitted.name, name) in context.deduction.order for name in later)
                for facing in context.cuts(face)[:1]:
                    if first and known and context.possible[facing.name] == (fitted.name,):
                        yield wish(
                            facing,
                            boring,
                            f"{bore.name} is bored from a turned {face}, not from the raw skin",
                        )


def _entries(context: RuleContext, bore: Bore | Taper, fitted: FittedClamping) -> Iterator[str]:
    """Faces that a boring bar passes: the uppermost of the part, and the one that the bore ends in."""
    up = fitted.clamping.up
    top = context.section.upper_face if up == "upper" else context.section.lower_face
    end = zone_of(bore)[1 if up == "upper" else 0]
    for face in context.part.features:
        if (
            isinstance(face, Face)
            and face.side == up
            and (face.name == top or abs(float(face.z) - end) < SAME)
        ):
            yield face.name


def turn_before_interrupting(context: RuleContext) -> Iterator[Outcome]:
    """R22: holes, keyways, pockets and grooves come after the surface they interrupt is finish-turned.

    Parameters
    ----------
    context
        The operations.
    """
    for feature in context.part.features:
        if isinstance(feature, Groove | FaceGroove):
            yield from _groove_after(context, feature)
        if not isinstance(feature, _MILLED) or _needed_early(feature):
            continue
        for first in context.cuts(feature.name)[:1]:
            for done in context.ready(feature.on, first):
                yield wish(
                    done, first, f"turning over {feature.name} would be an interrupted cut on {feature.on}"
                )


def _groove_after(context: RuleContext, groove: Groove | FaceGroove) -> Iterator[Outcome]:
    """A groove is finished once the surface is finished from which its depth counts."""
    for name, cut in product(context.carriers(groove), context.done(groove.name)):
        if isinstance(context.part.by_name.get(name), Toothed | Thread):
            continue
        for done in context.ready(name, cut):
            yield wish(done, cut, f"the depth of {groove.name} counts from finished {name}")


def _needed_early(feature: AnyFeature) -> bool:
    return isinstance(feature, BoltCircle) and feature.use in ("lifting", "balance")


def drill_before_wall(context: RuleContext) -> Iterator[Outcome]:
    """R24: holes that break into teeth, a groove or a bore are drilled before that wall is finished.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for hole, feature in product(holes_of(context), context.part.features):
        if feature.name == hole.name or not breaks_into(context, hole, feature):
            continue
        drills = context.operations.of(hole.name, action=Action.DRILL)
        kept = False
        for drill, done in product(drills, context.done(feature.name)):
            if not context.leads(done, drill):
                kept = True
                yield wish(
                    drill, done, f"{hole.name} breaks into {feature.name}; its finish takes the burr off"
                )
        if drills and not kept:
            done = context.done(feature.name)[-1]
            yield note(
                hole.name,
                f"breaks into {feature.name} after that is finished",
                f"R24 wants {drills[0].name} before {done.name}, which other rules put the other way round: "
                "burr at the break-through",
                f"Deburr {feature.name} where {hole.name} breaks through",
            )


def small_holes_first(context: RuleContext) -> Iterator[Outcome]:
    """R25: of holes that run into each other the smaller ones are drilled first.

    Parameters
    ----------
    context
        The operations.
    """
    for one, other in combinations(holes_of(context), 2):
        if one.diameter == other.diameter or not crossing(context, one, other):
            continue
        small, large = sorted((one, other), key=lambda hole: float(hole.diameter))
        for first, second in product(
            context.operations.of(small.name, action=Action.DRILL),
            context.operations.of(large.name, action=Action.DRILL),
        ):
            yield wish(
                first,
                second,
                f"{small.name} crosses {large.name}; the small drill would lose its guide there",
            )


def thin_wall_beside_hole(context: RuleContext) -> Iterator[Outcome]:
    """R26: holes close to a tooth root or groove are flagged, and drilled before hardening and tooth finish.

    Parameters
    ----------
    context
        The operations.
    """
    for hole, feature in product(holes_of(context), context.part.features):
        wall = wall_beside_hole(context, hole, feature)
        need = min(float(context.shop.limits.wall_by_hole), float(hole.diameter) / 2)
        if wall is None or wall >= need or breaks_into(context, hole, feature):
            continue
        yield warning(
            hole.name,
            f"only {shown(wall)} mm of wall are left to {feature.name}",
            f"at least {shown(need)} mm: the shop's limit or half the hole",
            "Move the circle, take a smaller hole, or check the wall",
        )
        drills = context.operations.of(hole.name, action=Action.DRILL)
        treatment = context.heat_treatment(*_HARDENING)
        for drill in drills:
            if treatment is not None and drill.hard is not True:
                yield before(
                    drill, treatment, f"the thin wall beside {hole.name} would crack or bulge if hard"
                )
            for tooth in context.last_teeth(feature.name) if isinstance(feature, Toothed) else ():
                yield Wanted(
                    before(drill, tooth, f"drilling {hole.name} would bulge finished {feature.name}"),
                    f"drilling {hole.name} may bulge finished {feature.name}",
                    "Drill with low feed and measure the teeth beside the holes",
                )


def phase_from_one_zero(context: RuleContext) -> Iterator[Outcome]:
    """R27: what has an angle to teeth or holes shares their zero, or the zero is found again by probing.

    Parameters
    ----------
    context
        The operations.
    """
    capability = context.shop.machine.capability
    for feature in context.part.features:
        if feature.phase is None:
            continue
        other = context.part.by_name.get(context.resolve(feature.phase.to))
        if other is None or (isinstance(feature, Toothed) and isinstance(other, Toothed)):
            continue
        left = 1000 * float(capability.reclamping)
        allowed = 1000 * float(feature.phase.tolerance)
        for one, two in product(locating(context, feature), locating(context, other)):
            yield Wanted(
                same_zero(
                    one, two, f"{feature.name} has an angle to {other.name}: both from one angular zero"
                ),
                f"{feature.name} and {other.name} are made from different zeros; about {shown(left, 0)} um "
                f"enter, {shown(allowed, 0)} um are allowed",
                f"Find the angular zero again by probing {other.name} on both flanks before {feature.name}",
            )


def keyway_after_teeth(context: RuleContext) -> Iterator[Outcome]:
    """R28: a keyway or spline in the datum bore of a gear comes after the teeth of that gear.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for gear in context.toothed:
        axis = axis_datum(context, gear)
        for feature in context.part.features:
            interrupts = feature.kind in ("keyway", "spline") and feature.on == axis and feature is not gear
            if not axis or not interrupts:
                continue
            for tooth, first in product(context.last_teeth(gear.name), context.cuts(feature.name)[:1]):
                yield wish(
                    tooth, first, f"{feature.name} spoils {axis} as the seat from which {gear.name} is cut"
                )


RULES = (
    Rule(
        "R20",
        "Drill, ream or counterbore, thread",
        Strength.MUST,
        "A thread or reamer needs its hole and a clean entry.",
        "precedence table of a process-planning paper",
        drill_then_thread,
    ),
    Rule(
        "R21",
        "Face before drilling or boring into it",
        Strength.SHOULD,
        "A drill drifts on a rough face, depth counts from the finished one, and raw skin dulls boring bars.",
        PRACTICE,
        face_before_drilling,
        penalty=10.0,
        late=True,
    ),
    Rule(
        "R22",
        "Turn a surface before interrupting it",
        Strength.SHOULD,
        "An interrupted cut chips edges and costs inserts; a groove is as deep as its surface is finished.",
        PRACTICE,
        turn_before_interrupting,
        penalty=10.0,
    ),
    Rule(
        "R24",
        "Drill before finishing the wall it breaks into",
        Strength.SHOULD,
        "The finishing cut takes the burr of the break-through with it.",
        "Drilling intersecting holes: drift and burrs (article); "
        "Cross-hole drilling without drift or burrs (article)",
        drill_before_wall,
        Kept.BOTH,
        penalty=8.0,
        late=True,
    ),
    Rule(
        "R25",
        "Small crossing hole first",
        Strength.SHOULD,
        "The smaller drill would lose its guide in the larger hole.",
        "Design of deep holes (article)",
        small_holes_first,
        penalty=8.0,
    ),
    Rule(
        "R26",
        "Thin wall beside a hole",
        Strength.MUST,
        "A thin wall beside a tooth root breaks out or bulges.",
        PRACTICE,
        thin_wall_beside_hole,
        Kept.BOTH,
    ),
    Rule(
        "R27",
        "Angular relations from one zero",
        Strength.MUST,
        "Phase between tooth, keyway and holes is kept by the zero or lost.",
        "Herringbone gear keyway accuracy in presses (article); common practice, no source",
        phase_from_one_zero,
        Kept.BOTH,
    ),
    Rule(
        "R28",
        "Keyway in the datum bore after the teeth",
        Strength.SHOULD,
        "An interrupted bore spoils its fit as the seat for cutting teeth.",
        PRACTICE,
        keyway_after_teeth,
        penalty=10.0,
        late=True,
    ),
)
