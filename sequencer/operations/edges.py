"""Chamfers and radii on edges: turned along the edge, or milled round it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from sequencer.cutting import speeds, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.bars import bar_fault
from sequencer.operations.choices import Outcome, settle
from sequencer.operations.context import Context
from sequencer.operations.edge_reach import edge_diameter, edge_reach, is_corner
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
from sequencer.operations.operation import Action, Alternative, Mode, Operation, Rejection, Stage
from sequencer.operations.standing import standing_in
from sequencer.operations.wording import named, work
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Chamfer, Radius
from sequencer.shop.tools import ChamferMill, TurningTool
from sequencer.units import Mm, shown

Edge = Chamfer | Radius

#: Feed path before an edge [mm]; common practice, no source.
APPROACH: Final[Mm] = 1.0


def edge_operations(context: Context, feature: Edge) -> tuple[Operation, ...]:
    """Give the operation of a chamfer or radius; of both edges one operation each.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The chamfer or radius.
    """
    if feature.edge != "both":
        return (_operation(context, feature, feature.edge, "finish", ""),)
    return tuple(_operation(context, feature, side, f"finish_{side}", side) for side in ("lower", "upper"))


def _operation(context: Context, feature: Edge, side: str, word: str, half: str) -> Operation:
    outcomes: list[Outcome] = []
    for clamping in context.clampings:
        reachable, reason = edge_reach(standing_in(context, clamping), feature, side)
        if not reachable:
            outcomes.append(Rejection("turning", "", clamping.name, reason))
        elif feature.clamping is not None and feature.clamping != clamping.name:
            wish = f"the planner asks for clamping {feature.clamping}"
            outcomes.append(Rejection("turning", "", clamping.name, wish))
        else:
            outcomes += _outcomes(Attempt(context, feature, clamping, True), feature, side)
    alternatives, rejected = settle(context, feature, outcomes, finishing=True)
    verb = "Chamfer" if isinstance(feature, Chamfer) else "Round"
    carrier = named(context.part.by_name[feature.on])
    return Operation(
        f"{feature.name}/{word}",
        feature.name,
        Stage.FINISH,
        Action.TURN,
        f"{verb} {side} edge of {carrier}" if half else work(verb, feature),
        alternatives,
        rejected,
        half=half,
        hard=False if context.part.case_hardened else None,
    )


def _outcomes(attempt: Attempt, feature: Edge, side: str) -> Iterator[Outcome]:
    carrier = attempt.context.part.by_name[feature.on]
    inside = place_of(carrier) == "inside"
    place = "inside" if inside else "outside"
    for tool in attempt.context.shop.tools:
        soft = tool.material not in ("CBN", "ceramic")
        if isinstance(tool, TurningTool) and place in tool.use and "finish" in tool.stage and soft:
            yield _turn(attempt, feature, side, tool)
        elif isinstance(tool, ChamferMill) and "edges" in tool.use and isinstance(feature, Chamfer):
            yield _mill(attempt, feature, side, tool)


def _edge(attempt: Attempt, feature: Edge, side: str) -> tuple[Mm, Mm, Mm]:
    """Give the diameter of an edge and its zone."""
    extent = attempt.context.section.extent(feature.on)
    carrier = attempt.context.part.by_name[feature.on]
    diameter = edge_diameter(carrier, side)
    z = extent.z_to if side == "upper" else extent.z_from
    size = float(feature.size)
    return (diameter, z - size, z) if side == "upper" else (diameter, z, z + size)


def _turn(attempt: Attempt, feature: Edge, side: str, tool: TurningTool) -> Outcome:
    carrier = attempt.context.part.by_name[feature.on]
    diameter, low, high = _edge(attempt, feature, side)
    corner = is_corner(attempt.context.section, carrier, side)
    if corner and tool.corner_radius > feature.size + 1e-9:
        return attempt.reject(
            "turning",
            tool,
            f"corner radius {mm(tool.corner_radius)} is larger than {mm(feature.size)} in the corner",
            f"an insert with a corner radius of at most {mm(feature.size)}",
        )
    if place_of(carrier) == "inside":
        fault = bar_fault(attempt, tool, diameter, attempt.standing.view.depth(low, high))
        if fault is not None:
            return attempt.reject("turning", tool, *fault)
    chosen = attempt.conditions(tool, [("chamfering", "finish"), ("turning", "finish")])
    if chosen is None:
        return attempt.no_conditions("turning", tool, "finish")
    vc, rpm = speed_facts(chosen, diameter, table_cap(attempt.clamping))
    cuts = times.cuts_for_stock(float(feature.size), float(tool.depth))
    minutes = cuts * times.chamfer_turning_time(float(feature.size), chosen.feed, rpm.value, APPROACH)
    facts = (
        vc,
        rpm,
        feed_fact(chosen),
        approach_fact(
            cuts * APPROACH / (chosen.feed * rpm.value),
            f"i la/(f n) = {cuts}*{shown(APPROACH)}/({shown(chosen.feed)}*{shown(rpm.value, 1)})",
            chosen.estimate,
        ),
        time_fact(
            minutes,
            f"t = i (sqrt(2) w + la)/(f n) = {cuts}*(1.414*{shown(feature.size)} + {shown(APPROACH)})/"
            f"({shown(chosen.feed)}*{shown(rpm.value, 1)})",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: {mm(feature.size)} at diameter {mm(diameter)}, {side} edge"
    return Alternative("turning", tool.name, attempt.clamping.name, Mode.TURNING, minutes, facts, reason)


def _mill(attempt: Attempt, feature: Chamfer, side: str, tool: ChamferMill) -> Outcome:
    method, view = "milling", attempt.standing.view
    diameter, low, high = _edge(attempt, feature, side)
    if abs(float(feature.angle) - 45.0) > 1e-6:
        return attempt.reject(method, tool, f"mills 45 deg, the chamfer has {shown(feature.angle, 1)} deg")
    if feature.size > tool.diameter / 2:
        return attempt.reject(
            method,
            tool,
            f"chamfer {mm(feature.size)}, the mill cuts {mm(float(tool.diameter) / 2)} at most",
            "turn it, or take a larger mill",
        )
    wall = view.depth(low, high)
    if side != attempt.standing.clamping.up or wall > tool.reach:
        return attempt.reject(
            method,
            tool,
            f"the edge lies {mm(wall)} below the top, the mill reaches {mm(tool.reach)}",
            "turn it",
        )
    chosen = attempt.conditions(tool, [("chamfering", "finish"), ("milling", "finish")])
    if chosen is None:
        return attempt.no_conditions("chamfering", tool, "finish")
    vc, rpm = speed_facts(chosen, float(tool.diameter), spindle_cap(attempt.context.shop, tool))
    feed_rate = speeds.table_feed(chosen.feed, tool.teeth, rpm.value)
    minutes = times.milling_time(math.pi * diameter, feed_rate)
    numbers = f"pi*{shown(diameter, 1)}/({shown(chosen.feed)}*{tool.teeth}*{shown(rpm.value, 0)})"
    facts = (
        vc,
        rpm,
        feed_fact(chosen, "mm/tooth"),
        time_fact(
            minutes,
            f"t = pi d/(fz z n) = {numbers}",
            DERIVED,
            chosen.estimate,
        ),
    )
    reason = f"{tool.title}: round the {side} edge, diameter {mm(diameter)}"
    return Alternative(method, tool.name, attempt.clamping.name, Mode.MILLING, minutes, facts, reason)
