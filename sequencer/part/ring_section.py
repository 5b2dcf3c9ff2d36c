"""The part as a bent ring: centre line, thickness and second moment of its half-section."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sequencer.part.profile import SAME
from sequencer.part.stages import StageBody
from sequencer.units import Mm


@dataclass(frozen=True)
class RingSection:
    """Half-section of a ring for bending in its plane.

    Parameters
    ----------
    radius
        Radius of the centre of area [mm].
    area
        Area [mm2].
    second_moment
        Second moment of area about the line through its centre along the axis [mm4].
    thickness
        Largest radial thickness [mm].
    """

    radius: Mm
    area: float
    second_moment: float
    thickness: Mm


def ring_section(body: StageBody) -> RingSection | None:
    """Give the half-section for bending; None if the part is solid anywhere. Teeth count from the root.

    Source: derived; sum over the stretches between all ends, each with its mean diameters

    Parameters
    ----------
    body
        The part with what is cut so far.
    """
    strips: list[tuple[Mm, Mm, Mm]] = []
    ends = sorted(
        {end for piece in (*body.outside.pieces, *body.inside.pieces) for end in (piece.z_from, piece.z_to)}
    )
    for low, high in pairwise(ends):
        if high - low <= SAME:
            continue
        middle = (low + high) / 2
        outer = min((piece.root(middle) for piece in body.outside.at(middle)), default=0.0) / 2
        inner = max((piece.root(middle) for piece in body.inside.at(middle)), default=0.0) / 2
        if inner <= 0:
            return None
        if outer > inner:
            strips.append((high - low, inner, outer))
    area = sum(height * (outer - inner) for height, inner, outer in strips)
    if area <= 0:
        return None
    radius = sum(height * (outer**2 - inner**2) / 2 for height, inner, outer in strips) / area
    second = sum(
        height * ((outer - radius) ** 3 - (inner - radius) ** 3) / 3 for height, inner, outer in strips
    )
    return RingSection(radius, area, second, max(outer - inner for _, inner, outer in strips))
