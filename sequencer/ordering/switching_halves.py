"""Compiled proof for few parts: all first halves of an order, and how two halves fit together.

What the future of a beginning depends on is which tools can be kept for it. Those whose last need lies
before a place of the order cross that place, and no more than are free there. So sets that can be kept
together are told by nested groups of tools, the oldest first, each with the most that can be kept of it and
all older ones: a nested matroid. With its rank, two beginnings of the same parts compare: one can do what the
other does for as many more loads as the largest set kept by the other exceeds its own rank. An order read
backwards loads as much, so the end of an order is a beginning too, and two halves keep across their seam the
largest set that both can keep (matroid intersection, Edmonds 1970, from memory; for nested groups it is a
minimum over the groups).
"""

from __future__ import annotations

import numpy as np

from sequencer.ordering.kernels import Ints, compiled

#: Words of a beginning: its parts, loads, order, number of groups; then their tools, then their limits.
PARTS, LOADS, ORDER, GROUPS, FIRST = range(5)

#: Bits of one part in an order, and most parts: half of them fit into one word.
BITS, MOST_PARTS, MOST_TOOLS = 5, 24, 60

#: Limit of the newest group, whose tools are all in the magazine.
FREE = 1 << 20


@compiled
def ones(word: int) -> int:
    """Count the bits set in a word of at most 62 (Warren, Hacker's Delight, from memory)."""
    word -= (word >> 1) & 0x5555555555555555
    word = (word & 0x3333333333333333) + ((word >> 2) & 0x3333333333333333)
    word = (word + (word >> 4)) & 0x0F0F0F0F0F0F0F0F
    word += word >> 8
    word += word >> 16
    return int((word + (word >> 32)) & 0x7F)


@compiled
def rank(row: Ints, most: int, tools: int) -> int:
    """Most of these tools that a beginning can keep together."""
    kept = 0
    for number in range(row[GROUPS]):
        kept = min(kept + ones(row[FIRST + number] & tools), row[FIRST + most + number])
    return kept


@compiled
def shortfall(row: Ints, other: Ints, most: int, everything: int) -> int:
    """Most loads by which one beginning costs more than another from here on, whatever follows."""
    seen = 0
    for number in range(row[GROUPS]):
        seen |= row[FIRST + number]
    group = everything & ~seen
    worst = rank(other, most, group)
    for number in range(row[GROUPS]):
        group |= row[FIRST + number]
        limit = row[FIRST + most + number]
        if limit < FREE:
            worst = max(worst, rank(other, most, group) - limit)
    return worst


@compiled
def common(row: Ints, other: Ints, most: int, everything: int) -> int:
    """Most tools that two halves can keep across their seam."""
    seen = 0
    for number in range(row[GROUPS]):
        seen |= row[FIRST + number]
    group = everything & ~seen
    least = rank(other, most, seen)
    for number in range(row[GROUPS]):
        group |= row[FIRST + number]
        limit = row[FIRST + most + number]
        if limit < FREE:
            least = min(least, limit + rank(other, most, everything & ~group))
    return least


@compiled
def lengthen(row: Ints, part: int, needs: int, later: int, places: int, most: int, out: Ints) -> None:
    """Append a part to a beginning: keep for it as many of its tools as can be, the newest first."""
    count = row[GROUPS]
    taken, spare = 0, FREE
    out[:] = row
    for number in range(count - 1, -1, -1):
        spare = min(spare, row[FIRST + most + number] - taken)
        own = min(ones(row[FIRST + number] & needs), spare)
        taken += own
        spare -= own
        out[FIRST + most + number] = taken  # taken of this group and all newer ones
    for number in range(count):
        # what a group and all older ones gave is the whole less what newer ones gave
        newer = out[FIRST + most + number + 1] if number + 1 < count else 0
        out[FIRST + number] = row[FIRST + number] & later & ~needs
        out[FIRST + most + number] = row[FIRST + most + number] - (taken - newer)
    out[PARTS] = row[PARTS] | (1 << part)
    out[LOADS] = row[LOADS] + ones(needs) - taken
    out[ORDER] = row[ORDER] << BITS | part
    if count:
        out[FIRST + most + count - 1] = min(out[FIRST + most + count - 1], places - ones(needs))
    out[FIRST + count] = needs & later
    out[FIRST + most + count] = FREE
    for number in range(count - 2, -1, -1):
        limit = min(out[FIRST + most + number], out[FIRST + most + number + 1])
        out[FIRST + most + number] = limit
    _join(out, count + 1, most)


@compiled
def _join(out: Ints, count: int, most: int) -> None:
    """Leave out groups that say nothing: those that the next newer or all older ones imply, and the lost."""
    left, waiting, below = 0, 0, 0
    for number in range(count):
        waiting |= out[FIRST + number]
        limit = out[FIRST + most + number]
        if number + 1 < count:
            if limit == out[FIRST + most + number + 1] or limit >= below + ones(waiting):
                continue
            if limit <= 0:
                waiting = 0
                continue
        out[FIRST + left] = waiting
        out[FIRST + most + left] = limit
        left, waiting, below = left + 1, 0, limit
    out[GROUPS] = left
    for number in range(left, most):
        out[FIRST + number] = 0
        out[FIRST + most + number] = 0


@compiled
def least_tree_from(apart: Ints, last: int, rest: int, near: Ints) -> int:
    """Weight of the least tree over a part and those of a set (Prim, Bell System Tech. Journal 36, 1957)."""
    size = len(apart)
    total, joined = 0, last
    near[:] = 1 << 40
    while rest:
        nearest, way = -1, 1 << 41
        for part in range(size):
            if rest >> part & 1:
                near[part] = min(near[part], apart[joined, part])
                if near[part] < way:
                    nearest, way = part, near[part]
        total += way
        rest &= ~(1 << nearest)
        joined = nearest
    return total


@compiled
def grow(
    layer: Ints,
    keys: Ints,
    starts: Ints,
    targets: Ints,
    begin: int,
    end: int,
    masks: Ints,
    apart: Ints,
    places: int,
    most: int,
    limit: int,
    out: Ints,
    spare: Ints,
    wide: Ints,
) -> int:
    """Write the beginnings that end in `targets`, each set of parts by itself; the number, -1 if too many."""
    size, written = len(masks), 0
    near = np.zeros(size, np.int64)
    for at in range(begin, end):
        target, found = targets[at], 0
        later = 0
        for part in range(size):
            if not target >> part & 1:
                later |= masks[part]
        for part in range(size):
            if not target >> part & 1:
                continue
            source = target & ~(1 << part)
            place = np.searchsorted(keys, source)
            if place >= len(keys) or keys[place] != source:
                continue
            tree = least_tree_from(apart, part, ((1 << size) - 1) & ~target, near)
            for number in range(starts[place], starts[place + 1]):
                if found >= len(spare):
                    return -1
                row = spare[found]
                lengthen(layer[number], part, masks[part], later, places, most, row)
                ahead = max(tree, ones(later) - rank(row, most, later))
                if row[LOADS] + ahead < limit:
                    wide[found] = row[LOADS]
                    found += 1
        first = written
        ranked = np.argsort(wide[:found])
        for number in range(found):
            row = spare[ranked[number]]
            beaten = False
            for other in range(first, written):
                if out[other, LOADS] + shortfall(out[other], row, most, later) <= row[LOADS]:
                    beaten = True
                    break
            if not beaten:
                if written >= len(out):
                    return -1
                out[written] = row
                written += 1
    return written


@compiled
def meet(
    long: Ints,
    short: Ints,
    keys: Ints,
    starts: Ints,
    begin: int,
    end: int,
    size: int,
    most: int,
    everything: int,
    best: Ints,
) -> None:
    """Join beginnings with ends of the other parts; `best` holds loads and the two rows."""
    for at in range(begin, end):
        rest = ((1 << size) - 1) & ~long[at, PARTS]
        place = np.searchsorted(keys, rest)
        if place >= len(keys) or keys[place] != rest:
            continue
        whole = rank(long[at], most, everything)
        for number in range(starts[place], starts[place + 1]):
            loads = long[at, LOADS] + short[number, LOADS]
            if loads - whole >= best[0]:
                continue
            loads -= common(long[at], short[number], most, everything)
            if loads < best[0]:
                best[0], best[1], best[2] = loads, at, number
