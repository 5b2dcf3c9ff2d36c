"""Piecewise linear profile of a turned surface: which feature makes it at each height."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import Final

from sequencer.units import Mm

#: Computed sizes closer than this are the same [mm].
SAME: Final = 1e-6
#: Drawings round their sizes; heights and diameters within this are meant to be the same [mm].
ROUNDING: Final = 0.011


@dataclass(frozen=True)
class Piece:
    """A straight piece of a profile that one feature makes.

    Parameters
    ----------
    feature
        Name of the feature, or "blank" where no feature says anything.
    z_from, z_to
        Ends on the axis [mm].
    lower, upper
        Diameters at the ends [mm].
    root_lower, root_upper
        Diameters of the tooth root at the ends; the surface itself where there are no teeth [mm].
    """

    feature: str
    z_from: Mm
    z_to: Mm
    lower: Mm
    upper: Mm
    root_lower: Mm
    root_upper: Mm

    @property
    def length(self) -> Mm:
        """Length along the axis [mm]."""
        return self.z_to - self.z_from

    def diameter(self, z: Mm) -> Mm:
        """Diameter of the surface at a height within the piece.

        Parameters
        ----------
        z
            Height on the axis [mm].
        """
        return self.lower + (self.upper - self.lower) * (z - self.z_from) / self.length

    def root(self, z: Mm) -> Mm:
        """Diameter of the tooth root at a height within the piece.

        Parameters
        ----------
        z
            Height on the axis [mm].
        """
        return self.root_lower + (self.root_upper - self.root_lower) * (z - self.z_from) / self.length

    def cut(self, z_from: Mm, z_to: Mm) -> Piece:
        """Give the part of the piece between two heights.

        Parameters
        ----------
        z_from, z_to
            Ends of the part [mm].
        """
        return replace(
            self,
            z_from=z_from,
            z_to=z_to,
            lower=self.diameter(z_from),
            upper=self.diameter(z_to),
            root_lower=self.root(z_from),
            root_upper=self.root(z_to),
        )


def cylinder(feature: str, z_from: Mm, z_to: Mm, diameter: Mm, root: Mm | None = None) -> Piece:
    """Make a piece of one diameter.

    Parameters
    ----------
    feature
        Name of the feature.
    z_from, z_to
        Ends on the axis [mm].
    diameter
        Diameter of the surface [mm].
    root
        Root diameter of teeth; none if left out [mm].
    """
    below = diameter if root is None else root
    return Piece(feature, z_from, z_to, diameter, diameter, below, below)


@dataclass(frozen=True)
class Profile:
    """Surface from the lower to the upper end without gaps.

    Parameters
    ----------
    pieces
        Pieces in rising order; each begins where the one before ends.
    """

    pieces: tuple[Piece, ...]

    def at(self, z: Mm) -> tuple[Piece, ...]:
        """Give the pieces at a height: two at a step, none beyond the ends.

        Parameters
        ----------
        z
            Height on the axis [mm].
        """
        index = bisect_right(self.pieces, z, key=lambda piece: piece.z_from) - 1
        near = self.pieces[max(index - 1, 0) : index + 2]
        return tuple(piece for piece in near if piece.z_from - SAME <= z <= piece.z_to + SAME)

    def between(self, z_from: Mm, z_to: Mm) -> tuple[Piece, ...]:
        """Give the pieces between two heights, cut to them.

        Parameters
        ----------
        z_from, z_to
            Ends [mm].
        """
        found = []
        for piece in self.pieces:
            low, high = max(piece.z_from, z_from), min(piece.z_to, z_to)
            if high - low > SAME:
                found.append(piece.cut(low, high))
        return tuple(found)


def make_profile(
    pieces: Iterable[Piece], z_from: Mm, z_to: Mm, background: Piece, choose: Callable[[Iterable[Mm]], Mm]
) -> Profile:
    """Lay pieces over each other: the deepest cut makes the surface.

    Parameters
    ----------
    pieces
        What the features say; of two that say the same the later one wins.
    z_from, z_to
        Ends of the body [mm].
    background
        Surface where no feature says anything.
    choose
        `min` for an outside surface, `max` for an inside one.
    """
    laid = [piece for piece in pieces if piece.length > ROUNDING]
    heights = _heights(laid, z_from, z_to)
    chosen: list[Piece] = []
    for low, high in pairwise(heights):
        middle = (low + high) / 2
        here = [piece for piece in laid if piece.z_from - ROUNDING <= low and high <= piece.z_to + ROUNDING]
        if here:
            deepest = choose(piece.diameter(middle) for piece in here)
            piece = next(p for p in reversed(here) if abs(p.diameter(middle) - deepest) < SAME)
        else:
            piece = background
        _append(chosen, piece, low, high)
    return Profile(tuple(chosen))


def _append(chosen: list[Piece], piece: Piece, low: Mm, high: Mm) -> None:
    cut = piece.cut(low, high)
    if chosen:
        before = chosen[-1]
        joined = piece.cut(before.z_from, high)
        same = abs(joined.lower - before.lower) < SAME and abs(joined.diameter(low) - before.upper) < SAME
        if before.feature == piece.feature and same:
            chosen[-1] = joined
            return
    chosen.append(cut)


def _heights(pieces: list[Piece], z_from: Mm, z_to: Mm) -> list[Mm]:
    """All ends and crossings inside the body, in rising order; those within the rounding count once."""
    raw: list[Mm] = []
    for piece in pieces:
        raw += [piece.z_from, piece.z_to]
    for one, other in combinations(pieces, 2):
        raw += _crossing(one, other)
    heights = [z_from]
    for z in sorted(raw):
        if z - heights[-1] > ROUNDING and z_to - z > ROUNDING:
            heights.append(z)
    return [*heights, z_to]


def _crossing(one: Piece, other: Piece) -> list[Mm]:
    low, high = max(one.z_from, other.z_from), min(one.z_to, other.z_to)
    if high - low <= SAME:
        return []
    below = one.diameter(low) - other.diameter(low)
    above = one.diameter(high) - other.diameter(high)
    if below * above >= 0:
        return []
    return [low + (high - low) * below / (below - above)]
