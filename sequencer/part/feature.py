"""What all features of a part have in common."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from sequencer.errors import OutOfRange
from sequencer.part.quantities import (
    CutDepth,
    CuttingSpeed,
    Feed,
    Length,
    Name,
    PositiveLength,
    Record,
)
from sequencer.part.tolerances import GeometricTolerance, Phase

Side = Literal["upper", "lower"]
Place = Literal["outside", "inside"]
Method = Literal[
    "turning",
    "grooving",
    "turn-milling",
    "threading",
    "thread milling",
    "hobbing",
    "power skiving",
    "disc milling",
    "end-mill milling",
    "shaping",
    "broaching",
    "grinding",
    "drilling",
    "tapping",
    "reaming",
    "fine boring",
    "trepanning",
    "counterboring",
    "boring",
    "milling",
    "slotting",
    "engraving",
]


class Conditions(Record):
    """Cutting conditions that the planner gives; they win over the shop's tables."""

    cutting_speed: CuttingSpeed | None = Field(default=None, description="Cutting speed.")
    feed: Feed | None = Field(default=None, description="Feed per revolution of the part.")
    feed_per_tooth: Feed | None = Field(default=None, description="Feed per tooth of the cutter.")
    depth: CutDepth | None = Field(default=None, description="Depth of cut or infeed of one pass.")

    @model_validator(mode="after")
    def _one_feed(self) -> Self:
        if self.feed is not None and self.feed_per_tooth is not None:
            what = f"feed {self.feed} and feed_per_tooth {self.feed_per_tooth} are both given"
            raise OutOfRange(what, limit="one of the two", remedy="take one of them out")
        return self


class Feature(Record):
    """Base of all feature kinds."""

    name: Name = Field(
        description="Name by which sheets, rules and other features call it; unique in the part."
    )
    title: str = Field(default="", max_length=120, description="Words for the sheets; the name if left out.")
    datums: tuple[Name, ...] = Field(
        default=(), description="Datums that locate the feature, in order of priority."
    )
    on: Name | None = Field(default=None, description="Feature that carries it.")
    next_to: tuple[Name, ...] = Field(
        default=(), description="Features that must lie directly beside it; checked against the section."
    )
    roughness: PositiveLength | None = Field(default=None, description="Largest roughness Ra.")
    geometric: tuple[GeometricTolerance, ...] = Field(
        default=(), description="Tolerances of form, orientation, location and runout."
    )
    phase: Phase | None = Field(default=None, description="Angular relation to another feature.")
    clamping: Name | None = Field(default=None, description="Clamping that it must be finished in.")
    method: Method | None = Field(default=None, description="Method that it must be cut by.")
    tool: Name | None = Field(default=None, description="Tool that it must be finished with.")
    conditions: Conditions | None = Field(
        default=None, description="Cutting conditions for its finish; they win over the shop's tables."
    )
    note: str = Field(default="", max_length=300, description="A remark for the route sheet.")

    @property
    def shown(self) -> str:
        """Words for the sheets."""
        return self.title or self.name


class Zone(Feature):
    """A feature that spans a length of the axis."""

    z_from: Length = Field(description="Lower end on the axis, counted from the lower finished face.")
    z_to: Length = Field(description="Upper end on the axis.")

    @model_validator(mode="after")
    def _ends_in_order(self) -> Self:
        if not self.z_from < self.z_to:
            msg = f"z_from {self.z_from} must be below z_to {self.z_to}; z runs up the axis"
            raise ValueError(msg)
        return self

    @property
    def length(self) -> float:
        """Length along the axis [mm]."""
        return self.z_to - self.z_from
