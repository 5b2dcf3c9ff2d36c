"""Threads round the axis: turned with an insert or milled with an end mill."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sequencer.cutting import speeds, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.bars import bar_fault
from sequencer.operations.choices import Outcome, out_of_reach, settle
from sequencer.operations.context import Context
from sequencer.operations.facts import (
    DERIVED,
    approach_fact,
    feed_fact,
    mm,
    speed_facts,
    spindle_cap,
    table_cap,
    time_fact,
)
from sequencer.operations.operation import Action, Alternative, Fact, Mode, Operation, Stage
from sequencer.operations.turning import cylinder_operations
from sequencer.operations.wording import work
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Thread
from sequencer.shop.tools import EndMill, ThreadingTool
from sequencer.units import Mm, shown

#: Depth of an outside and of an inside thread over its pitch, and core over pitch.
#: Source: ISO 68-1 and ISO 724, from memory.
OUTSIDE_DEPTH: Final = 0.61343
INSIDE_DEPTH: Final = 0.54127
INSIDE_CORE: Final = 1.08253

#: Infeed of one pass where the table gives none [mm], and passes without infeed; common practice, no source.
INFEED: Final[Mm] = 0.2
SPRING_PASSES: Final = 2

#: Feed path before and behind a thread, in pitches; common practice, no source.
RUN_IN_PITCHES: Final = 3.0

#: Largest end mill in an inside thread over its core diameter; common practice, no source.
MILL_SHARE: Final = 0.75


def thread_operations(context: Context, thread: Thread) -> tuple[Operation, ...]:
    """Give the operations of a thread: its cylinder, unless it lies on a turned one, then the thread.

    Parameters
    ----------
    context
        Part and shop.
    thread
        The thread.
    """
    carrier = context.part.by_name.get(thread.on) if thread.on else None
    carried = carrier is not None and place_of(carrier) == thread.place
    diameter = core_diameter(thread) if thread.place == "inside" else float(thread.diameter)
    blank = (
        ()
        if carried
        else cylinder_operations(
            context, thread, thread.place, float(thread.z_from), float(thread.z_to), diameter
        )
    )
    outcomes: list[Outcome] = [*out_of_reach(context, thread, "threading")]
    for clamping in context.reaching(thread):
        outcomes += _outcomes(Attempt(context, thread, clamping, True), thread)
    alternatives, rejected = settle(context, thread, outcomes, finishing=True)
    words = thread.designation or f"{mm(thread.diameter)} x {mm(thread.pitch)}"
    operation = Operation(
        f"{thread.name}/finish",
        thread.name,
        Stage.FINISH,
        Action.THREAD,
        f"{work('Thread', thread)} ({words})",
        alternatives,
        rejected,
        hard=False if context.part.case_hardened else None,
    )
    return (*blank, operation)


def core_diameter(thread: Thread) -> Mm:
    """Core diameter of an inside thread, D1 = D - 1.08253 P [mm].

    Source: ISO 724, from memory

    Parameters
    ----------
    thread
        The thread.
    """
    return float(thread.diameter) - INSIDE_CORE * float(thread.pitch)


def _outcomes(attempt: Attempt, thread: Thread) -> Iterator[Outcome]:
    for tool in attempt.context.shop.tools:
        if isinstance(tool, ThreadingTool) and thread.place in tool.use:
            yield _turn(attempt, thread, tool)
        elif isinstance(tool, EndMill) and "thread" in tool.use:
            yield _mill(attempt, thread, tool)


def _turn(attempt: Attempt, thread: Thread, tool: ThreadingTool) -> Outcome:
    method = "threading"
    if not tool.pitch_from <= thread.pitch <= tool.pitch_to:
        return attempt.reject(
            method,
            tool,
            f"pitch {mm(thread.pitch, 3)}, the tool cuts {mm(tool.pitch_from, 3)} to {mm(tool.pitch_to, 3)}",
            f"a tool for pitch {mm(thread.pitch, 3)}",
        )
    if thread.place == "inside":
        depth = attempt.standing.view.depth(float(thread.z_from), float(thread.z_to))
        fault = bar_fault(attempt, tool, core_diameter(thread), depth)
        if fault is not None:
            return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "finish"), (method, "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "finish")
    pitch = float(thread.pitch)
    factor = OUTSIDE_DEPTH if thread.place == "outside" else INSIDE_DEPTH
    height = factor * pitch
    infeed = chosen.depth or INFEED
    passes = times.cuts_for_stock(height, infeed) + SPRING_PASSES
    vc, rpm = speed_facts(chosen, float(thread.diameter), table_cap(attempt.clamping))
    length = thread.length + RUN_IN_PITCHES * pitch
    back = passes * length / float(attempt.context.shop.machine.times.rapid)
    minutes = times.turning_time(length, pitch, rpm.value, cuts=passes) + back
    facts = (
        vc,
        rpm,
        Fact("feed", pitch, "mm/rev", "feed = pitch", "part file"),
        Fact(
            "passes",
            passes,
            "",
            f"ceil({shown(factor)} P/infeed) + {SPRING_PASSES} = ceil({shown(height)}/{shown(infeed)}) + "
            f"{SPRING_PASSES}",
            "ISO 68-1, from memory",
        ),
        approach_fact(
            minutes - passes * thread.length / (pitch * rpm.value),
            f"t - i L/(P n) = {shown(minutes, 2)} - {passes}*{shown(thread.length, 1)}/({shown(pitch)}*"
            f"{shown(rpm.value, 1)})",
            chosen.estimate,
        ),
        time_fact(
            minutes,
            f"t = i (L + 3 P)/(P n) + way back = {passes}*{shown(length, 1)}/({shown(pitch)}*"
            f"{shown(rpm.value, 1)}) + {shown(back, 2)}",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: pitch {mm(pitch, 3)} in {passes} passes"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.TURNING, minutes, facts, reason)


def _mill(attempt: Attempt, thread: Thread, tool: EndMill) -> Outcome:
    method = "thread milling"
    fault = _mill_fault(attempt, thread, tool)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, "finish"), (method, "rough")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "finish")
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(attempt.context.shop, tool))
    feed_rate = speeds.table_feed(chosen.feed, tool.teeth, rpm.value)
    turns = thread.length / float(thread.pitch) + 1
    minutes = times.milling_time(turns * math.pi * float(thread.diameter), feed_rate)
    facts = (
        vc,
        rpm,
        feed_fact(chosen, "mm/tooth"),
        time_fact(
            minutes,
            f"t = (L/P + 1) pi D/(fz z n) = {shown(turns, 1)}*pi*{shown(thread.diameter)}/"
            f"({shown(chosen.feed)}*{tool.teeth}*{shown(rpm.value, 0)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {shown(turns, 1)} turns round the thread"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def _mill_fault(attempt: Attempt, thread: Thread, tool: EndMill) -> tuple[str, str] | None:
    depth = attempt.standing.view.depth(float(thread.z_from), float(thread.z_to))
    if thread.place == "inside" and tool.diameter > MILL_SHARE * core_diameter(thread):
        return (
            f"end mill {mm(tool.diameter)} is above {MILL_SHARE} of the core {mm(core_diameter(thread))}",
            "a smaller end mill",
        )
    fits = thread.place == "inside" and tool.body_diameter <= core_diameter(thread)
    reach = float(tool.functional_length if fits else tool.reach)
    if depth > reach:
        return (
            f"its far end lies {mm(depth)} below the top, the end mill reaches {mm(reach)}",
            f"an end mill with a reach of {mm(depth)}",
        )
    return None
