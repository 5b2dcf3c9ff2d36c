"""The order of the parts: due dates first, then the fewest tool exchanges, with a bound."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sequencer.rotation.keeping import Fits, Kept, Unit, fewest_of_equal_size, keep_soonest

#: Beginnings of an order that are looked at.
BEGINNINGS: Final = 12_000


@dataclass(frozen=True)
class Wanted:
    """What the order is chosen from.

    Parameters
    ----------
    needs
        Tools of each part, residents left out.
    days
        For each part, the days for which it is late when it ends after some working time, as a list of
        working times [min] after which one more day is late, rising.
    minutes
        Working time of each part [min].
    start
        Tools in the magazine at the start.
    places
        Pockets for the tools, were each of them one pocket.
    fits
        Whether the magazine holds a set of tools.
    """

    needs: tuple[frozenset[Unit], ...]
    days: tuple[tuple[float, ...], ...]
    minutes: tuple[float, ...]
    start: frozenset[Unit]
    places: int
    fits: Fits


@dataclass(frozen=True)
class Ordered:
    """An order of the parts.

    Parameters
    ----------
    order
        The parts in their order.
    kept
        Tools in the magazine at each part.
    loads
        Tools put in, the first filling counted.
    bound
        No order that is as punctual puts in fewer.
    """

    order: tuple[int, ...]
    kept: Kept
    loads: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no order that is as punctual puts in fewer tools."""
        return self.loads == self.bound


def late_days(wanted: Wanted, order: Sequence[int]) -> int:
    """Sum of the days for which parts are late [-].

    Source: derived

    Parameters
    ----------
    wanted
        What the order is chosen from.
    order
        The parts in their order, or the first ones of it.
    """
    passed, late = 0.0, 0
    for part in order:
        passed += wanted.minutes[part]
        late += sum(1 for limit in wanted.days[part] if passed > limit + 1e-6)
    return late


def listed_order(wanted: Wanted) -> Ordered:
    """Keep the order in which the parts are listed.

    Parameters
    ----------
    wanted
        What the order is chosen from.
    """
    order = tuple(range(len(wanted.needs)))
    kept = keep_soonest(wanted.needs, order, wanted.start, wanted.fits)
    loads = sum(len(each) for each in kept.loads)
    bound = fewest_of_equal_size(wanted.needs, order, wanted.start, wanted.places)
    return Ordered(order, kept, loads, min(bound, loads))


def best_order(wanted: Wanted) -> Ordered:
    """Choose the order: the fewest late days, then the fewest tools put in.

    Source: derived; depth first over beginnings of orders. The tools that a beginning puts in, and those that
    no part of it needs, are put in by every order that begins so. For more parts than can be looked at, the
    bound of the tool switching problem without due dates holds.

    Parameters
    ----------
    wanted
        What the order is chosen from.
    """
    search = _Search(wanted)
    search.run()
    order = search.best
    kept = keep_soonest(wanted.needs, order, wanted.start, wanted.fits)
    loads = sum(len(each) for each in kept.loads)
    bound = search.bound if search.complete else _loose_bound(wanted)
    return Ordered(order, kept, loads, min(loads, bound))


def _loose_bound(wanted: Wanted) -> int:
    """Fewest tools put in by any order, were each tool one pocket and nothing loaded at the start."""
    from sequencer.ordering.tool_switching import fewest_loads

    numbers = {
        unit: at for at, unit in enumerate(dict.fromkeys(u for each in wanted.needs for u in sorted(each)))
    }
    needs = [frozenset(numbers[unit] for unit in each) for each in wanted.needs]
    places = max(wanted.places, *(len(each) for each in needs))
    return max(0, fewest_loads(needs, places, rounds=1).bound - len(wanted.start))


class _Search:
    """Depth-first search over beginnings of orders."""

    def __init__(self, wanted: Wanted) -> None:
        self.wanted = wanted
        self.count = len(wanted.needs)
        self.seen = 0
        self.complete = True
        self.best: tuple[int, ...] = ()
        self.value = (10**9, 10**9)
        self.bound = 10**9
        self.all = frozenset(unit for needs in wanted.needs for unit in needs)

    def run(self) -> None:
        due = sorted(range(self.count), key=lambda part: (self.wanted.days[part] or (float("inf"),), part))
        self._take(tuple(due))
        self._take(self._nearest())
        self._from((), frozenset())
        self.bound = min(self.bound, self.value[1])

    def _nearest(self) -> tuple[int, ...]:
        """Begin with the first part and go on with the one that has most tools in common."""
        order = [0]
        while len(order) < self.count:
            left = [part for part in range(self.count) if part not in order]
            last = self.wanted.needs[order[-1]]
            order.append(max(left, key=lambda part: (len(self.wanted.needs[part] & last), -part)))
        return tuple(order)

    def _take(self, order: tuple[int, ...]) -> None:
        kept = keep_soonest(self.wanted.needs, order, self.wanted.start, self.wanted.fits)
        value = (late_days(self.wanted, order), sum(len(each) for each in kept.loads))
        if value < self.value:
            self.value, self.best = value, order

    def _least(self, order: tuple[int, ...], met: frozenset[Unit]) -> int:
        wanted = self.wanted
        put_in = fewest_of_equal_size(wanted.needs, order, wanted.start, wanted.places)
        return put_in + len(self.all - met - wanted.start)

    def _from(self, order: tuple[int, ...], met: frozenset[Unit]) -> None:
        if self.seen >= BEGINNINGS:
            self.complete = False
            return
        self.seen += 1
        late, least = late_days(self.wanted, order), self._least(order, met)
        if (late, least) >= self.value:
            return
        if len(order) == self.count:
            self._take(order)
            if late == self.value[0]:
                self.bound = min(self.bound, least)
            return
        left = [part for part in range(self.count) if part not in order]
        known = met | self.wanted.start
        for part in sorted(left, key=lambda each: (len(self.wanted.needs[each] - known), each)):
            self._from((*order, part), met | self.wanted.needs[part])
