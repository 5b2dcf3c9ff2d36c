"""Annealing of a chain: runs of operations change places with their neighbours, none is ever turned round.

Arrows are kept without a look at all pairs: the shorter run is held against the operations directly before
(after) its members, so the work for each exchange tried stays small.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from sequencer.ordering.kernels import Ints, compiled

#: Places of `state`: random number, best cost, exchanges tried in this round, present cost.
SEED, BEST, DONE, COST = range(4)


class Arrows(NamedTuple):
    """The operations directly before and after each one, one list behind the other."""

    before_first: Ints
    before: Ints
    after_first: Ints
    after: Ints


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
def run_length(state: Ints, most: int) -> int:
    """Draw a length from 1 to `most`, short ones more often."""
    span = 1
    while span < most and drawn(state) & 1:
        span *= 2
    return 1 + drawn(state) % min(span, most)


@compiled
def gain_of(cost: Ints, order: Ints, start: int, middle: int, end: int) -> int:
    """What the order costs more when the runs [start, middle) and [middle, end) change places."""
    first, second = order[start], order[middle]
    last, lead, trail = order[end - 1], order[start - 1], order[end]
    extra = cost[last, first] - cost[order[middle - 1], second]
    extra += cost[lead, second] - cost[lead, first]
    extra += cost[order[middle - 1], trail] - cost[last, trail]
    return int(extra)


@compiled
def may_change(a: Arrows, order: Ints, place: Ints, start: int, middle: int, end: int) -> bool:
    """Whether no operation of the first run must come before one of the second."""
    if middle - start <= end - middle:
        for at in range(start, middle):
            op = order[at]
            for link in range(a.after_first[op], a.after_first[op + 1]):
                if middle <= place[a.after[link]] < end:
                    return False
        return True
    for at in range(middle, end):
        op = order[at]
        for link in range(a.before_first[op], a.before_first[op + 1]):
            if start <= place[a.before[link]] < middle:
                return False
    return True


@compiled
def pick(state: Ints, order: Ints, place: Ints, near: Ints, runs: Ints, aimed: int) -> None:
    """Draw two neighbouring runs without the ends of the order: a cheap pair meets, or at random."""
    size = len(order)
    if drawn(state) % 8 < aimed:
        at = drawn(state) % (size - 1)
        goal = place[near[order[at], drawn(state) % near.shape[1]]]
        if goal > at + 1 and goal < size - 1:
            runs[0], runs[1] = at + 1, goal
            runs[2] = goal + run_length(state, size - 1 - goal)
            return
        if 0 < goal < at:
            runs[0], runs[2] = goal, at + 1
            runs[1] = goal + 1 + drawn(state) % (at - goal)
            return
    short = run_length(state, size - 3)
    long = 1 + drawn(state) % (size - 2 - short)
    if drawn(state) & 1:
        short, long = long, short
    runs[0] = 1 + drawn(state) % (size - 1 - short - long)
    runs[1] = runs[0] + short
    runs[2] = runs[1] + long


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
    steps: int,
    aimed: int,
) -> None:
    """Try exchanges; keep the better ones always and worse ones seldom, ever more seldom."""
    size = len(order)
    runs = np.zeros(3, np.int64)
    spare, place = np.zeros(size, np.int64), np.zeros(size, np.int64)
    for at in range(size):
        place[order[at]] = at
    heat = hot
    for step in range(steps):
        if step % 256 == 0:
            heat = hot * cooled ** (state[DONE] / total)
        state[DONE] += 1
        pick(state, order, place, near, runs, aimed)
        start, middle, end = runs[0], runs[1], runs[2]
        extra = gain_of(cost, order, start, middle, end)
        if extra > 0 and (extra > 20 * heat or drawn(state) >= np.exp(-extra / heat) * 2147483648.0):
            continue
        if not may_change(arrows, order, place, start, middle, end):
            continue
        spare[: middle - start] = order[start:middle]
        for at in range(middle, end):
            order[start + at - middle] = order[at]
        order[start + end - middle : end] = spare[: middle - start]
        for at in range(start, end):
            place[order[at]] = at
        state[COST] += extra
        if state[COST] < state[BEST]:
            state[BEST] = state[COST]
            best[:] = order
