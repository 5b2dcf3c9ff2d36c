"""Closed outlines of a half-section for pictures."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sequencer.part.feature import Side
from sequencer.part.profile import SAME, Piece, Profile
from sequencer.units import Mm

Point = tuple[Mm, Mm]
Outline = tuple[Point, ...]


@dataclass(frozen=True)
class Ring:
    """A turned groove in a face.

    Parameters
    ----------
    side
        Which way its face looks.
    z_from, z_to
        Floor and face, in rising order [mm].
    inner, outer
        Diameters of its walls [mm].
    """

    side: Side
    z_from: Mm
    z_to: Mm
    inner: Mm
    outer: Mm

    @property
    def face(self) -> Mm:
        """Height of the face that carries it [mm]."""
        return self.z_to if self.side == "upper" else self.z_from

    @property
    def floor(self) -> Mm:
        """Height of its floor [mm]."""
        return self.z_from if self.side == "upper" else self.z_to


def outline(outside: Profile, inside: Profile, grooves: tuple[Ring, ...]) -> tuple[Outline, ...]:
    """Give the closed outlines of a half-section as rows of (z, r), the first point repeated at the end.

    Source: derived

    Parameters
    ----------
    outside, inside
        Profiles of the body.
    grooves
        Grooves in its faces.
    """
    up = _points(outside.pieces)
    down = _points(inside.pieces)[::-1]
    row = _tidy([*up, *down, up[0]])
    with_grooves: list[Point] = [row[0]]
    for start, end in pairwise(row):
        with_grooves += _along(start, end, grooves)
    return (tuple(_tidy(with_grooves)),)


def _points(pieces: tuple[Piece, ...]) -> list[Point]:
    points: list[Point] = []
    for piece in pieces:
        points += [(piece.z_from, piece.lower / 2), (piece.z_to, piece.upper / 2)]
    return points


def _along(start: Point, end: Point, grooves: tuple[Ring, ...]) -> list[Point]:
    """Points after `start` up to `end`; on a face the grooves in it are followed down and up."""
    if abs(start[0] - end[0]) > SAME:
        return [end]
    low, high = sorted((start[1], end[1]))
    here = [
        groove
        for groove in grooves
        if abs(groove.face - start[0]) <= SAME
        and low - SAME <= groove.inner / 2
        and groove.outer / 2 <= high + SAME
    ]
    inward = end[1] < start[1]
    points: list[Point] = []
    for groove in sorted(here, key=lambda ring: ring.inner, reverse=inward):
        first, last = groove.inner / 2, groove.outer / 2
        if inward:
            first, last = last, first
        points += [(start[0], first), (groove.floor, first), (groove.floor, last), (start[0], last)]
    return [*points, end]


def _tidy(points: list[Point]) -> list[Point]:
    """Leave out points that repeat the one before."""
    kept: list[Point] = []
    for point in points:
        if not kept or abs(point[0] - kept[-1][0]) > SAME or abs(point[1] - kept[-1][1]) > SAME:
            kept.append(point)
    return kept
