"""The shop: machine, magazine, clamping means, tools, materials, conditions, rates and house rules."""

from sequencer.shop.machine import ClampingMeans, Machine
from sequencer.shop.magazine import Magazine
from sequencer.shop.money import Effort, Rates, Risks, WorkingTime
from sequencer.shop.shop import (
    Condition,
    Forbidden,
    HouseRules,
    Limits,
    Material,
    OwnRule,
    RuleChange,
    Shop,
    Stock,
)
from sequencer.shop.tools import AnyTool, Tool

__all__ = [
    "AnyTool",
    "ClampingMeans",
    "Condition",
    "Effort",
    "Forbidden",
    "HouseRules",
    "Limits",
    "Machine",
    "Magazine",
    "Material",
    "OwnRule",
    "Rates",
    "Risks",
    "RuleChange",
    "Shop",
    "Stock",
    "Tool",
    "WorkingTime",
]
