"""Hobbing played through: the edges of an involute hob swept over the work."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product
from math import atan, cos, pi, radians, sin, sqrt, tan
from typing import TYPE_CHECKING

from sequencer.cutting.simulation.deviation import Deviation
from sequencer.cutting.simulation.hobbing_setup import HobbingSetup
from sequencer.cutting.simulation.profile import Profile, profile_of
from sequencer.cutting.simulation.sweep import Tracks, cut_flanks, into_section
from sequencer.errors import OutOfRange
from sequencer.gears import CylindricalGear, rack
from sequencer.units import Mm, shown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

#: Points of one edge on its flank and on its tip rounding.
FLANK_POINTS = 33
ROUNDING_POINTS = 9
#: Rotation of the hob to both sides of the common perpendicular in which an edge cuts [rad].
REACH = 0.5
#: Rotation steps of one passage of an edge.
STEPS = 41
#: Sections between two strokes of the feed that are looked at for feed marks.
SECTIONS = 16
#: Table turns that are followed; with several starts each may bring another start into the space.
TABLE_TURNS = 6


@dataclass(frozen=True)
class HobThread:
    """The thread of a hob as an involute helicoid: a helical gear with as many teeth as starts.

    Parameters
    ----------
    setup
        Hob and motions.
    normal_module
        Normal module [mm].
    pressure_angle
        Normal pressure angle [deg].
    """

    setup: HobbingSetup
    normal_module: Mm
    pressure_angle: float

    @property
    def lead(self) -> Mm:
        """Axial length of one turn of the thread, right hand positive [mm]."""
        length = pi * self.setup.pitch_diameter * tan(radians(self.setup.lead_angle))
        return length if self.setup.hand == "right" else -length

    @property
    def roll(self) -> float:
        """Tangent of the transverse pressure angle on the pitch cylinder [-]."""
        return tan(radians(self.pressure_angle)) / sin(radians(self.setup.lead_angle))

    @property
    def base_radius(self) -> Mm:
        """Radius of the base cylinder [mm]."""
        return self.setup.pitch_diameter / 2 * cos(atan(self.roll))

    def half_angle(self, radius: Array) -> Array:
        """Half the polar angle of the thread in its transverse section [rad].

        Parameters
        ----------
        radius
            Distance from the hob axis [mm].
        """
        import numpy as np

        thickness = pi * self.normal_module / 2 / sin(radians(self.setup.lead_angle))
        here = np.sqrt((radius / self.base_radius) ** 2 - 1)
        polar = (self.roll - atan(self.roll)) - (here - np.arctan(here))
        half: Array = thickness / self.setup.pitch_diameter + polar
        return half


def simulate_hobbing(
    gear: CylindricalGear, setup: HobbingSetup, profile: Profile | None = None, *, feed_marks: bool = False
) -> Deviation:
    """Cut a tooth space with the edges of an involute hob and compare it with the involute.

    Source: derived; positions of the edges by rotation of hob and table, table turns differing by the
    differential for each mm of feed. Without feed marks the feed is taken as small; with them each diameter
    gives the most that stays in any section between two strokes of the feed.

    Parameters
    ----------
    gear
        The wanted gear.
    setup
        Hob and motions.
    profile
        The part of the involute that is compared; None for all of it.
    feed_marks
        Whether the marks of the axial feed count.

    Raises
    ------
    OutOfRange
        When the gear is internal or the hob is too thin for the teeth.
    """
    if gear.internal:
        raise OutOfRange(
            "the gear is internal",
            where=str(gear),
            limit="a hob reaches external gears only",
            remedy="Skive or mill it",
        )
    profile = profile_of(gear) if profile is None else profile
    thread = HobThread(setup, gear.normal_module, gear.pressure_angle)
    edges = _edges(gear, thread)
    if not feed_marks:
        return cut_flanks(profile, _passages(profile, thread, edges))
    # A swivelled hob finishes tip and root of the gear at other heights than the middle of the flank.
    height = _cutting_length(profile) * sin(radians(abs(setup.swivel)))
    strokes = 2 + int(height / setup.feed)
    sections = []
    for section in range(SECTIONS):
        levels = [setup.feed * (stroke + section / SECTIONS) for stroke in range(-strokes, strokes)]
        sections.append(cut_flanks(profile, _passages(profile, thread, edges, levels)))
    return _most_left(sections)


def _most_left(sections: list[Deviation]) -> Deviation:
    """Most material that stays at each diameter in any of the sections."""
    left, right = (
        tuple(max(points, key=lambda point: point[1]) for points in zip(*flanks, strict=True))
        for flanks in ([each.left for each in sections], [each.right for each in sections])
    )
    return Deviation(sections[0].gear, left, right)


def _edges(gear: CylindricalGear, thread: HobThread) -> tuple[tuple[Array, Array], ...]:
    """Flank and tip rounding of an edge, each as radius and half polar angle in the thread."""
    import numpy as np

    pitch, module = thread.setup.pitch_diameter / 2, gear.normal_module
    straight = module * rack.straight_dedendum_factor(
        gear.pressure_angle, gear.dedendum_factor, gear.used_root_fillet_factor
    )
    tip_of_gear = pitch - (gear.tip_diameter - gear.shifted_diameter) / 2
    if tip_of_gear - 0.05 * module <= thread.base_radius:
        raise OutOfRange(
            f"hob of pitch diameter {2 * pitch:g} mm meets the gear tip at radius {shown(tip_of_gear)} mm",
            where=str(gear),
            limit=f"above the base cylinder of its thread, radius {shown(thread.base_radius)} mm",
            remedy="Take a larger hob or fewer starts",
        )
    # The flank of a hob runs on below the gear tip by the usual clearance.
    low = max(tip_of_gear - 0.25 * module, thread.base_radius * 1.001)
    flank = np.linspace(low, pitch + straight, FLANK_POINTS)
    slope = radians(gear.pressure_angle)
    bend = np.linspace(slope, pi / 2, ROUNDING_POINTS)
    fillet = module * gear.used_root_fillet_factor
    deeper = fillet * (np.sin(bend) - sin(slope))
    # How much narrower than the straight flank the rounding is, in the normal section.
    narrower = fillet * (cos(slope) - np.cos(bend)) - deeper * tan(slope)
    narrower_angle = 2 * pi * narrower / cos(radians(thread.setup.lead_angle)) / abs(thread.lead)
    rounding = pitch + straight + deeper
    return (flank, thread.half_angle(flank)), (rounding, thread.half_angle(rounding) - narrower_angle)


def _passages(
    profile: Profile,
    thread: HobThread,
    edges: tuple[tuple[Array, Array], ...],
    levels: list[Mm] | None = None,
) -> Iterator[Tracks]:
    """Paths of all edges along the thread, for each start and gash position that comes into the space.

    With levels, only the places on the paths at these heights, each edge at each level a path of its own.
    """
    import numpy as np

    setup, lead = thread.setup, thread.lead
    reach = 2 * pi * _cutting_length(profile) / abs(lead) + max(float(half.max()) for _, half in edges)
    step = 2 * pi / setup.used_gashes
    count = int(reach / step) + 1
    for start_turn, gash_turn in _phases(setup):
        gash = np.asarray(np.arange(-count, count + 1) * step + gash_turn, dtype=np.float64)
        for (radii, half), side in product(edges, (1, -1)):
            height = (gash[:, None] - side * half - start_turn) * lead / (2 * pi)
            if levels is None:
                swing = np.linspace(-REACH, REACH, STEPS)[None, None, :]
                yield _passage(thread, radii[:, None], height[..., None], gash[:, None, None], swing)
            else:
                rise, level = sin(radians(setup.swivel)), cos(radians(setup.swivel))
                wanted = np.array(levels)[:, None]
                swing = np.arcsin((wanted - rise * height[:, None, :]) / (level * radii))
                yield _passage(thread, radii, height[:, None, :], gash[:, None, None], swing).as_curves()


def _cutting_length(profile: Profile) -> Mm:
    """Length of the hob to each side of the common perpendicular on which it generates the profile."""
    gear, base = profile.gear, profile.base_radius

    def tangent(diameter: Mm) -> Mm:
        return sqrt(max((diameter / 2) ** 2 - base**2, 0.0))

    pitch = tangent(gear.reference_diameter)
    ends = (profile.start_diameter, profile.end_diameter)
    return max(abs(tangent(end) - pitch) for end in ends) + gear.normal_module


def _phases(setup: HobbingSetup) -> tuple[tuple[float, float], ...]:
    """Turn of the start that enters the space, and of the nearest gash, at each of the first table turns."""
    found: list[tuple[float, float]] = []
    for turn in range(TABLE_TURNS):
        share = turn * setup.starts / setup.ratio
        start = (share - round(share)) * 2 * pi / setup.starts
        gashes = turn * setup.used_gashes / setup.ratio
        gash = (gashes - round(gashes)) * 2 * pi / setup.used_gashes
        if all(abs(start - a) + abs(gash - b) > 1e-9 for a, b in found):
            found.append((start, gash))
    return tuple(found)


def _passage(thread: HobThread, radii: Array, height: Array, gash: Array, swing: Array) -> Tracks:
    """Places of edges in the gashes at the given angles, turned by a swing from the common perpendicular."""
    import numpy as np

    setup = thread.setup
    turn = swing - gash
    rise, level = sin(radians(setup.swivel)), cos(radians(setup.swivel))
    inward, upward = -radii * np.cos(swing), -radii * np.sin(swing)
    return into_section(
        setup.centre_distance + inward + 0 * turn,
        level * height + rise * upward,
        rise * height - level * upward,
        setup.ratio * turn,
        setup.differential,
    )
