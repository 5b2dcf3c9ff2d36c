"""Times of turning, facing and grooving [min]."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import MetrePerMinute, Minutes, Mm, Rpm


def turning_time(
    length: Mm, feed: Mm, rpm: Rpm, approach: Mm = 0.0, overrun: Mm = 0.0, cuts: int = 1
) -> Minutes:
    """Time of longitudinal turning, T = i (L + approach + overrun) / (f n).

    Source: Mitsubishi Materials, Technical information, formulas for turning.

    Parameters
    ----------
    length
        Length turned [mm].
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].
    approach
        Feed path before the work [mm].
    overrun
        Feed path behind the work [mm].
    cuts
        Number of cuts [-].

    Raises
    ------
    OutOfRange
        When length, feed or rpm is not above 0, a path negative or the cuts below 1.
    """
    above_zero("turning time", length=length, feed=feed, rpm=rpm)
    not_negative("turning time", approach=approach, overrun=overrun)
    one_or_more("turning time", cuts=cuts)
    return cuts * (length + approach + overrun) / (feed * rpm)


def cuts_for_stock(stock: Mm, depth: Mm) -> int:
    """Number of cuts that remove a stock, ceil(stock / depth of cut).

    Source: common practice, no source.

    Parameters
    ----------
    stock
        Stock to be removed [mm].
    depth
        Greatest depth of one cut [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("number of cuts", stock=stock, depth_of_cut=depth)
    return max(1, math.ceil(stock / depth - 1e-9))


def facing_time(
    outer_diameter: Mm, inner_diameter: Mm, feed: Mm, speed: MetrePerMinute, rpm_cap: Rpm, cuts: int = 1
) -> Minutes:
    """Time of facing or plunging at constant cutting speed with the revolutions capped.

    Source: derived; integral of dr / (f n(r)) with n = min(1000 v / (2 pi r), cap): outside the diameter
    D_k = 1000 v / (pi cap) it is pi (D_o^2 - D_k^2) / (4000 v f), inside it (D_k - D_i) / (2 f cap).

    Parameters
    ----------
    outer_diameter
        Diameter where the cut starts or ends outside [mm].
    inner_diameter
        Diameter where it ends or starts inside; 0 to the centre [mm].
    feed
        Feed per revolution [mm].
    speed
        Cutting speed held constant [m/min].
    rpm_cap
        Highest revolutions allowed [1/min].
    cuts
        Number of cuts [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the inner diameter not below the outer or the cuts below 1.
    """
    above_zero("facing time", outer_diameter=outer_diameter, feed=feed, cutting_speed=speed, rpm_cap=rpm_cap)
    not_negative("facing time", inner_diameter=inner_diameter)
    one_or_more("facing time", cuts=cuts)
    if inner_diameter >= outer_diameter:
        raise OutOfRange(
            f"inner diameter {inner_diameter:g} mm is not below outer diameter {outer_diameter:g} mm",
            where="facing time",
            limit="inner below outer",
            remedy="Give the ring from inside to outside",
        )
    knee = min(max(1000 * speed / (math.pi * rpm_cap), inner_diameter), outer_diameter)
    outside = math.pi * (outer_diameter**2 - knee**2) / (4000 * speed * feed)
    inside = (knee - inner_diameter) / (2 * feed * rpm_cap)
    return cuts * (outside + inside)


def grooving_plunges(width: Mm, blade: Mm, overlap: Mm = 0.0) -> int:
    """Number of plunges side by side that make a groove, 1 + ceil((W - w) / (w - overlap)).

    Source: derived.

    Parameters
    ----------
    width
        Width of the groove [mm].
    blade
        Width of the blade [mm].
    overlap
        Overlap of neighbouring plunges [mm].

    Raises
    ------
    OutOfRange
        When a width is not above 0, the blade wider than the groove or the overlap not below the blade.
    """
    above_zero("grooving", width=width, blade=blade)
    within("grooving", 0.0, width, "Take a narrower blade", blade=blade)
    within("grooving", 0.0, blade * (1 - 1e-6), overlap=overlap)
    return 1 + math.ceil((width - blade) / (blade - overlap) - 1e-9)


def radial_groove_time(
    outer_diameter: Mm,
    inner_diameter: Mm,
    plunges: int,
    feed: Mm,
    speed: MetrePerMinute,
    rpm_cap: Rpm,
    dwell_revolutions: float = 0.0,
) -> Minutes:
    """Time of a groove in an outside or inside diameter, plunged at constant cutting speed.

    Source: derived; plunges times the facing integral, and a dwell reckoned at the outer diameter, where
    the turn takes longest.

    Parameters
    ----------
    outer_diameter
        Larger of surface and bottom diameter [mm].
    inner_diameter
        Smaller of surface and bottom diameter [mm].
    plunges
        Plunges side by side [-].
    feed
        Feed per revolution [mm].
    speed
        Cutting speed [m/min].
    rpm_cap
        Highest revolutions allowed [1/min].
    dwell_revolutions
        Revolutions without feed at the bottom of each plunge [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the diameters do not rise or the plunges are below 1.
    """
    not_negative("grooving time", dwell_revolutions=dwell_revolutions)
    one_or_more("grooving time", plunges=plunges)
    path = facing_time(outer_diameter, inner_diameter, feed, speed, rpm_cap)
    slowest = min(1000 * speed / (math.pi * outer_diameter), rpm_cap)
    return plunges * (path + dwell_revolutions / slowest)


def face_groove_time(depth: Mm, plunges: int, feed: Mm, rpm: Rpm, approach: Mm = 1.0) -> Minutes:
    """Time of a groove in a face, plunged along the axis, T = plunges (depth + approach) / (f n).

    Source: derived.

    Parameters
    ----------
    depth
        Depth of the groove [mm].
    plunges
        Plunges side by side [-].
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].
    approach
        Feed path before the face [mm].

    Raises
    ------
    OutOfRange
        When depth, feed or rpm is not above 0 or the plunges are below 1.
    """
    above_zero("face groove time", depth=depth, feed=feed, rpm=rpm)
    not_negative("face groove time", approach=approach)
    one_or_more("face groove time", plunges=plunges)
    return plunges * (depth + approach) / (feed * rpm)


def chamfer_turning_time(width: Mm, feed: Mm, rpm: Rpm, approach: Mm = 1.0) -> Minutes:
    """Time of turning a 45 deg chamfer along its slope, T = (sqrt(2) w + approach) / (f n).

    Source: derived.

    Parameters
    ----------
    width
        Width of the chamfer along the axis [mm].
    feed
        Feed per revolution [mm].
    rpm
        Revolutions [1/min].
    approach
        Feed path before the edge [mm].

    Raises
    ------
    OutOfRange
        When width, feed or rpm is not above 0 or the approach negative.
    """
    above_zero("chamfering time", width=width, feed=feed, rpm=rpm)
    not_negative("chamfering time", approach=approach)
    return (math.sqrt(2) * width + approach) / (feed * rpm)
