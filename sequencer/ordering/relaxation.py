"""Least cost of completing a chain when only the last few operations are remembered.

A walk steps from operation to operation, each at its position. Coming to an operation it forgets which ones
it has met except those in the neighbourhood of that operation; it may neither meet a remembered one again nor
one that must come before it. Prices on the steps, paid back as a constant, drive the walk towards an order
that meets each operation once: every order pays at least as many prices as are paid back.

Source: Baldacci, Mingozzi, Roberti, Operations Research 59(5), 2011 (neighbourhoods); Held, Karp, Operations
Research 18(6), 1970 (prices), from memory.

All costs are whole numbers, multiplied so that prices may be parts of one. `rows` numbers the pairs of an
operation and a position that it may have.
"""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from sequencer.ordering.kernels import Ints, compiled

#: A value that no walk reaches.
FAR: Final = 1 << 60


class Steps(NamedTuple):
    """Steps from operation to operation and the positions each may have, as arrays.

    first, to
        The steps out of each operation, one list behind the other.
    low, high
        First and last position of each operation.
    row
        Number of the row of each operation at position 0 (may be below 0).
    alive
        Whether a row may still be part of a better order.
    cost
        Cost of each step.
    """

    first: Ints
    to: Ints
    low: Ints
    high: Ints
    row: Ints
    alive: Ints
    cost: Ints


class Memory(NamedTuple):
    """The neighbourhoods: members, their number, what becomes of a memory along each step (-1: barred)."""

    members: Ints
    used: Ints
    turned: Ints


@compiled
def turn_memory(s: Steps, m: Memory, earlier: Ints, steps: Ints) -> None:
    """Work out what becomes of each memory along some steps, backwards from the operation stepped to."""
    size = len(s.low)
    origin = np.zeros(len(s.to), np.int64)
    for op in range(size):
        for step in range(s.first[op], s.first[op + 1]):
            origin[step] = op
    for step in steps:
        a, b = origin[step], s.to[step]
        for memory in range(1 << m.used[b]):
            kept, barred = 0, False
            for bit in range(m.used[b]):
                if memory >> bit & 1:
                    met = m.members[b, bit]
                    if met == a or earlier[met, a]:
                        barred = True
                        break
                    for other in range(m.used[a]):
                        if m.members[a, other] == met:
                            kept |= 1 << other
            for other in range(m.used[a]):
                if m.members[a, other] == b:
                    kept |= 1 << other
            m.turned[step, memory] = -1 if barred else kept


@compiled
def walk_back(s: Steps, m: Memory, reduced: Ints, least: Ints) -> None:
    """Fill the least reduced cost of completing from each row with each memory of what comes after."""
    size = len(s.low)
    least[:, :] = FAR
    least[s.row[size - 1] + size - 1, 0] = 0
    for position in range(size - 2, -1, -1):
        for op in range(size - 1):
            row = s.row[op] + position
            if position < s.low[op] or position > s.high[op] or not s.alive[row]:
                continue
            for step in range(s.first[op], s.first[op + 1]):
                then = s.to[step]
                if position + 1 < s.low[then] or position + 1 > s.high[then]:
                    continue
                after = s.row[then] + position + 1
                if not s.alive[after]:
                    continue
                extra = reduced[step]
                for memory in range(1 << m.used[then]):
                    value = least[after, memory]
                    if value < FAR:
                        kept = m.turned[step, memory]
                        if kept >= 0 and value + extra < least[row, kept]:
                            least[row, kept] = value + extra


@compiled
def walk_on(s: Steps, reduced: Ints, reach: Ints) -> None:
    """Fill the least reduced cost of reaching each row, nothing remembered."""
    size = len(s.low)
    reach[:] = FAR
    reach[s.row[0]] = 0
    for position in range(size - 1):
        for op in range(size - 1):
            row = s.row[op] + position
            if position < s.low[op] or position > s.high[op] or reach[row] >= FAR or not s.alive[row]:
                continue
            for step in range(s.first[op], s.first[op + 1]):
                then = s.to[step]
                if s.low[then] <= position + 1 <= s.high[then]:
                    after = s.row[then] + position + 1
                    if s.alive[after] and reach[row] + reduced[step] < reach[after]:
                        reach[after] = reach[row] + reduced[step]


@compiled
def trace(s: Steps, m: Memory, reduced: Ints, least: Ints, walk: Ints, taken: Ints) -> None:
    """Write the operations of the cheapest walk and the steps it takes."""
    size = len(s.low)
    op = 0
    memory = int(np.argmin(least[s.row[0], : 1 << m.used[0]]))
    walk[0] = 0
    for position in range(size - 1):
        row = s.row[op] + position
        found = False
        for step in range(s.first[op], s.first[op + 1]):
            then = s.to[step]
            if position + 1 < s.low[then] or position + 1 > s.high[then]:
                continue
            after = s.row[then] + position + 1
            if not s.alive[after]:
                continue
            for later in range(1 << m.used[then]):
                if (
                    m.turned[step, later] == memory
                    and least[after, later] + reduced[step] == least[row, memory]
                ):
                    op, memory, found = then, later, True
                    walk[position + 1], taken[position] = then, step
                    break
            if found:
                break


@compiled
def spread(m: Memory, low: Ints, high: Ints, start: Ints, least: Ints) -> None:
    """Turn the values by exact memory into the least of all memories within a set."""
    for op in range(len(low)):
        for row in range(start[op] + low[op], start[op] + high[op] + 1):
            for bit in range(m.used[op]):
                for memory in range(1 << m.used[op]):
                    if memory >> bit & 1 and least[row, memory ^ (1 << bit)] < least[row, memory]:
                        least[row, memory] = least[row, memory ^ (1 << bit)]


@compiled
def strike(s: Steps, reduced: Ints, reach: Ints, least: Ints, limit: int, keep: Ints) -> None:
    """Mark rows and steps through which no walk stays within a limit; `least` is spread, 0 its first column.

    Rows are struck in `s.alive`, steps in `keep`.
    """
    size = len(s.low)
    for op in range(size):
        for position in range(s.low[op], s.high[op] + 1):
            row = s.row[op] + position
            if reach[row] >= FAR or least[row] >= FAR or reach[row] + least[row] > limit:
                s.alive[row] = 0
    for op in range(size):
        for step in range(s.first[op], s.first[op + 1]):
            then = s.to[step]
            keep[step] = 0
            for position in range(s.low[op], s.high[op] + 1):
                row, after = s.row[op] + position, s.row[then] + position + 1
                if position + 1 < s.low[then] or position + 1 > s.high[then]:
                    continue
                alive = s.alive[row] and s.alive[after]
                if alive and reach[row] + reduced[step] + least[after] <= limit:
                    keep[step] = 1
                    break
