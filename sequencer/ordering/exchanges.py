"""Exchanges in a chain: two neighbouring runs of operations change places, none is ever turned round.

Arrows are kept without a look at all pairs: the shorter run is held against the operations directly before
(after) its members, so the work for each exchange tried stays small.
"""

from __future__ import annotations

from typing import NamedTuple

from sequencer.ordering.kernels import Ints, compiled


class Arrows(NamedTuple):
    """The operations directly before and after each one, one list behind the other."""

    before_first: Ints
    before: Ints
    after_first: Ints
    after: Ints


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
def exchange(order: Ints, place: Ints, spare: Ints, start: int, middle: int, end: int) -> None:
    """Let the runs [start, middle) and [middle, end) change places; the shorter one is set aside."""
    if middle - start <= end - middle:
        aside = middle - start
        spare[:aside] = order[start:middle]
        for at in range(middle, end):
            order[at - aside] = order[at]
        order[end - aside : end] = spare[:aside]
    else:
        aside = end - middle
        spare[:aside] = order[middle:end]
        for at in range(middle - 1, start - 1, -1):
            order[at + aside] = order[at]
        order[start : start + aside] = spare[:aside]
    for at in range(start, end):
        place[order[at]] = at


@compiled
def any_between(place: Ints, ops: Ints, first: int, end: int, low: int, high: int) -> bool:
    """Whether one of the operations first to end of a list stands between two places, both left out."""
    for link in range(first, end):  # noqa: SIM110  a plain loop compiles fastest
        if low < place[ops[link]] < high:
            return True
    return False


@compiled
def draw_later(
    cost: Ints, a: Arrows, order: Ints, place: Ints, at: int, goal: int, least: int, runs: Ints
) -> int:
    """The best exchange that brings the operation at `goal` up to follow the one at `at`, if below `least`.

    The run that begins at `goal` grows to its right while its members may come forward.
    """
    size = len(order)
    lead, follower, then, last = order[at], order[at + 1], order[goal], order[goal - 1]
    base = cost[lead, then] - cost[lead, follower] - cost[last, then]
    for end in range(goal + 1, size):
        op, trail = order[end - 1], order[end]
        if any_between(place, a.before, a.before_first[op], a.before_first[op + 1], at, goal):
            break
        extra = base - cost[op, trail] + cost[op, follower] + cost[last, trail]
        if extra < least:
            least = extra
            runs[0], runs[1], runs[2] = at + 1, goal, end
    return int(least)


@compiled
def push_later(
    cost: Ints, a: Arrows, order: Ints, place: Ints, at: int, goal: int, least: int, runs: Ints
) -> int:
    """The best exchange that takes the operation at `at` back to come before the one at `goal`.

    The run that ends at `at` grows to its left while its members may go back.
    """
    tail, follower, then, last = order[at], order[at + 1], order[goal], order[goal - 1]
    base = cost[tail, then] - cost[tail, follower] - cost[last, then]
    for start in range(at, 0, -1):
        op, lead = order[start], order[start - 1]
        if any_between(place, a.after, a.after_first[op], a.after_first[op + 1], at, goal):
            break
        extra = base - cost[lead, op] + cost[last, op] + cost[lead, follower]
        if extra < least:
            least = extra
            runs[0], runs[1], runs[2] = start, at + 1, goal
    return int(least)


@compiled
def draw_sooner(
    cost: Ints, a: Arrows, order: Ints, place: Ints, at: int, goal: int, least: int, runs: Ints
) -> int:
    """The best exchange that takes the operation at `goal`, which comes sooner, behind the one at `at`.

    `reach` is the last place, up to `at`, of what must come after a member of the first run: the run may only
    end there or later.
    """
    lead, then, tail, follower = order[goal - 1], order[goal], order[at], order[at + 1]
    base = cost[tail, then] - cost[tail, follower] - cost[lead, then]
    reach = 0
    for middle in range(goal + 1, at + 1):
        op = order[middle - 1]
        for link in range(a.after_first[op], a.after_first[op + 1]):
            if place[a.after[link]] <= at:
                reach = max(reach, place[a.after[link]])
        if reach >= at:
            break
        if reach < middle:
            second = order[middle]
            extra = base - cost[op, second] + cost[lead, second] + cost[op, follower]
            if extra < least:
                least = extra
                runs[0], runs[1], runs[2] = goal, middle, at + 1
    return int(least)


@compiled
def best_exchange(cost: Ints, a: Arrows, near: Ints, order: Ints, place: Ints, op: int, runs: Ints) -> int:
    """The best exchange after which a cheaper operation follows `op`; gives what it adds, 0 if none helps.

    `near` lists the cheapest followers, the cheapest first: one as dear as the present one ends the look.
    """
    at, least = place[op], 0
    if at == len(order) - 1:
        return 0
    present = cost[op, order[at + 1]]
    for rank in range(near.shape[1]):
        then = near[op, rank]
        if cost[op, then] >= present:
            break
        goal = place[then]
        if goal > at + 1:
            least = draw_later(cost, a, order, place, at, goal, least, runs)
            least = push_later(cost, a, order, place, at, goal, least, runs)
        elif 0 < goal < at:
            least = draw_sooner(cost, a, order, place, at, goal, least, runs)
    return int(least)
