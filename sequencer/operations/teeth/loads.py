"""Power and torque of gear cutters, from the volume of chips and the specific cutting force."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.cutting import forces
from sequencer.operations.context import Context
from sequencer.operations.operation import Fact
from sequencer.operations.teeth.holds import Hold, hold_facts, hold_ratios, mean_force
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
    hold
        Where and how its force meets the part; None where that is not looked at.
    """

    removal: float
    chip: Mm
    rpm: Rpm
    hold: Hold | None = None


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
    """Share of the feed that spindle, table and clamping can do, 1 if they can do all of it.

    Source: derived: power, torque and force grow with feed^(1 - mc)

    Parameters
    ----------
    context
        Part and shop.
    load
        The cut at full feed.
    """
    over = max(ratio for ratio, _ in _ratios(context, load))
    return 1.0 if over <= 1 else max(float(over ** (-1 / (1 - context.material.mc))), _ALMOST_NOTHING)


#: A feed is lowered to no less than this share, so that the other numbers can still be told.
_ALMOST_NOTHING: Final = 0.01


def _ratios(context: Context, load: Load) -> tuple[tuple[float, str], ...]:
    """How many times the cut is heavier than each limit, and the limit in words."""
    spindle = context.shop.machine.spindle
    power, torque = power_of(context, load), spindle.torque_at(load.rpm)
    ratios = [
        (power / float(spindle.power), f"spindle power {shown(spindle.power, 1)} kW"),
        (torque_of(context, load) / torque, f"spindle torque {shown(torque)} N m"),
    ]
    if load.hold is not None:
        ratios += hold_ratios(context, load.hold, mean_force(power, load.hold.speed))
    return tuple(ratios)


def load_check(context: Context, tool: Tool, load: Load, share: float, stage: str) -> Check:
    """Check spindle, table and clamping; the feed may have been lowered to a share that they can do.

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
            f"of {shown(spindle.torque_at(load.rpm))} N m at {shown(load.rpm, 0)} rpm",
            SOURCE,
            True,
        ),
        *(
            ()
            if load.hold is None
            else hold_facts(context, load.hold, mean_force(power, load.hold.speed), stage)
        ),
    )
    if share >= 1:
        return Check(facts)
    limit = max(_ratios(context, load))[1]
    kept = Fact(
        f"feed kept, {stage}",
        100 * share,
        "%",
        f"feed lowered to {shown(100 * share, 1)} % to stay within {limit}",
        SOURCE,
        True,
    )
    if share >= LEAST_SHARE:
        return Check((*facts, kept))
    return fail(
        f"{tool.name} would have to feed at {shown(100 * share, 1)} % of its condition to stay within "
        f"{limit}; below {shown(100 * LEAST_SHARE)} % it rubs",
        "rough the gaps first with a smaller cutter, or hold the part with more force",
        *facts,
        kept,
    )
