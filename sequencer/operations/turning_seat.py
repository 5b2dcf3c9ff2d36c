"""How a surface lies for a turning tool from above, and which tools are of the right kind for it."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.operations.attempt import Attempt
from sequencer.operations.operation import Stage
from sequencer.operations.proud import SLIGHT
from sequencer.operations.stock import Surface, TurnStage
from sequencer.shop.tools import TurningTool
from sequencer.units import Mm


@dataclass(frozen=True)
class Seat:
    """How a surface lies for a tool from above.

    Parameters
    ----------
    inside
        True if the tool goes into a bore.
    opening
        Narrowest diameter that the tool passes; 0 outside [mm].
    depth
        From the top of the part to the far end [mm].
    """

    inside: bool
    opening: Mm
    depth: Mm


def seat_of(attempt: Attempt, surface: Surface, step: TurnStage) -> Seat:
    """Give how a surface lies in a clamping for a tool from above.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    surface
        The surface.
    step
        The stage of its turning.
    """
    view = attempt.standing.view
    high = view.ends(surface.z_from, surface.z_to)[1]
    above = view.narrowest_above(high)
    opening = above.diameter if above is not None else float("inf")
    inside = surface.place == "inside"
    if surface.place == "face":
        # A ring that lies inside everything above it is faced with a boring bar.
        inside = above is not None and surface.outer <= opening and high < view.top - SLIGHT
    if surface.place == "inside":
        opening = min(opening, surface.diameter_at(step.left + step.removed))
    depth = view.depth(surface.z_from, surface.z_to)
    return Seat(inside, opening if inside else 0.0, depth)


def right_kind(tool: TurningTool, surface: Surface, step: TurnStage, seat: Seat) -> bool:
    """Tell tools for this place and stage; hard surfaces need CBN or ceramic, soft ones no CBN.

    Parameters
    ----------
    tool
        The tool.
    surface
        The surface.
    step
        The stage of its turning.
    seat
        How the surface lies.
    """
    if surface.place == "face":
        # A boring bar faces inside a bore; on an open face it would only hang out far for nothing.
        bar = "inside" in tool.use and "outside" not in tool.use
        right_use = "face" in tool.use and ("inside" in tool.use if seat.inside else not bar)
    else:
        right_use = surface.place in tool.use
    hard_edge = tool.material in ("CBN", "ceramic")
    right_edge = hard_edge if step.stage is Stage.HARD else tool.material != "CBN"
    return right_use and right_edge and step.table_stage in tool.stage
