"""Travel and time of a hobbing cut."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, within
from sequencer.cutting.hobbing.setting import table_rpm
from sequencer.units import Deg, Minutes, Mm, Rpm


def approach(outside_diameter: Mm, depth: Mm, tip_diameter: Mm, swivel: Deg) -> Mm:
    """Approach of a hob until it cuts full depth, E = sqrt(h (d_a0 - h + d_a sin^2 eta)) / cos eta.

    Source: hob makers' formula, from memory; exact for eta = 0, else shorter than the exact intersection:
    1.5 % at eta 17 to 30 deg on common sizes, up to 6 % for a small hob on a large gear. Use it for times;
    use `run_out.axial_room` for what fits.

    Parameters
    ----------
    outside_diameter
        Outside diameter of the hob, d_a0 [mm].
    depth
        Depth of cut, h [mm].
    tip_diameter
        Tip diameter of the gear, d_a [mm].
    swivel
        Swivel angle, eta [deg].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the depth not below the hob diameter or the swivel beyond 75 deg.
    """
    above_zero("hob approach", outside_diameter=outside_diameter, depth=depth, tip_diameter=tip_diameter)
    within("hob approach", 0.0, min(outside_diameter, tip_diameter / 2), depth=depth)
    within("hob approach", -75.0, 75.0, swivel=swivel)
    eta = math.radians(swivel)
    square = depth * (outside_diameter - depth + tip_diameter * math.sin(eta) ** 2)
    return math.sqrt(square) / math.cos(eta)


def generating_length(module: Mm, pressure_angle: Deg, addendum_factor: float = 1.25) -> Mm:
    """Half the hob length that generates the flanks, l = 1.25 m_n / tan(alpha).

    Source: from memory; the line of action from the pitch point to the tip line of the rack.

    Parameters
    ----------
    module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    addendum_factor
        Hob addendum in modules [-].

    Raises
    ------
    OutOfRange
        When module or factor is not above 0 or the pressure angle is outside 5 to 45 deg.
    """
    above_zero("generating length", module=module, addendum_factor=addendum_factor)
    within("generating length", 5.0, 45.0, pressure_angle=pressure_angle)
    return addendum_factor * module / math.tan(math.radians(pressure_angle))


def overrun(module: Mm, pressure_angle: Deg, swivel: Deg, least: Mm = 2.0) -> Mm:
    """Travel behind the tooth end until both flanks are generated, U = max(l sin(eta), least).

    Source: derived, with l the generating length; the least value is common practice, no source.

    Parameters
    ----------
    module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    swivel
        Swivel angle [deg].
    least
        Least overrun [mm].

    Raises
    ------
    OutOfRange
        When the module is not above 0, the least overrun negative or an angle out of range.
    """
    not_negative("hob overrun", least_overrun=least)
    within("hob overrun", -75.0, 75.0, swivel=swivel)
    length = generating_length(module, pressure_angle)
    return max(length * math.sin(math.radians(abs(swivel))), least)


def total_travel(face_width: Mm, approach_length: Mm, overrun_length: Mm, spacers: Mm = 0.0) -> Mm:
    """Axial travel of a hob, face width + spacers + approach + overrun.

    Source: R. Endoy, Estimating Hobbing Times, Gear Technology 1989.

    Parameters
    ----------
    face_width
        Face width along the axis [mm].
    approach_length
        Approach [mm].
    overrun_length
        Overrun [mm].
    spacers
        Gaps between parts cut in one stack [mm].

    Raises
    ------
    OutOfRange
        When the face width is not above 0 or another length negative.
    """
    above_zero("hob travel", face_width=face_width)
    not_negative("hob travel", approach=approach_length, overrun=overrun_length, spacers=spacers)
    return face_width + approach_length + overrun_length + spacers


def hobbing_time(teeth: int, starts: int, hob_rpm: Rpm, feed: Mm, travel: Mm) -> Minutes:
    """Time of one hobbing cut, T = z L / (n0 z0 f_a).

    Source: R. Endoy, Estimating Hobbing Times, Gear Technology 1989, equation (1).

    Parameters
    ----------
    teeth
        Teeth of the gear, z [-].
    starts
        Number of starts, z0 [-].
    hob_rpm
        Hob revolutions, n0 [1/min].
    feed
        Axial feed per table revolution, f_a [mm].
    travel
        Axial travel, L [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("hobbing time", feed=feed, travel=travel)
    return travel / (feed * table_rpm(hob_rpm, starts, teeth))
