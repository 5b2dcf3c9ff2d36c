"""What a gear cut asks of the table and of what holds the part."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import forces
from sequencer.operations.context import Context
from sequencer.operations.facts import mm
from sequencer.operations.force_limits import force_at_rest
from sequencer.operations.grip import force_left
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.operations.releasing import thin_ring
from sequencer.operations.standing import standing_in
from sequencer.operations.teeth.share import Share
from sequencer.operations.teeth.typical import EFFICIENCY, SIDE_FORCE
from sequencer.units import Deg, MetrePerMinute, Mm, Newton, NewtonMetre, Rpm, shown

SOURCE: Final = (
    "derived from the cutting force; side force common practice; friction and safety of the shop file "
    "(VDI 3106 as quoted in chuck manuals)"
)


@dataclass(frozen=True)
class Hold:
    """Where and how the cutting force meets the part.

    Parameters
    ----------
    clamping
        The clamping.
    diameter
        Largest diameter at which it acts [mm].
    lean
        Angle between the main cutting force and the table axis [deg].
    speed
        Cutting speed [m/min].
    table
        Table speed [rpm].
    finishing
        True if the part may be held with the lower force for finishing.
    """

    clamping: FittedClamping
    diameter: Mm
    lean: Deg
    speed: MetrePerMinute
    table: Rpm
    finishing: bool

    @property
    def at(self) -> str:
        """Words for the table speed."""
        return f"at {shown(self.table, 1)} rpm" if self.table > 0 else "standing still"

    @property
    def round_share(self) -> float:
        """Greatest share of the cutting force that turns the part, side force included [-]."""
        lean = math.radians(min(abs(self.lean), 90.0))
        return math.sin(lean) + SIDE_FORCE * math.cos(lean)

    @property
    def along_share(self) -> float:
        """Share of the cutting force along the table axis [-]."""
        return math.cos(math.radians(min(abs(self.lean), 90.0)))


def held_lower(context: Context, share: Share) -> bool:
    """Tell whether a cut is made with the part held by the lower force for finishing.

    Source: common practice, no source: a thin ring is finished so, a stiff part is tightened again

    Parameters
    ----------
    context
        Part and shop.
    share
        What the operation cuts.
    """
    return share is not Share.ROUGH and thin_ring(context)


def mean_force(power: float, speed: MetrePerMinute) -> Newton:
    """Mean cutting force of a cut, from its power at the motor; its swing is what the safety factors are for.

    Source: derived: F = 60000 P eta / vc

    Parameters
    ----------
    power
        Power at the spindle motor [kW].
    speed
        Cutting speed [m/min].
    """
    return 60_000 * power * EFFICIENCY / speed


def table_torque(hold: Hold, force: Newton) -> NewtonMetre:
    """Torque that a cutting force asks of the table.

    Source: derived: M = F (sin(lean) + 0.3 cos(lean)) d / 2000

    Parameters
    ----------
    hold
        Where it acts.
    force
        Cutting force [N].
    """
    return force * hold.round_share * hold.diameter / 2000


def table_limit(context: Context, hold: Hold) -> NewtonMetre:
    """Torque that the table has at its speed, by torque and power.

    Source: derived

    Parameters
    ----------
    context
        Shop with its machine.
    hold
        The cut with its table speed.
    """
    table = context.shop.machine.table
    by_power = (
        forces.torque_of_power(float(table.power) * EFFICIENCY, hold.table) if hold.table > 0 else math.inf
    )
    return min(table.torque_at(hold.table), by_power)


def force_needed(context: Context, hold: Hold, force: Newton) -> Newton:
    """Clamping force that must be left at speed to hold a cut.

    Source: derived: jaws hold turning and lifting by friction, bolts press down and are relieved by lifting;
    safety as in VDI 3106

    Parameters
    ----------
    context
        Shop with friction and safety.
    hold
        Where the force acts.
    force
        Cutting force [N].
    """
    limits = context.shop.limits
    grip = max(standing_in(context, hold.clamping).grip_diameter, 1.0)
    around, along = force * hold.round_share * hold.diameter / grip, force * hold.along_share
    jaws = hold.clamping.means.hold in ("outside jaws", "inside jaws")
    total = math.hypot(around, along) / limits.jaw_friction if jaws else around / limits.jaw_friction + along
    return limits.jaw_safety * total


def left_at_speed(context: Context, hold: Hold) -> Newton:
    """Clamping force that is surely left at the speed of the table.

    Source: VDI 3106 as quoted in chuck manuals

    Parameters
    ----------
    context
        Shop with its safety.
    hold
        The cut with its table speed.
    """
    at_rest = force_at_rest(hold.clamping, hold.finishing)
    return force_left(hold.clamping, at_rest, hold.table, context.shop.limits.jaw_safety)


def hold_ratios(context: Context, hold: Hold, force: Newton) -> list[tuple[float, str]]:
    """How many times a cut is heavier than table and clamping carry, and these limits in words.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    hold
        Where the force acts.
    force
        Cutting force [N].
    """
    left, limit = left_at_speed(context, hold), table_limit(context, hold)
    grip = force_needed(context, hold, force) / left if left > 0 else math.inf
    at = hold.at
    return [
        (table_torque(hold, force) / limit, f"table torque {shown(limit)} N m {at}"),
        (grip, f"the {shown(left / 1000, 1)} kN that {hold.clamping.means.name} has left {at}"),
    ]


def hold_facts(context: Context, hold: Hold, force: Newton, stage: str) -> tuple[Fact, ...]:
    """Give table torque and clamping force of a cut against what there is.

    Parameters
    ----------
    context
        Part and shop.
    hold
        Where the force acts.
    force
        Cutting force [N].
    stage
        "rough" or "finish".
    """
    torque, needed = table_torque(hold, force), force_needed(context, hold, force)
    limits, means = context.shop.limits, hold.clamping.means
    grip = standing_in(context, hold.clamping).grip_diameter
    at = hold.at
    return (
        Fact(
            f"table torque, {stage}",
            torque,
            "N m",
            f"M = F (sin(lean) + {SIDE_FORCE} cos(lean)) d/2000 = {shown(force, 0)}*"
            f"{shown(hold.round_share, 3)}*{shown(hold.diameter, 1)}/2000 = {shown(torque, 0)} N m of "
            f"{shown(table_limit(context, hold), 0)} N m {at}",
            SOURCE,
            True,
        ),
        Fact(
            f"clamping force needed, {stage}",
            needed / 1000,
            "kN",
            f"{means.name}: friction {limits.jaw_friction}, safety {limits.jaw_safety}, cut at diameter "
            f"{mm(hold.diameter, 0)}, held at {mm(grip, 0)}: {shown(needed / 1000, 1)} kN of "
            f"{shown(left_at_speed(context, hold) / 1000, 1)} kN left {at}",
            SOURCE,
            True,
        ),
    )
