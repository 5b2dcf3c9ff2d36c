"""Gear milling with a disc (form) cutter, gap by gap."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.units import Deg, Minutes, Mm


def greatest_chip(feed_per_tooth: Mm, depth: Mm, diameter: Mm) -> Mm:
    """Greatest chip thickness of a disc cutter, hex = 2 f_z sqrt(a_e/D - (a_e/D)^2); f_z from a_e = D/2.

    Source: principle in Gear Solutions, Squeezing productivity out of gear milling operations; formula from
    memory.

    Parameters
    ----------
    feed_per_tooth
        Feed per tooth [mm].
    depth
        Depth of the gap, a_e [mm].
    diameter
        Outside diameter of the disc, D [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the depth is above the diameter.
    """
    above_zero("gashing chip", feed_per_tooth=feed_per_tooth, depth=depth, diameter=diameter)
    within("gashing chip", 0.0, diameter, "Take a larger disc", depth=depth)
    share = depth / diameter
    if share >= 0.5:
        return feed_per_tooth
    return 2 * feed_per_tooth * math.sqrt(share - share**2)


def feed_for_chip(chip: Mm, depth: Mm, diameter: Mm) -> Mm:
    """Feed per tooth for a wanted greatest chip thickness, the hex formula solved for f_z.

    Source: derived from hex = 2 f_z sqrt(a_e/D - (a_e/D)^2).

    Parameters
    ----------
    chip
        Greatest chip thickness wanted [mm].
    depth
        Depth of the gap, a_e [mm].
    diameter
        Outside diameter of the disc, D [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the depth is above the diameter.
    """
    above_zero("gashing feed", chip=chip)
    return chip / greatest_chip(1.0, depth, diameter)


def approach(depth: Mm, diameter: Mm) -> Mm:
    """Approach of a disc cutter in the feed direction, sqrt(h (D - h)).

    Source: M. P. Groover, Fundamentals of Modern Manufacturing, slab milling approach.

    Parameters
    ----------
    depth
        Depth of the gap, h [mm].
    diameter
        Outside diameter of the disc, D [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the depth is above half the diameter.
    """
    above_zero("disc approach", depth=depth, diameter=diameter)
    within("disc approach", 0.0, diameter / 2, "Take a larger disc", depth=depth)
    return math.sqrt(depth * (diameter - depth))


def gap_travel(
    face_width: Mm, helix_angle: Deg, depth: Mm, diameter: Mm, clearance: Mm, overrun: Mm = 0.0
) -> Mm:
    """Feed path for one gap along the tooth, L = b / cos(beta) + sqrt(h (D - h)) + clearance + overrun.

    Source: derived from the slab milling approach of M. P. Groover.

    Parameters
    ----------
    face_width
        Face width along the axis [mm].
    helix_angle
        Helix angle [deg].
    depth
        Depth of the gap [mm].
    diameter
        Outside diameter of the disc [mm].
    clearance
        Clearance before the work [mm].
    overrun
        Feed path behind the work beyond the disc middle [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0, a clearance negative or the helix angle beyond 60 deg.
    """
    above_zero("disc travel", face_width=face_width)
    not_negative("disc travel", clearance=clearance, overrun=overrun)
    within("disc travel", -60.0, 60.0, helix_angle=helix_angle)
    return face_width / math.cos(math.radians(helix_angle)) + approach(depth, diameter) + clearance + overrun


def gap_time(travel: Mm, feed_rate: float, return_rate: float, indexing: Minutes) -> Minutes:
    """Time for one gap, L / v_f + L / v_return + indexing.

    Source: derived.

    Parameters
    ----------
    travel
        Feed path of one gap [mm].
    feed_rate
        Table feed [mm/min].
    return_rate
        Speed of the way back [mm/min].
    indexing
        Turning to the next gap [min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the indexing time negative.
    """
    above_zero("gap time", travel=travel, feed_rate=feed_rate, return_rate=return_rate)
    not_negative("gap time", indexing=indexing)
    return travel / feed_rate + travel / return_rate + indexing


def gear_time(teeth: int, cuts: int, minutes_per_gap: Minutes) -> Minutes:
    """Time for all gaps of a gear, T = z i t.

    Source: derived.

    Parameters
    ----------
    teeth
        Teeth, one gap each [-].
    cuts
        Cuts in a gap [-].
    minutes_per_gap
        Time for one gap [min].

    Raises
    ------
    OutOfRange
        When a count is below 1 or the time not above 0.
    """
    one_or_more("form milling time", teeth=teeth, cuts=cuts)
    above_zero("form milling time", minutes_per_gap=minutes_per_gap)
    return teeth * cuts * minutes_per_gap
