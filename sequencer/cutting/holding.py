"""Holding by jaws: force at speed, permissible speed, gripping torque.

The sheets that use these numbers defer to the limits of chuck and machine makers and to local rules.
"""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Kg, Mm, Newton, NewtonMetre, Rpm

#: Greatest share of the jaw force at rest that centrifugal force may take (DIN EN 1550).
LARGEST_CENTRIFUGAL_SHARE: Final = 0.67

#: Least safety factors for the cutting force, S_z, and for the jaw force, S_sp (VDI 3106).
LEAST_SAFETY: Final = 1.5


def jaw_moment(mass: Kg, radius: Mm) -> float:
    """Centrifugal moment of one jaw, m r [kg m].

    Source: VDI 3106 as quoted in chuck manuals.

    Parameters
    ----------
    mass
        Mass of the jaw [kg].
    radius
        Radius of its centre of gravity [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("jaw moment", mass=mass, radius=radius)
    return mass * radius / 1000


def centrifugal_force(moment_sum: float, rpm: Rpm) -> Newton:
    """Centrifugal force of all jaws, F_c = sum(m r) (pi n / 30)^2.

    Source: VDI 3106 as quoted in chuck manuals.

    Parameters
    ----------
    moment_sum
        Sum of the centrifugal moments of all jaws [kg m].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is negative.
    """
    not_negative("centrifugal force", moment_sum=moment_sum, rpm=rpm)
    return moment_sum * (math.pi * rpm / 30) ** 2


def force_at_speed(
    force_at_rest: Newton, moment_sum: float, rpm: Rpm, inside: bool, safety: float = LEAST_SAFETY
) -> Newton:
    """Jaw force that is surely left at speed, F_0 / S_sp - F_c outside, F_0 / S_sp + F_c gripped inside.

    Source: VDI 3106 as quoted in chuck manuals; centrifugal force opens jaws that grip outside and presses
    on those that grip inside.

    Parameters
    ----------
    force_at_rest
        Sum of the jaw forces at rest, F_0 [N].
    moment_sum
        Sum of the centrifugal moments of all jaws [kg m].
    rpm
        Revolutions [1/min].
    inside
        Whether the jaws grip in a bore, pressing outwards [-].
    safety
        Safety factor of the jaw force, S_sp [-].

    Raises
    ------
    OutOfRange
        When a force or moment is negative, or the safety factor below 1.
    """
    not_negative("jaw force", force_at_rest=force_at_rest)
    within("jaw force", 1.0, 10.0, safety=safety)
    change = centrifugal_force(moment_sum, rpm)
    return force_at_rest / safety + (change if inside else -change)


def force_needed_at_rest(
    force_for_cutting: Newton,
    moment_sum: float,
    rpm: Rpm,
    inside: bool,
    safety_cutting: float = LEAST_SAFETY,
    safety_jaws: float = LEAST_SAFETY,
) -> Newton:
    """Sum of jaw forces to be set at rest, F_0 = S_sp (S_z F_cut + F_c) outside, S_sp (S_z F_cut) inside.

    Source: VDI 3106 as quoted in chuck manuals; the help of centrifugal force inside is left out, because
    the part must also be held while it starts and stops.

    Parameters
    ----------
    force_for_cutting
        Jaw force that the cut needs, without safety [N].
    moment_sum
        Sum of the centrifugal moments of all jaws [kg m].
    rpm
        Revolutions [1/min].
    inside
        Whether the jaws grip in a bore, pressing outwards [-].
    safety_cutting
        Safety factor of the cutting force, S_z [-].
    safety_jaws
        Safety factor of the jaw force, S_sp [-].

    Raises
    ------
    OutOfRange
        When a force or moment is negative, or a safety factor below 1.
    """
    not_negative("jaw force", force_for_cutting=force_for_cutting)
    within("jaw force", 1.0, 10.0, safety_cutting=safety_cutting, safety_jaws=safety_jaws)
    opening = 0.0 if inside else centrifugal_force(moment_sum, rpm)
    return safety_jaws * (safety_cutting * force_for_cutting + opening)


def permissible_rpm(
    force_at_rest: Newton,
    force_for_cutting: Newton,
    moment_sum: float,
    safety_cutting: float = LEAST_SAFETY,
    safety_jaws: float = LEAST_SAFETY,
) -> Rpm:
    """Highest revolutions of jaws that grip outside, 30/pi sqrt((F_0/S_sp - S_z F_cut) / sum(m r)).

    Source: VDI 3106 as quoted in chuck manuals, the safe form with S_sp; some manuals leave S_sp out. The
    centrifugal force is also held to 67 percent of the force at rest (DIN EN 1550).

    Parameters
    ----------
    force_at_rest
        Sum of the jaw forces at rest, F_0 [N].
    force_for_cutting
        Jaw force that the cut needs, without safety [N].
    moment_sum
        Sum of the centrifugal moments of all jaws [kg m].
    safety_cutting
        Safety factor of the cutting force, S_z [-].
    safety_jaws
        Safety factor of the jaw force, S_sp [-].

    Raises
    ------
    OutOfRange
        When the force at rest does not hold the cut even standing still, a value is not above 0 or a safety
        factor below 1.
    """
    where = "permissible speed of the jaws"
    above_zero(where, force_at_rest=force_at_rest, moment_sum=moment_sum)
    not_negative(where, force_for_cutting=force_for_cutting)
    within(where, 1.0, 10.0, safety_cutting=safety_cutting, safety_jaws=safety_jaws)
    spare = force_at_rest / safety_jaws - safety_cutting * force_for_cutting
    if spare <= 0:
        raise OutOfRange(
            f"jaw force {force_at_rest:.0f} N at rest does not hold the cut",
            where=where,
            limit=f"above {safety_jaws * safety_cutting * force_for_cutting:.0f} N",
            remedy="Raise the jaw force or lower the cutting force",
        )
    opening = min(spare, LARGEST_CENTRIFUGAL_SHARE * force_at_rest)
    return 30 / math.pi * math.sqrt(opening / moment_sum)


def centrifugal_share(force_at_rest: Newton, moment_sum: float, rpm: Rpm) -> float:
    """Share of the jaw force at rest that centrifugal force takes, F_c / F_0; at most 0.67.

    Source: DIN EN 1550 as quoted in chuck manuals.

    Parameters
    ----------
    force_at_rest
        Sum of the jaw forces at rest [N].
    moment_sum
        Sum of the centrifugal moments of all jaws [kg m].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When the force is not above 0 or another value negative.
    """
    above_zero("centrifugal share", force_at_rest=force_at_rest)
    return centrifugal_force(moment_sum, rpm) / force_at_rest


def gripping_torque(jaw_force: Newton, friction: float, grip_diameter: Mm) -> NewtonMetre:
    """Torque that the jaws hold by friction, M = F mu D / 2000.

    Source: derived; friction 0.1 to 0.15 smooth, 0.2 to 0.3 serrated, from memory.

    Parameters
    ----------
    jaw_force
        Sum of the jaw forces [N].
    friction
        Coefficient of friction [-].
    grip_diameter
        Diameter gripped [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the friction is above 1.
    """
    above_zero("gripping torque", jaw_force=jaw_force, friction=friction, grip_diameter=grip_diameter)
    within("gripping torque", 0.0, 1.0, friction=friction)
    return jaw_force * friction * grip_diameter / 2000


def jaw_force_for_cut(
    tangential_force: Newton, cut_diameter: Mm, friction: float, grip_diameter: Mm
) -> Newton:
    """Sum of jaw forces that just holds a tangential cutting force, F = F_t d_cut / (mu d_grip).

    Source: derived from equal torques; safety factors are added by the caller.

    Parameters
    ----------
    tangential_force
        Tangential cutting force [N].
    cut_diameter
        Diameter at which it acts [mm].
    friction
        Coefficient of friction [-].
    grip_diameter
        Diameter gripped [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the friction is above 1.
    """
    above_zero("jaw force for the cut", tangential_force=tangential_force, cut_diameter=cut_diameter)
    above_zero("jaw force for the cut", friction=friction, grip_diameter=grip_diameter)
    within("jaw force for the cut", 0.0, 1.0, friction=friction)
    return tangential_force * cut_diameter / (friction * grip_diameter)


def force_per_jaw(jaw_force: Newton, jaws: int) -> Newton:
    """Force of one of several equal jaws, F / jaws.

    Source: derived.

    Parameters
    ----------
    jaw_force
        Sum of the jaw forces [N].
    jaws
        Number of jaws [-].

    Raises
    ------
    OutOfRange
        When the force is not above 0 or the jaws below 1.
    """
    above_zero("force of one jaw", jaw_force=jaw_force)
    one_or_more("force of one jaw", jaws=jaws)
    return jaw_force / jaws
