"""Other ways to cut each tooth system, costed: hob here, mill now, skive when the cutter has come."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sequencer.costing.assumptions import Assumptions
from sequencer.costing.days import MINUTES_PER_DAY
from sequencer.costing.tools import tool_cost
from sequencer.operations import Action, Alternative, Operation, OperationList, make_operations
from sequencer.sequencing import Sequence
from sequencer.units import Minutes, shown


@dataclass(frozen=True)
class WayCost:
    """One method for a tooth system with its cost.

    Parameters
    ----------
    method
        The method that finishes the teeth.
    tools
        Its tools.
    minutes
        Time of its cuts on one piece [min].
    per_piece
        Cost of a piece of this lot: machine, wear, tools that must be bought.
    days
        Days until all its tools are there.
    chosen
        True if the plan uses it.
    in_time
        True if its tools are there before the due date.
    """

    method: str
    tools: tuple[str, ...]
    minutes: Minutes
    per_piece: float
    days: float
    chosen: bool
    in_time: bool


@dataclass(frozen=True)
class ToothWays:
    """All ways to cut one tooth system, the cheapest first.

    Parameters
    ----------
    feature
        Name of the tooth system.
    ways
        The ways.
    answer
        What follows, in words.
    """

    feature: str
    ways: tuple[WayCost, ...]
    answer: str


def tooth_ways(operations: OperationList, sequence: Sequence, given: Assumptions) -> tuple[ToothWays, ...]:
    """Cost every feasible method of every tooth system, those whose cutter comes too late included.

    Parameters
    ----------
    operations
        Operations with their alternatives.
    sequence
        The order, for what is chosen.
    given
        Rates, prices, lot.
    """
    cut: dict[str, list[Operation]] = {}
    for operation in operations.operations:
        if operation.action is Action.CUT_TEETH:
            cut.setdefault(operation.feature, []).append(operation)
    patient = _without_due_date(operations, cut)
    return tuple(_ways(name, listed, operations, patient, sequence, given) for name, listed in cut.items())


def _without_due_date(operations: OperationList, cut: dict[str, list[Operation]]) -> OperationList:
    """Operations as they would be if every cutter came in time; the same ones where none is late."""
    part, shop = operations.part, operations.shop
    late = {tool.name for tool in shop.tools if tool.owned == 0 and tool.lead_time > 0}
    refused = {each.tool for listed in cut.values() for operation in listed for each in operation.rejected}
    if part.due is None or not late & refused:
        return operations
    return make_operations(part.model_copy(update={"due": None}), shop)


def _ways(
    name: str,
    listed: list[Operation],
    operations: OperationList,
    patient: OperationList,
    sequence: Sequence,
    given: Assumptions,
) -> ToothWays:
    names = [operation.name for operation in listed]
    wider = [patient.by_name[each] for each in names if each in patient.by_name] or listed
    methods = dict.fromkeys(way.method for way in wider[-1].alternatives if way.lead_time == 0)
    chosen = {step.alternative.method for step in sequence.steps if step.operation.name == names[-1]}
    found = [
        cost
        for method in methods
        if (cost := _cost(method, wider, operations, given, method in chosen)) is not None
    ]
    found.sort(key=lambda way: (round(way.per_piece, 6), way.method))
    return ToothWays(name, tuple(found), _answer(name, tuple(found), given))


def _cost(
    method: str, listed: list[Operation], operations: OperationList, given: Assumptions, chosen: bool
) -> WayCost | None:
    ways: list[Alternative] = []
    for operation in listed:
        here = [way for way in operation.alternatives if way.lead_time == 0]
        fitting = [way for way in here if way.method == method]
        if not here or (operation is listed[-1] and not fitting):
            return None
        ways.append(min(fitting or here, key=lambda way: _running(way, operations, given)))
    shop, part = operations.shop, operations.part
    tools = tuple(dict.fromkeys(way.tool for way in ways if way.tool))
    once, days = 0.0, 0.0
    for tool in tools:
        cost = tool_cost(tool, tuple(way for way in ways if way.tool == tool), shop, 1, given.life_factor)
        once += cost.sets(given.series) * cost.price
        if cost.bought:
            days = max(days, float(shop.tool_by_name[tool].lead_time) / MINUTES_PER_DAY)
    left = (part.due - part.order_date).days if part.due and part.order_date else math.inf
    return WayCost(
        method,
        tools,
        math.fsum(way.minutes for way in ways),
        math.fsum(_running(way, operations, given) for way in ways) + once / given.series,
        days,
        chosen,
        days <= left,
    )


def _running(way: Alternative, operations: OperationList, given: Assumptions) -> float:
    """Machine and wear of one cut."""
    rate = given.marginal_machine_hour + given.lost_hour
    machine = given.time_factor * way.minutes * rate / 60
    if not way.tool:
        return machine
    return machine + tool_cost(way.tool, (way,), operations.shop, 1, given.life_factor).per_piece


def _answer(name: str, ways: tuple[WayCost, ...], given: Assumptions) -> str:
    """Say which way is cheapest, and what to do until its tools are there."""
    if not ways:
        return f"{name}: no method here"
    best = ways[0]
    cost = f"{shown(best.per_piece, 2)} {given.currency} a piece"
    now = next((way for way in ways if way.days == 0), None)
    if best.days == 0:
        text = f"{name}: {best.method} is cheapest ({cost})"
        rest = ways[1] if len(ways) > 1 else None
        if rest is None:
            return f"{text}; no other method passes"
        return f"{text}; {rest.method} costs {shown(rest.per_piece, 2)} {given.currency}"
    tools = ", ".join(best.tools)
    late = "" if best.in_time else ", after the due date"
    wait = (
        f"{best.method} with {tools} is cheapest ({cost}), its tools come after {shown(best.days, 1)} d{late}"
    )
    if now is None:
        return f"{name}: {wait}; no method has its tools here now"
    return f"{name}: {now.method} now ({shown(now.per_piece, 2)} {given.currency} a piece); {wait}"
