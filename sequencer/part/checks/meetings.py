"""Holes, pockets, keyways, grooves and faces that take the same material away twice."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import pi
from typing import Final

from sequencer.part.checks.checked import ROUNDING, Checked, mm, span
from sequencer.part.checks.milled import THINNEST_WALL
from sequencer.part.checks.plan_view import Box, Disc, Outline, meet, spread
from sequencer.part.extents import hole_depth
from sequencer.part.fault import Fault
from sequencer.part.milled import BoltCircle, Keyway, Pocket
from sequencer.part.section import Extent
from sequencer.part.surfaces import GROOVES, pieces_of, place_of
from sequencer.part.turned import ApexGroove, Face, FaceGroove, Groove, RunOutGroove
from sequencer.units import Mm

Cut = BoltCircle | Pocket | Keyway

_WORDS: Final = {"bolt_circle": "holes", "pocket": "pockets", "keyway": "keyway"}


def meeting_faults(checked: Checked) -> Iterator[Fault]:
    """Check that no two features are cut into the same place.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    cuts = [feature for feature in checked.features if isinstance(feature, Cut) and _seen(checked, feature)]
    for cut in cuts:
        if isinstance(cut, Pocket):
            yield from _apart(checked, cut)
    for one, other in combinations(cuts, 2):
        yield from _two_cuts(checked, one, other)
    for groove in checked.features:
        if isinstance(groove, FaceGroove):
            for cut in cuts:
                yield from _in_groove(checked, groove, cut)
    yield from _keyways(checked)
    yield from _grooves(checked)
    yield from _faces(checked)


def _seen(checked: Checked, cut: Cut) -> bool:
    """Whether it is cut along the axis, so that its outline can be seen from above."""
    if isinstance(cut, BoltCircle):
        return cut.direction == "axial" and isinstance(checked.named(cut.on), Face)
    if isinstance(cut, Pocket):
        return isinstance(checked.named(cut.on), Face)
    carrier = checked.named(cut.on)
    return carrier is not None and place_of(carrier) is not None


def _outlines(checked: Checked, cut: Cut, wall: Mm = 0.0) -> tuple[Outline, ...]:
    """Outlines seen along the axis; holes with the wall that they need round them."""
    if isinstance(cut, BoltCircle):
        radius = float(cut.diameter) / 2 + wall
        places = spread(cut.count, float(cut.circle_diameter or 0.0), float(cut.start_angle))
        return tuple(Disc(x, y, radius) for x, y, _ in places)
    if isinstance(cut, Pocket):
        places = spread(cut.count, float(cut.circle_diameter or 0.0), float(cut.angle))
        return tuple(Box(x, y, angle, float(cut.width), float(cut.length)) for x, y, angle in places)
    zone = checked.extent(cut)
    places = spread(1, (zone.inner + zone.outer) / 2, float(cut.angle))
    return tuple(Box(x, y, a, (zone.outer - zone.inner) / 2, float(cut.width)) for x, y, a in places)


def _apart(checked: Checked, pocket: Pocket) -> Iterator[Fault]:
    outlines = _outlines(checked, pocket)
    if pocket.circle_diameter is not None and any(meet(outlines[0], other) for other in outlines[1:]):
        what = f"{pocket.count} pockets {pocket.length} long on a circle of {pocket.circle_diameter}"
        what += " cut each other"
        limit = f"from middle to middle {mm(pi * pocket.circle_diameter / pocket.count)} along the circle"
        remedy = "take fewer or smaller pockets, or a larger circle"
        yield Fault(checked.path(pocket, "count"), what, limit, remedy)


def _along(one: Extent, other: Extent) -> Mm:
    return min(one.z_to, other.z_to) - max(one.z_from, other.z_from)


def _two_cuts(checked: Checked, one: Cut, other: Cut) -> Iterator[Fault]:
    """Cuts of two kinds, or two sets of pockets; where one is timed to another its angle is open."""
    same = one.kind == other.kind
    if one.phase or other.phase or (same and not isinstance(one, Pocket)):
        return
    if _along(checked.extent(one), checked.extent(other)) <= ROUNDING:
        return
    wall = THINNEST_WALL if "keyway" in (one.kind, other.kind) else 0.0
    here, beside = _outlines(checked, one, wall), _outlines(checked, other, wall)
    if here[0].reach[0] >= beside[0].reach[1] or beside[0].reach[0] >= here[0].reach[1]:
        return
    if any(meet(a, b) for a in here for b in beside):
        what = f"the {_WORDS[other.kind]} and the {_WORDS[one.kind]} {one.name!r} cut each other"
        key = "circle_diameter" if getattr(other, "circle_diameter", None) is not None else "on"
        remedy = "move one of them to another angle or diameter"
        yield Fault(checked.path(other, key), what, "each takes its own material", remedy)


def _in_groove(checked: Checked, groove: FaceGroove, cut: Cut) -> Iterator[Fault]:
    ring, zone = checked.extent(groove), checked.extent(cut)
    if isinstance(cut, Keyway) or cut.on != groove.on or _along(ring, zone) <= ROUNDING:
        return
    remedy = f"place it beside the groove, or on a face of its own at the floor of {groove.name!r}"
    limit = f"groove from {mm(ring.inner)} to {mm(ring.outer)}, {groove.depth} deep"
    if isinstance(cut, BoltCircle):
        inside = ring.inner - ROUNDING <= zone.inner and zone.outer <= ring.outer + ROUNDING
        if inside and hole_depth(checked.section, cut) <= groove.depth + ROUNDING:
            what = f"nothing is left of the holes: {groove.name!r} is as deep as they are"
            yield Fault(checked.path(cut, "depth"), what, limit, remedy)
        elif inside:
            what = f"the holes begin in {groove.name!r}, not in {cut.on!r}"
            yield Fault(checked.path(cut, "on"), what, limit, remedy)
        return
    reaches = [outline.reach for outline in _outlines(checked, cut) if isinstance(outline, Box)]
    if any(2 * low < ring.outer - ROUNDING and 2 * high > ring.inner + ROUNDING for low, high in reaches):
        what = f"the pockets run into {groove.name!r}"
        yield Fault(checked.path(cut, "on"), what, limit, remedy)


def _keyways(checked: Checked) -> Iterator[Fault]:
    keyways = [feature for feature in checked.features if isinstance(feature, Keyway)]
    for one, other in combinations(keyways, 2):
        if one.on != other.on or one.phase or other.phase or checked.named(one.on) is None:
            continue
        a, b = checked.extent(one), checked.extent(other)
        turn = abs(one.angle - other.angle) % 360.0
        between = min(turn, 360.0 - turn) * pi / 360.0 * min(a.outer, b.outer)
        needed = (float(one.width) + float(other.width)) / 2
        if _along(a, b) > ROUNDING and between < needed:
            what = f"it and {one.name!r} are cut into the same place"
            limit = f"middles {mm(between)} apart along the surface, {mm(needed)} needed"
            yield Fault(checked.path(other), what, limit, "give it another angle or other ends")


def _grooves(checked: Checked) -> Iterator[Fault]:
    grooves = [feature for feature in checked.features if isinstance(feature, GROOVES)]
    for one, other in combinations(grooves, 2):
        if place_of(one) != place_of(other) or one.name == other.on or other.name == one.on:
            continue
        low, high = max(one.z_from, other.z_from), min(one.z_to, other.z_to)
        if high - low > ROUNDING and abs(_floor(one) - _floor(other)) > ROUNDING:
            what = f"it and {one.name!r} have different floors at {span(low, high)}"
            limit = f"floors of {mm(_floor(one))} and {mm(_floor(other))}"
            remedy = f"correct the ends, or write on: {one.name} if it lies in the floor of that groove"
            yield Fault(checked.path(other, "z_from"), what, limit, remedy)


def _floor(groove: Groove | ApexGroove | RunOutGroove) -> Mm:
    return pieces_of(groove)[0].lower


def _faces(checked: Checked) -> Iterator[Fault]:
    faces = [feature for feature in checked.features if isinstance(feature, Face)]
    for one, other in combinations(faces, 2):
        if one.side != other.side or abs(one.z - other.z) > ROUNDING:
            continue
        a, b = checked.extent(one), checked.extent(other)
        if min(a.outer, b.outer) - max(a.inner, b.inner) > ROUNDING:
            what = f"{one.name!r} is the same face"
            limit = f"both look to the {one.side} side at z {one.z}"
            remedy = "take one out, or part them by outer_diameter and inner_diameter"
            yield Fault(checked.path(other), what, limit, remedy)
