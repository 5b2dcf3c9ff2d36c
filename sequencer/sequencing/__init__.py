"""The order: dependencies and alternatives become an integer problem, its answer becomes steps."""

from sequencer.sequencing.order import Aim, make_sequence, refuse_errors
from sequencer.sequencing.steps import Change, Level, Sequence, Step
from sequencer.sequencing.why import Why, explain_pair

__all__ = [
    "Aim",
    "Change",
    "Level",
    "Sequence",
    "Step",
    "Why",
    "explain_pair",
    "make_sequence",
    "refuse_errors",
]
