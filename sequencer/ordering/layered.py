"""Layer by layer over the sets of operations done: a beam while layers are cut, a proof when none is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sequencer.ordering.arrays import Answers, tables_of, words_of
from sequencer.ordering.expansion import expand
from sequencer.ordering.kernels import (
    GROWN,
    MISSING,
    NEXT,
    PENDING,
    PLAIN,
    PLANS,
    SEEN,
    TOOL_GROUPS,
    WAIT_COUNT,
    WAITS,
    Ints,
    packed,
    reslot,
)
from sequencer.ordering.search import Plan, Space

#: States appended to between two looks at the clock.
CHUNK = 4096


@dataclass(frozen=True)
class Outcome:
    """What one pass gave.

    Parameters
    ----------
    plan
        The best order found, None if none is cheaper than the limit.
    bound
        No order costs less than this, as far as this pass shows.
    states
        Alternatives looked at.
    """

    plan: Plan | None
    bound: int
    states: int


class Layers:
    """The compiled program on one model; keeps the answers of the bound from pass to pass.

    Parameters
    ----------
    space
        The model.
    number
        Its number, for plans.
    """

    def __init__(self, space: Space, number: int) -> None:
        self._space = space
        self._number = number
        self._tables = tables = tables_of(space.model, space.moves, space.bound)
        self._answers = Answers(space.bound, words_of(space.model))
        numbers, ways = tables.numbers, len(tables.ways)
        rest = 0 if numbers[PLAIN] else WAITS + int(numbers[WAIT_COUNT])
        words = words_of(space.model)
        self._key = words + 1 + rest
        self._width = self._key + 2 * words + 3
        self._most = ways
        asked = int(numbers[PLANS]) * (int(numbers[TOOL_GROUPS]) + 3 * ways) + ways
        self._missing = np.zeros(max(1 << 15, 2 * asked), np.int64)
        self._counts = np.zeros(5, np.int64)

    def run(self, width: int, limit: int, stop: Callable[[], bool], tell: Callable[[float], None]) -> Outcome:
        """Go through all layers once.

        Parameters
        ----------
        width
            Most states kept of each layer.
        limit
            Look only for orders cheaper than this.
        stop
            Asked now and then.
        tell
            Told the part done.
        """
        least = self._space.moves.least_total
        size = self._space.model.size
        self._counts[:] = 0
        layer, dropped = self._start(), limit - least
        history: list[Ints] = []
        for depth in range(size):
            tell(depth / size)
            grown = self._grow(layer, width, limit - least, stop)
            if grown is None:
                return Outcome(None, self._space.root, int(self._counts[SEEN]))
            layer, lost = grown
            dropped = min(dropped, lost)
            history.append(layer[:, -1].copy())
            if not len(layer):
                return Outcome(None, dropped + least, int(self._counts[SEEN]))
        best = int(np.argmin(layer[:, -3]))
        cost = int(layer[best, -3])
        plan = Plan(cost + least, self._number, self._steps(history, best))
        return Outcome(plan, min(dropped, cost) + least, int(self._counts[SEEN]))

    def _steps(self, history: list[Ints], at: int) -> tuple[tuple[int, int], ...]:
        ways = [way for of_op in self._space.model.ways for way in of_op]
        steps = []
        for links in reversed(history):
            at, number = divmod(int(links[at]), 1 << 24)
            steps.append((ways[number].operation, ways[number].index))
        return tuple(reversed(steps))

    def _start(self) -> Ints:
        layer = self._empty(1)
        layer[0, words_of(self._space.model)] = packed(-1, -1, -1, -1, -1)
        return layer

    def _empty(self, size: int) -> Ints:
        return np.zeros((size, self._width), np.int64)

    def _grow(self, layer: Ints, width: int, limit: int, stop: Callable[[], bool]) -> tuple[Ints, int] | None:
        """Make the next layer; gives it and the least total of a state that was dropped, None if stopped."""
        counts, lost = self._counts, limit
        count, most = len(layer), self._most
        room = max(4 * most, 4 * count, 1024)
        largest = max(4 * width, 4 * most)
        grown, slots = self._empty(room), _index(room)
        counts[GROWN] = 0
        todo = np.arange(count, dtype=np.int64)
        pending = np.zeros(count, np.int64)
        while len(todo):
            counts[NEXT] = counts[PENDING] = 0
            while counts[NEXT] < len(todo):
                if stop():
                    return None
                if counts[GROWN] + most > len(grown):
                    grown, slots, cut = self._enlarge(grown, width, largest)
                    lost = min(lost, cut)
                self._answers.make_room(len(self._missing))
                last = min(int(counts[NEXT]) + CHUNK, len(todo))
                table, missing = self._answers.table, self._missing
                expand(self._tables, layer, todo, grown, slots, table, missing, pending, counts, limit, last)
                self._answers.answer(missing[: counts[MISSING]])
                counts[MISSING] = 0
            todo = pending[: counts[PENDING]].copy()
        kept, cut = _best(grown, int(counts[GROWN]), width)
        return grown[kept], min(lost, cut)

    def _enlarge(self, grown: Ints, width: int, largest: int) -> tuple[Ints, Ints, int]:
        """Double the room of a layer or, at its largest, drop the states with the highest totals."""
        count, cut = int(self._counts[GROWN]), 1 << 62
        room = 2 * len(grown)
        if room > 2 * largest:
            kept, cut = _best(grown, count, width)
            grown = grown[kept]
            count, room = len(kept), len(grown) + 3 * max(width, self._most)
        larger = self._empty(room)
        larger[:count] = grown[:count]
        slots = _index(room)
        reslot(larger, slots, count, self._key)
        self._counts[GROWN] = count
        return larger, slots, cut


def _index(room: int) -> Ints:
    return np.full(1 << (2 * room - 1).bit_length(), -1, np.int64)


def _best(layer: Ints, count: int, width: int) -> tuple[Ints, int]:
    """Places of the states with the lowest totals, and the lowest total of the others."""
    if count <= width:
        return np.arange(count), 1 << 62
    ranked = np.argpartition(layer[:count, -2], width)
    return np.sort(ranked[:width]), int(layer[ranked[width:], -2].min())
