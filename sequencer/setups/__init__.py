"""Set-up of each clamping visit: what is held, reached and finished, and how it is held."""

from sequencer.setups.make import make_set_ups, set_up_findings
from sequencer.setups.setup import (
    Grip,
    Lifting,
    Note,
    Ovality,
    PartState,
    Rectangle,
    SetUp,
    TableUse,
    Target,
    Tipping,
    Zero,
)

__all__ = [
    "Grip",
    "Lifting",
    "Note",
    "Ovality",
    "PartState",
    "Rectangle",
    "SetUp",
    "TableUse",
    "Target",
    "Tipping",
    "Zero",
    "make_set_ups",
    "set_up_findings",
]
