"""Money and effort: rates, what a lot and a new part take beside the cutting, risks, working time."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from sequencer.part.quantities import Bounds, Dimension, Record
from sequencer.units import Quantity, parse

#: Time that people take for one lot or one new part; longer than a month is a slip of the keyboard.
Effortful = Annotated[Quantity, Dimension("time", least=0.0, bounds=Bounds("30 d", "0.1 s"))]


class Rates(Record):
    """Money."""

    currency: str = Field(default="EUR", max_length=8, description="Currency of all prices.")
    machine_hour: float = Field(
        gt=0.0, le=1e6, description="Rate of the machine, operator included, per hour."
    )
    setup_hour: float = Field(gt=0.0, le=1e6, description="Rate while setting up, per hour.")
    inspection_hour: float = Field(gt=0.0, le=1e6, description="Rate of the measuring room, per hour.")
    programming_hour: float | None = Field(
        default=None, gt=0.0, le=1e6, description="Rate of programming, per hour; setup_hour if left out."
    )
    marginal_machine_hour: float | None = Field(
        default=None,
        gt=0.0,
        le=1e6,
        description="Part of machine_hour that falls away when work is sent out (operator, power, tools), "
        "for comparing with prices from outside; machine_hour if left out.",
    )
    lost_hour: float = Field(
        default=0.0,
        ge=0.0,
        le=1e6,
        description="Contribution that other work loses for each hour while the machine is a bottleneck; "
        "0 while it has free hours.",
    )


class Effort(Record):
    """What a lot and a new part take beside the cutting."""

    set_up_clamping: Effortful = Field(
        default=parse("45 min", "time"),
        description="Fitting and aligning the clamping means of one clamping, once a lot.",
    )
    load_tool: Effortful = Field(
        default=parse("3 min", "time"), description="Presetting and loading one tool, once a lot."
    )
    programming: Effortful = Field(
        default=parse("10 min", "time"), description="Programming one cutting step of a new part."
    )
    programming_teeth: Effortful = Field(
        default=parse("60 min", "time"),
        description="Programming and proving one step that cuts teeth of a new part.",
    )
    first_piece: float = Field(
        default=0.5,
        ge=0.0,
        le=10.0,
        description="Extra time on the first piece of a new part while its programme is proved, as a share "
        "of its time on the machine.",
    )


class Risks(Record):
    """How often a step scraps the part, as a share of pieces."""

    rough: float = Field(default=0.0005, ge=0.0, le=0.5, description="A roughing step.")
    finish: float = Field(default=0.001, ge=0.0, le=0.5, description="A finishing step.")
    teeth: float = Field(default=0.003, ge=0.0, le=0.5, description="A step that finishes teeth.")
    outside: float = Field(
        default=0.01, ge=0.0, le=0.5, description="Work that is sent out, transport included."
    )
    first_piece: float = Field(
        default=3.0, ge=1.0, le=100.0, description="How many times as often on the first piece of a new part."
    )


class WorkingTime(Record):
    """When the shop works, for dates."""

    hours_per_day: float = Field(default=8.0, gt=0.0, le=24.0, description="Hours on the machine a day.")
    days_per_week: float = Field(default=5.0, ge=1.0, le=7.0, description="Days a week.")
