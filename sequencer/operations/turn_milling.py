"""Turn-milling of grooves: a turning end mill while the part turns slowly as a feed."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import forces, speeds, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome
from sequencer.operations.context import ChosenConditions
from sequencer.operations.facts import (
    DERIVED,
    feed_fact,
    mm,
    speed_facts,
    spindle_cap,
    time_fact,
)
from sequencer.operations.force_limits import spindle_load
from sequencer.operations.head import inside_fault, level_fault
from sequencer.operations.operation import Alternative, Fact, Mode
from sequencer.operations.stock import Place
from sequencer.shop.tools import EndMill
from sequencer.units import Mm, NewtonMetre, shown

METHOD: Final = "turn-milling"

#: Share of the cutter that one track covers; common practice, no source.
STEP_OVER: Final = 0.7

#: Depth of a layer where the table of conditions gives none, as a share of the cutter; common practice.
LAYER_SHARE: Final = 0.1


@dataclass(frozen=True)
class Ring:
    """A ring that is milled out while the part turns.

    Parameters
    ----------
    place
        "outside", "inside" or "face".
    z_from, z_to
        Ends on the axis [mm].
    inner, outer
        Diameters [mm].
    width
        Width to be milled [mm].
    depth
        Depth of the groove, which the tool must reach [mm].
    removed
        Depth to be milled [mm].
    rough
        True if it only roughs.
    """

    place: Place
    z_from: Mm
    z_to: Mm
    inner: Mm
    outer: Mm
    width: Mm
    depth: Mm
    removed: Mm
    rough: bool


def turn_milling_outcomes(attempt: Attempt, ring: Ring) -> Iterator[Outcome]:
    """Try every end mill that is used for turn-milling.

    Parameters
    ----------
    attempt
        The groove in the clamping.
    ring
        What is milled out.
    """
    for tool in attempt.context.shop.tools:
        if isinstance(tool, EndMill) and "turn-milling" in tool.use:
            yield _try(attempt, ring, tool)


def _try(attempt: Attempt, ring: Ring, tool: EndMill) -> Outcome:
    fault = _fault(attempt, ring, tool)
    if fault is not None:
        return attempt.reject(METHOD, tool, *fault)
    stage = "rough" if ring.rough else "finish"
    chosen = attempt.conditions(tool, [(METHOD, stage)])
    if chosen is None:
        return attempt.no_conditions(METHOD, tool, stage)
    return _mill(attempt, ring, tool, chosen)


def _fault(attempt: Attempt, ring: Ring, tool: EndMill) -> tuple[str, str] | None:
    if tool.diameter > ring.width + 1e-6:
        return (
            f"end mill {mm(tool.diameter)} is wider than the groove {mm(ring.width)}",
            f"an end mill of at most {mm(ring.width)}",
        )
    if tool.reach < ring.depth:
        return (
            f"groove {mm(ring.depth)} deep, the end mill reaches {mm(tool.reach)}",
            f"an end mill with a reach of {mm(ring.depth)}",
        )
    if ring.place == "face":
        return None
    middle = (ring.z_from + ring.z_to) / 2
    if ring.place == "inside":
        return inside_fault(attempt, tool, ring.inner, ring.z_from, ring.z_to)
    return level_fault(attempt, tool, middle)


def _mill(attempt: Attempt, ring: Ring, tool: EndMill, chosen: ChosenConditions) -> Outcome:
    context = attempt.context
    diameter = float(tool.diameter)
    vc, rpm = speed_facts(chosen, diameter, spindle_cap(context.shop, tool))
    feed_rate = speeds.table_feed(chosen.feed, tool.teeth, rpm.value)
    layer = min(chosen.depth or LAYER_SHARE * diameter, ring.removed)
    layers = times.cuts_for_stock(ring.removed, layer)
    tracks = 1 + math.ceil(max(ring.width - diameter, 0.0) / (STEP_OVER * diameter) - 1e-9)
    load = spindle_load(context, _moment(attempt, layer, diameter, feed_rate, chosen, rpm.value), rpm.value)
    if load.share > 1:
        return attempt.reject(METHOD, tool, f"spindle overloaded: {load.words}", "a smaller end mill")
    round_once = math.pi * (ring.inner + ring.outer) / 2
    minutes = layers * tracks * round_once / feed_rate
    formula = (
        f"t = layers tracks pi d/(fz z n) = {layers}*{tracks}*pi*{shown((ring.inner + ring.outer) / 2, 1)}/"
        f"({shown(chosen.feed)}*{tool.teeth}*{shown(rpm.value, 0)})"
    )
    facts = (
        vc,
        rpm,
        feed_fact(chosen, "mm/tooth"),
        Fact("layers", layers, "", f"{mm(ring.removed)} in layers of {mm(layer)}", DERIVED),
        Fact("tracks", tracks, "", f"1 + ceil((W - D)/({STEP_OVER} D))", DERIVED),
        time_fact(minutes, formula, DERIVED, chosen.estimate),
    )
    reason = f"{tool.title}: {tracks} tracks in {layers} layers while the part turns as a feed; {load.words}"
    return Alternative(METHOD, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def _moment(
    attempt: Attempt, layer: Mm, diameter: Mm, feed_rate: float, chosen: ChosenConditions, rpm: float
) -> NewtonMetre:
    """Torque of a full cut at the spindle, from power over revolutions [N m]."""
    material = attempt.context.material
    kc = forces.specific_force(float(material.kc11), material.mc, chosen.feed)
    power = forces.milling_power(layer, diameter, feed_rate, kc)
    return forces.torque_of_power(power, rpm)
