"""Bolt circles: drill, counterbore, then tap or ream; and the drilling of solid blanks."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Final

from sequencer.cutting import forces, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome, merge_rejections, out_of_reach, rough_clampings, settle
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import (
    DERIVED,
    approach_fact,
    mm,
    speed_facts,
    spindle_cap,
    time_fact,
)
from sequencer.operations.fine_boring import fine_boring_outcomes
from sequencer.operations.force_limits import LEAST_FEED_SHARE, spindle_load
from sequencer.operations.hole_geometry import hole_fault, hole_in
from sequencer.operations.hole_milling import helix_outcomes, thread_mill_outcomes
from sequencer.operations.hole_position import judged_by_position
from sequencer.operations.operation import Action, Alternative, Fact, Mode, Operation, Stage
from sequencer.operations.tapping import ream_outcomes, tap_outcomes
from sequencer.operations.wording import work
from sequencer.part.milled import BoltCircle
from sequencer.shop import Shop
from sequencer.shop.tools import CounterboreTool, Drill, TrepanningTool
from sequencer.units import Mm, Rpm, shown

#: A drill for a tapped hole may differ from nominal less pitch by this or by this share of the pitch,
#: whichever is more; common practice, no source.
CORE_PLAY: Final[Mm] = 0.1
CORE_PLAY_IN_PITCHES: Final = 0.06

#: Stock that a reamer wants on the diameter, least and most [mm]; common practice, no source.
REAM_STOCK: Final[tuple[Mm, Mm]] = (0.1, 0.5)

#: A plain hole may be drilled smaller by this [mm]; common practice, no source.
PLAIN_UNDER: Final[Mm] = 0.05

#: Feed path before a hole [mm]; common practice, no source.
APPROACH: Final[Mm] = 2.0

Maker = Callable[[Attempt, BoltCircle], Iterator[Outcome]]


def hole_operations(context: Context, holes: BoltCircle) -> tuple[Operation, ...]:
    """Give the operations of a bolt circle.

    Parameters
    ----------
    context
        Part and shop.
    holes
        The bolt circle.
    """
    last = holes.thread_pitch is None and holes.ream is None
    made = [_operation(context, holes, "drill", Action.DRILL, last, _drill_outcomes)]
    if holes.counterbore is not None:
        made.append(
            _operation(context, holes, "counterbore", Action.COUNTERBORE, False, _counterbore_outcomes)
        )
    if holes.thread_pitch is not None:
        made.append(_operation(context, holes, "tap", Action.TAP, True, _tap_outcomes))
    elif holes.ream is not None:
        made.append(_operation(context, holes, "ream", Action.REAM, True, _ream_outcomes))
    return tuple(made)


#: Methods of each operation; the first is the usual one.
_METHODS: Final = {
    "drill": ("drilling", "milling"),
    "counterbore": ("counterboring", "milling"),
    "tap": ("tapping", "thread milling"),
    "ream": ("reaming", "fine boring"),
}


def _operation(
    context: Context, holes: BoltCircle, word: str, action: Action, finishing: bool, make: Maker
) -> Operation:
    places = context.reaching(holes) if finishing else rough_clampings(context, holes)
    outcomes: list[Outcome] = [*out_of_reach(context, holes, _METHODS[word][0], finishing)]
    for clamping in places:
        outcomes += make(Attempt(context, holes, clamping, finishing), holes)
    alternatives, rejected = settle(
        context, holes, outcomes, finishing, _method_holds(holes, word, finishing)
    )
    if finishing:
        alternatives, astray = judged_by_position(context, holes, alternatives)
        rejected = (*rejected, *merge_rejections(astray, {(way.method, way.tool) for way in alternatives}))
    size = _size(context.shop, holes, word, alternatives)
    stage = Stage.FINISH if finishing or word == "counterbore" else Stage.ROUGH
    return Operation(
        f"{holes.name}/{word}",
        holes.name,
        stage,
        action,
        f"{work(word.capitalize(), holes)} ({holes.count} x {size})",
        alternatives,
        rejected,
        hard=_hard(context, holes),
    )


def _method_holds(holes: BoltCircle, word: str, finishing: bool) -> bool:
    """A wish for a method holds for the operation that has it; for the last one if none has it."""
    own = holes.method in _METHODS[word]
    return own or (finishing and not any(holes.method in methods for methods in _METHODS.values()))


def _hard(context: Context, holes: BoltCircle) -> bool | None:
    """Holes with a position or phase may be masked and made after hardening; the others are made before."""
    if not context.part.case_hardened or holes.geometric or holes.phase is not None:
        return None
    return False


def _size(shop: Shop, holes: BoltCircle, word: str, alternatives: Iterable[Alternative]) -> str:
    """Size for the title; of a drilled hole that of the drills that may be taken."""
    if word == "counterbore" and holes.counterbore is not None:
        return mm(holes.counterbore.diameter)
    if word == "tap" and holes.thread_pitch is not None:
        return f"{holes.diameter.text} x {holes.thread_pitch.text}"
    if word != "drill":
        return f"{mm(holes.diameter)} {holes.ream}"
    tools = [shop.tool_by_name[way.tool] for way in alternatives]
    sizes = {float(tool.diameter) if isinstance(tool, Drill) else drilled_diameter(holes) for tool in tools}
    least, most = min(sizes, default=drilled_diameter(holes)), max(sizes, default=drilled_diameter(holes))
    return mm(least) if most - least < 1e-6 else f"{shown(least)} to {mm(most)}"


def drilled_diameter(holes: BoltCircle) -> Mm:
    """Diameter drilled: of a thread nominal less pitch, of a reamed hole less the reamer's stock [mm].

    Source: common practice, no source

    Parameters
    ----------
    holes
        The bolt circle.
    """
    if holes.thread_pitch is not None:
        return float(holes.diameter) - float(holes.thread_pitch)
    if holes.ream is not None:
        return float(holes.diameter) - 0.25
    return float(holes.diameter)


def drill_range(context: Context, holes: BoltCircle) -> tuple[Mm, Mm]:
    """Smallest and largest drill that suits a bolt circle [mm].

    Source: common practice, no source

    Parameters
    ----------
    context
        Shop with its general tolerance.
    holes
        The bolt circle.
    """
    size = drilled_diameter(holes)
    if holes.thread_pitch is not None:
        play = max(CORE_PLAY, CORE_PLAY_IN_PITCHES * float(holes.thread_pitch))
        return size - play, size + play
    if holes.ream is not None:
        return float(holes.diameter) - REAM_STOCK[1], float(holes.diameter) - REAM_STOCK[0]
    return size - PLAIN_UNDER, size + float(context.shop.general_tolerance)


def _drill_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    drills = [tool for tool in attempt.context.shop.tools if isinstance(tool, Drill)]
    for tool in sorted(drills, key=lambda drill: abs(float(drill.diameter) - drilled_diameter(holes))):
        yield _drill(attempt, holes, tool)
    yield from helix_outcomes(attempt, holes, drilled_diameter(holes))


def _drill(attempt: Attempt, holes: BoltCircle, tool: Drill) -> Outcome:
    low, high = drill_range(attempt.context, holes)
    if not low - 1e-6 <= tool.diameter <= high + 1e-6:
        return attempt.reject(
            "drilling",
            tool,
            f"drill {mm(tool.diameter)}, the hole wants {mm(low)} to {mm(high)}",
            f"a drill {mm(drilled_diameter(holes))}",
        )
    hole = hole_in(attempt, holes)
    point = times.drill_point_length(float(tool.diameter), float(tool.point_angle))
    below = point + hole.overrun if hole.through else 0.0
    needed = hole.depth + point + hole.overrun
    fault = hole_fault(attempt, holes, tool, float(tool.depth), needed, below)
    if fault is not None:
        return attempt.reject("drilling", tool, *fault)
    chosen = attempt.conditions(tool, [("drilling", "finish"), ("drilling", "rough")])
    if chosen is None:
        return attempt.no_conditions("drilling", tool, "rough")
    return drilled(attempt, tool, chosen, hole.depth, point, hole.overrun, holes.count)


def drilled(
    attempt: Attempt,
    tool: Drill | TrepanningTool,
    chosen: ChosenConditions,
    depth: Mm,
    point: Mm,
    overrun: Mm,
    count: int,
) -> Outcome:
    """Drill holes with a drill that fits: torque, power, time.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        The drill, or a hollow one.
    chosen
        Conditions.
    depth
        Depth at full diameter [mm].
    point
        Length of the drill point [mm].
    overrun
        Path behind a through hole [mm].
    count
        Number of holes.
    """
    context, diameter = attempt.context, float(tool.diameter)
    method = "drilling" if isinstance(tool, Drill) else "trepanning"
    cap = spindle_cap(context.shop, tool)
    vc, rpm = speed_facts(chosen, diameter, cap)
    feed = _carried_feed(context, tool, chosen.feed, rpm.value)
    if isinstance(feed, str):
        return attempt.reject(method, tool, feed, "a smaller drill first, or a stronger spindle")
    one = times.drilling_time(depth, feed.value, rpm.value, point, APPROACH, overrun)
    index = float(context.shop.machine.times.index) if count > 1 else 0.0
    minutes = count * (one + index)
    path = depth + point + APPROACH + overrun
    facts = (
        vc,
        rpm,
        Fact("feed", feed.value, "mm/rev", feed.formula, chosen.source, chosen.estimate),
        approach_fact(
            count * (APPROACH / (feed.value * rpm.value) + index),
            f"count (la/(f n) + index) = {count}*({shown(APPROACH, 1)}/({shown(feed.value)}*"
            f"{shown(rpm.value, 0)}) + {shown(index, 2)})",
            chosen.estimate,
        ),
        time_fact(
            minutes,
            f"t = count (L/(f n) + index) = {count}*({shown(path, 1)}/({shown(feed.value)}*"
            f"{shown(rpm.value, 0)}) + {shown(index, 2)})",
            "M. P. Groover, Fundamentals of Modern Manufacturing, drilling",
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {count} x {mm(depth)} deep; drill reaches {mm(tool.depth)}; {feed.source}"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def _carried_feed(context: Context, tool: Drill | TrepanningTool, feed: Mm, rpm: Rpm) -> Fact | str:
    """Feed that torque and power of the spindle carry; its source holds the words of the load."""
    material, diameter = context.material, float(tool.diameter)
    point, core = (float(tool.point_angle), 0.0) if isinstance(tool, Drill) else (180.0, tool.core)

    def load_at(value: Mm) -> tuple[float, str]:
        chip = forces.drilling_chip_thickness(value, point)
        kc = forces.specific_force(float(material.kc11), material.mc, chip)
        load = spindle_load(context, forces.drilling_torque(diameter, value, kc, core), rpm)
        thrust = forces.drilling_thrust(diameter, value, kc, point) * (1 - core / diameter)
        limit = context.shop.machine.spindle.thrust
        if limit is not None and thrust / limit > load.share:
            return thrust / limit, f"thrust {shown(thrust / 1000, 1)} kN of {shown(limit / 1000, 1)} kN"
        return load.share, load.words

    share, words = load_at(feed)
    if share <= 1:
        return Fact("feed", feed, "mm/rev", "", words)
    reduced = feed * (1 / share) ** (1 / (1 - material.mc))
    if reduced < LEAST_FEED_SHARE * feed:
        return f"the spindle does not carry it: {words} at feed {mm(feed, 3)}"
    return Fact("feed", reduced, "mm/rev", f"reduced from {mm(feed, 3)}: {words}", load_at(reduced)[1])


def _counterbore_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    sunk = holes.counterbore
    if sunk is None:
        return
    tools = [tool for tool in attempt.context.shop.tools if isinstance(tool, CounterboreTool)]
    for tool in sorted(tools, key=lambda each: abs(float(each.diameter) - float(sunk.diameter))):
        yield _counterbore(attempt, holes, tool, float(sunk.diameter), float(sunk.depth))
    yield from helix_outcomes(attempt, holes, float(sunk.diameter), float(sunk.depth))


def _counterbore(
    attempt: Attempt, holes: BoltCircle, tool: CounterboreTool, diameter: Mm, depth: Mm
) -> Outcome:
    method = "counterboring"
    play = float(attempt.context.shop.general_tolerance)
    if abs(tool.diameter - diameter) > play:
        what = f"counterbore {mm(tool.diameter)}, wanted {mm(diameter)} within {mm(play)}"
        return attempt.reject(method, tool, what, f"a counterbore {mm(diameter)}")
    fault = hole_fault(attempt, holes, tool, float(tool.depth), depth)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "finish"), (method, "rough"), ("drilling", "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "finish")
    context = attempt.context
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(context.shop, tool))
    index = float(context.shop.machine.times.index)
    minutes = holes.count * (times.drilling_time(depth, chosen.feed, rpm.value, 0.0, APPROACH) + index)
    facts = (
        vc,
        rpm,
        Fact("feed", chosen.feed, "mm/rev", "", chosen.source, chosen.estimate),
        approach_fact(
            holes.count * (APPROACH / (chosen.feed * rpm.value) + index),
            f"count (la/(f n) + index) = {holes.count}*({shown(APPROACH, 1)}/({shown(chosen.feed)}*"
            f"{shown(rpm.value, 0)}) + {shown(index, 2)})",
            chosen.estimate,
        ),
        time_fact(
            minutes,
            f"t = count (L/(f n) + index) = {holes.count}*({shown(depth + APPROACH, 1)}/"
            f"({shown(chosen.feed)}*{shown(rpm.value, 0)}) + {shown(index, 2)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {holes.count} x {mm(depth)} deep"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def _tap_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    yield from tap_outcomes(attempt, holes)
    yield from thread_mill_outcomes(attempt, holes)


def _ream_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    yield from ream_outcomes(attempt, holes)
    yield from fine_boring_outcomes(attempt, holes)
