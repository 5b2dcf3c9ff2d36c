"""Straps of a face plate: one set on the rim, one through the bore, changed without moving the part."""

from __future__ import annotations

from typing import Final

from sequencer.operations.facts import diameter_words, mm
from sequencer.operations.standing import Standing
from sequencer.part import AnyFeature
from sequencer.part.profile import SAME
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Face
from sequencer.units import Mm

#: Narrowest bore that straps or a draw bolt with its washer go through [mm]; common practice, no source.
LEAST_BORE: Final[Mm] = 40.0

#: Length by which straps reach over the rim of a part [mm]; common practice, no source.
STRAP: Final[Mm] = 25.0


def under_straps(standing: Standing, feature: AnyFeature) -> str:
    """Say how straps that can only stand on the rim cover a feature; empty if they do not.

    With a bore wide enough a second set goes through it, so that the rim is free while the inside is
    covered, and the other way round.

    Source: common practice, no source

    Parameters
    ----------
    standing
        The part in the clamping.
    feature
        Feature of the part.
    """
    if standing.clamping.hold != "face plate":
        return ""
    bore = min(min(piece.lower, piece.upper) for piece in standing.section.inside.pieces)
    if bore >= LEAST_BORE:
        return ""
    rim = max(max(piece.lower, piece.upper) for piece in standing.section.outside.pieces) - 2 * STRAP
    extent = standing.section.extent(feature.name)
    covered = place_of(feature) == "outside"
    if isinstance(feature, Face):
        top = abs(standing.view.height(float(feature.z)) - standing.view.top) < SAME
        covered = top and extent.outer > rim
    if not covered:
        return ""
    hole = f"a bore of {diameter_words(bore)}" if bore > 0 else "no bore"
    return f"the straps stand on the rim: {hole} takes no second set, {mm(LEAST_BORE)} are needed"
