"""The part while it is being made: outline, mass, centre, inertia and unbalance with some features cut."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from math import hypot

from sequencer.part import extents, outlines, solid
from sequencer.part.feature import Place
from sequencer.part.part import BLANK, AnyFeature
from sequencer.part.profile import SAME, Piece, Profile, cylinder, make_profile
from sequencer.part.section import Outline, Section
from sequencer.part.surfaces import TOOTHED, carved_pieces, place_of
from sequencer.part.turned import FaceGroove
from sequencer.part.unbalance import Unbalance, unbalance_of
from sequencer.units import Kg, Mm


@dataclass(frozen=True)
class Made:
    """How far a feature is.

    Parameters
    ----------
    left
        Stock left on it, per side [mm].
    toothed
        True once its teeth are cut; before that the blank is solid up to the tips.
    """

    left: Mm = 0.0
    toothed: bool = True


@dataclass(frozen=True)
class StageBody:
    """The part with some of its features cut, as a body of revolution less holes, keyways and pockets.

    Parameters
    ----------
    section
        Half-section of the finished part.
    made
        Features that are cut so far and how far each is.
    """

    section: Section
    made: Mapping[str, Made]

    @cached_property
    def z_from(self) -> Mm:
        """Lowest face [mm]."""
        face, blank = self.made.get(self.section.lower_face), float(self.section.part.blank.z_from)
        return blank if face is None else max(blank, self.section.z_from - face.left)

    @cached_property
    def z_to(self) -> Mm:
        """Highest face [mm]."""
        face, blank = self.made.get(self.section.upper_face), float(self.section.part.blank.z_to)
        return blank if face is None else min(blank, self.section.z_to + face.left)

    @cached_property
    def outside(self) -> Profile:
        """Outside surface; teeth at their tips."""
        return self._profile("outside")

    @cached_property
    def inside(self) -> Profile:
        """Inside surface; teeth at their tips. A bore is cut through the stock on the faces as well."""
        return self._profile("inside")

    def _profile(self, place: Place) -> Profile:
        section, inside = self.section, place == "inside"
        blank = section.part.blank
        bare = cylinder(BLANK, self.z_from, self.z_to, float(blank.bore if inside else blank.diameter))
        known = [
            feature
            for feature in section.part.features
            if place_of(feature) == place and feature.name in self.made
        ]
        part = section.part.model_copy(update={"features": tuple(known)})
        pieces = [self._as_made(piece, inside) for piece in (carved_pieces(part, place) if known else ())]
        if inside:
            return make_profile((bare, *self._through(pieces)), self.z_from, self.z_to, bare, max)
        return make_profile((bare, *pieces), self.z_from, self.z_to, bare, min)

    def _as_made(self, piece: Piece, inside: bool) -> Piece:
        """A finished piece with the stock that is left on it."""
        made = self.made[piece.feature]
        more = -2 * made.left if inside else 2 * made.left
        lower, upper = max(0.0, piece.lower + more), max(0.0, piece.upper + more)
        if not made.toothed:
            return replace(piece, lower=lower, upper=upper, root_lower=lower, root_upper=upper)
        roots = (max(0.0, piece.root_lower + more), max(0.0, piece.root_upper + more))
        return replace(piece, lower=lower, upper=upper, root_lower=roots[0], root_upper=roots[1])

    def _through(self, pieces: Iterable[Piece]) -> list[Piece]:
        """Inside pieces at the end of the part go on through the stock on its face."""
        section, longer = self.section, []
        for piece in pieces:
            plain = self.section.part.by_name[piece.feature]
            if isinstance(plain, TOOTHED):
                longer.append(piece)
                continue
            z_from, z_to = piece.z_from, piece.z_to
            if abs(z_from - section.z_from) < SAME and self.z_from < z_from:
                longer.append(replace(piece, z_from=self.z_from, z_to=z_from, upper=piece.lower))
            if abs(z_to - section.z_to) < SAME and self.z_to > z_to:
                longer.append(replace(piece, z_from=z_to, z_to=self.z_to, lower=piece.upper))
            longer.append(piece)
        return longer

    def _rings(self) -> tuple[outlines.Ring, ...]:
        found = []
        for feature in self.section.part.features:
            if isinstance(feature, FaceGroove) and feature.name in self.made:
                extent, left = self.section.extent(feature.name), self.made[feature.name].left
                inner, outer = extent.inner + 2 * left, extent.outer - 2 * left
                if inner < outer:
                    found.append(
                        outlines.Ring(feature.side, extent.z_from, extent.z_to, inner, outer),
                    )
        return tuple(found)

    @property
    def outline(self) -> tuple[Outline, ...]:
        """Closed outlines of the half-section, each a row of (z, r) points in the drawing."""
        return outlines.outline(self.outside, self.inside, self._rings())

    @cached_property
    def solid(self) -> solid.Solid:
        """Integrals of the body; teeth count as solid up to their mean diameter."""
        total = solid.of_pieces(self.outside.pieces) - solid.of_pieces(self.inside.pieces)
        for ring in self._rings():
            total -= solid.ring(ring.z_from, ring.z_to, ring.inner, ring.outer)
        for feature in self._cut():
            total -= extents.removed(self.section, feature)
        return total

    def _cut(self) -> list[AnyFeature]:
        return [feature for feature in self.section.part.features if feature.name in self.made]

    def mass(self, density: float) -> Kg:
        """Give the mass; scaled if the blank was weighed.

        Source: derived; pi times the integral of r^2 over the section

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        return self.solid.mass(density) * self._weighed(density)

    def inertia(self, density: float) -> float:
        """Give the moment of inertia about the axis; scaled if the blank was weighed [kg m2].

        Source: derived; integral of r^2 dm over the section

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        return self.solid.inertia(density) * self._weighed(density)

    def _weighed(self, density: float) -> float:
        """Weighed mass of the blank over the one computed from its sizes; 1 if it is not weighed."""
        weighed = self.section.part.blank.mass
        return 1.0 if weighed is None else float(weighed) / self.section.stock_mass(density)

    def unbalance(self, density: float) -> Unbalance:
        """Give the static unbalance from holes, keyways, flats and pockets that are cut so far.

        Source: derived; sum of removed mass times radius as vectors

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        vectors = [unbalance_of(self.section, feature) for feature in self._cut()]
        x, y = sum(vector[0] for vector in vectors), sum(vector[1] for vector in vectors)
        # What is taken away on one side weighs on the other.
        largest = max(zip(vectors, self._cut(), strict=True), key=lambda pair: hypot(*pair[0]), default=None)
        name = largest[1].name if largest is not None and hypot(*largest[0]) > 0 else ""
        return Unbalance(0.0 - x * density * 1e-6, 0.0 - y * density * 1e-6, name)

    @property
    def largest_diameter(self) -> Mm:
        """Largest outside diameter [mm]."""
        return max(max(piece.lower, piece.upper) for piece in self.outside.pieces)
