"""Rake and clearance that the edges of a skiving cutter really have while they cut."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sequencer.cutting._ranges import above_zero, one_or_more, within
from sequencer.cutting.simulation.grain import FINE, Grain
from sequencer.cutting.simulation.moving_edge import MovingEdge
from sequencer.cutting.simulation.profile import Profile, profile_of
from sequencer.cutting.simulation.skiving import simulate_skiving
from sequencer.cutting.simulation.skiving_cutter import SkivingCutter, ideal_cutter
from sequencer.cutting.simulation.skiving_setup import SkivingSetup
from sequencer.cutting.simulation.sweep import Valley, half_angle
from sequencer.gears import CylindricalGear
from sequencer.units import Deg, Mm

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class PassAngles:
    """Angles in the plane square to the edge, over all places where the flank edges cut in one pass.

    Parameters
    ----------
    number
        Number of the pass, from 1 [-].
    centre_distance
        Centre distance of the pass [mm].
    least_rake
        Least rake angle [deg].
    greatest_rake
        Greatest rake angle [deg].
    least_clearance
        Least clearance angle; below 0 the body of the cutter rubs [deg].
    greatest_clearance
        Greatest clearance angle [deg].
    """

    number: int
    centre_distance: Mm
    least_rake: Deg
    greatest_rake: Deg
    least_clearance: Deg
    greatest_clearance: Deg


def pass_angles(
    gear: CylindricalGear,
    setup: SkivingSetup,
    infeeds: tuple[Mm, ...],
    relief: Deg = 0.0,
    cutter: SkivingCutter | None = None,
    profile: Profile | None = None,
    grain: Grain = FINE,
) -> tuple[PassAngles, ...]:
    """Give the range of rake and clearance of the flank edges in each infeed pass, by the motion in space.

    Source: derived; rake and clearance against the relative velocity as in ISO 3002-1 (from memory), over all
    places where an edge meets uncut material: ahead of the finished flank, within the blank and outside the
    space that the pass before has left. The body of the cutter runs back along its helix, turned inwards by
    the relief. Passes in which only the tip of the cutter cuts are left out.

    Parameters
    ----------
    gear
        The gear.
    setup
        How the cutter moves in the last pass.
    infeeds
        Radial infeed of each pass, first to last [mm].
    relief
        Relief angle ground into the cutter, in the plane square to the edge [deg].
    cutter
        Its edges; None for the ideal ones.
    profile
        The part of the involute; None for all of it.
    grain
        How finely it is played through.

    Raises
    ------
    OutOfRange
        When there is no pass, an infeed is not above 0, the relief outside 0 to 30 deg or no cutter exists.
    """
    one_or_more("skiving angles", passes=len(infeeds))
    for infeed in infeeds:
        above_zero("skiving angles", infeed=infeed)
    within("skiving angles", 0.0, 30.0, relief=relief)
    profile = profile_of(gear) if profile is None else profile
    cutter = ideal_cutter(profile, setup, grain) if cutter is None else cutter
    found: list[PassAngles] = []
    before: _Left | None = None
    for number in range(1, len(infeeds) + 1):
        back = sum(infeeds[number:])
        distance = setup.centre_distance + (-back if gear.internal else back)
        here = replace(setup, centre_distance=distance)
        edge = MovingEdge.of(profile, here, cutter, grain.steps)
        cutting = _in_material(profile, edge, before)
        if cutting.any():
            rake, clearance = (angle[cutting] for angle in edge.angles(relief))
            limits = (float(rake.min()), float(rake.max()), float(clearance.min()), float(clearance.max()))
            found.append(PassAngles(number, distance, *limits))
        before = _Left.by(profile, here, cutter, grain)
    return tuple(found)


def finishing_angles(
    gear: CylindricalGear,
    setup: SkivingSetup,
    relief: Deg = 0.0,
    cutter: SkivingCutter | None = None,
    profile: Profile | None = None,
) -> tuple[tuple[FinishingAngle, ...], tuple[FinishingAngle, ...]]:
    """Give rake and clearance of every edge point where it finishes the left and the right flank.

    Source: derived; the point of the path nearest to the wanted flank. On crossed pitch cylinders the helix
    of the cutter runs along the tooth, so the clearance at the pitch circle is just the relief.

    Parameters
    ----------
    gear
        The gear.
    setup
        How the cutter moves.
    relief
        Relief angle ground into the cutter, in the plane square to the edge [deg].
    cutter
        Its edges; None for the ideal ones.
    profile
        The part of the involute; None for all of it.

    Raises
    ------
    OutOfRange
        When the relief is outside 0 to 30 deg or no cutter exists.
    """
    import numpy as np

    within("skiving angles", 0.0, 30.0, relief=relief)
    profile = profile_of(gear) if profile is None else profile
    cutter = ideal_cutter(profile, setup) if cutter is None else cutter
    edge = MovingEdge.of(profile, setup, cutter)
    tracks = edge.tracks()
    sides = np.array((1.0, -1.0))[:, None, None]
    distance = half_angle(profile, tracks.radius) - sides * tracks.angle
    inside = (tracks.radius >= profile.start_diameter / 2) & (tracks.radius <= profile.end_diameter / 2)
    valley = Valley.of(distance, inside)
    read = [valley.value(values) for values in (tracks.radius, *edge.angles(relief))]
    upper, lower = (
        tuple(
            FinishingAngle(2 * float(radius), float(rake), float(clearance))
            for radius, rake, clearance in zip(*(values[side] for values in read), strict=True)
            if np.isfinite(radius)
        )
        for side in range(2)
    )
    return (upper, lower) if gear.internal else (lower, upper)


@dataclass(frozen=True)
class FinishingAngle:
    """Angles of a point of the edge where it finishes the flank, in the plane square to the edge.

    Parameters
    ----------
    diameter
        Diameter of the gear that it finishes [mm].
    rake
        Rake angle [deg].
    clearance
        Clearance angle [deg].
    """

    diameter: Mm
    rake: Deg
    clearance: Deg


@dataclass(frozen=True)
class _Left:
    """The space that a pass has left: radii, and half angles to both sides."""

    radius: Array
    upper: Array
    lower: Array

    @staticmethod
    def by(profile: Profile, setup: SkivingSetup, cutter: SkivingCutter, grain: Grain) -> _Left:
        """Cut the space with the pass."""
        import numpy as np

        gear = profile.gear
        deviation = simulate_skiving(gear, setup, cutter, profile, grain)
        flanks = (deviation.left, deviation.right) if gear.internal else (deviation.right, deviation.left)
        radius = np.array([diameter / 2 for diameter, _ in deviation.left])
        wanted = half_angle(profile, radius)
        stays = [np.array([value for _, value in flank]) / 1000 / profile.normal_arm for flank in flanks]
        return _Left(radius, wanted - stays[0], wanted - stays[1])

    def holds(self, radius: Array, angle: Array) -> Mask:
        """Tell which places are in the space."""
        import numpy as np

        upper, lower = (np.interp(radius, self.radius, side) for side in (self.upper, self.lower))
        inside: Mask = (angle < upper) & (angle > -lower)
        return inside


def _in_material(profile: Profile, edge: MovingEdge, before: _Left | None) -> Mask:
    """Tell where the edges meet material that the pass before has not taken."""
    tracks = edge.tracks()
    blank = profile.gear.tip_diameter / 2
    inside = tracks.radius > blank if profile.gear.internal else tracks.radius < blank
    cutting: Mask = edge.ahead() & inside
    return cutting if before is None else cutting & ~before.holds(tracks.radius, tracks.angle)
