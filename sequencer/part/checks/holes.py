"""Bolt circles: holes in the material, apart from each other."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import cos, pi, radians, sin, sqrt

from sequencer.part.checks.checked import ROUNDING, Checked, mm, span
from sequencer.part.extents import depth_below
from sequencer.part.fault import Fault
from sequencer.part.milled import BoltCircle
from sequencer.part.turned import Face, FaceGroove
from sequencer.units import Mm


def hole_faults(checked: Checked) -> Iterator[Fault]:
    """Check all bolt circles.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    circles = [feature for feature in checked.features if isinstance(feature, BoltCircle)]
    for holes in circles:
        yield from _thread(checked, holes)
        yield from _counterbore(checked, holes)
        carrier = checked.named(holes.on)
        if carrier is None:
            continue
        if holes.direction == "radial":
            yield from _radial(checked, holes)
        elif isinstance(carrier, Face):
            yield from _axial(checked, holes, carrier)
        else:
            what = f"axial holes enter a face; {carrier.name!r} is of kind {carrier.kind}"
            yield Fault(checked.path(holes, "on"), what, "", "name a face, or write direction: radial")
    for one, other in combinations(circles, 2):
        yield from _two_circles(checked, one, other)


def _thread(checked: Checked, holes: BoltCircle) -> Iterator[Fault]:
    pitch, depth = holes.thread_pitch, holes.thread_depth
    if pitch is not None and pitch > holes.diameter / 3:
        what = f"thread_pitch {pitch} of a thread of {holes.diameter}"
        limit = "at most a third of the diameter"
        yield Fault(checked.path(holes, "thread_pitch"), what, limit, "correct the pitch or the diameter")
    if depth is not None and pitch is None:
        what = "thread_depth is given but no thread_pitch"
        yield Fault(
            checked.path(holes, "thread_depth"), what, "", "add thread_pitch, or take thread_depth out"
        )
    if depth is not None and holes.depth is not None and depth > holes.depth:
        what = f"thread_depth {depth} is deeper than the hole"
        yield Fault(checked.path(holes, "thread_depth"), what, f"depth {holes.depth}", "make the hole deeper")


def _counterbore(checked: Checked, holes: BoltCircle) -> Iterator[Fault]:
    entry = holes.counterbore
    if entry is not None and holes.depth is not None and entry.depth >= holes.depth:
        what = f"the counterbore of {entry.depth} is as deep as the hole"
        path = checked.path(holes, "counterbore", "depth")
        yield Fault(path, what, f"depth {holes.depth}", "make it less deep")


def _widest(holes: BoltCircle) -> Mm:
    return float(holes.counterbore.diameter if holes.counterbore else holes.diameter)


def _axial(checked: Checked, holes: BoltCircle, face: Face) -> Iterator[Fault]:
    section, circle = checked.section, float(holes.circle_diameter or 0.0)
    ring, width = checked.extent(face), _widest(holes)
    yield from _apart(checked, holes, circle)
    if holes.depth is not None and holes.side is not None and holes.side != face.side:
        what = f"side {holes.side}, but {face.name!r} looks to the {face.side} side"
        limit = "blind holes enter from the side of their face"
        yield Fault(checked.path(holes, "side"), what, limit, f"write side: {face.side}, or correct on")
        return
    if circle + width > ring.outer + ROUNDING or circle - width < ring.inner - ROUNDING:
        what = f"holes of {mm(width)} on a circle of {mm(circle)} do not lie in {face.name!r}"
        limit = f"the face reaches from {mm(ring.inner)} to {mm(ring.outer)}"
        yield Fault(checked.path(holes, "circle_diameter"), what, limit, "correct the circle, or on")
        return
    room = depth_below(section, float(face.z), face.side, circle)
    if holes.depth is not None and holes.depth > room + ROUNDING:
        what = f"depth {holes.depth} goes through the material"
        limit = f"{mm(room)} of material on that circle"
        yield Fault(
            checked.path(holes, "depth"), what, limit, "make it less deep; leave depth out to go through"
        )
        return
    entry = holes.counterbore
    if entry is not None and entry.depth >= room - ROUNDING:
        what = f"the counterbore of {entry.depth} goes through the material"
        path = checked.path(holes, "counterbore", "depth")
        yield Fault(path, what, f"{mm(room)} of material on that circle", "make it less deep")
        return
    yield from _breaks_out(checked, holes, circle)


def _breaks_out(checked: Checked, holes: BoltCircle, circle: Mm) -> Iterator[Fault]:
    """A hole must not cut a bore, a groove or a tooth root at its side."""
    section, own, size = checked.section, checked.extent(holes), float(holes.diameter)
    remedy = "correct the circle, the depth or the diameter"
    for pieces, way in ((section.outside, 1.0), (section.inside, -1.0)):
        for piece in pieces.between(own.z_from, own.z_to):
            roots = (piece.root_lower, piece.root_upper)
            root = min(roots) if way > 0 else max(roots)
            if way * (circle + way * size - root) > ROUNDING:
                what = f"the holes break out at the side into {piece.feature!r}"
                limit = f"its floor or tooth root has {mm(root)}, {span(piece.z_from, piece.z_to)}"
                yield Fault(checked.path(holes, "circle_diameter"), what, limit, remedy)
                return
    for groove in checked.features:
        if not isinstance(groove, FaceGroove):
            continue
        ring = checked.extent(groove)
        along = min(ring.z_to, own.z_to) - max(ring.z_from, own.z_from)
        inside = ring.inner - ROUNDING <= own.inner and own.outer <= ring.outer + ROUNDING
        across = min(ring.outer, own.outer) - max(ring.inner, own.inner)
        if along > ROUNDING and across > ROUNDING and not inside:
            what = f"the holes cut the wall of {groove.name!r}"
            limit = f"groove from {mm(ring.inner)} to {mm(ring.outer)}"
            yield Fault(checked.path(holes, "circle_diameter"), what, limit, remedy)


def _apart(checked: Checked, holes: BoltCircle, circle: Mm) -> Iterator[Fault]:
    if holes.count < 2:
        return
    pitch, width = circle * sin(pi / holes.count), _widest(holes)
    if pitch <= width:
        what = f"{holes.count} holes of {mm(width)} on a circle of {mm(circle)} cut each other"
        limit = f"from hole to hole {mm(pitch)}"
        yield Fault(
            checked.path(holes, "count"), what, limit, "take fewer or smaller holes, or a larger circle"
        )


def _radial(checked: Checked, holes: BoltCircle) -> Iterator[Fault]:
    pieces, carrier = checked.carrier_pieces(holes.on), checked.named(holes.on)
    if not pieces or carrier is None:
        what = f"radial holes enter a cylinder; {holes.on!r} is none"
        yield Fault(
            checked.path(holes, "on"), what, "", "name a turned_diameter or a bore, or write direction: axial"
        )
        return
    z, width, own = float(holes.z or 0.0), _widest(holes), checked.extent(carrier)
    if z - width / 2 < own.z_from - ROUNDING or z + width / 2 > own.z_to + ROUNDING:
        what = f"holes of {mm(width)} at z {mm(z)} do not lie in {carrier.name!r}"
        limit = f"{carrier.name} {span(own.z_from, own.z_to)}"
        yield Fault(checked.path(holes, "z"), what, limit, "correct z, or on")
        return
    yield from _apart(checked, holes, pieces[0].lower)
    wall = (checked.section.outer_diameter(z) - checked.section.inner_diameter(z)) / 2
    if holes.depth is not None and holes.depth > wall + ROUNDING:
        what = f"depth {holes.depth} goes through the wall"
        yield Fault(checked.path(holes, "depth"), what, f"wall {mm(wall)}", "leave depth out to go through")


def _two_circles(checked: Checked, one: BoltCircle, other: BoltCircle) -> Iterator[Fault]:
    """Holes of two circles must not meet; where one is timed to other teeth its angle is open."""
    if "radial" in (one.direction, other.direction) or one.phase or other.phase:
        return
    a, b = checked.extent(one), checked.extent(other)
    if min(a.z_to, b.z_to) - max(a.z_from, b.z_from) <= ROUNDING:
        return
    least = (float(one.diameter) + float(other.diameter)) / 2
    if abs((a.inner + a.outer) - (b.inner + b.outer)) / 4 > least:
        return
    nearest = _nearest(one, other)
    if nearest < least:
        what = f"its holes meet those of {one.name!r}"
        limit = f"nearest centres {mm(nearest)} apart, {mm(least)} needed"
        remedy = "correct circle_diameter or start_angle"
        yield Fault(checked.path(other, "circle_diameter"), what, limit, remedy)


def _nearest(one: BoltCircle, other: BoltCircle) -> Mm:
    """Smallest distance between hole centres of two circles."""
    r, s = float(one.circle_diameter or 0.0) / 2, float(other.circle_diameter or 0.0) / 2
    pitch = 360.0 / other.count
    angles = []
    for hole in range(one.count):
        beside = (one.start_angle + 360.0 * hole / one.count - other.start_angle) % pitch
        angles.append(min(beside, pitch - beside))
    return sqrt(max(0.0, r * r + s * s - 2 * r * s * cos(radians(min(angles)))))
