"""Time and money of a plan, from its steps, its tools and the rates of the shop."""

from sequencer.costing.account import Account, Line, RiskPoint
from sequencer.costing.advice import Advice, Beside
from sequencer.costing.break_even import break_even
from sequencer.costing.choice import Choice
from sequencer.costing.costing import Costing, Tornado, cost_words, make_costing
from sequencer.costing.drivers import Driver
from sequencer.costing.times import StepTime, TimeKind, TimeTable
from sequencer.costing.tools import ToolCost
from sequencer.costing.ways import ToothWays, WayCost

__all__ = [
    "Account",
    "Advice",
    "Beside",
    "Choice",
    "Costing",
    "Driver",
    "Line",
    "RiskPoint",
    "StepTime",
    "TimeKind",
    "TimeTable",
    "ToolCost",
    "ToothWays",
    "Tornado",
    "WayCost",
    "break_even",
    "cost_words",
    "make_costing",
]
