"""Clampings proposed where the planner gives none: lower side first, then everything precise from above."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.errors import Finding, Severity
from sequencer.operations.means import choose_means
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.part import BLANK, AnyFeature, Clamping, Part
from sequencer.part.feature import Side
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.section import Section
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import Bore, TurnedDiameter
from sequencer.shop import Shop
from sequencer.units import Mm, Quantity, shown

_TEETH: Final = (ExternalGear, InternalGear, DoubleHelicalGear, Spline, BevelGear)

#: Shortest band that jaws grip [mm]; common practice, no source.
_SHORTEST_BAND: Final[Mm] = 8.0

#: Air that a drill needs below the part when it breaks through [mm]; common practice, no source.
_DRILL_AIR: Final[Mm] = 20.0

#: Run-out of a hob below outside teeth, in modules; from memory of handbook tables of gaps for hobs.
_RUN_OUT_IN_MODULES: Final = 12.0


def propose_clampings(part: Part, shop: Shop, section: Section) -> tuple[tuple[Clamping, ...], Finding]:
    """Propose two clampings for a part whose planner gives none.

    The first grips the raw blank outside near one end, with the other side up; the second rests on the face
    that the first made. Of the ways to hold the second the one is taken that leaves no feature unreached,
    then reaches most tooth systems, then all datums with them, then most features; bolts before inside jaws
    before outside jaws.

    Parameters
    ----------
    part, shop, section
        Part, shop and half-section.
    """
    candidates = [pair for up in ("lower", "upper") for pair in _pairs(part, shop, section, up)]
    ranked = sorted(
        enumerate(candidates), key=lambda entry: (_merit(part, shop, section, entry[1]), -entry[0])
    )
    best = ranked[-1][1]
    held = best[1]
    finding = Finding(
        Severity.NOTE,
        "clampings",
        f"the part file gives no clampings; proposed: I {best[0].up} side up in {best[0].hold} on the blank, "
        f"II {held.up} side up, {held.hold} on {held.on}, standing on {held.rests_on}",
        "an estimate",
        "give clampings in the part file",
        "estimate",
    )
    return best, finding


def _merit(
    part: Part, shop: Shop, section: Section, pair: tuple[Clamping, Clamping]
) -> tuple[int, int, int, int, int]:
    standings = [Standing(part, shop, section, clamping) for clamping in pair]
    first, second = (
        {f.name for f in part.features if reach_of(standing, f).reachable} for standing in standings
    )
    held = sum(choose_means(standing)[0] is not None for standing in standings)
    teeth = {
        feature.name
        for feature in part.features
        if isinstance(feature, _TEETH) and _runs_out(standings[1], feature)
    }
    datums = set(part.datums.values())
    return held, len(first | second), len(second & teeth), int(datums <= second), len(second)


def _runs_out(standing: Standing, feature: AnyFeature) -> bool:
    """Outside teeth need room between their lower end and outside jaws for the cutter to run out."""
    if standing.clamping.hold != "outside jaws" or standing.band is None:
        return True
    if not isinstance(feature, ExternalGear | DoubleHelicalGear):
        return True
    low = standing.view.ends(feature.z_from, feature.z_to)[0]
    return low - standing.band[1] >= _RUN_OUT_IN_MODULES * feature.module.millimetres


def _pairs(part: Part, shop: Shop, section: Section, up: Side) -> Iterator[tuple[Clamping, Clamping]]:
    first = _first(part, shop, section, up)
    face = section.lower_face if up == "lower" else section.upper_face
    other: Side = "upper" if up == "lower" else "lower"
    for hold, on, band in _holds(part, shop, section, up, first):
        riser = _riser(part, shop, section, hold, other, with_teeth=True)
        yield first, _clamping("II", other, hold, on, face or BLANK, band, riser)


def _first(part: Part, shop: Shop, section: Section, up: Side) -> Clamping:
    low, high = float(part.blank.z_from), float(part.blank.z_to)
    length = min(_jaw_height(shop, "outside jaws", float(part.blank.diameter)), 0.25 * (high - low))
    band = (high - length, high) if up == "lower" else (low, low + length)
    riser = _riser(part, shop, section, "outside jaws", up, with_teeth=False)
    return _clamping("I", up, "outside jaws", BLANK, BLANK, band, riser)


def _jaw_height(shop: Shop, hold: str, diameter: Mm, soft: bool = False) -> Mm:
    heights = [
        float(means.height)
        for means in shop.clamping_means
        if means.hold == hold
        and means.diameter_from <= diameter <= means.diameter_to
        and (means.soft or not soft)
    ]
    return heights[0] if heights else 40.0


def _holds(
    part: Part, shop: Shop, section: Section, up: Side, first: Clamping
) -> Iterator[tuple[str, str, tuple[Mm, Mm] | None]]:
    """Ways to hold the second clamping on what the first made: bolts, inside jaws, outside jaws."""
    standing = Standing(part, shop, section, first)
    made = [feature for feature in part.features if reach_of(standing, feature).reachable]
    for feature in made:
        if feature.kind == "bolt_circle" and feature.use == "clamping":
            yield "bolts", feature.name, None
    for kind, hold in ((Bore, "inside jaws"), (TurnedDiameter, "outside jaws")):
        for feature in made:
            if isinstance(feature, kind):
                height = _jaw_height(shop, hold, float(feature.diameter), soft=True)
                low, high = float(feature.z_from), float(feature.z_to)
                length = min(height, high - low)
                if length >= _SHORTEST_BAND:
                    yield hold, feature.name, (low, low + length) if up == "lower" else (high - length, high)
    low, high = float(part.blank.z_from), float(part.blank.z_to)
    length = min(_jaw_height(shop, "outside jaws", float(part.blank.diameter)), 0.25 * (high - low))
    face_z = section.z_from if up == "lower" else section.z_to
    band = (face_z, face_z + length) if up == "lower" else (face_z - length, face_z)
    yield "outside jaws", BLANK, band


def _riser(part: Part, shop: Shop, section: Section, hold: str, up: Side, *, with_teeth: bool) -> Mm:
    """Smallest riser that leaves the air that drills and cutters need; the highest if none does."""
    needed = _air_needed(part, shop, section, up, with_teeth)
    room = float(shop.machine.table.height) - (float(part.blank.z_to) - float(part.blank.z_from))
    heights: list[Mm] = []
    for means in shop.clamping_means:
        if means.hold == hold:
            heights = sorted(float(riser) for riser in means.risers if riser <= room)
            break
    enough = [height for height in heights if height >= needed]
    if needed <= 0 or not heights:
        return 0.0
    return enough[0] if enough else heights[-1]


def _air_needed(part: Part, shop: Shop, section: Section, up: Side, with_teeth: bool) -> Mm:
    needed = [0.0]
    for feature in part.features:
        if feature.kind == "bolt_circle" and feature.depth is None:
            needed.append(_DRILL_AIR)
        if with_teeth and isinstance(feature, ExternalGear | DoubleHelicalGear):
            end = feature.z_from - section.z_from if up == "upper" else section.z_to - feature.z_to
            run_out = _RUN_OUT_IN_MODULES * feature.module.millimetres
            needed.append(run_out + float(shop.limits.riser_margin) - end)
        needed.append(_level_head_needs(part, shop, section, up, feature))
    return max(needed)


def _level_head_needs(part: Part, shop: Shop, section: Section, up: Side, feature: AnyFeature) -> Mm:
    """Air below the part that the level head needs for what it mills or drills from the side outside."""
    carrier = part.by_name.get(feature.on) if feature.on else None
    from_the_side = isinstance(feature, Keyway | Flat | Pocket | BoltCircle)
    if carrier is None or not from_the_side or place_of(carrier) != "outside":
        return 0.0
    extent = section.extent(feature.name)
    middle = (extent.z_from + extent.z_to) / 2
    height = middle - section.z_from if up == "upper" else section.z_to - middle
    return float(shop.machine.spindle.head_diameter) / 2 - height


def _clamping(
    name: str, up: Side, hold: str, on: str, rests_on: str, band: tuple[Mm, Mm] | None, riser: Mm
) -> Clamping:
    written = {
        "name": name,
        "up": up,
        "hold": hold,
        "on": on,
        "rests_on": rests_on,
        "z_from": _length(band[0]) if band else None,
        "z_to": _length(band[1]) if band else None,
        "riser": _length(riser),
    }
    return Clamping.model_validate(written)


def _length(value: Mm) -> Quantity:
    return Quantity(value, f"{shown(value)} mm")
