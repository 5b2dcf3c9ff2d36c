"""Half-section of the finished part and of its blank, computed from the features."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from sequencer.part import extents, outlines, solid
from sequencer.part.feature import Place, Side
from sequencer.part.part import BLANK, Part
from sequencer.part.profile import SAME, Piece, Profile, cylinder, make_profile
from sequencer.part.surfaces import Shape, carved_pieces, is_bare, place_of
from sequencer.part.turned import Face, FaceGroove
from sequencer.units import Mm

Half = Literal["lower", "upper"]
Outline = outlines.Outline


@dataclass(frozen=True)
class Extent:
    """Zone of a feature.

    Parameters
    ----------
    z_from, z_to
        Ends on the axis; equal for a face [mm].
    inner, outer
        Diameters between which it lies: root and tip of teeth, floor and surface of a groove, twice the
        diameter itself for a cylinder [mm].
    """

    z_from: Mm
    z_to: Mm
    inner: Mm
    outer: Mm


@dataclass(frozen=True)
class Neighbour:
    """Material beyond the end of teeth that stands proud of their root.

    Parameters
    ----------
    feature
        Feature that it belongs to, or "blank" where no feature says anything.
    diameter
        Its diameter: the largest beside outside teeth, the smallest beside inside teeth [mm].
    gap
        Free room along the axis between the teeth and it [mm].
    """

    feature: str
    diameter: Mm
    gap: Mm


@dataclass(frozen=True)
class Bare:
    """A stretch of the surface that no feature describes: it stays as on the blank.

    Parameters
    ----------
    place
        Outside or inside.
    z_from, z_to
        Ends on the axis [mm].
    """

    place: Place
    z_from: Mm
    z_to: Mm


@dataclass(frozen=True)
class Section(Shape):
    """Half-section; z runs up the axis from the lower finished face, diameters are diameters.

    Parameters
    ----------
    part
        The part that it is computed from.
    z_from, z_to
        Lowest and highest finished face [mm].
    outside, inside
        Profiles of the finished part, outside teeth and inside teeth at their tips.
    lower_face, upper_face
        Names of the lowest and the highest face; empty where the part names none.
    """

    lower_face: str
    upper_face: str

    def outer_diameter(self, z: Mm) -> Mm:
        """Give the outside diameter of the finished part; the larger one at a step, 0 beyond the ends [mm].

        Source: derived

        Parameters
        ----------
        z
            Height on the axis [mm].
        """
        return max((piece.diameter(z) for piece in self.outside.at(z)), default=0.0)

    def inner_diameter(self, z: Mm) -> Mm:
        """Give the bore of the finished part; the smaller one at a step, 0 where it is solid [mm].

        Source: derived

        Parameters
        ----------
        z
            Height on the axis [mm].
        """
        return min((piece.diameter(z) for piece in self.inside.at(z)), default=0.0)

    def extent(self, name: str) -> Extent:
        """Give the zone of a feature.

        Source: derived

        Parameters
        ----------
        name
            Name of the feature.

        Raises
        ------
        KeyError
            When the part has no feature of that name.
        """
        return Extent(*extents.extent_of(self, self.part.by_name[name]))

    @cached_property
    def bare(self) -> tuple[Bare, ...]:
        """Stretches that no feature describes, outside ones first."""
        found: list[Bare] = []
        places: tuple[tuple[Place, Profile], ...] = (("outside", self.outside), ("inside", self.inside))
        for place, profile in places:
            found += [
                Bare(place, piece.z_from, piece.z_to)
                for piece in profile.pieces
                if is_bare(piece) and piece.lower > 0
            ]
        return tuple(found)

    def obstacles(
        self, name: str, half: Half | None = None
    ) -> tuple[tuple[Neighbour, ...], tuple[Neighbour, ...]]:
        """Give all material below and above teeth that stands proud of their root, the nearest first.

        Source: derived

        Parameters
        ----------
        name
            Name of the gear, spline or thread.
        half
            Which half of a double-helical gear; the whole gear if left out.

        Raises
        ------
        KeyError
            When the part has no feature of that name.
        """
        feature = self.part.by_name[name]
        z_from, z_to = extents.zone_of(feature, half)
        teeth = self.extent(name)
        profile, root, proud = self.outside, teeth.inner, 1.0
        if place_of(feature) == "inside":
            profile, root, proud = self.inside, teeth.outer, -1.0
        below = (
            _obstacle(piece, root, proud, z_from, -1.0)
            for piece in reversed(profile.between(self.z_from, z_from))
        )
        above = (_obstacle(piece, root, proud, z_to, 1.0) for piece in profile.between(z_to, self.z_to))
        return tuple(n for n in below if n is not None), tuple(n for n in above if n is not None)

    def neighbours(self, name: str, half: Half | None = None) -> tuple[Neighbour | None, Neighbour | None]:
        """Give the first material below and above teeth that stands proud of their root.

        Source: derived

        Parameters
        ----------
        name
            Name of the gear, spline or thread.
        half
            Which half of a double-helical gear: its other half is then a neighbour across the apex groove.

        Raises
        ------
        KeyError
            When the part has no feature of that name.
        """
        below, above = self.obstacles(name, half)
        return (below[0] if below else None), (above[0] if above else None)

    def outline(self) -> tuple[Outline, ...]:
        """Give the closed outlines of the finished half-section, each a row of (z, r) points.

        Source: derived
        """
        return outlines.outline(self.outside, self.inside, self._face_grooves())

    def stock_outline(self) -> tuple[Outline, ...]:
        """Give the closed outline of the blank's half-section, a row of (z, r) points.

        Source: derived
        """
        outside, inside = _blank_profiles(self.part)
        return outlines.outline(outside, inside, ())

    def _face_grooves(self) -> tuple[outlines.Ring, ...]:
        rings = []
        for feature in self.part.features:
            if isinstance(feature, FaceGroove):
                extent = self.extent(feature.name)
                rings.append(
                    outlines.Ring(feature.side, extent.z_from, extent.z_to, extent.inner, extent.outer)
                )
        return tuple(rings)

    @cached_property
    def body(self) -> solid.Solid:
        """Integrals of the finished part; teeth count as solid up to their mean diameter."""
        total = solid.of_pieces(self.outside.pieces) - solid.of_pieces(self.inside.pieces)
        for groove in self._face_grooves():
            total -= solid.ring(groove.z_from, groove.z_to, groove.inner, groove.outer)
        for feature in self.part.features:
            total -= extents.removed(self, feature)
        return total

    @cached_property
    def stock_body(self) -> solid.Solid:
        """Integrals of the blank."""
        outside, inside = _blank_profiles(self.part)
        return solid.of_pieces(outside.pieces) - solid.of_pieces(inside.pieces)

    def mass(self, density: float) -> float:
        """Give the mass of the finished part [kg].

        Source: derived; teeth at the mean of tip and root

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        return self.body.mass(density)

    def stock_mass(self, density: float) -> float:
        """Give the mass of the blank from its sizes [kg].

        Source: derived

        Parameters
        ----------
        density
            Density [kg/dm3].
        """
        return self.stock_body.mass(density)

    def wall_ratio(self) -> float:
        """Give the radial material over the outside diameter, at the height where the ring is weakest.

        Source: derived; teeth count from the root
        """
        return extents.thinnest_ring(self)


def _obstacle(piece: Piece, root: Mm, proud: float, end: Mm, way: float) -> Neighbour | None:
    """Read one piece as an obstacle seen from the end of teeth; None if it lies behind the root."""
    near, far = (piece.lower, piece.upper) if way > 0 else (piece.upper, piece.lower)
    start = piece.z_from if way > 0 else piece.z_to
    near_height, far_height = proud * (near - root), proud * (far - root)
    if max(near_height, far_height) <= SAME:
        return None
    gap = way * (start - end)
    if near_height <= SAME:
        gap += piece.length * -near_height / (far_height - near_height)
    diameter = root + proud * max(near_height, far_height)
    return Neighbour(piece.feature, diameter, max(0.0, gap))


def _blank_profiles(part: Part) -> tuple[Profile, Profile]:
    blank = part.blank
    z_from, z_to = float(blank.z_from), float(blank.z_to)
    outside = cylinder(BLANK, z_from, z_to, float(blank.diameter))
    inside = cylinder(BLANK, z_from, z_to, float(blank.bore))
    return Profile((outside,)), Profile((inside,))


def _end_face(part: Part, side: Side) -> Face | None:
    faces = [feature for feature in part.features if isinstance(feature, Face) and feature.side == side]
    if not faces:
        return None
    return min(faces, key=lambda face: face.z if side == "lower" else -face.z)


def make_section(part: Part) -> Section:
    """Compute the half-section of a part; where features contradict each other the deepest cut counts.

    Source: derived

    Parameters
    ----------
    part
        The part; `check_references` says what is wrong with it.
    """
    lower, upper = _end_face(part, "lower"), _end_face(part, "upper")
    z_from = float(lower.z if lower else part.blank.z_from)
    z_to = float(upper.z if upper else part.blank.z_to)
    if z_to <= z_from:
        z_from, z_to = float(part.blank.z_from), float(part.blank.z_to)
    outside_bare = cylinder(BLANK, z_from, z_to, float(part.blank.diameter))
    inside_bare = cylinder(BLANK, z_from, z_to, float(part.blank.bore))
    return Section(
        part=part,
        z_from=z_from,
        z_to=z_to,
        outside=make_profile(carved_pieces(part, "outside"), z_from, z_to, outside_bare, min),
        inside=make_profile((inside_bare, *carved_pieces(part, "inside")), z_from, z_to, inside_bare, max),
        lower_face=lower.name if lower else "",
        upper_face=upper.name if upper else "",
    )
