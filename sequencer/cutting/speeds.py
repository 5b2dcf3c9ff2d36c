"""Cutting speed, revolutions and feeds."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, one_or_more
from sequencer.units import MetrePerMinute, Mm, Rpm


def cutting_speed(diameter: Mm, rpm: Rpm) -> MetrePerMinute:
    """Cutting speed at a diameter, v_c = pi D n / 1000.

    Source: Mitsubishi Materials, Technical information, formulas for turning.

    Parameters
    ----------
    diameter
        Work diameter (turning) or cutter diameter (milling, drilling) [mm].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("cutting speed", diameter=diameter, rpm=rpm)
    return math.pi * diameter * rpm / 1000


def spindle_rpm(diameter: Mm, speed: MetrePerMinute) -> Rpm:
    """Revolutions for a cutting speed, n = 1000 v_c / (pi D).

    Source: Mitsubishi Materials, Technical information, formulas for turning.

    Parameters
    ----------
    diameter
        Work diameter (turning) or cutter diameter (milling, drilling) [mm].
    speed
        Cutting speed [m/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("revolutions", diameter=diameter, cutting_speed=speed)
    return 1000 * speed / (math.pi * diameter)


def capped_rpm(diameter: Mm, speed: MetrePerMinute, rpm_cap: Rpm) -> Rpm:
    """Revolutions for a cutting speed, held down to the cap of spindle, table or clamping.

    Source: common practice, no source.

    Parameters
    ----------
    diameter
        Work or cutter diameter [mm].
    speed
        Cutting speed wanted [m/min].
    rpm_cap
        Highest revolutions allowed [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("revolutions", rpm_cap=rpm_cap)
    return min(spindle_rpm(diameter, speed), rpm_cap)


def feed_per_revolution(feed_rate: float, rpm: Rpm) -> Mm:
    """Feed per revolution from the path per minute, f = l / n.

    Source: Mitsubishi Materials, Technical information, formulas for turning.

    Parameters
    ----------
    feed_rate
        Path of the tool in a minute [mm/min].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("feed", feed_rate=feed_rate, rpm=rpm)
    return feed_rate / rpm


def axial_feed_rate(feed: Mm, rpm: Rpm) -> float:
    """Path of the tool in a minute [mm/min], v_f = f n.

    Source: Mitsubishi Materials, Technical information, formulas for turning.

    Parameters
    ----------
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("feed rate", feed=feed, rpm=rpm)
    return feed * rpm


def table_feed(feed_per_tooth: Mm, teeth: int, rpm: Rpm) -> float:
    """Table feed in milling [mm/min], v_f = f_z z n.

    Source: Mitsubishi Materials, Technical information, formulae for face milling.

    Parameters
    ----------
    feed_per_tooth
        Feed per tooth [mm].
    teeth
        Teeth of the cutter [-].
    rpm
        Cutter revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the teeth are no whole number.
    """
    above_zero("table feed", feed_per_tooth=feed_per_tooth, rpm=rpm)
    one_or_more("table feed", teeth=teeth)
    return feed_per_tooth * teeth * rpm


def feed_per_tooth(feed_rate: float, teeth: int, rpm: Rpm) -> Mm:
    """Feed per tooth from the table feed, f_z = v_f / (z n).

    Source: Mitsubishi Materials, Technical information, formulae for face milling.

    Parameters
    ----------
    feed_rate
        Table feed [mm/min].
    teeth
        Teeth of the cutter [-].
    rpm
        Cutter revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the teeth are no whole number.
    """
    above_zero("feed per tooth", feed_rate=feed_rate, rpm=rpm)
    one_or_more("feed per tooth", teeth=teeth)
    return feed_rate / (teeth * rpm)


def turning_removal_rate(speed: MetrePerMinute, feed: Mm, depth: Mm) -> float:
    """Volume of chips in a minute in turning [mm3/min], Q = 1000 v_c f a_p.

    Source: M. P. Groover, Fundamentals of Modern Manufacturing, turning, from memory.

    Parameters
    ----------
    speed
        Cutting speed [m/min].
    feed
        Feed per revolution [mm].
    depth
        Depth of cut [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("removal rate", cutting_speed=speed, feed=feed, depth_of_cut=depth)
    return 1000 * speed * feed * depth


def milling_removal_rate(axial_depth: Mm, radial_width: Mm, feed_rate: float) -> float:
    """Volume of chips in a minute in milling [mm3/min], Q = a_p a_e v_f.

    Source: Mitsubishi Materials, Technical information, cutting power for face milling.

    Parameters
    ----------
    axial_depth
        Depth of cut along the cutter axis [mm].
    radial_width
        Width of cut square to the cutter axis [mm].
    feed_rate
        Table feed [mm/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("removal rate", axial_depth=axial_depth, radial_width=radial_width, feed_rate=feed_rate)
    return axial_depth * radial_width * feed_rate


def drilling_removal_rate(diameter: Mm, feed: Mm, rpm: Rpm) -> float:
    """Volume of chips in a minute in drilling into the solid [mm3/min], Q = pi D^2 f n / 4.

    Source: derived.

    Parameters
    ----------
    diameter
        Drill diameter [mm].
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("removal rate", diameter=diameter, feed=feed, rpm=rpm)
    return math.pi * diameter**2 / 4 * feed * rpm
