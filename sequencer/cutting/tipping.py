"""Whether a part tips: the moment of a cutting force high up against weight and clamping."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative, within
from sequencer.units import Kg, Mm, Newton, NewtonMetre

#: Acceleration of free fall [m/s2]; standard value of the SI.
GRAVITY: Final = 9.80665


def moment_of_weight(mass: Kg, seat_diameter: Mm) -> NewtonMetre:
    """Moment that the weight sets against tipping over the rim of its seat, m g D/2 [N m].

    Source: physics

    Parameters
    ----------
    mass
        Mass of the part [kg].
    seat_diameter
        Diameter of the seat that it stands on [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("tipping", mass=mass, seat_diameter=seat_diameter)
    return mass * GRAVITY * seat_diameter / 2000


def moment_of_jaws(force: Newton, friction: float, grip_diameter: Mm) -> NewtonMetre:
    """Moment that the friction of jaws sets against tipping, mu F D/pi [N m].

    Source: derived; mean over the rim of F mu D/2 |cos|: friction along the axis, up on one side and down on
    the other

    Parameters
    ----------
    force
        Force of all jaws together [N].
    friction
        Coefficient of friction [-].
    grip_diameter
        Diameter that they grip [mm].

    Raises
    ------
    OutOfRange
        When a value is negative, the diameter not above 0 or the friction above 1.
    """
    not_negative("tipping", force=force)
    above_zero("tipping", grip_diameter=grip_diameter)
    within("tipping", 0.0, 1.0, friction=friction)
    return friction * force * grip_diameter / (1000 * math.pi)


def moment_of_bolts(force: Newton, circle_diameter: Mm) -> NewtonMetre:
    """Moment that bolts or straps set against tipping over the rim of their circle, F D/2 [N m].

    Source: physics; equal bolts on a circle pull like one in its middle

    Parameters
    ----------
    force
        Force of all bolts together [N].
    circle_diameter
        Diameter of their circle [mm].

    Raises
    ------
    OutOfRange
        When the force is negative or the diameter not above 0.
    """
    not_negative("tipping", force=force)
    above_zero("tipping", circle_diameter=circle_diameter)
    return force * circle_diameter / 2000


def force_before_tipping(moment: NewtonMetre, height: Mm, safety: float) -> Newton:
    """Largest sideways force at a height above the seat or the grip that does not tip the part [N].

    Source: physics; F = M/(S h)

    Parameters
    ----------
    moment
        Moment set against tipping [N m].
    height
        Height of the force above the edge that the part would tip over [mm].
    safety
        Safety factor, S [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the safety below 1.
    """
    above_zero("tipping", moment=moment, height=height)
    within("tipping", 1.0, 10.0, safety=safety)
    return 1000 * moment / (safety * height)
