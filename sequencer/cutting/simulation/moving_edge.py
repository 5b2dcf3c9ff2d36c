"""The edges of a skiving cutter on their way through the work: where they cut, and at which angles."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi, radians, sin
from typing import TYPE_CHECKING

from sequencer.cutting.simulation.axis_frame import AxisFrame
from sequencer.cutting.simulation.grain import FINE
from sequencer.cutting.simulation.profile import Profile
from sequencer.cutting.simulation.skiving_cutter import REACH, SkivingCutter
from sequencer.cutting.simulation.skiving_setup import SkivingSetup
from sequencer.cutting.simulation.sweep import Tracks, into_section
from sequencer.gears import CylindricalGear
from sequencer.units import Deg

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from sequencer.cutting.simulation.axis_frame import Triple

    Array = NDArray[np.float64]
    Mask = NDArray[np.bool_]


def cutter_turns_anticlockwise(gear: CylindricalGear, setup: SkivingSetup) -> bool:
    """Tell whether the cutter turns anticlockwise from above, so that its lower face leads the cut.

    Source: derived; of the velocities at the pitch point only that of the table has a share along the cutter
    axis, and the cutter must move down it against the work.

    Parameters
    ----------
    gear
        The gear.
    setup
        How the cutter moves.
    """
    return setup.ratio * AxisFrame.of(setup, gear.internal).sine > 0


@dataclass(frozen=True)
class MovingEdge:
    """Both edges of one cutter tooth in the rake face; arrays run over edge, point and rotation step.

    Parameters
    ----------
    profile
        The wanted space.
    setup
        How the cutter moves.
    x, y
        Points of the edges in the rake face [mm].
    turn
        Turn of the cutter at each step [rad].
    tangent
        Direction along the edge, in the rake face.
    inward
        Direction into the tooth square to the edge, in the rake face.
    """

    profile: Profile
    setup: SkivingSetup
    x: Array
    y: Array
    turn: Array
    tangent: tuple[Array, Array]
    inward: tuple[Array, Array]

    @staticmethod
    def of(
        profile: Profile, setup: SkivingSetup, cutter: SkivingCutter, steps: int = FINE.steps
    ) -> MovingEdge:
        """Lay out the edges and their directions.

        Parameters
        ----------
        profile
            The wanted space.
        setup
            How the cutter moves.
        cutter
            The cutter.
        steps
            Rotation steps of one passage [-].
        """
        import numpy as np

        edges = np.array((cutter.upper, cutter.lower))
        along = np.gradient(edges, axis=1)
        along /= np.hypot(along[..., 0], along[..., 1])[..., None]
        tangent = along[..., 0, None], along[..., 1, None]
        # The tooth lies below its upper edge and above its lower edge.
        way = np.sign(tangent[0]) * np.array((1.0, -1.0))[:, None, None]
        inward = way * tangent[1], -way * tangent[0]
        turn = np.linspace(-REACH, REACH, steps)
        return MovingEdge(profile, setup, edges[..., 0, None], edges[..., 1, None], turn, tangent, inward)

    @property
    def frame(self) -> AxisFrame:
        """Where the cutter stands."""
        return AxisFrame.of(self.setup, self.profile.gear.internal)

    def tracks(self) -> Tracks:
        """Give the paths of the edge points in the section of the work."""
        places = self.frame.places(self.x, self.y, self.turn)
        return into_section(*places, self.setup.ratio * self.turn, self.setup.differential)

    def feed_direction(self) -> Triple:
        """Give the velocity of the cutter against the work for a feed of 1 mm, on the cutter."""
        x, y, z = self.frame.places(self.x, self.y, self.turn)
        lead = 2 * pi * self.setup.differential
        return self.frame.on_cutter((lead * y, -lead * x, 0 * z - 1.0), self.turn)

    def velocity(self) -> Triple:
        """Give the velocity against the work, feed included, for a cutter turn of 1 rad, on the cutter."""
        places = self.frame.places(self.x, self.y, self.turn)
        way = 1.0 if cutter_turns_anticlockwise(self.profile.gear, self.setup) else -1.0
        turning = self.frame.on_cutter(self.frame.velocities(places, self.setup.ratio), self.turn)
        share = self.setup.feed * abs(self.setup.ratio) / (2 * pi)
        vx, vy, vz = (way * v + share * f for v, f in zip(turning, self.feed_direction(), strict=True))
        return vx, vy, vz

    def ahead(self) -> Mask:
        """Tell where the swept edge advances into the work with the feed, before it finishes the flank."""
        import numpy as np

        vx, vy, vz = self.velocity()
        tx, ty = self.tangent
        normal = (ty * vz, -tx * vz, tx * vy - ty * vx)
        outward = -np.sign(normal[0] * self.inward[0] + normal[1] * self.inward[1])
        fx, fy, fz = self.feed_direction()
        advance: Mask = outward * (normal[0] * fx + normal[1] * fy + normal[2] * fz) > 0
        return advance

    def angles(self, relief: Deg) -> tuple[Array, Array]:
        """Give rake and clearance in the plane square to the edge [deg].

        Parameters
        ----------
        relief
            Relief angle ground into the cutter [deg].
        """
        import numpy as np

        mx, my = self.inward
        vx, vy, vz = self.velocity()
        # The lower face leads: the body of the cutter lies behind it, along its axis.
        rake = np.arctan2(-(vx * mx + vy * my), -vz)
        pitch = self.profile.gear.normal_module * self.setup.cutter_teeth
        twist = 2 * sin(radians(self.setup.cutter_helix)) / pitch
        body = np.arctan2(-self.y * twist * mx + self.x * twist * my, 1.0)
        clearance = body + radians(relief) - rake
        return np.degrees(rake), np.degrees(clearance)
