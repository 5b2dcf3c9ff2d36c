"""Set-up of each clamping visit: what is held, reached and finished, and how it is held."""

from sequencer.setups.forcing import Forced, Remedy
from sequencer.setups.least import LeastClampings, least_clampings, least_findings, other_rows
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
    "Forced",
    "Grip",
    "LeastClampings",
    "Lifting",
    "Note",
    "Ovality",
    "PartState",
    "Rectangle",
    "Remedy",
    "SetUp",
    "TableUse",
    "Target",
    "Tipping",
    "Zero",
    "least_clampings",
    "least_findings",
    "make_set_ups",
    "other_rows",
    "set_up_findings",
]
