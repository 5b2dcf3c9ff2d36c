"""Room of a cutter whose axis stands square to a cone, in the plane through the work axis.

The work axis points up, heights count along it. A cutter square to a cone lies in the plane through the work
axis, and everything beside it is a solid of revolution: in that plane the cutter comes nearest.
"""

from __future__ import annotations

import math
from itertools import pairwise

from sequencer.cutting._ranges import finite, not_negative, within
from sequencer.units import Deg, Mm

Point = tuple[float, float]
#: Positions along the axis from the cutter's tip, and diameters there, in rising order.
Steps = tuple[tuple[Mm, Mm], ...]


def clash_beside_cone(steps: Steps, radius: Mm, height: Mm, lean: Deg, low: Mm, high: Mm, outer: Mm) -> Mm:
    """How deep a cutter stands in a cylinder on the work axis; 0 if it is clear.

    Source: derived: the outlines of the steps, cut to the heights of the cylinder, against its radius.

    Parameters
    ----------
    steps
        Outline of the cutter behind its tip [mm].
    radius
        Radius at which its tip stands [mm].
    height
        Height at which its tip stands [mm].
    lean
        Angle of its axis above the level, below 0 if it points up [deg].
    low
        Height of the lower end of the cylinder; may be endless [mm].
    high
        Height of its upper end; may be endless [mm].
    outer
        Radius of the cylinder [mm].

    Raises
    ------
    OutOfRange
        When a radius is negative, the lean beyond 90 deg or a number not finite.
    """
    not_negative("cutter beside a cone", radius=radius, outer=outer)
    finite("cutter beside a cone", height=height)
    within("cutter beside a cone", -90.0, 90.0, lean=lean)
    along = (math.cos(math.radians(lean)), math.sin(math.radians(lean)))
    deepest = 0.0
    for (start, size), (end, other) in pairwise(steps):
        if end <= start:
            continue
        half = max(size, other) / 2
        corners = [
            (radius + s * along[0] - w * along[1], height + s * along[1] + w * along[0])
            for s, w in ((start, -half), (end, -half), (end, half), (start, half))
        ]
        inside = _between(corners, low, high)
        if inside:
            deepest = max(deepest, outer - max(min(r for r, _ in inside), 0.0))
    return deepest


def _between(corners: list[Point], low: Mm, high: Mm) -> list[Point]:
    """Corners of a convex outline cut to a band of heights; a mere touch does not count."""
    kept = [point for point in corners if low + 1e-9 < point[1] < high - 1e-9]
    for one, other in pairwise([*corners, corners[0]]):
        for level in (low, high):
            if math.isfinite(level) and (one[1] - level) * (other[1] - level) < 0:
                share = (level - one[1]) / (other[1] - one[1])
                kept.append((one[0] + share * (other[0] - one[0]), level))
    return kept
