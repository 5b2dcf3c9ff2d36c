"""The part: what the drawing and the order say."""

from __future__ import annotations

import datetime
from functools import cached_property
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from sequencer.part.feature import Side
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
from sequencer.part.money import Money, Quote
from sequencer.part.quantities import (
    CaseDepth,
    Duration,
    Length,
    Mass,
    Name,
    NotNegativeLength,
    PositiveLength,
    Record,
)
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import (
    ApexGroove,
    Bore,
    Chamfer,
    Face,
    FaceGroove,
    Groove,
    Radius,
    RunOutGroove,
    Taper,
    Thread,
    TurnedDiameter,
)
from sequencer.units import parse

AnyFeature = Annotated[
    Face
    | TurnedDiameter
    | Bore
    | Taper
    | Groove
    | FaceGroove
    | ApexGroove
    | RunOutGroove
    | Chamfer
    | Radius
    | Thread
    | ExternalGear
    | InternalGear
    | DoubleHelicalGear
    | Spline
    | BevelGear
    | Keyway
    | BoltCircle
    | Flat
    | Pocket
    | Marking,
    Field(discriminator="kind"),
]

#: What a clamping may name instead of a feature: the raw surface of the blank.
BLANK = "blank"


class Blank(Record):
    """What the part is made from."""

    form: Literal["bar", "ring", "forging", "casting", "plate", "weldment"] = Field(
        description="Form; it decides how much stress is expected in the material."
    )
    diameter: PositiveLength = Field(description="Outside diameter.")
    bore: NotNegativeLength = Field(
        default=parse(0, "length"), description="Diameter of the raw bore; 0 for a solid blank."
    )
    z_from: Length = Field(description="Lower raw face on the axis; below 0 by the stock on the lower face.")
    z_to: Length = Field(description="Upper raw face on the axis.")
    mass: Mass | None = Field(default=None, description="Mass if weighed; else computed from the section.")
    stress: Literal["low", "high"] | None = Field(
        default=None,
        description="Residual stress to expect; by default high for forgings, castings and weldments.",
    )

    @model_validator(mode="after")
    def _is_a_body(self) -> Self:
        if not self.z_from < self.z_to:
            msg = f"z_from {self.z_from} must be below z_to {self.z_to}; z runs up the axis"
            raise ValueError(msg)
        if not self.bore < self.diameter:
            msg = f"bore {self.bore} must be below diameter {self.diameter}"
            raise ValueError(msg)
        return self

    @property
    def stressed(self) -> bool:
        """Whether high residual stress is to be expected."""
        if self.stress is not None:
            return self.stress == "high"
        return self.form in ("forging", "casting", "weldment")


class HeatTreatment(Record):
    """Heat treatment inside the route."""

    kind: Literal["stress relief", "case hardening", "nitriding", "induction hardening"] = Field(
        description="Kind of treatment."
    )
    duration: Duration = Field(
        default=parse("5 d", "time"), description="Time until the part is back, transport included."
    )
    case_depth: CaseDepth | None = Field(default=None, description="Depth of the hard case.")


class Clamping(Record):
    """One way to hold the part until it is released."""

    name: Name = Field(description="Name on the sheets, such as I or II.")
    up: Side = Field(description="Which side of the drawing looks up.")
    hold: Literal["outside jaws", "inside jaws", "bolts", "face plate"] = Field(description="How it is held.")
    on: Name = Field(
        description='Feature that is gripped or bolted through; "blank" for the raw surface of the blank.'
    )
    rests_on: Name = Field(description='Face that it stands on; "blank" for the raw face of the blank.')
    z_from: Length | None = Field(
        default=None, description="Lower end of the band that the jaws cover; needed with jaws."
    )
    z_to: Length | None = Field(default=None, description="Upper end of that band.")
    riser: NotNegativeLength = Field(
        default=parse(0, "length"), description="Free height between table and the lowest face of the part."
    )
    means: Name | None = Field(
        default=None, description="Clamping means of the shop; the first that fits if left out."
    )

    @model_validator(mode="after")
    def _band(self) -> Self:
        jaws = self.hold in ("outside jaws", "inside jaws")
        if jaws and (self.z_from is None or self.z_to is None):
            msg = "z_from and z_to are missing; with jaws they say which band the jaws cover"
            raise ValueError(msg)
        if self.z_from is not None and self.z_to is not None and not self.z_from < self.z_to:
            msg = f"z_from {self.z_from} must be below z_to {self.z_to}; z runs up the axis"
            raise ValueError(msg)
        return self


class OrderWishes(Record):
    """What the planner demands of the order."""

    before: tuple[tuple[str, str], ...] = Field(
        default=(),
        description='Pairs of operations: the first stands before the second, "bore/finish" style.',
    )
    never_next: tuple[tuple[str, str], ...] = Field(
        default=(), description="Pairs of operations: the second never follows directly on the first."
    )
    same_clamping: tuple[tuple[str, str], ...] = Field(
        default=(), description="Pairs of operations that are done in one clamping."
    )


class Part(Record):
    """A part as drawing and order describe it."""

    name: str = Field(min_length=1, max_length=80, description="Name of the part.")
    drawing: str = Field(min_length=1, max_length=40, description="Drawing number.")
    revision: str = Field(default="-", max_length=10, description="Revision of the drawing.")
    author: str = Field(default="", max_length=60, description="Who plans it; printed on the sheets.")
    lot: int = Field(default=1, ge=1, le=100000, description="Pieces in this lot.")
    per_year: int | None = Field(
        default=None, ge=1, le=10000000, description="Pieces a year, for decisions on tools."
    )
    due: datetime.date | None = Field(default=None, description="Due date, as 2027-03-31.")
    order_date: datetime.date | None = Field(
        default=None,
        description="Date from which lead times are counted; with due it decides if a tool comes in time.",
    )
    units: Literal["mm", "in"] = Field(default="mm", description="Unit of length on the sheets.")
    material: str = Field(min_length=1, max_length=60, description="Material, by its name in the shop file.")
    condition: str = Field(default="", max_length=80, description="Condition, such as quenched and tempered.")
    heat_treatment: HeatTreatment | None = Field(default=None, description="Heat treatment inside the route.")
    blank: Blank = Field(description="What the part is made from.")
    datums: dict[Name, Name] = Field(
        default_factory=dict, description="Datum letters of the drawing and the feature that each one names."
    )
    features: tuple[AnyFeature, ...] = Field(
        min_length=1, max_length=500, description="Features of the part."
    )
    clampings: tuple[Clamping, ...] = Field(
        default=(), max_length=8, description="Ways to hold the part; proposed if left out."
    )
    order: OrderWishes = Field(default=OrderWishes(), description="Demands on the order.")
    money: Money = Field(default=Money(), description="What the order says about money.")
    quotes: tuple[Quote, ...] = Field(
        default=(), max_length=50, description="Quotations from outside, to compare with."
    )

    @cached_property
    def by_name(self) -> dict[str, AnyFeature]:
        """Features by name."""
        return {feature.name: feature for feature in self.features}

    def of_kind(self, *kinds: str) -> tuple[AnyFeature, ...]:
        """Features of the given kinds, in file order.

        Parameters
        ----------
        kinds
            Names of feature kinds, such as "face".
        """
        return tuple(feature for feature in self.features if feature.kind in kinds)

    @property
    def case_hardened(self) -> bool:
        """Whether the part is case hardened inside the route."""
        return self.heat_treatment is not None and self.heat_treatment.kind == "case hardening"
