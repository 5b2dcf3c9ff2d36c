"""Keyways in bores by a slotting bar that the machine's slide strokes."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sequencer.cutting import times
from sequencer.operations.attempt import Attempt
from sequencer.operations.bars import bar_fault
from sequencer.operations.choices import Outcome
from sequencer.operations.facts import COMMON, DERIVED, chosen_speed_fact, mm, time_fact
from sequencer.operations.force_limits import cutting_force
from sequencer.operations.operation import Alternative, Fact, Mode
from sequencer.part.milled import Keyway
from sequencer.shop.tools import SlottingTool
from sequencer.units import Mm, Newton, shown

METHOD: Final = "slotting"

#: Path of a stroke beyond an open end of the keyway [mm]; common practice, no source.
OVERTRAVEL: Final[Mm] = 5.0

#: Length of the ramp on which a stroke leaves a blind keyway, in depths; common practice, no source.
RAMP_IN_DEPTHS: Final = 3.0

#: Least blade over keyway; a narrower one would cut the width in more than three rows; common practice.
LEAST_SHARE: Final = 1 / 3


def slotting_outcomes(attempt: Attempt, keyway: Keyway) -> Iterator[Outcome]:
    """Try every slotting bar.

    Parameters
    ----------
    attempt
        The keyway in the clamping.
    keyway
        A keyway in a bore.
    """
    bars = [tool for tool in attempt.context.shop.tools if isinstance(tool, SlottingTool)]
    for tool in sorted(bars, key=lambda bar: abs(float(bar.width) - float(keyway.width))):
        yield _try(attempt, keyway, tool)


def _try(attempt: Attempt, keyway: Keyway, tool: SlottingTool) -> Outcome:
    fault = _fault(attempt, keyway, tool)
    if fault is not None:
        return attempt.reject(METHOD, tool, *fault)
    chosen = attempt.conditions(tool, [(METHOD, "finish"), (METHOD, "rough")])
    if chosen is None:
        return attempt.no_conditions(METHOD, tool, "finish")
    rows = math.ceil(float(keyway.width) / float(tool.width) - 1e-6)
    ramp = _ramp(attempt, keyway)
    overtravel = 2 * OVERTRAVEL if not ramp else OVERTRAVEL
    back = float(attempt.context.shop.machine.times.rapid) / 1000
    one = times.keyway_slotting_time(
        keyway.length, float(keyway.depth), chosen.feed, chosen.cutting_speed, back, overtravel
    )
    minutes = rows * one
    strokes = times.cuts_for_stock(float(keyway.depth), chosen.feed) + 2
    force = cutting_force(attempt.context, float(tool.width), chosen.feed)
    thrust = attempt.context.shop.machine.spindle.thrust
    if thrust is not None and force > thrust:
        return attempt.reject(
            METHOD,
            tool,
            f"a stroke needs {shown(force / 1000, 2)} kN, the slide pushes {shown(thrust / 1000, 2)} kN",
            "a smaller infeed or a narrower blade",
        )
    facts = (
        chosen_speed_fact(chosen),
        Fact("infeed", chosen.feed, "mm/stroke", "", chosen.source, chosen.estimate),
        Fact("strokes", rows * strokes, "", f"{rows} x (ceil(depth/infeed) + 2 without infeed)", DERIVED),
        Fact("cutting force", force, "N", _force_words(attempt, tool, chosen.feed, force), "Kienzle", True),
        *ramp,
        time_fact(
            minutes,
            f"t = rows strokes (L + overtravel)(1/vc + 1/vr) = {rows}*{strokes}*({shown(keyway.length, 1)} + "
            f"{shown(overtravel)})/1000*(1/{shown(chosen.cutting_speed, 1)} + 1/{shown(back, 1)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {rows * strokes} strokes, the bar enters the bore and reaches {mm(tool.reach)}"
    if ramp:
        reason += f"; the lower end is blind, strokes run out on a ramp of {mm(ramp[0].value)}"
    return Alternative(METHOD, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def _force_words(attempt: Attempt, tool: SlottingTool, infeed: Mm, force: Newton) -> str:
    material, thrust = attempt.context.material, attempt.context.shop.machine.spindle.thrust
    held = "compare with the thrust of the slide" if thrust is None else f"the slide pushes {thrust}"
    return (
        f"F = kc1.1 f^(1-mc) w = {shown(material.kc11, 0)}*{shown(infeed)}^(1-{material.mc})*"
        f"{shown(tool.width)} = {shown(force, 0)} N along the stroke; {held}"
    )


def _fault(attempt: Attempt, keyway: Keyway, tool: SlottingTool) -> tuple[str, str] | None:
    width, extent = float(keyway.width), attempt.context.section.extent(keyway.name)
    if tool.width > width + 1e-6:
        return (
            f"blade {mm(tool.width)} is wider than the keyway {mm(width)}",
            f"a blade of at most {mm(width)}",
        )
    if tool.width < LEAST_SHARE * width:
        return f"blade {mm(tool.width)} is too narrow for the keyway {mm(width)}", f"a blade {mm(width)}"
    view = attempt.standing.view
    low, high = view.ends(extent.z_from, extent.z_to)
    room = view.room_above(high, extent.outer)
    if room < OVERTRAVEL:
        return (
            f"the blade needs {mm(OVERTRAVEL)} of room above the keyway at diameter {mm(extent.outer)}, "
            f"it has {mm(room)}",
            "cut it from the other side, or turn a groove above it",
        )
    above = view.narrowest_above(high)
    opening = min(extent.inner, above.diameter) if above is not None else extent.inner
    return bar_fault(attempt, tool, opening, view.top - low)


def _ramp(attempt: Attempt, keyway: Keyway) -> tuple[Fact, ...]:
    """Ramp of a keyway that ends blind at the bottom; nothing where a groove or free air lies below."""
    view, extent = attempt.standing.view, attempt.context.section.extent(keyway.name)
    low = view.ends(extent.z_from, extent.z_to)[0]
    below = view.inside_below(low)
    if below is None or below.diameter >= extent.outer - 1e-6:
        return ()
    length = RAMP_IN_DEPTHS * float(keyway.depth)
    words = f"3 times the depth {mm(keyway.depth)}; the key must end above it"
    return (Fact("run-out ramp", length, "mm", words, COMMON, estimate=True),)
