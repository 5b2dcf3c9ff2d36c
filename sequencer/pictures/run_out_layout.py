"""Piece of the half-section that a run-out sketch shows, its scale, and the shadow of the cutter in it."""

from __future__ import annotations

from dataclasses import dataclass
from math import isinf
from typing import Final

from sequencer.cutting.swept import Swept, swept
from sequencer.operations.run_out import RunOut
from sequencer.pictures.drawing import Point
from sequencer.pictures.half_section_layout import SCALES

#: Size of the piece that is shown [mm of paper].
WIDE: Final = 74.0
TALL: Final = 58.0
#: Radii at which the cutter is looked at.
LOOKS: Final = 140
#: A neighbour further away than this many times the room needed is named but not shown.
_FAR: Final = 2.5


@dataclass(frozen=True)
class Window:
    """The piece that is shown, as the part stands: heights count upwards from the end of the teeth.

    Parameters
    ----------
    run_out
        The cutter at that end.
    scale
        Paper over part.
    left, top
        Radius at the left edge and height at the upper edge [mm of the part].
    shadow
        The cutter at the end of its travel, from inside to outside.
    touch
        Radius and height of its point that comes nearest to the neighbour.
    """

    run_out: RunOut
    scale: float
    left: float
    top: float
    shadow: tuple[Swept, ...]
    touch: Point

    @property
    def end(self) -> float:
        """Height of that end of the teeth in the drawing [mm]."""
        lower = (self.run_out.side == "below") == self.run_out.upright
        return self.run_out.z_from if lower else self.run_out.z_to

    @property
    def way(self) -> float:
        """1 if the cutter runs out upwards, -1 if downwards."""
        return 1.0 if self.run_out.side == "above" else -1.0

    @property
    def shows_neighbour(self) -> bool:
        """Whether the neighbour lies in the piece that is shown."""
        return self.run_out.has <= self.run_out.needed * _FAR

    def standing(self, z: float) -> float:
        """Height above the end of the teeth, as the part stands, of a height in the drawing [mm].

        Parameters
        ----------
        z
            Height in the drawing [mm].
        """
        return (z - self.end) if self.run_out.upright else (self.end - z)

    def point(self, height: float, radius: float) -> Point:
        """Place of a point on paper, from the left upper corner of the piece.

        Parameters
        ----------
        height, radius
            Height above the end of the teeth and radius [mm of the part].
        """
        return (radius - self.left) * self.scale, (self.top - height) * self.scale


def make_window(run_out: RunOut, tip: float) -> Window:
    """Choose what is shown: teeth, cutter up to where it comes nearest, neighbour.

    Parameters
    ----------
    run_out
        The cutter at one end of the teeth.
    tip
        Tip radius of the teeth [mm].
    """
    root, way = run_out.setting.root_radius, 1.0 if run_out.side == "above" else -1.0
    internal = run_out.setting.internal
    deep = abs(tip - root)
    span = run_out.body.greatest_diameter + run_out.body.length
    inner, outer = (max(root - span, 0.0), root) if internal else (root, root + span)
    bounds = {each for each in (run_out.inner, run_out.outer) if inner <= each <= outer}
    radii = tuple(sorted({inner + (outer - inner) * index / 300 for index in range(301)} | bounds))
    whole = swept(run_out.body, run_out.setting, radii)
    touch = _touch(run_out, whole, way)
    edge = _edge(run_out, touch, tip, internal)
    low, high = min(root, edge), max(root, edge)
    behind = max(deep, (high - low) * 0.15)
    low, high = (low, high + behind) if internal else (max(low - behind, 0.0), high)
    far = run_out.has if run_out.has <= run_out.needed * _FAR else run_out.needed
    beyond = max(far, run_out.needed) * 1.15 + deep * 0.3
    back = min(run_out.z_to - run_out.z_from, beyond * 0.6)
    scale = next(
        (each for each in SCALES if each * (high - low) <= WIDE and each * (beyond + back) <= TALL),
        SCALES[-1],
    )
    wide, tall = WIDE / scale, TALL / scale
    left = max((low + high - wide) / 2, 0.0)
    spare = (tall - beyond - back) / 2
    top = beyond + spare if way > 0 else back + spare
    looked = tuple(left + wide * index / LOOKS for index in range(LOOKS + 1))
    bounded = sorted({*(each for each in looked if inner <= each <= outer), *_inside(root, left, wide)})
    shadow = tuple(
        Swept(each.radius, each.low + way * run_out.overrun, each.high + way * run_out.overrun)
        for each in swept(run_out.body, run_out.setting, tuple(bounded))
    )
    return Window(run_out, scale, left, top, shadow, touch)


def _inside(root: float, left: float, wide: float) -> tuple[float, ...]:
    return (root,) if left <= root <= left + wide else ()


def _touch(run_out: RunOut, whole: tuple[Swept, ...], way: float) -> Point:
    """Point of the cutter that reaches furthest beyond the teeth among the radii of the neighbour."""
    there = [each for each in whole if run_out.inner - 1e-9 <= each.radius <= run_out.outer + 1e-9]
    if not there:
        return run_out.setting.root_radius, way * run_out.overrun
    best = max(there, key=lambda each: (round(each.high if way > 0 else -each.low, 3), -each.radius))
    height = best.high if way > 0 else best.low
    return best.radius, height + way * run_out.overrun


def _edge(run_out: RunOut, touch: Point, tip: float, internal: bool) -> float:
    """Radius up to which the sketch goes on the side of the cutter."""
    root = run_out.setting.root_radius
    bound = run_out.inner if internal else run_out.outer
    near = [touch[0], tip] + ([bound] if run_out.kind == "part" and not isinf(bound) and bound > 0 else [])
    edge = min(near) if internal else max(near)
    edge += (edge - root) * 0.25
    return max(edge, 0.0)
