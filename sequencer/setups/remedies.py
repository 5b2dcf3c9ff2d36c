"""Changes of part or shop that would save a clamping; each is tried by making the operations again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sequencer.errors import NoPlan
from sequencer.operations import make_operations
from sequencer.operations.covering import Covering, Together, Wanted
from sequencer.operations.facts import mm
from sequencer.operations.layouts import Holder, Layout
from sequencer.part import Part
from sequencer.part.milled import BoltCircle
from sequencer.part.section import make_section
from sequencer.part.turned import Face
from sequencer.sequencing import refuse_errors
from sequencer.setups.forcing import Remedy
from sequencer.setups.holds import layout_words
from sequencer.shop import ClampingMeans, Shop
from sequencer.shop.tools import GroovingTool
from sequencer.units import Mm, Quantity, shown

#: Heights of risers that a shop may make or buy [mm]; common practice, no source.
_RISERS: Final = (60.0, 90.0, 120.0, 150.0, 200.0, 250.0, 300.0, 400.0)

#: Height of low jaws [mm]; common practice, no source.
_LOW_JAWS: Final[Mm] = 15.0

#: Free length between the jaws and the blade that parts off [mm]; common practice, no source.
_BESIDE_BLADE: Final[Mm] = 5.0

#: A part up to this mass is parted off on the machine [kg]; common practice, no source.
_PARTED: Final = 50.0

#: Remedies that are told.
_MOST_TOLD: Final = 3


@dataclass(frozen=True)
class _Change:
    """A part and a shop that differ from what was given in one point."""

    kind: str
    words: str
    part: Part
    shop: Shop
    without: str = ""


def remedies_of(
    covering: Covering, wanted: tuple[Wanted, ...], core: tuple[str, ...], count: int
) -> tuple[tuple[Remedy, ...], tuple[str, ...]]:
    """Give changes that let so many clampings do, the cheapest first, and the kinds that were tried in vain.

    Source: common practice, no source, for the order of cost: holes that are there, a riser, other jaws, a
    face plate, extra stock

    Parameters
    ----------
    covering
        The candidates as they are.
    wanted
        What must be cut.
    core
        Features that force the clamping.
    count
        Number of clampings to do with.
    """
    found: list[Remedy] = []
    vain: list[str] = []
    done: set[str] = set()
    holder = covering.holder
    for change in _changes(holder.part, holder.shop, covering, core):
        if change.kind in done:
            continue
        how = _works(change, wanted, covering.together, count)
        if not how:
            if change.kind not in vain:
                vain.append(change.kind)
            continue
        done.add(change.kind)
        found.append(Remedy(change.words, count, how))
        if len(found) == _MOST_TOLD:
            break
    for face in _end_faces(holder.part, core):
        why = _not_parted(holder.part, holder.shop, face)
        if why:
            vain.append(f"extra stock to part off ({why})")
    return tuple(found), tuple(dict.fromkeys(kind for kind in vain if kind not in done))


def _works(change: _Change, wanted: tuple[Wanted, ...], together: tuple[Together, ...], count: int) -> str:
    """How the part is held with a change; empty if it does not save the clamping."""
    asked = tuple(each for each in wanted if each.feature != change.without)
    covering = Covering(Holder(change.part, change.shop, make_section(change.part)), together=together)
    for place, layout in enumerate(covering.layouts(asked, count)):
        if place == _MOST_TOLD:
            break
        if _makes(change, layout):
            return layout_words(change.part, layout)
    return ""


def _makes(change: _Change, layout: Layout) -> bool:
    """Whether the operations can all be made with a change, in these clampings."""
    try:
        part = change.part.model_copy(update={"clampings": layout.clampings})
        refuse_errors(make_operations(part, change.shop))
    except NoPlan:
        return False
    return True


def _changes(part: Part, shop: Shop, covering: Covering, core: tuple[str, ...]) -> Iterator[_Change]:
    yield from _bolts(part, shop)
    yield from _risers(part, shop, covering)
    yield from _jaws(part, shop)
    if all(means.hold != "face plate" for means in shop.clamping_means):
        plate = _means(shop, "face plate", "face plate", shop.clamping_means[0])
        yield _Change("a face plate", "a face plate with spigot and straps", part, _with(shop, plate))
    yield from _parting(part, shop, core)


def _bolts(part: Part, shop: Shop) -> Iterator[_Change]:
    """Bolt the part down through holes that it has anyway."""
    for holes in part.features:
        if isinstance(holes, BoltCircle) and holes.direction == "axial" and holes.use == "":
            features = tuple(
                f.model_copy(update={"use": "clamping"}) if f is holes else f for f in part.features
            )
            changed = part.model_copy(update={"features": features})
            words = f"bolts through the circle {holes.name} (use: clamping)"
            yield _Change("bolts through a circle", words, changed, shop)


def _risers(part: Part, shop: Shop, covering: Covering) -> Iterator[_Change]:
    """Risers higher than those of the shop, the lowest first."""
    table, blank = shop.machine.table, part.blank
    room = float(table.height) - float(table.tool_change_clearance)
    room -= float(blank.z_to) - float(blank.z_from)
    holds = dict.fromkeys(candidate.clamping.hold for candidate in covering.candidates)
    for height in _RISERS:
        for hold in holds:
            known = [float(r) for m in shop.clamping_means if m.hold == hold for r in m.risers]
            if height <= max(known, default=0.0) or height > room:
                continue
            means = tuple(
                m.model_copy(update={"risers": (*m.risers, _length(height))}) if m.hold == hold else m
                for m in shop.clamping_means
            )
            yield _Change(
                "a taller riser",
                f"a riser of {mm(height)} for {hold}",
                part,
                shop.model_copy(update={"clamping_means": means}),
            )


def _jaws(part: Part, shop: Shop) -> Iterator[_Change]:
    """Jaws for other diameters or finished surfaces, then low ones."""
    for hold in ("outside jaws", "inside jaws"):
        like = next((m for m in shop.clamping_means if m.hold == hold), shop.clamping_means[0])
        wide = _means(shop, f"soft {hold}", hold, like)
        yield _Change("other jaws", f"soft {hold} for every diameter of the part", part, _with(shop, wide))
        low = wide.model_copy(update={"height": _length(_LOW_JAWS)})
        yield _Change("low jaws", f"low {hold}, {mm(_LOW_JAWS)} high", part, _with(shop, low))


def _means(shop: Shop, name: str, hold: str, like: ClampingMeans) -> ClampingMeans:
    risers = tuple(dict.fromkeys(r for m in shop.clamping_means for r in m.risers))
    return like.model_copy(
        update={
            "name": name.replace(" ", "_"),
            "hold": hold,
            "soft": True,
            "diameter_from": _length(20.0),
            "diameter_to": shop.machine.table.swing,
            "risers": risers,
        }
    )


def _with(shop: Shop, means: ClampingMeans) -> Shop:
    return shop.model_copy(update={"clamping_means": (*shop.clamping_means, means)})


def _parting(part: Part, shop: Shop, core: tuple[str, ...]) -> Iterator[_Change]:
    """Extra stock that is gripped and parted off."""
    for face in _end_faces(part, core):
        blade, wall = _blade(shop, part, face)
        if blade is not None and not _not_parted(part, shop, face):
            yield _parted(part, shop, face, blade, wall)


def _end_faces(part: Part, core: tuple[str, ...]) -> list[Face]:
    section = make_section(part)
    ends = (section.lower_face, section.upper_face)
    return [f for f in part.features if isinstance(f, Face) and f.name in core and f.name in ends]


def _not_parted(part: Part, shop: Shop, face: Face) -> str:
    """Why a face is not left by a blade that parts off: close, too heavy, or too deep; empty if it may be."""
    density = next((m.density for m in shop.materials if m.name == part.material), 7.85)
    mass = make_section(part).mass(density)
    if mass > _PARTED:
        return f"{shown(mass, 0)} kg are too heavy, {shown(_PARTED, 0)} kg at most"
    if face.geometric or face.roughness is not None or face.name in part.datums.values():
        return f"{face.name} is a datum or has a surface that a blade does not leave"
    blade, wall = _blade(shop, part, face)
    return "" if blade is not None else f"no blade reaches through the wall of {mm(wall)} at {face.name}"


def _blade(shop: Shop, part: Part, face: Face) -> tuple[GroovingTool | None, Mm]:
    """Blade that cuts through the wall at a face, and the wall; None for solid parts."""
    extent = make_section(part).extent(face.name)
    wall = (extent.outer - extent.inner) / 2
    blades = [t for t in shop.tools if isinstance(t, GroovingTool) and "outside" in t.use]
    deep = [blade for blade in blades if blade.depth >= wall and extent.inner > 0]
    return min(deep, key=lambda blade: float(blade.width), default=None), wall


def _parted(part: Part, shop: Shop, face: Face, blade: GroovingTool, wall: Mm) -> _Change:
    grip = min(float(m.height) for m in shop.clamping_means if m.hold in ("outside jaws", "inside jaws"))
    more = grip + float(blade.width) + _BESIDE_BLADE
    blank, lower = part.blank, face.side == "lower"
    end = (
        min(float(blank.z_from), float(face.z)) - more
        if lower
        else max(float(blank.z_to), float(face.z)) + more
    )
    longer = blank.model_copy(update={"z_from" if lower else "z_to": _length(end)})
    features = tuple(f for f in part.features if f.name != face.name)
    words = (
        f"{mm(more)} of extra stock at the {face.side} end to grip, parted off with {blade.name} "
        f"({mm(blade.width)} wide, reaches {mm(blade.depth)}, wall {mm(wall)}): leave a thin web and take "
        "the part off by hand or on the hook, never let it drop"
    )
    changed = part.model_copy(update={"blank": longer, "features": features})
    return _Change("extra stock to part off", words, changed, shop, face.name)


def _length(value: Mm) -> Quantity:
    return Quantity(value, f"{shown(value)} mm")
