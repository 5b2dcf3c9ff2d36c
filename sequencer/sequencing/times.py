"""Times between steps, and how the engine counts them."""

from __future__ import annotations

from typing import Final

from sequencer.operations import Alternative, OperationList
from sequencer.shop.pocket_limits import goes_by_hand
from sequencer.units import Minutes

#: The engine counts time in hundredths of a minute.
UNITS_PER_MINUTE: Final = 100


def to_units(minutes: Minutes) -> int:
    """Round minutes to the engine's whole units.

    Parameters
    ----------
    minutes
        Time [min].
    """
    return round(minutes * UNITS_PER_MINUTE)


def to_minutes(units: int) -> Minutes:
    """Give the engine's units in minutes.

    Parameters
    ----------
    units
        Time in hundredths of a minute.
    """
    return units / UNITS_PER_MINUTE


def positioning_minutes(alternative: Alternative, positioning: Minutes) -> Minutes:
    """Time to move to the feature; work without a tool needs none.

    Parameters
    ----------
    alternative
        The alternative.
    positioning
        Mean positioning time of the machine [min].
    """
    return positioning if alternative.tool else 0.0


def tool_change_minutes(operations: OperationList, tool: str) -> Minutes:
    """Time of changing to a tool: quicker, heavy, or by hand.

    Parameters
    ----------
    operations
        Operations with their shop.
    tool
        Name of the tool.
    """
    times, magazine = operations.shop.machine.times, operations.shop.magazine
    chosen = operations.shop.tool_by_name[tool]
    if goes_by_hand(chosen, magazine):
        return times.manual_tool_change
    return times.heavy_tool_change if chosen.mass >= magazine.heavy_from else times.chip_to_chip
