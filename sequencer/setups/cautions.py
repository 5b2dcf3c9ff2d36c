"""Lifting, first checks and cautions of a clamping visit."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from sequencer.operations import Action, FittedClamping, Stage
from sequencer.operations.facts import mm
from sequencer.operations.standing import Standing
from sequencer.part import BLANK
from sequencer.part.milled import BoltCircle
from sequencer.setups.setup import Grip, Lifting, Note, Ovality, PartState, Target, Tipping
from sequencer.setups.states import Visit
from sequencer.units import Kg, shown

#: Masses up to which one person lifts by hand and a simple aid serves [kg]; common practice, no source.
BY_HAND: Final[Kg] = 15.0
WITH_AID: Final[Kg] = 50.0


def mass_class(mass: Kg) -> str:
    """Say how a mass is lifted: by hand, with a lifting aid, or by crane.

    Source: common practice, no source; local rules on lifting by hand come first

    Parameters
    ----------
    mass
        Mass [kg].
    """
    if mass <= BY_HAND:
        return "by hand"
    return "with a lifting aid" if mass <= WITH_AID else "crane"


def lifting_of(
    standing: Standing, visit: Visit, before: PartState, after: PartState, turned_over: bool
) -> Lifting:
    """Give mass, points and cautions for lifting the part onto the table and off it.

    Source: common practice, no source

    Parameters
    ----------
    standing
        The part in the clamping.
    visit
        The visit with the state of the features.
    before, after
        The part as it comes and as it goes.
    turned_over
        True if it is turned over before this visit.
    """
    points = tuple(
        Note(feature.name, _point_words(standing, feature, feature.name in visit.before))
        for feature in standing.part.features
        if isinstance(feature, BoltCircle) and feature.use == "lifting"
    )
    kind = mass_class(max(before.mass, after.mass))
    cautions: list[str] = []
    if kind == "crane":
        cautions += [
            f"Lift {shown(before.mass, 0)} kg only with gear rated for it, by people trained for it; nobody "
            "stands or reaches under the load.",
            "Sling legs within 45 degrees of the plumb line; go by the tag of the sling.",
        ]
    if kind != "by hand" and not any(point.name in visit.before for point in points):
        cautions.append(
            "No lifting holes are made yet: sling the part or use a lifting clamp rated for it, away "
            "from finished surfaces."
        )
    if turned_over:
        cautions.append(
            f"Turn over with a turning device or two hoists, two people; its centre of gravity is at z "
            f"{mm(before.centre_in_drawing)} in the drawing. Set it down on wood, never on teeth or edges."
        )
    return Lifting(before.mass, after.mass, kind, points, turned_over, tuple(cautions))


def _point_words(standing: Standing, holes: BoltCircle, made: bool) -> str:
    size = holes.diameter
    thread = f"M{shown(size)}" if holes.thread_pitch is not None else f"holes of {mm(size)}"
    extent = standing.section.extent(holes.name)
    top = standing.view.ends(extent.z_from, extent.z_to)[1] >= standing.view.top - 1e-6
    where = "on top" if top else "not on top in this clamping"
    return f"{holes.count} x {thread}, {where}; {'made' if made else 'not made yet when the part comes'}"


def first_checks(
    standing: Standing, fitted: FittedClamping, visit: Visit, targets: Iterable[Target]
) -> tuple[str, ...]:
    """Give the checks before and during the first cuts, in their order.

    Source: common practice, no source

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    visit
        The visit.
    targets
        What is indicated.
    """
    clamping, means = fitted.clamping, fitted.means
    riser = f" and the riser of {mm(standing.air_below)}" if standing.air_below > 0 else ""
    checks = [f"Clean table, seats{riser}; no burr or chip under the part."]
    if clamping.rests_on == BLANK:
        checks.append("Set the raw face on three supports; shim until it stands without rocking.")
    else:
        checks.append(f"Set down on {clamping.rests_on}; a 0.02 mm feeler must not enter at any seat.")
    checks.append(f"Clamp with {means.force}; mark the position of jaws or bolts.")
    checks += [
        f"Indicate {target.name}: {target.what} at most {shown(target.limit, 0)} um; record it."
        for target in targets
    ]
    checks.append("Turn the table by inching once round with the guard closed: nothing touches.")
    roughs = any(step.operation.stage is Stage.ROUGH for step in visit.steps)
    if roughs:
        checks.append("Stop after the first roughing cut: check the clamping force again.")
    if any(step.operation.action is Action.RELEASE for step in visit.steps):
        force = means.finishing_force or means.force
        checks.append(f"Before finishing release, clamp again with {force}, and indicate again.")
        thin = standing.section.wall_ratio() < standing.shop.limits.thin_wall
        if not thin and any(step.operation.action is Action.CUT_TEETH for step in visit.steps):
            checks.append(f"Before the teeth are finished tighten again to {means.force}: the part is stiff.")
    return tuple(checks)


def cautions_of(
    standing: Standing,
    fitted: FittedClamping,
    before: PartState,
    grips: tuple[Grip, Grip],
    ovality: Ovality | None,
    tipping: Tipping,
) -> tuple[str, ...]:
    """Give what to mind in this visit.

    Source: common practice, no source

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    before
        The part as it comes.
    grips
        Holding for roughing and for finishing.
    ovality
        Out-of-roundness under the jaws.
    tipping
        Stability.
    """
    found = [f"Table never above {shown(fitted.table_speed, 0)} rpm: {fitted.speed_reason}."]
    jaws = standing.band is not None
    if jaws:
        found.append("Jaws within their stroke mark and not past the rim of the chuck.")
    else:
        found.append("Bolts and clamps tightened crosswise; supports that cannot move.")
    if fitted.clamping.hold == "face plate":
        found.append(
            "Straps stand in two sets: set and tighten the second before the first is taken off, the "
            "table at rest; probe again after the change."
        )
    found += [f"Grip: {_grip_words(grip)}" for grip in grips if not grip.holds]
    if ovality is not None and 0 < ovality.allowed < ovality.deviation:
        found.append(
            f"{ovality.feature}: the jaws leave about {shown(ovality.deviation, 0)} um out of round; clamp "
            f"with at most {shown(ovality.most / 1000, 1)} kN for finishing, use more or softer jaws, or "
            "clamp on the face."
        )
    found.append(
        f"A sideways force of {shown(tipping.force / 1000, 1)} kN at the top is the most before the part may "
        "tip: no heavier cut there."
    )
    if before.unbalance > 0:
        radius = max(r for outline in before.standing for _, r in outline)
        found.append(
            f"Unbalance {shown(before.unbalance / 1000, 3)} kg m from {before.unbalance_cause}: a "
            f"counterweight of {shown(before.unbalance / radius, 2)} kg at radius {mm(radius)} on its side, "
            "secured against flying off."
        )
    found.append(
        "Guards closed before the table turns; nobody on it while drives are powered. Limits of machine, "
        "means and lifting gear, local codes and licensed or authorised practice come first."
    )
    return tuple(found)


def _grip_words(grip: Grip) -> str:
    return (
        f"{grip.heaviest} asks {shown(grip.torque_needed, 0)} N m, friction holds "
        f"{shown(grip.torque_held, 0)} N m at {shown(grip.rpm, 0)} rpm; cut less deep or clamp harder."
    )
