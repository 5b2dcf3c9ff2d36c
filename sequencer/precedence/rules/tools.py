"""Tools: neighbours with the same tool, and tools loaded by hand."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.precedence.context import RuleContext
from sequencer.precedence.demands import Outcome, note
from sequencer.precedence.dependency import Strength
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.shop import AnyTool
from sequencer.shop.pocket_limits import excesses


def same_tool_neighbours(context: RuleContext) -> Iterator[Outcome]:
    """R48: operations with the same tool stand side by side; the objective sees to it, so no arrow is given.

    Parameters
    ----------
    context
        The operations.
    """
    users: dict[str, list[str]] = {}
    for op in context.all:
        tools = {each.tool for each in op.alternatives if each.tool}
        if len(tools) == 1:
            users.setdefault(tools.pop(), []).append(op.name)
    several = {tool: names for tool, names in users.items() if len(names) > 1}
    if several:
        most = max(several, key=lambda tool: len(several[tool]))
        yield note(
            most,
            f"serves {len(several[most])} operations; tools that serve more than one: {len(several)}",
            "kept by the objective, which lowers the number of tool changes",
            "Raise the time of a tool change in the shop file to weigh it more",
        )


def loaded_by_hand(context: RuleContext) -> Iterator[Outcome]:
    """R49: operations with tools loaded by hand are grouped at the start of a clamping or at a stop.

    Parameters
    ----------
    context
        The operations.
    """
    for op in context.all:
        tools = [context.shop.tool_by_name.get(each.tool) for each in op.alternatives if each.tool]
        known = [tool for tool in tools if tool is not None]
        if known and all(_beyond(context, tool) for tool in known):
            reasons = "; ".join(dict.fromkeys(f"{tool.name} {_beyond(context, tool)}" for tool in known))
            yield note(
                op.name,
                f"its tool is loaded by hand: {reasons}",
                "an operator must be there",
                "Plan it at the start of the clamping or at a stop, with other tools loaded by hand",
            )


def _beyond(context: RuleContext, tool: AnyTool) -> str:
    """Why a tool does not go into the magazine; empty if it does."""
    magazine = context.shop.magazine
    if tool.by_hand:
        return "is marked so in the shop file"
    return "; ".join(excesses(tool, magazine))


RULES = (
    Rule(
        "R48",
        "Same tool side by side",
        Strength.SHOULD,
        "Tool changes cost time; broken only for rules that bind more.",
        "Intelligent methodology for optimising machining operation sequence, ant system (paper)",
        same_tool_neighbours,
        Kept.OBJECTIVE,
    ),
    Rule(
        "R49",
        "Tools loaded by hand together",
        Strength.SHOULD,
        "An operator must be present.",
        PRACTICE,
        loaded_by_hand,
        Kept.CHECK,
    ),
)
