"""The shop: machine, magazine, clamping means, tools, materials, conditions, rates and house rules."""

from sequencer.shop.machine import ClampingMeans, Machine, Magazine
from sequencer.shop.shop import (
    Condition,
    HouseRules,
    Limits,
    Material,
    OwnRule,
    Rates,
    RuleChange,
    Shop,
    Stock,
)
from sequencer.shop.tools import AnyTool, Tool

__all__ = [
    "AnyTool",
    "ClampingMeans",
    "Condition",
    "HouseRules",
    "Limits",
    "Machine",
    "Magazine",
    "Material",
    "OwnRule",
    "Rates",
    "RuleChange",
    "Shop",
    "Stock",
    "Tool",
]
