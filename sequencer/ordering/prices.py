"""Bound of a chain: the cheapest walk that forgets, with prices that make it meet each operation once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from sequencer.errors import OutOfRange
from sequencer.ordering.kernels import Ints
from sequencer.ordering.relaxation import (
    FAR,
    Memory,
    Steps,
    spread,
    strike,
    trace,
    turn_memory,
    walk_back,
    walk_on,
)
from sequencer.ordering.sequence import BARRED, Chain

Floats = npt.NDArray[np.float64]
Bools = npt.NDArray[np.bool_]

#: Largest part of one that a price may be, and the largest sum of costs so multiplied.
FINEST: Final = 1 << 10
LARGEST: Final = 1 << 56

#: Transitions of one walk that the neighbourhoods may grow to.
MOST_WORK: Final = 25_000_000

#: Members of a neighbourhood at the start and at most.
FEW, MANY = 4, 10

#: Walks without a better bound before the prices change in smaller strides; strides below which they rest.
PATIENT: Final = 5
PLAIN: Final = 60
WIDENED: Final = 0.3
SHORTEST: Final = 0.002


@dataclass(frozen=True)
class Charge:
    """Prices found.

    Parameters
    ----------
    bound
        Value of the linear program.
    node
        Price of each operation.
    cuts
        Sets of operations that every order steps from and to at least once, with the price of such a step.
    """

    bound: float
    node: Floats
    cuts: tuple[tuple[Bools, Bools, float], ...]

    def whole(self, factor: int, most: float) -> tuple[Ints, int]:
        """Give the price of each step as a whole number, and what every order pays of them at least.

        Parameters
        ----------
        factor
            Parts of one.
        most
            Largest price of a cut.
        """
        size = len(self.node)
        table, owed = np.zeros((size, size), np.int64), 0
        for s, t, price in self.cuts:
            part = int(min(max(price, 0.0), most) * factor)
            table[np.ix_(s, t)] += part
            owed += part
        return table, owed


class Walks:
    """The bound with its present prices and neighbourhoods.

    Parameters
    ----------
    chain
        The chain.
    limit
        Cost of an order already found, own costs left out.
    """

    def __init__(self, chain: Chain, limit: int) -> None:
        self.chain = chain
        self.limit = limit
        self.factor = _factor(chain, limit)
        taken = (chain.cost < BARRED) & (chain.cost <= max(limit - 1, 0))
        self._set_steps(taken)
        self.charge = np.zeros(chain.cost.shape, np.int64)
        self.charged = 0
        self.price = np.zeros(chain.size, np.int64)
        self._proven = 0
        self.best = -FAR
        self.best_price = self.price
        self._stride, self._stale, self._done, self._again = 1.0, 0, 0, 1
        self._pull = np.zeros(chain.size)
        self._begin_memory()

    def _set_steps(self, taken: np.ndarray) -> None:
        chain = self.chain
        low = chain.earlier.sum(axis=0).astype(np.int64)
        high = (chain.size - 1 - chain.earlier.sum(axis=1)).astype(np.int64)
        start = np.concatenate(([0], np.cumsum(high - low + 1)))
        self.rows = int(start[-1])
        self._origin, to = np.nonzero(taken)
        first = np.concatenate(([0], np.cumsum(taken.sum(axis=1))))
        self.steps = Steps(
            first.astype(np.int64),
            to.astype(np.int64),
            low,
            high,
            (start[:-1] - low).astype(np.int64),
            np.ones(self.rows, np.int64),
            chain.cost[taken],
        )

    def _begin_memory(self) -> None:
        chain = self.chain
        size = chain.size
        members = np.zeros((size, MANY), np.int64)
        count = np.zeros(size, np.int64)
        self.memory = Memory(members, count, np.full((len(self.steps.to), 1 << MANY), -1, np.int16))
        self._earlier = chain.earlier.astype(np.int64)
        self._turn(np.arange(len(self.steps.to), dtype=np.int64))
        self.least = np.full((self.rows, 1 << MANY), FAR, np.int64)
        self.reach = np.full(self.rows, FAR, np.int64)

    def _turn(self, steps: Ints) -> None:
        turn_memory(self.steps, self.memory, self._earlier, steps)

    def _work(self, count: Ints) -> int:
        """Transitions of one walk, about."""
        s = self.steps
        into = np.bincount(s.to, minlength=len(s.low))
        return int((into * (s.high - s.low + 1) * (1 << count)).sum())

    @property
    def prices(self) -> Ints:
        """Price of each step."""
        return self.best_price[self.steps.to] + self.charge[self._origin, self.steps.to]

    @property
    def owed(self) -> int:
        """What every order pays in prices at least."""
        return int(self.best_price.sum()) + self.charged

    @property
    def bound(self) -> int:
        """No order costs less, own costs left out; the limit where none is better."""
        return min(self.limit, self._proven)

    def take(self, charge: Charge) -> None:
        """Begin with prices from a linear program.

        Parameters
        ----------
        charge
            The prices.
        """
        most = float(max(1, self.limit)) * 4
        self.charge, self.charged = charge.whole(self.factor, most)
        self.price = np.rint(np.clip(charge.node, -most, most) * self.factor).astype(np.int64)
        self.price[0] = 0  # no step leads there
        self._stride, self._done = 0.05, PLAIN - 1
        self.best = -FAR  # the new charge goes with the new prices
        self._evaluate(self.price)
        self._strike()

    def listed(self) -> tuple[Ints, Ints, Ints]:
        """Give the steps left: from, to, cost."""
        return self._origin, self.steps.to, self.steps.cost

    def lower_limit(self, limit: int) -> None:
        """Look only for orders cheaper than this.

        Parameters
        ----------
        limit
            Cost of an order, own costs left out.
        """
        self.limit = min(self.limit, limit)

    def improve(self, walks: int, stop: Callable[[], bool]) -> None:
        """Change prices, widen neighbourhoods and strike what cannot be part of a better order.

        Parameters
        ----------
        walks
            Most walks.
        stop
            Asked between walks.
        """
        for number in range(walks):
            if stop() or self.bound >= self.limit:
                break
            if self._stride < SHORTEST:
                if self._again == 0:
                    break
                self._again, self._stride = self._again - 1, 0.1
            self._walk(self.price)
            if number % 10 == 9:
                self._strike()
        self.settle()

    def settle(self) -> None:
        """Go back to the best prices, strike by them and make the values ready for the program over sets."""
        if self.bound >= self.limit:
            return
        self._evaluate(self.best_price)
        self._strike()
        self._evaluate(self.best_price)
        if self.bound < self.limit:
            s = self.steps
            spread(self.memory, s.low, s.high, s.row, self.least)

    def _evaluate(self, price: Ints) -> int:
        s = self.steps
        self._reduced = s.cost * self.factor - price[s.to] - self.charge[self._origin, s.to]
        walk_back(s, self.memory, self._reduced, self.least)
        least = int(self.least[s.row[0]].min())
        self._paid = int(price.sum()) + self.charged
        self._value = FAR if least >= FAR else least + self._paid
        if self._value > self.best:
            self.best, self.best_price = self._value, price.copy()
            self._proven = max(self._proven, -(-self.best // self.factor))
        return self._value

    def _walk(self, price: Ints) -> None:
        before = self.best
        value = self._evaluate(price)
        if value >= FAR:
            return
        lacking = self.limit * self.factor - before
        self._stale = 0 if self.best - before > lacking * 0.01 else self._stale + 1
        if self._stale >= PATIENT:
            self._stride, self._stale = self._stride * 0.6, 0
            price = self.best_price
        walk = np.zeros(self.chain.size, np.int64)
        taken = np.zeros(self.chain.size - 1, np.int64)
        trace(self.steps, self.memory, self._reduced, self.least, walk, taken)
        met = np.bincount(walk, minlength=self.chain.size)
        self._done += 1
        if self._done == PLAIN:
            self._remember_near()
        elif self._done > PLAIN and self._stride < WIDENED:
            self._remember(walk)
        slope = 1.0 - met
        slope[0] = slope[-1] = 0.0
        self._pull = slope + 0.5 * self._pull
        norm = float(slope @ slope)
        if norm > 0:
            stride = self._stride * max(self.limit * self.factor - value, self.factor) / norm
            self.price = price + np.rint(np.clip(stride * self._pull, -LARGEST, LARGEST) * 0.7).astype(
                np.int64
            )
            _within(self.price, self.factor * max(1, self.limit))

    def _remember_near(self) -> None:
        """Put the cheapest neighbours into each neighbourhood, as far as half the work goes."""
        chain, count = self.chain, self.memory.used
        near = np.minimum(chain.cost, chain.cost.T)
        near[chain.earlier | chain.earlier.T] = BARRED
        np.fill_diagonal(near, BARRED)
        ranked = np.argsort(near, axis=1, kind="stable")
        for rank in range(min(FEW, chain.size)):
            for op in range(1, chain.size - 1):
                neighbour = ranked[op, rank]
                known = count[op] >= MANY or neighbour in self.memory.members[op, : count[op]]
                if not known and near[op, neighbour] < BARRED and 2 * self._work(count) < MOST_WORK:
                    self.memory.members[op, count[op]] = neighbour
                    count[op] += 1
        self._turn(np.arange(len(self.steps.to), dtype=np.int64))

    def _remember(self, walk: Ints) -> None:
        """Widen the neighbourhoods between two places of the walk that no order holds."""
        place: dict[int, int] = {}
        widened: set[int] = set()
        for position, op in enumerate(walk.tolist()):
            if op in place:
                self._widen(walk[place[op] + 1 : position].tolist(), op, widened)
            place[op] = position
        for at, op in enumerate(walk.tolist()):
            for later in range(at + 2, min(len(walk), at + MANY)):
                if self.chain.earlier[walk[later], op]:
                    self._widen(walk[at + 1 : later].tolist(), int(walk[later]), widened)
                    break
        if widened:
            s = self.steps
            touched = np.isin(s.to, list(widened)) | np.isin(self._origin, list(widened))
            self._turn(np.flatnonzero(touched))

    def _widen(self, among: list[int], met: int, widened: set[int]) -> None:
        members, count, _ = self.memory
        lacking = [op for op in dict.fromkeys(among) if met not in members[op, : count[op]] and op != met]
        if any(count[op] >= MANY for op in lacking):
            return
        more = count.copy()
        more[lacking] += 1
        if self._work(more) > MOST_WORK:
            return
        for op in lacking:
            members[op, count[op]] = met
            count[op] += 1
            widened.add(op)

    def _strike(self) -> None:
        """Leave out rows and steps that no better order uses."""
        if self._value >= FAR:
            return
        s = self.steps
        walk_on(s, self._reduced, self.reach)
        lowest = self.least.min(axis=1)
        keep = np.zeros(len(s.to), np.int64)
        limit = (self.limit - 1) * self.factor - self._paid
        strike(s, self._reduced, self.reach, lowest, limit, keep)
        if keep.all():
            return
        kept = np.flatnonzero(keep)
        self._origin = self._origin[kept]
        first = np.searchsorted(self._origin, np.arange(self.chain.size + 1)).astype(np.int64)
        self.steps = s._replace(first=first, to=s.to[kept], cost=s.cost[kept])
        self.memory = self.memory._replace(turned=self.memory.turned[kept])
        self._reduced = self._reduced[kept]


def _within(price: Ints, most: int) -> None:
    np.clip(price, -most, most, out=price)


def _factor(chain: Chain, limit: int) -> int:
    """The finest part of one such that all sums fit."""
    factor = FINEST
    while factor > 1 and factor * max(1, limit) * 2 * chain.size > LARGEST:
        factor //= 2
    if factor * max(1, limit) * 2 * chain.size > LARGEST:
        raise OutOfRange(f"an order costs {limit}", where="ordering", limit=f"{LARGEST} by all operations")
    return factor
