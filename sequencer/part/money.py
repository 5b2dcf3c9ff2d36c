"""What the order says about money: the blank, the series, and quotations from outside."""

from __future__ import annotations

import datetime
from typing import Literal

from pydantic import Field

from sequencer.part.quantities import Duration, Name, Record
from sequencer.units import parse


class Quote(Record):
    """A quotation for work done outside, in the shop's currency."""

    work: Literal["teeth", "grinding", "heat treatment", "whole part"] = Field(
        description="What is quoted: cutting the teeth of a feature, grinding them, the heat treatment, or "
        "the whole part."
    )
    of: Name | None = Field(default=None, description="Feature, for teeth and grinding.")
    source: str = Field(min_length=1, max_length=80, description="Number of the quotation, or who gave it.")
    price: float = Field(gt=0.0, le=1e9, description="Price of one piece.")
    per_lot: float = Field(default=0.0, ge=0.0, le=1e9, description="Price of setting up there, once a lot.")
    one_off: float = Field(
        default=0.0, ge=0.0, le=1e9, description="Price of tools and programmes there, once for the series."
    )
    freight: float = Field(
        default=0.0, ge=0.0, le=1e9, description="Packing and freight both ways, once a lot."
    )
    transit: Duration = Field(default=parse(0, "time"), description="Time on the road, both ways together.")
    lead_time: Duration = Field(description="Time there, from arrival until it is ready.")
    incoming_inspection: Duration | None = Field(
        default=None,
        description="Checking one piece when it is back; the time at receipt if left out.",
    )
    loss: float = Field(
        default=0.0, ge=0.0, lt=0.5, description="Share of pieces that are lost or come back unfit."
    )
    flank_class: int | None = Field(
        default=None, ge=0, le=12, description="Flank class that is promised; none for no promise."
    )
    includes_blank: bool = Field(
        default=False, description="For a whole part: the blank is part of the price."
    )
    valid_until: datetime.date | None = Field(default=None, description="Last day on which it holds.")


class Money(Record):
    """What the order says about money."""

    blank: float | None = Field(
        default=None,
        ge=0.0,
        le=1e9,
        description="Price of one blank; from the price per kg of the material if left out, else not priced.",
    )
    programmed: bool = Field(
        default=False, description="A repeat order: programmes are proved and fixtures are there."
    )
    series: int | None = Field(
        default=None,
        ge=1,
        le=10000000,
        description="Pieces in all over which programming and bought tools are spread; the lot if left out.",
    )
