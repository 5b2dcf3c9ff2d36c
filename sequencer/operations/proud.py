"""What stands proud above a surface and hides it from a tool that comes from above."""

from __future__ import annotations

from typing import Final

from sequencer.operations.standing import Standing
from sequencer.part import BLANK
from sequencer.shop.tools import GroovingTool
from sequencer.units import Mm

#: A surface that stands less proud than this does not hide what lies behind it [mm].
SLIGHT: Final[Mm] = 0.5


def deepest_blade(standing: Standing, place: str) -> Mm:
    """Deepest groove that a blade of the shop cuts outside or inside [mm].

    Parameters
    ----------
    standing
        The part in the clamping.
    place
        "outside" or "inside".
    """
    blades = [tool for tool in standing.shop.tools if isinstance(tool, GroovingTool)]
    return max((float(tool.depth) for tool in blades if place in tool.use), default=0.0)


def overhang(standing: Standing, z_from: Mm, z_to: Mm, diameter: Mm, inside: bool) -> tuple[Mm, Mm, str]:
    """How far material above a zone stands proud of its surface: per side, its diameter and feature.

    Source: derived

    Parameters
    ----------
    standing
        The part in the clamping.
    z_from, z_to
        Ends of the zone [mm].
    diameter
        Diameter of the surface [mm].
    inside
        Whether the surface lies inside.
    """
    high = standing.view.ends(z_from, z_to)[1]
    edge = standing.view.narrowest_above(high) if inside else standing.view.widest_above(high)
    if edge is None:
        return 0.0, diameter, ""
    proud = (diameter - edge.diameter) / 2 if inside else (edge.diameter - diameter) / 2
    return max(0.0, proud), edge.diameter, edge.feature


def name_words(feature: str) -> str:
    """Name of what stands in the way, for a sentence.

    Parameters
    ----------
    feature
        Name of a feature, or of the blank.
    """
    return "the raw blank" if feature in ("", BLANK) else feature
