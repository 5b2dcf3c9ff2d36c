"""Zones of features in the half-section, and the material that milled features take away."""

from __future__ import annotations

from itertools import pairwise
from math import pi, radians, tan
from typing import Literal

from sequencer.part.feature import Side
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
from sequencer.part.part import AnyFeature
from sequencer.part.profile import SAME, Piece, Profile
from sequencer.part.solid import Solid, lumps
from sequencer.part.surfaces import GROOVES, Shape, is_bare, pieces_of, place_of, snapped, surface_at
from sequencer.part.toothed import DoubleHelicalGear
from sequencer.part.turned import ApexGroove, Chamfer, Face, FaceGroove, Radius, RunOutGroove
from sequencer.units import Mm

#: z_from, z_to, inner and outer diameter.
Zone = tuple[Mm, Mm, Mm, Mm]


def zone_of(feature: AnyFeature, half: Literal["lower", "upper"] | None = None) -> tuple[Mm, Mm]:
    """Give the ends on the axis of a feature that spans a length, or of one half of it.

    Source: derived

    Parameters
    ----------
    feature
        A feature with surface of its own.
    half
        Which half of a double-helical gear; the whole if left out.
    """
    if half is not None and isinstance(feature, DoubleHelicalGear):
        one = feature.lower if half == "lower" else feature.upper
        return float(one.z_from), float(one.z_to)
    pieces = pieces_of(feature)
    return min(piece.z_from for piece in pieces), max(piece.z_to for piece in pieces)


def extent_of(shape: Shape, feature: AnyFeature) -> Zone:
    """Give the zone of any feature: z_from, z_to, inner and outer diameter.

    Source: derived

    Parameters
    ----------
    shape
        The finished surfaces.
    feature
        The feature.
    """
    if isinstance(feature, GROOVES):
        return _groove(shape, feature)
    if place_of(feature) is not None:
        return _surface(pieces_of(feature))
    if isinstance(feature, Face):
        return _face(shape, feature)
    if isinstance(feature, FaceGroove):
        return _face_groove(shape, feature)
    if isinstance(feature, Chamfer | Radius):
        return _edge(shape, feature)
    return _milled(shape, feature)


def _surface(pieces: tuple[Piece, ...]) -> Zone:
    diameters = [
        d for piece in pieces for d in (piece.lower, piece.upper, piece.root_lower, piece.root_upper)
    ]
    return pieces[0].z_from, pieces[-1].z_to, min(diameters), max(diameters)


def _groove(shape: Shape, groove: AnyFeature) -> Zone:
    z_from, z_to = zone_of(groove)
    floor = pieces_of(groove)[0].lower
    surface = surface_of_groove(shape, groove)
    return z_from, z_to, min(floor, surface), max(floor, surface)


def surface_of_groove(shape: Shape, groove: AnyFeature) -> Mm:
    """Give the diameter of the surface that a groove is cut into.

    Source: derived: the gear it serves, the feature it is on, what else covers its zone, its neighbours, the
    blank, in this order

    Parameters
    ----------
    shape
        The finished surfaces.
    groove
        A groove in a cylinder.
    """
    inside = place_of(groove) == "inside"
    profile = shape.inside if inside else shape.outside
    z_from, z_to = zone_of(groove)
    gear = groove.gear if isinstance(groove, ApexGroove | RunOutGroove) else None
    for name in (gear, groove.on):
        carrier = shape.part.by_name.get(name) if name else None
        if carrier is not None and place_of(carrier) == place_of(groove):
            return _tip(pieces_of(carrier), inside)
    covering = [
        piece.cut(max(z_from, piece.z_from), min(z_to, piece.z_to))
        for feature in shape.part.features
        if place_of(feature) == place_of(groove) and not isinstance(feature, GROOVES)
        for piece in pieces_of(feature)
        if min(z_to, piece.z_to) - max(z_from, piece.z_from) > SAME
    ]
    beside = [*_touching(profile, z_from, below=True), *_touching(profile, z_to, below=False)]
    described = [piece for piece in beside if not is_bare(piece)]
    return _tip(tuple(covering or described or beside), inside)


def _touching(profile: Profile, z: Mm, *, below: bool) -> list[Piece]:
    if below:
        return [piece for piece in profile.pieces if abs(piece.z_to - z) <= SAME]
    return [piece for piece in profile.pieces if abs(piece.z_from - z) <= SAME]


def _tip(pieces: tuple[Piece, ...], inside: bool) -> Mm:
    ends = [end for piece in pieces for end in (piece.lower, piece.upper)]
    if not ends:
        return 0.0
    return min(ends) if inside else max(ends)


def _face(shape: Shape, face: Face) -> Zone:
    """Ring of a face: given edges win; else the step of the section at its height."""
    z = float(face.z)
    inner, outer = surface_at(shape, z, face.side)
    beyond_inner, beyond_outer = surface_at(shape, z, "lower" if face.side == "upper" else "upper")
    if beyond_outer > beyond_inner:
        outside_step, inside_step = outer - beyond_outer, beyond_inner - inner
        if outside_step >= inside_step and outside_step > SAME:
            inner = beyond_outer
        elif inside_step > SAME:
            outer = beyond_inner
    if face.inner_diameter is not None:
        inner = float(face.inner_diameter)
    if face.outer_diameter is not None:
        outer = float(face.outer_diameter)
    return z, z, min(inner, outer), max(inner, outer)


def _face_groove(shape: Shape, groove: FaceGroove) -> Zone:
    z, side = height_of_face(shape, groove.on, groove.side)
    depth = float(groove.depth)
    low, high = (z - depth, z) if side == "upper" else (z, z + depth)
    return low, high, float(groove.inner_diameter), float(groove.outer_diameter)


def height_of_face(shape: Shape, name: str, side: Side) -> tuple[Mm, Side]:
    """Give height and side of a face; the end of the part on that side if there is no such face.

    Source: derived

    Parameters
    ----------
    shape
        The finished surfaces.
    name
        Name of the face.
    side
        Side to take if the name is unknown.
    """
    face = shape.part.by_name.get(name)
    if isinstance(face, Face):
        return snapped(shape, float(face.z)), face.side
    return (shape.z_to if side == "upper" else shape.z_from), side


def _edge(shape: Shape, feature: Chamfer | Radius) -> Zone:
    carrier = shape.part.by_name.get(feature.on)
    if carrier is None or place_of(carrier) is None:
        return shape.z_from, shape.z_to, 0.0, 0.0
    pieces = pieces_of(carrier)
    z_from, z_to = zone_of(carrier)
    size = float(feature.size)
    radial = size * tan(radians(feature.angle)) if isinstance(feature, Chamfer) else size
    inside = place_of(carrier) == "inside"
    ends = {"lower": [pieces[0].lower], "upper": [pieces[-1].upper]}
    edges = ends.get(feature.edge, [pieces[0].lower, pieces[-1].upper])
    low = z_to - size if feature.edge == "upper" else z_from
    high = z_from + size if feature.edge == "lower" else z_to
    if inside:
        return low, high, min(edges), max(edges) + 2 * radial
    return low, high, max(0.0, min(edges) - 2 * radial), max(edges)


def _milled(shape: Shape, feature: AnyFeature) -> Zone:
    if isinstance(feature, BoltCircle):
        return _bolt_circle(shape, feature)
    if isinstance(feature, Pocket):
        return _pocket(shape, feature)
    if isinstance(feature, Keyway):
        return _radial(shape, feature.on, float(feature.z_from), float(feature.z_to), float(feature.depth))
    if isinstance(feature, Flat):
        z_from, z_to = float(feature.z_from), float(feature.z_to)
        surface = _radial(shape, feature.on, z_from, z_to, 0.0)[3]
        return z_from, z_to, min(2 * float(feature.distance), surface), surface
    carrier = shape.part.by_name.get(feature.on) if feature.on else None
    if carrier is None or isinstance(carrier, Marking):
        return shape.z_from, shape.z_to, 0.0, 0.0
    return extent_of(shape, carrier)


def _radial(shape: Shape, on: str, z_from: Mm, z_to: Mm, depth: Mm) -> Zone:
    """Zone of something cut from a cylinder towards the material."""
    carrier = shape.part.by_name.get(on)
    pieces = pieces_of(carrier) if carrier is not None else ()
    if not pieces:
        return z_from, z_to, 0.0, 0.0
    if carrier is not None and place_of(carrier) == "inside":
        surface = _tip(pieces, inside=True)
        return z_from, z_to, surface, surface + 2 * depth
    surface = _tip(pieces, inside=False)
    return z_from, z_to, max(0.0, surface - 2 * depth), surface


def hole_depth(shape: Shape, holes: BoltCircle) -> Mm:
    """Give the depth of the holes of a bolt circle; of through holes the length in the material.

    Source: derived

    Parameters
    ----------
    shape
        The finished surfaces.
    holes
        The bolt circle.
    """
    if holes.depth is not None:
        return float(holes.depth)
    if holes.direction == "radial":
        z = float(holes.z or 0.0)
        outer = max((piece.diameter(z) for piece in shape.outside.at(z)), default=0.0)
        inner = min((piece.diameter(z) for piece in shape.inside.at(z)), default=0.0)
        return max(0.0, (outer - inner) / 2)
    z, side = height_of_face(shape, holes.on, holes.side or "upper")
    return depth_below(shape, z, side, float(holes.circle_diameter or 0.0))


def depth_below(shape: Shape, z: Mm, side: Side, diameter: Mm) -> Mm:
    """Give the length of material below a face at a diameter.

    Source: derived

    Parameters
    ----------
    shape
        The finished surfaces.
    z
        Height of the face [mm].
    side
        Which way the face looks.
    diameter
        Diameter at which the material is measured [mm].
    """
    z = snapped(shape, z)
    if side == "upper":
        row = [end for end in reversed(_heights(shape)) if end < z - SAME]
    else:
        row = [end for end in _heights(shape) if end > z + SAME]
    reached = z
    for end in row:
        if not _solid_between(shape, min(reached, end), max(reached, end), diameter):
            break
        reached = end
    return abs(reached - z)


def _heights(shape: Shape) -> list[Mm]:
    """Ends of all pieces in rising order."""
    pieces = (*shape.outside.pieces, *shape.inside.pieces)
    return sorted({end for piece in pieces for end in (piece.z_from, piece.z_to)})


def _solid_between(shape: Shape, low: Mm, high: Mm, diameter: Mm) -> bool:
    middle = (low + high) / 2
    outer = max((piece.diameter(middle) for piece in shape.outside.at(middle)), default=0.0)
    inner = max((piece.diameter(middle) for piece in shape.inside.at(middle)), default=0.0)
    return inner - SAME <= diameter <= outer + SAME


def _bolt_circle(shape: Shape, holes: BoltCircle) -> Zone:
    depth, size = hole_depth(shape, holes), float(holes.diameter)
    if holes.direction == "radial":
        z = float(holes.z or 0.0)
        return _radial(shape, holes.on, z - size / 2, z + size / 2, depth)
    z, side = height_of_face(shape, holes.on, holes.side or "upper")
    circle = float(holes.circle_diameter or 0.0)
    low, high = (z - depth, z) if side == "upper" else (z, z + depth)
    return low, high, max(0.0, circle - size), circle + size


def _pocket(shape: Shape, pocket: Pocket) -> Zone:
    carrier = shape.part.by_name.get(pocket.on)
    depth, width = float(pocket.depth), float(pocket.width)
    if isinstance(carrier, Face):
        z = float(carrier.z)
        low, high = (z - depth, z) if carrier.side == "upper" else (z, z + depth)
        circle, reach = float(pocket.circle_diameter or 0.0), max(width, float(pocket.length))
        return low, high, max(0.0, circle - reach), circle + reach
    if pocket.z is None:
        return shape.z_from, shape.z_to, 0.0, 0.0
    middle = float(pocket.z)
    return _radial(shape, pocket.on, middle - width / 2, middle + width / 2, depth)


def removed(shape: Shape, feature: AnyFeature) -> Solid:
    """Give the integrals of the material that holes, keyways and pockets take away.

    Source: derived; each hole, keyway and pocket as a point at its middle; flats, edges and text left out

    Parameters
    ----------
    shape
        The finished surfaces.
    feature
        Any feature.
    """
    if not isinstance(feature, BoltCircle | Keyway | Pocket):
        return Solid()
    z_from, z_to, inner, outer = extent_of(shape, feature)
    middle, radius = (z_from + z_to) / 2, (inner + outer) / 4
    if isinstance(feature, BoltCircle):
        volume = pi * float(feature.diameter) ** 2 / 4 * hole_depth(shape, feature)
        return lumps(feature.count, volume, middle, radius)
    if isinstance(feature, Keyway):
        return lumps(1, float(feature.width) * float(feature.depth) * (z_to - z_from), middle, radius)
    volume = float(feature.width) * float(feature.length) * float(feature.depth)
    return lumps(feature.count, volume, middle, radius)


def thinnest_ring(shape: Shape) -> float:
    """Give the radial material over the outside diameter at the weakest height; teeth count from the root.

    Source: derived; a face groove takes its width from the material at its height

    Parameters
    ----------
    shape
        The finished surfaces.
    """
    ratios: list[float] = []
    grooves = [extent_of(shape, f) for f in shape.part.features if isinstance(f, FaceGroove)]
    for low, high in pairwise(_heights(shape)):
        cut = sum(
            (groove_outer - groove_inner) / 2
            for z_from, z_to, groove_inner, groove_outer in grooves
            if min(z_to, high) - max(z_from, low) > SAME
        )
        ratios += [((outer - inner) / 2 - cut) / outer for outer, inner in _walls(shape, low, high) if outer]
    return max(0.0, min(ratios))


def _walls(shape: Shape, low: Mm, high: Mm) -> list[tuple[Mm, Mm]]:
    """Root diameters outside and inside at both ends of a stretch."""
    if high - low <= SAME:
        return []
    outside, inside = shape.outside.between(low, high), shape.inside.between(low, high)
    return [(o.root(z), i.root(z)) for o in outside for i in inside for z in (low, high)]
