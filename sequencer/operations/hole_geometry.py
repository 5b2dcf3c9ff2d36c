"""Holes as they stand in a clamping: depth, what is beside them and below them, what the head needs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.operations.attempt import Attempt
from sequencer.operations.facts import mm
from sequencer.operations.head import inside_fault, level_fault
from sequencer.part import BLANK
from sequencer.part.extents import hole_depth
from sequencer.part.milled import BoltCircle
from sequencer.part.profile import SAME
from sequencer.part.surfaces import place_of
from sequencer.shop import AnyTool
from sequencer.units import Mm

#: Path of a tool behind a through hole [mm]; common practice, no source.
OVERRUN: Final[Mm] = 2.0

#: The same where the hole ends in stock that is faced off later [mm]; common practice, no source.
INTO_STOCK: Final[Mm] = 0.5


@dataclass(frozen=True)
class Hole:
    """One hole of a bolt circle in a clamping.

    Parameters
    ----------
    depth
        Depth at full diameter [mm].
    through
        True if it breaks through.
    air
        Free height below the exit of a through hole, stock that is faced off later counted; infinite for a
        blind one [mm].
    overrun
        Path of the full diameter behind the exit [mm].
    """

    depth: Mm
    through: bool
    air: Mm
    overrun: Mm


def hole_in(attempt: Attempt, holes: BoltCircle) -> Hole:
    """Give one hole of a bolt circle as it stands.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle.
    """
    depth = hole_depth(attempt.context.section, holes)
    through = holes.depth is None
    if not through or holes.direction == "radial":
        return Hole(depth, through, float("inf"), OVERRUN if through else 0.0)
    standing, extent = attempt.standing, attempt.context.section.extent(holes.name)
    low = standing.view.ends(extent.z_from, extent.z_to)[0]
    air = low - standing.view.bottom + standing.air_below
    if standing.clamping.rests_on == BLANK:
        # The raw face below is cut off later; until then the hole may end in its stock.
        return Hole(depth, True, air + standing.stock_below, INTO_STOCK)
    return Hole(depth, True, air, OVERRUN)


def hole_fault(
    attempt: Attempt, holes: BoltCircle, tool: AnyTool, reach: Mm, needed: Mm, below: Mm = 0.0
) -> tuple[str, str] | None:
    """Say why a tool does not get down a hole: too short, a wall in the way, no air below, head in the way.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle.
    tool
        The tool.
    reach
        Its usable length [mm].
    needed
        Length that it goes into the hole, point and overrun included [mm].
    below
        Length that it stands out below a through hole [mm].
    """
    if hole_in(attempt, holes).depth <= 0:
        where = (
            f"circle diameter {mm(holes.circle_diameter)}"
            if holes.circle_diameter
            else f"z {mm(float(holes.z or 0.0))}"
        )
        return f"there is no material at {where}", "check the place of the holes"
    wall = wall_beside(attempt, holes, tool)
    if needed + wall > reach + 1e-6:
        beside = f" and a wall of {mm(wall)} beside it" if wall > 0 else ""
        return (
            f"needs {mm(needed + wall)}: {mm(needed)} in the hole{beside}; the tool reaches {mm(reach)}",
            f"a tool with a usable length of {mm(needed + wall)}",
        )
    air = hole_in(attempt, holes).air
    if below > air:
        return (
            f"breaks through {mm(below)} below the part, there are {mm(air)} of air",
            f"a riser of at least {mm(below - air + attempt.standing.air_below)}",
        )
    return head_fault(attempt, holes, tool)


def head_fault(attempt: Attempt, holes: BoltCircle, tool: AnyTool) -> tuple[str, str] | None:
    """Say why the level head does not drill radial holes; None for axial ones.

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle.
    tool
        The tool in the head.
    """
    if holes.direction == "axial":
        return None
    carrier = attempt.context.part.by_name.get(holes.on)
    extent = attempt.context.section.extent(holes.name)
    if carrier is not None and place_of(carrier) == "inside":
        return inside_fault(attempt, tool, extent.inner, extent.z_from, extent.z_to)
    return level_fault(attempt, tool, float(holes.z or 0.0))


def wall_beside(attempt: Attempt, holes: BoltCircle, tool: AnyTool) -> Mm:
    """Height of a wall that the body of a tool cannot pass beside a hole [mm].

    Source: derived

    Parameters
    ----------
    attempt
        The bolt circle in the clamping.
    holes
        The bolt circle.
    tool
        The tool with its body diameter.
    """
    radius, section = float(tool.body_diameter) / 2, attempt.context.section
    if holes.direction == "axial":
        extent, view = section.extent(holes.name), attempt.standing.view
        height = view.ends(extent.z_from, extent.z_to)[1]
        return view.wall_beside(height, float(holes.circle_diameter or 0.0), radius)
    z, surface = float(holes.z or 0.0), section.extent(holes.name).outer
    carrier = attempt.context.part.by_name.get(holes.on)
    if carrier is None or place_of(carrier) == "inside":
        return 0.0
    near = section.outside.between(z - radius, z + radius)
    proud = max((max(piece.lower, piece.upper) for piece in near), default=surface) - surface
    return proud / 2 if proud > SAME else 0.0
