"""What an end mill leaves in a tooth gap for a smaller one: near the root and in the fillets."""

from __future__ import annotations

import math
from typing import Final

from sequencer.operations.facts import DERIVED
from sequencer.operations.operation import Fact
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import EndMill
from sequencer.units import Mm, shown

#: Slices of a gap when its area is summed up.
_SLICES: Final = 40


def height_reached(teeth: Teeth, diameter: Mm, room: Mm) -> Mm:
    """Give the height above the root down to which a mill fits between the flanks; the depth if nowhere.

    Source: derived

    Parameters
    ----------
    teeth
        The teeth.
    diameter
        Diameter of the mill [mm].
    room
        What stock on both flanks and play take from the gap [mm].
    """
    if teeth.gap_above_root(0.0) - room >= diameter:
        return 0.0
    if teeth.gap_above_root(teeth.depth) - room < diameter:
        return teeth.depth
    low, high = 0.0, teeth.depth
    for _ in range(50):
        middle = (low + high) / 2
        if teeth.gap_above_root(middle) - room < diameter:
            low = middle
        else:
            high = middle
    return high


def rest_area(teeth: Teeth, height: Mm) -> float:
    """Give the area of a gap from its root up to a height, square to the tooth [mm2].

    Source: derived, by Simpson's rule

    Parameters
    ----------
    teeth
        The teeth.
    height
        Height above the root [mm].
    """
    step = height / _SLICES
    widths = [teeth.gap_above_root(step * index) for index in range(_SLICES + 1)]
    inner = 4 * math.fsum(widths[1:-1:2]) + 2 * math.fsum(widths[2:-1:2])
    return (widths[0] + inner + widths[-1]) * step / 3


def rest_below(teeth: Teeth, mill: EndMill, stock: Mm, play: Mm) -> Fact:
    """Give what a mill that is too thick for the root leaves there for a thinner one.

    Source: derived

    Parameters
    ----------
    teeth
        The teeth.
    mill
        The end mill.
    stock
        Stock on each flank [mm].
    play
        Play between mill and gap in all [mm].
    """
    height = height_reached(teeth, float(mill.diameter), 2 * stock + play)
    area = rest_area(teeth, height)
    if height >= teeth.depth:
        words = f"it does not enter the gap, {shown(teeth.gap_above_root(teeth.depth), 2)} mm wide at the tip"
    else:
        left = f"leaves {shown(area, 1)} mm2 of a gap"
        words = f"it reaches down to {shown(height, 2)} mm above the root and {left}"
    return Fact("height left above the root", height, "mm", words, DERIVED)


def fillet_fact(teeth: Teeth, mill: EndMill) -> Fact:
    """Give what the corner of a mill leaves in the root fillets of the basic rack.

    Source: derived: two rounds in the corner of root and flank, 90 deg and the pressure angle apart

    Parameters
    ----------
    teeth
        The teeth.
    mill
        The end mill.
    """
    corner, alpha = float(mill.corner_radius), math.radians(teeth.gear.pressure_angle)
    wanted = teeth.gear.used_root_fillet_factor * teeth.module
    left = max(corner - wanted, 0.0) * (1 / math.sin((math.pi / 2 + alpha) / 2) - 1)
    if left > 0:
        words = (
            f"corner {shown(corner, 2)} mm, fillet of the rack {shown(wanted, 2)} mm: the round starts "
            f"{shown(corner * (1 - math.sin(alpha)), 2)} mm above the root; a mill with a corner of at most "
            f"{shown(wanted, 2)} mm cleans it"
        )
    else:
        words = (
            f"corner {shown(corner, 2)} mm, fillet of the rack {shown(wanted, 2)} mm: it is traced in lines, "
            "nothing is left"
        )
    return Fact("rest in the root fillets", left, "mm", words, DERIVED)
