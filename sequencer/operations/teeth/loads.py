"""Power and torque of gear cutters, from the volume of chips and the specific cutting force."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.cutting import forces
from sequencer.operations.context import Context
from sequencer.operations.operation import Fact
from sequencer.operations.teeth.trial import Check, fail
from sequencer.operations.teeth.typical import EFFICIENCY, LEAST_SHARE, TORQUE_PEAK
from sequencer.shop.tools import Tool
from sequencer.units import Kilowatt, Mm, NewtonMetre, Rpm, shown

SOURCE: Final = "derived from O. Kienzle's specific cutting force; efficiency and peak are common practice"


@dataclass(frozen=True)
class Load:
    """What a cut asks of the tool spindle.

    Parameters
    ----------
    removal
        Volume of chips in a minute [mm3/min].
    chip
        Mean chip thickness [mm].
    rpm
        Revolutions of the cutter [rpm].
    """

    removal: float
    chip: Mm
    rpm: Rpm


def power_of(context: Context, load: Load) -> Kilowatt:
    """Power at the spindle motor.

    Source: derived: P = kc Q / (60e6 eta)

    Parameters
    ----------
    context
        Part and shop, with the material.
    load
        The cut.
    """
    material = context.material
    kc = forces.specific_force(float(material.kc11), material.mc, load.chip)
    return kc * load.removal / (60e6 * EFFICIENCY)


def torque_of(context: Context, load: Load) -> NewtonMetre:
    """Peak torque at the cutter.

    Source: derived: M = 60000 P eta / (2 pi n), times the peak of an interrupted cut

    Parameters
    ----------
    context
        Part and shop, with the material.
    load
        The cut.
    """
    return TORQUE_PEAK * forces.torque_of_power(power_of(context, load) * EFFICIENCY, load.rpm)


def load_share(context: Context, load: Load) -> float:
    """Share of the feed that the spindle can do, 1 if it can do all of it.

    Source: derived: power and torque grow with feed^(1 - mc)

    Parameters
    ----------
    context
        Part and shop.
    load
        The cut at full feed.
    """
    spindle = context.shop.machine.spindle
    over = max(
        power_of(context, load) / float(spindle.power), torque_of(context, load) / float(spindle.torque)
    )
    return 1.0 if over <= 1 else float(over ** (-1 / (1 - context.material.mc)))


def load_check(context: Context, tool: Tool, load: Load, share: float, stage: str) -> Check:
    """Check power and torque; the feed may have been lowered to a share that the spindle can do.

    Parameters
    ----------
    context
        Part and shop.
    tool
        The cutter.
    load
        The cut at the feed that is left.
    share
        Share of the feed that is left [-].
    stage
        "rough" or "finish".
    """
    spindle = context.shop.machine.spindle
    power, torque = power_of(context, load), torque_of(context, load)
    facts = (
        Fact(
            f"spindle power, {stage}",
            power,
            "kW",
            f"P = kc Q/(60e6 eta) = {shown(power, 1)} kW of {shown(spindle.power, 1)} kW",
            SOURCE,
            True,
        ),
        Fact(
            f"spindle torque, {stage}",
            torque,
            "N m",
            f"M = {shown(TORQUE_PEAK, 1)}*60000 P eta/(2 pi n) = {shown(torque, 1)} N m "
            f"of {shown(spindle.torque)} N m",
            SOURCE,
            True,
        ),
    )
    if share >= 1:
        return Check(facts)
    kept = Fact(
        f"feed kept for the spindle, {stage}",
        100 * share,
        "%",
        f"feed lowered to {shown(100 * share, 1)} % so that power and torque hold",
        SOURCE,
        True,
    )
    if share >= LEAST_SHARE:
        return Check((*facts, kept))
    return fail(
        f"{tool.name} would have to feed at {shown(100 * share, 1)} % of its condition to stay within "
        f"{shown(spindle.power, 1)} kW and {shown(spindle.torque)} N m; below "
        f"{shown(100 * LEAST_SHARE)} % it rubs",
        "rough the gaps first with a smaller cutter",
        *facts,
        kept,
    )
