"""Least cost of changes to the tools of one small group, and how tools are put into groups."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import islice
from typing import Final

from sequencer.ordering.model import Model, bits

#: Bound of a state that can never be finished.
NEVER: Final = 1 << 200

#: Operations of one tool beyond this number are left out of its group.
MOST_IN_GROUP: Final = 60


class ToolGroup:
    """Least cost of changes to the tools of one group.

    Parameters
    ----------
    model
        The model.
    tools
        Mask of the tools.
    cost
        Cost of changing to each tool.
    share
        Cost of keeping a tool over a clamping change.
    """

    def __init__(self, model: Model, tools: int, cost: Sequence[int], share: int) -> None:
        self.tools = tools
        self.costs = any(cost[tool] for tool in bits(tools))
        needing = (
            1 << op
            for op, ways in enumerate(model.ways)
            if all(way.tool >= 0 and tools >> way.tool & 1 for way in ways)
        )
        self.operations = members = sum(islice(needing, MOST_IN_GROUP))
        self._cost = cost
        self._stay = [min(share, one) for one in cost]
        self._clampings = share > 0
        self._before = {op: model.before[op] & members for op in bits(members)}
        self._keys = {
            op: tuple(sorted({(way.tool, way.clamping if share else -1) for way in model.ways[op]}))
            for op in bits(members)
        }
        self._fits: dict[tuple[int, int], int] = {}
        for op, keys in self._keys.items():
            for key in keys:
                self._fits[key] = self._fits.get(key, 0) | 1 << op
        self._memo: dict[tuple[int, int, int], int] = {}

    def of(self, done: int, tool: int, clamping: int) -> int:
        """Bound for a state.

        Parameters
        ----------
        done
            Mask of the operations done.
        tool
            The tool in the spindle, -1 if it is not of this group.
        clamping
            The present clamping; -1 if the tool is not of this group or none was needed yet.
        """
        key = (done & self.operations, tool, clamping if self._clampings else -1)
        known = self._memo.get(key)
        if known is None:
            known = self._memo[key] = self._finish(*key)
        return known

    def _finish(self, done: int, tool: int, clamping: int) -> int:
        """Settle what fits the present tool and clamping, then try every other visit."""
        members, before = self.operations, self._before
        fits = self._fits.get((tool, clamping), 0)
        grown = True
        while grown:
            grown = False
            for op in bits(fits & ~done):
                if not before[op] & ~done:
                    done |= 1 << op
                    grown = True
        if done == members:
            return 0
        nexts: set[tuple[int, int]] = set()
        for op in bits(members & ~done):
            if not before[op] & ~done:
                nexts.update(self._keys[op])
        best = NEVER
        for other, place in sorted(nexts):
            change = self._stay[other] if other == tool else self._cost[other]
            if change < best:
                best = min(best, change + self.of(done, other, place))
        return best


def group_tools(model: Model, cost: Sequence[int], share: int, size: int) -> list[int]:
    """Join tools into small groups so that the sum of the bounds of the groups is large.

    Parameters
    ----------
    model
        The model.
    cost
        Cost of changing to each tool.
    share
        Cost of keeping a tool over a clamping change.
    size
        Most operations of one group.
    """
    needs = [sum({1 << way.tool for way in ways if way.tool >= 0}) for ways in model.ways]
    groups = [1 << tool for tool in range(len(cost)) if any(need >> tool & 1 for need in needs)]
    groups = _join_alternatives(groups, needs, size)
    values = {tools: ToolGroup(model, tools, cost, share) for tools in groups}
    roots = {tools: group.of(0, -1, -1) for tools, group in values.items()}
    gains: dict[tuple[int, int], int] = {}
    while True:
        best, pair = 0, (0, 0)
        for number, first in enumerate(groups):
            for second in groups[number + 1 :]:
                gain = gains.get((first, second))
                if gain is None:
                    gain = gains[first, second] = _gain(
                        model, values, roots, first, second, cost, share, size
                    )
                if gain > best:
                    best, pair = gain, (first, second)
        if best == 0:
            return groups
        joined = pair[0] | pair[1]
        groups = [tools for tools in groups if tools not in pair] + [joined]


def _join_alternatives(groups: list[int], needs: Sequence[int], largest: int) -> list[int]:
    """Join tools that are alternatives of one operation, while the group stays small."""
    for need in sorted(set(needs), key=lambda mask: (mask.bit_count(), mask)):
        touched = [tools for tools in groups if tools & need]
        joined = sum(touched)
        size = sum(1 for other in needs if other and not other & ~joined)
        if len(touched) > 1 and size <= largest:
            groups = [tools for tools in groups if not tools & need] + [joined]
    return groups


def _gain(
    model: Model,
    values: dict[int, ToolGroup],
    roots: dict[int, int],
    first: int,
    second: int,
    cost: Sequence[int],
    share: int,
    size: int,
) -> int:
    """How much joining two groups adds to the bound at the start."""
    one, two = values[first].operations, values[second].operations
    if (one | two).bit_count() > size or not _interlock(model, one, two):
        return 0
    joined = ToolGroup(model, first | second, cost, share)
    values[first | second] = joined
    roots[first | second] = joined.of(0, -1, -1)
    return roots[first | second] - roots[first] - roots[second]


def _interlock(model: Model, one: int, two: int) -> bool:
    """Whether some of the first come after the second and some the other way round."""
    return any(model.before[op] & two for op in bits(one)) and any(model.before[op] & one for op in bits(two))
