"""Outcomes of trying tools become the alternatives and rejections of an operation."""

from __future__ import annotations

from collections.abc import Container, Iterable
from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.forbidden import REMEDY, forbids
from sequencer.operations.operation import Alternative, FittedClamping, Rejection
from sequencer.part import AnyFeature
from sequencer.units import shown

Outcome = Alternative | Rejection

MINUTES_PER_DAY: Final = 1440.0

#: Alternatives kept for each clamping; the best of each method always stays.
KEPT: Final = 3


def rough_clampings(context: Context, feature: AnyFeature) -> tuple[FittedClamping, ...]:
    """Clampings in which a feature can be reached, whatever the planner wants for its finish.

    Parameters
    ----------
    context
        Clampings with their reach.
    feature
        The feature.
    """
    return tuple(
        clamping for clamping in context.clampings if clamping.reach_by_feature[feature.name].reachable
    )


def out_of_reach(
    context: Context, feature: AnyFeature, method: str, finishing: bool = True
) -> tuple[Rejection, ...]:
    """One rejection for each clamping in which the feature cannot be cut.

    Parameters
    ----------
    context
        Clampings with their reach.
    feature
        The feature.
    method
        Method that is tried.
    finishing
        Whether the planner's wish for a clamping holds.
    """
    found = []
    for clamping in context.clampings:
        answer = clamping.reach_by_feature[feature.name]
        if not answer.reachable:
            found.append(Rejection(method, "", clamping.name, answer.reason))
        elif finishing and feature.clamping is not None and feature.clamping != clamping.name:
            found.append(
                Rejection(method, "", clamping.name, f"the planner asks for clamping {feature.clamping}")
            )
    return tuple(found)


def settle(
    context: Context,
    feature: AnyFeature,
    outcomes: Iterable[Outcome],
    finishing: bool,
    method_holds: bool | None = None,
) -> tuple[tuple[Alternative, ...], tuple[Rejection, ...]]:
    """Part outcomes into alternatives, quickest first, and rejections; the planner's wishes win.

    Three alternatives stay for each clamping, and the best of each method; slower tools of the same kind
    are left out without a word, since a quicker tool does the same in the same clamping.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    outcomes
        What trying each tool in each clamping gave.
    finishing
        Whether the feature's wishes for tool and method hold.
    method_holds
        Whether its wish for a method holds, if not as `finishing` says.
    """
    for_method = finishing if method_holds is None else method_holds
    alternatives: list[Alternative] = []
    rejected: list[Rejection] = []
    for outcome in outcomes:
        if isinstance(outcome, Rejection):
            rejected.append(outcome)
        elif against := forbids(context.shop, feature.name, outcome.method, outcome.tool):
            rejected.append(Rejection(outcome.method, outcome.tool, outcome.clamping, against, REMEDY))
        elif late := _too_late(context, outcome.tool):
            remedy = "Order it at once, or move the due date"
            rejected.append(Rejection(outcome.method, outcome.tool, outcome.clamping, late, remedy))
        elif against := _against_wish(feature, outcome, finishing, for_method):
            rejected.append(Rejection(outcome.method, outcome.tool, outcome.clamping, against))
        else:
            alternatives.append(outcome)
    works = {(each.method, each.tool) for each in alternatives}
    return keep_best(alternatives), merge_rejections(rejected, works)


#: Words of part files that mean the same method here.
_SAME_METHOD: Final = ({"turning", "boring"}, {"milling", "end-mill milling"})


def _same_method(one: str, other: str) -> bool:
    return one == other or any({one, other} <= words for words in _SAME_METHOD)


def _against_wish(feature: AnyFeature, alternative: Alternative, for_tool: bool, for_method: bool) -> str:
    if for_tool and feature.tool is not None and alternative.tool != feature.tool:
        return f"works, but the planner asks for tool {feature.tool}"
    wish = feature.method
    if for_method and wish is not None and not _same_method(alternative.method, wish):
        return f"works, but the planner asks for {wish}"
    return ""


def _too_late(context: Context, name: str) -> str:
    """Say that a tool which the shop does not own comes after the due date; empty if it is there in time."""
    tool, part = context.shop.tool_by_name.get(name), context.part
    if tool is None or tool.owned > 0 or part.due is None or part.order_date is None:
        return ""
    days, left = float(tool.lead_time) / MINUTES_PER_DAY, (part.due - part.order_date).days
    if days <= left:
        return ""
    return f"not in the shop; it comes {shown(days, 1)} d after the order, the part is due after {left} d"


def keep_best(alternatives: Iterable[Alternative]) -> tuple[Alternative, ...]:
    """Keep the quickest of each clamping and the best of each method, quickest first.

    Parameters
    ----------
    alternatives
        Feasible ways in file order of their tools.
    """
    kept: list[Alternative] = []
    count: dict[str, int] = {}
    methods: set[tuple[str, str]] = set()
    for alternative in sorted(alternatives, key=lambda each: each.minutes + each.lead_time):
        place = alternative.clamping
        first_of_method = (place, alternative.method) not in methods
        if count.get(place, 0) < KEPT or first_of_method:
            kept.append(alternative)
            count[place] = count.get(place, 0) + 1
            methods.add((place, alternative.method))
    return tuple(kept)


def merge_rejections(
    rejected: Iterable[Rejection], works: Container[tuple[str, str]] = ()
) -> tuple[Rejection, ...]:
    """Join rejections that say the same in several clampings; their order stays.

    Parameters
    ----------
    rejected
        Rejections in the order in which they were found.
    works
        Pairs of method and tool that work in some clamping: their rejections keep the clamping's name.
    """
    places: dict[tuple[str, str, str, str], list[str]] = {}
    for one in rejected:
        listed = places.setdefault((one.method, one.tool, one.sentence, one.remedy), [])
        if one.clamping not in listed:
            listed.append(one.clamping)
    merged: list[Rejection] = []
    for (method, tool, sentence, remedy), clampings in places.items():
        everywhere = len(clampings) > 1 and (method, tool) not in works
        names = [""] if everywhere else clampings
        merged += [Rejection(method, tool, name, sentence, remedy) for name in names]
    return tuple(merged)
