"""How exactly this shop works besides the machine's axes: warmth, distortion, indicating, measuring."""

from __future__ import annotations

from pydantic import Field

from sequencer.part.quantities import NotNegativeLength, PositiveLength, Record, TemperatureDifference
from sequencer.units import parse


class HeatDistortion(Record):
    """How far a size of one metre moves in a heat treatment; defaults from memory of handbooks."""

    stress_relief: NotNegativeLength = Field(
        default=parse("60 um", "length"), description="In stress relief, over one metre."
    )
    case_hardening: NotNegativeLength = Field(
        default=parse("600 um", "length"), description="In case hardening, over one metre."
    )
    nitriding: NotNegativeLength = Field(
        default=parse("40 um", "length"), description="In nitriding, over one metre."
    )
    induction_hardening: NotNegativeLength = Field(
        default=parse("150 um", "length"), description="In induction hardening, over one metre."
    )


class Measuring(Record):
    """Expanded uncertainties (k = 2) of the ways to measure; defaults are estimates."""

    probe: PositiveLength = Field(
        default=parse("4 um", "length"), description="Probing on the machine, for a short distance."
    )
    probe_per_metre: NotNegativeLength = Field(
        default=parse("8 um", "length"), description="Added for each metre of the size that is probed."
    )
    gauge: PositiveLength = Field(
        default=parse("5 um", "length"), description="Gauge or micrometer in the hand, for a short distance."
    )
    gauge_per_metre: NotNegativeLength = Field(
        default=parse("12 um", "length"), description="Added for each metre of the size that is gauged."
    )
    indicator: PositiveLength = Field(
        default=parse("2 um", "length"), description="Dial indicator or probe while the table turns."
    )
    teeth: PositiveLength = Field(
        default=parse("5 um", "length"),
        description="Pitch, profile, helix and runout of teeth on the machine.",
    )
    independent: PositiveLength = Field(
        default=parse("2 um", "length"),
        description="Independent measuring machine, for a short distance and for form.",
    )
    independent_per_metre: NotNegativeLength = Field(
        default=parse("3 um", "length"), description="Added for each metre of the size that it measures."
    )
    independent_teeth: PositiveLength = Field(
        default=parse("2.5 um", "length"), description="Teeth on an independent gear measuring machine."
    )


class Accuracy(Record):
    """What enters tolerances besides the axes of the machine; each default is an estimate."""

    temperature_difference: TemperatureDifference = Field(
        default=parse("1 K", "temperature difference"),
        description="Difference between part and machine that is left when a size is finished or measured.",
    )
    warm_difference: TemperatureDifference = Field(
        default=parse("5 K", "temperature difference"),
        description="The same after heavy roughing without a wait.",
    )
    indicating_limit: PositiveLength = Field(
        default=parse("4 um", "length"), description="Smallest runout that can be indicated to in this shop."
    )
    indicating_share: float = Field(
        default=1 / 3, gt=0.0, le=1.0, description="Share of a tolerance that the indicated runout may use."
    )
    stress_distortion: NotNegativeLength = Field(
        default=parse("30 um", "length"),
        description="How far a stressed blank moves over one metre when it is released after its roughing.",
    )
    rough_grade: int = Field(default=12, ge=8, le=16, description="ISO 286 grade that roughing holds.")
    semi_grade: int = Field(default=9, ge=6, le=14, description="ISO 286 grade that finer cuts hold.")
    rough_face: NotNegativeLength = Field(
        default=parse("0.08 mm", "length"), description="Half width that roughing holds of a face."
    )
    semi_face: NotNegativeLength = Field(
        default=parse("0.02 mm", "length"), description="Half width that finer cuts hold of a face."
    )
    blank_tolerance: NotNegativeLength = Field(
        default=parse("1.5 mm", "length"), description="Half width of the sizes of a raw blank."
    )
    blank_runout: NotNegativeLength = Field(
        default=parse("1 mm", "length"), description="Runout of the raw blank that stays when it is clamped."
    )
    heat: HeatDistortion = Field(
        default=HeatDistortion(), description="What heat treatments move, over one metre."
    )
    measuring: Measuring = Field(default=Measuring(), description="Uncertainties of measuring.")
