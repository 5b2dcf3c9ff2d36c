"""How the part is held in a visit: force at speed, torque, ovality, stability, room on the machine."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from sequencer.cutting import mass, ring
from sequencer.operations import Action, FittedClamping, Mode, Stage
from sequencer.operations.closeness import size_of, tolerance_of, width_of
from sequencer.operations.facts import mm
from sequencer.operations.grip import force_left, table_rpm, torque_held, torque_on_part
from sequencer.operations.stability import SOURCE, Stability, stability_of
from sequencer.operations.standing import Standing
from sequencer.part import AnyFeature
from sequencer.part.ring_section import RingSection, ring_section
from sequencer.part.stages import StageBody
from sequencer.sequencing import Step
from sequencer.setups.setup import Grip, Ovality, PartState, TableUse, Tipping
from sequencer.units import Newton, Rpm, shown

_VDI: Final = "VDI 3106 as quoted in chuck manuals; DIN EN 1550 for the centrifugal share"
#: Stands for a force that nothing limits, low down beside the seat [N].
LARGEST: Final[Newton] = 1e9

_RING: Final = "S. Timoshenko, Strength of Materials, part II, thin rings (from memory)"

#: Above this height of the section over its radius a ring is too stiff for thin-ring theory; from memory.
_THIN: Final = 0.4

#: Part of the closest tolerance that jaws may take by pressing the part out of round; common practice.
_SHARE: Final = 1 / 3


def grips_of(standing: Standing, fitted: FittedClamping, steps: Sequence[Step]) -> tuple[Grip, Grip]:
    """Give force, loss at speed and torque for roughing and for finishing in one visit.

    Source: VDI 3106 as quoted in chuck manuals

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    steps
        Steps of the visit, in order.
    """
    means = fitted.means
    thin = standing.section.wall_ratio() < standing.shop.limits.thin_wall
    gentle = _gentle(steps, thin)
    full = [step for step in steps if step.operation.name not in gentle]
    lower = [step for step in steps if step.operation.name in gentle]
    low = float(means.finishing_force or means.force)
    return _grip(standing, fitted, full, float(means.force)), _grip(standing, fitted, lower, low)


def _gentle(steps: Sequence[Step], thin: bool) -> set[str]:
    """Cuts made with the force for finishing: turning to size; of a thin ring all that follows a release."""
    found: set[str] = set()
    released = False
    for step in steps:
        released = released or step.operation.action is Action.RELEASE
        turned = step.alternative.mode is Mode.TURNING
        if (released and thin) or (turned and step.operation.stage in (Stage.FINISH, Stage.HARD)):
            found.add(step.operation.name)
    return found


def _grip(standing: Standing, fitted: FittedClamping, steps: Iterable[Step], at_rest: Newton) -> Grip:
    """The cut that leaves least to spare at one force; without cuts the grip at rest."""
    worst = _of_cut(standing, fitted, None, at_rest)
    for step in steps:
        if step.operation.cuts:
            grip = _of_cut(standing, fitted, step, at_rest)
            spare = grip.torque_held - grip.torque_needed
            if not worst.heaviest or spare < worst.torque_held - worst.torque_needed:
                worst = grip
    return worst


def _of_cut(standing: Standing, fitted: FittedClamping, step: Step | None, at_rest: Newton) -> Grip:
    limits = standing.shop.limits
    safety, diameter = limits.jaw_safety, standing.grip_diameter
    rpm = table_rpm(step.alternative) if step is not None else 0.0
    left = force_left(fitted, at_rest, rpm, safety)
    held = torque_held(standing, left)
    feature = standing.part.by_name.get(step.operation.feature) if step is not None else None
    needed = torque_on_part(standing, feature, step.alternative) if step is not None and feature else 0.0
    change = left - at_rest / safety
    formula = (
        f"F = F0/Ssp {'-' if change <= 0 else '+'} sum(m r)(pi n/30)^2 = {shown(at_rest, 0)}/{safety} "
        f"{'-' if change <= 0 else '+'} {shown(abs(change), 0)} = {shown(left, 0)} N at {shown(rpm, 0)} rpm; "
        f"M = F mu D/(2000 Sz) = {shown(left, 0)}*{limits.jaw_friction}*{mm(diameter)}/(2000*{safety}) = "
        f"{shown(held, 0)} N m"
    )
    name = step.operation.name if step is not None else ""
    return Grip(at_rest, rpm, max(0.0, -change), left, held, needed, name, formula, _VDI)


def ovality_of(
    standing: Standing, fitted: FittedClamping, body: StageBody, finished: Iterable[str], at_rest: Newton
) -> Ovality | None:
    """Give the roundness deviation that jaws leave on a thin ring; None where none presses one.

    Source: S. Timoshenko, Strength of Materials, part II, thin rings (from memory)

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    body
        The part as it goes: stock no longer stiffens it.
    finished
        Features that are finished in this visit.
    at_rest
        Force for finishing [N].
    """
    section = ring_section(body)
    if standing.band is None or section is None or section.thickness > _THIN * section.radius:
        return None
    jaws, stiffness = fitted.means.count, ring.STEEL_MODULUS * section.second_moment
    each = at_rest / jaws
    deviation = ring.roundness_after_release(each, section.radius, stiffness, jaws)
    width, name = _closest(standing, finished)
    allowed = width * _SHARE
    most = ring.force_for_roundness(allowed, section.radius, stiffness, jaws) if allowed > 0 else 0.0
    return Ovality(jaws, deviation, allowed, name, most, _ring_words(section, each, jaws, deviation), _RING)


def _ring_words(section: RingSection, each: Newton, jaws: int, deviation: float) -> str:
    return (
        f"ring of radius {mm(section.radius)} and I = {shown(section.second_moment / 1e4, 1)} cm4 under "
        f"{jaws} jaws of {shown(each / 1000, 2)} kN: F R^3/(E I) times the ring factor = "
        f"{shown(deviation, 1)} um from valley to peak after release"
    )


def _closest(standing: Standing, finished: Iterable[str]) -> tuple[float, str]:
    """Closest roundness, runout or size of round surfaces that are finished here [um]; 0 if none."""
    found: list[tuple[float, str]] = []
    for name in finished:
        feature = standing.part.by_name[name]
        found += [(width, name) for width in _round_widths(feature)]
    return min(found, default=(0.0, ""))


def _round_widths(feature: AnyFeature) -> Iterable[float]:
    for each in feature.geometric:
        if each.characteristic in ("roundness", "cylindricity", "runout", "total runout"):
            yield 1000 * float(each.value)
    if feature.kind in ("turned_diameter", "bore", "taper"):
        tolerance = tolerance_of(feature)
        width = width_of(tolerance, size_of(feature)) if tolerance is not None else None
        if width:
            yield width


def tipping_of(standing: Standing, state: PartState, force: Newton, steps: Iterable[Step]) -> Tipping:
    """Give what keeps the part from tipping under a cutting force at its top.

    Source: derived from moments

    Parameters
    ----------
    standing
        The part in the clamping.
    state
        The part as it comes.
    force
        Clamping force [N].
    steps
        Steps of the visit.
    """
    stable = stability_of(standing, force, state.mass)
    top = max(z for outline in state.standing for z, _ in outline)
    safety = standing.shop.limits.jaw_safety
    arm = max(1.001, top - stable.edge)
    most = stable.force_at(stable.edge + arm, safety)
    words = (
        f"{stable.words}; F = M/(Sz h) = {shown(stable.moment, 0)}*1000/({safety}*{mm(arm)}) = "
        f"{shown(most, 0)} N"
    )
    heaviest, needed, allowed = _nearest_to_tipping(standing, stable, steps)
    return Tipping(stable.moment, arm, most, heaviest, needed, min(allowed, LARGEST), words, SOURCE)


def _nearest_to_tipping(
    standing: Standing, stable: Stability, steps: Iterable[Step]
) -> tuple[str, Newton, Newton]:
    """Turning cut with the largest share of the force that tips the part at its height."""
    safety = standing.shop.limits.jaw_safety
    found: list[tuple[float, str, Newton, Newton]] = []
    for step in steps:
        feature = standing.part.by_name.get(step.operation.feature)
        if feature is None or step.alternative.mode is not Mode.TURNING:
            continue
        needed = next((f.value for f in step.alternative.facts if f.name == "cutting force"), 0.0)
        extent = standing.section.extent(feature.name)
        height = max(standing.above_table(extent.z_from), standing.above_table(extent.z_to))
        allowed = stable.force_at(height, safety)
        if needed > 0:
            found.append((needed / allowed, step.operation.name, needed, allowed))
    _, name, needed, allowed = max(found, default=(0.0, "", 0.0, LARGEST))
    return name, needed, allowed


def table_use(
    standing: Standing, fitted: FittedClamping, before: PartState, after: PartState
) -> tuple[TableUse, ...]:
    """Give load, swing, height, inertia and unbalance against the machine.

    Source: derived

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    before, after
        The part as it comes and as it goes.
    """
    table, means = standing.shop.machine.table, fitted.means
    load = before.mass + float(means.mass)
    top = max(z for outline in before.standing for z, _ in outline)
    clear = float(table.tool_change_clearance)
    worst = max(before, after, key=lambda state: state.unbalance)
    return (
        TableUse("load", load, float(table.load), "kg", _sum(before.mass, float(means.mass), "means", 0)),
        TableUse("swing", *_swing(standing, fitted, before)),
        TableUse("height", top + clear, float(table.height), "mm", _sum(top, clear, "for tool changes", 1)),
        TableUse(
            "moment of inertia",
            before.inertia,
            float(table.inertia_limit),
            "kg m2",
            "integral of r^2 dm over the section of the part as it comes",
        ),
        TableUse(
            "unbalance",
            worst.unbalance,
            1000 * float(table.unbalance_limit),
            "kg mm",
            f"removed mass times radius, most of it by {worst.unbalance_cause}"
            if worst.unbalance_cause
            else "everything that is cut off the axis balances",
        ),
    )


def _sum(first: float, second: float, name: str, decimals: int) -> str:
    total = first + second
    return f"part {shown(first, decimals)} + {name} {shown(second, decimals)} = {shown(total, decimals)}"


def _swing(standing: Standing, fitted: FittedClamping, state: PartState) -> tuple[float, float, str, str]:
    limit = float(standing.shop.machine.table.swing)
    part = 2 * max(r for outline in state.standing for _, r in outline)
    depth = float(fitted.means.depth)
    jaws = standing.grip_diameter + 2 * depth if fitted.clamping.hold == "outside jaws" else 0.0
    if jaws > part:
        return jaws, limit, "mm", f"over the jaws, {mm(standing.grip_diameter)} + 2*{mm(depth)}"
    return part, limit, "mm", f"the part is {mm(part)} across"


def run_up_seconds(standing: Standing, state: PartState, rpm: Rpm) -> float:
    """Time from rest to a speed; the means and the table itself are left out [s].

    Source: physics; see `cutting.mass.acceleration_time`

    Parameters
    ----------
    standing
        The part in the clamping.
    state
        The part as it comes.
    rpm
        Speed to be reached [rpm].
    """
    table = standing.shop.machine.table
    if state.inertia <= 0 or rpm <= 0:
        return 0.0
    return 60 * mass.acceleration_time(state.inertia, rpm, float(table.torque), float(table.power))
