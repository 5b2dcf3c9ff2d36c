"""The tool magazine: pockets, what they take, and what stays in them."""

from __future__ import annotations

from typing import Literal, Self

from pydantic import Field, model_validator

from sequencer.part.quantities import (
    Duration,
    Length,
    Mass,
    Name,
    NotNegativeLength,
    PositiveLength,
    Record,
    Torque,
)
from sequencer.units import parse


class NarrowPocket(Record):
    """A pocket with less room than the others, or closed."""

    pocket: int = Field(ge=1, le=1000, description="Number of the pocket.")
    diameter: NotNegativeLength = Field(
        default=parse(0, "length"), description="Largest tool diameter in it; 0 if it takes no tool."
    )
    length: PositiveLength | None = Field(
        default=None, description="Largest tool length in it; as everywhere if left out."
    )
    reason: str = Field(min_length=2, max_length=80, description="Why, such as door frame.")


class Opening(Record):
    """What passes an opening through which tools reach the magazine."""

    diameter: PositiveLength | None = Field(default=None, description="Largest tool diameter that passes.")
    length: PositiveLength | None = Field(default=None, description="Largest tool length that passes.")
    mass: Mass | None = Field(default=None, description="Largest tool mass that it takes.")


class MagazineOption(Record):
    """A bigger magazine that could be had for this machine."""

    name: str = Field(min_length=1, max_length=60, description="What it is called in the shop.")
    pockets: int = Field(ge=4, le=1000, description="Its pockets.")
    total_mass: Mass | None = Field(
        default=None, description="Largest mass of all tools; as now if left out."
    )
    price: float = Field(default=0.0, ge=0.0, le=1e9, description="Price, in the shop's currency.")


class Magazine(Record):
    """The tool magazine of the machine."""

    form: Literal["chain", "drum", "rack"] = Field(
        default="chain",
        description="How the pockets are arranged: round a chain, on a turning disc, or standing still in "
        "rows.",
    )
    pockets: int = Field(ge=4, le=1000, description="Number of pockets.")
    pitch: PositiveLength = Field(description="Distance from pocket to pocket.")
    clearance: Length = Field(default=parse("5 mm", "length"), description="Least gap between two tools.")
    diameter_full: PositiveLength = Field(description="Largest tool diameter with both neighbours loaded.")
    diameter_free: PositiveLength = Field(description="Largest tool diameter with both neighbours empty.")
    length: PositiveLength = Field(description="Largest tool length.")
    tool_mass: Mass = Field(description="Largest mass of one tool.")
    heavy_from: Mass = Field(description="Mass from which a tool change is a heavy one.")
    tilting_moment: Torque = Field(description="Largest tilting moment of one tool at the gripper.")
    total_mass: Mass = Field(description="Largest mass of all tools together.")
    residents: tuple[Name, ...] = Field(default=(), description="Tools that always stay in the magazine.")
    strand_gap: PositiveLength | None = Field(
        default=None,
        description="Chain: distance between the tools of its two strands, which pass each other when it "
        "moves; left out if nothing faces the tools.",
    )
    rows: int = Field(default=1, ge=1, le=20, description="Rack: rows of pockets, counted row by row.")
    row_pitch: PositiveLength | None = Field(
        default=None, description="Rack: distance from row to row; needed with several rows."
    )
    narrow_pockets: tuple[NarrowPocket, ...] = Field(
        default=(), description="Pockets with less room, or closed: beside a door, a guide, a broken one."
    )
    door: Opening | None = Field(
        default=None, description="Opening between magazine and spindle; what does not pass goes by hand."
    )
    load_station: Opening | None = Field(
        default=None, description="Where tools are put into the magazine; what it does not take goes by hand."
    )
    empty_for_exchange: int = Field(
        default=0, ge=0, le=4, description="Pockets that must stay empty so that tools can be exchanged."
    )
    imbalance: Mass | None = Field(
        default=None,
        description="Largest difference of mass between its two sides, in any position; no limit if left "
        "out.",
    )
    sisters: Literal["lot", "part", "one"] = Field(
        default="lot",
        description="How many equal tools are loaded, as far as owned: for the lot, for one part, or one.",
    )
    unattended: Duration | None = Field(
        default=None,
        description="Time that the machine runs without an operator; sister tools last at least that long.",
    )
    options: tuple[MagazineOption, ...] = Field(
        default=(), description="Bigger magazines that could be had for this machine."
    )

    @model_validator(mode="after")
    def _diameters(self) -> Self:
        if self.diameter_free < self.diameter_full:
            msg = f"diameter_free {self.diameter_free} must not be below diameter_full {self.diameter_full}"
            raise ValueError(msg)
        if self.rows > 1 and (self.form != "rack" or self.row_pitch is None):
            msg = f"{self.rows} rows go with form rack and need row_pitch, the distance from row to row"
            raise ValueError(msg)
        if self.strand_gap is not None and self.form != "chain":
            msg = "strand_gap goes with form chain; a drum and a rack have no facing strand"
            raise ValueError(msg)
        return self

    def resized(self, pockets: int) -> Magazine:
        """Give the same magazine with another number of pockets.

        Parameters
        ----------
        pockets
            Number of pockets [-].
        """
        return self.model_copy(update={"pockets": pockets})
