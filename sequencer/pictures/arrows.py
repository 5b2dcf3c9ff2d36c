"""Arrows of the dependency diagram: each dependency between two steps, less what others imply."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.precedence import Dependency, Relation, Strength
from sequencer.sequencing import Sequence, Step

_FRAME = frozenset({Relation.OPENS, Relation.CLOSES})
_ORDERING = _FRAME | {Relation.BEFORE, Relation.IMMEDIATELY_AFTER, Relation.MINIMUM_WAIT}


@dataclass(frozen=True)
class Arrow:
    """One arrow between two steps.

    Parameters
    ----------
    first, second
        Places of the steps in the sequence, from 0.
    rules
        Rules that demand it, in order of first mention.
    must
        True if one of them is a must.
    frame
        True if it only opens or closes a clamping.
    broken
        True if the order breaks it: the arrow points against the order.
    """

    first: int
    second: int
    rules: tuple[str, ...]
    must: bool
    frame: bool = False
    broken: bool = False


def make_arrows(sequence: Sequence, dependencies: tuple[Dependency, ...]) -> tuple[Arrow, ...]:
    """Give the arrows that remain when everything that follows from others is left out.

    Musts are reduced among themselves, so a must never hides behind a should; only the arrows that open
    and close a clamping may, as they go to every step of it.

    Parameters
    ----------
    sequence
        The order.
    dependencies
        All dependencies of the plan.
    """
    places: dict[str, list[int]] = {}
    for place, step in enumerate(sequence.steps):
        places.setdefault(step.operation.name, []).append(place)
    found: dict[tuple[int, int], list[Dependency]] = {}
    for dependency in dependencies:
        if dependency.relation in _ORDERING:
            for pair in _pairs(dependency, sequence.steps, places):
                found.setdefault(pair, []).append(dependency)
    arrows = [
        Arrow(
            first,
            second,
            tuple(dict.fromkeys(each.rule for each in listed if each.rule)),
            any(each.strength is Strength.MUST for each in listed),
            frame=all(each.relation in _FRAME for each in listed),
            broken=first > second,
        )
        for (first, second), listed in sorted(found.items())
    ]
    return _reduced(len(sequence.steps), arrows)


def longest_chain(sequence: Sequence, arrows: tuple[Arrow, ...]) -> tuple[int, ...]:
    """Give the places of the steps on the chain of arrows that takes the most minutes.

    Source: longest path in a graph without loops, in the order of the steps (critical path)

    Parameters
    ----------
    sequence
        The order.
    arrows
        Its arrows.
    """
    minutes = [step.alternative.minutes + step.alternative.lead_time for step in sequence.steps]
    best, before = list(minutes), [-1] * len(minutes)
    for arrow in sorted(arrows, key=lambda each: (each.first, each.second)):
        if not arrow.broken and best[arrow.first] + minutes[arrow.second] > best[arrow.second] + 1e-9:
            best[arrow.second] = best[arrow.first] + minutes[arrow.second]
            before[arrow.second] = arrow.first
    if not best:
        return ()
    place = max(range(len(best)), key=lambda each: (round(best[each], 6), -each))
    chain = []
    while place >= 0:
        chain.append(place)
        place = before[place]
    return tuple(reversed(chain))


def _pairs(
    dependency: Dependency, steps: tuple[Step, ...], places: dict[str, list[int]]
) -> list[tuple[int, int]]:
    """Places of first and second step; a step that opens each visit counts for its own visit."""
    firsts, seconds = places.get(dependency.first, []), places.get(dependency.second, [])
    if dependency.relation is Relation.OPENS:
        inside = seconds if dependency.second else list(range(len(steps)))
        return [
            (before[-1], second)
            for second in inside
            if second not in firsts
            and steps[second].alternative.clamping == dependency.clamping
            and (before := [first for first in firsts if first < second])
        ]
    if dependency.relation is Relation.CLOSES:
        inside = seconds if dependency.second else list(range(len(steps)))
        return [
            (second, first)
            for first in firsts
            for second in inside
            if second < first and steps[second].alternative.clamping == dependency.clamping
        ]
    return [(_nearest(firsts, second), second) for second in seconds if firsts]


def _nearest(firsts: list[int], second: int) -> int:
    """The last one before, or the first one if all come after."""
    before = [first for first in firsts if first < second]
    return before[-1] if before else firsts[0]


def _reduced(count: int, arrows: list[Arrow]) -> tuple[Arrow, ...]:
    """Leave out each arrow that a longer path of arrows implies (transitive reduction)."""
    forward = [arrow for arrow in arrows if not arrow.broken]
    bare = _without_detours(count, forward)
    musts = _without_detours(count, [arrow for arrow in forward if arrow.must and not arrow.frame])
    kept = {(arrow.first, arrow.second) for arrow in (*bare, *musts)}
    return tuple(arrow for arrow in arrows if arrow.broken or (arrow.first, arrow.second) in kept)


def _without_detours(count: int, arrows: list[Arrow]) -> list[Arrow]:
    after: list[list[int]] = [[] for _ in range(count)]
    for arrow in arrows:
        after[arrow.first].append(arrow.second)
    reach = [0] * count
    for place in range(count - 1, -1, -1):
        for second in after[place]:
            reach[place] |= reach[second] | (1 << second)
    return [
        arrow
        for arrow in arrows
        if not any(reach[other] >> arrow.second & 1 for other in after[arrow.first] if other != arrow.second)
    ]
