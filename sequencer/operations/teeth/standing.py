"""Teeth as they stand in a clamping: what is below and above them, on the part, the jaws and the table."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final, Literal

from sequencer.operations.context import Context
from sequencer.operations.operation import FittedClamping
from sequencer.operations.teeth.zone import Teeth
from sequencer.part import BLANK
from sequencer.part.section import Half, Neighbour
from sequencer.units import Mm, shown

ObstacleKind = Literal["part", "jaws", "table"]


#: How far jaws stand outwards from the surface that they grip (common practice, no source) [mm].
JAW_LENGTH: Final[Mm] = 250.0


@dataclass(frozen=True)
class Obstacle:
    """Something beyond the end of the teeth that a cutter can hit.

    Parameters
    ----------
    kind
        On the part, of the jaws, or the table.
    words
        Words for a sentence.
    inner, outer
        Radii between which it lies; the outer one may be infinite [mm].
    near
        Free room between the end of the teeth and it [mm].
    """

    kind: ObstacleKind
    words: str
    inner: Mm
    outer: Mm
    near: Mm


@dataclass(frozen=True)
class Standing:
    """Teeth in a clamping, seen as they stand on the table.

    Parameters
    ----------
    teeth
        The teeth.
    clamping
        The clamping.
    below, above
        Obstacles below and above the teeth, the nearest first.
    cover
        From the end of the teeth that looks up to the top of the part [mm].
    """

    teeth: Teeth
    clamping: FittedClamping
    below: tuple[Obstacle, ...]
    above: tuple[Obstacle, ...]
    cover: Mm

    @property
    def depth(self) -> Mm:
        """From the top of the part down to the lower end of the teeth [mm]."""
        return self.cover + self.teeth.face_width

    @property
    def entry_diameter(self) -> Mm:
        """Narrowest diameter through which a cutter comes down to inside teeth [mm]."""
        return min(
            (2 * obstacle.inner for obstacle in self.above if obstacle.kind == "part"),
            default=self.teeth.gear.tip_diameter,
        )


def standing_of(context: Context, teeth: Teeth, clamping: FittedClamping) -> Standing:
    """Find what stands below and above teeth in a clamping.

    Source: derived

    Parameters
    ----------
    context
        Part, shop and section.
    teeth
        The teeth.
    clamping
        The clamping.
    """
    upright = clamping.clamping.up == "upper"
    half: Half | None = "lower" if teeth.half == "lower" else "upper" if teeth.half == "upper" else None
    lower, upper = context.section.obstacles(teeth.feature.name, half)
    below, above = (lower, upper) if upright else (upper, lower)
    cover = context.section.z_to - teeth.z_to if upright else teeth.z_from - context.section.z_from
    found = [*_on_part(teeth, below), *_jaws(context, teeth, clamping), _table(context, teeth, clamping)]
    return Standing(
        teeth=teeth,
        clamping=clamping,
        below=tuple(sorted(found, key=lambda obstacle: obstacle.near)),
        above=tuple(_on_part(teeth, above)),
        cover=cover,
    )


def _on_part(teeth: Teeth, neighbours: tuple[Neighbour, ...]) -> list[Obstacle]:
    """Keep neighbours that stand prouder than all nearer ones."""
    found: list[Obstacle] = []
    proudest = teeth.gear.root_diameter
    for neighbour in neighbours:
        prouder = neighbour.diameter < proudest if teeth.internal else neighbour.diameter > proudest
        if not prouder:
            continue
        proudest = neighbour.diameter
        radius = neighbour.diameter / 2
        inner, outer = (radius, math.inf) if teeth.internal else (0.0, radius)
        found.append(Obstacle("part", _words(teeth, neighbour), inner, outer, neighbour.gap))
    return found


def _words(teeth: Teeth, neighbour: Neighbour) -> str:
    if neighbour.feature == teeth.feature.name and teeth.half:
        other = "upper" if teeth.half == "lower" else "lower"
        return f"the {other} half of {teeth.feature.name}, diameter {shown(neighbour.diameter, 1)} mm"
    name = "the raw blank" if neighbour.feature == BLANK else neighbour.feature
    if teeth.internal and neighbour.diameter <= 0:
        return f"{name}, the floor of the bore"
    return f"{name}, diameter {shown(neighbour.diameter, 1)} mm"


def _jaws(context: Context, teeth: Teeth, clamping: FittedClamping) -> list[Obstacle]:
    """Jaws below the teeth; the raw blank that they grip counts with them."""
    held = clamping.clamping
    if held.z_from is None or held.z_to is None:
        return []
    edge = held.z_to if held.up == "upper" else held.z_from
    near = teeth.z_from - edge if held.up == "upper" else edge - teeth.z_to
    grip = _grip_diameter(context, clamping) / 2
    outer = min(float(context.shop.machine.table.swing) / 2, grip + JAW_LENGTH)
    if held.hold == "outside jaws" and not teeth.internal:
        inner = 0.0 if held.on == BLANK else grip
        return [Obstacle("jaws", f"the jaws on {held.on}", inner, max(outer, grip + 1.0), float(near))]
    if held.hold == "inside jaws" and teeth.internal:
        return [Obstacle("jaws", f"the jaws in {held.on}", 0.0, grip, float(near))]
    return []


def _grip_diameter(context: Context, clamping: FittedClamping) -> Mm:
    held = clamping.clamping
    outside = held.hold == "outside jaws"
    if held.on == BLANK:
        blank = context.part.blank
        return float(blank.diameter if outside else blank.bore)
    extent = context.section.extent(held.on)
    return extent.outer if outside else extent.inner


def _table(context: Context, teeth: Teeth, clamping: FittedClamping) -> Obstacle:
    """The table under the riser; without a diameter of its own it is taken as wide as the swing."""
    held, blank = clamping.clamping, context.part.blank
    raw = held.rests_on == BLANK
    if held.up == "upper":
        lowest = min(context.section.z_from, float(blank.z_from)) if raw else context.section.z_from
        height = teeth.z_from - lowest
    else:
        lowest = max(context.section.z_to, float(blank.z_to)) if raw else context.section.z_to
        height = lowest - teeth.z_to
    radius = context.shop.machine.table.radius
    words = f"the table under riser {held.riser.text}" if held.riser > 0 else "the table"
    return Obstacle("table", words, 0.0, radius, height + float(held.riser))
