"""Exchanges in a thread of their own, beside the proof.

What it has found is asked for by the number of turns, so the answers depend on the work done and not on
which of the two is faster.
"""

from __future__ import annotations

import threading
from typing import Final

import numpy as np

from sequencer.ordering.descents import BEST, COST, DONE, SEED, anneal
from sequencer.ordering.kernels import Ints
from sequencer.ordering.sequence import Chain

#: Turns between two looks at the stop sign.
CHUNK: Final = 2_000

#: Heat of the rounds as part of a usual step, in turns, and heat at the end of a round as part of the start.
#: The hot rounds go on from where the last one ended, the others from the best order.
HEATS: Final = (3.0, 3.0, 1.0)
HOT: Final = 2.0
COOLED: Final = 0.03

#: Turns of the first round for each operation, and how much longer each round is than the one before.
TURNS: Final = 500
LONGER: Final = 1.7

#: Followers of each operation that exchanges aim at.
NEAR: Final = 10


class Annealing:
    """A thread that improves an order.

    Parameters
    ----------
    chain
        The chain, of four operations or more.
    order
        An order to begin with.
    most
        Turns after which it ends.
    """

    def __init__(self, chain: Chain, order: Ints, most: int) -> None:
        self._chain = chain
        self._most = most
        self._log = [(0, chain.total(order), order.copy())]
        self._done = 0
        self._halt = False
        self._news = threading.Condition()
        self._thread = threading.Thread(target=self._run, args=(order.copy(),), daemon=True)
        self._thread.start()

    def at(self, turns: int) -> tuple[int, Ints] | None:
        """Give the best order after so many turns with its cost, None if it is not that far yet.

        Parameters
        ----------
        turns
            Their number; more than it ever makes stand for all.
        """
        with self._news:
            if self._done < min(turns, self._most):
                return None
            found = [entry for entry in self._log if entry[0] <= turns]
            return found[-1][1], found[-1][2]

    @property
    def latest(self) -> tuple[int, Ints]:
        """The best order up to now."""
        with self._news:
            return self._log[-1][1], self._log[-1][2]

    @property
    def done(self) -> int:
        """Turns up to now."""
        return self._done

    def wait(self, seconds: float) -> None:
        """Wait until it has come further.

        Parameters
        ----------
        seconds
            At most so long [s].
        """
        with self._news:
            self._news.wait(seconds)

    def halt(self) -> None:
        """End it."""
        self._halt = True
        self._thread.join()

    def _run(self, order: Ints) -> None:
        chain = self._chain
        cost, near = chain.cost, _near(chain)
        best = order.copy()
        state = np.zeros(4, np.int64)
        state[SEED] = 88172645463325252
        state[BEST] = state[COST] = chain.total(order)
        usual = _usual(chain, order)
        number, length = 0, float(TURNS * chain.size)
        while self._done < self._most and not self._halt:
            heat = HEATS[number % len(HEATS)]
            if heat < HOT:
                order[:] = best
                state[COST] = state[BEST]
            hot = heat * usual
            state[DONE] = 0
            while state[DONE] < length and self._done < self._most and not self._halt:
                before = state[BEST]
                anneal(cost, chain.arrows, near, order, best, state, hot, COOLED, int(length), CHUNK)
                with self._news:
                    self._done += CHUNK
                    if state[BEST] < before:
                        self._log.append((self._done, int(state[BEST]), best.copy()))
                    self._news.notify_all()
            number, length = number + 1, length * LONGER
        with self._news:
            self._news.notify_all()


def _usual(chain: Chain, order: Ints) -> float:
    """Mean cost of a step, the dearest ones left out."""
    steps = np.sort(chain.cost[order[:-1], order[1:]])
    return max(float(steps[: 1 + len(steps) * 9 // 10].mean()), 0.5)


def _near(chain: Chain) -> Ints:
    """The cheapest operations to follow each one, the cheapest first."""
    return np.argsort(chain.cost, axis=1, kind="stable")[:, :NEAR].astype(np.int64)


def first_order(chain: Chain) -> Ints:
    """Give an order: of the operations that may come next always the cheapest.

    Parameters
    ----------
    chain
        The chain.
    """
    left = chain.earlier.sum(axis=0).astype(np.int64)
    order = [0]
    left -= chain.earlier[0]
    done = np.zeros(chain.size, np.bool_)
    done[0] = True
    for _ in range(chain.size - 1):
        ready = np.flatnonzero((left == 0) & ~done)
        op = int(ready[np.argmin(chain.cost[order[-1], ready])])
        done[op] = True
        left -= chain.earlier[op]
        order.append(op)
    return np.array(order, np.int64)
