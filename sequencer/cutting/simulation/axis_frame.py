"""Where a skiving cutter stands and how its points move."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin
from typing import TYPE_CHECKING

from sequencer.cutting.simulation.skiving_setup import SkivingSetup
from sequencer.units import Mm

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Array = NDArray[np.float64]
    Triple = tuple[Array, Array, Array]


@dataclass(frozen=True)
class AxisFrame:
    """Where the skiving cutter stands: directions of its y axis and of its own axis in the y-z plane.

    Parameters
    ----------
    centre_distance
        Distance of the axes [mm].
    sine
        Lean of the cutter axis along y [-].
    cosine
        Share of the cutter axis along the work axis [-].
    """

    centre_distance: Mm
    sine: float
    cosine: float

    @staticmethod
    def of(setup: SkivingSetup, internal: bool) -> AxisFrame:
        """Lean the axis by the crossed-axes angle.

        Parameters
        ----------
        setup
            The set-up.
        internal
            Whether the gear is internal.
        """
        # With a positive angle an external gear sees the cutter axis lean to +y, an internal one to -y.
        angle = radians(-setup.crossed_axes_angle if internal else setup.crossed_axes_angle)
        return AxisFrame(setup.centre_distance, sin(angle), cos(angle))

    def places(self, x: Array, y: Array, turn: Array) -> Triple:
        """Give the places beside the table of points of the rake face when the cutter has turned.

        Parameters
        ----------
        x, y
            Place in the rake face, x along the common perpendicular [mm].
        turn
            Turn of the cutter [rad].
        """
        import numpy as np

        c, s = np.cos(turn), np.sin(turn)
        along, across = x * c - y * s, x * s + y * c
        return self.centre_distance + along, self.cosine * across, -self.sine * across

    def velocities(self, places: Triple, ratio: float) -> Triple:
        """Give the velocity of the cutter against the work for a cutter turn of 1 rad.

        Parameters
        ----------
        places
            Places beside the table [mm].
        ratio
            Table turns for one cutter turn [-].
        """
        x, y, z = places
        arm = x - self.centre_distance
        return self.sine * z - self.cosine * y + ratio * y, self.cosine * arm - ratio * x, -self.sine * arm

    def on_cutter(self, vectors: Triple, turn: Array) -> Triple:
        """Give vectors in the directions of the turned cutter: x and y in the rake face, z along its axis.

        Parameters
        ----------
        vectors
            Components beside the table.
        turn
            Turn of the cutter [rad].
        """
        import numpy as np

        x, y, z = vectors
        across, along = self.cosine * y - self.sine * z, self.sine * y + self.cosine * z
        c, s = np.cos(turn), np.sin(turn)
        return x * c + across * s, across * c - x * s, along
