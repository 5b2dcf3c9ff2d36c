"""Least cost of finishing from a state: exact answers to smaller questions, added up.

Each question keeps only some costs and some constraints, so its answer is a lower bound:

- clamping changes alone, with operations that belong in one visit (exact over sets of done operations);
- mode changes alone;
- changes to the tools of one small group, with only the operations that need those tools. A group also
  counts coming back to its tool in another clamping; that share is taken out of the clamping question,
  because at one clamping change only one tool can stay in the spindle.

An operation that fits the present clamping (mode, tool) may be done at once in such a question: doing it
later can never cost less there. That keeps the number of sets small.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sequencer.ordering.model import Model, Way, bits
from sequencer.ordering.moves import Moves, State
from sequencer.ordering.tool_groups import NEVER, ToolGroup, group_tools

#: Most operations of one tool group, for a quick start and for a long proof.
SMALL_GROUPS: Final = 11
WIDE_GROUPS: Final = 20


def shortest(costs: Sequence[Sequence[int]]) -> list[list[int]]:
    """Cheapest cost from each to each over any others.

    Source: Floyd, Algorithm 97, Communications of the ACM 5 (1962), from memory.

    Parameters
    ----------
    costs
        Square table.
    """
    table = [list(row) for row in costs]
    for middle in range(len(table)):
        for row in table:
            for column in range(len(table)):
                row[column] = min(row[column], row[middle] + table[middle][column])
    return table


def needs_by_clamping(ways: Sequence[Way]) -> dict[int, int]:
    """Operations that must be done before one may be done in each clamping, by whatever alternative.

    Parameters
    ----------
    ways
        Its alternatives.
    """
    needs: dict[int, int] = {}
    for way in ways:
        needs[way.clamping] = needs.get(way.clamping, -1) & way.needs
    return needs


class ClampingBound:
    """Least cost of clamping changes still needed.

    Parameters
    ----------
    model
        The model.
    share
        Cost taken out of each change because the tool groups count it.
    """

    def __init__(self, model: Model, share: int) -> None:
        self._model = model
        reduced = [
            [0 if a == b else cost - share for b, cost in enumerate(row)]
            for a, row in enumerate(model.clamping_cost)
        ]
        self._cost = shortest(reduced)
        self._group = [0] * model.size
        for group in model.together:
            for op in bits(group):
                self._group[op] = group
        self._needs = [needs_by_clamping(ways) for ways in model.ways]
        self._fits = [
            sum(1 << op for op in range(model.size) if clamping in self._needs[op])
            for clamping in range(len(model.clamping_cost))
        ]
        self._grouped = sum(model.together)
        self._memo: dict[tuple[int, int], int] = {}
        self._seen: dict[tuple[int, int], int] = {}

    def of(self, done: int, clamping: int) -> int:
        """Bound for a state.

        Parameters
        ----------
        done
            Mask of the operations done.
        clamping
            The present clamping, -1 before the first.
        """
        key = (done, clamping)
        known = self._seen.get(key)
        if known is None:
            known = self._seen[key] = self._finish(done, clamping)
        return known

    def _finish(self, done: int, clamping: int) -> int:
        done = self._settle(done, clamping)
        if done == self._model.full:
            return 0
        key = (done, clamping)
        known = self._memo.get(key)
        if known is not None:
            return known
        is_open = any(group & done and group & ~done for group in self._model.together)
        best = NEVER
        for other in range(len(self._fits)):
            stays = clamping < 0 or other == clamping
            change = 0 if stays else self._cost[clamping][other]
            if change >= best or (is_open and not stays):
                continue
            if other != clamping and self._spread(done, other) != done:
                best = min(best, change + self._finish(done, other))
            for op in self._begins(done, other):
                best = min(best, change + self._finish(done | 1 << op, other))
        self._memo[key] = best
        return best

    def _begins(self, done: int, clamping: int) -> list[int]:
        """Operations that may begin a group in a clamping."""
        before = self._model.before
        return [
            op
            for op in bits(self._fits[clamping] & self._grouped & ~done)
            if not before[op] & ~done and not self._group[op] & done and not self._needs[op][clamping] & ~done
        ]

    def _settle(self, done: int, clamping: int) -> int:
        """Do everything that fits this clamping and binds nothing, and every group it can finish."""
        if clamping < 0:
            return done
        done = self._spread(done, clamping)
        tried = True
        while tried:
            tried = False
            for op in self._begins(done, clamping):
                trial = self._spread(done | 1 << op, clamping)
                if not self._group[op] & ~trial:
                    done, tried = trial, True
                    break
        return done

    def _spread(self, done: int, clamping: int) -> int:
        """Do everything that fits a clamping and binds nothing."""
        before, group, needs = self._model.before, self._group, self._needs
        todo = self._fits[clamping] & ~done
        grown = True
        while grown:
            grown = False
            left = todo
            while left:  # the members of a mask, written out because most of the time is spent here
                low = left & -left
                left ^= low
                op = low.bit_length() - 1
                if before[op] & ~done or needs[op][clamping] & ~done or (group[op] and not group[op] & done):
                    continue
                done |= low
                todo ^= low
                grown = True
        return done


class ModeBound:
    """Least cost of mode changes still needed.

    Parameters
    ----------
    model
        The model.
    """

    def __init__(self, model: Model) -> None:
        self._model = model
        self._cost = shortest(model.mode_cost)
        modes = [frozenset(way.mode for way in ways) for ways in model.ways]
        self._free = sum(1 << op for op in range(model.size) if -1 in modes[op])
        self._modes = [tuple(sorted(found - {-1})) for found in modes]
        self._fits = [
            self._free | sum(1 << op for op in range(model.size) if mode in modes[op])
            for mode in range(len(model.mode_cost))
        ]
        self._memo: dict[tuple[int, int], int] = {}
        self._seen: dict[tuple[int, int], int] = {}
        self.idle = not any(map(any, self._cost))

    def of(self, done: int, mode: int) -> int:
        """Bound for a state.

        Parameters
        ----------
        done
            Mask of the operations done.
        mode
            The mode held, -1 before the first.
        """
        key = (done, mode)
        known = self._seen.get(key)
        if known is None:
            known = self._seen[key] = self._finish(done, mode)
        return known

    def _finish(self, done: int, mode: int) -> int:
        model = self._model
        fits = self._fits[mode] if mode >= 0 else self._free
        grown = True
        while grown:
            grown = False
            for op in bits(fits & ~done):
                if not model.before[op] & ~done:
                    done |= 1 << op
                    grown = True
        if done == model.full:
            return 0
        key = (done, mode)
        known = self._memo.get(key)
        if known is not None:
            return known
        nexts = {
            other
            for op in bits(model.full & ~done)
            if not model.before[op] & ~done
            for other in self._modes[op]
        }
        best = NEVER
        for other in sorted(nexts):
            change = self._cost[mode][other] if mode >= 0 else 0
            best = min(best, change + self._finish(done, other))
        self._memo[key] = best
        return best


class Bound:
    """Adds up the answers.

    Parameters
    ----------
    model
        The model.
    moves
        Its transitions, for the least travel of each operation.
    group_size
        Most operations of one tool group.
    """

    def __init__(self, model: Model, moves: Moves, group_size: int) -> None:
        self._model = model
        self._full = model.full
        self._tool_cost, self.last_leaving = _tool_costs_with_travel(model, moves)
        self._modes = ModeBound(model)
        self.first_travel = max(moves.least_travel, default=0)
        share = self._share()
        groups = group_tools(model, self._tool_cost, share, group_size)
        self._plans = [self._plan(groups, 0)]
        if share > 0:
            self._plans.append(self._best_plan(groups, share))
        self._seen: dict[tuple[int, int, int, int], int] = {}

    @property
    def plans(self) -> int:
        """Number of ways the cost of clamping changes is shared out."""
        return len(self._plans)

    @property
    def tool_groups(self) -> list[ToolGroup]:
        """The groups of tools."""
        return self._plans[0][1]

    @property
    def modes_idle(self) -> bool:
        """Whether mode changes cost nothing."""
        return self._modes.idle

    @property
    def first_tool(self) -> int:
        """The most that the first tool, which is free, is counted with."""
        return max(self._tool_cost, default=0)

    def of_tools(self, plan: int, group: int, done: int, tool: int, clamping: int) -> int:
        """Answer of one group of tools.

        Parameters
        ----------
        plan, group
            Which one.
        done, tool, clamping
            As in `ToolGroup.of`.
        """
        return self._plans[plan][1][group].of(done, tool, clamping)

    def of_clampings(self, plan: int, done: int, clamping: int) -> int:
        """Answer of the clamping changes.

        Parameters
        ----------
        plan
            Which one.
        done, clamping
            As in `ClampingBound.of`.
        """
        return self._plans[plan][0].of(done, clamping)

    def of_modes(self, done: int, mode: int) -> int:
        """Answer of the mode changes.

        Parameters
        ----------
        done, mode
            As in `ModeBound.of`.
        """
        return self._modes.of(done, mode)

    def _plan(self, groups: Sequence[int], share: int) -> tuple[ClampingBound, list[ToolGroup]]:
        made = [ToolGroup(self._model, tools, self._tool_cost, share) for tools in groups]
        several = len(groups) > 1 or any(tools.bit_count() > 1 for tools in groups)
        useful = [group for group in made if several and group.operations and group.costs]
        return ClampingBound(self._model, share), useful

    def _best_plan(self, groups: Sequence[int], largest: int) -> tuple[ClampingBound, list[ToolGroup]]:
        """The plan with the highest bound at the start, of a few shares that are costs of tools."""
        costs = sorted({cost for cost in self._tool_cost if 0 < cost < largest} | {largest})
        shares = {costs[len(costs) * part // 4] for part in range(4)} | {largest}
        plans = [self._plan(groups, share) for share in sorted(shares)]

        def at_start(plan: tuple[ClampingBound, list[ToolGroup]]) -> int:
            return plan[0].of(0, -1) + sum(group.of(0, -1, -1) for group in plan[1])

        return max(plans, key=at_start)

    def _share(self) -> int:
        """The largest cost that can be moved from clamping changes to tools that are kept."""
        changes = [
            cost for a, row in enumerate(self._model.clamping_cost) for b, cost in enumerate(row) if a != b
        ]
        return min(min(changes, default=0), max(self._tool_cost, default=0))

    def of(self, state: State) -> int:
        """Bound for a state, NEVER if it cannot be finished.

        Parameters
        ----------
        state
            Where the search stands.
        """
        done, clamping, tool, mode, place, *_ = state
        if done == self._full:
            return 0
        key = (done, clamping, tool, mode)
        known = self._seen.get(key)
        if known is None:
            known = self._seen[key] = self._sum(*key)
        return known if place >= 0 else known - self.first_travel

    def _sum(self, done: int, clamping: int, tool: int, mode: int) -> int:
        best = 0
        for clampings, groups in self._plans:
            total = clampings.of(done, clamping)
            if total >= NEVER:
                return NEVER
            changes = 0
            for group in groups:
                if tool >= 0 and group.tools >> tool & 1:
                    changes += group.of(done, tool, clamping)
                else:
                    changes += group.of(done, -1, -1)
            best = max(best, total + changes - min(changes, self.last_leaving))
        if tool < 0:
            best -= min(best, self.first_tool)
        return best + (0 if self._modes.idle else self._modes.of(done, mode))


def _tool_costs_with_travel(model: Model, moves: Moves) -> tuple[list[int], int]:
    """Cost of a visit with each tool: the change, the way home, the way out where the least travel lacks it.

    The second value is what that counts too much: the way home of the last visit instead of the present one,
    and operations without a tool from which the way home is shorter.
    """
    costs = list(model.tool_cost)
    ways = [(op, way) for op, of_op in enumerate(model.ways) for way in of_op]
    if not model.home or any(way.place < 0 for _, way in ways):
        return costs, 0
    leaving = [0] * len(costs)
    for tool in range(len(costs)):
        own = [(model.home[way.place], moves.least_travel[op]) for op, way in ways if way.tool == tool]
        if own:
            leaving[tool] = min(home for home, _ in own)
            costs[tool] += max(0, leaving[tool] + min(home - least for home, least in own))
    longest = max(leaving)
    without = {op: model.home[way.place] for op, way in ways if way.tool < 0}
    for op, way in ways:
        if way.tool < 0:
            without[op] = min(without[op], model.home[way.place])
    shorter = sum(max(0, longest - home) for home in without.values())
    return costs, longest - min(model.home[way.place] for _, way in ways) + shorter
