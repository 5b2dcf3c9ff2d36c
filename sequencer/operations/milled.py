"""Keyways, flats, pockets and text: end mills, slotting bars and engraving tools."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from typing import Final

from sequencer.cutting import speeds, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome, out_of_reach, settle
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import (
    COMMON,
    DERIVED,
    approach_fact,
    feed_fact,
    mm,
    speed_facts,
    spindle_cap,
    time_fact,
)
from sequencer.operations.head import inside_fault, level_fault
from sequencer.operations.operation import Action, Alternative, Fact, Mode, Operation, Stage
from sequencer.operations.slotting import METHOD as SLOTTING
from sequencer.operations.slotting import slotting_outcomes
from sequencer.operations.wording import work
from sequencer.part.milled import Flat, Keyway, Marking, Pocket
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Face
from sequencer.shop.tools import EndMill, EngravingTool
from sequencer.units import Mm, shown

METHOD: Final = "milling"

#: Share of the cutter that one track covers, and depth of a layer where the table gives none, as a share
#: of the cutter; common practice, no source.
STEP_OVER: Final = 0.6
LAYER_SHARE: Final = 0.25

#: Speed of plunging over the speed of milling; common practice, no source.
PLUNGE_SHARE: Final = 0.3

#: Path of the pen for one letter in letter heights, and diameter that an engraving tool cuts at [mm];
#: common practice, no source.
LETTER_PATH: Final = 3.5
ENGRAVED_WIDTH: Final[Mm] = 0.5

Milled = Keyway | Flat | Pocket


def milled_operations(context: Context, feature: Milled | Marking) -> tuple[Operation, ...]:
    """Give the operation of a keyway, flat, pocket or marking.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    """
    marking = isinstance(feature, Marking)
    outcomes: list[Outcome] = [*out_of_reach(context, feature, "engraving" if marking else METHOD)]
    for clamping in context.reaching(feature):
        attempt = Attempt(context, feature, clamping, True)
        if isinstance(feature, Marking):
            outcomes += _engraving(attempt, feature)
            continue
        if isinstance(feature, Keyway) and _inside(attempt, feature):
            outcomes += slotting_outcomes(attempt, feature)
        outcomes += _end_mills(attempt, feature)
    alternatives, rejected = settle(context, feature, outcomes, finishing=True)
    return (
        Operation(
            f"{feature.name}/{'engrave' if marking else 'finish'}",
            feature.name,
            Stage.FINISH,
            Action.ENGRAVE if marking else Action.MILL,
            _title(feature, alternatives),
            alternatives,
            rejected,
            hard=_hard(context, feature),
        ),
    )


def _title(feature: Milled | Marking, alternatives: Iterable[Alternative]) -> str:
    """Mill, slot, or cut where either may be chosen."""
    if isinstance(feature, Marking):
        return f"Engrave {feature.text!r}"
    methods = {way.method for way in alternatives}
    return work("Slot" if methods == {SLOTTING} else "Mill" if SLOTTING not in methods else "Cut", feature)


def _hard(context: Context, feature: Milled | Marking) -> bool | None:
    """What has a position or phase may be masked and cut after hardening; the rest is cut before."""
    free = bool(feature.geometric) or feature.phase is not None
    return None if free or not context.part.case_hardened else False


def _inside(attempt: Attempt, feature: Milled | Marking) -> bool:
    carrier = attempt.context.part.by_name.get(feature.on) if feature.on else None
    return carrier is not None and place_of(carrier) == "inside"


def _on_face(attempt: Attempt, feature: Milled | Marking) -> bool:
    carrier = attempt.context.part.by_name.get(feature.on) if feature.on else None
    return isinstance(carrier, Face)


def _end_mills(attempt: Attempt, feature: Milled) -> Iterator[Outcome]:
    for tool in attempt.context.shop.tools:
        if isinstance(tool, EndMill) and "milling" in tool.use:
            fault = _size_fault(attempt, feature, tool) or _head_fault(attempt, feature, tool)
            if fault is not None:
                yield attempt.reject(METHOD, tool, *fault)
            else:
                yield _mill(attempt, feature, tool)


def _depth(attempt: Attempt, feature: Milled) -> Mm:
    """Depth from the surface, of a flat at its middle [mm]."""
    if isinstance(feature, Flat):
        return attempt.context.section.extent(feature.name).outer / 2 - float(feature.distance)
    return float(feature.depth)


def _size_fault(attempt: Attempt, feature: Milled, tool: EndMill) -> tuple[str, str] | None:
    depth, diameter = _depth(attempt, feature), float(tool.diameter)
    if isinstance(feature, Pocket) and diameter / 2 > feature.corner_radius + 1e-6:
        return (
            f"end mill {mm(diameter)} leaves corners of {mm(diameter / 2)}, allowed are "
            f"{mm(feature.corner_radius)}",
            f"an end mill of at most {mm(2 * float(feature.corner_radius))}",
        )
    width = math.inf if isinstance(feature, Flat) else min(float(feature.width), float(feature.length))
    if diameter > width + 1e-6:
        return (
            f"end mill {mm(diameter)} is wider than the width {mm(width)}",
            f"an end mill of at most {mm(width)}",
        )
    if depth > tool.reach:
        return (
            f"{mm(depth)} deep, the end mill reaches {mm(tool.reach)}",
            f"an end mill with a reach of {mm(depth)}",
        )
    slender = attempt.context.shop.limits.end_mill_slenderness
    if depth > slender * diameter:
        return (
            f"{mm(depth)} deep with end mill {mm(diameter)} is {shown(depth / diameter, 1)} times its "
            f"diameter, at most {shown(slender, 1)}",
            f"an end mill of at least {mm(depth / slender)}",
        )
    return None


def _head_fault(
    attempt: Attempt, feature: Milled | Marking, tool: EndMill | EngravingTool
) -> tuple[str, str] | None:
    """On a face the head points down; on a cylinder it is level, beside the part or in its bore."""
    if _on_face(attempt, feature):
        return None
    extent = attempt.context.section.extent(feature.name)
    if _inside(attempt, feature):
        return inside_fault(attempt, tool, extent.inner, extent.z_from, extent.z_to)
    if isinstance(feature, Flat) and isinstance(tool, EndMill) and _from_above(attempt, feature, tool):
        return None
    return level_fault(attempt, tool, (extent.z_from + extent.z_to) / 2)


def _from_above(attempt: Attempt, flat: Flat, tool: EndMill) -> bool:
    """Whether the side of a hanging end mill cuts a flat: it must reach from all material above it down."""
    view, extent = attempt.standing.view, attempt.context.section.extent(flat.name)
    low, high = view.ends(extent.z_from, extent.z_to)
    top = view.top_beyond(high, 2 * float(flat.distance))
    return top - low <= tool.reach


def _plan_view(attempt: Attempt, feature: Milled) -> tuple[Mm, Mm, int]:
    """Length, width and number of what is milled."""
    if isinstance(feature, Keyway):
        return feature.length, float(feature.width), 1
    if isinstance(feature, Pocket):
        sides = sorted((float(feature.length), float(feature.width)))
        return sides[1], sides[0], feature.count
    radius = attempt.context.section.extent(feature.name).outer / 2
    chord = 2 * math.sqrt(max(radius**2 - float(feature.distance) ** 2, 0.0))
    return feature.length, chord, feature.count


def _mill(attempt: Attempt, feature: Milled, tool: EndMill) -> Outcome:
    tries = [(method, stage) for stage in ("rough", "finish") for method in (METHOD, "end-mill milling")]
    chosen = attempt.conditions(tool, tries)
    if chosen is None:
        return attempt.no_conditions(METHOD, tool, "rough")
    length, width, count = _plan_view(attempt, feature)
    diameter, depth = float(tool.diameter), max(_depth(attempt, feature), 0.1)
    vc, rpm = speed_facts(chosen, diameter, spindle_cap(attempt.context.shop, tool))
    feed_rate = speeds.table_feed(chosen.feed, tool.teeth, rpm.value)
    layer = min(chosen.depth or LAYER_SHARE * diameter, LAYER_SHARE * diameter, depth)
    layers = times.cuts_for_stock(depth, layer)
    tracks = 1 + math.ceil(max(width - diameter, 0.0) / (STEP_OVER * diameter) - 1e-9)
    around = 2 * (length + width) if width > diameter + 1e-6 and not isinstance(feature, Flat) else length
    path = layers * tracks * length + around
    index = float(attempt.context.shop.machine.times.index) if count > 1 else 0.0
    one = path / feed_rate + depth / (PLUNGE_SHARE * feed_rate)
    minutes = count * (one + index)
    facts = (
        vc,
        rpm,
        feed_fact(chosen, "mm/tooth"),
        Fact("layers", layers, "", f"ceil({shown(depth)}/{shown(layer)})", DERIVED),
        Fact("tracks", tracks, "", f"1 + ceil((W - D)/({STEP_OVER} D)), W {mm(width)}", DERIVED),
        approach_fact(
            count * (depth / (PLUNGE_SHARE * feed_rate) + index),
            f"count (plunge + index) = {count}*({shown(depth / (PLUNGE_SHARE * feed_rate), 2)} + "
            f"{shown(index, 2)})",
            chosen.estimate,
        ),
        time_fact(
            minutes,
            f"t = count ((layers tracks L + finish)/(fz z n) + plunge + index) = {count}*(({layers}*"
            f"{tracks}*{shown(length, 1)} + {shown(around, 1)})/({shown(chosen.feed)}*{tool.teeth}*"
            f"{shown(rpm.value, 0)}) + {shown(depth / (PLUNGE_SHARE * feed_rate), 2)} + {shown(index, 2)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {layers} layers, {tracks} tracks, reaches {mm(tool.reach)} for {mm(depth)}"
    return Alternative(METHOD, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)


def _engraving(attempt: Attempt, feature: Marking) -> Iterator[Outcome]:
    for tool in attempt.context.shop.tools:
        if isinstance(tool, EngravingTool):
            fault = _head_fault(attempt, feature, tool)
            chosen = attempt.conditions(tool, [("engraving", "finish"), ("engraving", "rough")])
            if fault is not None:
                yield attempt.reject("engraving", tool, *fault)
            elif chosen is None:
                yield attempt.no_conditions("engraving", tool, "finish")
            else:
                yield _engrave(attempt, feature, tool, chosen)


def _engrave(
    attempt: Attempt, feature: Marking, tool: EngravingTool, chosen: ChosenConditions
) -> Alternative:
    cap = spindle_cap(attempt.context.shop, tool)
    vc, rpm = speed_facts(chosen, ENGRAVED_WIDTH, cap)
    letters = len(feature.text.replace(" ", ""))
    path = letters * LETTER_PATH * float(feature.height)
    between = letters * float(attempt.context.shop.machine.times.positioning)
    minutes = path / (chosen.feed * rpm.value) + between
    facts = (
        vc,
        rpm,
        feed_fact(chosen),
        approach_fact(between, f"letters*positioning = {letters} letters", True),
        time_fact(
            minutes,
            f"t = letters 3.5 h/(f n) + positioning = {letters}*3.5*{shown(feature.height)}/"
            f"({shown(chosen.feed)}*{shown(rpm.value, 0)}) + {shown(between, 2)}",
            COMMON,
            True,
        ),
    )
    reason = f"{tool.title}: {letters} letters {mm(feature.height)} high"
    return Alternative("engraving", tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)
