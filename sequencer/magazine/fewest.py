"""The fewest pockets that a set of tools needs, with a proof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from sequencer.magazine.placing import place
from sequencer.magazine.room import Loaded, Room, pockets_apart
from sequencer.shop import Magazine
from sequencer.units import Mm

#: States of the exact search for an arrangement.
STATES: Final = 150_000
#: Places tried for wide tools in a magazine of one size.
TRIALS: Final = 4_000
#: Larger magazines are not looked at.
MOST_POCKETS: Final = 1_500


@dataclass(frozen=True)
class Fewest:
    """The fewest pockets for some tools.

    Parameters
    ----------
    pockets
        A magazine with so many pockets holds them.
    bound
        No smaller one does.
    """

    pockets: int
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no smaller magazine holds them."""
        return self.pockets == self.bound


def fewest_pockets(tools: Sequence[Loaded], magazine: Magazine) -> Fewest:
    """Give the smallest magazine of this kind that holds the tools.

    Source: derived. Beside each other, tools need `pockets_apart`; the least sum of these over all orders
    round the ring (or along the rack) is found by dynamic programming over groups of equal need. Narrow
    pockets, rows and strands that face each other are searched pocket by pocket.

    Parameters
    ----------
    tools
        The tools, sisters and pockets kept empty included.
    magazine
        Magazine whose number of pockets is looked for.
    """
    if not tools:
        return Fewest(0, 0)
    diameters = sorted(tool.diameter for tool in tools)
    if magazine.form == "drum":
        return _on_drum(diameters, tools, magazine)
    in_row = _in_row(diameters, magazine)
    simple = magazine.rows == 1 and magazine.strand_gap is None and not magazine.narrow_pockets
    if simple:
        return in_row
    bound = len(tools) if magazine.rows > 1 else in_row.bound
    return _pocket_by_pocket(bound, tools, magazine)


def _on_drum(diameters: Sequence[Mm], tools: Sequence[Loaded], magazine: Magazine) -> Fewest:
    """On a drum the distances grow with the number of pockets: look at one number after the other."""
    straight = _in_row(diameters, magazine.model_copy(update={"form": "chain"}))
    if magazine.narrow_pockets:
        return _pocket_by_pocket(straight.bound, tools, magazine)
    bound = straight.bound
    for count in range(bound, MOST_POCKETS):
        in_row = _in_row(diameters, magazine.resized(count))
        if (
            in_row.bound <= count
            and place(tools, Room(magazine.resized(count)), trials=TRIALS).pockets is not None
        ):
            return Fewest(count, min(bound, count))
        if in_row.bound > count:
            bound = count + 1
    return Fewest(MOST_POCKETS, bound)


def _pocket_by_pocket(bound: int, tools: Sequence[Loaded], magazine: Magazine) -> Fewest:
    """Try magazines of rising size; the bound rises as long as each is proven too small."""
    proven = True
    for count in range(max(bound, len(tools)), MOST_POCKETS):
        tried = place(tools, Room(magazine.resized(count)), trials=TRIALS)
        if tried.pockets is not None:
            return Fewest(count, count if proven else bound)
        proven = proven and tried.complete
        if proven:
            bound = count + 1
    return Fewest(MOST_POCKETS, bound)


def _in_row(diameters: Sequence[Mm], magazine: Magazine) -> Fewest:
    """Least sum of `pockets_apart` over all orders of the tools."""
    row = best_row(diameters, magazine)
    return Fewest(row.pockets, row.bound)


@dataclass(frozen=True)
class Row:
    """Tools in a row, one after the other.

    Parameters
    ----------
    places
        Pocket of each diameter, from 0, in the order in which they were given.
    pockets
        Pockets of the whole row, the gap back to its beginning included where it is a ring.
    bound
        No order needs fewer.
    """

    places: tuple[int, ...]
    pockets: int
    bound: int


def best_row(diameters: Sequence[Mm], magazine: Magazine) -> Row:
    """Put tools in the order that needs the fewest pockets round the ring or along the rack.

    Source: derived

    Parameters
    ----------
    diameters
        Diameters of the tools [mm].
    magazine
        The magazine.
    """
    ring = magazine.form != "rack"
    grouped = _Groups(diameters, magazine)
    if len(diameters) == 1:
        alone = grouped.needs[0][0] if ring else 1
        return Row((0,), alone, alone)
    order = grouped.shortest(ring=ring)
    proven = order is not None
    if order is None:
        order = tuple(sorted(range(len(diameters)), key=lambda index: diameters[index]))
    at, places = 0, dict.fromkeys(order[:1], 0)
    for before, after in pairwise(order):
        at += pockets_apart(diameters[before], diameters[after], magazine)
        places[after] = at
    back = pockets_apart(diameters[order[-1]], diameters[order[0]], magazine) if ring else 1
    bound = at + back if proven else min(at + back, grouped.least())
    return Row(tuple(places[index] for index in range(len(diameters))), at + back, bound)


class _Groups:
    """Tools in groups of equal need; some of a group that stand side by side at no cost are left out."""

    def __init__(self, diameters: Sequence[Mm], magazine: Magazine) -> None:
        different = sorted(set(diameters))
        rows = {a: tuple(pockets_apart(a, b, magazine) for b in different) for a in different}
        members: dict[tuple[int, ...], list[int]] = {}
        for index, diameter in enumerate(diameters):
            members.setdefault(rows[diameter], []).append(index)
        self.members = list(members.values())
        heads = [diameters[group[0]] for group in self.members]
        self.needs = [[pockets_apart(a, b, magazine) for b in heads] for a in heads]
        total = len(diameters)
        self.counts = [
            min(len(group), total - len(group) + 1) if self.needs[at][at] == 1 else len(group)
            for at, group in enumerate(self.members)
        ]

    def least(self) -> int:
        """Give what no order goes below: every tool needs its nearest neighbour."""
        return sum(min(row) * len(group) for row, group in zip(self.needs, self.members, strict=True))

    def shortest(self, *, ring: bool) -> tuple[int, ...] | None:
        """Give the order of least sum, by dynamic programming; None if there are too many states."""
        groups = range(len(self.counts))
        starts = [min(groups, key=lambda group: self.counts[group])] if ring else list(groups)
        best: tuple[int, list[int]] | None = None
        for start in starts:
            found = self._from(start, ring=ring)
            if found is None:
                return None
            best = found if best is None or found[0] < best[0] else best
        return None if best is None else self._spread(best[1])

    def _from(self, start: int, *, ring: bool) -> tuple[int, list[int]] | None:
        groups = range(len(self.counts))
        left = tuple(count - (group == start) for group, count in enumerate(self.counts))
        layers: list[dict[_State, int]] = [{(left, start): 0}]
        seen = 0
        for _ in range(sum(left)):
            following: dict[_State, int] = {}
            for (remaining, last), cost in layers[-1].items():
                for group in groups:
                    if remaining[group]:
                        state = (_changed(remaining, group, -1), group)
                        value = cost + self.needs[last][group]
                        if value < following.get(state, value + 1):
                            following[state] = value
            layers.append(following)
            seen += len(following)
            if seen > STATES:
                return None
        back = {
            state: cost + (self.needs[state[1]][start] if ring else 0) for state, cost in layers[-1].items()
        }
        end = min(back, key=lambda state: (back[state], state))
        return back[end], self._traced(layers, end)

    def _traced(self, layers: list[dict[_State, int]], end: _State) -> list[int]:
        """Go back through the layers along the least costs."""
        order, state = [end[1]], end
        for before, here in zip(layers[-2::-1], layers[:0:-1], strict=True):
            remaining, last = state
            earlier = _changed(remaining, last, 1)
            state = next(
                (earlier, group)
                for group in range(len(self.counts))
                if (earlier, group) in before
                and before[earlier, group] + self.needs[group][last] == here[remaining, last]
            )
            order.append(state[1])
        return order[::-1]

    def _spread(self, order: list[int]) -> tuple[int, ...]:
        """Turn groups into tools; those left out follow the first of their group."""
        waiting = [list(group) for group in self.members]
        left_out = [len(group) - count for group, count in zip(self.members, self.counts, strict=True)]
        listed: list[int] = []
        for group in order:
            for _ in range(1 + left_out[group]):
                listed.append(waiting[group].pop(0))
            left_out[group] = 0
        return tuple(listed)


_State = tuple[tuple[int, ...], int]


def _changed(counts: tuple[int, ...], group: int, by: int) -> tuple[int, ...]:
    return (*counts[:group], counts[group] + by, *counts[group + 1 :])
