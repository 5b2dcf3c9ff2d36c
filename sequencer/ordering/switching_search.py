"""Compiled search for the order of parts that loads the fewest tools: annealing, a bound, a proof."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
import numpy.typing as npt

from sequencer.ordering.kernels import Ints, compiled
from sequencer.ordering.switching_halves import MOST_PARTS, MOST_TOOLS
from sequencer.ordering.switching_proof import Proof, by_halves

Reals = npt.NDArray[np.float64]

#: Temperatures of annealing, in loads.
HOT, COLD = 1.2, 0.12

#: Fewest parts whose loads are a bound of all, and how long their order is sought before it is proven.
FEWEST_PARTS, ROUNDS_OF_SOME, EXCHANGES_OF_SOME = 10, 2, 20_000

#: Steps of the ascent of the path bound.
ASCENT = 400

#: Places of `state`: random number, best loads, exchanges done.
SEED, BEST, DONE = range(3)


@compiled
def kept_tools(
    tools: Ints, counts: Ints, places: int, order: Ints, length: int, last: Ints, free: Ints
) -> int:
    """Loads of an order: needs less the most tools that can be kept, earliest next need first.

    A tool is kept from one need to the next if every part between has a place free. Taking those that end
    first is best: one that is taken instead ends no earlier, so it fills every later place as well.
    """
    last[:] = -1
    loads, full = 0, -1
    for at in range(length):
        part = order[at]
        free[at] = places - counts[part]
        loads += counts[part]
        for number in range(counts[part]):
            tool = tools[part, number]
            since = last[tool]
            last[tool] = at
            if since < 0 or full > since:
                continue
            loads -= 1
            for between in range(since + 1, at):
                free[between] -= 1
                if free[between] == 0:
                    full = max(full, between)
        if free[at] == 0:
            full = at
    return loads


@compiled
def drawn(state: Ints, end: int) -> int:
    """Draw a number below `end` (xorshift, Marsaglia, Journal of Statistical Software 8(14), 2003)."""
    value = state[SEED]
    value ^= value << 13
    value ^= (value >> 7) & 0x1FFFFFFFFFFFFFF
    value ^= value << 17
    state[SEED] = value
    return int((value >> 11) & 0xFFFFFFFFFFFF) % end


@compiled
def exchange(state: Ints, order: Ints, trial: Ints) -> None:
    """Write a neighbour of an order: two parts swapped, a run turned round, or a run moved elsewhere."""
    size = len(order)
    trial[:] = order
    kind = drawn(state, 4)
    one, two = drawn(state, size), drawn(state, size)
    if one > two:
        one, two = two, one
    if kind == 0:
        trial[one], trial[two] = order[two], order[one]
    elif kind == 1:
        for step in range(two - one + 1):
            trial[one + step] = order[two - step]
    else:
        length = min(1 + drawn(state, 3), size - 1)
        start = drawn(state, size - length + 1)
        goal = drawn(state, size - length + 1)
        rest = 0
        for at in range(size - length + 1):
            if at == goal:
                for step in range(length):
                    trial[at + step] = order[start + step]
            if at < size - length:
                if rest == start:
                    rest += length
                trial[at if at < goal else at + length] = order[rest]
                rest += 1


@compiled
def anneal(
    tools: Ints,
    counts: Ints,
    places: int,
    order: Ints,
    best: Ints,
    state: Ints,
    last: Ints,
    free: Ints,
    hot: float,
    cold: float,
    total: int,
    steps: int,
    target: int,
) -> None:
    """Try exchanges; keep the better ones always and worse ones seldom, ever more seldom."""
    size = len(order)
    trial = np.empty(size, np.int64)
    current = kept_tools(tools, counts, places, order, size, last, free)
    for _ in range(steps):
        if state[BEST] <= target or state[DONE] >= total:
            return
        heat = hot * (cold / hot) ** (state[DONE] / total)
        state[DONE] += 1
        exchange(state, order, trial)
        loads = kept_tools(tools, counts, places, trial, size, last, free)
        worse = loads - current
        if worse <= 0 or drawn(state, 1 << 30) < np.exp(-worse / heat) * (1 << 30):
            order[:] = trial
            current = loads
            if loads < state[BEST]:
                state[BEST] = loads
                best[:] = trial


@compiled
def ascend(apart: Reals, steps: int, goal: float) -> float:
    """Bound on the shortest path through all: the least tree, with prices on parts of too many or few arcs.

    Source: Held and Karp, Operations Research 18 (1970), from memory; a free stop makes the path a tour.
    """
    size = len(apart)
    price, near = np.zeros(size), np.zeros(size)
    parent, degree = np.zeros(size, np.int64), np.zeros(size, np.int64)
    best = 0.0
    for step in range(steps):
        degree[:] = 0
        near[:] = np.inf
        total, joined = 0.0, 0
        near[0] = -np.inf
        for _ in range(size - 1):
            nearest = -1
            for part in range(size):
                if near[part] == -np.inf:
                    continue
                way = apart[joined, part] + price[joined] + price[part]
                if way < near[part]:
                    near[part], parent[part] = way, joined
                if nearest < 0 or near[part] < near[nearest]:
                    nearest = part
            total += near[nearest]
            degree[nearest] += 1
            degree[parent[nearest]] += 1
            near[nearest] = -np.inf
            joined = nearest
        low, second = np.inf, np.inf
        for part in range(size):
            if price[part] < low:
                low, second = price[part], low
            elif price[part] < second:
                second = price[part]
        # two arcs of no cost lead to the stop from both ends of the path
        bound = total + low + second - 2 * price.sum()
        best = max(best, bound)
        slope = 0.0
        for part in range(size):
            slope += (degree[part] - 2) ** 2
        length = (goal - bound) * 0.9 ** (step / 20) / max(slope, 1.0)
        for part in range(size):
            price[part] += length * (degree[part] - 2)
    return best


class Search:
    """The parts as arrays.

    Parameters
    ----------
    needs
        Tools of each part.
    places
        Places of the magazine.
    """

    def __init__(self, needs: Sequence[frozenset[int]], places: int) -> None:
        names = sorted({tool for tools in needs for tool in tools})
        number = {tool: at for at, tool in enumerate(names)}
        size, most = len(needs), max((len(tools) for tools in needs), default=0)
        self._needs = tuple(needs)
        self._size, self._places, self._wanted = size, places, len(names)
        self._tools = np.zeros((size, max(most, 1)), np.int64)
        for part, tools in enumerate(needs):
            self._tools[part, : len(tools)] = sorted(number[tool] for tool in tools)
        self._counts = np.array([len(tools) for tools in needs], np.int64)
        self._apart = np.array([[max(0, len(a | b) - places) for b in needs] for a in needs], np.int64)
        self._last, self._free = np.zeros(max(len(names), 1), np.int64), np.zeros(size, np.int64)

    def root_bound(self) -> int:
        """Tell what any order loads: each tool once; the first filling and the shortest path through all."""
        filled = min(self._places, self._wanted)
        goal = float(self._apart.sum(axis=1).mean() + self._wanted)
        path = ascend(self._apart.astype(np.float64), ASCENT, goal)
        return max(self._wanted, filled + int(np.ceil(path - 1e-6)))

    def improve(
        self,
        target: int,
        rounds: int,
        exchanges: int,
        chunk: int,
        ended: Callable[[], bool],
        start: Sequence[int] = (),
    ) -> tuple[int, ...]:
        """Anneal in rounds, each from the best order so far, until the target is met or no round is left.

        Parameters
        ----------
        target
            Loads that are good enough.
        rounds, exchanges
            How often, and exchanges tried in each.
        chunk
            Exchanges between two looks at the clock.
        ended
            Whether to end now.
        start
            The best order known; the one in which the parts are given if left out.
        """
        order = np.array(start or range(self._size), np.int64)
        best = order.copy()
        state = np.zeros(3, np.int64)
        state[SEED] = 88172645463325252 if not start else 362436069362436069
        state[BEST] = self._loads(order)
        for number in range(rounds):
            if number % 2:
                order[:] = best
            state[DONE] = 0
            hot = HOT if number % 2 == 0 else HOT / 3
            while state[DONE] < exchanges and state[BEST] > target:
                anneal(
                    self._tools, self._counts, self._places, order, best, state,
                    self._last, self._free, hot, COLD, exchanges, chunk, target,
                )  # fmt: skip
                if ended():
                    return tuple(best.tolist())
        return tuple(best.tolist())

    def _loads(self, order: Ints) -> int:
        return kept_tools(self._tools, self._counts, self._places, order, len(order), self._last, self._free)

    def prove(
        self, order: tuple[int, ...], loads: int, bound: int, ended: Callable[[], bool]
    ) -> tuple[tuple[int, ...], int]:
        """Find the fewest loads exactly, or raise the bound by ever more of the parts alone.

        Parameters
        ----------
        order, loads
            The best order known and its loads.
        bound
            What any order loads as far as known.
        ended
            Whether to end now.
        """
        if bound >= loads:
            return order, bound
        proof = self._exactly(loads, ended)
        if proof is not None:
            return proof.order or order, proof.loads
        for chosen in self._harder_and_harder(order):
            part, some = Search([self._needs[one] for one in chosen], self._places), EXCHANGES_OF_SOME
            best = part.improve(part.root_bound(), ROUNDS_OF_SOME, some, some, ended)
            proof = part._exactly(part._loads(np.array(best)), ended)
            if proof is None:
                return order, bound
            # tools that those parts do not need are loaded once at least
            bound = max(bound, min(loads, proof.loads + self._wanted - part._wanted))
        return order, bound

    def _exactly(self, loads: int, ended: Callable[[], bool]) -> Proof | None:
        """The fewest loads if they are fewer than these; None if too many parts or no time."""
        if self._wanted > MOST_TOOLS or not 2 <= self._size <= MOST_PARTS:
            return None
        masks = np.array([sum(1 << tool for tool in self._tools_of(part)) for part in range(self._size)])
        return by_halves(masks.astype(np.int64), self._apart, self._places, loads, ended)

    def _tools_of(self, part: int) -> list[int]:
        return [int(tool) for tool in self._tools[part, : self._counts[part]]]

    def _harder_and_harder(self, order: Sequence[int]) -> list[list[int]]:
        """Some of the parts, from few to many: from all, each time the one is left out that matters least."""
        chosen, found = list(order), []
        while len(chosen) > FEWEST_PARTS:
            trials = [chosen[:at] + chosen[at + 1 :] for at in range(len(chosen))]
            chosen = max(trials, key=self._at_least)
            if len(chosen) <= MOST_PARTS and len(chosen) % 2 == 0:
                found.append(chosen)
        return found[::-1]

    def _at_least(self, chosen: Sequence[int]) -> int:
        """Loads of some parts in their order, and one of each other tool."""
        seen = {tool for part in chosen for tool in self._tools_of(part)}
        return self._loads(np.array(chosen)) + self._wanted - len(seen)
