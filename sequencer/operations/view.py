"""The part as it is seen from above in a clamping; turned over, the drawing's lower side looks up."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import inf

from sequencer.part.feature import Side
from sequencer.part.profile import SAME, Piece, Profile
from sequencer.part.section import Section
from sequencer.units import Mm


@dataclass(frozen=True)
class Edge:
    """The surface that stands furthest in the way.

    Parameters
    ----------
    diameter
        Its diameter [mm].
    feature
        Feature that makes it.
    """

    diameter: Mm
    feature: str


@dataclass(frozen=True)
class View:
    """A half-section and the side of it that looks up.

    Parameters
    ----------
    section
        Finished half-section, gears at their tips.
    up
        Side of the drawing that looks up.
    """

    section: Section
    up: Side

    def height(self, z: Mm) -> Mm:
        """Height along the axis, rising upwards in this clamping [mm].

        Parameters
        ----------
        z
            Position in the drawing [mm].
        """
        return z if self.up == "upper" else -z

    @cached_property
    def top(self) -> Mm:
        """Height of the highest finished face [mm]."""
        return self.height(self.section.z_to if self.up == "upper" else self.section.z_from)

    @cached_property
    def bottom(self) -> Mm:
        """Height of the lowest finished face [mm]."""
        return self.height(self.section.z_from if self.up == "upper" else self.section.z_to)

    def ends(self, z_from: Mm, z_to: Mm) -> tuple[Mm, Mm]:
        """Heights of the lower and the upper end of a zone as it stands [mm].

        Parameters
        ----------
        z_from, z_to
            Ends in the drawing [mm].
        """
        low, high = sorted((self.height(z_from), self.height(z_to)))
        return low, high

    def depth(self, z_from: Mm, z_to: Mm) -> Mm:
        """From the highest face down to the far end of a zone [mm].

        Parameters
        ----------
        z_from, z_to
            Ends in the drawing [mm].
        """
        return self.top - self.ends(z_from, z_to)[0]

    def _above(self, profile: Profile, height: Mm) -> tuple[Piece, ...]:
        z = self.height(height)
        low, high = self.section.z_from, self.section.z_to
        return profile.between(z, high) if self.up == "upper" else profile.between(low, z)

    def _below(self, profile: Profile, height: Mm) -> tuple[Piece, ...]:
        z = self.height(height)
        low, high = self.section.z_from, self.section.z_to
        return profile.between(low, z) if self.up == "upper" else profile.between(z, high)

    def narrowest_above(self, height: Mm) -> Edge | None:
        """Give the narrowest inside surface above a height; None where nothing lies above.

        Parameters
        ----------
        height
            Height in this clamping [mm].
        """
        found = [
            Edge(min(piece.lower, piece.upper), piece.feature)
            for piece in self._above(self.section.inside, height)
        ]
        return min(found, key=lambda edge: edge.diameter) if found else None

    def widest_above(self, height: Mm) -> Edge | None:
        """Give the widest outside surface above a height; None where nothing lies above.

        Parameters
        ----------
        height
            Height in this clamping [mm].
        """
        found = [
            Edge(max(piece.lower, piece.upper), piece.feature)
            for piece in self._above(self.section.outside, height)
        ]
        return max(found, key=lambda edge: edge.diameter) if found else None

    def room_above(self, height: Mm, diameter: Mm) -> Mm:
        """Length above a height over which the inside is at least so wide; infinite if up to the top [mm].

        Source: derived

        Parameters
        ----------
        height
            Height in this clamping [mm].
        diameter
            Diameter that is needed [mm].
        """
        pieces = self._above(self.section.inside, height)
        for piece in pieces if self.up == "upper" else reversed(pieces):
            if min(piece.lower, piece.upper) < diameter - SAME:
                return self.ends(piece.z_from, piece.z_to)[0] - height
        return inf

    def top_beyond(self, height: Mm, diameter: Mm) -> Mm:
        """Height up to which material above stands out beyond a diameter; the height if none does [mm].

        Source: derived

        Parameters
        ----------
        height
            Height in this clamping [mm].
        diameter
            Diameter [mm].
        """
        tops = [
            self.ends(piece.z_from, piece.z_to)[1]
            for piece in self._above(self.section.outside, height)
            if max(piece.lower, piece.upper) > diameter + SAME
        ]
        return max(tops, default=height)

    def inside_below(self, height: Mm) -> Edge | None:
        """Give the inside surface directly below a height; None where nothing lies below.

        Parameters
        ----------
        height
            Height in this clamping [mm].
        """
        pieces = self._below(self.section.inside, height)
        if not pieces:
            return None
        nearest = pieces[-1] if self.up == "upper" else pieces[0]
        return Edge(min(nearest.lower, nearest.upper), nearest.feature)

    def wall_beside(self, height: Mm, diameter: Mm, clearance: Mm) -> Mm:
        """Height of the wall that rises beside a point of a face within a clearance [mm].

        Source: derived

        Parameters
        ----------
        height
            Height of the face [mm].
        diameter
            Diameter at which the point lies [mm].
        clearance
            Radius of what must pass the wall [mm].
        """
        near, far = diameter - 2 * clearance, diameter + 2 * clearance
        walls = [
            self.ends(piece.z_from, piece.z_to)[1]
            for piece in self._above(self.section.outside, height)
            if max(piece.lower, piece.upper) > near and max(piece.lower, piece.upper) <= diameter + SAME
        ]
        walls += [
            self.ends(piece.z_from, piece.z_to)[1]
            for piece in self._above(self.section.inside, height)
            if diameter - SAME <= min(piece.lower, piece.upper) < far
        ]
        return max(walls, default=height) - height
