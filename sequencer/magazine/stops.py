"""Planned stops for tools that are loaded by hand."""

from __future__ import annotations

from collections.abc import Collection

from sequencer.magazine.table import ManualStop
from sequencer.operations import Action
from sequencer.sequencing import Sequence, Step
from sequencer.shop import Shop

#: After these the operator is at the machine anyway.
_ATTENDED = (Action.CLAMP, Action.INDICATE, Action.RELEASE)


def manual_stops(sequence: Sequence, shop: Shop, by_hand: Collection[str]) -> tuple[ManualStop, ...]:
    """Group tools loaded by hand at stops: those that follow each other in a clamping share one.

    Source: common practice, no source

    Parameters
    ----------
    sequence
        The order with the chosen tools.
    shop
        Shop with the time of loading a tool by hand.
    by_hand
        Names of the tools that are loaded by hand.
    """
    minutes = float(shop.machine.times.manual_tool_change)
    stops: list[ManualStop] = []
    before: Step | None = None
    for step in (
        each for each in sequence.steps if each.alternative.tool or each.operation.action in _ATTENDED
    ):
        tool, clamping = step.alternative.tool, step.alternative.clamping
        last = before.alternative.tool if before is not None else ""
        if tool in by_hand and (tool != last or before is None or before.visit != step.visit):
            if last in by_hand and before is not None and before.visit == step.visit:
                stop = stops.pop()
                stops.append(
                    ManualStop(
                        stop.step, clamping, (*stop.tools, tool), stop.minutes + minutes, stop.attended
                    )
                )
            else:
                there = before is not None and before.operation.action in _ATTENDED
                stops.append(ManualStop(step.number, clamping, (tool,), minutes, there))
        before = step
    return tuple(stops)
