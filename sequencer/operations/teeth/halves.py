"""Both halves of a double-helical gear: one method for both in each stage, so that they come out alike."""

from __future__ import annotations

from dataclasses import replace

from sequencer.operations.operation import Alternative, Rejection
from sequencer.operations.teeth.methods import Verdicts
from sequencer.units import Minutes, shown

#: Quickest minutes of both halves together, by clamping and method.
Sums = dict[str, dict[str, Minutes]]


def one_method(found: tuple[Verdicts, ...]) -> tuple[Verdicts, ...]:
    """Keep in each clamping the method that cuts both halves in the least time; the others are set aside.

    Where no clamping lets one method cut both halves, all ways stay.

    Source: common practice, no source

    Parameters
    ----------
    found
        What came out of trying each half, or the one run of other teeth.
    """
    if len(found) != 2:
        return found
    sums = _sums(found)
    if not any(sums.values()):
        return found
    return tuple(_kept(verdicts, sums) for verdicts in found)


def _sums(found: tuple[Verdicts, ...]) -> Sums:
    lower, upper = (_quickest(verdicts) for verdicts in found)
    places = dict.fromkeys(place for place, _ in lower)
    return {
        place: {
            method: minutes + upper[place, method]
            for (where, method), minutes in lower.items()
            if where == place and (place, method) in upper
        }
        for place in places
    }


def _quickest(verdicts: Verdicts) -> dict[tuple[str, str], Minutes]:
    """Quickest way of each method in each clamping; the alternatives stand quickest first."""
    quickest: dict[tuple[str, str], Minutes] = {}
    for way in verdicts.alternatives:
        quickest.setdefault((way.clamping, way.method), way.minutes)
    return quickest


def _kept(verdicts: Verdicts, sums: Sums) -> Verdicts:
    kept: list[Alternative] = []
    aside: list[Rejection] = []
    for way in verdicts.alternatives:
        sentence = _against(way, sums.get(way.clamping, {}))
        if sentence:
            aside.append(Rejection(way.method, way.tool, way.clamping, sentence, "", way.facts))
        else:
            kept.append(way)
    return replace(verdicts, alternatives=tuple(kept), rejected=(*aside, *verdicts.rejected))


def _against(way: Alternative, both: dict[str, Minutes]) -> str:
    """Say why a way that works is set aside; empty if it is kept."""
    if not both:
        return "Works, but no method cuts both halves in this clamping; in another one a method does."
    best = min(both, key=lambda method: (both[method], method))
    if way.method == best:
        return ""
    if way.method not in both:
        return f"Works for this half only; {best} cuts both halves in this clamping, and they come out alike."
    return (
        f"Works, but slower in sum than {best}: both halves take {shown(both[way.method], 1)} min instead of "
        f"{shown(both[best], 1)} min, and both are cut by one method."
    )
