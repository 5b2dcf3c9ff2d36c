"""Cutting times of turning, hole making and plain milling [min]."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.errors import OutOfRange
from sequencer.units import Deg, MetrePerMinute, Minutes, Mm, Rpm


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


def slab_approach(depth: Mm, diameter: Mm) -> Mm:
    """Feed path of a side or slab cutter until it cuts full depth, A = sqrt(d (D - d)).

    Source: M. P. Groover, Fundamentals of Modern Manufacturing, slab milling.

    Parameters
    ----------
    depth
        Depth of cut square to the cutter axis [mm].
    diameter
        Cutter diameter [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the depth is above the diameter.
    """
    above_zero("milling approach", depth=depth, diameter=diameter)
    within("milling approach", 0.0, diameter, "Take a larger cutter", depth=depth)
    return math.sqrt(depth * (diameter - depth))


def milling_time(
    length: Mm, feed_rate: float, approach: Mm = 0.0, overrun: Mm = 0.0, cuts: int = 1
) -> Minutes:
    """Time of milling along a path, T = i (L + approach + overrun) / v_f; face milling has approach D.

    Source: Mitsubishi Materials, Technical information, formulae for face milling.

    Parameters
    ----------
    length
        Length of the work along the feed [mm].
    feed_rate
        Table feed [mm/min].
    approach
        Feed path before the work [mm].
    overrun
        Feed path behind the work [mm].
    cuts
        Number of cuts [-].

    Raises
    ------
    OutOfRange
        When length or feed is not above 0, a path negative or the cuts below 1.
    """
    above_zero("milling time", length=length, feed_rate=feed_rate)
    not_negative("milling time", approach=approach, overrun=overrun)
    one_or_more("milling time", cuts=cuts)
    return cuts * (length + approach + overrun) / feed_rate


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


def tooth_edge_chamfer_time(
    teeth: int, edge_length: Mm, feed_rate: float, minutes_between: Minutes
) -> Minutes:
    """Time of chamfering or deburring all tooth edges of one end, T = z (edge / v_f + positioning).

    Source: derived.

    Parameters
    ----------
    teeth
        Teeth [-].
    edge_length
        Length of the edge around one tooth and gap [mm].
    feed_rate
        Feed along the edge [mm/min].
    minutes_between
        Positioning from tooth to tooth [min].

    Raises
    ------
    OutOfRange
        When length or feed is not above 0, the teeth below 1 or the positioning negative.
    """
    one_or_more("tooth chamfering time", teeth=teeth)
    above_zero("tooth chamfering time", edge_length=edge_length, feed_rate=feed_rate)
    not_negative("tooth chamfering time", minutes_between=minutes_between)
    return teeth * (edge_length / feed_rate + minutes_between)


def keyway_milling_time(
    length: Mm, width: Mm, depth: Mm, layer: Mm, feed_rate: float, plunge_rate: float
) -> Minutes:
    """Time of milling a closed keyway with an end mill of its width, layer by layer.

    Source: derived; each layer plunges its depth and then runs the length less one cutter diameter.

    Parameters
    ----------
    length
        Length over the round ends [mm].
    width
        Width of the keyway and diameter of the end mill [mm].
    depth
        Depth [mm].
    layer
        Greatest depth of a layer [mm].
    feed_rate
        Feed along the keyway [mm/min].
    plunge_rate
        Feed into the depth [mm/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or the keyway is shorter than wide.
    """
    above_zero("keyway milling time", length=length, width=width, depth=depth)
    above_zero("keyway milling time", feed_rate=feed_rate, plunge_rate=plunge_rate)
    within("keyway milling time", 0.0, length, width=width)
    return cuts_for_stock(depth, layer) * (length - width) / feed_rate + depth / plunge_rate


def keyway_slotting_time(
    length: Mm,
    depth: Mm,
    infeed: Mm,
    cutting_speed: MetrePerMinute,
    return_speed: MetrePerMinute,
    overtravel: Mm = 10.0,
    spark_out_strokes: int = 2,
) -> Minutes:
    """Time of slotting a keyway with a stroking tool, T = strokes L (1/v_c + 1/v_r) / 1000.

    Source: derived.

    Parameters
    ----------
    length
        Length of the keyway [mm].
    depth
        Depth of the keyway [mm].
    infeed
        Infeed of a stroke [mm].
    cutting_speed
        Speed of the cutting stroke [m/min].
    return_speed
        Speed of the return stroke [m/min].
    overtravel
        Path of a stroke beyond the keyway, both ends together [mm].
    spark_out_strokes
        Strokes without infeed at the end [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0 or overtravel or spark-out negative.
    """
    above_zero("keyway slotting time", length=length, depth=depth, infeed=infeed)
    above_zero("keyway slotting time", cutting_speed=cutting_speed, return_speed=return_speed)
    not_negative("keyway slotting time", overtravel=overtravel, spark_out_strokes=spark_out_strokes)
    strokes = cuts_for_stock(depth, infeed) + spark_out_strokes
    return strokes * (length + overtravel) / 1000 * (1 / cutting_speed + 1 / return_speed)
