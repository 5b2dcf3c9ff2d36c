"""Drilling a solid blank open before it is bored."""

from __future__ import annotations

from dataclasses import replace

from sequencer.cutting import mass, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome, settle
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED, mm
from sequencer.operations.hole_geometry import OVERRUN
from sequencer.operations.holes import drilled
from sequencer.operations.operation import Action, Alternative, Fact, Operation, Rejection, Stage
from sequencer.operations.pilot import Pilot, drilled_length, pilots
from sequencer.operations.wording import named
from sequencer.part import AnyFeature
from sequencer.shop.tools import Drill, TrepanningTool
from sequencer.units import Mm, shown


def centre_drill_operations(context: Context, feature: AnyFeature) -> tuple[Operation, ...]:
    """Give the drilling of a solid blank, if it belongs to this feature: the narrowest of its bore.

    Parameters
    ----------
    context
        Part and shop.
    feature
        A feature inside.
    """
    return tuple(
        _operation(context, feature, pilot)
        for pilot in pilots(context.shop, context.section)
        if pilot.feature == feature.name
    )


def _operation(context: Context, feature: AnyFeature, pilot: Pilot) -> Operation:
    outcomes: list[Outcome] = []
    for clamping in context.clampings:
        side = clamping.clamping.up
        if not pilot.opens_to(context.section, side):
            reason = f"the bore does not open to the {side} side"
            outcomes.append(Rejection("drilling", "", clamping.name, reason))
            continue
        attempt = Attempt(context, feature, clamping, wished=False)
        outcomes += [
            _try(attempt, pilot, tool)
            for tool in context.shop.tools
            if isinstance(tool, Drill | TrepanningTool)
        ]
    alternatives, rejected = settle(context, feature, outcomes, finishing=False)
    return Operation(
        f"{feature.name}/drill",
        feature.name,
        Stage.PREPARE,
        Action.DRILL,
        f"Drill the solid blank open for {named(feature)}",
        alternatives,
        rejected,
        heavy=True,
        hard=False if context.part.case_hardened else None,
    )


def _try(attempt: Attempt, pilot: Pilot, tool: Drill | TrepanningTool) -> Outcome:
    method = "drilling" if isinstance(tool, Drill) else "trepanning"
    length = drilled_length(attempt.context.section, pilot.z_from, pilot.z_to)
    if tool.diameter > pilot.widest:
        what = f"drill {mm(tool.diameter)} leaves no stock, at most {mm(pilot.widest)} for boring"
        return attempt.reject(method, tool, what, "a smaller drill")
    if isinstance(tool, TrepanningTool) and not pilot.through:
        return attempt.reject(
            method, tool, "the bore does not go through, the core would stay in it", "a drill"
        )
    if tool.depth < length:
        what = f"drills {mm(tool.depth)} deep, the blank needs {mm(length)}"
        return attempt.reject(method, tool, what, f"a drill with a usable length of {mm(length)}")
    if tool.diameter < pilot.diameter:
        what = f"drill {mm(tool.diameter)} leaves more for boring than {mm(pilot.diameter)}"
        return attempt.reject(method, tool, what)
    chosen = attempt.conditions(tool, [(method, "rough"), ("drilling", "rough"), ("drilling", "finish")])
    if chosen is None:
        return attempt.no_conditions(method, tool, "rough")
    overrun = OVERRUN if pilot.through else 0.0
    if isinstance(tool, TrepanningTool):
        return _with_core(attempt, tool, length, drilled(attempt, tool, chosen, length, 0.0, overrun, 1))
    point = times.drill_point_length(float(tool.diameter), float(tool.point_angle))
    return drilled(attempt, tool, chosen, length, point, overrun, 1)


def _with_core(attempt: Attempt, tool: TrepanningTool, length: Mm, way: Outcome) -> Outcome:
    """Say how heavy the core is that drops out at the end."""
    if not isinstance(way, Alternative):
        return way
    volume = mass.cylinder_volume(tool.core, length)
    weight = mass.mass(volume, attempt.context.material.density / 1e6)
    words = f"core of diameter {mm(tool.core)}, {mm(length)} long"
    fact = Fact("mass of the core", weight, "kg", words, DERIVED)
    caution = f"; {words}, {shown(weight, 1)} kg, comes loose at the end: catch it before it drops"
    return replace(way, facts=(fact, *way.facts), reason=way.reason + caution)
