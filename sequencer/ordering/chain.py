"""Good orders of a plain chain: one alternative each, costs between neighbours, and arrows alone.

Annealing that moves a run of operations past its neighbours, so that no run is ever turned round. It works at
two scales of temperature in turns, because a few costs may be far larger than all others.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np

from sequencer.ordering.kernels import Ints, compiled
from sequencer.ordering.model import Model, Way, bits
from sequencer.ordering.search import Plan, Space

#: Rounds, and exchanges tried in each for every operation.
ROUNDS: Final = 48
EXCHANGES: Final = 20_000

#: Rounds without a better order after which it ends.
PATIENCE: Final = 6

#: Followers of each operation that exchanges aim at.
NEAR: Final = 8

#: Exchanges between two looks at the clock.
CHUNK: Final = 500_000

#: Temperature at the end of a round as part of that at its start.
COOLED: Final = 0.01

#: Places of `state`: random number, cost of the best order, exchanges tried in this round, present cost.
SEED, BEST, DONE, COST = range(4)


def is_chain(model: Model) -> bool:
    """Tell whether nothing but the neighbours and arrows matters.

    Parameters
    ----------
    model
        The model.
    """
    singles = all(len(ways) == 1 for ways in model.ways)
    alone = (*model.forbidden, *model.apart, *model.between, *model.soft, model.single_visit)
    linked = (*model.together, *model.zero_pairs, *model.waits, *model.pinned)
    bound = any(op >= 0 for op in (*model.follower, *model.leader))
    return singles and not any(alone) and not linked and not bound and _whole(model)


def _whole(model: Model) -> bool:
    """Whether every operation needs a tool, a mode and, if ways between places count, a place."""
    travels = bool(model.positioning or model.home)
    return all(
        way.tool >= 0 and way.mode >= 0 and (way.place >= 0 or not travels)
        for ways in model.ways
        for way in ways
    )


def between(model: Model, way: Way, then: Way) -> int:
    """Cost from an alternative to the next, its own cost left out.

    Parameters
    ----------
    model
        The model.
    way, then
        The alternatives.
    """
    cost = model.clamping_cost[way.clamping][then.clamping] + model.mode_cost[way.mode][then.mode]
    away = way.tool != then.tool or way.clamping != then.clamping
    if way.tool != then.tool:
        cost += model.tool_cost[then.tool]
    if away:
        return cost + (model.home[way.place] + model.home[then.place] if model.home else 0)
    return cost + (model.positioning[way.place][then.place] if model.positioning else 0)


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
def nearest_first(cost: Ints, before: Ints, order: Ints) -> None:
    """Write an order: of the operations that may come next always the cheapest."""
    size = len(order)
    left = before.sum(axis=0)
    last = -1
    for at in range(size):
        best = -1
        for op in range(size):
            if left[op] == 0 and (best < 0 or (last >= 0 and cost[last, op] < cost[last, best])):
                best = op
        order[at] = best
        left[best] = -1
        for op in range(size):
            left[op] -= before[best, op]
        last = best


@compiled
def gain_of(cost: Ints, order: Ints, start: int, middle: int, end: int) -> int:
    """What the order costs more when the runs [start, middle) and [middle, end) change places."""
    first, second = order[start], order[middle]
    extra = cost[order[end - 1], first] - cost[order[middle - 1], second]
    if start > 0:
        extra += cost[order[start - 1], second] - cost[order[start - 1], first]
    if end < len(order):
        extra += cost[order[middle - 1], order[end]] - cost[order[end - 1], order[end]]
    return int(extra)


@compiled
def may_change(before: Ints, order: Ints, start: int, middle: int, end: int) -> bool:
    """Whether no operation of the first run must come before one of the second."""
    for one in range(middle - 1, start - 1, -1):
        for two in range(middle, end):
            if before[order[one], order[two]]:
                return False
    return True


@compiled
def pick(state: Ints, order: Ints, place: Ints, near: Ints, runs: Ints) -> None:
    """Draw two neighbouring runs: such that a cheap pair of operations meets, or at random."""
    size = len(order)
    kind = drawn(state) % 8
    if kind > 1:
        at = drawn(state) % size
        goal = place[near[order[at], drawn(state) % near.shape[1]]]
        if goal > at + 1:
            runs[0], runs[1] = at + 1, goal
            runs[2] = goal + run_length(state, size - goal)
            return
        if goal < at:
            runs[0], runs[2] = goal, at + 1
            runs[1] = goal + 1 + drawn(state) % (at - goal)
            return
    short = run_length(state, size - 1) if kind & 1 else 1 + drawn(state) % (size - 1)
    long = 1 + drawn(state) % (size - short)
    if drawn(state) & 1:
        short, long = long, short
    runs[0] = drawn(state) % (size - short - long + 1)
    runs[1] = runs[0] + short
    runs[2] = runs[1] + long


@compiled
def anneal(
    cost: Ints,
    before: Ints,
    near: Ints,
    order: Ints,
    best: Ints,
    state: Ints,
    hot: float,
    total: int,
    steps: int,
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
            heat = hot * COOLED ** (state[DONE] / total)
        state[DONE] += 1
        pick(state, order, place, near, runs)
        start, middle, end = runs[0], runs[1], runs[2]
        extra = gain_of(cost, order, start, middle, end)
        if extra > 0 and (extra > 20 * heat or drawn(state) >= np.exp(-extra / heat) * 2147483648.0):
            continue
        if not may_change(before, order, start, middle, end):
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


def good_order(
    space: Space,
    start: Plan | None,
    stop: Callable[[], bool],
    tell: Callable[[float], None],
    *,
    rounds: int = ROUNDS,
) -> Plan:
    """Anneal the order of a chain, the only model of a problem.

    Parameters
    ----------
    space
        The model, a chain.
    start
        An order to begin with, if there is one.
    stop
        Asked now and then.
    tell
        Told the part done.
    rounds
        How often it is heated up.
    """
    model = space.model
    ways = [ways[0] for ways in model.ways]
    cost = np.array([[between(model, way, then) for then in ways] for way in ways], np.int64)
    before = np.zeros((model.size, model.size), np.int64)
    for op, mask in enumerate(model.before):
        before[list(bits(mask)), op] = 1
    order = np.zeros(model.size, np.int64)
    if start is None:
        nearest_first(cost, before, order)
    else:
        place = {way.operation: op for op, way in enumerate(ways)}
        order[:] = [place[op] for op, _ in start.steps]
    best = order.copy()
    state = np.zeros(4, np.int64)
    state[SEED] = 88172645463325252
    state[BEST] = state[COST] = cost[order[:-1], order[1:]].sum()
    if model.size > 1:
        _rounds(cost, before, _near(model, cost), order, best, state, stop, tell, rounds)
    own = sum(way.cost for way in ways)
    steps = tuple((ways[op].operation, ways[op].index) for op in best.tolist())
    return Plan(int(state[BEST]) + own, 0, steps)


def _near(model: Model, cost: Ints) -> Ints:
    """The cheapest operations to follow each one, of those that may."""
    never = int(cost.max()) + 1
    allowed = cost.copy()
    for op in range(model.size):
        allowed[op, [op, *bits(model.before[op])]] = never
        for later in bits(model.after[op]):  # whoever stands between keeps the two apart
            if model.after[op] & model.before[later]:
                allowed[op, later] = never
    return np.argsort(allowed, axis=1, kind="stable")[:, : min(NEAR, model.size - 1)].astype(np.int64)


def _rounds(
    cost: Ints,
    before: Ints,
    near: Ints,
    order: Ints,
    best: Ints,
    state: Ints,
    stop: Callable[[], bool],
    tell: Callable[[float], None],
    rounds: int,
) -> None:
    steps = np.sort(cost[order[:-1], order[1:]])
    usual = max(float(steps[: 1 + len(steps) * 9 // 10].mean()), 1.0)
    scales = (4 * usual, usual, usual / 4)
    total = EXCHANGES * len(order)
    improved = 0
    for number in range(rounds):
        before_round = state[BEST]
        if number - improved > PATIENCE:
            return
        state[DONE] = 0
        if number > 0:
            order[:] = best
            state[COST] = state[BEST]
        hot = scales[number % 3]
        while state[DONE] < total:
            tell((number + state[DONE] / total) / rounds)
            if stop():
                return
            anneal(cost, before, near, order, best, state, hot, total, min(CHUNK, total - int(state[DONE])))
        if state[BEST] < before_round:
            improved = number
