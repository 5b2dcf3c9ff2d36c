"""To what runout a clamping is indicated: a share of the closest relation that crosses into it."""

from __future__ import annotations

from typing import Final

from sequencer.cutting.reclamping import largest_indicated_runout
from sequencer.ledger.bearings import Bearings
from sequencer.ledger.visits import Visit
from sequencer.operations import Fact
from sequencer.part import BLANK
from sequencer.tolerancing import Reclamping, shop_values
from sequencer.tolerancing.effects import of_eccentricity, of_tilt
from sequencer.units import Micrometre, shown

#: Closest reading that is asked of a face where nothing needs more [um]; common practice, no source.
LEAST_READING: Final[Micrometre] = 10.0

_PRACTICE = "common practice, no source: a third of the tolerance"


def axis_limit(bearings: Bearings, visit: Visit) -> tuple[Fact, str]:
    """Largest runout of the axis that may be left in a visit, and why [um].

    Source: common practice, no source: a third of the runout tolerance of the teeth, or of what the
    eccentricity enters

    Parameters
    ----------
    bearings
        The visits.
    visit
        The visit.
    """
    share = bearings.course.operations.shop.accuracy.indicating_share
    found: list[tuple[float, str, str]] = []
    for relation in bearings.stakes(visit, "axis"):
        effect = of_eccentricity(relation, 0.5)  # a runout of 1 um is an eccentricity of 0.5 um
        if effect is not None and effect.value > 0:
            value = largest_indicated_runout(relation.allowance, share) / effect.value
            formula = (
                f"TIR = {shown(share)}*{shown(relation.allowance, 1)} um/{shown(effect.value, 3)} = "
                f"{shown(value, 1)} um"
            )
            found.append((value, formula, relation.words))
    if found:
        value, formula, words = min(found)
        return Fact("runout to indicate to", value, "um", formula, _PRACTICE), f"from {words}"
    raw = bearings.axis[visit.number].raw
    error = shop_values.eccentricity(
        bearings.course.operations.shop, Reclamping(visit.name, visit.fitted.means, raw=raw)
    )
    value = 2 * error.value
    formula = f"TIR = 2 e = 2*{shown(error.value, 1)} um = {shown(value, 1)} um"
    reason = "no tolerance crosses into this clamping: as the shop usually trues up"
    if raw:
        reason = "raw skin: trued up so that it cleans up everywhere"
    return Fact("runout to indicate to", value, "um", formula, error.source, True), reason


def face_limit(bearings: Bearings, visit: Visit) -> tuple[Fact, str]:
    """Largest face runout that may be left in a visit, at the rim of its face, and why [um].

    Source: common practice, no source: a third of what the tilt enters

    Parameters
    ----------
    bearings
        The visits.
    visit
        The visit.
    """
    shop = bearings.course.operations.shop
    bearing, share = bearings.face[visit.number], shop.accuracy.indicating_share
    section = bearings.course.context.section
    diameter = (
        section.extent(bearing.feature).outer
        if bearing.feature != BLANK
        else float(bearings.course.operations.part.blank.diameter)
    )
    found: list[tuple[float, str, str]] = []
    for relation in bearings.stakes(visit, "face"):
        effect = of_tilt(relation, 1.0)
        if effect is not None and effect.value > 0:
            value = share * relation.allowance / effect.value * diameter / 1000
            formula = (
                f"TIR = {shown(share)}*{shown(relation.allowance, 1)} um/{shown(effect.value, 4)} m*"
                f"{shown(diameter / 1000, 4)} m = {shown(value, 1)} um"
            )
            found.append((value, formula, relation.words))
    usual = shop_values.tilt(shop, Reclamping(visit.name, visit.fitted.means, raw=bearing.raw))
    least = 1000 * float(shop.accuracy.indicating_limit)
    least = max(LEAST_READING, least)
    value = max(usual.value * diameter / 1000, least)
    formula = (
        f"TIR = w D = {shown(usual.value, 1)} um/m*{shown(diameter / 1000, 4)} m, at least "
        f"{shown(least, 1)} um = {shown(value, 1)} um"
    )
    if found and min(found)[0] < value:
        value, formula, words = min(found)
        return Fact("face runout to indicate to", value, "um", formula, _PRACTICE), f"from {words}"
    reason = "no tolerance asks for more: as the shop usually trues up"
    return Fact("face runout to indicate to", value, "um", formula, usual.source, True), reason
