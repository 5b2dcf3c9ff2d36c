"""Chamfers and radii: each edge once, and no larger than the step that it breaks."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import radians, tan
from typing import Final, Literal

from sequencer.part.checks.checked import ROUNDING, Checked, mm
from sequencer.part.extents import zone_of
from sequencer.part.fault import Fault
from sequencer.part.profile import SAME, Piece, Profile
from sequencer.part.surfaces import place_of
from sequencer.part.turned import Chamfer, Radius
from sequencer.units import Mm

Edge = Chamfer | Radius
End = Literal["lower", "upper"]


#: Surfaces that lie over each other, such as teeth on their cylinder, differ less than this [mm].
CUT_AWAY: Final = 0.5


def edge_faults(checked: Checked) -> Iterator[Fault]:
    """Check all chamfers and radii beyond their own sizes.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    edges = [feature for feature in checked.features if isinstance(feature, Chamfer | Radius)]
    for one, other in combinations(edges, 2):
        if one.on == other.on and set(_ends(one)) & set(_ends(other)):
            shared = " and ".join(end for end in _ends(one) if end in _ends(other))
            what = f"the {shared} edge of {one.on!r} has {one.name!r} already"
            yield Fault(checked.path(other, "edge"), what, "each edge is broken once", "take one of them out")
    for edge in edges:
        for end in _ends(edge):
            yield from _step(checked, edge, end)


def _ends(edge: Edge) -> tuple[End, ...]:
    return ("lower", "upper") if edge.edge == "both" else (edge.edge,)


def _step(checked: Checked, edge: Edge, end: End) -> Iterator[Fault]:
    """The step beyond the end of the carrier; at the ends of the part the wall is checked elsewhere."""
    carrier = checked.named(edge.on)
    if carrier is None or place_of(carrier) is None:
        return
    profile = checked.section.outside if place_of(carrier) == "outside" else checked.section.inside
    z = zone_of(carrier)[0 if end == "lower" else 1]
    within, beyond = _beside(profile, z, end)
    if within is None:
        through = next((p for p in profile.pieces if p.z_from + ROUNDING < z < p.z_to - ROUNDING), None)
        if through is not None:
            yield _no_edge(checked, edge, end, through, _at(through, z))
        return
    ends = checked.carrier_pieces(edge.on)
    own, wanted = _at(within, z), _at(ends[0 if end == "lower" else -1], z)
    if abs(own - wanted) > CUT_AWAY:
        what = f"the {end} end of {edge.on!r} is cut away: {within.feature!r} has {mm(own)} there"
        remedy = f"name {within.feature!r}, or end {edge.on!r} where that begins"
        yield Fault(checked.path(edge, "on"), what, f"{edge.on!r} has {mm(wanted)}", remedy)
        return
    if beyond is None:
        return
    other = _at(beyond, z)
    drop = (own - other) if place_of(carrier) == "outside" else (other - own)
    step = drop / 2
    radial = float(edge.size)
    if isinstance(edge, Chamfer):
        radial *= tan(radians(edge.angle)) if 0 < edge.angle < 90 else 0.0
    at = f"at the {end} end of {edge.on!r}"
    if abs(step) <= ROUNDING:
        yield _no_edge(checked, edge, end, beyond, other)
    elif step < 0 and isinstance(edge, Chamfer):
        what = f"there is no edge {at} but a corner: {beyond.feature!r} of {mm(other)} stands there"
        yield Fault(checked.path(edge, "edge"), what, "a chamfer breaks an edge", "correct edge, or on")
    elif radial > abs(step) + ROUNDING:
        what = f"the {edge.kind} takes {mm(radial)} across {at}"
        limit = f"the step to {beyond.feature!r} is {mm(abs(step))}"
        yield Fault(checked.path(edge, "size"), what, limit, "make it smaller")


def _no_edge(checked: Checked, edge: Edge, end: End, piece: Piece, size: Mm) -> Fault:
    what = f"there is no edge at the {end} end of {edge.on!r}: {piece.feature!r} goes on with {mm(size)}"
    limit = "an edge is where the diameter changes"
    return Fault(checked.path(edge, "edge"), what, limit, "correct edge, or on")


def _beside(profile: Profile, z: Mm, end: End) -> tuple[Piece | None, Piece | None]:
    """Pieces on the two sides of a height: that of the carrier, and that beyond it."""
    below = next((piece for piece in profile.pieces if abs(piece.z_to - z) <= ROUNDING + SAME), None)
    above = next((piece for piece in profile.pieces if abs(piece.z_from - z) <= ROUNDING + SAME), None)
    return (above, below) if end == "lower" else (below, above)


def _at(piece: Piece, z: Mm) -> Mm:
    return piece.diameter(min(max(z, piece.z_from), piece.z_to))
