"""Methods and tools that the house rules forbid, in general or for one feature."""

from __future__ import annotations

from dataclasses import replace

from sequencer.operations.operation import Operation, Rejection
from sequencer.shop import Shop

REMEDY = "Take it out of rules, forbid in the shop file"


def forbids(shop: Shop, feature: str, method: str, tool: str) -> str:
    """Say that the house rules forbid a way, with their reason; empty if they do not.

    Parameters
    ----------
    shop
        The shop with its rules.
    feature
        Name of the feature; empty for work on the whole part.
    method
        Method.
    tool
        Name of the tool; empty if it is asked for the method alone.
    """
    for rule in shop.rules.forbid:
        if rule.feature not in (None, feature):
            continue
        if rule.method not in (None, method) or rule.tool not in (None, tool):
            continue
        what = " with ".join(word for word in (rule.method, rule.tool) if word)
        place = f" for {rule.feature}" if rule.feature else ""
        return f"The house rules forbid {what}{place}" + (f": {rule.reason}" if rule.reason else "")
    return ""


def without_forbidden(operation: Operation, shop: Shop) -> Operation:
    """Turn forbidden alternatives of an operation into rejections.

    Parameters
    ----------
    operation
        The operation.
    shop
        The shop with its rules.
    """
    kept, refused = [], []
    for way in operation.alternatives:
        sentence = forbids(shop, operation.feature, way.method, way.tool)
        if sentence:
            refused.append(Rejection(way.method, way.tool, way.clamping, sentence, REMEDY))
        else:
            kept.append(way)
    if not refused:
        return operation
    return replace(operation, alternatives=tuple(kept), rejected=(*operation.rejected, *refused))
