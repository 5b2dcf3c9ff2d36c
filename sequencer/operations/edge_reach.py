"""Whether a tool gets at an edge or a corner in a clamping, and why not."""

from __future__ import annotations

from sequencer.operations.facts import diameter_words, mm
from sequencer.operations.operation import Reach
from sequencer.operations.proud import SLIGHT, name_words, overhang
from sequencer.operations.standing import Standing
from sequencer.part import AnyFeature
from sequencer.part.profile import SAME
from sequencer.part.section import Section
from sequencer.part.surfaces import pieces_of, place_of
from sequencer.part.turned import Chamfer, Radius
from sequencer.units import Mm


def edges_reach(standing: Standing, feature: Chamfer | Radius) -> Reach:
    """Say whether any edge of a chamfer or radius can be reached, and which.

    Parameters
    ----------
    standing
        The part in the clamping.
    feature
        The chamfer or radius.
    """
    sides = ("lower", "upper") if feature.edge == "both" else (feature.edge,)
    answers = [(side, *edge_reach(standing, feature, side)) for side in sides]
    if len(answers) == 1:
        return Reach(feature.name, answers[0][1], answers[0][2])
    words = "; ".join(f"{side} edge: {reason}" for side, _, reason in answers)
    return Reach(feature.name, any(reachable for _, reachable, _ in answers), words)


def edge_reach(standing: Standing, feature: Chamfer | Radius, side: str) -> tuple[bool, str]:
    """Say whether one edge of a chamfer or radius can be reached, and why.

    Parameters
    ----------
    standing
        The part in the clamping.
    feature
        The chamfer or radius.
    side
        "lower" or "upper" in the drawing.
    """
    carrier = standing.part.by_name.get(feature.on)
    if carrier is None or place_of(carrier) is None:
        return False, f"{feature.on} has no edge"
    inside = place_of(carrier) == "inside"
    extent = standing.section.extent(carrier.name)
    size = float(feature.size)
    z = extent.z_to if side == "upper" else extent.z_from
    zone = (z - size, z) if side == "upper" else (z, z + size)
    jaws = standing.hidden_by_jaws(*zone, inside)
    if jaws:
        return False, jaws
    if side != standing.clamping.up and not is_corner(standing.section, carrier, side):
        return _edge_below(standing, z, inside)
    if is_corner(standing.section, carrier, side):
        zone = (extent.z_from, extent.z_to)
    diameter = edge_diameter(carrier, side)
    proud, at, name = overhang(standing, *zone, diameter, inside)
    if proud > SLIGHT:
        return False, f"{name_words(name)} above it ({diameter_words(at)}) stands {mm(proud)} proud"
    return True, "looks up" if side == standing.clamping.up else "a corner, open to above"


def edge_diameter(carrier: AnyFeature, side: str) -> Mm:
    """Diameter at one end of a cylinder, cone or tooth system [mm].

    Source: derived

    Parameters
    ----------
    carrier
        What has the edge.
    side
        "lower" or "upper" in the drawing.
    """
    pieces = pieces_of(carrier)
    return pieces[0].lower if side == "lower" else pieces[-1].upper


def is_corner(section: Section, carrier: AnyFeature, side: str) -> bool:
    """Whether a cylinder ends in a corner at a side: the material beyond it stands proud.

    Parameters
    ----------
    section
        Half-section of the part.
    carrier
        The cylinder.
    side
        "lower" or "upper" in the drawing.
    """
    inside, extent = place_of(carrier) == "inside", section.extent(carrier.name)
    profile = section.inside if inside else section.outside
    beyond = (
        profile.between(extent.z_to, extent.z_to + 2 * SLIGHT)
        if side == "upper"
        else profile.between(extent.z_from - 2 * SLIGHT, extent.z_from)
    )
    if inside:
        return any(min(piece.lower, piece.upper) < extent.inner - 2 * SLIGHT for piece in beyond)
    return any(max(piece.lower, piece.upper) > extent.outer + 2 * SLIGHT for piece in beyond)


def _edge_below(standing: Standing, z: Mm, inside: bool) -> tuple[bool, str]:
    lowest = standing.view.height(z) <= standing.view.bottom + SAME
    if inside:
        return False, f"looks down into the bore in clamping {standing.name}"
    if lowest:
        return False, f"looks down to the table in clamping {standing.name}"
    return True, "looks down, reached from the side"
