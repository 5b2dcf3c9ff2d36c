"""Visit by visit: the least changes of clamping, tool and mode, where only they and precedence count.

What is left out (positions, waits, neighbours, the zero, pins, the magazine) can only make an order dearer,
so the answer is a bound; where its order keeps all that too, it is the answer.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from sequencer.ordering.arrays import Answers, tables_of, words_of
from sequencer.ordering.kernels import (
    FULL,
    GROWN,
    MISSING,
    NEXT,
    PENDING,
    PLANS,
    SEEN,
    TOOL_GROUPS,
    Ints,
    packed,
    reslot,
)
from sequencer.ordering.leaping import leap, thin
from sequencer.ordering.model import Model, Way, bits
from sequencer.ordering.search import Plan, Space

#: States appended to between two looks at the clock.
CHUNK = 1024

#: Most states that each one is held against.
COMPARED = 4000


def relaxed(model: Model) -> Model:
    """Leave only precedence, groups of one clamping visit and changes.

    Parameters
    ----------
    model
        The model.
    """
    none = (0,) * model.size
    return replace(
        model,
        ways=tuple(tuple(replace(way, bars=0, place=-1, cost=0) for way in ways) for ways in model.ways),
        positioning=(),
        home=(),
        zero_pairs=(),
        re_references=0,
        between=((),) * model.size,
        apart=none,
        waits=(),
        pinned={},
        follower=(-1,) * model.size,
        leader=(-1,) * model.size,
        forbidden=none,
        soft=((),) * model.size,
        single_visit=0,
        capacity=-1,
    )


@dataclass(frozen=True)
class Changes:
    """What one pass gave.

    Parameters
    ----------
    plan
        The best order of the relaxed model found, None if none is cheaper than the limit.
    bound
        No order of it costs less than this.
    states
        Visits looked at.
    """

    plan: Plan | None
    bound: int
    states: int


class Leaps:
    """The compiled program on one relaxed model; keeps the answers of the bound from pass to pass.

    Parameters
    ----------
    space
        The relaxed model.
    number
        Its number, for plans.
    """

    def __init__(self, space: Space, number: int) -> None:
        self._space = space
        self._number = number
        self._tables = tables = tables_of(space.model, space.moves, space.bound)
        self._answers = Answers(space.bound, words_of(space.model))
        self._words = words = words_of(space.model)
        self._width = 3 * words + 4
        self._most = most = len(tables.ways)
        numbers = tables.numbers
        asked = (int(numbers[PLANS]) * (int(numbers[TOOL_GROUPS]) + 1) + 1) * (most + 1)
        self._missing = np.zeros(max(1 << 15, 2 * asked), np.int64)
        self._counts = np.zeros(5, np.int64)
        self._fits = _fits(space.model)

    def run(
        self, width: int, limit: int, stop: Callable[[], bool], tell: Callable[[float], None]
    ) -> Changes | None:
        """Go through all visits once; None if stopped.

        Parameters
        ----------
        width
            Most states kept of each number of visits.
        limit
            Look only for orders cheaper than this.
        stop
            Asked now and then.
        tell
            Told the part done.
        """
        self._counts[:] = 0
        layer = np.zeros((1, self._width), np.int64)
        layer[0, self._words] = packed(-1, -1, -1, -1, -1)
        lost, best = limit, limit
        plan: Plan | None = None
        history: list[Ints] = []
        while len(layer):
            grown = self._grow(layer, best, stop)
            if grown is None:
                return None
            whole = np.all(grown[:, : self._words] == self._tables.sets[self._tables.numbers[FULL]], axis=1)
            for at in np.flatnonzero(whole):
                if grown[at, -3] < best:
                    best = int(grown[at, -3])
                    plan = Plan(best, self._number, self._steps(history, int(grown[at, -1])))
            layer, cut = self._kept(grown[~whole & (grown[:, -2] < best)], width)
            lost = min(lost, cut)
            history.append(layer[:, -1].copy())
            if len(layer):
                tell(sum(map(int.bit_count, layer[0, : self._words].tolist())) / self._space.model.size)
        return Changes(plan, min(lost, best), int(self._counts[SEEN]))

    def _kept(self, layer: Ints, width: int) -> tuple[Ints, int]:
        """The states that are not needless, up to the width, and the lowest total of the others."""
        if len(layer) < 2:
            return layer, 1 << 62
        done = np.bitwise_count(layer[:, : self._words]).sum(axis=1).astype(np.int64)
        ranked = np.lexsort((-done, layer[:, -3], layer[:, self._words]))
        kept = np.zeros(len(layer), np.int64)
        count = thin(self._tables, layer, ranked, kept, self._words, COMPARED)
        layer = layer[np.sort(kept[:count])]
        if count <= width:
            return layer, 1 << 62
        ranked = np.lexsort((layer[:, -3], layer[:, -2]))
        return layer[np.sort(ranked[:width])], int(layer[ranked[width], -2])

    def _grow(self, layer: Ints, limit: int, stop: Callable[[], bool]) -> Ints | None:
        """All states one visit further; None if stopped."""
        counts, most = self._counts, self._most
        room = max(4 * most, 4 * len(layer), 1024)
        grown, slots = np.zeros((room, self._width), np.int64), _index(room)
        counts[GROWN] = 0
        todo = np.arange(len(layer), dtype=np.int64)
        pending = np.zeros(len(layer), np.int64)
        while len(todo):
            counts[NEXT] = counts[PENDING] = 0
            while counts[NEXT] < len(todo):
                if stop():
                    return None
                if counts[GROWN] + most > len(grown):
                    larger = np.zeros((2 * len(grown), self._width), np.int64)
                    larger[: len(grown)] = grown
                    grown, slots = larger, _index(len(larger))
                    reslot(grown, slots, int(counts[GROWN]), self._words + 1)
                self._answers.make_room(len(self._missing))
                last = min(int(counts[NEXT]) + CHUNK, len(todo))
                table, missing = self._answers.table, self._missing
                leap(
                    self._tables, self._fits, layer, todo, grown, slots, table, missing,
                    pending, counts, limit, last,
                )  # fmt: skip
                self._answers.answer(missing[: counts[MISSING]])
                counts[MISSING] = 0
            todo = pending[: counts[PENDING]].copy()
        return grown[: counts[GROWN]]

    def _steps(self, history: list[Ints], link: int) -> tuple[tuple[int, int], ...]:
        """Operations and alternatives along the visits that lead to a state."""
        model, done = self._space.model, 0
        ways = [way for of_op in model.ways for way in of_op]
        places = [op for op, of_op in enumerate(model.ways) for _ in of_op]
        visits = []
        for links in (*reversed(history), None):
            at, number = divmod(link, 1 << 24)
            visits.append(number)
            link = int(links[at]) if links is not None else 0
        tool = mode = -1
        taken: list[Way] = []
        for number in reversed(visits):
            way = ways[number]
            tool = way.tool if way.tool >= 0 else tool
            mode = way.mode if way.mode >= 0 else mode
            found = _visit(model, done, places[number], way.clamping, tool, mode)
            for op, chosen in found:
                done |= 1 << op
                taken.append(chosen)
        return tuple((way.operation, way.index) for way in taken)


def _visit(model: Model, done: int, first: int, clamping: int, tool: int, mode: int) -> list[tuple[int, Way]]:
    """What a tool in its clamping does, in order: `first` if it begins a group, then all that fits."""
    groups = {op: group for group in model.together for op in bits(group)}
    if groups.get(first, 0) and not groups[first] & done:
        way = _fitting(model, first, done, clamping, tool, mode)
        begun = [] if way is None else [(first, way)]
    else:
        begun = []
    found = _spread(model, done, begun, groups, clamping, tool, mode)
    tried = True
    while tried:
        tried = False
        reached = done | sum(1 << op for op, _ in found)
        for op in bits(sum(model.together) & ~reached):
            way = _fitting(model, op, reached, clamping, tool, mode)
            if way is None or groups[op] & reached:
                continue
            trial = _spread(model, done, [*found, (op, way)], groups, clamping, tool, mode)
            if not groups[op] & ~(done | sum(1 << each for each, _ in trial)):
                found, tried = trial, True
                break
    return found


def _spread(
    model: Model,
    done: int,
    begun: list[tuple[int, Way]],
    groups: dict[int, int],
    clamping: int,
    tool: int,
    mode: int,
) -> list[tuple[int, Way]]:
    found = list(begun)
    done |= sum(1 << op for op, _ in begun)
    grown = True
    while grown:
        grown = False
        for op in bits(model.full & ~done):
            if op in groups and not groups[op] & done:
                continue
            way = _fitting(model, op, done, clamping, tool, mode)
            if way is not None:
                found.append((op, way))
                done |= 1 << op
                grown = True
    return found


def _fitting(model: Model, op: int, done: int, clamping: int, tool: int, mode: int) -> Way | None:
    """Alternative by which an operation can be done on the machine as it stands."""
    if model.before[op] & ~done:
        return None
    for way in model.ways[op]:
        fits = way.clamping == clamping and way.tool in (-1, tool) and way.mode in (-1, mode)
        if fits and not way.needs & ~done:
            return way
    return None


def _index(room: int) -> Ints:
    return np.full(1 << (2 * room - 1).bit_length(), -1, np.int64)


def _fits(model: Model) -> Ints:
    """Operations that fit each clamping, tool and mode, by index from -1 on; the lists end with -1."""
    clampings, tools, modes = len(model.clamping_cost), len(model.tool_cost), len(model.mode_cost)
    lists = {
        (clamping, tool, mode): [
            op
            for op, ways in enumerate(model.ways)
            if any(
                way.clamping == clamping and way.tool in (-1, tool) and way.mode in (-1, mode) for way in ways
            )
        ]
        for clamping, tool, mode in product(range(clampings), range(-1, tools), range(-1, modes))
    }
    longest = max(map(len, lists.values()))
    fits = np.full((clampings, tools + 1, modes + 1, longest + 1), -1, np.int64)
    for (clamping, tool, mode), ops in lists.items():
        fits[clamping, tool + 1, mode + 1, : len(ops)] = ops
    return fits
