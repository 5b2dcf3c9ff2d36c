"""Features made by milling, drilling and engraving."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from sequencer.part.feature import Feature, Side, Zone
from sequencer.part.quantities import Angle, Length, Name, PositiveLength, Record
from sequencer.part.tolerances import SizeToleranceField
from sequencer.units import parse

_ZERO = parse(0, "angle")


class Keyway(Zone):
    """A keyway in a bore or on a diameter."""

    kind: Literal["keyway"]
    on: Name = Field(description="Bore or diameter that carries it.")
    width: PositiveLength = Field(description="Width.")
    depth: PositiveLength = Field(description="Depth from the surface that carries it.")
    angle: Angle = Field(default=_ZERO, description="Angular position.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the width.")


class Counterbore(Record):
    """A wider, flat entry of a hole."""

    diameter: PositiveLength = Field(description="Diameter.")
    depth: PositiveLength = Field(description="Depth.")


class BoltCircle(Feature):
    """Holes on a circle: drilled, then tapped, reamed or counterbored as asked."""

    kind: Literal["bolt_circle"]
    direction: Literal["axial", "radial"] = Field(default="axial", description="Direction of the holes.")
    on: Name = Field(description="Face (axial) or cylinder (radial) that the holes enter.")
    side: Side | None = Field(
        default=None, description="Side that axial holes enter from; the side of the face if left out."
    )
    circle_diameter: PositiveLength | None = Field(default=None, description="Pitch circle of axial holes.")
    z: Length | None = Field(default=None, description="Position of radial holes on the axis.")
    count: int = Field(ge=1, le=360, description="Number of holes.")
    start_angle: Angle = Field(default=_ZERO, description="Angle of the first hole.")
    diameter: PositiveLength = Field(description="Hole diameter; the nominal diameter of a thread.")
    depth: PositiveLength | None = Field(default=None, description="Depth; through if left out.")
    thread_pitch: PositiveLength | None = Field(
        default=None, description="Pitch of a tapped thread; not tapped if left out."
    )
    thread_depth: PositiveLength | None = Field(
        default=None, description="Depth of the thread; the whole hole if left out."
    )
    ream: SizeToleranceField | None = Field(
        default=None, description="Limits of a reamed hole; not reamed if left out."
    )
    counterbore: Counterbore | None = Field(default=None, description="Counterbore at the entry.")
    use: Literal["", "lifting", "clamping", "balance"] = Field(
        default="", description="Use during the work: lifting, clamping in a later clamping, balance."
    )

    @model_validator(mode="after")
    def _complete(self) -> Self:
        if self.direction == "axial" and self.circle_diameter is None:
            msg = "circle_diameter is missing; axial holes lie on a pitch circle"
            raise ValueError(msg)
        if self.direction == "radial" and self.z is None:
            msg = "z is missing; radial holes have a position on the axis"
            raise ValueError(msg)
        if self.direction == "axial" and self.z is not None:
            msg = f"z {self.z} means nothing for axial holes, which enter at their face; take it out"
            raise ValueError(msg)
        if self.direction == "radial" and self.circle_diameter is not None:
            msg = f"circle_diameter {self.circle_diameter} means nothing for radial holes; take it out"
            raise ValueError(msg)
        if self.thread_pitch is not None and self.ream is not None:
            msg = "a hole is tapped or reamed, not both; split it into two bolt circles"
            raise ValueError(msg)
        if self.counterbore is not None and self.counterbore.diameter <= self.diameter:
            msg = f"counterbore diameter {self.counterbore.diameter} must be above the hole's {self.diameter}"
            raise ValueError(msg)
        return self


class Flat(Zone):
    """Flats milled on an outside diameter."""

    kind: Literal["flat"]
    on: Name = Field(description="Diameter that carries them.")
    distance: PositiveLength = Field(description="Distance of the flat from the axis.")
    count: int = Field(default=1, ge=1, le=36, description="Number of flats.")
    angle: Angle = Field(default=_ZERO, description="Angle of the first flat.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of the distance.")


class Pocket(Feature):
    """Pockets or windows milled into a face or a diameter."""

    kind: Literal["pocket"]
    on: Name = Field(description="Face or diameter that carries them.")
    width: PositiveLength = Field(description="Width.")
    length: PositiveLength = Field(description="Length.")
    depth: PositiveLength = Field(description="Depth.")
    corner_radius: PositiveLength = Field(description="Smallest corner radius; limits the end mill.")
    circle_diameter: PositiveLength | None = Field(
        default=None, description="Circle through the middle of pockets in a face."
    )
    z: Length | None = Field(default=None, description="Middle of pockets on a diameter, along the axis.")
    count: int = Field(default=1, ge=1, le=72, description="Number of pockets.")
    angle: Angle = Field(default=_ZERO, description="Angle of the first one.")
    tolerance: SizeToleranceField | None = Field(default=None, description="Limits of width and length.")


class Marking(Feature):
    """Text engraved on a surface."""

    kind: Literal["marking"]
    on: Name = Field(description="Surface that carries it.")
    text: str = Field(min_length=1, max_length=80, description="What is written.")
    height: PositiveLength = Field(default=parse("6 mm", "length"), description="Height of the letters.")
