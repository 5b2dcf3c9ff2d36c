"""Cutting edges swept over the work: what they leave in one transverse section.

Every position of an edge point is moved along the path of the feed into the section z = 0, where the axial
feed sweeps it in the end; that is exact for a small feed. There a position is a radius, a polar angle and its
distance to the wanted flank. The cut flank is the lower edge of all these distances.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sequencer.cutting.simulation.deviation import POINTS, Deviation, Flank
from sequencer.cutting.simulation.profile import Profile

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]


@dataclass(frozen=True)
class Tracks:
    """Paths of edge points over the work, brought into the section z = 0.

    Parameters
    ----------
    radius
        Distance to the work axis, by edge, point of the edge and rotation step [mm].
    angle
        Polar angle in the work, from the middle of the space [rad].
    """

    radius: Array
    angle: Array

    def as_curves(self) -> Tracks:
        """Give each row as a curve of its own, so that nothing is read between two rows."""
        steps = self.radius.shape[-1]
        return Tracks(self.radius.reshape(-1, 1, steps), self.angle.reshape(-1, 1, steps))


def into_section(x: Array, y: Array, z: Array, table: Array, feed_turns: float) -> Tracks:
    """Bring positions in the machine into the turning work and along the feed into its section z = 0.

    Source: derived; while the cutter moves by z against the work, the path turns by z times the differential.

    Parameters
    ----------
    x, y, z
        Positions beside the table; its axis is z, the common perpendicular of the axes is x [mm].
    table
        Turn of the table at each position, anticlockwise from above [rad].
    feed_turns
        Turns of the feed path along the axis, right hand positive [1/mm].
    """
    import numpy as np

    angle = np.arctan2(y, x) - table - 2 * np.pi * feed_turns * z
    return Tracks(np.hypot(x, y), angle)


def cut_flanks(profile: Profile, tracks: Iterable[Tracks]) -> Deviation:
    """Compare the space that the tracks leave with the wanted one.

    Source: derived; involutes of one base circle lie evenly apart, so the distance square to the flank is the
    difference of their polar angles times base radius and cosine of the base helix angle.

    Parameters
    ----------
    profile
        The wanted space.
    tracks
        All paths that reach this space.
    """
    import numpy as np

    grid = np.linspace(profile.start_diameter / 2, profile.end_diameter / 2, POINTS)
    middle = profile.normal_arm * half_angle(profile, grid)
    least = {1: middle, -1: middle}
    most_cut = middle - profile.normal_arm * profile.half_pitch
    for track in tracks:
        wanted = half_angle(profile, track.radius)
        turned = track.angle / (2 * profile.half_pitch)
        nearest = (turned - np.rint(turned)) * (2 * profile.half_pitch)
        for side in (1, -1):
            distance = profile.normal_arm * (wanted - side * nearest)
            least[side] = np.minimum(least[side], _lower_edge(track.radius, distance, grid))
    upper, lower = (_flank(grid, np.maximum(least[side], most_cut)) for side in (1, -1))
    # A tooth that points up has its right flank on the clockwise side; internal teeth point inwards.
    left, right = (upper, lower) if profile.gear.internal else (lower, upper)
    return Deviation(str(profile.gear), left, right)


def half_angle(profile: Profile, radius: Array) -> Array:
    """Half the polar angle of the wanted space [rad]; below the base circle that of the base circle.

    Source: definition of the involute

    Parameters
    ----------
    profile
        The wanted space.
    radius
        Radii at which it is wanted [mm].
    """
    import numpy as np

    roll = np.sqrt(np.maximum((radius / profile.base_radius) ** 2 - 1, 0.0))
    polar = roll - np.arctan(roll)
    half: Array = profile.base_half_angle + (-polar if profile.gear.internal else polar)
    return half


def _flank(grid: Array, deviation: Array) -> Flank:
    return tuple(
        (float(2 * radius), float(1000 * value)) for radius, value in zip(grid, deviation, strict=True)
    )


def _lower_edge(radius: Array, distance: Array, grid: Array) -> Array:
    """Least distance at each radius of the grid: along the deepest places of each edge, and along paths."""
    import numpy as np

    along_edges = _least_at(*_deepest(radius, distance, grid), grid, np.inf)
    # Pieces that stay well above what the deepest places leave cannot be the lower edge.
    above = float(along_edges.max()) + 0.1 * float(grid[-1] - grid[0])
    return np.minimum(along_edges, _least_at(radius, distance, grid, above))


def _deepest(radius: Array, distance: Array, grid: Array) -> tuple[Array, Array]:
    """Where each path comes nearest to the flank (or cuts deepest) within the profile; else not a number."""
    margin = 2 * (grid[1] - grid[0])
    valley = Valley.of(distance, (radius >= grid[0] - margin) & (radius <= grid[-1] + margin))
    return valley.value(radius), valley.value(distance)


@dataclass(frozen=True)
class Valley:
    """The lowest place of each path, between the steps.

    Parameters
    ----------
    step
        The step next to it.
    shift
        Its distance from that step, in steps; not a number where a path has no such place.
    """

    step: NDArray[np.intp]
    shift: Array

    @staticmethod
    def of(height: Array, inside: NDArray[np.bool_]) -> Valley:
        """Find the lowest place by the parabola through three steps.

        Parameters
        ----------
        height
            What is to be lowest; paths run along the last axis.
        inside
            Steps that count.
        """
        import numpy as np

        at = np.argmin(np.where(inside, height, np.inf), axis=-1)
        step = np.clip(at, 1, height.shape[-1] - 2)[..., None]
        before, here, after = _around(height, step)
        bend = before - 2 * here + after
        found = (at == step[..., 0]) & (here <= before) & (here <= after) & (bend > 0)
        return Valley(step, np.where(found, 0.5 * (before - after) / np.where(found, bend, 1.0), np.nan))

    def value(self, values: Array) -> Array:
        """Read another value of the paths there, by the parabola through three steps.

        Parameters
        ----------
        values
            What is wanted, by path and step.
        """
        before, here, after = _around(values, self.step)
        read: Array = (
            here + self.shift * (after - before) / 2 + self.shift**2 * (after - 2 * here + before) / 2
        )
        return read


def _around(values: Array, step: NDArray[np.intp]) -> tuple[Array, Array, Array]:
    """Values before, at and behind a step of each path."""
    import numpy as np

    before, here, after = (np.take_along_axis(values, step + way, axis=-1)[..., 0] for way in (-1, 0, 1))
    return before, here, after


def _least_at(radius: Array, distance: Array, grid: Array, above: float) -> Array:
    """Least distance at which the paths (last axis) cross each radius; pieces above a limit are left out."""
    import numpy as np

    count, step = len(grid), grid[1] - grid[0]
    place = (radius - grid[0]) / step
    low = np.minimum(place[..., :-1], place[..., 1:])
    high = np.maximum(place[..., :-1], place[..., 1:])
    first = np.ceil(low - 1e-9)
    # Comparisons with a missing place are false, so such pieces drop out here.
    crosses = (high >= -1e-9) & (low <= count - 1 + 1e-9) & (first <= high + 1e-9)
    rows = np.nonzero(crosses & (np.minimum(distance[..., :-1], distance[..., 1:]) <= above))
    least = np.full(count, np.inf)
    first, high = np.maximum(first[rows], 0.0), high[rows]
    piece = _Pieces.of(place, distance, rows)
    while first.size:
        at = np.minimum(first, count - 1)
        np.minimum.at(least, at.astype(np.int64), piece.distance_at(at))
        more = (first + 1 <= high + 1e-9) & (first + 1 <= count - 1)
        first, high, piece = first[more] + 1, high[more], piece.only(more)
    return least


@dataclass(frozen=True)
class _Pieces:
    """Pieces of paths between two steps: four steps each, the one before and the one behind included."""

    places: Array
    distances: Array

    @staticmethod
    def of(place: Array, distance: Array, rows: tuple[NDArray[np.intp], ...]) -> _Pieces:
        """Take the pieces that begin at the given rows; at the end of a path the neighbour is missing."""
        import numpy as np

        def around(values: Array) -> Array:
            gap = np.full((*values.shape[:-1], 1), np.nan)
            wide = np.concatenate((gap, values, gap), axis=-1)
            return np.stack([wide[(*rows[:-1], rows[-1] + step)] for step in range(4)])

        return _Pieces(around(place), around(distance))

    def only(self, chosen: NDArray[np.bool_]) -> _Pieces:
        """Keep the chosen pieces."""
        return _Pieces(self.places[:, chosen], self.distances[:, chosen])

    def distance_at(self, place: Array) -> Array:
        """Distance where the path passes a place; a line where both neighbours are missing."""
        import numpy as np

        start, end = self.places[1], self.places[2]
        length = np.where(start == end, 1.0, end - start)
        share = np.clip((place - start) / length, 0.0, 1.0)
        for _ in range(2):
            slip = _cubic(self.places, share) - place
            better = np.clip(share - slip / length, 0.0, 1.0)
            share = np.where(np.isfinite(better), better, share)
        smooth = _cubic(self.distances, share)
        straight = self.distances[1] + share * (self.distances[2] - self.distances[1])
        return np.where(np.isfinite(smooth), smooth, straight)


def _cubic(values: Array, share: Array) -> Array:
    """Value between the second and third of four even steps, by the cubic through all four.

    A parabola through three where the first or the last is missing; not a number where both are.
    """
    import numpy as np

    a, b, c, d = values
    a, d = np.where(np.isnan(a), 3 * b - 3 * c + d, a), np.where(np.isnan(d), 3 * c - 3 * b + a, d)
    s = share
    outer: Array = (d * (s + 1) - a * (s - 2)) * s * (s - 1) / 6
    inner: Array = (b * (s - 1) - c * s) * (s + 1) * (s - 2) / 2
    return outer + inner
