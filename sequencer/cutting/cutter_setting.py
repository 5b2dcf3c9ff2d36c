"""How a cutter stands to the work at full depth, at the end of the teeth."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from sequencer.cutting._ranges import above_zero, within
from sequencer.cutting._reach import Frame
from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.errors import OutOfRange
from sequencer.units import Deg, Mm


class Arrangement(StrEnum):
    """How the cutter axis stands to the work axis."""

    CROSSED = "crossed"
    SKIVING = "skiving"
    RADIAL = "radial"


@dataclass(frozen=True)
class Setting:
    """How a cutter stands to the work at full depth.

    Parameters
    ----------
    arrangement
        "crossed": axis near the transverse plane, beside the work (hob, disc). "skiving": axis near the
        work axis, holder above. "radial": axis points away from the tooth root (end mill).
    root_radius
        Radius on the work where the cutter stands at full depth [mm].
    tilt
        Crossed: angle of the cutter axis out of the transverse plane. Skiving: crossed-axes angle. Radial:
        angle by which the axis rises out of the transverse plane [deg].
    internal
        Whether the teeth are internal.
    """

    arrangement: Arrangement
    root_radius: Mm
    tilt: Deg = 0.0
    internal: bool = False

    def __post_init__(self) -> None:
        where = f"{self.arrangement} setting"
        above_zero(where, root_radius=self.root_radius)
        limits = {Arrangement.CROSSED: 75.0, Arrangement.SKIVING: 75.0, Arrangement.RADIAL: 89.0}
        limit = limits[self.arrangement]
        within(where, -limit, limit, tilt=self.tilt)

    def centre_distance(self, body: CutterBody) -> Mm:
        """Distance of the cutter axis from the work axis at the crossing point [mm].

        Source: derived; external root radius + cutter radius, internal root radius - cutter radius.

        Parameters
        ----------
        body
            The cutter [-].
        """
        return self.root_radius - body.radius if self.internal else self.root_radius + body.radius

    def frame(self, body: CutterBody) -> Frame:
        """Place the cutter axis in space; the work axis is z, the tooth end stands at z = 0.

        Source: derived.

        Parameters
        ----------
        body
            The cutter [-].

        Raises
        ------
        OutOfRange
            When an internal cutter is not smaller than the root circle it stands in.
        """
        if self.internal and body.diameter >= 2 * self.root_radius:
            raise OutOfRange(
                f"{body.kind} dia {body.diameter:g} mm does not fit into the root circle",
                where="run-out",
                limit=f"below dia {2 * self.root_radius:g} mm",
                remedy="Take a smaller cutter",
            )
        if self.arrangement is Arrangement.RADIAL:
            return self._radial_frame(body)
        angle = math.radians(self.tilt if self.arrangement is Arrangement.CROSSED else 90.0 - self.tilt)
        c, s = math.cos(angle), math.sin(angle)
        return Frame((self.centre_distance(body), 0.0, 0.0), (0.0, c, s), (1.0, 0.0, 0.0), (0.0, -s, c))

    def _radial_frame(self, body: CutterBody) -> Frame:
        """End mill whose deepest corner touches the root circle."""
        angle = math.radians(self.tilt)
        c, s = math.cos(angle), math.sin(angle)
        way = -1.0 if self.internal else 1.0
        x = self.root_radius + way * body.profile[0][1] * abs(s)
        return Frame((x, 0.0, 0.0), (way * c, 0.0, s), (0.0, 1.0, 0.0), (-way * s, 0.0, c))
