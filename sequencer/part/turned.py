"""Features made by turning."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from sequencer.part.feature import Feature, Place, Side, Zone
from sequencer.part.quantities import Angle, Length, Name, NotNegativeLength, PositiveLength
from sequencer.part.tolerances import SizeToleranceField
from sequencer.units import parse

_SIZE = "Limits of the size; the shop's general tolerance if left out."


class Face(Feature):
    """A flat face square to the axis."""

    kind: Literal["face"]
    side: Side = Field(description="Which way the face looks: upper or lower side of the part.")
    z: Length = Field(description="Position on the axis, counted from the lower finished face.")
    outer_diameter: PositiveLength | None = Field(
        default=None, description="Outer edge; taken from the section if left out."
    )
    inner_diameter: NotNegativeLength | None = Field(
        default=None, description="Inner edge; taken from the section if left out."
    )
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the position z.")


class TurnedDiameter(Zone):
    """An outside cylinder, turned to its shoulder."""

    kind: Literal["turned_diameter"]
    diameter: PositiveLength = Field(description="Finished diameter.")
    tolerance: SizeToleranceField | None = Field(default=None, description=_SIZE)


class Bore(Zone):
    """An inside cylinder, through or blind."""

    kind: Literal["bore"]
    diameter: PositiveLength = Field(description="Finished diameter.")
    tolerance: SizeToleranceField | None = Field(default=None, description=_SIZE)


class Taper(Zone):
    """A turned cone, outside or inside."""

    kind: Literal["taper"]
    place: Place = Field(default="outside", description="Outside or inside.")
    lower_diameter: PositiveLength = Field(description="Diameter at z_from.")
    upper_diameter: PositiveLength = Field(description="Diameter at z_to.")
    tolerance: SizeToleranceField | None = Field(default=None, description=_SIZE)

    @model_validator(mode="after")
    def _is_a_cone(self) -> Self:
        if self.lower_diameter == self.upper_diameter:
            msg = f"both diameters are {self.lower_diameter}; a cylinder is a turned_diameter or a bore"
            raise ValueError(msg)
        return self


class Groove(Zone):
    """A turned groove in an outside or inside cylinder."""

    kind: Literal["groove"]
    place: Place = Field(default="outside", description="Outside or inside.")
    diameter: PositiveLength = Field(description="Diameter of the groove floor.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the width.")


class FaceGroove(Feature):
    """A turned groove in a face."""

    kind: Literal["face_groove"]
    side: Side = Field(description="Which way the face looks that it is cut into.")
    outer_diameter: PositiveLength = Field(description="Outer wall.")
    inner_diameter: PositiveLength = Field(description="Inner wall.")
    depth: PositiveLength = Field(description="Depth below the face that carries it.")
    on: Name = Field(description="Face that carries it.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the width.")

    @model_validator(mode="after")
    def _walls_in_order(self) -> Self:
        if not self.inner_diameter < self.outer_diameter:
            msg = f"inner_diameter {self.inner_diameter} must be below outer_diameter {self.outer_diameter}"
            raise ValueError(msg)
        return self

    @property
    def width(self) -> float:
        """Width from wall to wall [mm]."""
        return (self.outer_diameter - self.inner_diameter) / 2


class ApexGroove(Zone):
    """The gap between the two helices of a double-helical gear, where the cutter runs out."""

    kind: Literal["apex_groove"]
    gear: Name = Field(description="Double-helical gear that it parts.")
    diameter: PositiveLength = Field(description="Diameter of the groove floor.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the width.")


class RunOutGroove(Zone):
    """A groove at the end of teeth, where the cutter runs out."""

    kind: Literal["run_out_groove"]
    gear: Name = Field(description="Gear or spline whose teeth end in it.")
    place: Place = Field(default="outside", description="Outside or inside.")
    diameter: PositiveLength = Field(description="Diameter of the groove floor.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the width.")


class Chamfer(Feature):
    """A turned chamfer on an edge."""

    kind: Literal["chamfer"]
    on: Name = Field(description="Cylinder, bore, gear or thread whose edge it breaks.")
    edge: Literal["upper", "lower", "both"] = Field(description="Which end of that feature.")
    size: PositiveLength = Field(description="Width along the axis.")
    angle: Angle = Field(default=parse("45 deg", "angle"), description="Angle to the axis.")


class Radius(Feature):
    """A turned radius on an edge or in a corner."""

    kind: Literal["radius"]
    on: Name = Field(description="Cylinder, bore or gear whose edge it rounds.")
    edge: Literal["upper", "lower", "both"] = Field(description="Which end of that feature.")
    size: PositiveLength = Field(description="Radius.")


class Thread(Zone):
    """A turned or milled thread round the axis."""

    kind: Literal["thread"]
    place: Place = Field(default="outside", description="Outside or inside.")
    diameter: PositiveLength = Field(description="Nominal diameter.")
    pitch: PositiveLength = Field(description="Pitch; an inch thread of 8 threads an inch is 1/8 in.")
    hand: Literal["right", "left"] = Field(default="right", description="Hand of the thread.")
    designation: str = Field(default="", max_length=40, description='As on the drawing, such as "M120x2-6g".')
