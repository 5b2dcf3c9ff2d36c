"""Times of drilling, reaming and tapping [min]."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, within
from sequencer.units import Deg, Minutes, Mm, Rpm


def drill_point_length(diameter: Mm, point_angle: Deg = 118.0) -> Mm:
    """Length of a drill point, A = 0.5 D tan(90 - point/2).

    Source: M. P. Groover, Fundamentals of Modern Manufacturing, drilling.

    Parameters
    ----------
    diameter
        Drill diameter [mm].
    point_angle
        Included point angle [deg].

    Raises
    ------
    OutOfRange
        When the diameter is not above 0 or the angle is outside 60 to 180 deg.
    """
    above_zero("drill point", diameter=diameter)
    within("drill point", 60.0, 180.0, point_angle=point_angle)
    return 0.5 * diameter * math.tan(math.radians(90 - point_angle / 2))


def drilling_time(
    depth: Mm, feed: Mm, rpm: Rpm, point: Mm = 0.0, approach: Mm = 0.0, overrun: Mm = 0.0
) -> Minutes:
    """Time of drilling, boring or reaming one hole, T = (depth + point + approach + overrun) / (f n).

    Source: M. P. Groover, Fundamentals of Modern Manufacturing, drilling; catalogues leave the point out.

    Parameters
    ----------
    depth
        Depth at full diameter [mm].
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].
    point
        Length of the drill point; 0 for a reamer or boring bar [mm].
    approach
        Feed path before the hole [mm].
    overrun
        Feed path behind a through hole [mm].

    Raises
    ------
    OutOfRange
        When depth, feed or rpm is not above 0 or another length negative.
    """
    above_zero("drilling time", depth=depth, feed=feed, rpm=rpm)
    not_negative("drilling time", point=point, approach=approach, overrun=overrun)
    return (depth + point + approach + overrun) / (feed * rpm)


def reaming_time(
    depth: Mm, feed: Mm, rpm: Rpm, approach: Mm = 2.0, overrun: Mm = 5.0, return_factor: float = 1.0
) -> Minutes:
    """Time of reaming one hole with the way back at feed, T = L (1 + 1/k) / (f n).

    Source: derived; a reamer is drawn back turning, k times as fast as forward.

    Parameters
    ----------
    depth
        Depth of the hole [mm].
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].
    approach
        Feed path before the hole [mm].
    overrun
        Feed path behind the hole (length of the reamer lead) [mm].
    return_factor
        How many times faster the way back is [-].

    Raises
    ------
    OutOfRange
        When depth, feed, rpm or factor is not above 0 or a path negative.
    """
    above_zero("reaming time", return_factor=return_factor)
    return drilling_time(depth, feed, rpm, 0.0, approach, overrun) * (1 + 1 / return_factor)


def tapping_time(
    depth: Mm, pitch: Mm, rpm: Rpm, lead_threads: float = 3.0, return_factor: float = 1.0
) -> Minutes:
    """Time of tapping one hole forth and back, T = (depth + lead) / (p n) (1 + 1/k).

    Source: derived; the path is the depth and the chamfered threads of the tap, feed equals the pitch.

    Parameters
    ----------
    depth
        Depth of full thread [mm].
    pitch
        Thread pitch [mm].
    rpm
        Revolutions [1/min].
    lead_threads
        Chamfered threads of the tap [-].
    return_factor
        How many times faster the tap turns out [-].

    Raises
    ------
    OutOfRange
        When depth, pitch, rpm or factor is not above 0 or the lead negative.
    """
    above_zero("tapping time", depth=depth, pitch=pitch, rpm=rpm, return_factor=return_factor)
    not_negative("tapping time", lead_threads=lead_threads)
    return (depth + lead_threads * pitch) / (pitch * rpm) * (1 + 1 / return_factor)
