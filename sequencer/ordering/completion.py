"""The compiled program of a chain: sets of operations done, pruned by the walks that complete them.

A state is one row: set done | last operation | cost | prices still to be paid back | total | link.
Of two ways to the same set and last operation the cheaper is kept, together with the larger of the two
amounts still to be paid back: what completes the one completes the other.
"""

from __future__ import annotations

from typing import NamedTuple

from sequencer.ordering.kernels import Ints, alike, compiled, has, hashed
from sequencer.ordering.relaxation import FAR, Memory, Steps

#: Places of `counts`: states in the new layer, states looked at.
GROWN, SEEN, NEXT = range(3)


class Prices(NamedTuple):
    """What completes a state: least cost by row and memory allowed, price of each step, factor of costs."""

    least: Ints
    price: Ints
    factor: Ints


@compiled
def advance(
    s: Steps,
    m: Memory,
    p: Prices,
    before: Ints,
    layer: Ints,
    position: int,
    grown: Ints,
    slots: Ints,
    counts: Ints,
    limit: int,
    last_row: int,
) -> None:
    """Append every operation that may come next to the states up to a row, or until the room is full."""
    width = layer.shape[1]
    words = width - 5
    mask = len(slots) - 1
    room = len(grown) - len(s.low)
    fresh = layer[0].copy()
    at = counts[NEXT]
    while at < last_row and counts[GROWN] < room:
        at += 1
        if layer[at - 1, words + 3] > limit:
            continue
        at -= 1
        op = layer[at, words]
        for step in range(s.first[op], s.first[op + 1]):
            then = s.to[step]
            if position + 1 < s.low[then] or position + 1 > s.high[then] or has(layer[at], then):
                continue
            row = s.row[then] + position + 1
            if not s.alive[row]:
                continue
            ready = True
            for word in range(words):
                if before[then, word] & ~layer[at, word] != 0:
                    ready = False
                    break
            if not ready:
                continue
            counts[SEEN] += 1
            free = 0
            for bit in range(m.used[then]):
                if not has(layer[at], m.members[then, bit]):
                    free |= 1 << bit
            rest = p.least[row, free]
            if rest >= FAR:
                continue
            cost = layer[at, words + 1] + s.cost[step]
            owed = layer[at, words + 2] - p.price[step]
            total = cost * p.factor[0] + owed + rest
            if total > limit:
                continue
            fresh[:words] = layer[at, :words]
            fresh[then // 62] |= 1 << (then % 62)
            fresh[words] = then
            slot = hashed(fresh, words + 1) & mask
            while slots[slot] >= 0 and not alike(grown, slots[slot], fresh, words + 1):
                slot = (slot + 1) & mask
            known = slots[slot]
            if known < 0:
                known = counts[GROWN]
                counts[GROWN] += 1
                slots[slot] = known
                grown[known, : words + 1] = fresh[: words + 1]
                grown[known, words + 1], grown[known, words + 2] = cost, owed
                grown[known, words + 4] = at
            else:
                if cost < grown[known, words + 1]:
                    grown[known, words + 1] = cost
                    grown[known, words + 4] = at
                grown[known, words + 2] = max(grown[known, words + 2], owed)
            grown[known, words + 3] = grown[known, words + 1] * p.factor[0] + grown[known, words + 2] + rest
        at += 1
    counts[NEXT] = at
