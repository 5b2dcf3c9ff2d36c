"""Where holes lie: what they break into, what wall they leave, which of them cross."""

from __future__ import annotations

from math import cos, hypot, radians, sin

from sequencer.part import AnyFeature
from sequencer.part.milled import BoltCircle
from sequencer.part.section import Extent
from sequencer.part.turned import ApexGroove, Bore, Face, FaceGroove, Groove, RunOutGroove
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.precedence.geometry import TOUCH
from sequencer.units import Mm


def hole_span(context: RuleContext, hole: BoltCircle) -> Extent:
    """Room that the holes of a bolt circle take: z from and to, inner and outer diameter [mm].

    Source: derived

    Parameters
    ----------
    context
        The part.
    hole
        The bolt circle.
    """
    section, radius = context.section, float(hole.diameter) / 2
    if hole.direction == "radial":
        z = float(hole.z or 0.0)
        carrier = context.part.by_name.get(hole.on)
        inside = isinstance(carrier, Bore)
        outer, inner = section.outer_diameter(z), section.inner_diameter(z)
        if hole.depth is not None and inside:
            outer = min(outer, inner + 2 * float(hole.depth))
        elif hole.depth is not None:
            inner = max(inner, outer - 2 * float(hole.depth))
        return Extent(z - radius, z + radius, inner, outer)
    circle = float(hole.circle_diameter or 0.0)
    face = context.part.by_name.get(hole.on)
    z = float(face.z) if isinstance(face, Face) else section.z_to
    down = (hole.side or (face.side if isinstance(face, Face) else "upper")) == "upper"
    end = section.z_from if down else section.z_to
    if hole.depth is not None:
        end = z - float(hole.depth) if down else z + float(hole.depth)
    return Extent(min(z, end), max(z, end), circle - 2 * radius, circle + 2 * radius)


def breaks_into(context: RuleContext, hole: BoltCircle, feature: AnyFeature) -> bool:
    """Say whether holes break through the wall of a bore or groove, or into tooth spaces.

    Parameters
    ----------
    context
        The part.
    hole
        The bolt circle.
    feature
        Bore, taper, groove or gear that may be hit; never the surface that the holes enter.
    """
    if feature.name == hole.on:
        return isinstance(feature, Toothed) and hole.direction == "radial"
    span = hole_span(context, hole)
    if isinstance(feature, Bore):
        if span.z_to <= feature.z_from or span.z_from >= feature.z_to:
            return False
        return span.inner <= feature.diameter + TOUCH
    if isinstance(feature, ApexGroove | RunOutGroove | Groove | FaceGroove | Toothed):
        zone = context.section.extent(feature.name)
        along = min(span.z_to, zone.z_to) - max(span.z_from, zone.z_from)
        across = min(span.outer, zone.outer) - max(span.inner, zone.inner)
        return along > TOUCH and across > TOUCH
    return False


def wall_beside_hole(context: RuleContext, hole: BoltCircle, feature: AnyFeature) -> Mm | None:
    """Wall between holes and a tooth root or groove floor; None where they do not lie side by side [mm].

    Source: derived

    Parameters
    ----------
    context
        The part.
    hole
        The bolt circle.
    feature
        Gear, spline or groove.
    """
    if feature.name == hole.on or not isinstance(
        feature, ApexGroove | RunOutGroove | Groove | FaceGroove | Toothed
    ):
        return None
    span, zone = hole_span(context, hole), context.section.extent(feature.name)
    along = max(span.z_from - zone.z_to, zone.z_from - span.z_to, 0.0)
    across = max(span.inner - zone.outer, zone.inner - span.outer, 0.0) / 2
    if along > 0 and across > 0:
        return hypot(along, across)
    return max(along, across)


def crossing(context: RuleContext, one: BoltCircle, other: BoltCircle) -> bool:
    """Say whether holes of two bolt circles run into each other.

    Parameters
    ----------
    context
        The part.
    one, other
        The bolt circles.
    """
    a, b = hole_span(context, one), hole_span(context, other)
    if min(a.z_to, b.z_to) <= max(a.z_from, b.z_from) or min(a.outer, b.outer) <= max(a.inner, b.inner):
        return False
    reach = (float(one.diameter) + float(other.diameter)) / 2
    middle = (max(a.inner, b.inner) + min(a.outer, b.outer)) / 4
    return any(_apart(middle, first, second) < reach for first in _angles(one) for second in _angles(other))


def _angles(hole: BoltCircle) -> tuple[float, ...]:
    return tuple(float(hole.start_angle) + 360.0 * number / hole.count for number in range(hole.count))


def _apart(radius: Mm, first: float, second: float) -> Mm:
    angle = radians(first - second)
    return hypot(radius * (1 - cos(angle)), radius * sin(angle))
