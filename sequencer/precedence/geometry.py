"""Who stands where on the part: ends of teeth, neighbours, walls between holes and teeth."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import chain
from typing import Literal

from sequencer.part import AnyFeature
from sequencer.part.extents import zone_of
from sequencer.part.profile import Profile
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, InternalGear, Spline
from sequencer.part.turned import ApexGroove, Face, FaceGroove, Groove, RunOutGroove, Thread
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.units import Mm

#: Surfaces closer than this along the axis touch [mm].
TOUCH = 0.01


def is_internal(gear: Toothed) -> bool:
    """Say whether teeth look inwards.

    Parameters
    ----------
    gear
        The gear or spline.
    """
    return isinstance(gear, InternalGear) or (isinstance(gear, Spline) and gear.place == "inside")


def halves(gear: Toothed) -> tuple[Literal["lower", "upper"] | None, ...]:
    """Give the halves of a gear; one None for a gear that has none.

    Parameters
    ----------
    gear
        The gear or spline.
    """
    return ("lower", "upper") if isinstance(gear, DoubleHelicalGear) else (None,)


def end_faces(context: RuleContext, gear: Toothed) -> tuple[Face, ...]:
    """Faces in which the teeth of a gear end.

    Parameters
    ----------
    context
        The part.
    gear
        The gear or spline.
    """
    found = []
    for feature in context.part.features:
        if isinstance(feature, Face):
            end = gear.z_to if feature.side == "upper" else gear.z_from
            if abs(feature.z - end) <= TOUCH:
                found.append(feature)
    return tuple(found)


def neighbours(context: RuleContext, gear: Toothed) -> tuple[str, ...]:
    """Features beside the teeth that stand proud of their root, the nearest on each side.

    Parameters
    ----------
    context
        The part.
    gear
        The gear or spline.
    """
    found: dict[str, None] = {}
    for half in halves(gear):
        for neighbour in context.section.neighbours(gear.name, half):
            if neighbour is not None and neighbour.feature in context.part.by_name:
                found[neighbour.feature] = None
    found.pop(gear.name, None)
    return tuple(found)


def beside(context: RuleContext, gear: Toothed) -> tuple[str, ...]:
    """Features that make the surface beside teeth: up to the first that stands proud, or ten modules away.

    Stock left on any of them stands in the way of the cutter, however small they are in the end.

    Source: reach of ten modules, the largest run-out of hobs, from memory

    Parameters
    ----------
    context
        The part.
    gear
        The gear or spline.
    """
    section = context.section
    profile = section.inside if is_internal(gear) else section.outside
    reach = 10 * float(gear.module.millimetres)
    found: dict[str, None] = {}
    for half in halves(gear):
        z_from, z_to = zone_of(gear, half)
        below, above = section.neighbours(gear.name, half)
        low = reach if below is None else min(reach, below.gap)
        high = reach if above is None else min(reach, above.gap)
        pieces = (*profile.between(z_from - low, z_from), *profile.between(z_to, z_to + high))
        found |= dict.fromkeys(piece.feature for piece in pieces)
    found |= dict.fromkeys(neighbours(context, gear))
    found.pop(gear.name, None)
    return tuple(name for name in found if name in context.part.by_name)


def next_to(context: RuleContext, groove: AnyFeature) -> tuple[str, ...]:
    """Features that make the surface on both sides of a groove, other grooves apart.

    Parameters
    ----------
    context
        The part.
    groove
        A groove in a cylinder.
    """
    profile = _profile(context, groove)
    z_from, z_to = zone_of(groove)
    below = [piece.feature for piece in profile.pieces if piece.z_to <= z_from + TOUCH]
    above = [piece.feature for piece in profile.pieces if piece.z_from >= z_to - TOUCH]
    found = (*_first_solid(context, reversed(below)), *_first_solid(context, above))
    return tuple(name for name in dict.fromkeys(found) if name != groove.name)


def open_side_of(context: RuleContext, face: Face) -> tuple[str, ...]:
    """Features that make the surface just beyond a shoulder, whose stock lies over the face.

    Parameters
    ----------
    context
        The part.
    face
        A face; of the outermost faces nothing lies beyond.
    """
    section = context.section
    outer_here, outer_beyond = _at_step(section.outside, face, max)
    inner_here, inner_beyond = _at_step(section.inside, face, min)
    found: list[str] = []
    if outer_beyond is not None and outer_here is not None and outer_beyond < outer_here - TOUCH:
        found += _beyond(context, section.outside, face)
    if inner_beyond is not None and inner_here is not None and inner_beyond > inner_here + TOUCH:
        found += _beyond(context, section.inside, face)
    return tuple(dict.fromkeys(found))


def _at_step(
    profile: Profile, face: Face, choose: Callable[[Iterable[Mm]], Mm]
) -> tuple[Mm | None, Mm | None]:
    """Diameters on the material side of a face and beyond it; None where the part ends."""
    up = 1.0 if face.side == "upper" else -1.0
    here = [piece.diameter(face.z - up * TOUCH) for piece in profile.at(face.z - up * TOUCH)]
    beyond = [piece.diameter(face.z + up * TOUCH) for piece in profile.at(face.z + up * TOUCH)]
    return (choose(here) if here else None), (choose(beyond) if beyond else None)


def _beyond(context: RuleContext, profile: Profile, face: Face) -> tuple[str, ...]:
    if face.side == "upper":
        names = [piece.feature for piece in profile.pieces if piece.z_from >= face.z - TOUCH]
    else:
        names = [piece.feature for piece in reversed(profile.pieces) if piece.z_to <= face.z + TOUCH]
    return _first_solid(context, names)


def way_in(context: RuleContext, feature: AnyFeature, up: str) -> tuple[str, ...]:
    """Bores that a tool passes from the open end above down to an inside feature.

    Parameters
    ----------
    context
        The part.
    feature
        Inside groove or internal teeth.
    up
        Side of the drawing that looks up.
    """
    z_from, z_to = zone_of(feature)
    inside = context.section.inside
    end = (z_to, context.section.z_to) if up == "upper" else (context.section.z_from, z_from)
    pieces = inside.between(*end) if end[1] > end[0] else ()
    names = dict.fromkeys(piece.feature for piece in pieces)
    return tuple(name for name in names if _is_solid(context, name) and name != feature.name)


def _profile(context: RuleContext, feature: AnyFeature) -> Profile:
    section = context.section
    return section.inside if place_of(feature) == "inside" else section.outside


def _first_solid(context: RuleContext, names: Iterable[str]) -> tuple[str, ...]:
    """First name that is a feature and no groove."""
    return next(((name,) for name in names if _is_solid(context, name)), ())


def _is_solid(context: RuleContext, name: str) -> bool:
    feature = context.part.by_name.get(name)
    return feature is not None and not isinstance(feature, Groove | ApexGroove | RunOutGroove)


def root_diameter(context: RuleContext, gear: Toothed) -> Mm:
    """Root diameter of teeth; of a bevel gear at its large end [mm].

    Source: derived from the half-section

    Parameters
    ----------
    context
        The part.
    gear
        The gear or spline.
    """
    extent = context.section.extent(gear.name)
    return extent.outer if is_internal(gear) else extent.inner


def run_out_grooves(context: RuleContext, gear: Toothed) -> tuple[ApexGroove | RunOutGroove | Groove, ...]:
    """Turned grooves at the ends of teeth: those made for the gear, and those that touch its ends.

    Parameters
    ----------
    context
        The part.
    gear
        The gear or spline.
    """
    place = "inside" if is_internal(gear) else "outside"
    found: list[ApexGroove | RunOutGroove | Groove] = []
    for feature in context.part.features:
        if isinstance(feature, ApexGroove | RunOutGroove):
            if feature.gear == gear.name:
                found.append(feature)
        elif isinstance(feature, Groove) and feature.place == place and ends_at(feature, gear):
            found.append(feature)
    return tuple(found)


def ends_at(groove: Groove, other: Toothed | Thread) -> bool:
    """Say whether a groove begins where teeth or a thread end.

    Parameters
    ----------
    groove
        The groove.
    other
        Teeth or thread.
    """
    return min(abs(groove.z_to - other.z_from), abs(groove.z_from - other.z_to)) <= TOUCH


def face_grooves_at(context: RuleContext, gear: Toothed) -> tuple[tuple[FaceGroove, bool], ...]:
    """Face grooves in an end face of a gear in its teeth or within half a tooth depth of them.

    Each comes with the answer whether it reaches into the tooth zone, so that the cutter runs out in it.

    Parameters
    ----------
    context
        The part.
    gear
        The gear.
    """
    faces = {face.name for face in end_faces(context, gear)}
    zone = context.section.extent(gear.name)
    depth = zone.outer - zone.inner
    found = []
    for feature in context.part.features:
        if not isinstance(feature, FaceGroove) or feature.on not in faces:
            continue
        inner, outer = float(feature.inner_diameter), float(feature.outer_diameter)
        if outer > zone.inner and inner < zone.outer:
            found.append((feature, True))
        elif min(abs(zone.inner - outer), abs(inner - zone.outer)) <= depth / 2:
            found.append((feature, False))
    return tuple(found)


def is_blind(context: RuleContext, gear: Toothed) -> bool:
    """Say whether internal teeth cannot be run through at one end.

    Parameters
    ----------
    context
        The part.
    gear
        Internal gear or spline.
    """
    return is_internal(gear) and bool(neighbours(context, gear))


def face_width(gear: Toothed) -> Mm:
    """Face width of the teeth, of one half of a double-helical gear, along the cone of a bevel gear [mm].

    Parameters
    ----------
    gear
        The gear or spline.
    """
    if isinstance(gear, DoubleHelicalGear):
        return max(gear.lower.length, gear.upper.length)
    return float(gear.face_width) if isinstance(gear, BevelGear) else float(gear.length)


def outermost(context: RuleContext, names: tuple[str, ...]) -> Mm:
    """Largest outside diameter of some features [mm].

    Parameters
    ----------
    context
        The part.
    names
        Their names.
    """
    extents = (context.section.extent(name) for name in names if name in context.part.by_name)
    return max(chain((extent.outer for extent in extents), (0.0,)))
