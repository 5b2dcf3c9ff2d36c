"""A plain chain as a table of costs: one alternative each, costs between neighbours, and arrows alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np
import numpy.typing as npt

from sequencer.ordering.exchanges import Arrows
from sequencer.ordering.kernels import WORD, Ints
from sequencer.ordering.model import Model, bits
from sequencer.ordering.plainness import between
from sequencer.ordering.search import Plan

#: Cost of a step that no order takes; a sum of 500 of them fits.
BARRED: Final = 1 << 50


@dataclass(frozen=True, eq=False)
class Chain:
    """Operations of which the first comes before and the last after all others.

    Parameters
    ----------
    cost
        Cost of each step, `BARRED` where no order takes it.
    earlier
        Whether the operation of the row comes before that of the column.
    own
        What the operations cost by themselves, whatever the order.
    names
        Operation and alternative of the problem; -1 for a first or last one that was put in.
    """

    cost: Ints
    earlier: npt.NDArray[np.bool_]
    own: int
    names: tuple[tuple[int, int], ...]

    @property
    def size(self) -> int:
        """Number of operations."""
        return len(self.cost)

    @cached_property
    def direct(self) -> npt.NDArray[np.bool_]:
        """Arrows that do not follow from others."""
        table = self.earlier.astype(np.float32)
        return self.earlier & ~(table @ table > 0)

    @cached_property
    def arrows(self) -> Arrows:
        """The direct arrows as lists."""
        before = [np.flatnonzero(column) for column in self.direct.T]
        after = [np.flatnonzero(row) for row in self.direct]
        return Arrows(*_lists(before), *_lists(after))

    @cached_property
    def before(self) -> Ints:
        """The operations directly before each one, as words of a set."""
        words = np.zeros((self.size, (self.size + WORD - 1) // WORD), np.int64)
        for a, b in zip(*np.nonzero(self.direct), strict=True):
            words[b, a // WORD] |= 1 << int(a % WORD)
        return words

    @property
    def density(self) -> float:
        """Part of the pairs of operations between first and last whose order is given."""
        inner = self.earlier[1:-1, 1:-1]
        return float(inner.sum()) / max(1, inner.size - len(inner)) * 2

    def total(self, order: Ints) -> int:
        """Cost of an order, own costs left out.

        Parameters
        ----------
        order
            All operations.
        """
        return int(self.cost[order[:-1], order[1:]].sum())

    def plan(self, order: Ints) -> Plan:
        """Give an order as a plan.

        Parameters
        ----------
        order
            All operations.
        """
        named = [self.names[op] for op in order.tolist()]
        return Plan(self.total(order) + self.own, 0, tuple(name for name in named if name[0] >= 0))

    def order(self, plan: Plan) -> Ints:
        """Give a plan as an order.

        Parameters
        ----------
        plan
            The plan.
        """
        place = {name: op for op, name in enumerate(self.names)}
        inner = [place[step] for step in plan.steps]
        first = [0] if self.names[0][0] < 0 else []
        last = [self.size - 1] if self.names[-1][0] < 0 else []
        return np.array([*first, *inner, *last], np.int64)


def _lists(members: Sequence[Ints]) -> tuple[Ints, Ints]:
    first = np.cumsum([0, *map(len, members)]).astype(np.int64)
    return first, np.concatenate(members).astype(np.int64)


def chain_of(model: Model) -> Chain:
    """Write a chain as a table; a first and a last operation are put in where there is none.

    Parameters
    ----------
    model
        The model, a chain.
    """
    ways = [ways[0] for ways in model.ways]
    size = len(ways)
    cost = np.array([[between(model, way, then) for then in ways] for way in ways], np.int64)
    earlier = np.zeros((size, size), np.bool_)
    for op, mask in enumerate(model.before):
        earlier[list(bits(mask)), op] = True
    names = [(way.operation, way.index) for way in ways]
    firsts = np.flatnonzero(earlier.sum(axis=1) == size - 1)
    lasts = np.flatnonzero(earlier.sum(axis=0) == size - 1)
    inner = [op for op in range(size) if op not in (*firsts, *lasts)]
    known = np.array([*firsts, *inner, *lasts], np.int64)
    head, tail = 1 - len(firsts), 1 - len(lasts)
    table = np.zeros((size + head + tail, size + head + tail), np.int64)
    drawn = np.zeros(table.shape, np.bool_)
    here = slice(head, head + size)
    table[here, here] = cost[np.ix_(known, known)]
    drawn[here, here] = earlier[np.ix_(known, known)]
    drawn[0, 1:] = drawn[:-1, -1] = True
    named = [(-1, 0)] * head + [names[op] for op in known.tolist()] + [(-1, 0)] * tail
    pairs = drawn.astype(np.float32)
    table[drawn.T | np.eye(len(table), dtype=np.bool_) | (pairs @ pairs > 0)] = BARRED
    return Chain(table, drawn, sum(way.cost for way in ways), tuple(named))
