"""Geometry of teeth: cylindrical gears, bevel gears and splines, inspection sizes and flank tolerances."""

from __future__ import annotations

from sequencer.gears.bevel import BevelGear, BevelPair
from sequencer.gears.cylindrical import CylindricalGear, Hand
from sequencer.gears.inspection import (
    BallSize,
    ChordalSize,
    InspectionSizes,
    SpanSize,
    inspection_sizes,
)
from sequencer.gears.spline_data import PinSize, SplineData, SplineLimits
from sequencer.gears.splines import ansi_b92_1, din_5480, iso_4156, spline_data
from sequencer.gears.tolerances import FlankTolerances, ToleranceValues, flank_tolerances

__all__ = [
    "BallSize",
    "BevelGear",
    "BevelPair",
    "ChordalSize",
    "CylindricalGear",
    "FlankTolerances",
    "Hand",
    "InspectionSizes",
    "PinSize",
    "SpanSize",
    "SplineData",
    "SplineLimits",
    "ToleranceValues",
    "ansi_b92_1",
    "din_5480",
    "flank_tolerances",
    "inspection_sizes",
    "iso_4156",
    "spline_data",
]
