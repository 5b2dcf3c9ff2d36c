"""Fewest loads of few parts, exactly: all first halves of an order, joined with all second halves."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np

from sequencer.ordering.kernels import Ints
from sequencer.ordering.switching_halves import BITS, FIRST, ORDER, PARTS, grow, meet

#: Beginnings kept of one length; some 200 bytes each.
MOST_KEPT: Final = 400_000

#: Sets of parts, or beginnings, between two looks at the clock.
STEP: Final = 500


@dataclass(frozen=True)
class Proof:
    """What the halves show.

    Parameters
    ----------
    order
        An order of the fewest loads; empty if none is below the limit.
    loads
        Its loads; the limit if there is none: then no order loads fewer than that.
    """

    order: tuple[int, ...]
    loads: int


@dataclass(frozen=True)
class _Layer:
    rows: Ints
    keys: Ints
    starts: Ints


def by_halves(
    masks: Ints, apart: Ints, places: int, limit: int, ended: Callable[[], bool], kept: int = MOST_KEPT
) -> Proof | None:
    """Find the fewest loads below a limit, or show that there are none; None if stopped or too many.

    Parameters
    ----------
    masks
        Tools of each part, a bit each.
    apart
        What any order that does two parts one after the other loads for the second.
    places
        Places of the magazine.
    limit
        Loads that are of no interest any more.
    ended
        Whether to end now.
    kept
        Beginnings kept of one length.
    """
    size = len(masks)
    most = size - size // 2 + 2
    root = np.zeros((1, FIRST + 2 * most), np.int64)
    layer = _layer(root)
    layers = [layer]
    for _ in range(size - size // 2):
        grown = _grown(layer, masks, apart, places, most, limit, ended, kept)
        if grown is None:
            return None
        layer = _layer(grown)
        layers.append(layer)
    long, short = layers[-1], layers[size // 2]
    everything = int(np.bitwise_or.reduce(masks))
    best = np.array([limit, -1, -1], np.int64)
    for begin in range(0, len(long.rows), STEP):
        if ended():
            return None
        end = min(begin + STEP, len(long.rows))
        meet(long.rows, short.rows, short.keys, short.starts, begin, end, size, most, everything, best)
    if best[1] < 0:
        return Proof((), limit)
    first = _order(int(long.rows[best[1], ORDER]), size - size // 2)
    second = _order(int(short.rows[best[2], ORDER]), size // 2)
    return Proof((*first, *reversed(second)), int(best[0]))


def _order(word: int, length: int) -> tuple[int, ...]:
    return tuple(word >> BITS * at & ((1 << BITS) - 1) for at in reversed(range(length)))


def _layer(rows: Ints) -> _Layer:
    keys, starts = np.unique(rows[:, PARTS], return_index=True)
    return _Layer(rows, keys, np.append(starts, len(rows)).astype(np.int64))


def _grown(
    layer: _Layer,
    masks: Ints,
    apart: Ints,
    places: int,
    most: int,
    limit: int,
    ended: Callable[[], bool],
    kept: int,
) -> Ints | None:
    """Beginnings one part longer, ordered by their parts."""
    size = len(masks)
    longer = [key | 1 << part for key in layer.keys.tolist() for part in range(size) if not key >> part & 1]
    targets = np.unique(np.array(longer, np.int64))
    longest = int(np.diff(layer.starts).max(initial=0)) * size
    width = FIRST + 2 * most
    spare, wide = np.zeros((longest, width), np.int64), np.zeros(longest, np.int64)
    out = np.zeros((max(4 * longest, 4096), width), np.int64)
    pieces: list[Ints] = []
    written = begin = 0
    while begin < len(targets):
        if ended() or written > kept:
            return None
        end = min(begin + STEP, len(targets))
        step = max(1, len(out) // max(longest, 1))
        end = min(end, begin + step)
        count = grow(
            layer.rows, layer.keys, layer.starts, targets, begin, end, masks, apart, places, most,
            limit, out, spare, wide,
        )  # fmt: skip
        if count < 0:
            return None
        pieces.append(out[:count].copy())
        written += count
        begin = end
    return np.concatenate(pieces) if pieces else np.zeros((0, width), np.int64)
