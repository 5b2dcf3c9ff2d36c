"""Grooves in cylinders and in faces: cut into something, and not through it."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from sequencer.part.checks.checked import ROUNDING, Checked, mm, span
from sequencer.part.extents import depth_below, surface_of_groove
from sequencer.part.fault import Fault
from sequencer.part.surfaces import GROOVES, TOOTHED, place_of
from sequencer.part.turned import ApexGroove, Face, FaceGroove, Groove, RunOutGroove


def groove_faults(checked: Checked) -> Iterator[Fault]:
    """Check all turned grooves.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    for feature in checked.features:
        if isinstance(feature, GROOVES):
            yield from _floor(checked, feature)
        if isinstance(feature, FaceGroove):
            yield from _face_groove(checked, feature)
    yield from _crossing(checked)


def _floor(checked: Checked, groove: Groove | ApexGroove | RunOutGroove) -> Iterator[Fault]:
    if isinstance(groove, ApexGroove | RunOutGroove) and not isinstance(checked.named(groove.gear), TOOTHED):
        return
    surface = surface_of_groove(checked.section, groove)
    outside = place_of(groove) == "outside"
    depth = (surface - groove.diameter) if outside else (groove.diameter - surface)
    if depth <= ROUNDING and surface > 0:
        what = (
            f"its floor of {groove.diameter} is not {'below' if outside else 'outside'} the surface around it"
        )
        limit = f"the surface there has {mm(surface)}"
        yield Fault(checked.path(groove, "diameter"), what, limit, "correct the floor, or the place")
    carrier = checked.named(groove.on)
    if carrier is not None and place_of(carrier) != place_of(groove):
        what = f"it lies {place_of(groove)}, {carrier.name!r} does not"
        yield Fault(checked.path(groove, "on"), what, "", "name the cylinder or bore that it is cut into")
    elif carrier is not None:
        own = checked.extent(carrier)
        if groove.z_from < own.z_from - ROUNDING or groove.z_to > own.z_to + ROUNDING:
            what = f"at {span(groove.z_from, groove.z_to)} it reaches beyond {carrier.name!r}"
            limit = f"{carrier.name} {span(own.z_from, own.z_to)}"
            yield Fault(checked.path(groove, "z_from"), what, limit, "correct its ends, or on")


def _face_groove(checked: Checked, groove: FaceGroove) -> Iterator[Fault]:
    face = checked.named(groove.on)
    if face is None:
        return
    if not isinstance(face, Face):
        what = f"{groove.on!r} is of kind {face.kind}, no face"
        yield Fault(checked.path(groove, "on"), what, "", "name the face that it is cut into")
        return
    if face.side != groove.side:
        what = f"side {groove.side}, but {face.name!r} looks to the {face.side} side"
        yield Fault(checked.path(groove, "side"), what, "", f"write side: {face.side}, or correct on")
        return
    ring = checked.extent(face)
    found = []
    if groove.outer_diameter > ring.outer + ROUNDING:
        what = f"outer_diameter {groove.outer_diameter} lies outside {face.name!r}"
        limit = f"the face ends at {mm(ring.outer)}"
        found.append(Fault(checked.path(groove, "outer_diameter"), what, limit, "correct it, or on"))
    if groove.inner_diameter < ring.inner - ROUNDING:
        what = f"inner_diameter {groove.inner_diameter} lies inside the bore of {face.name!r}"
        limit = f"the face begins at {mm(ring.inner)}"
        found.append(Fault(checked.path(groove, "inner_diameter"), what, limit, "correct it, or on"))
    yield from found or _depth(checked, groove, face)


def _depth(checked: Checked, groove: FaceGroove, face: Face) -> Iterator[Fault]:
    section = checked.section
    walls = (float(groove.inner_diameter), float(groove.outer_diameter))
    room = min(depth_below(section, float(face.z), face.side, wall) for wall in walls)
    if groove.depth >= room - ROUNDING:
        what = f"depth {groove.depth} goes through the material below {face.name!r}"
        limit = f"{mm(room)} of material"
        yield Fault(checked.path(groove, "depth"), what, limit, "make it less deep")
        return
    own = checked.extent(groove)
    for piece in section.outside.between(own.z_from, own.z_to):
        least = min(piece.root_lower, piece.root_upper)
        if groove.outer_diameter >= least:
            what = f"outer_diameter {groove.outer_diameter} breaks through into {piece.feature!r}"
            limit = f"its floor or tooth root has {mm(least)}"
            yield Fault(checked.path(groove, "outer_diameter"), what, limit, "make it smaller or less deep")
            return
    for piece in section.inside.between(own.z_from, own.z_to):
        most = max(piece.root_lower, piece.root_upper)
        if groove.inner_diameter <= most:
            what = f"inner_diameter {groove.inner_diameter} breaks through into {piece.feature!r}"
            limit = f"its floor or tooth root has {mm(most)}"
            yield Fault(checked.path(groove, "inner_diameter"), what, limit, "make it larger or less deep")
            return


def _crossing(checked: Checked) -> Iterator[Fault]:
    grooves = [feature for feature in checked.features if isinstance(feature, FaceGroove)]
    for one, other in combinations(grooves, 2):
        a, b = checked.extent(one), checked.extent(other)
        along = min(a.z_to, b.z_to) - max(a.z_from, b.z_from)
        across = min(a.outer, b.outer) - max(a.inner, b.inner)
        if along > -ROUNDING and across > ROUNDING:
            what = f"it runs into {one.name!r}"
            limit = f"{one.name} {span(a.z_from, a.z_to)}, {mm(a.inner)} to {mm(a.outer)}"
            yield Fault(checked.path(other), what, limit, "correct its walls or its depth")
