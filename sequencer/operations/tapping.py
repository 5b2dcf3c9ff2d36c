"""Tapping and reaming of bolt circles."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.cutting import forces, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome
from sequencer.operations.facts import DERIVED, mm, speed_facts, spindle_cap, time_fact
from sequencer.operations.force_limits import spindle_load
from sequencer.operations.hole_geometry import hole_fault, hole_in
from sequencer.operations.operation import Alternative, Fact, Mode
from sequencer.part.milled import BoltCircle
from sequencer.shop.tools import Reamer, Tap
from sequencer.units import Mm, shown

#: Chamfered threads of a tap; common practice, no source.
LEAD_THREADS: Final = 3.0

#: Play between the sizes of a tool and of a hole that are meant to be equal [mm].
SAME_SIZE: Final[Mm] = 0.01

#: Feed path before a hole [mm]; common practice, no source.
APPROACH: Final[Mm] = 2.0


def tap_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    """Try every tap.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle, with a thread pitch.
    """
    taps = [tool for tool in attempt.context.shop.tools if isinstance(tool, Tap)]
    for tool in sorted(taps, key=lambda tap: abs(float(tap.diameter) - float(holes.diameter))):
        yield _tap(attempt, holes, tool)


def thread_depth(attempt: Attempt, holes: BoltCircle) -> Mm:
    """Depth of full thread; the whole hole if the drawing gives none [mm].

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle.
    """
    hole = hole_in(attempt, holes)
    return float(holes.thread_depth) if holes.thread_depth is not None else hole.depth


def _tap_fault(attempt: Attempt, holes: BoltCircle, tool: Tap, pitch: Mm) -> tuple[str, str] | None:
    if abs(tool.diameter - holes.diameter) > SAME_SIZE or abs(tool.pitch - pitch) > SAME_SIZE:
        return (
            f"tap {mm(tool.diameter)} x {mm(tool.pitch, 3)}, the thread is {mm(holes.diameter)} x "
            f"{mm(pitch, 3)}",
            f"a tap {holes.diameter.text} x {mm(pitch, 3)}",
        )
    hole, depth = hole_in(attempt, holes), thread_depth(attempt, holes)
    lead = LEAD_THREADS * pitch
    if not hole.through and holes.thread_depth is not None and hole.depth < depth + lead - 1e-6:
        return (
            f"blind hole {mm(hole.depth)} deep, thread {mm(depth)} and {shown(LEAD_THREADS)} threads of lead "
            f"need {mm(depth + lead)}",
            "a deeper hole, a shorter thread or thread milling",
        )
    below = lead if hole.through and depth >= hole.depth - 1e-6 else 0.0
    return hole_fault(attempt, holes, tool, float(tool.depth), depth, below)


def _tap(attempt: Attempt, holes: BoltCircle, tool: Tap) -> Outcome:
    method, pitch = "tapping", float(holes.thread_pitch or tool.pitch)
    fault = _tap_fault(attempt, holes, tool, pitch)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "finish"), (method, "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "finish")
    context, depth = attempt.context, thread_depth(attempt, holes)
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(context.shop, tool))
    kc = forces.specific_force(float(context.material.kc11), context.material.mc, pitch / 8)
    load = spindle_load(context, forces.tapping_torque(float(tool.diameter), pitch, kc), rpm.value)
    if load.share > 1:
        return attempt.reject(method, tool, f"the spindle does not carry it: {load.words}", "thread milling")
    index = float(context.shop.machine.times.index)
    one = times.tapping_time(depth, pitch, rpm.value, LEAD_THREADS)
    minutes = holes.count * (one + index)
    facts = (
        vc,
        rpm,
        Fact("feed", pitch, "mm/rev", "feed = pitch", "part file"),
        time_fact(
            minutes,
            f"t = count (2 (L + 3 P)/(P n) + index) = {holes.count}*(2*({shown(depth, 1)} + "
            f"3*{shown(pitch)})/({shown(pitch)}*{shown(rpm.value, 0)}) + {shown(index, 2)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {holes.count} threads {mm(depth)} deep; {load.words}"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def ream_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    """Try every reamer.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle, with limits of the reamed hole.
    """
    reamers = [tool for tool in attempt.context.shop.tools if isinstance(tool, Reamer)]
    for tool in sorted(reamers, key=lambda reamer: abs(float(reamer.diameter) - float(holes.diameter))):
        yield _ream(attempt, holes, tool)


def _ream_fault(attempt: Attempt, holes: BoltCircle, tool: Reamer) -> tuple[str, str] | None:
    if abs(tool.diameter - holes.diameter) > SAME_SIZE:
        return (
            f"reamer {mm(tool.diameter)}, the hole is {mm(holes.diameter)}",
            f"a reamer {mm(holes.diameter)} {holes.ream}",
        )
    grade = holes.ream.grade if holes.ream is not None else None
    if grade is not None and tool.grade > grade:
        return f"the reamer holds IT{tool.grade}, the hole wants IT{grade}", f"a reamer for IT{grade}"
    hole = hole_in(attempt, holes)
    extra = hole.overrun
    return hole_fault(attempt, holes, tool, float(tool.depth), hole.depth + extra, extra)


def _ream(attempt: Attempt, holes: BoltCircle, tool: Reamer) -> Outcome:
    method = "reaming"
    fault = _ream_fault(attempt, holes, tool)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "finish"), (method, "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "finish")
    context, hole = attempt.context, hole_in(attempt, holes)
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(context.shop, tool))
    overrun = hole.overrun
    index = float(context.shop.machine.times.index)
    one = times.reaming_time(hole.depth, chosen.feed, rpm.value, APPROACH, overrun)
    minutes = holes.count * (one + index)
    path = hole.depth + APPROACH + overrun
    facts = (
        vc,
        rpm,
        Fact("feed", chosen.feed, "mm/rev", "", chosen.source, chosen.estimate),
        time_fact(
            minutes,
            f"t = count (2 L/(f n) + index) = {holes.count}*(2*{shown(path, 1)}/({shown(chosen.feed)}*"
            f"{shown(rpm.value, 0)}) + {shown(index, 2)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: holds IT{tool.grade}; {holes.count} holes {mm(hole.depth)} deep"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)
