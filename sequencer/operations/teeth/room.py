"""Run-out of a cutter at both ends of the teeth: room that it needs against room that is there."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.cutting.run_out import Room, Setting, clash_depth, ring_room
from sequencer.operations.operation import Fact
from sequencer.operations.run_out import RunOut
from sequencer.operations.teeth.standing import Obstacle, Standing
from sequencer.operations.teeth.trial import Check, fail
from sequencer.units import Mm, shown

SOURCE: Final = "derived: cutter as a tilted body of revolution, cut by the neighbour's cylinder"

#: Step of the search for a cutter that passes [mm].
_STEP: Final[Mm] = 4.0


@dataclass(frozen=True)
class Margins:
    """What is added to the reach of the body.

    Parameters
    ----------
    overrun
        Travel that the method needs beyond the end of the teeth [mm].
    method
        Margin of the house for this method [mm].
    riser
        Free height of the house between run-out and table [mm].
    """

    overrun: Mm
    method: Mm
    riser: Mm


@dataclass(frozen=True)
class Clearance:
    """Room of a cutter at one end against what limits it most.

    Parameters
    ----------
    side
        "below" or "above", as the part stands.
    needed
        Room needed, overrun and margin included [mm].
    has
        Room there; infinite if nothing limits it [mm].
    obstacle
        What limits it; None if nothing does.
    body
        The cutter.
    reach
        How far the body itself stands beyond the end of the teeth [mm].
    setting
        How the cutter stands to the teeth.
    standing
        The teeth with what is around them.
    """

    side: str
    needed: Mm
    has: Mm
    obstacle: Obstacle | None
    body: CutterBody
    reach: Mm
    setting: Setting
    standing: Standing

    @property
    def spare(self) -> Mm:
        """Room there less room needed [mm]."""
        return self.has - self.needed

    @property
    def passes(self) -> bool:
        """Whether the room is enough."""
        return self.spare >= -1e-9

    def run_out(self, overrun: Mm) -> RunOut:
        """Keep it for those who want to see it.

        Source: derived

        Parameters
        ----------
        overrun
            Travel that the method needs beyond the end of the teeth [mm].
        """
        teeth, obstacle = self.standing.teeth, self.obstacle
        inner, outer = (obstacle.inner, obstacle.outer) if obstacle else _own_ring(self.standing)
        return RunOut(
            self.side,
            self.body,
            self.setting,
            teeth.z_from,
            teeth.z_to,
            self.standing.clamping.clamping.up == "upper",
            self.reach,
            overrun,
            self.needed,
            self.has,
            obstacle.kind if obstacle else "",
            obstacle.words if obstacle else "",
            inner,
            outer,
        )


@lru_cache(maxsize=20000)
def _room(body: CutterBody, setting: Setting, inner: Mm, outer: Mm, side: str) -> Room:
    return ring_room(body, setting, inner, outer, side, 0.0)


def clearance(
    body: CutterBody,
    setting: Setting,
    standing: Standing,
    side: str,
    margins: Margins,
    beside: CutterBody | None = None,
) -> Clearance:
    """Find what limits a cutter most at one end.

    Source: derived

    Parameters
    ----------
    body
        The cutter.
    setting
        How it stands to the teeth.
    standing
        The teeth with what is around them.
    side
        "below" or "above".
    margins
        What is added to the reach of the body.
    beside
        The cutter as it is looked at beside material of the part, if that differs.
    """
    obstacles = standing.below if side == "below" else standing.above
    near = beside or body
    found = [_against(body, near, setting, standing, side, obstacle, margins) for obstacle in obstacles]
    if not found:
        inner, outer = _own_ring(standing)
        reach = _room(near, setting, inner, outer, side).reach
        needed = reach + margins.overrun + margins.method
        return Clearance(side, needed, math.inf, None, near, reach, setting, standing)
    return min(found, key=lambda one: one.spare)


def _own_ring(standing: Standing) -> tuple[Mm, Mm]:
    tip = standing.teeth.gear.tip_diameter / 2
    return (tip, math.inf) if standing.teeth.internal else (0.0, tip)


def _against(
    body: CutterBody,
    beside: CutterBody,
    setting: Setting,
    standing: Standing,
    side: str,
    obstacle: Obstacle,
    margins: Margins,
) -> Clearance:
    used = beside if obstacle.kind == "part" else body
    reach = _room(used, setting, obstacle.inner, obstacle.outer, side).reach
    needed = reach + margins.overrun + margins.method
    if obstacle.kind == "table":
        inner, outer = _own_ring(standing)
        own = _room(beside, setting, inner, outer, side).reach
        needed = max(needed, own + margins.overrun + margins.riser)
    return Clearance(side, needed, obstacle.near, obstacle, used, reach, setting, standing)


def room_check(
    found: Clearance, cause: str, margins: Margins, remedy: Callable[[Clearance], str] | None = None
) -> Check:
    """Turn a clearance into a check with its facts.

    Source: derived

    Parameters
    ----------
    found
        The clearance.
    cause
        Words for the cutter as it stands, such as "hob T45 (130 mm) swivelled 18.4 deg".
    margins
        What was added to the reach of the body.
    remedy
        Gives the nearest thing that would help.
    """
    words = found.obstacle.words if found.obstacle else "nothing"
    formula = (
        f"needed = reach + overrun + margin = {shown(found.reach, 1)} + {shown(margins.overrun, 1)} + "
        f"{shown(found.needed - found.reach - margins.overrun, 1)} = {shown(found.needed, 1)} mm"
    )
    needed = Fact(f"run-out needed {found.side}", found.needed, "mm", formula, SOURCE)
    if found.obstacle is None:
        return Check((needed,), run_out=found.run_out(margins.overrun))
    has = Fact(f"run-out room {found.side}", found.has, "mm", f"up to {words}", "part and shop file")
    if found.passes:
        return Check((needed, has), run_out=found.run_out(margins.overrun))
    sentence = (
        f"{cause} needs {shown(found.needed, 1)} mm {found.side} the teeth, "
        f"has {shown(found.has, 1)} mm against {words}"
    )
    return fail(sentence, remedy(found) if remedy else "", needed, has)


def clamping_remedy(found: Clearance, standing: Standing) -> str:
    """Name the riser or the grip that would give the room; empty where the part itself is in the way.

    Parameters
    ----------
    found
        A clearance that is too small.
    standing
        The teeth with their clamping.
    """
    if found.obstacle is None or found.obstacle.kind == "part":
        return ""
    if found.obstacle.kind == "jaws":
        return f"hold the part so that {shown(math.ceil(found.needed))} mm stay free below the teeth"
    riser = float(standing.clamping.clamping.riser) - found.spare
    existing = sorted(float(height) for height in standing.clamping.means.risers)
    fitting = next((height for height in existing if height >= riser - 1e-9), None)
    if fitting is not None:
        return f"use the {shown(fitting)} mm risers of {standing.clamping.means.name}"
    highest = (
        f", the highest of {standing.clamping.means.name} is {shown(existing[-1])} mm" if existing else ""
    )
    return f"a riser of at least {shown(math.ceil(riser))} mm would do{highest}"


def largest_passing(passes: Callable[[Mm], bool], smallest: Mm, largest: Mm) -> Mm | None:
    """Largest cutter diameter that passes, rounded down to 0.1 mm; None if none does.

    A smaller hob has a larger lead angle and swivels further, so the search goes down from the largest.

    Source: derived, steps of 4 mm and then bisection

    Parameters
    ----------
    passes
        Whether a diameter passes.
    smallest, largest
        Diameters between which it is sought [mm].
    """
    high = low = largest
    while not passes(low):
        if low <= smallest:
            return None
        high, low = low, max(low - _STEP, smallest)
    while high - low > 0.02:
        middle = (low + high) / 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return math.floor(low * 10) / 10


def behind(body: CutterBody, setting: Setting, standing: Standing) -> tuple[Mm, str]:
    """How far neck, holder and head stand in the part above; 0 and no words when they are free.

    The cutter is looked at with its edge at the lower and at the upper end of the teeth; what is above are
    the teeth themselves up to their tip, and everything on the part above them.

    Source: derived

    Parameters
    ----------
    body
        What stands behind the cutting edges, without them.
    setting
        How it stands to the teeth.
    standing
        The teeth with what is around them.
    """
    worst, words = 0.0, ""
    for height in (standing.teeth.face_width, 0.0):
        inner, outer = _own_ring(standing)
        rings = [Obstacle("part", "the teeth", inner, outer, 0.0)] if height > 0 else []
        rings += [replace(o, near=o.near + height) for o in standing.above]
        for ring, far in _with_ends(rings, standing, height):
            depth = _clash(body, setting, ring, far)
            if depth > worst + 1e-9:
                worst, words = depth, ring.words
    return worst, words


def own_clash(body: CutterBody, setting: Setting, standing: Standing) -> bool:
    """Whether what stands behind a cutter beside outside teeth stands in these teeth anywhere on its travel.

    Source: derived

    Parameters
    ----------
    body
        What stands behind the cutting edges, without them.
    setting
        How it stands to the teeth.
    standing
        The teeth with what is around them.
    """
    tip, width = standing.teeth.gear.tip_diameter / 2, standing.teeth.face_width
    # The teeth pass the cutter over their whole width, so they stand up to that far above and below it.
    ring = Obstacle("part", "the teeth", 0.0, tip, 0.0)
    return any(_clash(body, setting, ring, width, side) > 0 for side in ("above", "below"))


def _with_ends(rings: list[Obstacle], standing: Standing, height: Mm) -> list[tuple[Obstacle, Mm]]:
    """Give each ring with its far end: teeth end at the upper tooth end, obstacles at the top of the part."""
    top = height + standing.cover
    return [(ring, height if ring.words == "the teeth" else max(top, ring.near + 1e-3)) for ring in rings]


@lru_cache(maxsize=20000)
def _clash(body: CutterBody, setting: Setting, ring: Obstacle, far: Mm, side: str = "above") -> Mm:
    return clash_depth(body, setting, ring.inner, ring.outer, ring.near, far, side)
