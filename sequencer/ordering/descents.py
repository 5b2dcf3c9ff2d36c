"""Annealing over local optima: shake the order, descend by exchanges, keep the outcome or go back.

After a shake only the operations at the ends of the runs are looked at again, so one turn costs microseconds.

Source: Martin, Otto, Felten, Operations Research Letters 11(4), 1992 (annealing over local optima);
Gambardella, Dorigo, INFORMS Journal on Computing 12(3), 2000 (exchanges of runs that keep arrows); both from
memory.
"""

from __future__ import annotations

import numpy as np

from sequencer.ordering.exchanges import Arrows, best_exchange, exchange, gain_of, may_change
from sequencer.ordering.kernels import Ints, compiled

#: Places of `state`: random number, best cost, turns of this round, present cost.
SEED, BEST, DONE, COST = range(4)

#: Longest run of a shake, and tries to draw one that keeps the arrows.
LONGEST, TRIES = 50, 50


@compiled
def drawn(state: Ints) -> int:
    """Draw a number of 31 bits (xorshift, Marsaglia, Journal of Statistical Software 8(14), 2003)."""
    value = state[SEED]
    value ^= value << 13
    value ^= (value >> 7) & 0x1FFFFFFFFFFFFFF
    value ^= value << 17
    state[SEED] = value
    return int((value >> 20) & 0x7FFFFFFF)


@compiled
def put(stack: Ints, waiting: Ints, count: int, op: int) -> int:
    """Put an operation on the stack of those to be looked at, unless it is there; gives their number."""
    if waiting[op]:
        return count
    waiting[op] = 1
    stack[count] = op
    return count + 1


@compiled
def put_ends(stack: Ints, waiting: Ints, count: int, order: Ints, runs: Ints) -> int:
    """Put the operations at the ends of two runs on the stack; gives the number on it."""
    for border in runs:
        count = put(stack, waiting, count, order[border - 1])
        count = put(stack, waiting, count, order[border])
    return count


@compiled
def shake(arrows: Arrows, order: Ints, place: Ints, state: Ints, runs: Ints) -> bool:
    """Draw two neighbouring runs that may change places; tells whether some were found."""
    size = len(order)
    most = min(LONGEST, size - 3)
    for _ in range(TRIES):
        first = 1 + drawn(state) % most
        second = 1 + drawn(state) % min(most, size - 2 - first)
        runs[0] = 1 + drawn(state) % (size - 1 - first - second)
        runs[1] = runs[0] + first
        runs[2] = runs[1] + second
        if may_change(arrows, order, place, runs[0], runs[1], runs[2]):
            return True
    return False


@compiled
def anneal(
    cost: Ints,
    arrows: Arrows,
    near: Ints,
    order: Ints,
    best: Ints,
    state: Ints,
    hot: float,
    cooled: float,
    total: int,
    turns: int,
) -> None:
    """Shake and descend; keep what is no worse always and what is worse seldom, ever more seldom."""
    size = len(order)
    runs = np.zeros(3, np.int64)
    spare, place = np.zeros(size, np.int64), np.zeros(size, np.int64)
    stack, waiting = np.zeros(size, np.int64), np.zeros(size, np.int64)
    count = 0
    for at in range(size):
        place[order[at]] = at
        count = put(stack, waiting, count, order[at])
    kept, kept_cost = order.copy(), state[COST]
    for turn in range(turns):
        if turn > 0 and shake(arrows, order, place, state, runs):
            state[COST] += gain_of(cost, order, runs[0], runs[1], runs[2])
            count = put_ends(stack, waiting, count, order, runs)
            exchange(order, place, spare, runs[0], runs[1], runs[2])
        while count > 0:
            count -= 1
            op = stack[count]
            waiting[op] = 0
            extra = best_exchange(cost, arrows, near, order, place, op, runs)
            if extra < 0:
                state[COST] += extra
                count = put_ends(stack, waiting, count, order, runs)
                exchange(order, place, spare, runs[0], runs[1], runs[2])
        worse = state[COST] - kept_cost
        heat = hot * cooled ** (state[DONE] / total)
        state[DONE] += 1
        if worse <= 0 or drawn(state) < np.exp(-worse / heat) * 2147483648.0:
            kept[:] = order
            kept_cost = state[COST]
            if kept_cost < state[BEST]:
                state[BEST] = kept_cost
                best[:] = order
        else:
            order[:] = kept
            state[COST] = kept_cost
            for at in range(size):
                place[order[at]] = at
