"""Shifting a hob along its axis, and the life of its teeth by length of teeth cut."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.units import Deg, Mm


def shift_range(length: Mm, generating_half_length: Mm, module: Mm) -> Mm:
    """Length over which a hob can be shifted, l_s = l_0 - 2 (l + m_n), or 0 where it is too short.

    Source: derived; both flanks are generated within l to both sides of the crossing point, one module more
    on each side is for the incomplete teeth at the hob ends (common practice, no source).

    Parameters
    ----------
    length
        Length of the toothed part of the hob, l_0 [mm].
    generating_half_length
        Half the length that generates the flanks, l [mm].
    module
        Normal module [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("hob shift", length=length, generating_half_length=generating_half_length, module=module)
    return max(length - 2 * (generating_half_length + module), 0.0)


def edges_in_use(gashes: int, length: Mm, module: Mm, lead_angle: Deg) -> float:
    """Number of hob teeth over a length of the hob, n = i l cos(gamma) / (pi m_n).

    Source: hob makers' computations of tool life, from memory; derived: one tooth of each gash for each
    axial pitch pi m_n / cos(gamma).

    Parameters
    ----------
    gashes
        Gashes of the hob, i [-].
    length
        Length of the hob that is looked at [mm].
    module
        Normal module [mm].
    lead_angle
        Lead angle of the hob [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the lead angle outside 0 to 60 deg.
    """
    one_or_more("hob teeth", gashes=gashes)
    above_zero("hob teeth", length=length, module=module)
    within("hob teeth", 0.0, 60.0, lead_angle=lead_angle)
    return gashes * length * math.cos(math.radians(lead_angle)) / (math.pi * module)


def metres_for_each_edge(tooth_metres: float, edges: float) -> float:
    """Length of gear teeth that one hob tooth cuts when all wear evenly, L / n [m].

    Source: hob makers' computations of tool life, from memory.

    Parameters
    ----------
    tooth_metres
        Length of all gear teeth between two regrinds [m].
    edges
        Hob teeth that share them [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("metres for a hob tooth", tooth_metres=tooth_metres, edges=edges)
    return tooth_metres / edges


def even_shift(shift_length: Mm, tooth_metres: float, life_metres: float) -> Mm:
    """Shift after one gear that wears all hob teeth evenly until the regrind, l_s L_gear / L_life.

    Source: derived; over the life of an edge the hob is shifted once along its whole range.

    Parameters
    ----------
    shift_length
        Length over which the hob can be shifted [mm].
    tooth_metres
        Length of the teeth of one gear [m].
    life_metres
        Length of teeth that the hob cuts between two regrinds [m].

    Raises
    ------
    OutOfRange
        When a length of teeth is not above 0 or the shift negative.
    """
    not_negative("hob shift", shift_length=shift_length)
    above_zero("hob shift", tooth_metres=tooth_metres, life_metres=life_metres)
    return shift_length * min(tooth_metres / life_metres, 1.0)
