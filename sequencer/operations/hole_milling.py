"""Holes and their threads by an end mill on a helix, where no drill or tap fits."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sequencer.cutting import speeds
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome
from sequencer.operations.facts import (
    DERIVED,
    approach_fact,
    feed_fact,
    mm,
    speed_facts,
    spindle_cap,
    time_fact,
)
from sequencer.operations.hole_geometry import hole_fault, hole_in
from sequencer.operations.operation import Alternative, Fact, Mode
from sequencer.operations.tapping import thread_depth
from sequencer.part.milled import BoltCircle
from sequencer.shop.tools import EndMill
from sequencer.units import Mm, shown

#: An end mill on a helix has at least and at most this share of the hole; common practice, no source.
HELIX_SHARES: Final = (0.4, 0.85)

#: Depth of one turn of the helix where the table gives none, as a share of the cutter; common practice.
TURN_SHARE: Final = 0.1

#: Largest end mill in a thread over the drilled hole; common practice, no source.
THREAD_SHARE: Final = 0.85


def helix_outcomes(
    attempt: Attempt, holes: BoltCircle, diameter: Mm, depth: Mm | None = None
) -> Iterator[Outcome]:
    """Try every end mill that mills on a helix.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle.
    diameter
        Diameter that is milled [mm].
    depth
        Depth of a counterbore; the hole's own if left out [mm].
    """
    for tool in attempt.context.shop.tools:
        if isinstance(tool, EndMill) and "milling" in tool.use:
            yield _helix(attempt, holes, tool, diameter, depth)


def _helix_fault(
    attempt: Attempt, holes: BoltCircle, tool: EndMill, diameter: Mm, depth: Mm | None
) -> tuple[str, str] | None:
    low, high = (share * diameter for share in HELIX_SHARES)
    if not low <= tool.diameter <= high:
        return (
            f"end mill {mm(tool.diameter)}, a helix in {mm(diameter)} wants {mm(low)} to {mm(high)}",
            f"an end mill of {mm(low)} to {mm(high)}",
        )
    hole = hole_in(attempt, holes)
    extra = hole.overrun if depth is None else 0.0
    needed = (hole.depth if depth is None else depth) + extra
    slender = attempt.context.shop.limits.end_mill_slenderness
    if needed > slender * tool.diameter:
        return (
            f"{mm(needed)} deep with end mill {mm(tool.diameter)} is {shown(needed / tool.diameter, 1)} "
            f"times its diameter, at most {shown(slender, 1)}",
            "a drill of that size",
        )
    return hole_fault(attempt, holes, tool, float(tool.reach), needed, extra)


def _helix(attempt: Attempt, holes: BoltCircle, tool: EndMill, diameter: Mm, depth: Mm | None) -> Outcome:
    method = "milling"
    fault = _helix_fault(attempt, holes, tool, diameter, depth)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "rough"), ("end-mill milling", "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "rough")
    context, hole = attempt.context, hole_in(attempt, holes)
    length = hole.depth if depth is None else depth
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(context.shop, tool))
    pitch = min(chosen.depth or TURN_SHARE * float(tool.diameter), TURN_SHARE * float(tool.diameter))
    turns = math.ceil(length / pitch - 1e-9) + 1
    feed_rate = speeds.table_feed(chosen.feed, tool.teeth, rpm.value)
    index = float(context.shop.machine.times.index)
    minutes = holes.count * (turns * math.pi * diameter / feed_rate + index)
    facts = (
        vc,
        rpm,
        feed_fact(chosen, "mm/tooth"),
        Fact("turns", turns, "", f"ceil({shown(length, 1)}/{shown(pitch, 2)}) + 1", DERIVED),
        approach_fact(holes.count * index, f"count index = {holes.count}*{shown(index, 2)}", chosen.estimate),
        time_fact(
            minutes,
            f"t = count (turns pi d/(fz z n) + index) = {holes.count}*({turns}*pi*{shown(diameter, 2)}/"
            f"({shown(chosen.feed)}*{tool.teeth}*{shown(rpm.value, 0)}) + {shown(index, 2)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: on a helix to {mm(diameter)}, {turns} turns, {holes.count} times"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def thread_mill_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    """Try every end mill that mills threads.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle, with a thread pitch.
    """
    for tool in attempt.context.shop.tools:
        if isinstance(tool, EndMill) and "thread" in tool.use:
            yield _thread_mill(attempt, holes, tool)


def _thread_mill(attempt: Attempt, holes: BoltCircle, tool: EndMill) -> Outcome:
    method, pitch = "thread milling", float(holes.thread_pitch or 1.0)
    core, depth = float(holes.diameter) - pitch, thread_depth(attempt, holes)
    if tool.diameter > THREAD_SHARE * core:
        what = f"end mill {mm(tool.diameter)} is above {THREAD_SHARE} of the core {mm(core)}"
        return attempt.reject(method, tool, what, f"an end mill of at most {mm(THREAD_SHARE * core, 1)}")
    fault = hole_fault(attempt, holes, tool, float(tool.reach), depth)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "finish"), (method, "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "finish")
    context = attempt.context
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(context.shop, tool))
    feed_rate = speeds.table_feed(chosen.feed, tool.teeth, rpm.value)
    turns, index = depth / pitch + 1, float(context.shop.machine.times.index)
    minutes = holes.count * (turns * math.pi * float(holes.diameter) / feed_rate + index)
    facts = (
        vc,
        rpm,
        feed_fact(chosen, "mm/tooth"),
        approach_fact(holes.count * index, f"count index = {holes.count}*{shown(index, 2)}", chosen.estimate),
        time_fact(
            minutes,
            f"t = count ((L/P + 1) pi D/(fz z n) + index) = {holes.count}*({shown(turns, 1)}*pi*"
            f"{shown(holes.diameter)}/({shown(chosen.feed)}*{tool.teeth}*{shown(rpm.value, 0)}) + "
            f"{shown(index, 2)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {shown(turns, 1)} turns a thread, {holes.count} threads {mm(depth)} deep"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)
