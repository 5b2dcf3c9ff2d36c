"""Prices of steps from a linear program with cuts: what every order must step across at least once.

After an operation no order comes back to those before it, so from the operation to the end some step leads
out of every set that holds the operation, between operations none of which comes before it; likewise from the
start and between two operations of a given order.

Source: Balas, Fischetti, Pulleyblank, Mathematical Programming 68, 1995 (predecessor, successor and
predecessor-successor inequalities, here in their weak form, found by flows).

The program works with fractions, and nothing is proven by it: its prices are rounded to whole numbers, and
the bound that they give is worked out afresh (`prices`).
"""

from __future__ import annotations

from collections.abc import Callable
from importlib.util import find_spec
from typing import Final

import numpy as np

from sequencer.ordering.kernels import Ints, compiled
from sequencer.ordering.prices import Bools, Charge, Floats, Walks
from sequencer.ordering.sequence import Chain

#: Rounds at most, new cuts in each, and rounds in a row that may bring next to nothing.
ROUNDS: Final = 60
NEW: Final = 80
DULL: Final = 4

#: A cut is taken if it lacks this much.
LACKING: Final = 0.05

#: Part of the way to the limit that counts as next to nothing.
LITTLE: Final = 0.002


@compiled
def least_cut(flow: Floats, out: Ints, source: int, sink: int, enough: float, side: Ints) -> float:
    """Push flow from source to sink along shortest ways; marks the source's side of the least cut.

    `flow` holds the capacities and is used up; `out` marks operations left out. Ends at `enough`.
    """
    size = len(flow)
    queue, came = np.zeros(size, np.int64), np.zeros(size, np.int64)
    total = 0.0
    while total < enough:
        came[:] = -1
        came[source] = source
        queue[0] = source
        head, tail = 0, 1
        while head < tail and came[sink] < 0:
            op = queue[head]
            head += 1
            for then in range(size):
                if came[then] < 0 and flow[op, then] > 1e-9 and not out[then]:
                    came[then] = op
                    queue[tail] = then
                    tail += 1
        if came[sink] < 0:
            break
        most, op = 2.0, sink
        while op != source:
            most = min(most, flow[came[op], op])
            op = came[op]
        op = sink
        while op != source:
            flow[came[op], op] -= most
            flow[op, came[op]] += most
            op = came[op]
        total += most
    for op in range(size):
        side[op] = came[op] >= 0
    return total


def solver_is_there() -> bool:
    """Tell whether linear programs can be solved (scipy is installed)."""
    return find_spec("scipy") is not None


class Cuts:
    """The linear program and its cuts, over the steps that the walks have left.

    Parameters
    ----------
    walks
        The bound that takes the prices and strikes steps by them.
    """

    def __init__(self, walks: Walks) -> None:
        self._walks = walks
        self._cuts: list[tuple[Bools, Bools]] = []
        self._idle: list[int] = []
        self._wanted = _wanted(walks.chain)

    @property
    def kept(self) -> list[tuple[Bools, Bools]]:
        """Sets of operations that every order steps from and to."""
        return self._cuts

    def improve(
        self, remaining: Callable[[], float], stop: Callable[[], bool], tell: Callable[[float], None]
    ) -> None:
        """Add cuts until they bring next to nothing, or the bound meets the limit.

        Parameters
        ----------
        remaining
            Time left [s].
        stop
            Asked between rounds.
        tell
            Told the part done.
        """
        walks, best, dull = self._walks, -np.inf, 0
        for number in range(ROUNDS):
            tell(number / ROUNDS)
            if stop() or walks.bound >= walks.limit:
                break
            solved = self._solve(remaining())
            if solved is None:
                break
            charge, flows = solved
            walks.take(charge)
            lacking = max(1.0, walks.limit - best)
            dull = dull + 1 if charge.bound < best + LITTLE * lacking else 0
            best = max(best, charge.bound)
            if dull >= DULL or not self._separate(flows):
                break

    def _solve(self, seconds: float) -> tuple[Charge, Floats] | None:
        from scipy.optimize import linprog
        from scipy.sparse import csr_array, vstack

        size = self._walks.chain.size
        start, end, cost = self._walks.listed()
        count = len(cost)
        columns, ones = np.arange(count), np.ones(count)
        leave = csr_array((ones, (start, columns)), shape=(size, count))[:-1]
        come = csr_array((ones, (end, columns)), shape=(size, count))[1:]
        rows = [csr_array((s[start] & t[end]).astype(np.float64)[None, :]) for s, t in self._cuts]
        answer = linprog(
            cost.astype(np.float64),
            A_eq=vstack([leave, come]).tocsr(),
            b_eq=np.ones(2 * size - 2),
            A_ub=-vstack(rows).tocsr() if rows else None,
            b_ub=-np.ones(len(rows)) if rows else None,
            method="highs-ds",
            options={"time_limit": seconds} if np.isfinite(seconds) else {},
        )
        if answer.status != 0:
            return None
        duals = np.asarray(answer.eqlin.marginals)
        node = np.zeros(size)
        node[:-1] += duals[: size - 1]
        node[1:] += duals[size - 1 :]
        flows = np.zeros((size, size))
        flows[start, end] = answer.x
        cut = np.maximum(0.0, -np.asarray(answer.ineqlin.marginals)) if rows else np.zeros(0)
        charge = self._charge(float(answer.fun), node, cut)
        self._idle = [0 if price > 1e-7 else idle + 1 for idle, price in zip(self._idle, cut, strict=True)]
        kept = [at for at in range(len(self._cuts)) if self._idle[at] < 4]
        self._cuts = [self._cuts[at] for at in kept]
        self._idle = [self._idle[at] for at in kept]
        return charge, flows

    def _separate(self, flows: Floats) -> bool:
        found: list[tuple[float, bytes, Bools, Bools]] = []
        side = np.zeros(self._walks.chain.size, np.int64)
        for source, sink, out in self._wanted:
            value = least_cut(flows.copy(), out, source, sink, 1.0 - LACKING, side)
            if value < 1.0 - LACKING:
                s = (side == 1) & (out == 0)
                t = (side == 0) & (out == 0)
                found.append((value, np.packbits(np.concatenate((s, t))).tobytes(), s, t))
        found.sort(key=lambda one: one[:2])
        seen: set[bytes] = set()
        for _, key, s, t in found:
            if key not in seen and len(seen) < NEW:
                seen.add(key)
                self._cuts.append((s, t))
                self._idle.append(0)
        return bool(seen)

    def _charge(self, value: float, node: Floats, cut: Floats) -> Charge:
        priced = zip(self._cuts, cut.tolist(), strict=True)
        return Charge(value, node, tuple((s, t, price) for (s, t), price in priced if price > 0))


def _wanted(chain: Chain) -> list[tuple[int, int, Ints]]:
    """Where an order must get through: from where, to where, past which operations."""
    size, earlier = chain.size, chain.earlier
    wanted = []
    for op in range(1, size - 1):
        wanted.append((op, size - 1, earlier[:, op].astype(np.int64)))
        wanted.append((0, op, earlier[op].astype(np.int64)))
    for a, b in zip(*np.nonzero(earlier[1:-1, 1:-1]), strict=True):
        wanted.append((int(a) + 1, int(b) + 1, (earlier[:, a + 1] | earlier[b + 1]).astype(np.int64)))
    return wanted
