"""The part: features, datums, blank, clampings and the half-section."""

from sequencer.part.money import Money, Quote
from sequencer.part.part import BLANK, AnyFeature, Blank, Clamping, HeatTreatment, OrderWishes, Part

__all__ = [
    "BLANK",
    "AnyFeature",
    "Blank",
    "Clamping",
    "HeatTreatment",
    "Money",
    "OrderWishes",
    "Part",
    "Quote",
]
