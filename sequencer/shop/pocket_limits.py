"""What of a tool is over the limits of the magazine, so that it is loaded by hand."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.shop.magazine import Magazine, Opening
from sequencer.shop.tools import Tool
from sequencer.units import NewtonMetre, shown

#: Standard acceleration of gravity, ISO 80000-3, rounded [m/s2].
GRAVITY: Final = 9.81


def tilting_moment(tool: Tool) -> NewtonMetre:
    """Moment of a tool's weight about the gauge line [N m].

    Source: statics; centre of mass at half the functional length where it is not given.

    Parameters
    ----------
    tool
        Tool with mass and centre of mass.
    """
    lever = tool.centre_of_mass if tool.centre_of_mass > 0 else tool.functional_length / 2
    return tool.mass * GRAVITY * lever / 1000


def excesses(tool: Tool, magazine: Magazine) -> tuple[str, ...]:
    """Say what of a tool is over the limits of the magazine, each limit with both numbers.

    Source: derived

    Parameters
    ----------
    tool
        The tool.
    magazine
        The magazine.
    """
    checks = (
        ("diameter", tool.body_diameter, magazine.diameter_free, "mm"),
        ("length", tool.overall_length, magazine.length, "mm"),
        ("mass", tool.mass, magazine.tool_mass, "kg"),
        ("tilting moment", tilting_moment(tool), magazine.tilting_moment, "N m"),
    )
    over = [
        f"{name} {shown(value, 1)} {unit}, the magazine takes {shown(limit, 1)} {unit}"
        for name, value, limit, unit in checks
        if value > limit
    ]
    over += _opening("door", tool, magazine.door)
    over += _opening("load station", tool, magazine.load_station)
    return tuple(over)


def _opening(name: str, tool: Tool, opening: Opening | None) -> Iterator[str]:
    if opening is None:
        return
    checks = (
        ("diameter", tool.body_diameter, opening.diameter, "mm"),
        ("length", tool.overall_length, opening.length, "mm"),
        ("mass", tool.mass, opening.mass, "kg"),
    )
    for what, value, limit, unit in checks:
        if limit is not None and value > limit:
            yield f"{what} {shown(value, 1)} {unit}, the {name} takes {shown(limit, 1)} {unit}"


def goes_by_hand(tool: Tool, magazine: Magazine) -> bool:
    """Whether a tool is loaded by hand: marked so, or over a limit of the magazine.

    Source: derived

    Parameters
    ----------
    tool
        The tool.
    magazine
        The magazine.
    """
    return tool.by_hand or bool(excesses(tool, magazine))
