"""What a standing cutter sweeps when the work turns under it: the shadow of its body in the half-section."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from sequencer.cutting._reach import Frame, Piece, pieces
from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.cutting.cutter_setting import Setting
from sequencer.errors import OutOfRange
from sequencer.units import Mm

if TYPE_CHECKING:
    import numpy as np

#: Turns of the cutter that are looked at.
_STEPS: Final = 480


@dataclass(frozen=True)
class Swept:
    """Lowest and highest point of a cutter at one radius of the work; the tooth end stands at height 0.

    Parameters
    ----------
    radius
        Radius on the work [mm].
    low, high
        Heights between which the cutter stands there [mm].
    """

    radius: Mm
    low: Mm
    high: Mm


def swept(body: CutterBody, setting: Setting, radii: tuple[Mm, ...]) -> tuple[Swept, ...]:
    """Give the shadow of a cutter at full depth in the half-section of the work.

    Source: derived; every point of the body turned about the work axis into one plane.

    Radii that the cutter does not reach are left out.

    Parameters
    ----------
    body
        The cutter with its arbor or holder [-].
    setting
        How it stands to the work [-].
    radii
        Radii at which it is looked at [mm].

    Raises
    ------
    OutOfRange
        When a radius is negative or the cutter does not fit the work.
    """
    import numpy as np

    if any(radius < 0 for radius in radii):
        what = f"radii begin at {min(radii):g} mm"
        raise OutOfRange(what, where="swept body", limit="0 or more", remedy="Leave out what is below 0")
    frame = setting.frame(body)
    squares = np.square(np.asarray(radii, dtype=float))
    low, high = np.full(len(radii), math.inf), np.full(len(radii), -math.inf)
    for piece in pieces(body.profile):
        for heights in _heights(piece, frame, squares):
            low = np.fmin(low, np.fmin.reduce(heights, axis=0))
            high = np.fmax(high, np.fmax.reduce(heights, axis=0))
    return tuple(
        Swept(radius, float(lowest), float(highest))
        for radius, lowest, highest in zip(radii, low, high, strict=True)
        if math.isfinite(lowest)
    )


def _heights(piece: Piece, frame: Frame, squares: np.ndarray[Any, Any]) -> tuple[np.ndarray[Any, Any], ...]:
    """Heights at which one piece crosses the radii, a row for each turn; NaN where it does not.

    A line is origin + s axis + r (cos first + sin second); the square of its distance from the work axis is
    a quadratic of the place on it. The circles at its two ends cross between two turns.
    """
    import numpy as np

    start, radius, stop, last = piece
    turn = np.arange(_STEPS) * (2 * math.pi / _STEPS)
    around = np.outer(np.cos(turn), frame.first) + np.outer(np.sin(turn), frame.second)
    here = np.asarray(frame.origin) + start * np.asarray(frame.axis) + radius * around
    way = (stop - start) * np.asarray(frame.axis) + (last - radius) * around
    a = (way[:, 0] ** 2 + way[:, 1] ** 2)[:, None]
    b = (here[:, 0] * way[:, 0] + here[:, 1] * way[:, 1])[:, None]
    c = (here[:, 0] ** 2 + here[:, 1] ** 2)[:, None] - squares[None, :]
    found = [_on_circle(here, squares), _on_circle(here + way, squares)]
    with np.errstate(invalid="ignore", divide="ignore"):
        root = np.sqrt(b * b - a * c)
        for share in ((-b - root) / a, (-b + root) / a):
            inside = (share >= 0) & (share <= 1) & (a > 1e-12)
            found.append(np.where(inside, here[:, 2:] + share * way[:, 2:], np.nan))
    return tuple(found)


def _on_circle(points: np.ndarray[Any, Any], squares: np.ndarray[Any, Any]) -> np.ndarray[Any, Any]:
    """Heights at which a circle crosses the radii, between one turn and the next."""
    import numpy as np

    here = (points[:, 0] ** 2 + points[:, 1] ** 2)[:, None] - squares[None, :]
    there = np.roll(here, -1, axis=0)
    heights = points[:, 2:]
    with np.errstate(invalid="ignore", divide="ignore"):
        share = here / (here - there)
        between = heights + share * (np.roll(heights, -1, axis=0) - heights)
    made: np.ndarray[Any, Any] = np.where((here < 0) != (there < 0), between, np.nan)
    return made
