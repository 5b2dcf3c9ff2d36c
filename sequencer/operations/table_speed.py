"""Highest table speed in a clamping: table, speed-at-mass curve and jaws."""

from __future__ import annotations

from sequencer.cutting import forces, holding
from sequencer.errors import OutOfRange
from sequencer.operations.facts import SpeedCap, lowest
from sequencer.operations.standing import Standing
from sequencer.shop import ClampingMeans, Material, Shop
from sequencer.units import Kg, Newton, shown


def fastest(standing: Standing, means: ClampingMeans, part_mass: Kg) -> SpeedCap:
    """Give the highest table speed with this part in these means, and which limit sets it.

    Parameters
    ----------
    standing
        The part in the clamping.
    means
        What holds it.
    part_mass
        Mass of the part as it is clamped [kg].
    """
    table = standing.shop.machine.table
    caps = [
        SpeedCap(float(table.speed), f"highest speed of the table, {shown(table.speed, 0)} rpm"),
        *_at_mass(standing.shop, part_mass, float(means.mass)),
        *_jaws(standing, means),
    ]
    return lowest(caps)


def _at_mass(shop: Shop, part_mass: Kg, means_mass: Kg) -> list[SpeedCap]:
    total = part_mass + means_mass
    curve = shop.machine.table.speed_at_mass
    point = next((point for point in curve if total <= point.mass), curve[-1] if curve else None)
    if point is None:
        return []
    sum_words = (
        f"part at most {shown(part_mass, 0)} kg + means {shown(means_mass, 0)} kg = {shown(total, 0)} kg"
    )
    reach = f"up to {point.mass}" if total <= point.mass else f"beyond the last point, {point.mass}"
    return [SpeedCap(float(point.speed), f"table {shown(point.speed, 0)} rpm {reach}; {sum_words}")]


def rough_cut_force(shop: Shop, material: Material) -> Newton:
    """Cutting force of the shop's own rough turning cut in a material; 0 if it has no values for it [N].

    Source: O. Kienzle's relation with the shop's starting values for rough turning

    Parameters
    ----------
    shop
        The shop with its table of conditions.
    material
        Work material.
    """
    for row in shop.conditions:
        if (row.method, row.group, row.stage) == ("turning", material.group, "rough") and row.depth:
            kc = forces.specific_force(float(material.kc11), material.mc, float(row.feed))
            return forces.turning_force(kc, float(row.depth), float(row.feed))
    return 0.0


def _jaws(standing: Standing, means: ClampingMeans) -> list[SpeedCap]:
    """Jaws that grip outside lose force with speed; inside jaws and bolts do not."""
    if means.hold != "outside jaws" or means.jaw_moment <= 0:
        return []
    limits = standing.shop.limits
    safety, at_rest, moment = limits.jaw_safety, float(means.force), float(means.jaw_moment)
    wanted = _force_for_cutting(standing)
    most = at_rest / safety / safety / 2
    needed = min(wanted, most)
    try:
        rpm = holding.permissible_rpm(at_rest, needed, moment, safety, safety)
    except OutOfRange:
        return []
    reduced = "" if needed == wanted else " (half of what the jaws hold at rest; cuts are reduced)"
    numbers = f"({shown(at_rest, 0)}/{safety} - {safety}*{shown(needed, 0)})/{shown(moment, 1)}"
    words = (
        f"jaws {means.name}: n = 30/pi sqrt((F0/Ssp - Sz F)/sum(m r)) = 30/pi*sqrt({numbers}) = "
        f"{shown(rpm, 0)} rpm, F for the rough cut{reduced}; "
        "centrifugal share at most 0.67 (VDI 3106, DIN EN 1550)"
    )
    return [SpeedCap(rpm, words)]


def _force_for_cutting(standing: Standing) -> Newton:
    """Jaw force that the rough cut at the outside of the blank needs, without safety [N]."""
    material = next((m for m in standing.shop.materials if m.name == standing.part.material), None)
    tangential = rough_cut_force(standing.shop, material) if material is not None else 0.0
    if tangential <= 0:
        return 0.0
    return holding.jaw_force_for_cut(
        tangential,
        float(standing.part.blank.diameter),
        standing.shop.limits.jaw_friction,
        standing.grip_diameter,
    )
