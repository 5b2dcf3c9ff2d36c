"""What the drawing demands of a surface, or of one surface against another, as one number."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sequencer.operations import Fact
from sequencer.units import Deg, Micrometre, Mm


class Kind(StrEnum):
    """What is toleranced."""

    SIZE = "size"
    THICKNESS = "tooth thickness"
    HEIGHT = "position along the axis"
    RUNOUT = "runout"
    TOTAL_RUNOUT = "total runout"
    CONCENTRICITY = "concentricity"
    POSITION = "position"
    PARALLELISM = "parallelism"
    PERPENDICULARITY = "perpendicularity"
    FLATNESS = "flatness"
    ROUNDNESS = "roundness"
    CYLINDRICITY = "cylindricity"
    PHASE = "phase"
    APEX = "apex"
    TOOTH_PITCH = "total cumulative pitch"
    TOOTH_RUNOUT = "runout of the teeth"
    HELIX_SLOPE = "helix slope"
    PROFILE = "total profile"


#: Kinds whose limit is a deviation to either side; of the others it is the width of a zone.
TWO_SIDED = frozenset({Kind.SIZE, Kind.THICKNESS, Kind.HEIGHT, Kind.PHASE, Kind.APEX, Kind.HELIX_SLOPE})

#: Kinds that are measured on the teeth.
OF_TEETH = frozenset(
    {Kind.THICKNESS, Kind.APEX, Kind.TOOTH_PITCH, Kind.TOOTH_RUNOUT, Kind.HELIX_SLOPE, Kind.PROFILE}
)


@dataclass(frozen=True)
class TolerancedRelation:
    """A tolerance of the drawing with the geometry by which errors enter it.

    Parameters
    ----------
    feature
        Feature that carries the tolerance.
    kind
        What is toleranced.
    allowance
        Largest deviation: to either side for sizes, heights, phase, apex and slopes; else the zone [um].
    given
        The allowance as a fact, with its formula and source.
    written
        As on the drawing, such as "H7" or "0.04 mm".
    axis
        Datum feature that carries the axis; empty if it refers to none.
    face
        Datum face; empty if it refers to none.
    other
        Feature that a phase or a height counts from; empty if there is none.
    letters
        Datum letters as the drawing gives them.
    half
        "lower" or "upper" for one helix of a double-helical gear; else empty.
    size
        Diameter at which it is judged; of a height the distance, of a width the width [mm].
    length
        Length along the axis over which it is judged [mm].
    lever
        Distance along the axis from the datum to the feature, by which a tilt shifts it [mm].
    flat
        True if the surface is square to the axis.
    diametral
        True if the size is a diameter, into which an error of X enters twice.
    pressure_angle
        Transverse pressure angle of the teeth; 0 without teeth [deg].
    helix_angle
        Helix angle without sign; 0 without teeth [deg].
    """

    feature: str
    kind: Kind
    allowance: Micrometre
    given: Fact
    written: str
    axis: str = ""
    face: str = ""
    other: str = ""
    letters: tuple[str, ...] = ()
    half: str = ""
    size: Mm = 0.0
    length: Mm = 0.0
    lever: Mm = 0.0
    flat: bool = False
    diametral: bool = False
    pressure_angle: Deg = 0.0
    helix_angle: Deg = 0.0

    @property
    def to(self) -> tuple[str, ...]:
        """Features that it refers to, in the order of the drawing's datums."""
        return tuple(dict.fromkeys(name for name in (self.axis, self.face, self.other) if name))

    @property
    def words(self) -> str:
        """Words for a sentence, such as "lower half of wheel: runout to bore"."""
        carrier = f"{self.half} half of {self.feature}" if self.half else self.feature
        return f"{carrier}: {self.kind}{' to ' if self.to else ''}{' and '.join(self.to)}"

    @property
    def two_sided(self) -> bool:
        """Whether the allowance is a deviation to either side."""
        return self.kind in TWO_SIDED
