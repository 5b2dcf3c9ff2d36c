"""Outcomes of trying tools become the alternatives and rejections of an operation."""

from __future__ import annotations

from collections.abc import Container, Iterable
from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.operation import Alternative, FittedClamping, Rejection
from sequencer.part import AnyFeature

Outcome = Alternative | Rejection

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
    feature: AnyFeature, outcomes: Iterable[Outcome], finishing: bool
) -> tuple[tuple[Alternative, ...], tuple[Rejection, ...]]:
    """Part outcomes into alternatives, quickest first, and rejections; the planner's wishes win.

    Three alternatives stay for each clamping, and the best of each method; slower tools of the same kind
    are left out without a word, since a quicker tool does the same in the same clamping.

    Parameters
    ----------
    feature
        The feature.
    outcomes
        What trying each tool in each clamping gave.
    finishing
        Whether the feature's wishes for tool and method hold.
    """
    alternatives: list[Alternative] = []
    rejected: list[Rejection] = []
    for outcome in outcomes:
        if isinstance(outcome, Rejection):
            rejected.append(outcome)
        elif finishing and (against := _against_wish(feature, outcome)):
            rejected.append(Rejection(outcome.method, outcome.tool, outcome.clamping, against))
        else:
            alternatives.append(outcome)
    works = {(each.method, each.tool) for each in alternatives}
    return keep_best(alternatives), merge_rejections(rejected, works)


def _against_wish(feature: AnyFeature, alternative: Alternative) -> str:
    if feature.tool is not None and alternative.tool != feature.tool:
        return f"works, but the planner asks for tool {feature.tool}"
    if feature.method is not None and alternative.method != feature.method:
        return f"works, but the planner asks for {feature.method}"
    return ""


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
    for alternative in sorted(alternatives, key=lambda each: each.minutes):
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
