"""Cutting edges of skiving cutters: the one that suits a set-up exactly, and the plain involute."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from math import atan, cos, hypot, pi, radians, sin, sqrt, tan
from typing import TYPE_CHECKING

from sequencer.cutting.simulation.axis_frame import AxisFrame
from sequencer.cutting.simulation.grain import FINE, Grain
from sequencer.cutting.simulation.profile import Profile
from sequencer.cutting.simulation.skiving_setup import SkivingSetup
from sequencer.cutting.simulation.sweep import half_angle
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm, shown

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]

#: Rotation of the cutter that is searched to both sides of the common perpendicular [rad].
REACH = 1.0

#: Points of an edge in the rake face: x from the cutter axis along the common perpendicular, and y [mm].
Edge = tuple[tuple[Mm, Mm], ...]


class PartlyCut(OutOfRange):
    """No edge cuts the whole profile, but one would cut it from `start_diameter` to `end_diameter`."""

    def __init__(self, error: OutOfRange, start_diameter: Mm, end_diameter: Mm) -> None:
        super().__init__(error.what, where=error.where, limit=error.limit, remedy=error.remedy)
        self.start_diameter = start_diameter
        self.end_diameter = end_diameter


@dataclass(frozen=True)
class SkivingCutter:
    """Both edges of one cutter tooth in a rake face square to the cutter axis, turned to the gear.

    Parameters
    ----------
    teeth
        Teeth of the cutter [-].
    upper
        Edge that cuts the flank of larger polar angle, from its smallest to its largest work radius [mm].
    lower
        Edge that cuts the flank of smaller polar angle [mm].
    """

    teeth: int
    upper: Edge
    lower: Edge


def ideal_cutter(profile: Profile, setup: SkivingSetup, grain: Grain = FINE) -> SkivingCutter:
    """Give the edge that just touches the turning gear: the envelope of the flank in the rake face.

    Source: derived; at a point of the edge the flank and the rake face meet, and the relative velocity of
    cutter and gear lies in the flank.

    Parameters
    ----------
    profile
        The wanted space.
    setup
        How the cutter moves.
    grain
        How finely it is played through.

    Raises
    ------
    OutOfRange
        When part of the profile never touches an edge: the set-up does not suit the gear.
    """
    import numpy as np

    first, last = profile.start_diameter / 2, profile.end_diameter / 2
    over = 1e-3 * (last - first)
    radii = np.linspace(max(first - over, profile.base_radius * (1 + 1e-9)), last + over, grain.edge_points)
    frame = AxisFrame.of(setup, profile.gear.internal)
    upper, lower = (_touching_edge(profile, setup, frame, radii, side) for side in (1, -1))
    _check_tooth(profile, radii, upper, lower)
    return SkivingCutter(setup.cutter_teeth, upper, lower)


def _check_tooth(profile: Profile, radii: Array, upper: Edge, lower: Edge) -> None:
    """Refuse a tooth that is pointed before it reaches the root, or whose edge turns back."""
    thick = [high[1] > low[1] for high, low in zip(upper, lower, strict=True)]
    _refuse_from(profile, radii, thick, "the cutter tooth is pointed")
    for edge in (upper, lower):
        # Outwards on the gear is outwards on the cutter for an internal gear, inwards for an external one.
        outward = -1 if not profile.gear.internal else 1
        heights = [hypot(x, y) * outward for x, y in edge]
        rising = [after > before for before, after in pairwise(heights)]
        _refuse_from(profile, radii, [rising[0], *rising], "the edge of the cutter turns back")


def _refuse_from(profile: Profile, radii: Array, sound: list[bool], what: str) -> None:
    """Say between which diameters the edge is sound, if it is not so everywhere."""
    if all(sound):
        return
    good = [2 * float(radius) for radius, fine in zip(radii, sound, strict=True) if fine]
    remedy = "Take a cutter with more teeth or a smaller crossed-axes angle"
    if good:
        remedy += f", or compare the profile from diameter {shown(min(good))} to {shown(max(good))} mm only"
    error = OutOfRange(
        f"{what} where it should cut this profile",
        where=f"skiving cutter for {profile.gear}",
        limit=f"diameter {shown(profile.start_diameter)} to {shown(profile.end_diameter)} mm",
        remedy=remedy,
    )
    raise PartlyCut(error, min(good), max(good)) if good else error


def _touching_edge(profile: Profile, setup: SkivingSetup, frame: AxisFrame, radii: Array, side: int) -> Edge:
    import numpy as np

    flank = _MovingFlank(profile, setup, frame, radii[:, None], side)
    turns = np.linspace(-REACH, REACH, 161)[None, :]
    slide = flank.slide(turns)
    change = slide[:, :-1] * slide[:, 1:] <= 0
    if not change.any(axis=1).all():
        missing = 2 * radii[~change.any(axis=1)]
        ends = f"{shown(float(missing.min()))} to {shown(float(missing.max()))} mm"
        raise OutOfRange(
            f"diameter {ends} never touches the edge",
            where=f"skiving cutter for {profile.gear}",
            limit="sliding along the flank somewhere within the engagement",
            remedy="Check sense, ratio, crossed-axes angle and centre distance",
        )
    middle = np.where(change, np.abs(turns[0, :-1] + turns[0, 1:]), np.inf)
    at = np.argmin(middle, axis=1)
    low, high = turns[0, at][:, None], turns[0, at + 1][:, None]
    for _ in range(45):
        half = (low + high) / 2
        same = flank.slide(low) * flank.slide(half) > 0
        low, high = np.where(same, half, low), np.where(same, high, half)
    x, y = flank.in_rake_face((low + high) / 2)
    return tuple((float(a), float(b)) for a, b in zip(x[:, 0], y[:, 0], strict=True))


@dataclass(frozen=True)
class _MovingFlank:
    """A flank of the gear where it crosses the rake face, by radius and turn of the cutter."""

    profile: Profile
    setup: SkivingSetup
    frame: AxisFrame
    radius: Array
    side: int

    def crossing(self, turn: Array) -> tuple[Array, Array]:
        """Polar angle and height at which the flank crosses the rake face."""
        import numpy as np

        twist = 2 * pi * self.profile.turns_for_mm
        start = self.side * half_angle(self.profile, self.radius) + self.setup.ratio * turn
        sine, cosine = self.frame.sine, self.frame.cosine
        z = -self.radius * np.sin(start) * sine / cosine
        for _ in range(8):
            angle = start + twist * z
            value = sine * self.radius * np.sin(angle) + cosine * z
            z = z - value / (sine * self.radius * np.cos(angle) * twist + cosine)
        return start + twist * z, z

    def slide(self, turn: Array) -> Array:
        """Share of the relative velocity square to the flank there; 0 where an edge generates the flank."""
        import numpy as np

        angle, z = self.crossing(turn)
        c, s = np.cos(angle), np.sin(angle)
        roll = np.sqrt(np.maximum((self.radius / self.profile.base_radius) ** 2 - 1, 0.0))
        along_radius = self.side * (-roll if self.profile.gear.internal else roll)
        normal = (
            along_radius * c + s,
            along_radius * s - c,
            2 * pi * self.profile.turns_for_mm * self.radius + 0 * c,
        )
        x, y = self.radius * c, self.radius * s
        velocity = self.frame.velocities((x, y, z), self.setup.ratio)
        total: Array = sum((n * v for n, v in zip(normal, velocity, strict=True)), start=0 * x)
        return total

    def in_rake_face(self, turn: Array) -> tuple[Array, Array]:
        """Place of the crossing on the cutter, turned back to the common perpendicular."""
        import numpy as np

        angle, z = self.crossing(turn)
        x = self.radius * np.cos(angle) - self.frame.centre_distance
        y = self.frame.cosine * self.radius * np.sin(angle) - self.frame.sine * z
        c, s = np.cos(turn), np.sin(turn)
        return x * c + y * s, y * c - x * s


def involute_cutter(profile: Profile, setup: SkivingSetup) -> SkivingCutter:
    """Give the edge of a plain involute cutter, whose tooth fills the space at the pitch point.

    Source: derived; involute of a helical gear of the cutter's teeth and helix in its transverse section. It
    suits parallel axes exactly and crossed axes at the pitch point only.

    Parameters
    ----------
    profile
        The wanted space.
    setup
        How the cutter moves.

    Raises
    ------
    OutOfRange
        When the edge would reach below the base circle of the cutter.
    """
    import numpy as np

    gear, helix = profile.gear, radians(setup.cutter_helix)
    pitch_radius = gear.normal_module * setup.cutter_teeth / cos(helix) / 2
    roll = tan(radians(gear.pressure_angle)) / cos(helix)
    base = pitch_radius * cos(atan(roll))
    thickness = (pi * gear.normal_module - gear.normal_tooth_thickness) / cos(helix)
    tangents = _tangents_of_contact(profile, base * roll, setup.cutter_helix)
    if min(tangents) <= 0:
        raise OutOfRange(
            f"diameter {shown(profile.start_diameter)} to {shown(profile.end_diameter)} mm asks for an edge "
            "below its base circle",
            where=f"skiving cutter for {gear}",
            limit=f"base circle of the cutter {shown(2 * base)} mm",
            remedy="Take a cutter with more teeth or compare less of the profile",
        )
    # A hair more, since the deepest place is found between points of the edge.
    over = 0.02 * abs(tangents[1] - tangents[0])
    first, last = max(min(tangents) - over, 0.0), max(tangents) + over
    radii = np.hypot(base, np.linspace(first, last, FINE.edge_points))
    here = np.sqrt((radii / base) ** 2 - 1)
    half = thickness / (2 * pitch_radius) + (roll - atan(roll)) - (here - np.arctan(here))
    x = radii * np.cos(half) * (1 if gear.internal else -1)
    y = radii * np.sin(half)
    upper = tuple((float(a), float(b)) for a, b in zip(x, y, strict=True))
    return SkivingCutter(setup.cutter_teeth, upper, tuple((a, -b) for a, b in upper))


def _tangents_of_contact(profile: Profile, pitch_tangent: Mm, helix: Deg) -> tuple[Mm, Mm]:
    """Tangent lengths at the cutter that touch both ends of the profile: both gears roll on one normal."""
    gear = profile.gear
    base_sine = sin(radians(helix)) * cos(radians(gear.pressure_angle))
    share = sqrt(1 - base_sine**2) / cos(radians(gear.base_helix_angle))
    reference = gear.reference_diameter / 2
    pitch = sqrt(reference**2 - profile.base_radius**2)

    def tangent(diameter: Mm) -> Mm:
        change = (sqrt(max((diameter / 2) ** 2 - profile.base_radius**2, 0.0)) - pitch) * share
        return pitch_tangent + (change if gear.internal else -change)

    return tangent(profile.start_diameter), tangent(profile.end_diameter)
