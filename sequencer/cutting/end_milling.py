"""Gear milling with an end mill, flank by flank in lines."""

from __future__ import annotations

import math

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.units import Deg, Micrometre, Minutes, Mm


def line_spacing(scallop: Micrometre, cutter_radius: Mm, flank_radius: Mm = math.inf) -> Mm:
    """Spacing of lines that leaves a scallop height, s = 2 sqrt(h (2 R - h)), 1/R = 1/r + 1/rho.

    Source: derived; chord of the circle that has the curvature of cutter and convex flank together.

    Parameters
    ----------
    scallop
        Height of the ridges left, h [um].
    cutter_radius
        Radius of the cutter across the line, r: ball or corner radius, infinite for a straight edge [mm].
    flank_radius
        Radius of curvature of the convex flank, rho; infinite for a flat flank [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0, both radii are infinite or the scallop exceeds the joint radius.
    """
    above_zero("end milling lines", scallop=scallop)
    within("end milling lines", 1e-6, math.inf, cutter_radius=cutter_radius, flank_radius=flank_radius)
    curvature = 1 / cutter_radius + 1 / flank_radius
    within(
        "end milling lines", 1e-9, math.inf, "Give a ball radius or a curved flank", joint_curvature=curvature
    )
    radius, height = 1 / curvature, scallop / 1000
    within("end milling lines", 0.0, radius, "Ask for a finer scallop", scallop_in_mm=height)
    return 2 * math.sqrt(height * (2 * radius - height))


def flank_lines(flank_height: Mm, spacing: Mm) -> int:
    """Number of lines on one flank, ceil(height / spacing) + 1.

    Source: derived; one line at either edge of the flank.

    Parameters
    ----------
    flank_height
        Length of the profile from root to tip [mm].
    spacing
        Spacing of the lines [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("end milling lines", flank_height=flank_height, spacing=spacing)
    return math.ceil(flank_height / spacing - 1e-9) + 1


def roughing_levels(depth: Mm, level: Mm) -> int:
    """Number of levels that rough a gap, ceil(depth / level).

    Source: common practice, no source.

    Parameters
    ----------
    depth
        Depth of the gap [mm].
    level
        Depth of one level [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("end milling levels", depth=depth, level=level)
    return max(1, math.ceil(depth / level - 1e-9))


def largest_end_mill(gap_width: Mm, stock: Mm = 0.0, clearance: Mm = 0.0) -> Mm:
    """Largest end mill that runs through the gap where it is narrowest, D = e - 2 stock - clearance.

    Source: derived.

    Parameters
    ----------
    gap_width
        Width of the tooth gap at the root, square to the tooth [mm].
    stock
        Stock that the cut leaves on each flank [mm].
    clearance
        Play between cutter and gap in all [mm].

    Raises
    ------
    OutOfRange
        When the width is not above 0, an allowance negative or nothing is left for the cutter.
    """
    above_zero("largest end mill", gap_width=gap_width)
    not_negative("largest end mill", stock=stock, clearance=clearance)
    diameter = gap_width - 2 * stock - clearance
    above_zero("largest end mill", diameter_left=diameter)
    return diameter


def slenderness(free_length: Mm, diameter: Mm) -> float:
    """Free length of an end mill in diameters, L / D.

    Source: common practice, no source; 4 to 5 are a usual limit for flanks.

    Parameters
    ----------
    free_length
        Free length from tip to holder [mm].
    diameter
        Diameter of the end mill [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("end mill", free_length=free_length, diameter=diameter)
    return free_length / diameter


def smallest_end_mill(free_length: Mm, limit: float = 5.0) -> Mm:
    """Smallest end mill that is stiff enough for a free length, D = L / limit.

    Source: common practice, no source (L/D of 4 to 5).

    Parameters
    ----------
    free_length
        Free length needed [mm].
    limit
        Greatest L/D allowed [-].

    Raises
    ------
    OutOfRange
        When a value is not above 0.
    """
    above_zero("end mill", free_length=free_length, limit=limit)
    return free_length / limit


def line_length(face_width: Mm, helix_angle: Deg, overrun: Mm) -> Mm:
    """Length of one line along the tooth, b / cos(beta) + 2 overrun.

    Source: derived.

    Parameters
    ----------
    face_width
        Face width along the axis [mm].
    helix_angle
        Helix angle [deg].
    overrun
        Path beyond the teeth at each end; at least the cutter radius [mm].

    Raises
    ------
    OutOfRange
        When the width is not above 0, the overrun negative or the helix angle beyond 60 deg.
    """
    above_zero("end milling line", face_width=face_width)
    not_negative("end milling line", overrun=overrun)
    within("end milling line", -60.0, 60.0, helix_angle=helix_angle)
    return face_width / math.cos(math.radians(helix_angle)) + 2 * overrun


def roughing_time(
    teeth: int, levels: int, length: Mm, feed_rate: float, positioning: Minutes, indexing: Minutes
) -> Minutes:
    """Time of roughing all gaps, T = z (levels (L / v_f + positioning) + indexing).

    Source: derived.

    Parameters
    ----------
    teeth
        Teeth, one gap each [-].
    levels
        Levels in a gap [-].
    length
        Length of a line [mm].
    feed_rate
        Feed along the line [mm/min].
    positioning
        Way from line to line [min].
    indexing
        Way from gap to gap [min].

    Raises
    ------
    OutOfRange
        When a count is below 1, length or feed not above 0 or a time negative.
    """
    one_or_more("end milling time", teeth=teeth, levels=levels)
    above_zero("end milling time", length=length, feed_rate=feed_rate)
    not_negative("end milling time", positioning=positioning, indexing=indexing)
    return teeth * (levels * (length / feed_rate + positioning) + indexing)


def flank_time(
    teeth: int, lines: int, length: Mm, feed_rate: float, positioning: Minutes, indexing: Minutes
) -> Minutes:
    """Time of finishing both flanks of all gaps, T = z (2 lines (L / v_f + positioning) + indexing).

    Source: derived.

    Parameters
    ----------
    teeth
        Teeth, one gap each [-].
    lines
        Lines on one flank [-].
    length
        Length of a line [mm].
    feed_rate
        Feed along the line [mm/min].
    positioning
        Way from line to line [min].
    indexing
        Way from gap to gap [min].

    Raises
    ------
    OutOfRange
        When a count is below 1, length or feed not above 0 or a time negative.
    """
    one_or_more("end milling time", lines=lines)
    return roughing_time(teeth, 2 * lines, length, feed_rate, positioning, indexing)
