"""How high a tilted solid of revolution stands inside a ring around the work axis.

A point of the surface at the place s on the cutter axis and the turn theta is
``origin + s axis + r(s) (cos theta first + sin theta second)``. For a fixed theta each straight piece of
the profile is a straight line in space: the square of its distance to the work axis is a quadratic of the
position on the piece and its height is linear, so the highest point inside the ring lies at an end of the
piece or where the line enters or leaves the ring. Only theta is searched.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

Vector = tuple[float, float, float]
Piece = tuple[float, float, float, float]

_STEPS = 180
_CELLS = 8
_ROUNDS = 8
_NONE = -math.inf


@dataclass(frozen=True)
class Frame:
    """Where a cutter stands: a point of its axis and three square directions.

    Parameters
    ----------
    origin
        The point of the cutter axis with profile position 0 [mm].
    axis
        Unit vector along the cutter axis.
    first
        Unit vector square to the axis; theta counts from it.
    second
        Unit vector square to both.
    """

    origin: Vector
    axis: Vector
    first: Vector
    second: Vector

    def upside_down(self) -> Frame:
        """Mirror the frame at the plane z = 0."""
        flip = [(v[0], v[1], -v[2]) for v in (self.origin, self.axis, self.first, self.second)]
        return Frame(*flip)


@dataclass(frozen=True)
class Region:
    """A ring around the work axis.

    Parameters
    ----------
    inner
        Inner radius [mm].
    outer
        Outer radius, may be infinite [mm].
    ceiling
        Height above which nothing counts, may be infinite [mm].
    """

    inner: float
    outer: float
    ceiling: float = math.inf


@dataclass(frozen=True)
class _Line:
    """One straight piece of the profile turned to one theta."""

    x: float
    y: float
    z: float
    dx: float
    dy: float
    dz: float

    def at(self, t: float) -> Vector:
        """The point at the share t of the piece."""
        return self.x + t * self.dx, self.y + t * self.dy, self.z + t * self.dz


def pieces(profile: tuple[tuple[float, float], ...]) -> tuple[Piece, ...]:
    """Cut a profile into straight pieces and close its two ends with flat faces.

    Parameters
    ----------
    profile
        Pairs of position along the axis and radius [mm].
    """
    points = [(profile[0][0], 0.0), *profile, (profile[-1][0], 0.0)]
    return tuple((*a, *b) for a, b in pairwise(points) if a != b)


def highest(profile: tuple[tuple[float, float], ...], frame: Frame, region: Region) -> Vector | None:
    """Highest point of the body inside the region, or None when the body does not come there.

    Parameters
    ----------
    profile
        Pairs of position along the axis and radius [mm].
    frame
        Where the cutter stands.
    region
        Where points count.
    """
    if region.inner == math.inf:
        return None
    best: tuple[float, Piece, float] | None = None
    for piece in sorted(pieces(profile), key=lambda p: -_bound(p, frame)):
        if best is not None and _bound(piece, frame) <= best[0]:
            break
        height, theta = _peak(piece, frame, region)
        if height > _NONE and (best is None or height > best[0]):
            best = height, piece, theta
    if best is None:
        return None
    _, piece, theta = best
    return _highest_on(_line(piece, frame, theta), region)[1]


def _bound(piece: Piece, frame: Frame) -> float:
    """A height that no point of the piece exceeds."""
    swing = math.hypot(frame.first[2], frame.second[2])
    s0, r0, s1, r1 = piece
    return frame.origin[2] + max(s0 * frame.axis[2] + r0 * swing, s1 * frame.axis[2] + r1 * swing)


def _line(piece: Piece, frame: Frame, theta: float) -> _Line:
    s0, r0, s1, r1 = piece
    c, s = math.cos(theta), math.sin(theta)
    (ox, oy, oz), (ax, ay, az) = frame.origin, frame.axis
    rx = c * frame.first[0] + s * frame.second[0]
    ry = c * frame.first[1] + s * frame.second[1]
    rz = c * frame.first[2] + s * frame.second[2]
    ds, dr = s1 - s0, r1 - r0
    return _Line(
        ox + s0 * ax + r0 * rx,
        oy + s0 * ay + r0 * ry,
        oz + s0 * az + r0 * rz,
        ds * ax + dr * rx,
        ds * ay + dr * ry,
        ds * az + dr * rz,
    )


def _highest_on(line: _Line, region: Region) -> tuple[float, Vector]:
    """Highest point of a straight line piece inside the region; minus infinity when there is none."""
    a = line.dx * line.dx + line.dy * line.dy
    b = line.x * line.dx + line.y * line.dy
    c = line.x * line.x + line.y * line.y
    shares = [0.0, 1.0]
    for radius in (region.inner, region.outer):
        if 0 < radius < math.inf:
            shares += _crossings(a, b, c - radius * radius)
    if line.dz and region.ceiling < math.inf:
        shares.append((region.ceiling - line.z) / line.dz)
    best, where = _NONE, (0.0, 0.0, 0.0)
    for t in shares:
        if not 0.0 <= t <= 1.0:
            continue
        z = line.z + t * line.dz
        if z > best and z <= region.ceiling + 1e-9 and _inside(c + t * (2 * b + t * a), region):
            best, where = z, line.at(t)
    return best, where


def _inside(square: float, region: Region) -> bool:
    slack = 1e-9 * (1.0 + square)
    if square < region.inner * region.inner - slack:
        return False
    return region.outer == math.inf or square <= region.outer * region.outer + slack


def _crossings(a: float, b: float, c: float) -> list[float]:
    """Solutions of a t^2 + 2 b t + c = 0."""
    if a < 1e-18:
        return []
    inside = b * b - a * c
    if inside < 0:
        return []
    root = math.sqrt(inside)
    return [(-b - root) / a, (-b + root) / a]


def _peak(piece: Piece, frame: Frame, region: Region) -> tuple[float, float]:
    """Greatest height over theta of one piece, and the theta where it is found."""
    step = 2 * math.pi / _STEPS
    heights = [_highest_on(_line(piece, frame, i * step), region)[0] for i in range(_STEPS)]
    best = max(heights)
    if best == _NONE:
        return _NONE, 0.0
    top = heights.index(best)
    where = top * step
    for i, height in enumerate(heights):
        is_peak = heights[i - 1] <= height > heights[(i + 1) % _STEPS]
        if i != top and (height == _NONE or not is_peak):
            continue
        found = _refined(piece, frame, region, i * step, step)
        if found[0] > best:
            best, where = found
    return best, where


def _refined(piece: Piece, frame: Frame, region: Region, theta: float, step: float) -> tuple[float, float]:
    """Narrow a local maximum that lies within one step around theta."""
    best, where = _highest_on(_line(piece, frame, theta), region)[0], theta
    half = step
    for _ in range(_ROUNDS):
        middle, cell = where, half / _CELLS
        for k in range(-_CELLS, _CELLS + 1):
            at = middle + k * cell
            height = _highest_on(_line(piece, frame, at), region)[0]
            if height > best:
                best, where = height, at
        half = cell
    return best, where
