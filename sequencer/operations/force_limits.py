"""How much cutting force table, spindle and clamping carry, and cuts reduced to it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.cutting import forces, holding
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, SpeedCap, lowest, mm, table_cap
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.operations.standing import standing_in
from sequencer.units import MetrePerMinute, Mm, Newton, NewtonMetre, Rpm, shown

#: Efficiency of table and spindle drives; common practice, no source.
EFFICIENCY: Final = 0.8

#: A cut is reduced to no less than this share of its depth, then of its feed; common practice, no source.
LEAST_DEPTH_SHARE: Final = 0.25
LEAST_FEED_SHARE: Final = 0.3


@dataclass(frozen=True)
class ForceLimit:
    """Largest cutting force, and what sets it.

    Parameters
    ----------
    force
        Largest tangential cutting force [N].
    reason
        What sets it, with its numbers.
    """

    force: Newton
    reason: str


def table_limit(
    context: Context, clamping: FittedClamping, diameter: Mm, speed: MetrePerMinute, rpm: Rpm, finishing: bool
) -> ForceLimit:
    """Largest cutting force on the turning part: power and torque of the table, grip of the means.

    Parameters
    ----------
    context
        Part and shop.
    clamping
        The clamping.
    diameter
        Diameter that is cut [mm].
    speed
        Cutting speed there [m/min].
    rpm
        Revolutions of the table [rpm].
    finishing
        True if the part is held with the lower force for finishing.
    """
    table = context.shop.machine.table
    by_power = 60_000 * EFFICIENCY * float(table.power) / speed
    torque = table.torque_at(rpm)
    by_torque = 2000 * torque / diameter
    limits = (
        ForceLimit(by_power, f"table power {shown(table.power)} kW at {EFFICIENCY} efficiency"),
        ForceLimit(by_torque, f"table torque {shown(torque)} N m"),
        _grip(context, clamping, diameter, rpm, finishing),
    )
    return min(limits, key=lambda limit: limit.force)


def force_at_rest(clamping: FittedClamping, finishing: bool) -> Newton:
    """Force of the means at rest: the lower one for finishing where there is one [N].

    Parameters
    ----------
    clamping
        The clamping with its means.
    finishing
        True if the part is held for finishing.
    """
    means = clamping.means
    return float(means.finishing_force if finishing and means.finishing_force else means.force)


def turning_cap(
    context: Context, clamping: FittedClamping, force: Newton, diameter: Mm, finishing: bool
) -> SpeedCap:
    """Highest table speed for a cut; outside jaws at the lower force for finishing lose their grip sooner.

    Source: VDI 3106 as quoted in chuck manuals

    Parameters
    ----------
    context
        Part and shop.
    clamping
        The clamping.
    force
        Cutting force [N].
    diameter
        Diameter that is cut [mm].
    finishing
        True if the part is held with the lower force for finishing.
    """
    limits, grip = context.shop.limits, standing_in(context, clamping).grip_diameter
    needed = holding.jaw_force_for_cut(force, diameter, limits.jaw_friction, grip)
    return gentle_cap(context, clamping, needed) if finishing else table_cap(clamping)


def gentle_cap(context: Context, clamping: FittedClamping, needed: Newton = float("inf")) -> SpeedCap:
    """Highest table speed with the force for finishing: outside jaws lose the lower force sooner.

    Source: VDI 3106 as quoted in chuck manuals

    Parameters
    ----------
    context
        Part and shop.
    clamping
        The clamping.
    needed
        Jaw force that the cut needs; at most half the grip at rest is kept for it, and a heavier cut is
        reduced to that later [N].
    """
    means, safety, cap = clamping.means, context.shop.limits.jaw_safety, table_cap(clamping)
    if means.finishing_force is None or means.hold != "outside jaws" or means.jaw_moment <= 0:
        return cap
    at_rest, moment = float(means.finishing_force), float(means.jaw_moment)
    needed = min(needed, at_rest / safety**2 / 2)
    rpm = holding.permissible_rpm(at_rest, needed, moment, safety, safety)
    numbers = f"({shown(at_rest, 0)}/{safety} - {safety}*{shown(needed, 0)})/{shown(moment, 1)}"
    words = f"{means.name} at its force for finishing, 30/pi*sqrt({numbers}) = {shown(rpm, 0)} rpm"
    return lowest((cap, SpeedCap(rpm, words)))


def _grip(context: Context, clamping: FittedClamping, diameter: Mm, rpm: Rpm, finishing: bool) -> ForceLimit:
    means, limits = clamping.means, context.shop.limits
    at_rest = force_at_rest(clamping, finishing)
    grip = standing_in(context, clamping).grip_diameter
    inside = means.hold != "outside jaws"
    moment = 0.0 if inside else float(means.jaw_moment)
    left = max(0.0, holding.force_at_speed(at_rest, moment, rpm, inside, limits.jaw_safety))
    if left <= 0 or grip <= 0:
        return ForceLimit(0.0, f"{means.name} at {shown(rpm, 0)} rpm holds nothing")
    held = holding.gripping_torque(left, limits.jaw_friction, grip) / limits.jaw_safety
    return ForceLimit(
        2000 * held / diameter,
        f"grip of {means.name}: {shown(left / 1000, 1)} kN left at {shown(rpm, 0)} rpm, friction "
        f"{limits.jaw_friction}, diameter {mm(grip, 0)}, safety {limits.jaw_safety}",
    )


@dataclass(frozen=True)
class Cut:
    """Depth and feed of a cut with its force.

    Parameters
    ----------
    depth
        Depth of cut, or width of a blade [mm].
    feed
        Feed per revolution [mm].
    force
        Cutting force [N].
    reduced
        What was reduced to stay within the limit; empty if nothing.
    """

    depth: Mm
    feed: Mm
    force: Newton
    reduced: str


def cutting_force(context: Context, depth: Mm, feed: Mm) -> Newton:
    """Cutting force in the part's material [N].

    Source: O. Kienzle's relation, from memory

    Parameters
    ----------
    context
        Part and shop.
    depth
        Depth of cut, or width of a blade [mm].
    feed
        Feed per revolution, the chip thickness [mm].
    """
    material = context.material
    kc = forces.specific_force(float(material.kc11), material.mc, forces.turning_chip_thickness(feed))
    return forces.turning_force(kc, depth, feed)


def fit_cut(context: Context, depth: Mm, feed: Mm, limit: ForceLimit, fixed_depth: bool = False) -> Cut | str:
    """Reduce depth, then feed, until the force is carried; a sentence if even the least cut is too heavy.

    Parameters
    ----------
    context
        Part and shop.
    depth
        Depth wanted, or width of the blade [mm].
    feed
        Feed wanted [mm].
    limit
        Largest force.
    fixed_depth
        True for a blade: its width cannot be reduced.
    """
    wanted = cutting_force(context, depth, feed)
    new_depth, new_feed, words = depth, feed, ""
    if wanted > limit.force and not fixed_depth:
        new_depth = max(depth * limit.force / wanted, LEAST_DEPTH_SHARE * depth)
        words = f"depth reduced from {mm(depth)} to {mm(new_depth)}"
    force = cutting_force(context, new_depth, new_feed)
    if force > limit.force * (1 + 1e-9):
        exponent = 1 / (1 - context.material.mc)
        new_feed = max(feed * (limit.force / force) ** exponent, LEAST_FEED_SHARE * feed)
        words += f"{', ' if words else ''}feed reduced from {mm(feed, 3)} to {mm(new_feed, 3)}"
        force = cutting_force(context, new_depth, new_feed)
    if force > limit.force * (1 + 1e-6):
        return (
            f"the least sensible cut (depth {mm(new_depth)}, feed {mm(new_feed, 3)}) needs "
            f"{shown(force / 1000, 2)} kN, carried are {shown(limit.force / 1000, 2)} kN ({limit.reason})"
        )
    return Cut(new_depth, new_feed, force, words)


def force_facts(
    context: Context, depth: Mm, feed: Mm, speed: MetrePerMinute, limit: ForceLimit, reduced: str = ""
) -> tuple[Fact, ...]:
    """Give force and power of a cut as it is made, against what is carried.

    Parameters
    ----------
    context
        Part and shop.
    depth
        Depth of cut, or width of a blade [mm].
    feed
        Feed per revolution [mm].
    speed
        Cutting speed [m/min].
    limit
        Largest force.
    reduced
        What was reduced to stay within it.
    """
    force = cutting_force(context, depth, feed)
    material = context.material
    numbers = f"{shown(material.kc11, 0)}*{shown(feed, 3)}^(1-{material.mc})*{shown(depth, 2)}"
    formula = (
        f"F = kc1.1 f^(1-mc) b = {numbers} = {shown(force, 0)} N; "
        f"carried are {shown(limit.force, 0)} N ({limit.reason})"
    )
    if reduced:
        formula += f"; {reduced}"
    power = forces.cutting_power(force, speed, EFFICIENCY)
    numbers = f"{shown(force, 0)}*{shown(speed, 1)}/(60000*{EFFICIENCY})"
    power_formula = f"P = F vc/(60000 eta) = {numbers} = {shown(power, 1)} kW"
    return (
        Fact("cutting force", force, "N", formula, f"Kienzle; {material.source or COMMON}", True),
        Fact("power", power, "kW", power_formula, "derived", True),
    )


@dataclass(frozen=True)
class SpindleLoad:
    """Load of the tool spindle against its limits.

    Parameters
    ----------
    share
        Largest of torque and power over their limits; above 1 is too much.
    words
        Numbers of the worse of the two.
    """

    share: float
    words: str


def spindle_load(context: Context, moment: NewtonMetre, rpm: Rpm) -> SpindleLoad:
    """Compare torque and power of a cut with the tool spindle.

    Parameters
    ----------
    context
        Part and shop.
    moment
        Torque of the cut [N m].
    rpm
        Revolutions of the spindle [rpm].
    """
    spindle = context.shop.machine.spindle
    power = forces.power_of_torque(moment, rpm, EFFICIENCY)
    shares = (
        SpindleLoad(
            moment / spindle.torque_at(rpm),
            f"torque {shown(moment, 0)} N m of {shown(spindle.torque_at(rpm), 0)} N m",
        ),
        SpindleLoad(
            power / float(spindle.power), f"power {shown(power, 1)} kW of {shown(spindle.power, 1)} kW"
        ),
    )
    return max(shares, key=lambda load: load.share)
