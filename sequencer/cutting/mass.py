"""Volume, mass and inertia of turned bodies, and the time to bring them up to speed."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative, within
from sequencer.units import Kg, Kilowatt, Minutes, Mm, NewtonMetre, Rpm

#: Density of steel [kg/mm3].
STEEL_DENSITY: Final = 7.85e-6


def cylinder_volume(diameter: Mm, length: Mm) -> float:
    """Volume of a cylinder [mm3], pi D^2 L / 4.

    Source: geometry.

    Parameters
    ----------
    diameter
        Diameter [mm].
    length
        Length [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    return ring_volume(diameter, 0.0, length)


def ring_volume(outer_diameter: Mm, inner_diameter: Mm, length: Mm) -> float:
    """Volume of a ring [mm3], pi (D^2 - d^2) L / 4.

    Source: geometry.

    Parameters
    ----------
    outer_diameter
        Outer diameter [mm].
    inner_diameter
        Inner diameter; 0 for a cylinder [mm].
    length
        Length [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the inner diameter not below the outer.
    """
    above_zero("ring", outer_diameter=outer_diameter, length=length)
    within("ring", 0.0, outer_diameter, inner_diameter=inner_diameter)
    return math.pi / 4 * (outer_diameter**2 - inner_diameter**2) * length


def cone_volume(diameter_1: Mm, diameter_2: Mm, length: Mm) -> float:
    """Volume of a cone frustum [mm3], pi L (D1^2 + D1 D2 + D2^2) / 12.

    Source: geometry.

    Parameters
    ----------
    diameter_1
        Diameter at one end [mm].
    diameter_2
        Diameter at the other end; 0 for a full cone [mm].
    length
        Length [mm].

    Raises
    ------
    OutOfRange
        When a diameter is negative or the length not above 0.
    """
    above_zero("cone", length=length)
    not_negative("cone", diameter_1=diameter_1, diameter_2=diameter_2)
    return math.pi / 12 * length * (diameter_1**2 + diameter_1 * diameter_2 + diameter_2**2)


def mass(volume: float, density: float = STEEL_DENSITY) -> Kg:
    """Mass of a volume, rho V.

    Source: physics; density of steel 7.85 kg/dm3.

    Parameters
    ----------
    volume
        Volume [mm3].
    density
        Density [kg/mm3].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("mass", volume=volume, density=density)
    return volume * density


def ring_inertia(part_mass: Kg, outer_diameter: Mm, inner_diameter: Mm = 0.0) -> float:
    """Moment of inertia of a ring about its axis [kg m2], m (D^2 + d^2) / 8.

    Source: physics.

    Parameters
    ----------
    part_mass
        Mass [kg].
    outer_diameter
        Outer diameter [mm].
    inner_diameter
        Inner diameter; 0 for a cylinder [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the inner diameter above the outer.
    """
    above_zero("inertia", mass=part_mass, outer_diameter=outer_diameter)
    within("inertia", 0.0, outer_diameter, inner_diameter=inner_diameter)
    return part_mass * (outer_diameter**2 + inner_diameter**2) / 8e6


def cone_inertia(diameter_1: Mm, diameter_2: Mm, length: Mm, density: float = STEEL_DENSITY) -> float:
    """Moment of inertia of a cone frustum about its axis [kg m2], pi rho L sum(D1^i D2^(4-i)) / 160.

    Source: derived; integral of pi rho r^4 / 2 along the axis with r linear.

    Parameters
    ----------
    diameter_1
        Diameter at one end [mm].
    diameter_2
        Diameter at the other end [mm].
    length
        Length [mm].
    density
        Density [kg/mm3].

    Raises
    ------
    OutOfRange
        When a diameter is negative or length or density not above 0.
    """
    above_zero("inertia", length=length, density=density)
    not_negative("inertia", diameter_1=diameter_1, diameter_2=diameter_2)
    fourth = math.fsum(diameter_1**i * diameter_2 ** (4 - i) for i in range(5))
    return math.pi * density * length * fourth / 160 / 1e6


def acceleration_time(
    inertia: float, rpm: Rpm, drive_torque: NewtonMetre, power: Kilowatt = math.inf
) -> Minutes:
    """Time to bring a table with its part up to speed with a torque, and from the knee on with a power.

    Source: physics; J w / M up to w_k = P / M, beyond it J (w^2 - w_k^2) / (2 P).

    Parameters
    ----------
    inertia
        Moment of inertia of all that turns [kg m2].
    rpm
        Revolutions to be reached [1/min].
    drive_torque
        Greatest torque of the drive, less friction [N m].
    power
        Greatest power of the drive; infinite when torque alone decides [kW].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("acceleration", inertia=inertia, rpm=rpm, drive_torque=drive_torque)
    within("acceleration", 1e-6, math.inf, "Give the power of the drive", power=power)
    turn = 2 * math.pi * rpm / 60
    knee = min(turn, 1000 * power / drive_torque)
    seconds = inertia * knee / drive_torque
    if turn > knee:
        seconds += inertia * (turn**2 - knee**2) / (2000 * power)
    return seconds / 60
