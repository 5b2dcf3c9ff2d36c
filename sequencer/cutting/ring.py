"""A thin ring pressed by equal jaws: how far it gives way, and how far from round it is after release."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting._ranges import above_zero, within
from sequencer.units import Micrometre, Mm, Newton

#: Young's modulus of steel [N/mm2]; from memory of handbooks.
STEEL_MODULUS: Final = 206_000.0


def inward_at_jaw(force: Newton, radius: Mm, stiffness: float, jaws: int) -> Mm:
    """Radial movement of a thin ring under each of n equal radial forces [mm].

    Source: S. Timoshenko, Strength of Materials, part II, thin rings (from memory); with a = pi/n
    w = F R^3/(2 E I) (a/(2 sin^2 a) + cot(a)/2 - 1/a), against the forces; bending only, ring inextensible

    Parameters
    ----------
    force
        Force of one jaw [N].
    radius
        Radius of the centre line of the ring's section [mm].
    stiffness
        Young's modulus times second moment of area, E I [N mm2].
    jaws
        Number of jaws, evenly spaced [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or there are fewer than 2 jaws.
    """
    half = _half_angle(force, radius, stiffness, jaws)
    shape = half / (2 * math.sin(half) ** 2) + 1 / (2 * math.tan(half)) - 1 / half
    return force * radius**3 / (2 * stiffness) * shape


def outward_between_jaws(force: Newton, radius: Mm, stiffness: float, jaws: int) -> Mm:
    """Radial movement of a thin ring midway between n equal radial forces, away from their side [mm].

    Source: S. Timoshenko, Strength of Materials, part II, thin rings (from memory); with a = pi/n
    w = F R^3/(4 E I) (2/a - 1/sin a - a cos a/sin^2 a); bending only, ring inextensible

    Parameters
    ----------
    force
        Force of one jaw [N].
    radius
        Radius of the centre line of the ring's section [mm].
    stiffness
        Young's modulus times second moment of area, E I [N mm2].
    jaws
        Number of jaws, evenly spaced [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or there are fewer than 2 jaws.
    """
    half = _half_angle(force, radius, stiffness, jaws)
    shape = 2 / half - 1 / math.sin(half) - half * math.cos(half) / math.sin(half) ** 2
    return force * radius**3 / (4 * stiffness) * shape


def roundness_after_release(force: Newton, radius: Mm, stiffness: float, jaws: int) -> Micrometre:
    """Roundness deviation of a ring that was turned round under jaws and springs back [um].

    Source: derived; the ring takes the shape of its movement under the jaws, turned inside out: the sum of
    the movement at a jaw and between two

    Parameters
    ----------
    force
        Force of one jaw [N].
    radius
        Radius of the centre line of the ring's section [mm].
    stiffness
        Young's modulus times second moment of area, E I [N mm2].
    jaws
        Number of jaws, evenly spaced [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or there are fewer than 2 jaws.
    """
    at = inward_at_jaw(force, radius, stiffness, jaws)
    return 1000 * (at + outward_between_jaws(force, radius, stiffness, jaws))


def force_for_roundness(deviation: Micrometre, radius: Mm, stiffness: float, jaws: int) -> Newton:
    """Largest force of all jaws together that keeps a ring within a roundness deviation [N].

    Source: derived; the deviation grows in proportion to the force

    Parameters
    ----------
    deviation
        Roundness deviation that is allowed [um].
    radius
        Radius of the centre line of the ring's section [mm].
    stiffness
        Young's modulus times second moment of area, E I [N mm2].
    jaws
        Number of jaws, evenly spaced [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or there are fewer than 2 jaws.
    """
    above_zero("force of the jaws", deviation=deviation)
    return jaws * deviation / roundness_after_release(1.0, radius, stiffness, jaws)


def _half_angle(force: Newton, radius: Mm, stiffness: float, jaws: int) -> float:
    """Half the angle between two jaws [rad]."""
    above_zero("ring under jaws", force=force, radius=radius, stiffness=stiffness)
    within("ring under jaws", 2, math.inf, jaws=jaws)
    return math.pi / jaws
