"""Which pieces of the outside and inside surface each feature makes."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.part.feature import Place, Side
from sequencer.part.part import BLANK, AnyFeature, Part
from sequencer.part.profile import ROUNDING, SAME, Piece, Profile, cylinder
from sequencer.part.spline_teeth import spline_height
from sequencer.part.teeth import ToothHeight, bevel_body, gear_height, thread_height
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import ApexGroove, Bore, Groove, RunOutGroove, Taper, Thread, TurnedDiameter
from sequencer.units import Mm

GROOVES: Final = (Groove, ApexGroove, RunOutGroove)
TOOTHED: Final = (ExternalGear, InternalGear, DoubleHelicalGear, Spline, Thread, BevelGear)


@dataclass(frozen=True)
class Shape:
    """Outside and inside surface of a finished part.

    Parameters
    ----------
    part
        The part that it is computed from.
    z_from, z_to
        Lowest and highest finished face [mm].
    outside, inside
        Profiles of the finished part, outside teeth and inside teeth at their tips.
    """

    part: Part
    z_from: Mm
    z_to: Mm
    outside: Profile
    inside: Profile


def place_of(feature: AnyFeature) -> Place | None:
    """Say whether a feature makes outside or inside surface; None if it makes neither.

    Source: derived

    Parameters
    ----------
    feature
        Any feature.
    """
    if isinstance(feature, TurnedDiameter | ExternalGear | DoubleHelicalGear | BevelGear | ApexGroove):
        return "outside"
    if isinstance(feature, Bore | InternalGear):
        return "inside"
    if isinstance(feature, Taper | Groove | RunOutGroove | Thread | Spline):
        return feature.place
    return None


def pieces_of(feature: AnyFeature) -> tuple[Piece, ...]:
    """Give the pieces of surface that one feature makes by itself.

    Source: derived; bevel gears as the frustum of their tip cone

    Parameters
    ----------
    feature
        Any feature; faces, holes and edges make none.
    """
    if isinstance(feature, TurnedDiameter | Bore | Groove | ApexGroove | RunOutGroove):
        diameter = float(feature.diameter)
        return (cylinder(feature.name, float(feature.z_from), float(feature.z_to), diameter),)
    if isinstance(feature, Taper):
        lower, upper = float(feature.lower_diameter), float(feature.upper_diameter)
        ends = (float(feature.z_from), float(feature.z_to))
        return (Piece(feature.name, *ends, lower, upper, lower, upper),)
    if isinstance(feature, DoubleHelicalGear):
        height = gear_height(feature)
        halves = (feature.lower, feature.upper)
        return tuple(_toothed(feature.name, float(h.z_from), float(h.z_to), height) for h in halves)
    height_of = _height(feature)
    if height_of is not None and isinstance(feature, ExternalGear | InternalGear | Spline | Thread):
        return (_toothed(feature.name, float(feature.z_from), float(feature.z_to), height_of),)
    if isinstance(feature, BevelGear):
        return (_bevel(feature),)
    return ()


def _height(feature: AnyFeature) -> ToothHeight | None:
    if isinstance(feature, ExternalGear | InternalGear | DoubleHelicalGear):
        return gear_height(feature)
    if isinstance(feature, Spline):
        return spline_height(feature)
    if isinstance(feature, Thread):
        return thread_height(feature)
    return None


def _toothed(name: str, z_from: Mm, z_to: Mm, height: ToothHeight) -> Piece:
    """Piece with teeth; sizes below 0 are a fault that the checks tell, here they end at the axis."""
    return cylinder(name, z_from, z_to, max(0.0, height.tip), max(0.0, height.root))


def _bevel(gear: BevelGear) -> Piece:
    """Frustum between heel and toe; the toe looks to the apex."""
    body = bevel_body(gear)
    lower, upper = (body.heel, body.toe) if gear.apex == "upper" else (body.toe, body.heel)
    ends = (float(gear.z_from), float(gear.z_to))
    return Piece(gear.name, *ends, lower.tip, upper.tip, lower.root, upper.root)


def carved_pieces(part: Part, place: Place) -> tuple[Piece, ...]:
    """Give all pieces of one surface, carriers first and grooves last.

    A feature with `on` replaces its carrier in its own zone, unless it is a groove, which is cut into it.

    Source: derived

    Parameters
    ----------
    part
        The part.
    place
        Outside or inside.
    """
    features = [feature for feature in part.features if place_of(feature) == place]
    pieces = {feature.name: pieces_of(feature) for feature in features}
    for feature in features:
        carrier = feature.on
        if carrier in pieces and carrier != feature.name and not isinstance(feature, GROOVES):
            for zone in pieces_of(feature):
                pieces[carrier] = _without(pieces[carrier], zone.z_from, zone.z_to)
    ranked = sorted(features, key=lambda feature: _rank(feature))
    return tuple(piece for feature in ranked for piece in pieces[feature.name])


def _rank(feature: AnyFeature) -> int:
    if isinstance(feature, GROOVES):
        return 2
    return 1 if isinstance(feature, TOOTHED) else 0


def _without(pieces: tuple[Piece, ...], z_from: Mm, z_to: Mm) -> tuple[Piece, ...]:
    """Take a zone out of pieces."""
    left: list[Piece] = []
    for piece in pieces:
        if z_from >= piece.z_to - SAME or z_to <= piece.z_from + SAME:
            left.append(piece)
            continue
        if z_from > piece.z_from + SAME:
            left.append(piece.cut(piece.z_from, z_from))
        if z_to < piece.z_to - SAME:
            left.append(piece.cut(z_to, piece.z_to))
    return tuple(left)


def is_bare(piece: Piece) -> bool:
    """Say whether no feature describes a piece of surface.

    Source: derived

    Parameters
    ----------
    piece
        A piece of a profile.
    """
    return piece.feature == BLANK


def snapped(shape: Shape, z: Mm) -> Mm:
    """Give the end of a surface that a height means, or the height itself if none is within the rounding.

    Source: derived

    Parameters
    ----------
    shape
        The finished surfaces.
    z
        Height as the drawing gives it [mm].
    """
    ends = [
        end for piece in (*shape.outside.pieces, *shape.inside.pieces) for end in (piece.z_from, piece.z_to)
    ]
    nearest = min(ends, key=lambda end: abs(end - z))
    return nearest if abs(nearest - z) <= ROUNDING else z


def surface_at(shape: Shape, z: Mm, side: Side) -> tuple[Mm, Mm]:
    """Give bore and outside diameter just below an upper face or just above a lower one.

    Source: derived

    Parameters
    ----------
    shape
        The finished surfaces.
    z
        Height of the face [mm].
    side
        Which way the face looks.
    """
    below, z = side == "upper", snapped(shape, z)
    inner = [_beside(piece, z, below) for piece in shape.inside.at(z)]
    outer = [_beside(piece, z, below) for piece in shape.outside.at(z)]
    return max(_one(inner)), max(_one(outer))


def _beside(piece: Piece, z: Mm, below: bool) -> Mm | None:
    """Diameter of a piece that lies below (or above) a height; None if it lies on the other side."""
    if below:
        return piece.diameter(min(z, piece.z_to)) if piece.z_from < z - SAME else None
    return piece.diameter(max(z, piece.z_from)) if piece.z_to > z + SAME else None


def _one(found: list[Mm | None]) -> list[Mm]:
    return [diameter for diameter in found if diameter is not None] or [0.0]
