"""Time that the table takes to its speed and back to rest, in the time of each cut that turns it."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from sequencer.cutting.mass import acceleration_time
from sequencer.operations.context import Context
from sequencer.operations.grip import table_rpm
from sequencer.operations.operation import Alternative, Fact, Operation
from sequencer.units import shown

_SOURCE: Final = "physics, table torque and power of the shop file; means and table themselves left out"


def with_run_up(context: Context, operation: Operation) -> Operation:
    """Add the run-up of the table and its braking to the time of all ways that turn it.

    Parameters
    ----------
    context
        Part, shop and clampings.
    operation
        The operation.
    """
    return replace(
        operation,
        alternatives=tuple(_with_run_up(context, way) for way in operation.alternatives),
    )


def _with_run_up(context: Context, way: Alternative) -> Alternative:
    rpm = table_rpm(way)
    fitted = next((each for each in context.clampings if each.name == way.clamping), None)
    if rpm <= 0 or fitted is None or fitted.inertia <= 0:
        return way
    table = context.shop.machine.table
    once = acceleration_time(fitted.inertia, rpm, float(table.torque), float(table.power))
    fact = Fact(
        "run-up and braking of the table",
        2 * once,
        "min",
        f"t = 2 J w/M, from the knee on by power: J at most {shown(fitted.inertia, 1)} kg m2, "
        f"{shown(rpm, 1)} rpm, {shown(float(table.torque), 0)} N m, {shown(float(table.power), 0)} kW = "
        f"{shown(120 * once, 1)} s",
        _SOURCE,
        estimate=True,
    )
    return replace(way, minutes=way.minutes + fact.value, facts=(*way.facts, fact))
