"""Infeed passes of power skiving and their time."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative, one_or_more, within
from sequencer.units import Deg, Minutes, Mm, Rpm

#: More passes than this are no plan but a slip in the numbers.
_MOST_PASSES: Final = 500


@dataclass(frozen=True)
class Infeeds:
    """Radial infeeds of the passes, first to last.

    Parameters
    ----------
    infeeds
        Infeed of each pass [mm].
    """

    infeeds: tuple[Mm, ...]

    @property
    def passes(self) -> int:
        """Number of passes."""
        return len(self.infeeds)

    @property
    def depth(self) -> Mm:
        """Depth after the last pass [mm]."""
        return math.fsum(self.infeeds)


def infeed_passes(
    depth: Mm,
    tip_width: Mm,
    pressure_angle: Deg,
    largest: Mm,
    smallest: Mm,
    finish: Mm = 0.0,
) -> Infeeds:
    """Decreasing radial infeeds that each cut about the same area of the tooth gap, down to a chip limit.

    Source: derived; gap area to depth y is A = w y + y^2 tan(alpha), the passes share it evenly, the first
    takes at most the largest infeed and none less than the smallest, below which an edge rubs.

    Parameters
    ----------
    depth
        Whole depth of the teeth [mm].
    tip_width
        Width of the gap at its bottom, w [mm].
    pressure_angle
        Pressure angle, alpha [deg].
    largest
        Largest infeed of a pass [mm].
    smallest
        Smallest infeed of a pass [mm].
    finish
        Infeed of one finishing pass at the end; 0 for none [mm].

    Raises
    ------
    OutOfRange
        When a value is not above 0, the largest infeed below twice the smallest, the finish not below the
        depth, or more than 500 passes come out.
    """
    where = "skiving infeeds"
    above_zero(where, depth=depth, tip_width=tip_width, largest_infeed=largest, smallest_infeed=smallest)
    within(where, 0.0, 45.0, pressure_angle=pressure_angle)
    within(where, 0.0, largest / 2, "Keep it at most half the largest infeed", smallest_infeed=smallest)
    within(where, 0.0, depth * (1 - 1e-9), finish_infeed=finish)
    rough = depth - finish
    slope = math.tan(math.radians(pressure_angle))
    share = largest * (tip_width + slope * largest)
    total = rough * (tip_width + slope * rough)
    passes = math.ceil(total / share - 1e-9)
    most = min(passes, math.ceil(rough / smallest))
    within(where, 1, _MOST_PASSES, "Raise the infeeds", passes=most)
    share = total / passes
    infeeds: list[Mm] = []
    done = 0.0
    while rough - done > 1e-9:
        infeed = max(_depth_for(done * (tip_width + slope * done) + share, tip_width, slope) - done, smallest)
        left = rough - done
        if left - infeed < smallest:
            infeed = left if left <= largest + 1e-9 else left / 2
        infeeds.append(infeed)
        done += infeed
    return Infeeds((*infeeds, finish) if finish > 0 else tuple(infeeds))


def passes_time(face_width: Mm, approach: Mm, overrun: Mm, feeds: tuple[Mm, ...], gear_rpm: Rpm) -> Minutes:
    """Time of all skiving passes, T = sum of (b + approach + overrun) / (f_a n_w).

    Source: Gear Technology 2021, as quoted; the passes may have feeds of their own.

    Parameters
    ----------
    face_width
        Face width along the axis [mm].
    approach
        Axial feed path before the teeth [mm].
    overrun
        Axial feed path behind the teeth [mm].
    feeds
        Axial feed per table revolution of each pass [mm].
    gear_rpm
        Table revolutions [1/min].

    Raises
    ------
    OutOfRange
        When a value is not above 0, a path negative or there is no pass.
    """
    above_zero("skiving time", face_width=face_width, table_rpm=gear_rpm)
    not_negative("skiving time", approach=approach, overrun=overrun)
    one_or_more("skiving time", passes=len(feeds))
    for feed in feeds:
        above_zero("skiving time", feed=feed)
    return math.fsum((face_width + approach + overrun) / (feed * gear_rpm) for feed in feeds)


def _depth_for(area: float, width: Mm, slope: float) -> Mm:
    """Depth at which a gap with straight flanks has a given area."""
    if slope < 1e-12:
        return area / width
    return (-width + math.sqrt(width * width + 4 * slope * area)) / (2 * slope)
