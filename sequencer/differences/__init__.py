"""What two plans do differently, in words: variants of a study, revisions of a drawing."""

from sequencer.differences.outline import Outline, OutlineStep, outline_from_dict, outline_of, outline_of_json
from sequencer.differences.words import Difference, differences

__all__ = [
    "Difference",
    "Outline",
    "OutlineStep",
    "differences",
    "outline_from_dict",
    "outline_of",
    "outline_of_json",
]
