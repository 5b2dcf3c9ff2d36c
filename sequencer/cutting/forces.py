"""Cutting force, torque and power from the specific cutting force."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, within
from sequencer.units import Deg, Kilowatt, MetrePerMinute, Mm, Newton, NewtonMetre, Rpm


def specific_force(kc11: float, exponent: float, chip_thickness: Mm) -> float:
    """Specific cutting force of Kienzle [N/mm2], k_c = k_c1.1 h^(-m_c).

    Source: O. Kienzle's relation, from memory; coefficients compared with a published k_c table of turning.

    Parameters
    ----------
    kc11
        Specific cutting force at chip thickness and width of 1 mm [N/mm2].
    exponent
        Rise exponent m_c [-].
    chip_thickness
        Undeformed chip thickness [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the exponent is not below 1.
    """
    above_zero("specific cutting force", kc11=kc11, chip_thickness=chip_thickness)
    within("specific cutting force", 0.0, 0.95, exponent=exponent)
    return float(kc11 * chip_thickness**-exponent)


def turning_chip_thickness(feed: Mm, approach_angle: Deg = 90.0) -> Mm:
    """Chip thickness in turning, h = f sin(kappa).

    Source: common to all handbooks, from memory.

    Parameters
    ----------
    feed
        Feed per revolution [mm].
    approach_angle
        Cutting edge angle kappa; 90 for grooving [deg].

    Raises
    ------
    OutOfRange
        When the feed is not above 0 or the angle is outside 1 to 179 deg.
    """
    above_zero("chip thickness", feed=feed)
    within("chip thickness", 1.0, 179.0, approach_angle=approach_angle)
    return feed * math.sin(math.radians(approach_angle))


def feed_for_chip_thickness(chip_thickness: Mm, approach_angle: Deg = 90.0) -> Mm:
    """Feed that makes a wanted chip thickness, f = h / sin(kappa).

    Source: Stellram catalogue, Technical information, page 87.

    Parameters
    ----------
    chip_thickness
        Chip thickness wanted [mm].
    approach_angle
        Cutting edge angle kappa [deg].

    Raises
    ------
    OutOfRange
        When the thickness is not above 0 or the angle is outside 1 to 179 deg.
    """
    above_zero("feed", chip_thickness=chip_thickness)
    within("feed", 1.0, 179.0, approach_angle=approach_angle)
    return chip_thickness / math.sin(math.radians(approach_angle))


def turning_force(kc: float, depth: Mm, feed: Mm) -> Newton:
    """Cutting force in turning and grooving, F_c = k_c a_p f.

    Source: common to all handbooks, from memory; the chip section b h equals a_p f.

    Parameters
    ----------
    kc
        Specific cutting force [N/mm2].
    depth
        Depth of cut, or width of the grooving blade [mm].
    feed
        Feed per revolution [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("cutting force", specific_force=kc, depth_of_cut=depth, feed=feed)
    return kc * depth * feed


def cutting_power(force: Newton, speed: MetrePerMinute, efficiency: float = 1.0) -> Kilowatt:
    """Power of a cutting force at a cutting speed, P = F v_c / (60000 eta).

    Source: derived.

    Parameters
    ----------
    force
        Cutting force [N].
    speed
        Cutting speed [m/min].
    efficiency
        Efficiency of the drive; 1 gives the power at the edge [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the efficiency is above 1.
    """
    above_zero("cutting power", force=force, cutting_speed=speed)
    within("cutting power", 0.05, 1.0, efficiency=efficiency)
    return force * speed / (60_000 * efficiency)


def turning_power(depth: Mm, feed: Mm, speed: MetrePerMinute, kc: float, efficiency: float = 1.0) -> Kilowatt:
    """Power in turning, P = a_p f v_c k_c / (60000 eta).

    Source: Mitsubishi Materials, Technical information, cutting power for turning.

    Parameters
    ----------
    depth
        Depth of cut [mm].
    feed
        Feed per revolution [mm].
    speed
        Cutting speed [m/min].
    kc
        Specific cutting force [N/mm2].
    efficiency
        Efficiency of the drive; 1 gives the power at the edge [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the efficiency is above 1.
    """
    return cutting_power(turning_force(kc, depth, feed), speed, efficiency)


def milling_power(
    axial_depth: Mm, radial_width: Mm, feed_rate: float, kc: float, efficiency: float = 1.0
) -> Kilowatt:
    """Power in milling, P = a_p a_e v_f k_c / (60e6 eta).

    Source: Mitsubishi Materials, Technical information, cutting power for face milling.

    Parameters
    ----------
    axial_depth
        Depth of cut along the cutter axis [mm].
    radial_width
        Width of cut square to the cutter axis [mm].
    feed_rate
        Table feed [mm/min].
    kc
        Specific cutting force at the mean chip thickness [N/mm2].
    efficiency
        Efficiency of the drive; 1 gives the power at the edge [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the efficiency is above 1.
    """
    above_zero("milling power", axial_depth=axial_depth, radial_width=radial_width, feed_rate=feed_rate)
    above_zero("milling power", specific_force=kc)
    within("milling power", 0.05, 1.0, efficiency=efficiency)
    return axial_depth * radial_width * feed_rate * kc / (60e6 * efficiency)


def milling_mean_chip(feed_per_tooth: Mm, radial_width: Mm, diameter: Mm) -> Mm:
    """Mean chip thickness of a side cut that is shallow against the cutter, h_m = f_z sqrt(a_e / D).

    Source: catalogue form; mean half of 2 f/(N Z) sqrt(t/D) in A. Ghosh, A. K. Mallik, Manufacturing
    Science, problem 4.15.

    Parameters
    ----------
    feed_per_tooth
        Feed per tooth [mm].
    radial_width
        Width of cut square to the cutter axis [mm].
    diameter
        Cutter diameter [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the width of cut is above the diameter.
    """
    above_zero("mean chip thickness", feed_per_tooth=feed_per_tooth, diameter=diameter)
    above_zero("mean chip thickness", radial_width=radial_width)
    within("mean chip thickness", 0.0, diameter, radial_width=radial_width)
    return feed_per_tooth * math.sqrt(radial_width / diameter)


def drilling_chip_thickness(feed: Mm, point_angle: Deg = 118.0) -> Mm:
    """Chip thickness at each of the two edges of a drill, h = f/2 sin(point/2).

    Source: common to all handbooks, from memory.

    Parameters
    ----------
    feed
        Feed per revolution [mm].
    point_angle
        Included point angle [deg].

    Raises
    ------
    OutOfRange
        When the feed is not above 0 or the angle is outside 60 to 180 deg.
    """
    above_zero("drilling chip", feed=feed)
    within("drilling chip", 60.0, 180.0, point_angle=point_angle)
    return feed / 2 * math.sin(math.radians(point_angle / 2))


def drilling_torque(diameter: Mm, feed: Mm, kc: float, pilot: Mm = 0.0) -> NewtonMetre:
    """Torque of a drill, M = k_c f (D^2 - d^2) / 8000.

    Source: from memory; two edges of a_p = (D - d)/2 with f/2 each, force at the mean diameter.

    Parameters
    ----------
    diameter
        Drill diameter [mm].
    feed
        Feed per revolution [mm].
    kc
        Specific cutting force [N/mm2].
    pilot
        Diameter of the hole that is there already; 0 for the solid [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the pilot is not smaller than the drill.
    """
    above_zero("drilling torque", diameter=diameter, feed=feed, specific_force=kc)
    within("drilling torque", 0.0, diameter * (1 - 1e-9), pilot=pilot)
    return kc * feed * (diameter**2 - pilot**2) / 8000


def drilling_thrust(diameter: Mm, feed: Mm, kc: float, point_angle: Deg = 118.0) -> Newton:
    """Feed force of a drill into the solid, F_f = 0.5 k_c f D/2 sin(point/2).

    Source: from memory, tool makers' approximation; dull drills need more.

    Parameters
    ----------
    diameter
        Drill diameter [mm].
    feed
        Feed per revolution [mm].
    kc
        Specific cutting force [N/mm2].
    point_angle
        Included point angle [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the angle is outside 60 to 180 deg.
    """
    above_zero("drilling thrust", diameter=diameter, feed=feed, specific_force=kc)
    within("drilling thrust", 60.0, 180.0, point_angle=point_angle)
    return 0.5 * kc * feed * diameter / 2 * math.sin(math.radians(point_angle / 2))


def tapping_torque(diameter: Mm, pitch: Mm, kc: float) -> NewtonMetre:
    """Torque of a tap, M = p^2 D k_c / 8000.

    Source: from memory, tool makers' approximation for a cutting tap.

    Parameters
    ----------
    diameter
        Outside diameter of the thread [mm].
    pitch
        Thread pitch [mm].
    kc
        Specific cutting force [N/mm2].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the pitch is not smaller than the diameter.
    """
    above_zero("tapping torque", diameter=diameter, pitch=pitch, specific_force=kc)
    within("tapping torque", 0.0, diameter, pitch=pitch)
    return pitch**2 * diameter * kc / 8000


def torque(force: Newton, diameter: Mm) -> NewtonMetre:
    """Torque of a force at the rim of a diameter, M = F D / 2000.

    Source: derived.

    Parameters
    ----------
    force
        Tangential force [N].
    diameter
        Diameter at which it acts [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("torque", force=force, diameter=diameter)
    return force * diameter / 2000


def power_of_torque(moment: NewtonMetre, rpm: Rpm, efficiency: float = 1.0) -> Kilowatt:
    """Power of a torque at given revolutions, P = 2 pi n M / (60000 eta).

    Source: derived.

    Parameters
    ----------
    moment
        Torque [N m].
    rpm
        Revolutions [1/min].
    efficiency
        Efficiency of the drive; 1 gives the power at the tool [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the efficiency is above 1.
    """
    above_zero("power", torque=moment, rpm=rpm)
    within("power", 0.05, 1.0, efficiency=efficiency)
    return 2 * math.pi * rpm * moment / (60_000 * efficiency)


def torque_of_power(power: Kilowatt, rpm: Rpm) -> NewtonMetre:
    """Torque of a power at given revolutions, M = 60000 P / (2 pi n).

    Source: derived.

    Parameters
    ----------
    power
        Power [kW].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("torque", power=power, rpm=rpm)
    return 60_000 * power / (2 * math.pi * rpm)
