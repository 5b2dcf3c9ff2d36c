"""Ways to make the tools fit: each one loaded anew, and priced in minutes and money."""

from __future__ import annotations

import heapq
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from sequencer.magazine.fewest import Fewest, fewest_pockets
from sequencer.magazine.layout import loaded_tools
from sequencer.magazine.table import Remedy, ToolUse
from sequencer.magazine.uses import Policy, copies_loaded, tool_uses
from sequencer.sequencing import Sequence
from sequencer.shop import Magazine, Shop
from sequencer.units import Kg, Minutes

#: Sets of tools loaded by hand that are tried.
SETS: Final = 600


@dataclass(frozen=True)
class Asked:
    """What does not fit.

    Parameters
    ----------
    sequence
        The order with the chosen tools.
    shop
        Shop with tools and magazine.
    lot
        Pieces of the lot.
    uses
        Tools of the plan.
    by_hand
        Tools that are loaded by hand already.
    """

    sequence: Sequence
    shop: Shop
    lot: int
    uses: tuple[ToolUse, ...]
    by_hand: tuple[str, ...]

    def copies(self, uses: tuple[ToolUse, ...]) -> dict[str, int]:
        """Equal tools in the magazine by name, residents included."""
        return copies_loaded(uses, self.by_hand, self.shop)

    def money(self, minutes: Minutes) -> float:
        """Price of machine time at the rate of the shop."""
        return minutes / 60 * self.shop.rates.machine_hour


class Fitting:
    """Counts pockets and mass of sets of tools, each set of diameters once."""

    def __init__(self, shop: Shop) -> None:
        self.shop = shop
        self._known: dict[tuple[tuple[float, ...], int], Fewest] = {}

    def fewest(self, copies: Mapping[str, int], magazine: Magazine) -> Fewest:
        """Give the fewest pockets of a set of tools."""
        tools = loaded_tools(copies, self.shop)
        key = (tuple(sorted(tool.diameter for tool in tools)), magazine.pockets)
        if magazine.narrow_pockets:
            return fewest_pockets(tools, magazine)
        if key not in self._known:
            self._known[key] = fewest_pockets(tools, magazine)
        return self._known[key]

    def mass(self, copies: Mapping[str, int]) -> Kg:
        """Give the mass of a set of tools [kg]."""
        return math.fsum(self.shop.tool_by_name[name].mass * count for name, count in copies.items())

    def fits(self, copies: Mapping[str, int], magazine: Magazine) -> bool:
        """Whether a magazine holds a set of tools, pockets and mass."""
        if self.mass(copies) > magazine.total_mass + 1e-9:
            return False
        return self.fewest(copies, magazine).pockets <= magazine.pockets


def find_remedies(asked: Asked) -> tuple[Remedy, ...]:
    """Try every kind of remedy that leaves methods and order as they are, the cheapest first.

    Source: derived

    Parameters
    ----------
    asked
        What does not fit.
    """
    fitting = Fitting(asked.shop)
    found = [
        *_sisters(asked, fitting),
        *_split(asked, fitting),
        *_by_hand(asked, fitting),
        *_by_clamping(asked, fitting),
        *_bigger(asked, fitting),
    ]
    return in_order_of_cost([*found, *_two_at_once(asked, fitting, found)])


def _two_at_once(asked: Asked, fitting: Fitting, alone: list[Remedy]) -> Iterator[Remedy]:
    """Fewer sister tools with another remedy, where that fits alone only at a higher price, or not at all."""
    if any(each.kind == "sister tools" for each in alone):
        return
    for policy, text in _POLICIES.items():
        uses = tool_uses(asked.sequence, asked.shop, asked.lot, policy)
        if asked.copies(uses) == asked.copies(asked.uses):
            continue
        fewer, minutes = replace(asked, uses=uses), _exchanged(asked, uses)
        for second in (*_by_hand(fewer, fitting), *_by_clamping(fewer, fitting), *_bigger(fewer, fitting)):
            both = replace(
                second,
                words=f"{text}, and {second.words}",
                minutes=round(second.minutes + minutes, 6),
                money=round(second.money + asked.money(minutes), 6),
            )
            if all(both.money < each.money for each in alone if each.kind == second.kind):
                alone = [*alone, both]
                yield both


def in_order_of_cost(remedies: list[Remedy]) -> tuple[Remedy, ...]:
    """Put remedies in order: the cheapest first, then the quickest.

    Parameters
    ----------
    remedies
        The remedies.
    """
    return tuple(sorted(remedies, key=lambda each: (round(each.money, 6), each.minutes, each.kind)))


def _remedy(
    asked: Asked, fitting: Fitting, kind: str, words: str, copies: Mapping[str, int], minutes: Minutes
) -> Remedy:
    magazine = asked.shop.magazine
    needed = fitting.fewest(copies, magazine).pockets
    money, currency = asked.money(minutes), asked.shop.rates.currency
    return Remedy(kind, words, needed, magazine.pockets, round(minutes, 6), round(money, 6), currency)


def _exchanged(asked: Asked, uses: tuple[ToolUse, ...]) -> Minutes:
    """Time of the exchanges that fewer sister tools cost more [min]."""
    loaded = {use.tool: use.loaded for use in asked.uses}
    fewer = sum(max(0, loaded[use.tool] - use.loaded) for use in uses if use.tool not in asked.by_hand)
    return fewer * float(asked.shop.effort.load_tool)


_POLICIES: Final[dict[Policy, str]] = {
    "part": "load sister tools for one part only and exchange worn ones between parts",
    "one": "load one of each tool and exchange worn ones at planned stops",
}


def _sisters(asked: Asked, fitting: Fitting) -> Iterator[Remedy]:
    """Fewer sister tools; the worn ones are exchanged at stops."""
    before = asked.copies(asked.uses)
    for policy, text in _POLICIES.items():
        uses = tool_uses(asked.sequence, asked.shop, asked.lot, policy)
        copies = asked.copies(uses)
        if copies != before and fitting.fits(copies, asked.shop.magazine):
            yield _remedy(asked, fitting, "sister tools", text, copies, _exchanged(asked, uses))
            return


def _split(asked: Asked, fitting: Fitting) -> Iterator[Remedy]:
    """A smaller lot wears out fewer sister tools; the magazine is filled anew for each part of the lot."""
    if asked.shop.magazine.sisters != "lot":
        return
    before = asked.copies(asked.uses)
    low, high = 0, asked.lot - 1
    while low < high:
        middle = (low + high + 1) // 2
        copies = asked.copies(tool_uses(asked.sequence, asked.shop, middle))
        low, high = (middle, high) if fitting.fits(copies, asked.shop.magazine) else (low, middle - 1)
    if low < 1:
        return
    uses = tool_uses(asked.sequence, asked.shop, low)
    copies = asked.copies(uses)
    if copies != before:
        parts = -(-asked.lot // low)
        words = (
            f"split the lot of {asked.lot} into {parts} of at most {low}, made one right after the other, "
            "with fresh tools for each"
        )
        yield _remedy(asked, fitting, "split of the lot", words, copies, _exchanged(asked, uses))


def _by_hand(asked: Asked, fitting: Fitting) -> Iterator[Remedy]:
    """Load some tools by hand at planned stops: sets in the order of their cost until one fits."""
    copies = asked.copies(asked.uses)
    cost = {
        use.tool: _hand_minutes(asked, use.tool)
        for use in asked.uses
        if use.tool in copies and use.tool not in asked.shop.magazine.residents
    }
    names = sorted(cost, key=lambda name: (cost[name], name))
    queue: list[tuple[Minutes, tuple[int, ...]]] = [(cost[names[0]], (0,))] if names else []
    tried = 0
    while queue and tried < SETS:
        minutes, chosen = heapq.heappop(queue)
        tried += 1
        taken = {names[each] for each in chosen}
        left = {name: count for name, count in copies.items() if name not in taken}
        if fitting.fits(left, asked.shop.magazine):
            yield _hand_remedy(asked, fitting, [names[each] for each in chosen], left, minutes)
            return
        last = chosen[-1]
        if last + 1 < len(names):
            following = cost[names[last + 1]]
            heapq.heappush(queue, (minutes + following, (*chosen, last + 1)))
            heapq.heappush(queue, (minutes - cost[names[last]] + following, (*chosen[:-1], last + 1)))
    taken_names: list[str] = []
    left = dict(copies)
    while queue and names and not fitting.fits(left, asked.shop.magazine):
        taken_names.append(names.pop(0))
        del left[taken_names[-1]]
    if taken_names and fitting.fits(left, asked.shop.magazine):
        minutes = math.fsum(cost[name] for name in taken_names)
        yield _hand_remedy(asked, fitting, taken_names, left, minutes)


def _hand_remedy(
    asked: Asked, fitting: Fitting, names: list[str], left: Mapping[str, int], minutes: Minutes
) -> Remedy:
    words = f"load {', '.join(sorted(names))} by hand at planned stops"
    return _remedy(asked, fitting, "by hand", words, left, minutes)


def _hand_minutes(asked: Asked, name: str) -> Minutes:
    """Time that loading a tool by hand takes longer than a change from the magazine, for the lot [min]."""
    times, tool = asked.shop.machine.times, asked.shop.tool_by_name[name]
    heavy = tool.mass >= asked.shop.magazine.heavy_from
    usual = times.heavy_tool_change if heavy else times.chip_to_chip
    changes, before = 0, ("", 0)
    for step in asked.sequence.steps:
        if step.alternative.tool:
            here = (step.alternative.tool, step.visit)
            changes += here[0] == name and here != before
            before = here
    return asked.lot * changes * max(0.0, float(times.manual_tool_change - usual))


def _by_clamping(asked: Asked, fitting: Fitting) -> Iterator[Remedy]:
    """Load the tools of one clamping at a time; the lot goes through one clamping after the other."""
    copies = asked.copies(asked.uses)
    visits: dict[int, dict[str, int]] = {}
    for step in asked.sequence.steps:
        name = step.alternative.tool
        if step.visit and name in copies:
            held = visits.setdefault(step.visit, dict.fromkeys(asked.shop.magazine.residents, 1))
            held[name] = copies[name]
    if len(visits) < 2 or not all(fitting.fits(held, asked.shop.magazine) for held in visits.values()):
        return
    listed = list(visits.values())
    exchanged = sum(
        sum(count for name, count in one.items() if other.get(name, 0) < count)
        for other, one in pairwise(listed)
    )
    minutes = exchanged * float(asked.shop.effort.load_tool)
    most = max(visits.values(), key=lambda held: fitting.fewest(held, asked.shop.magazine).pockets)
    words = "run the lot through one clamping after the other and load the tools of each"
    yield _remedy(asked, fitting, "clamping by clamping", words, most, minutes)


def _bigger(asked: Asked, fitting: Fitting) -> Iterator[Remedy]:
    """A bigger magazine of the shop file."""
    now, copies = asked.shop.magazine, asked.copies(asked.uses)
    for option in asked.shop.magazine.options:
        mass = option.total_mass or now.total_mass
        magazine = now.model_copy(update={"pockets": option.pockets, "total_mass": mass})
        if option.pockets > now.pockets and fitting.fits(copies, magazine):
            needed = fitting.fewest(copies, magazine).pockets
            words = f"fit the magazine {option.name!r} of {option.pockets} pockets"
            yield Remedy(
                "bigger magazine", words, needed, option.pockets, 0.0, option.price, asked.shop.rates.currency
            )
