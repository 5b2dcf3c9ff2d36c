"""Places for labels in a column: none overlaps another, each as near to its target as possible."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise


@dataclass
class _Group:
    """Labels that touch each other and move together; grows while the column is solved."""

    shift: float
    count: int


def spread(targets: tuple[float, ...], heights: tuple[float, ...], gap: float) -> tuple[float, ...]:
    """Move the middles of labels so far that none overlaps, with the least sum of squared shifts.

    Labels keep the order of the arguments, so leader lines to targets in the same order never cross. Taking
    away the room that the labels before need, the places must only not fall: that is a regression to a
    rising line, solved by merging neighbours that would overlap (pool adjacent violators).

    Parameters
    ----------
    targets
        Wanted middle of each label, from first to last, in rising order.
    heights
        Height of each label.
    gap
        Free room between two labels.
    """
    if not targets:
        return ()
    offsets = [0.0]
    for before, after in pairwise(heights):
        offsets.append(offsets[-1] + (before + after) / 2 + gap)
    groups: list[_Group] = []
    for target, offset in zip(targets, offsets, strict=True):
        group = _Group(target - offset, 1)
        while groups and groups[-1].shift > group.shift:
            last = groups.pop()
            count = last.count + group.count
            group = _Group((last.shift * last.count + group.shift * group.count) / count, count)
        groups.append(group)
    shifts = [group.shift for group in groups for _ in range(group.count)]
    return tuple(shift + offset for shift, offset in zip(shifts, offsets, strict=True))
