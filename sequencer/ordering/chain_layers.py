"""The program over sets of operations done, for a chain, with the walks of `prices` as its bound."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from sequencer.ordering.completion import GROWN, NEXT, SEEN, Prices, advance
from sequencer.ordering.kernels import WORD, Ints, reslot
from sequencer.ordering.prices import Walks

#: States appended to between two looks at the clock.
CHUNK: Final = 8192


@dataclass(frozen=True)
class Pass:
    """What one pass gave: an order better than the limit (None if there is none), the bound, the states."""

    order: Ints | None
    bound: int
    states: int


def go_through(walks: Walks, width: int, stop: Callable[[], bool], tell: Callable[[float], None]) -> Pass:
    """Go through all layers once; a proof if none was cut.

    Parameters
    ----------
    walks
        The bound, settled.
    width
        Most states kept of each layer.
    stop
        Asked now and then.
    tell
        Told the part done.
    """
    chain, s, memory = walks.chain, walks.steps, walks.memory
    words = (chain.size + WORD - 1) // WORD
    prices = Prices(walks.least, walks.prices, np.array([walks.factor], np.int64))
    limit = (walks.limit - 1) * walks.factor
    layer = np.zeros((1, words + 5), np.int64)
    layer[0, 0] = 1
    layer[0, words + 2] = walks.owed
    layer[0, words + 3] = walks.best
    counts = np.zeros(3, np.int64)
    history: list[tuple[Ints, Ints]] = []
    lost = limit + 1
    for position in range(chain.size - 1):
        tell(position / chain.size)
        counts[GROWN] = counts[NEXT] = 0
        room = max(1024, min(4 * len(layer), 4 * width)) + chain.size
        grown = np.zeros((room, words + 5), np.int64)
        slots = _index(room)
        while counts[NEXT] < len(layer):
            if stop():
                return Pass(None, walks.bound, int(counts[SEEN]))
            last = min(int(counts[NEXT]) + CHUNK, len(layer))
            before = int(counts[NEXT])
            advance(s, memory, prices, chain.before, layer, position, grown, slots, counts, limit, last)
            if counts[NEXT] == before:
                grown, slots, cut = _enlarged(grown, counts, width, words, chain.size)
                lost = min(lost, cut)
        kept, cut = _best(grown, int(counts[GROWN]), width)
        lost = min(lost, cut)
        layer = grown[kept]
        history.append((layer[:, words + 4].copy(), layer[:, words].astype(np.int16)))
        if not len(layer):
            break
    bound = min(walks.limit, -(-lost // walks.factor))
    if not len(layer):
        return Pass(None, max(bound, walks.bound), int(counts[SEEN]))
    value = int(layer[0, words + 1])
    return Pass(_order(history), max(walks.bound, min(bound, value)), int(counts[SEEN]))


def _order(history: list[tuple[Ints, Ints]]) -> Ints:
    at, order = 0, []
    for links, ops in reversed(history):
        order.append(int(ops[at]))
        at = int(links[at])
    return np.array([0, *reversed(order)], np.int64)


def _enlarged(grown: Ints, counts: Ints, width: int, words: int, size: int) -> tuple[Ints, Ints, int]:
    """Double the room of a layer or, at its largest, drop the states with the highest totals."""
    count, cut = int(counts[GROWN]), 1 << 62
    room = 2 * len(grown)
    if room > 8 * width + 2 * size:
        kept, cut = _best(grown, count, width)
        grown, count = grown[kept], len(kept)
        room = count + 3 * width + size
    larger = np.zeros((room, grown.shape[1]), np.int64)
    larger[:count] = grown[:count]
    slots = _index(room)
    reslot(larger, slots, count, words + 1)
    counts[GROWN] = count
    return larger, slots, cut


def _index(room: int) -> Ints:
    return np.full(1 << (2 * room - 1).bit_length(), -1, np.int64)


def _best(layer: Ints, count: int, width: int) -> tuple[Ints, int]:
    """Places of the states with the lowest totals, and the lowest total of the others."""
    if count <= width:
        return np.arange(count), 1 << 62
    ranked = np.argpartition(layer[:count, -2], width)
    return np.sort(ranked[:width]), int(layer[ranked[width:], -2].min())
