"""The order: dependencies and alternatives become an integer problem, its answer becomes steps."""

from sequencer.sequencing.by_hand import FreeMove, Judged, free_moves, judge_order
from sequencer.sequencing.integers import Places
from sequencer.sequencing.order import Aim, make_sequence, refuse_errors
from sequencer.sequencing.steps import Change, Level, Sequence, Step, time_of_trips
from sequencer.sequencing.why import Why, explain_pair

__all__ = [
    "Aim",
    "Change",
    "FreeMove",
    "Judged",
    "Level",
    "Places",
    "Sequence",
    "Step",
    "Why",
    "explain_pair",
    "free_moves",
    "judge_order",
    "make_sequence",
    "refuse_errors",
    "time_of_trips",
]
