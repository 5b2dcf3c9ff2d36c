"""Unbalance from what is cut off the axis: a keyway, a single flat, a pocket, a lone hole."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, hypot, pi, radians, sin, sqrt

from sequencer.part import extents
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.part import AnyFeature
from sequencer.part.surfaces import Shape
from sequencer.units import Deg, Mm


@dataclass(frozen=True)
class Unbalance:
    """Static unbalance of a part about its axis.

    Parameters
    ----------
    x, y
        Mass times distance of the heavy side, along the angular zero and at right angles to it [kg mm].
    cause
        Feature that causes most of it; empty if nothing does.
    """

    x: float
    y: float
    cause: str = ""

    @property
    def amount(self) -> float:
        """Mass times distance [kg mm]."""
        return hypot(self.x, self.y)

    @property
    def angle(self) -> Deg:
        """Direction of the heavy side from the angular zero [deg]."""
        return degrees(atan2(self.y, self.x)) % 360.0 if self.amount > 0 else 0.0

    def mass_at(self, radius: Mm) -> float:
        """Counterweight that balances it at a radius, opposite the heavy side [kg].

        Source: derived, m = U/r

        Parameters
        ----------
        radius
            Distance of the counterweight from the axis [mm].
        """
        return self.amount / radius

    def force(self, rpm: float) -> float:
        """Centrifugal force at a speed [N].

        Source: derived, F = U (2 pi n/60)^2

        Parameters
        ----------
        rpm
            Speed [rpm].
        """
        return self.amount / 1000 * (2 * pi * rpm / 60) ** 2


def unbalance_of(shape: Shape, feature: AnyFeature) -> tuple[float, float]:
    """Give volume times radius that a feature takes away, as a vector from the angular zero [mm4].

    Source: derived; equal holes, flats or pockets all round balance each other

    Parameters
    ----------
    shape
        The finished surfaces.
    feature
        Any feature; turned ones and teeth take nothing off the axis.
    """
    if not isinstance(feature, BoltCircle | Keyway | Pocket | Flat):
        return 0.0, 0.0
    count = 1 if isinstance(feature, Keyway) else feature.count
    if count > 1:
        return 0.0, 0.0
    start = feature.start_angle if isinstance(feature, BoltCircle) else feature.angle
    moment, angle = _moment(shape, feature), radians(float(start))
    return moment * cos(angle), moment * sin(angle)


def _moment(shape: Shape, feature: BoltCircle | Keyway | Pocket | Flat) -> float:
    """Volume of one of them times the distance of its centre [mm4]."""
    z_from, z_to, inner, outer = extents.extent_of(shape, feature)
    if isinstance(feature, Flat):
        radius, distance = outer / 2, min(float(feature.distance), outer / 2)
        chord = 2 * sqrt(radius**2 - distance**2)
        return (z_to - z_from) * chord**3 / 12
    if isinstance(feature, BoltCircle) and feature.direction == "axial":
        middle = float(feature.circle_diameter or 0.0) / 2
    elif isinstance(feature, Pocket) and feature.circle_diameter is not None:
        middle = float(feature.circle_diameter) / 2
    else:
        middle = (inner + outer) / 4
    return extents.removed(shape, feature).volume * middle
