"""Cautions of a route sheet: masses, lifting, speed, jaws, guards, edges, and who has the last word."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.operations import Action, FittedClamping
from sequencer.part.milled import BoltCircle
from sequencer.pictures.rounding import quantity_words

if TYPE_CHECKING:
    from sequencer.plan import Plan

#: The last word; it stands on every sheet.
LAST_WORD = (
    "The limits of machine, jaws, tools and lifting gear, the local codes, and licensed or authorised "
    "practice come first; where they ask for less speed, less load or more care than this sheet, they hold. "
    "No sheet claims that a program is free of collisions: prove it on the machine."
)


def general_cautions(plan: Plan, mass_in: str, mass_out: str) -> tuple[str, ...]:
    """Give the cautions that hold for the whole route.

    Source: common practice, no source

    Parameters
    ----------
    plan
        The plan.
    mass_in, mass_out
        Mass of the blank and of the finished part, with the unit.
    """
    cautions = [
        f"Mass {mass_in} as received, {mass_out} finished. Lift only with gear rated for the heavier of the "
        "two, by people trained for it; nobody stands or reaches under the load.",
        _lifting(plan),
        "Sling legs stay within 45 degrees of the plumb line; the load in each leg grows with the angle. "
        "Go by the tag of the sling.",
        "Guards and doors closed before the table turns. Nobody on the table while drives are powered; "
        "for indicating, move by inching only.",
        "Take chips away with a hook, never by hand: they are hot and sharp. "
        "Burrs and tooth edges cut: wear gloves for handling, none near turning parts.",
        "Before a door or a roof is opened, and before any probing by hand, everything stands still.",
    ]
    if any(step.operation.action is Action.RELEASE for step in plan.sequence.steps):
        cautions.append("When the jaws are released, the part stays on its seat or on the hook: it can tip.")
    return (*cautions, LAST_WORD)


def _lifting(plan: Plan) -> str:
    holes = [
        feature.shown
        for feature in plan.part.features
        if isinstance(feature, BoltCircle) and feature.use == "lifting"
    ]
    if holes:
        return (
            f"Lifting points: {', '.join(holes)}. Screw eye bolts or swivels in to the shoulder, "
            "with the thread depth that their maker asks for."
        )
    return (
        "The part file names no lifting points (a bolt circle with use: lifting). "
        "Agree on them before the first lift."
    )


def clamping_cautions(fitted: FittedClamping) -> tuple[str, ...]:
    """Give the cautions of one clamping.

    Source: common practice, no source

    Parameters
    ----------
    fitted
        The clamping with its means.
    """
    means = fitted.means
    cap = quantity_words(fitted.table_speed, "rpm")
    cautions = [f"Table never above {cap} in this clamping: {fitted.speed_reason}."]
    jaws = means.hold in ("outside jaws", "inside jaws")
    what = f"{means.count} jaws" if jaws else f"{means.count} bolts"
    force = f"Clamping force {means.force} over all {what}"
    if means.finishing_force is not None:
        force += f", {means.finishing_force} for finishing"
    cautions.append(f"{force}. Check it again after the first roughing cut.")
    if jaws:
        cautions.append("Jaws within their stroke mark and not past the rim of the chuck.")
    else:
        cautions.append("All bolts tightened crosswise; clamps stand on supports that cannot move.")
    return tuple(cautions)
