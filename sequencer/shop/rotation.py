"""The parts of a week on one machine: lots, due dates, and tools that are away."""

from __future__ import annotations

import datetime
from typing import Literal, Self

from pydantic import Field, model_validator

from sequencer.part.quantities import Name, Record


class RotationPart(Record):
    """A part of the week."""

    file: str = Field(min_length=1, max_length=300, description="Part file, from the folder of this file.")
    lot: int | None = Field(
        default=None, ge=1, le=100000, description="Pieces; those of the part file if left out."
    )
    due: datetime.date | None = Field(
        default=None, description="Due date; that of the part file if left out."
    )


class ToolAway(Record):
    """A tool that is not there for some days."""

    tool: Name = Field(description="Tool of the shop.")
    number: int = Field(default=1, ge=1, le=1000, description="How many of them are away.")
    leaves: datetime.date = Field(description="First day on which it is away.")
    back: datetime.date = Field(description="First day on which it is there again.")
    why: Literal["regrind", "booked", "repair"] = Field(
        description="At the grinder's, booked for other work, or in repair."
    )
    note: str = Field(default="", max_length=120, description="By whom or for which work.")

    @model_validator(mode="after")
    def _rising(self) -> Self:
        if not self.leaves < self.back:
            msg = f"leaves {self.leaves} must be before back {self.back}"
            raise ValueError(msg)
        return self


class Rotation(Record):
    """Parts that share one machine and its magazine."""

    name: str = Field(min_length=1, max_length=80, description="Name on the sheet, such as week 14.")
    shop: str = Field(min_length=1, max_length=300, description="Shop file, from the folder of this file.")
    start: datetime.date = Field(description="Day on which the first part is begun.")
    parts: tuple[RotationPart, ...] = Field(min_length=1, max_length=60, description="Parts of the week.")
    order: Literal["free", "as listed"] = Field(
        default="free", description="Whether the order of the parts is chosen or as they are listed."
    )
    loaded: tuple[Name, ...] = Field(
        default=(), description="Tools in the magazine at the start, residents left out."
    )
    away: tuple[ToolAway, ...] = Field(default=(), description="Tools that are not there for some days.")
