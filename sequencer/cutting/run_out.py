"""Room that a tilted cutter needs beyond the end of the teeth, from the geometry of its whole body.

The cutter stands at full depth with its crossing point (hob, disc), its edge plane (skiving) or its axis
(end mill) over the end of the teeth. What counts is the highest point of the body, seen from the tooth end
towards the side asked for, among those points that stand inside the material of the neighbour.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from sequencer.cutting._ranges import above_zero, not_negative, within
from sequencer.cutting._reach import Region, Vector, highest
from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.cutting.cutter_setting import Arrangement, Setting
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm

__all__ = [
    "MINIMUM_OVERRUN",
    "Arrangement",
    "Room",
    "Setting",
    "axial_room",
    "clash_depth",
    "largest_cutter_diameter",
    "plane_room",
    "ring_room",
]

#: Travel beyond the tooth end that every cutter needs, even with nothing next to it (common practice).
MINIMUM_OVERRUN: Final[Mm] = 2.0


@dataclass(frozen=True)
class Room:
    """Room that a cutter needs beyond the tooth end against one neighbour, with the numbers behind it.

    Parameters
    ----------
    reach
        How far the body stands beyond the tooth end inside the neighbour's material; 0 if it never comes
        there [mm].
    overrun
        Travel added because the cutter must pass the tooth end [mm].
    at
        Point of the body that decides, work axis z, tooth end at z = 0, z counted to the side asked for;
        None when the body does not come into the neighbour on that side [mm].
    kind
        Kind of cutter.
    diameter
        Cutting diameter [mm].
    tilt
        Tilt of the cutter [deg].
    neighbour_radius
        Radius of the neighbour; infinite for a plane [mm].
    internal
        Whether the teeth are internal.
    """

    reach: Mm
    overrun: Mm
    at: Vector | None
    kind: str
    diameter: Mm
    tilt: Deg
    neighbour_radius: Mm
    internal: bool

    @property
    def needed(self) -> Mm:
        """Axial room that is needed beyond the tooth end [mm]."""
        return self.reach + self.overrun

    @property
    def touches(self) -> bool:
        """Whether the body comes into the radii of the neighbour at all."""
        return self.at is not None

    def passes(self, has: Mm) -> bool:
        """Whether a given room is enough.

        Source: derived.

        Parameters
        ----------
        has
            Room between tooth end and neighbour [mm].
        """
        return self.needed <= has + 1e-9

    def sentence(self, has: Mm, neighbour: str = "neighbour") -> str:
        """Say what is needed, what is there and why, with the numbers put in.

        Source: derived.

        Parameters
        ----------
        has
            Room between tooth end and neighbour [mm].
        neighbour
            What the neighbour is called, such as "shoulder" [-].
        """
        cause = f"{self.kind} dia {self.diameter:.1f}, tilt {self.tilt:.1f} deg"
        if not self.touches:
            return (
                f"needs {self.needed:.1f} mm, has {has:.1f} mm: only the overrun counts, "
                f"{self._against(neighbour)} stays clear of {cause}"
            )
        return (
            f"needs {self.needed:.1f} mm, has {has:.1f} mm against {self._against(neighbour)} because {cause}"
        )

    def _against(self, neighbour: str) -> str:
        if math.isinf(self.neighbour_radius):
            return f"the {neighbour}"
        return f"the {neighbour} dia {2 * self.neighbour_radius:.1f}"


def axial_room(
    body: CutterBody,
    setting: Setting,
    neighbour_radius: Mm,
    side: str = "below",
    overrun: Mm = MINIMUM_OVERRUN,
) -> Room:
    """Room beyond the tooth end that a cutter at full depth needs against a coaxial neighbour.

    Source: derived, body of revolution cut by the neighbour's cylinder; for a cylinder with tilt 0 against
    the gear's own tip circle it is the approach sqrt(h (D - h)) of the handbooks.

    A neighbour that the cutter does not come near (external: not above the root radius; internal: bore not
    below the root radius) needs only the overrun.

    Parameters
    ----------
    body
        The cutter with its arbor or holder [-].
    setting
        How it stands to the work [-].
    neighbour_radius
        External work: outer radius of the neighbour, infinite for a plane. Internal work: inner radius of
        the neighbour, 0 for a closed floor [mm].
    side
        "above" or "below": which end of the teeth [-].
    overrun
        Travel beyond the tooth end added to the reach of the body [mm].

    Raises
    ------
    OutOfRange
        When the radius or overrun is negative or the side has another name.
    """
    not_negative("run-out", overrun=overrun)
    if math.isnan(neighbour_radius) or neighbour_radius < 0:
        raise OutOfRange(
            f"neighbour radius is {neighbour_radius:g}",
            where="run-out",
            limit="0 or more",
            remedy="Give the radius of the neighbour",
        )
    region = Region(neighbour_radius, math.inf) if setting.internal else Region(0.0, neighbour_radius)
    at = _highest(body, setting, region, side)
    return _room(body, setting, neighbour_radius, overrun, at)


def plane_room(
    body: CutterBody, setting: Setting, side: str = "below", overrun: Mm = MINIMUM_OVERRUN
) -> Room:
    """Room beyond the tooth end that a cutter at full depth needs against a plane (table, riser, jaw face).

    Source: derived; the same as a neighbour that fills all radii.

    Parameters
    ----------
    body
        The cutter with its arbor or holder [-].
    setting
        How it stands to the work [-].
    side
        "above" or "below": which end of the teeth [-].
    overrun
        Travel beyond the tooth end added to the reach of the body [mm].

    Raises
    ------
    OutOfRange
        When the overrun is negative or the side has another name.
    """
    return ring_room(body, setting, 0.0, math.inf, side, overrun)


def ring_room(
    body: CutterBody,
    setting: Setting,
    inner_radius: Mm,
    outer_radius: Mm,
    side: str = "below",
    overrun: Mm = MINIMUM_OVERRUN,
) -> Room:
    """Room beyond the tooth end that a cutter needs against a ring, such as jaws from one radius to another.

    Source: derived, body of revolution cut by the two cylinders of the ring.

    Parameters
    ----------
    body
        The cutter with its arbor or holder [-].
    setting
        How it stands to the work [-].
    inner_radius
        Inner radius of the ring [mm].
    outer_radius
        Outer radius of the ring, may be infinite [mm].
    side
        "above" or "below": which end of the teeth [-].
    overrun
        Travel beyond the tooth end added to the reach of the body [mm].

    Raises
    ------
    OutOfRange
        When a radius or the overrun is negative, the ring is turned inside out or the side has another name.
    """
    not_negative("run-out", overrun=overrun, inner_radius=inner_radius)
    _check_ring(inner_radius, outer_radius)
    at = _highest(body, setting, Region(inner_radius, outer_radius), side)
    neighbour = inner_radius if setting.internal and inner_radius > 0 else outer_radius
    return _room(body, setting, neighbour, overrun, at)


def clash_depth(
    body: CutterBody,
    setting: Setting,
    inner_radius: Mm,
    outer_radius: Mm,
    near: Mm,
    far: Mm,
    side: str = "below",
) -> Mm:
    """How deep a cutter stands in a ring of limited thickness beyond the tooth end; 0 when it is free.

    Source: derived.

    Parameters
    ----------
    body
        The cutter with its arbor or holder [-].
    setting
        How it stands to the work [-].
    inner_radius
        Inner radius of the ring [mm].
    outer_radius
        Outer radius of the ring, may be infinite [mm].
    near
        Axial distance from the tooth end to the near face of the ring [mm].
    far
        Axial distance from the tooth end to the far face of the ring, may be infinite [mm].
    side
        "above" or "below": which end of the teeth [-].

    Raises
    ------
    OutOfRange
        When the ring is turned inside out or the side has another name.
    """
    not_negative("run-out", inner_radius=inner_radius)
    _check_ring(inner_radius, outer_radius)
    if not near < far:
        raise OutOfRange(
            f"near face {near:g} mm is not below far face {far:g} mm",
            where="run-out",
            limit="near below far",
            remedy="Count both from the tooth end outwards",
        )
    at = _highest(body, setting, Region(inner_radius, outer_radius, far), side)
    return 0.0 if at is None else max(0.0, at[2] - near)


def largest_cutter_diameter(
    has: Mm,
    body_of: Callable[[Mm], CutterBody],
    setting: Setting,
    neighbour_radius: Mm,
    smallest: Mm,
    largest: Mm,
    side: str = "below",
    overrun: Mm = MINIMUM_OVERRUN,
) -> Mm | None:
    """Largest cutter diameter that still passes in a given room; None when even the smallest does not.

    Source: derived, bisection on `axial_room` to 0.01 mm.

    Parameters
    ----------
    has
        Room between tooth end and neighbour [mm].
    body_of
        Makes the body of a cutter of a given diameter [-].
    setting
        How the cutter stands to the work [-].
    neighbour_radius
        Radius of the neighbour as in `axial_room` [mm].
    smallest
        Smallest cutter diameter that is worth asking for [mm].
    largest
        Largest cutter diameter that is worth asking for [mm].
    side
        "above" or "below": which end of the teeth [-].
    overrun
        Travel beyond the tooth end added to the reach of the body [mm].

    Raises
    ------
    OutOfRange
        When a diameter is not above 0 or the smallest is above the largest.
    """
    not_negative("largest cutter", has=has)
    above_zero("largest cutter", smallest=smallest, largest=largest)
    within("largest cutter", smallest, math.inf, largest=largest)

    def passes(diameter: Mm) -> bool:
        return axial_room(body_of(diameter), setting, neighbour_radius, side, overrun).passes(has)

    if passes(largest):
        return largest
    if not passes(smallest):
        return None
    low, high = smallest, largest
    while high - low > 0.01:
        middle = (low + high) / 2
        low, high = (middle, high) if passes(middle) else (low, middle)
    return low


def _check_ring(inner_radius: Mm, outer_radius: Mm) -> None:
    if not inner_radius < outer_radius:
        raise OutOfRange(
            f"inner radius {inner_radius:g} mm is not below outer radius {outer_radius:g} mm",
            where="run-out",
            limit="inner below outer",
            remedy="Give the ring from inside to outside",
        )


def _highest(body: CutterBody, setting: Setting, region: Region, side: str) -> Vector | None:
    """Highest point of the body in the region; heights count from the tooth end to the side asked for."""
    if side not in ("above", "below"):
        raise OutOfRange(
            f'side is "{side}"', where="run-out", limit='"above" or "below"', remedy="Name one of them"
        )
    frame = setting.frame(body)
    return highest(body.profile, frame if side == "above" else frame.upside_down(), region)


def _room(body: CutterBody, setting: Setting, radius: Mm, overrun: Mm, at: Vector | None) -> Room:
    if at is not None and at[2] <= 0:
        at = None  # it comes to the neighbour's radii on the other side of the tooth end only
    reach = 0.0 if at is None else at[2]
    return Room(reach, overrun, at, body.kind, body.diameter, setting.tilt, radius, setting.internal)
