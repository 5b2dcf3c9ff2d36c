"""Toleranced relations of a part, what errors use of them, and whether one can hold across clampings."""

from sequencer.tolerancing import shop_values
from sequencer.tolerancing.apart import ApartAndTogether, apart_and_together
from sequencer.tolerancing.budget import Budget, make_budget
from sequencer.tolerancing.listing import relations_of
from sequencer.tolerancing.relation import Kind, TolerancedRelation
from sequencer.tolerancing.share import Cause, Share, Verdict
from sequencer.tolerancing.situation import Instrument, Reclamping, Situation

__all__ = [
    "ApartAndTogether",
    "Budget",
    "Cause",
    "Instrument",
    "Kind",
    "Reclamping",
    "Share",
    "Situation",
    "TolerancedRelation",
    "Verdict",
    "apart_and_together",
    "make_budget",
    "relations_of",
    "shop_values",
]
