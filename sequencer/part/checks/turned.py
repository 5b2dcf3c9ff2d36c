"""Turned surfaces: inside the blank, between the faces, each at a place of its own."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise
from math import radians, tan

from sequencer.part.checks.checked import ROUNDING, Checked, mm, span
from sequencer.part.fault import Fault
from sequencer.part.part import AnyFeature
from sequencer.part.profile import Piece
from sequencer.part.surfaces import GROOVES, TOOTHED, pieces_of, place_of, surface_at
from sequencer.part.toothed import BevelGear, Spline
from sequencer.part.turned import Chamfer, Face, Radius, Thread
from sequencer.units import Mm


def turned_faults(checked: Checked) -> Iterator[Fault]:
    """Check all turned surfaces and edges.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    yield from _faces_in_blank(checked)
    for feature in checked.features:
        if place_of(feature) is not None:
            yield from _in_blank(checked, feature)
            yield from _between_faces(checked, feature)
        if isinstance(feature, Face):
            yield from _face(checked, feature)
        if isinstance(feature, Chamfer | Radius):
            yield from _edge(checked, feature)
        if isinstance(feature, Thread):
            yield from _thread(checked, feature)
        yield from _beside(checked, feature)
    yield from _overlaps(checked)
    yield from _walls(checked)


def _faces_in_blank(checked: Checked) -> Iterator[Fault]:
    blank = checked.part.blank
    for feature in checked.features:
        if isinstance(feature, Face) and not blank.z_from <= feature.z <= blank.z_to:
            what = f"the face at z {feature.z} lies outside the blank"
            limit = f"blank from {blank.z_from} to {blank.z_to}"
            yield Fault(checked.path(feature, "z"), what, limit, "correct z, or order a longer blank")


def _in_blank(checked: Checked, feature: AnyFeature) -> Iterator[Fault]:
    blank = checked.part.blank
    ends = [end for piece in pieces_of(feature) for end in (piece.lower, piece.upper)]
    if place_of(feature) == "outside" and max(ends) > blank.diameter + ROUNDING:
        what = f"its diameter {mm(max(ends))} is larger than the blank"
        limit = f"blank diameter {blank.diameter}"
        yield Fault(_size_path(checked, feature), what, limit, "correct the size, or order a larger blank")
    if place_of(feature) == "inside" and min(ends) < blank.bore - ROUNDING:
        what = f"its diameter {mm(min(ends))} is smaller than the bore of the blank"
        limit = f"blank bore {blank.bore}"
        yield Fault(
            _size_path(checked, feature), what, limit, "correct the size, or order a smaller raw bore"
        )


def _size_path(checked: Checked, feature: AnyFeature) -> tuple[str | int, ...]:
    """Path of the key that gives the size, or of the feature if the size is computed."""
    for key in ("diameter", "tip_diameter", "reference_diameter", "module"):
        if getattr(feature, key, None) is not None:
            return checked.path(feature, key)
    return checked.path(feature)


def _between_faces(checked: Checked, feature: AnyFeature) -> Iterator[Fault]:
    section, pieces = checked.section, pieces_of(feature)
    low, high = pieces[0].z_from, pieces[-1].z_to
    lower = f"the {'face ' + section.lower_face if section.lower_face else 'blank'} at {mm(section.z_from)}"
    upper = f"the {'face ' + section.upper_face if section.upper_face else 'blank'} at {mm(section.z_to)}"
    remedy = "correct its ends or the position of the face, or add the face that ends the part"
    if low < section.z_from - ROUNDING:
        what = f"it begins at z {mm(low)}, below the part"
        yield Fault(_end_path(checked, feature, "lower", "z_from"), what, lower, remedy)
    if high > section.z_to + ROUNDING:
        what = f"it ends at z {mm(high)}, above the part"
        yield Fault(_end_path(checked, feature, "upper", "z_to"), what, upper, remedy)


def _end_path(checked: Checked, feature: AnyFeature, half: str, key: str) -> tuple[str | int, ...]:
    return checked.path(feature, half, key) if hasattr(feature, half) else checked.path(feature, key)


def _face(checked: Checked, face: Face) -> Iterator[Fault]:
    outer, inner = face.outer_diameter, face.inner_diameter
    if outer is not None and inner is not None and inner >= outer:
        what = f"inner_diameter {inner} is not below outer_diameter {outer}"
        yield Fault(checked.path(face, "inner_diameter"), what, "", "exchange or correct them")
        return
    most = surface_at(checked.section, float(face.z), face.side)[1]
    if outer is not None and outer > most + ROUNDING:
        what = f"outer_diameter {outer} is larger than the part"
        limit = f"outside diameter {mm(most)} at z {face.z}"
        yield Fault(checked.path(face, "outer_diameter"), what, limit, "correct it, or leave it out")
    if outer is not None and inner is not None:
        return
    heights = _steps(checked, face)
    if not any(abs(z - face.z) <= ROUNDING for z in heights):
        yield Fault(checked.path(face, "z"), *_no_step(checked, face))


def _no_step(checked: Checked, face: Face) -> tuple[str, str, str]:
    heights = _steps(checked, face)
    nearest = min(heights, key=lambda z: abs(z - face.z), default=None)
    limit = (
        f"the nearest {face.side} step of the section is at z {mm(nearest)}" if nearest is not None else ""
    )
    what = f"at z {face.z} the section has no face that looks to the {face.side} side"
    remedy = "correct z or the ends of the features there, or give outer_diameter and inner_diameter"
    return what, limit, remedy


def _steps(checked: Checked, face: Face) -> list[Mm]:
    """Heights at which the section ends to one side, outside or inside."""
    section = checked.section
    heights = [section.z_to if face.side == "upper" else section.z_from]
    for pieces, grows in ((section.outside.pieces, 1), (section.inside.pieces, -1)):
        for below, above in pairwise(pieces):
            step = (above.lower - below.upper) * grows
            if abs(step) > ROUNDING and (step < 0) == (face.side == "upper"):
                heights.append(below.z_to)
    return heights


def _edge(checked: Checked, feature: Chamfer | Radius) -> Iterator[Fault]:
    carrier, pieces = checked.named(feature.on), checked.carrier_pieces(feature.on)
    if carrier is None:
        return
    if not pieces:
        what = f"{feature.on!r} is of kind {carrier.kind}, which has no round edge of its own"
        yield Fault(
            checked.path(feature, "on"), what, "", "name the cylinder, bore, gear or thread at the edge"
        )
        return
    length = pieces[-1].z_to - pieces[0].z_from
    edges = 2 if feature.edge == "both" else 1
    if edges * feature.size > length + ROUNDING:
        what = f"{feature.kind} of {feature.size} on {'both edges' if edges == 2 else 'one edge'}"
        limit = f"{feature.on!r} is {mm(length)} long"
        yield Fault(checked.path(feature, "size"), what, limit, "make it smaller")
    radial = float(feature.size)
    if isinstance(feature, Chamfer):
        if not 0 < feature.angle < 90:
            what = f"angle {feature.angle}"
            yield Fault(checked.path(feature, "angle"), what, "above 0 deg and below 90 deg", "correct it")
            return
        radial *= tan(radians(feature.angle))
    z = pieces[-1].z_to if feature.edge == "upper" else pieces[0].z_from
    wall = _wall_at(checked, pieces[0], z)
    if 0 < wall <= radial:
        what = f"the {feature.kind} goes {mm(radial)} deep across"
        yield Fault(checked.path(feature, "size"), what, f"the wall there is {mm(wall)}", "make it smaller")


def _wall_at(checked: Checked, piece: Piece, z: Mm) -> Mm:
    """Wall from a surface to the other side of the section."""
    section, own = checked.section, piece.diameter(min(max(z, piece.z_from), piece.z_to))
    outer, inner = section.outer_diameter(z), section.inner_diameter(z)
    carrier = checked.named(piece.feature)
    inside = carrier is not None and place_of(carrier) == "inside"
    return (outer - own) / 2 if inside else (own - inner) / 2


def _thread(checked: Checked, thread: Thread) -> Iterator[Fault]:
    if thread.pitch > thread.diameter / 4:
        what = f"pitch {thread.pitch} of a thread of {thread.diameter}"
        yield Fault(
            checked.path(thread, "pitch"), what, "at most a quarter of the diameter", "correct the pitch"
        )


def _beside(checked: Checked, feature: AnyFeature) -> Iterator[Fault]:
    for at, name in enumerate(feature.next_to):
        other = checked.named(name)
        if other is None or other is feature:
            continue
        one, two = checked.extent(feature), checked.extent(other)
        gap = max(two.z_from - one.z_to, one.z_from - two.z_to)
        if gap > ROUNDING:
            what = f"{name!r} is {mm(gap)} away along the axis"
            limit = f"{feature.name} {span(one.z_from, one.z_to)}, {name} {span(two.z_from, two.z_to)}"
            remedy = "correct the ends, or take it out of next_to"
            yield Fault(checked.path(feature, "next_to", at), what, limit, remedy)


def _overlaps(checked: Checked) -> Iterator[Fault]:
    surfaces = [f for f in checked.features if place_of(f) is not None and not isinstance(f, GROOVES)]
    for one, other in combinations(surfaces, 2):
        if place_of(one) != place_of(other):
            continue
        for piece in pieces_of(one):
            for beside in pieces_of(other):
                low, high = max(piece.z_from, beside.z_from), min(piece.z_to, beside.z_to)
                if high - low > ROUNDING:
                    yield from _overlap(checked, (one, piece), (other, beside), (low, high))


Laid = tuple[AnyFeature, Piece]


def _overlap(checked: Checked, one: Laid, other: Laid, zone: tuple[Mm, Mm]) -> Iterator[Fault]:
    """Two surfaces at one height: teeth on a cylinder, a step in a longer cylinder, or a slip."""
    toothed = [laid for laid in (one, other) if isinstance(laid[0], TOOTHED)]
    if len(toothed) == 2 and not _carried(checked, one[0], other[0]):
        remedy = "correct their ends: teeth cannot lie over each other"
        yield _both(checked, one[0], other[0], zone, remedy)
    elif len(toothed) == 1:
        cylinder = other if toothed[0] is one else one
        yield from _teeth_on(checked, toothed[0], cylinder, zone)
    elif not toothed and not _carried(checked, one[0], other[0]):
        yield from _two_cylinders(checked, one, other, zone)


def _both(checked: Checked, one: AnyFeature, other: AnyFeature, zone: tuple[Mm, Mm], remedy: str) -> Fault:
    what = f"{one.name!r} and {other.name!r} both say what the {place_of(one)} is at {span(*zone)}"
    return Fault(checked.path(other), what, "one feature at each height", remedy)


def _carried(checked: Checked, one: AnyFeature, other: AnyFeature) -> bool:
    """Whether one is carried by the other, through others between them too."""
    for upper, lower in ((one, other), (other, one)):
        seen: set[str] = set()
        name = upper.on
        while name is not None and name not in seen:
            if name == lower.name:
                return True
            seen.add(name)
            carrier = checked.named(name)
            name = carrier.on if carrier else None
    return False


def _teeth_on(checked: Checked, teeth: Laid, cylinder: Laid, zone: tuple[Mm, Mm]) -> Iterator[Fault]:
    """A cylinder at the height of teeth is their blank, or nothing is left of them."""
    outside = place_of(teeth[0]) == "outside"
    middle = (zone[0] + zone[1]) / 2
    tip, root, own = teeth[1].diameter(middle), teeth[1].root(middle), cylinder[1].diameter(middle)
    play = 0.125 * abs(tip - root)
    missing = (tip - own) if outside else (own - tip)
    carried = _carried(checked, teeth[0], cylinder[0])
    if missing > play:
        what = f"{cylinder[0].name!r} of {mm(own)} cuts the teeth of {teeth[0].name!r}"
        limit = f"tip diameter {mm(tip)}, root {mm(root)}"
        remedy = f"end {cylinder[0].name!r} at the teeth, or correct its diameter"
        if not isinstance(teeth[0], Spline | Thread | BevelGear):
            remedy += "; give tip_diameter if the drawing shortens the teeth"
        yield Fault(_size_path(checked, cylinder[0]), what, limit, remedy)
    elif outside and not carried and -missing > play:
        remedy = (
            f"end {cylinder[0].name!r} at the teeth, or write on: {cylinder[0].name} at {teeth[0].name!r}"
        )
        yield _both(checked, cylinder[0], teeth[0], zone, remedy)


def _two_cylinders(checked: Checked, one: Laid, other: Laid, zone: tuple[Mm, Mm]) -> Iterator[Fault]:
    """A step may lie inside a longer cylinder if it is the deeper cut and leaves some of it."""
    outside = place_of(one[0]) == "outside"
    longer, shorter = (one, other) if one[1].length >= other[1].length else (other, one)
    inside = shorter[1].z_from >= longer[1].z_from - ROUNDING and shorter[1].z_to <= longer[1].z_to + ROUNDING
    if not inside:
        yield _both(checked, one[0], other[0], zone, "correct the end of one of them")
        return
    middle = (zone[0] + zone[1]) / 2
    deeper = longer[1].diameter(middle) - shorter[1].diameter(middle)
    hidden = (deeper if outside else -deeper) < -ROUNDING
    if hidden or longer[1].length - shorter[1].length <= ROUNDING:
        gone = shorter if hidden else longer
        what = f"nothing is left of {gone[0].name!r}: the other feature at {span(*zone)} cuts it away"
        other_name = (longer if gone is shorter else shorter)[0].name
        yield Fault(checked.path(gone[0]), what, f"{other_name!r} is the deeper cut", "correct the ends")


def _walls(checked: Checked) -> Iterator[Fault]:
    """Where outside and inside meet nothing is left of the part; teeth and grooves count from their floor."""
    section = checked.section
    found: dict[tuple[str, str], tuple[Mm, Mm, Mm]] = {}
    for outside in section.outside.pieces:
        for inside in section.inside.between(outside.z_from, outside.z_to):
            z = max(outside.z_from, inside.z_from), min(outside.z_to, inside.z_to)
            wall, at = min(((outside.root(h) - inside.root(h)) / 2, h) for h in z)
            pair = (outside.feature, inside.feature)
            if inside.root(at) > 0 and wall <= found.get(pair, (_least_wall(checked, pair), 0.0, 0.0))[0]:
                found[pair] = (wall, outside.root(at), inside.root(at))
    for (outer, inner), (wall, outer_size, inner_size) in found.items():
        feature = checked.named(outer) or checked.named(inner)
        if feature is None:
            continue
        least = _least_wall(checked, (outer, inner))
        what = f"{_wall_words(wall)} between {outer!r} ({mm(outer_size)}) and {inner!r} ({mm(inner_size)})"
        limit = "floors of grooves and roots of teeth counted" + (
            f"; half a module is {mm(least)}" if least > 0 else ""
        )
        yield Fault(checked.path(feature), what, limit, "correct the diameters")


def _wall_words(wall: Mm) -> str:
    return f"only {mm(wall)} of wall is left" if wall > 0 else "no wall is left"


def _least_wall(checked: Checked, pair: tuple[str, str]) -> Mm:
    """Half a module under teeth, else nothing; common practice, no source."""
    modules = [
        float(feature.module.millimetres)
        for feature in (checked.named(name) for name in pair)
        if feature is not None and hasattr(feature, "module")
    ]
    return max(modules, default=0.0) / 2
