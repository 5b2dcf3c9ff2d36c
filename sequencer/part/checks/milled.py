"""Keyways, flats, pockets and marks: on a surface that can carry them, and not through the wall."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

from sequencer.part.checks.checked import ROUNDING, Checked, mm, span
from sequencer.part.extents import depth_below
from sequencer.part.fault import Fault
from sequencer.part.milled import Flat, Keyway, Marking, Pocket
from sequencer.part.names import TOOTHED_KINDS
from sequencer.part.part import AnyFeature
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Face
from sequencer.units import Mm

#: Less wall than this below a keyway breaks or bends; common practice, no source [mm].
THINNEST_WALL: Final = 1.0


def milled_faults(checked: Checked) -> Iterator[Fault]:
    """Check all milled features but holes.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    for feature in checked.features:
        if isinstance(feature, Keyway):
            yield from _keyway(checked, feature)
        elif isinstance(feature, Flat):
            yield from _flat(checked, feature)
        elif isinstance(feature, Pocket):
            yield from _pocket(checked, feature)
        elif isinstance(feature, Marking):
            yield from _marking(checked, feature)


def _round_carrier(checked: Checked, feature: Keyway | Flat, wanted: str) -> Iterator[Fault]:
    """The carrier must be round and reach as far as the feature."""
    carrier = checked.named(feature.on)
    if carrier is None:
        return
    if not checked.carrier_pieces(feature.on):
        what = f"{feature.on!r} is of kind {carrier.kind}"
        yield Fault(checked.path(feature, "on"), what, f"a {feature.kind} lies on {wanted}", "correct on")
        return
    if carrier.kind in TOOTHED_KINDS:
        what = f"{feature.on!r} has teeth, a {feature.kind} would cut them"
        yield Fault(checked.path(feature, "on"), what, f"a {feature.kind} lies on {wanted}", "correct on")
        return
    own = checked.extent(carrier)
    if feature.z_from < own.z_from - ROUNDING or feature.z_to > own.z_to + ROUNDING:
        what = f"at {span(feature.z_from, feature.z_to)} it reaches beyond {carrier.name!r}"
        limit = f"{carrier.name} {span(own.z_from, own.z_to)}"
        key = "z_from" if feature.z_from < own.z_from - ROUNDING else "z_to"
        yield Fault(checked.path(feature, key), what, limit, "correct its ends, or on")


def _keyway(checked: Checked, keyway: Keyway) -> Iterator[Fault]:
    yield from _round_carrier(checked, keyway, "a bore or a diameter")
    pieces = checked.carrier_pieces(keyway.on)
    carrier = checked.named(keyway.on)
    if not pieces or carrier is None:
        return
    inside = place_of(carrier) == "inside"
    size = min(p.lower for p in pieces) if inside else max(p.lower for p in pieces)
    if keyway.width >= size:
        what = f"width {keyway.width} in {carrier.name!r} of {mm(size)}"
        yield Fault(checked.path(keyway, "width"), what, "narrower than the diameter", "correct the width")
    floor = size + 2 * keyway.depth if inside else size - 2 * keyway.depth
    yield from _through_wall(checked, keyway, floor, inside)


def _through_wall(checked: Checked, keyway: Keyway, floor: Mm, inside: bool) -> Iterator[Fault]:
    section = checked.section
    beyond = section.outside if inside else section.inside
    for piece in beyond.between(keyway.z_from, keyway.z_to):
        roots = (piece.root_lower, piece.root_upper)
        limit = min(roots) if inside else max(roots)
        gone = floor >= limit if inside else floor <= limit
        if gone:
            what = f"depth {keyway.depth} goes through the wall into {piece.feature!r}"
            left = f"floor of the keyway at {mm(max(floor, 0.0))}, floor or tooth root there at {mm(limit)}"
            yield Fault(checked.path(keyway, "depth"), what, left, "make it less deep")
            return
        wall = abs(limit - floor) / 2
        if limit > 0 and wall < THINNEST_WALL:
            what = f"depth {keyway.depth} leaves only {mm(wall)} of wall to {piece.feature!r}"
            left = f"at least {mm(THINNEST_WALL)} to the floor or tooth root there"
            yield Fault(checked.path(keyway, "depth"), what, left, "make it less deep")
            return


def _flat(checked: Checked, flat: Flat) -> Iterator[Fault]:
    yield from _round_carrier(checked, flat, "an outside diameter")
    carrier, pieces = checked.named(flat.on), checked.carrier_pieces(flat.on)
    if not pieces or carrier is None:
        return
    if place_of(carrier) != "outside":
        what = f"{flat.on!r} is of kind {carrier.kind}, inside"
        yield Fault(checked.path(flat, "on"), what, "a flat lies on an outside diameter", "correct on")
        return
    size = max(max(piece.lower, piece.upper) for piece in pieces)
    if 2 * flat.distance >= size:
        what = f"distance {flat.distance} from the axis does not touch {flat.on!r}"
        yield Fault(checked.path(flat, "distance"), what, f"radius {mm(size / 2)}", "correct the distance")
    for piece in checked.section.inside.between(flat.z_from, flat.z_to):
        most = max(piece.root_lower, piece.root_upper)
        if 2 * flat.distance <= most:
            what = f"distance {flat.distance} from the axis breaks through into {piece.feature!r}"
            yield Fault(
                checked.path(flat, "distance"), what, f"radius there {mm(most / 2)}", "correct the distance"
            )
            return


def _pocket(checked: Checked, pocket: Pocket) -> Iterator[Fault]:
    carrier = checked.named(pocket.on)
    smaller = min(pocket.width, pocket.length)
    if 2 * pocket.corner_radius > smaller + ROUNDING:
        what = f"corner_radius {pocket.corner_radius} does not fit"
        limit = f"at most half of {mm(smaller)}"
        yield Fault(checked.path(pocket, "corner_radius"), what, limit, "make it smaller")
    if carrier is None:
        return
    if isinstance(carrier, Face):
        yield from _pocket_in_face(checked, pocket, carrier)
    elif checked.carrier_pieces(pocket.on):
        yield from _pocket_in_side(checked, pocket, carrier)
    else:
        what = f"{pocket.on!r} is of kind {carrier.kind}"
        limit = "a pocket lies in a face or a diameter"
        yield Fault(checked.path(pocket, "on"), what, limit, "correct on")


def _pocket_in_face(checked: Checked, pocket: Pocket, face: Face) -> Iterator[Fault]:
    if pocket.z is not None:
        what = f"z {pocket.z} means nothing for pockets in a face, which enter at it"
        yield Fault(checked.path(pocket, "z"), what, "", "take it out, or correct on")
    if pocket.circle_diameter is None:
        if pocket.count > 1:
            what = "circle_diameter is missing: several pockets in a face lie on a circle"
            yield Fault(checked.path(pocket), what, "", "add circle_diameter")
        else:
            yield from _pocket_in_the_middle(checked, pocket, face)
        return
    ring, circle, width = checked.extent(face), float(pocket.circle_diameter), float(pocket.width)
    if circle + width > ring.outer + ROUNDING or circle - width < ring.inner - ROUNDING:
        what = f"pockets {pocket.width} wide on a circle of {mm(circle)} do not lie in {face.name!r}"
        limit = f"the face reaches from {mm(ring.inner)} to {mm(ring.outer)}"
        yield Fault(checked.path(pocket, "circle_diameter"), what, limit, "correct the circle, or on")
        return
    room = depth_below(checked.section, float(face.z), face.side, circle)
    if pocket.depth > room + ROUNDING:
        what = f"depth {pocket.depth} is more than the material"
        yield Fault(checked.path(pocket, "depth"), what, f"{mm(room)} of material there", "make it less deep")


def _pocket_in_the_middle(checked: Checked, pocket: Pocket, face: Face) -> Iterator[Fault]:
    """A single pocket without a circle lies on the axis, where the part must be solid."""
    ring, across = checked.extent(face), hypot(pocket.width, pocket.length)
    if ring.inner > ROUNDING:
        what = f"circle_diameter is missing: {face.name!r} has a hole of {mm(ring.inner)} in its middle"
        yield Fault(checked.path(pocket), what, "else it lies on the axis", "add circle_diameter")
    elif across > ring.outer + ROUNDING:
        what = f"a pocket of {pocket.width} by {pocket.length} does not lie in {face.name!r}"
        yield Fault(
            checked.path(pocket, "length"), what, f"the face ends at {mm(ring.outer)}", "make it smaller"
        )


def _pocket_in_side(checked: Checked, pocket: Pocket, carrier: AnyFeature) -> Iterator[Fault]:
    if pocket.circle_diameter is not None:
        what = f"circle_diameter {pocket.circle_diameter} means nothing for pockets in a diameter"
        yield Fault(checked.path(pocket, "circle_diameter"), what, "", "take it out, or correct on")
    if pocket.z is None:
        what = "z is missing: a pocket in a diameter has its middle at a height"
        yield Fault(checked.path(pocket), what, "", "add z")
        return
    own, half = checked.extent(carrier), min(pocket.width, pocket.length) / 2
    if pocket.z - half < own.z_from - ROUNDING or pocket.z + half > own.z_to + ROUNDING:
        what = f"at z {pocket.z} it reaches beyond {carrier.name!r}"
        limit = f"{carrier.name} {span(own.z_from, own.z_to)}"
        yield Fault(checked.path(pocket, "z"), what, limit, "correct z, or on")
        return
    wall = (checked.section.outer_diameter(pocket.z) - checked.section.inner_diameter(pocket.z)) / 2
    if pocket.depth > wall + ROUNDING:
        what = f"depth {pocket.depth} is more than the wall"
        yield Fault(checked.path(pocket, "depth"), what, f"wall {mm(wall)}", "make it less deep")


def _marking(checked: Checked, marking: Marking) -> Iterator[Fault]:
    carrier = checked.named(marking.on)
    if carrier is None:
        return
    extent = checked.extent(carrier)
    if isinstance(carrier, Face):
        room = (extent.outer - extent.inner) / 2
    elif checked.carrier_pieces(marking.on):
        room = extent.z_to - extent.z_from
    else:
        what = f"{marking.on!r} is of kind {carrier.kind}"
        limit = "text is engraved on a face or a diameter"
        yield Fault(checked.path(marking, "on"), what, limit, "correct on")
        return
    if marking.height > room + ROUNDING:
        what = f"letters of {marking.height} do not fit on {marking.on!r}"
        yield Fault(
            checked.path(marking, "height"), what, f"{mm(room)} of room", "make them smaller, or correct on"
        )
