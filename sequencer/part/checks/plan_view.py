"""Outlines of holes and pockets seen along the axis, and whether two of them meet."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, pi, radians, sin
from typing import Final

from sequencer.units import Deg, Mm

#: Outlines that only touch do not meet [mm].
_TOUCH: Final = 1e-6


@dataclass(frozen=True)
class Disc:
    """A round hole.

    Parameters
    ----------
    x, y
        Its centre [mm].
    radius
        Its radius [mm].
    """

    x: Mm
    y: Mm
    radius: Mm

    @property
    def reach(self) -> tuple[Mm, Mm]:
        """Smallest and largest distance from the axis [mm]."""
        middle = hypot(self.x, self.y)
        return max(0.0, middle - self.radius), middle + self.radius


@dataclass(frozen=True)
class Box:
    """A rectangle with one side along the radius.

    Parameters
    ----------
    x, y
        Its centre [mm].
    angle
        Direction of its radial side [deg].
    radial, across
        Its sides, along the radius and across it [mm].
    """

    x: Mm
    y: Mm
    angle: Deg
    radial: Mm
    across: Mm

    def inside_frame(self, x: Mm, y: Mm) -> tuple[Mm, Mm]:
        """Give a point as seen from the centre, along and across the radial side.

        Parameters
        ----------
        x, y
            The point [mm].
        """
        a, dx, dy = radians(self.angle), x - self.x, y - self.y
        return dx * cos(a) + dy * sin(a), dy * cos(a) - dx * sin(a)

    @property
    def corners(self) -> tuple[tuple[Mm, Mm], ...]:
        """The four corners [mm]."""
        a = radians(self.angle)
        found = []
        for u, v in ((1, 1), (1, -1), (-1, -1), (-1, 1)):
            r, t = u * self.radial / 2, v * self.across / 2
            found.append((self.x + r * cos(a) - t * sin(a), self.y + r * sin(a) + t * cos(a)))
        return tuple(found)

    @property
    def reach(self) -> tuple[Mm, Mm]:
        """Smallest and largest distance from the axis [mm]."""
        u, v = self.inside_frame(0.0, 0.0)
        nearest = hypot(max(0.0, abs(u) - self.radial / 2), max(0.0, abs(v) - self.across / 2))
        return nearest, max(hypot(x, y) for x, y in self.corners)


Outline = Disc | Box


def spread(count: int, diameter: Mm, start: Deg) -> tuple[tuple[Mm, Mm, Deg], ...]:
    """Give centres and angles of equal features on a circle.

    Source: derived

    Parameters
    ----------
    count
        How many.
    diameter
        Diameter of their circle [mm].
    start
        Angle of the first [deg].
    """
    angles = [start + 360.0 * at / count for at in range(count)]
    radius = diameter / 2
    return tuple((radius * cos(a * pi / 180), radius * sin(a * pi / 180), a) for a in angles)


def meet(one: Outline, other: Outline) -> bool:
    """Say whether two outlines overlap; corners of boxes count as sharp.

    Source: derived; boxes by the axis that parts them

    Parameters
    ----------
    one, other
        Outlines.
    """
    if isinstance(one, Disc) and isinstance(other, Disc):
        return hypot(one.x - other.x, one.y - other.y) < one.radius + other.radius - _TOUCH
    if isinstance(one, Box) and isinstance(other, Box):
        return not (_parted(one, other) or _parted(other, one))
    if isinstance(one, Disc) and isinstance(other, Box):
        return _in_box(one, other)
    return isinstance(one, Box) and isinstance(other, Disc) and _in_box(other, one)


def _in_box(disc: Disc, box: Box) -> bool:
    u, v = box.inside_frame(disc.x, disc.y)
    away = hypot(max(0.0, abs(u) - box.radial / 2), max(0.0, abs(v) - box.across / 2))
    return away < disc.radius - _TOUCH


def _parted(box: Box, other: Box) -> bool:
    """Whether a side of one box lies between the two."""
    seen = [box.inside_frame(x, y) for x, y in other.corners]
    for axis, half in ((0, box.radial / 2), (1, box.across / 2)):
        row = [point[axis] for point in seen]
        if min(row) >= half - _TOUCH or max(row) <= _TOUCH - half:
            return True
    return False
