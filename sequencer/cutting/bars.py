"""Stiffness of boring bars."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative
from sequencer.units import Mm, Newton

#: Young's modulus of steel [N/mm2]; from memory of handbooks.
STEEL_MODULUS: Final = 210_000.0


def overhang_ratio(overhang: Mm, diameter: Mm) -> float:
    """Overhang of a bar in diameters, L / D.

    Source: common practice, no source; 4 for steel, up to 10 for damped bars.

    Parameters
    ----------
    overhang
        Free length from holder to edge [mm].
    diameter
        Diameter of the bar [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("boring bar", overhang=overhang, diameter=diameter)
    return overhang / diameter


def bar_deflection(force: Newton, overhang: Mm, diameter: Mm, modulus: float = STEEL_MODULUS) -> Mm:
    """How far the edge of a round bar yields, y = 64 F L^3 / (3 pi E D^4).

    Source: beam fixed at one end, strength of materials; y = F L^3 / (3 E I) with I = pi D^4 / 64.

    Parameters
    ----------
    force
        Force across the bar [N].
    overhang
        Free length from holder to edge [mm].
    diameter
        Diameter of the bar [mm].
    modulus
        Young's modulus [N/mm2].

    Raises
    ------
    OutOfRange
        When the force is negative or another value not above 0.
    """
    not_negative("boring bar", force=force)
    above_zero("boring bar", overhang=overhang, diameter=diameter, modulus=modulus)
    return 64 * force * overhang**3 / (3 * math.pi * modulus * diameter**4)
