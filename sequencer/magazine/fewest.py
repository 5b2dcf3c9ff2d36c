"""The fewest pockets that a set of tools needs, with a proof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from sequencer.magazine.placing import place
from sequencer.magazine.room import Loaded, Room, pockets_apart
from sequencer.shop import Magazine
from sequencer.units import Mm

#: States of the exact search for an arrangement.
STATES: Final = 150_000
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
        if in_row.bound <= count and place(tools, Room(magazine.resized(count))).pockets is not None:
            return Fewest(count, min(bound, count))
        if in_row.bound > count:
            bound = count + 1
    return Fewest(MOST_POCKETS, bound)


def _pocket_by_pocket(bound: int, tools: Sequence[Loaded], magazine: Magazine) -> Fewest:
    """Try magazines of rising size; the bound rises as long as each is proven too small."""
    proven = True
    for count in range(max(bound, len(tools)), MOST_POCKETS):
        tried = place(tools, Room(magazine.resized(count)))
        if tried.pockets is not None:
            return Fewest(count, count if proven else bound)
        proven = proven and tried.complete
        if proven:
            bound = count + 1
    return Fewest(MOST_POCKETS, bound)


def _in_row(diameters: Sequence[Mm], magazine: Magazine) -> Fewest:
    """Least sum of `pockets_apart` over all orders of the tools."""
    ring = magazine.form != "rack"
    needs, counts, spare = _groups(diameters, magazine)
    if len(diameters) == 1:
        alone = needs[0][0] if ring else 1
        return Fewest(alone, alone)
    least = sum(
        count * (min(row) if sum(counts) > 1 else row[0]) for row, count in zip(needs, counts, strict=True)
    )
    found = _shortest(needs, counts, ring=ring)
    if found is not None:
        return Fewest(found + spare, found + spare)
    by_size = sorted(diameters)
    pairs = list(zip(by_size, by_size[1:], strict=False)) + ([(by_size[-1], by_size[0])] if ring else [])
    made = sum(pockets_apart(a, b, magazine) for a, b in pairs) + (0 if ring else 1)
    return Fewest(made, min(made, least + spare))


def _groups(diameters: Sequence[Mm], magazine: Magazine) -> tuple[list[list[int]], list[int], int]:
    """Group diameters of equal need; tools of a group that stand side by side at no cost may be left out."""
    different = sorted(set(diameters))
    rows = {a: tuple(pockets_apart(a, b, magazine) for b in different) for a in different}
    members: dict[tuple[int, ...], list[Mm]] = {}
    for diameter in diameters:
        members.setdefault(rows[diameter], []).append(diameter)
    heads = [group[0] for group in members.values()]
    counts = [len(group) for group in members.values()]
    needs = [[pockets_apart(a, b, magazine) for b in heads] for a in heads]
    spare = 0
    for index, count in enumerate(counts):
        most = sum(counts) - count + 1
        if needs[index][index] == 1 and count > most:
            spare += count - most
            counts[index] = most
    return needs, counts, spare


def _shortest(needs: list[list[int]], counts: list[int], *, ring: bool) -> int | None:
    """Least sum over all orders, by dynamic programming over the tools left; None if there are too many."""
    groups = range(len(counts))
    starts = [min(groups, key=lambda group: counts[group])] if ring else list(groups)
    best: int | None = None
    for start in starts:
        left = tuple(count - (group == start) for group, count in enumerate(counts))
        layer = {(left, start): 0 if ring else 1}
        seen = 0
        for _ in range(sum(left)):
            following: dict[tuple[tuple[int, ...], int], int] = {}
            for (remaining, last), cost in layer.items():
                for group in groups:
                    if remaining[group]:
                        key = (_less(remaining, group), group)
                        value = cost + needs[last][group]
                        if value < following.get(key, value + 1):
                            following[key] = value
            layer = following
            seen += len(layer)
            if seen > STATES:
                return None
        ends = (cost + (needs[last][start] if ring else 0) for (_, last), cost in layer.items())
        least = min(ends)
        best = least if best is None else min(best, least)
    return best


def _less(counts: tuple[int, ...], group: int) -> tuple[int, ...]:
    return (*counts[:group], counts[group] - 1, *counts[group + 1 :])
