"""Coupled speeds of cutter and table, held down to what spindle, table, clamping and coupling allow."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import DERIVED, SpeedCap, lowest, spindle_cap, table_cap
from sequencer.operations.force_limits import gentle_cap
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.operations.releasing import thin_ring
from sequencer.operations.teeth.trial import Check, fail
from sequencer.operations.teeth.typical import LEAST_SHARE
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop import AnyTool
from sequencer.units import Rpm, shown


@dataclass(frozen=True)
class Coupled:
    """Speeds of cutter and table that turn together.

    Parameters
    ----------
    cutter
        Revolutions of the cutter [rpm].
    table
        Revolutions of the table [rpm].
    share
        Share of the cutting speed that is left [-].
    check
        Whether that is enough, with its facts.
    """

    cutter: Rpm
    table: Rpm
    share: float
    check: Check


def synchronous_cap(context: Context, clamping: FittedClamping, stage: str = "rough") -> SpeedCap:
    """Highest table speed while coupled: of the coupling, of the clamping, of jaws with less force.

    Parameters
    ----------
    context
        Part and shop.
    clamping
        The clamping with its table speed.
    stage
        "rough" or "finish": a thin ring is finished with less force of the jaws.
    """
    gentle = stage == "finish" and thin_ring(context)
    held = gentle_cap(context, clamping) if gentle else table_cap(clamping)
    speed = float(context.shop.machine.table.synchronous_speed)
    return lowest((held, SpeedCap(speed, f"synchronous speed of the table {shown(speed)} rpm")))


def coupled_speeds(
    context: Context,
    teeth: Teeth,
    clamping: FittedClamping,
    tool: AnyTool,
    stage: str,
    chosen: ChosenConditions,
    wanted: Rpm,
    ratio: float,
) -> Coupled:
    """Hold coupled speeds down to the lowest cap; too little left of the cutting speed is a fault.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    clamping
        The clamping.
    tool
        The cutter.
    stage
        "rough" or "finish".
    chosen
        Cutting conditions.
    wanted
        Cutter revolutions for the cutting speed [rpm].
    ratio
        Turns of the table for one turn of the cutter [-].
    """
    table, spindle = synchronous_cap(context, clamping, stage), spindle_cap(context.shop, tool)
    cutter = min(wanted, spindle.rpm, table.rpm / ratio)
    share = cutter / wanted
    if share >= 1 - 1e-12:
        return Coupled(wanted, wanted * ratio, 1.0, Check())
    by_table = table.rpm / ratio <= spindle.rpm
    cap, needed, what = (table, wanted * ratio, "table") if by_table else (spindle, wanted, "spindle")
    left = share * chosen.cutting_speed
    words = (
        f"{tool.name} at {shown(chosen.cutting_speed, 1)} m/min needs {shown(needed, 1)} rpm of the {what}, "
        f"{shown(cap.rpm, 1)} rpm are allowed ({cap.reason}): {shown(left, 1)} m/min are left"
    )
    fact = Fact(f"cutting speed lowered, {stage}", left, "m/min", words, DERIVED, chosen.estimate)
    given = teeth.feature.conditions
    fixed = stage == "finish" and given is not None and given.cutting_speed is not None
    if fixed:
        check = fail(f"{words}, and the part file fixes the cutting speed", _remedy(left), fact)
    elif share < LEAST_SHARE:
        check = fail(
            f"{words}, below {shown(100 * LEAST_SHARE)} % of the condition",
            "lighten the part, use other jaws or a cutter with fewer teeth",
            fact,
        )
    else:
        check = Check((fact,))
    return Coupled(cutter, cutter * ratio, share, check)


def turn_words(rpm: Rpm) -> str:
    """Say which way something turns, seen from above.

    Parameters
    ----------
    rpm
        Revolutions, anticlockwise positive [rpm].
    """
    return "anticlockwise" if rpm > 0 else "clockwise"


def differential_fact(teeth: Teeth) -> Fact:
    """Extra turns of the table for each mm of axial feed.

    Parameters
    ----------
    teeth
        Helical teeth.
    """
    beta, turns = shown(teeth.signed_helix, 2), teeth.differential
    formula = (
        f"1/pz = sin(beta)/(pi mn z) = sin({beta} deg)/(pi*{shown(teeth.module, 4)}*{teeth.teeth}) "
        f"= {shown(turns, 7)} 1/mm (right hand positive: anticlockwise from above for a feed downwards, "
        "clockwise for one upwards)"
    )
    return Fact("differential of the table", turns, "1/mm", formula, "derived; ISO 21771")


def _remedy(left: float) -> str:
    return f"set a cutting speed of at most {shown(left, 1)} m/min"
