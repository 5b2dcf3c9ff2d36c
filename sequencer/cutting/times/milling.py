"""Times of milling, edge chamfering and keyways [min]."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.cutting.times.turning import cuts_for_stock
from sequencer.units import MetrePerMinute, Minutes, Mm


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
