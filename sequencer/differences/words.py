"""Two outlines compared: clampings, ways, tools, order, times, each difference a sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.differences.outline import Outline, OutlineStep
from sequencer.units import shown

#: Own times that differ by less than this are the same [min].
SAME_MINUTES: Final = 0.05
#: Times of single steps that are told; the rest is told as a sum.
MOST_TIMES: Final = 5


@dataclass(frozen=True)
class Difference:
    """One difference between two plans.

    Parameters
    ----------
    matter
        "clampings", "operations", "way", "clamping", "order", "tools", "time" or "sum".
    subject
        The operation, tool or number that it is about.
    sentence
        What is different.
    """

    matter: str
    subject: str
    sentence: str

    def __str__(self) -> str:
        return self.sentence


def differences(before: Outline, after: Outline) -> tuple[Difference, ...]:
    """Say what a plan does differently from another one, the weightiest first; empty if nothing.

    Parameters
    ----------
    before
        The plan that is compared with.
    after
        The plan that is told about.
    """
    return (
        *_clampings(before, after),
        *_operations(before, after),
        *_ways(before, after),
        *_order(before, after),
        *_tools(before, after),
        *_times(before, after),
        *_sums(before, after),
    )


def _clampings(before: Outline, after: Outline) -> list[Difference]:
    if before.clampings == after.clampings:
        return []
    old, new = ", ".join(before.clampings) or "none", ", ".join(after.clampings) or "none"
    return [Difference("clampings", "clampings", f"clampings {new} instead of {old}")]


def _operations(before: Outline, after: Outline) -> list[Difference]:
    """Operations that only one of the two has; more than one of a feature in one sentence."""
    found = []
    for words, one, other in (("new", after, before), ("no longer there", before, after)):
        only = [name for name in one.by_operation if name not in other.by_operation]
        by_feature: dict[str, list[str]] = {}
        for name in only:
            by_feature.setdefault(name.split("/")[0], []).append(name)
        found += [
            Difference("operations", feature, f"{words}: {', '.join(names)}")
            for feature, names in by_feature.items()
        ]
    return found


def _common(before: Outline, after: Outline) -> list[tuple[OutlineStep, OutlineStep]]:
    old = before.by_operation
    return [(old[name], step) for name, step in after.by_operation.items() if name in old]


def _ways(before: Outline, after: Outline) -> list[Difference]:
    found = []
    for old, new in _common(before, after):
        if (old.method, old.tool) != (new.method, new.tool):
            sentence = f"{new.operation}: {_way(new)} instead of {_way(old)}"
            found.append(Difference("way", new.operation, sentence))
        if old.clamping != new.clamping:
            sentence = f"{new.operation}: in {new.clamping} instead of {old.clamping}"
            found.append(Difference("clamping", new.operation, sentence))
    return found


def _way(step: OutlineStep) -> str:
    return f"{step.method} with {step.tool}" if step.tool else step.method


def _order(before: Outline, after: Outline) -> list[Difference]:
    """Fewest operations that must be moved to make one order of the other."""
    new = [name for name in after.by_operation if name in before.by_operation]
    old = [name for name in before.by_operation if name in after.by_operation]
    place = {name: at for at, name in enumerate(old)}
    stay = longest_rising([place[name] for name in new])
    kept = {old[at] for at in stay}
    found = []
    for at, name in enumerate(new):
        if name not in kept:
            now = f"after {new[at - 1]}" if at else "first of all"
            was = f"after {old[place[name] - 1]}" if place[name] else "first of all"
            found.append(Difference("order", name, f"{name}: {now}, was {was}"))
    return found


def longest_rising(values: list[int]) -> list[int]:
    """Give a longest rising subsequence; of several the one with the smallest last values.

    Source: patience sorting, C. Schensted, Longest increasing and decreasing subsequences, 1961

    Parameters
    ----------
    values
        Different whole numbers.
    """
    from bisect import bisect_left

    tails: list[int] = []
    ends: list[int] = []
    previous: list[int] = []
    for at, value in enumerate(values):
        pile = bisect_left(tails, value)
        previous.append(ends[pile - 1] if pile else -1)
        if pile == len(tails):
            tails.append(value)
            ends.append(at)
        else:
            tails[pile], ends[pile] = value, at
    found: list[int] = []
    at = ends[-1] if ends else -1
    while at >= 0:
        found.append(values[at])
        at = previous[at]
    return found[::-1]


def _tools(before: Outline, after: Outline) -> list[Difference]:
    come = [tool for tool in after.tools if tool not in before.tools]
    go = [tool for tool in before.tools if tool not in after.tools]
    found = []
    if come:
        found.append(Difference("tools", come[0], f"tools that come in: {', '.join(come)}"))
    if go:
        found.append(Difference("tools", go[0], f"tools that go: {', '.join(go)}"))
    return found


def _times(before: Outline, after: Outline) -> list[Difference]:
    moved = [
        (new.minutes - old.minutes, old, new)
        for old, new in _common(before, after)
        if abs(new.minutes - old.minutes) >= SAME_MINUTES and shown(new.minutes, 1) != shown(old.minutes, 1)
    ]
    moved.sort(key=lambda each: (-round(abs(each[0]), 6), each[2].operation))
    found = [
        Difference(
            "time",
            new.operation,
            f"{new.operation}: {shown(new.minutes, 1)} min instead of {shown(old.minutes, 1)}",
        )
        for _, old, new in moved[:MOST_TIMES]
    ]
    rest = moved[MOST_TIMES:]
    if rest:
        total = sum(change for change, _, _ in rest)
        found.append(
            Difference("time", "others", f"{len(rest)} more times differ, {_signed(total)} min in all")
        )
    return found


def _sums(before: Outline, after: Outline) -> list[Difference]:
    found = []
    for name, old, new, unit in (
        ("tool changes", before.tool_changes, after.tool_changes, ""),
        ("mode changes", before.mode_changes, after.mode_changes, ""),
        ("pockets", before.pockets, after.pockets, ""),
        ("time", before.minutes, after.minutes, " min"),
        ("cost of a piece", before.cost, after.cost, f" {after.currency}"),
    ):
        if shown(old, 1) != shown(new, 1):
            sentence = f"{name}: {shown(new, 1)}{unit} instead of {shown(old, 1)} ({_signed(new - old)})"
            found.append(Difference("sum", name, sentence))
    return found


def _signed(value: float) -> str:
    return f"+{shown(value, 1)}" if value > 0 else shown(value, 1)
