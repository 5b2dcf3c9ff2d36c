"""Fine boring of holes on a circle with a head that is set to size."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.cutting import times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome
from sequencer.operations.facts import DERIVED, approach_fact, mm, speed_facts, spindle_cap, time_fact
from sequencer.operations.hole_geometry import hole_fault, hole_in
from sequencer.operations.operation import Alternative, Fact, Mode
from sequencer.part.milled import BoltCircle
from sequencer.shop.tools import BoringHead
from sequencer.units import Mm, shown

METHOD: Final = "fine boring"

#: Feed path before a hole [mm]; common practice, no source.
APPROACH: Final[Mm] = 2.0


def fine_boring_outcomes(attempt: Attempt, holes: BoltCircle) -> Iterator[Outcome]:
    """Try every fine-boring head; two cuts, the first one is measured.

    Source: common practice, no source

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle, with limits of the hole.
    """
    for tool in attempt.context.shop.tools:
        if isinstance(tool, BoringHead):
            yield _bore(attempt, holes, tool)


def _fault(attempt: Attempt, holes: BoltCircle, tool: BoringHead) -> tuple[str, str] | None:
    size, grade = holes.diameter, holes.ream.grade if holes.ream is not None else None
    if not tool.diameter_from <= size <= tool.diameter_to:
        return (
            f"the head bores {mm(tool.diameter_from)} to {mm(tool.diameter_to)}, the hole is {mm(size)}",
            f"a fine-boring head for {mm(size)}",
        )
    if grade is not None and tool.grade > grade:
        return f"the head holds IT{tool.grade}, the hole wants IT{grade}", f"a head for IT{grade}"
    hole = hole_in(attempt, holes)
    return hole_fault(attempt, holes, tool, float(tool.depth), hole.depth + hole.overrun, hole.overrun)


def _bore(attempt: Attempt, holes: BoltCircle, tool: BoringHead) -> Outcome:
    fault = _fault(attempt, holes, tool)
    if fault is not None:
        return attempt.reject(METHOD, tool, *fault)
    chosen = attempt.conditions(tool, [(METHOD, "finish"), ("boring", "finish"), ("turning", "finish")])
    if chosen is None:
        return attempt.no_conditions(METHOD, tool, "finish")
    context, hole = attempt.context, hole_in(attempt, holes)
    vc, rpm = speed_facts(chosen, float(holes.diameter), spindle_cap(context.shop, tool))
    machine = context.shop.machine.times
    one = times.reaming_time(hole.depth, chosen.feed, rpm.value, APPROACH, hole.overrun)
    probe = float(machine.probe)
    minutes = holes.count * (2 * one + float(machine.index)) + probe
    path = hole.depth + APPROACH + hole.overrun
    facts = (
        vc,
        rpm,
        Fact("feed", chosen.feed, "mm/rev", "", chosen.source, chosen.estimate),
        approach_fact(
            minutes - holes.count * 2 * times.reaming_time(hole.depth, chosen.feed, rpm.value, 0.0, 0.0),
            f"t less the holes themselves, {holes.count}*4*{shown(hole.depth, 1)}/({shown(chosen.feed)}*"
            f"{shown(rpm.value, 0)})",
            chosen.estimate,
        ),
        time_fact(
            minutes,
            f"t = count (2*2 L/(f n) + index) + measuring the first = {holes.count}*(4*{shown(path, 1)}/("
            f"{shown(chosen.feed)}*{shown(rpm.value, 0)}) + {shown(machine.index, 2)}) + {shown(probe, 2)}",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: holds IT{tool.grade} and the position; {holes.count} holes {mm(hole.depth)} deep"
    return Alternative(METHOD, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)
