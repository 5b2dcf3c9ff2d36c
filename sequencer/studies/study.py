"""A study: one part and one shop, and what is varied."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, JsonValue

from sequencer.part.quantities import Record
from sequencer.shop import Forbidden


class Vary(Record):
    """One key and the values that it takes in turn; a list, or a range."""

    key: str = Field(
        min_length=3,
        max_length=200,
        description="Path of the key, beginning with part or shop: part.lot, shop.tools.T55.owned.",
    )
    values: tuple[JsonValue, ...] = Field(
        default=(), max_length=10000, description="Values, as the part or shop file would write them."
    )
    first: JsonValue = Field(
        default=None, alias="from", description="First value of a range: a number, or a quantity with unit."
    )
    last: JsonValue = Field(default=None, alias="to", description="Last value of a range.")
    step: JsonValue = Field(default=None, description="Distance of two values; in the unit of from.")
    count: int | None = Field(
        default=None, ge=2, le=10000, description="Number of values instead of a step, ends counted."
    )


class Variant(Record):
    """One variant with a name."""

    name: str = Field(min_length=1, max_length=80, description="Name of the variant.")
    set: dict[str, JsonValue] = Field(
        default_factory=dict, description="Paths of keys and the value that each one gets."
    )
    forbid: tuple[Forbidden, ...] = Field(
        default=(), description="Methods and tools that this variant does without."
    )
    part: str = Field(default="", max_length=400, description="Another part file for this variant.")
    shop: str = Field(default="", max_length=400, description="Another shop file for this variant.")


class Study(Record):
    """What is varied, and how each variant is planned."""

    name: str = Field(min_length=1, max_length=80, description="Name of the study.")
    part: str = Field(min_length=1, max_length=400, description="Part file, seen from the study file.")
    shop: str = Field(
        default="shop.yaml", min_length=1, max_length=400, description="Shop file, seen from the study file."
    )
    aim: Literal["clampings", "changes", "minutes"] = Field(
        default="clampings", description="What each plan makes least."
    )
    seconds: float = Field(
        default=20.0,
        gt=0.0,
        le=86400.0,
        description="Longest search for the order of one variant in seconds.",
    )
    combine: Literal["product", "one at a time", "in step"] = Field(
        default="product",
        description="How several keys are varied: every combination, each alone, or all together in step.",
    )
    vary: tuple[Vary, ...] = Field(default=(), max_length=20, description="Keys and their values.")
    variants: tuple[Variant, ...] = Field(
        default=(), max_length=10000, description="Variants with a name, beside those that vary gives."
    )
