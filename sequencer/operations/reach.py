"""Whether a tool from above gets at a feature in a clamping, and why not."""

from __future__ import annotations

from sequencer.operations.edge_reach import edges_reach
from sequencer.operations.facts import diameter_words, mm
from sequencer.operations.operation import Reach
from sequencer.operations.proud import SLIGHT, deepest_blade, name_words, overhang
from sequencer.operations.standing import Standing
from sequencer.operations.straps import under_straps
from sequencer.part import AnyFeature
from sequencer.part.extents import depth_below
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
from sequencer.part.profile import SAME
from sequencer.part.surfaces import GROOVES, place_of
from sequencer.part.toothed import BevelGear
from sequencer.part.turned import Bore, Chamfer, Face, FaceGroove, Radius, Taper, TurnedDiameter
from sequencer.units import Mm


def reach_of(standing: Standing, feature: AnyFeature) -> Reach:
    """Say whether a feature can be reached in a clamping.

    Parameters
    ----------
    standing
        The part in the clamping.
    feature
        Feature of the part.
    """
    blocked = _used_for_holding(standing, feature) or under_straps(standing, feature)
    if blocked:
        return Reach(feature.name, False, blocked)
    if isinstance(feature, Face):
        return _face(standing, feature)
    if isinstance(feature, FaceGroove):
        return _face_groove(standing, feature)
    if isinstance(feature, BoltCircle):
        return _bolt_circle(standing, feature)
    if isinstance(feature, Pocket):
        return _pocket(standing, feature)
    if isinstance(feature, Keyway | Flat):
        return _on_cylinder(standing, feature)
    if isinstance(feature, Chamfer | Radius):
        return edges_reach(standing, feature)
    if isinstance(feature, Marking):
        return _marking(standing, feature)
    if isinstance(feature, BevelGear) and feature.apex != standing.clamping.up:
        return _no(feature, f"its cone apex lies below in clamping {standing.name}")
    return _zone(standing, feature)


def _used_for_holding(standing: Standing, feature: AnyFeature) -> str:
    clamping = standing.clamping
    if feature.name == clamping.rests_on:
        return f"the part stands on it in clamping {clamping.name}"
    if feature.name == clamping.on and clamping.hold == "bolts":
        return f"the bolts of clamping {clamping.name} sit in it"
    return ""


def _free(feature: AnyFeature, reason: str) -> Reach:
    return Reach(feature.name, True, reason)


def _no(feature: AnyFeature, reason: str) -> Reach:
    return Reach(feature.name, False, reason)


def _zone(standing: Standing, feature: AnyFeature) -> Reach:
    """Surfaces round the axis: cylinders, grooves, threads, teeth."""
    extent = standing.section.extent(feature.name)
    inside = place_of(feature) == "inside"
    jaws = standing.hidden_by_jaws(extent.z_from, extent.z_to, inside)
    if jaws:
        return _no(feature, jaws)
    if not inside:
        return _outside(standing, feature)
    return _inside(standing, feature)


def _outside(standing: Standing, feature: AnyFeature) -> Reach:
    extent = standing.section.extent(feature.name)
    if not isinstance(feature, TurnedDiameter | Taper):
        return _free(feature, f"outside, {_free_of_jaws(standing)}")
    proud, diameter, name = overhang(standing, extent.z_from, extent.z_to, extent.inner, inside=False)
    if proud <= SLIGHT:
        return _free(feature, f"outside, {_free_of_jaws(standing)}")
    blade = deepest_blade(standing, "outside")
    what = f"{name_words(name)} above it ({diameter_words(diameter)}) stands {mm(proud)} proud"
    if proud > blade:
        return _no(feature, f"{what}; the deepest outside blade reaches {mm(blade)}")
    return _free(feature, f"outside, with a blade from the side: {what}")


def _inside(standing: Standing, feature: AnyFeature) -> Reach:
    extent = standing.section.extent(feature.name)
    deep = _too_deep(standing, extent.z_from, extent.z_to)
    if deep:
        return _no(feature, deep)
    opening = overhang(standing, extent.z_from, extent.z_to, extent.inner, inside=True)
    proud, diameter, name = opening
    if diameter <= 0:
        return _no(feature, "closed above: the part is solid there")
    depth = standing.view.depth(extent.z_from, extent.z_to)
    if proud <= SLIGHT:
        return _free(feature, f"open to above, far end {mm(depth)} below the top")
    what = f"{name_words(name)} above it ({diameter_words(diameter)}) stands {mm(proud)} proud"
    blade = deepest_blade(standing, "inside")
    if not isinstance(feature, Bore | Taper):
        if isinstance(feature, GROOVES):
            return _free(feature, f"open to above through {diameter_words(diameter)}")
        return _no(feature, f"{what}: a tool of its size does not pass")
    if proud > blade:
        return _no(feature, f"{what}; the deepest inside blade reaches {mm(blade)}")
    return _free(feature, f"inside, with a blade behind the lip: {what}")


def _too_deep(standing: Standing, z_from: Mm, z_to: Mm) -> str:
    machine = standing.shop.machine
    longest = max(float(tool.functional_length) for tool in standing.shop.tools)
    limit = float(machine.spindle.reach_inside) + longest
    depth = standing.view.depth(z_from, z_to)
    if depth <= limit:
        return ""
    return (
        f"its far end lies {mm(depth)} below the top; the head goes {mm(machine.spindle.reach_inside)} deep "
        f"and the longest tool is {mm(longest)}"
    )


def _free_of_jaws(standing: Standing) -> str:
    if standing.clamping.hold == "outside jaws":
        return f"above the jaws ({standing.band_words})"
    return "free of the clamping means"


def _face(standing: Standing, feature: Face) -> Reach:
    if feature.side != standing.clamping.up:
        return _no(feature, f"looks down in clamping {standing.name}")
    extent = standing.section.extent(feature.name)
    height = standing.view.height(float(feature.z))
    heads = bolt_heads(standing)
    if (
        heads is not None
        and abs(heads[0] - height) < SAME
        and extent.inner < heads[2]
        and heads[1] < extent.outer
    ):
        return _no(
            feature,
            f"bolt heads stand on it from {diameter_words(heads[1])} to {mm(heads[2])}",
        )
    if standing.band is not None and height < min(standing.band[1], standing.view.top - SAME):
        inside, grip = standing.clamping.hold == "inside jaws", standing.grip_diameter
        if extent.outer <= grip + SAME if inside else extent.inner >= grip - SAME:
            hold = standing.clamping.hold
            return _no(feature, f"lies below the top of the {hold}, which cover {standing.band_words}")
    return _seen(standing, feature, height, extent.inner, extent.outer)


def _seen(standing: Standing, feature: AnyFeature, height: Mm, inner: Mm, outer: Mm) -> Reach:
    """A ring that looks up, with what rises above it."""
    widest, narrowest = standing.view.widest_above(height), standing.view.narrowest_above(height)
    if widest is None or narrowest is None:
        return _free(feature, "looks up, nothing above it")
    middle = (inner + outer) / 2
    if middle >= widest.diameter:
        return _free(feature, f"looks up outside {name_words(widest.feature)}")
    if narrowest.diameter > 0 and middle <= narrowest.diameter:
        return _free(feature, f"looks up inside {name_words(narrowest.feature)}")
    if outer > widest.diameter + 2 * SLIGHT or inner < narrowest.diameter - 2 * SLIGHT:
        return _free(feature, "looks up, its rest under the overhang goes with the groove beside it")
    return _no(
        feature,
        f"lies between {diameter_words(inner)} and {mm(outer)}, covered from above by "
        f"{name_words(widest.feature)} ({diameter_words(widest.diameter)})",
    )


def bolt_heads(standing: Standing) -> tuple[Mm, Mm, Mm] | None:
    """Height, inner and outer diameter of bolt heads on a face that looks up; None without any.

    Source: ISO 4762, head diameter 1.5 d and head height d, from memory. Bolts into threads that open
    downwards come from below and have no head above.

    Parameters
    ----------
    standing
        The part in the clamping.
    """
    holes = standing.gripped
    if standing.clamping.hold != "bolts" or not isinstance(holes, BoltCircle) or holes.direction != "axial":
        return None
    if holes.thread_pitch is not None or holes.depth is not None:
        return None
    size, circle = float(holes.diameter), float(holes.circle_diameter or 0.0)
    sunk = holes.counterbore
    if sunk is not None and entry_side(standing, holes) == standing.clamping.up and sunk.depth >= size:
        return None
    extent = standing.section.extent(holes.name)
    height = standing.view.ends(extent.z_from, extent.z_to)[1]
    return height, circle - 1.5 * size, circle + 1.5 * size


def entry_side(standing: Standing, feature: BoltCircle | Pocket) -> str:
    """Side that axial holes or pockets in a face enter from.

    Parameters
    ----------
    standing
        The part in the clamping.
    feature
        Holes or pockets.
    """
    if isinstance(feature, BoltCircle) and feature.side is not None:
        return feature.side
    carrier = standing.part.by_name.get(feature.on)
    return carrier.side if isinstance(carrier, Face) else "upper"


def _carried_by_face(standing: Standing, feature: AnyFeature, inner: Mm, outer: Mm, side: str) -> Reach:
    """Things in a face: they are reached when their ring of the face is seen from above."""
    if side != standing.clamping.up:
        return _no(feature, f"enters a face that looks down in clamping {standing.name}")
    extent = standing.section.extent(feature.name)
    height = standing.view.ends(extent.z_from, extent.z_to)[1]
    heads = bolt_heads(standing)
    if heads is not None and abs(heads[0] - height) < SAME and inner < heads[2] and heads[1] < outer:
        return _no(feature, f"bolt heads stand there from {diameter_words(heads[1])} to {mm(heads[2])}")
    return _ring(standing, feature, height, inner, outer)


def _ring(standing: Standing, feature: AnyFeature, height: Mm, inner: Mm, outer: Mm) -> Reach:
    widest, narrowest = standing.view.widest_above(height), standing.view.narrowest_above(height)
    if widest is None or narrowest is None:
        return _free(feature, "open to above, nothing above its face")
    if inner >= widest.diameter - SAME:
        return _free(feature, f"open to above outside {name_words(widest.feature)}")
    if narrowest.diameter > 0 and outer <= narrowest.diameter + SAME:
        return _free(feature, f"open to above inside {name_words(narrowest.feature)}")
    return _no(
        feature,
        f"lies between {diameter_words(inner)} and {mm(outer)}, covered from above by "
        f"{name_words(widest.feature)} ({diameter_words(widest.diameter)})",
    )


def _face_groove(standing: Standing, feature: FaceGroove) -> Reach:
    inner, outer = float(feature.inner_diameter), float(feature.outer_diameter)
    return _carried_by_face(standing, feature, inner, outer, feature.side)


def _bolt_circle(standing: Standing, feature: BoltCircle) -> Reach:
    if feature.direction == "radial":
        return _on_cylinder(standing, feature)
    extent = standing.section.extent(feature.name)
    side = entry_side(standing, feature)
    if side != standing.clamping.up and _either_side(standing, feature):
        side = standing.clamping.up
        answer = _carried_by_face(standing, feature, extent.inner, extent.outer, side)
        if answer.reachable:
            return _free(feature, f"through holes, from the other side: {answer.reason}")
        return answer
    return _carried_by_face(standing, feature, extent.inner, extent.outer, side)


def _either_side(standing: Standing, holes: BoltCircle) -> bool:
    """Plain through holes without a side of their own may be drilled from either end."""
    plain = holes.depth is None and holes.counterbore is None and holes.thread_depth is None
    plain = plain and holes.side is None
    if not plain:
        return False
    extent = standing.section.extent(holes.name)
    shape, circle = standing.section, float(holes.circle_diameter or 0.0)
    far = extent.z_to if entry_side(standing, holes) == "lower" else extent.z_from
    way = "upper" if entry_side(standing, holes) == "lower" else "lower"
    return depth_below(shape, far, way, circle) > 0  # type: ignore[arg-type]


def _pocket(standing: Standing, feature: Pocket) -> Reach:
    if not isinstance(standing.part.by_name.get(feature.on), Face):
        return _on_cylinder(standing, feature)
    extent = standing.section.extent(feature.name)
    return _carried_by_face(standing, feature, extent.inner, extent.outer, entry_side(standing, feature))


def _on_cylinder(standing: Standing, feature: BoltCircle | Pocket | Keyway | Flat) -> Reach:
    """Keyways, flats, pockets and radial holes on a cylinder, outside or inside."""
    extent = standing.section.extent(feature.name)
    carrier = standing.part.by_name.get(feature.on)
    inside = carrier is not None and place_of(carrier) == "inside"
    jaws = standing.hidden_by_jaws(extent.z_from, extent.z_to, inside)
    if jaws:
        return _no(feature, jaws)
    return (
        _inside_of_bore(standing, feature)
        if inside
        else _free(feature, f"outside, {_free_of_jaws(standing)}")
    )


def _inside_of_bore(standing: Standing, feature: AnyFeature) -> Reach:
    extent = standing.section.extent(feature.name)
    deep = _too_deep(standing, extent.z_from, extent.z_to)
    if deep:
        return _no(feature, deep)
    proud, diameter, name = overhang(standing, extent.z_from, extent.z_to, extent.inner, inside=True)
    if diameter <= 0:
        return _no(feature, "closed above: the part is solid there")
    if proud > SLIGHT:
        return _no(
            feature, f"{name_words(name)} above it ({diameter_words(diameter)}) stands {mm(proud)} in the way"
        )
    return _free(feature, f"open to above through {diameter_words(diameter)}")


def _marking(standing: Standing, feature: Marking) -> Reach:
    carrier = standing.part.by_name.get(feature.on) if feature.on else None
    if carrier is None or isinstance(carrier, Marking):
        return _no(feature, "names no surface that carries it")
    answer = reach_of(standing, carrier)
    return Reach(feature.name, answer.reachable, f"on {carrier.name}: {answer.reason}")
