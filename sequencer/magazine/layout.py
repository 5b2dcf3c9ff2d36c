"""The pocket plan: residents first, wide tools together, mass spread over both sides."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sequencer.magazine.balance import balanced, imbalance, least_imbalance
from sequencer.magazine.fewest import best_row
from sequencer.magazine.placing import place
from sequencer.magazine.room import Loaded, Room, loaded_tool
from sequencer.magazine.table import Pocket
from sequencer.shop import Magazine, Shop
from sequencer.units import Kg


@dataclass(frozen=True)
class Layout:
    """Tools in their pockets.

    Parameters
    ----------
    pockets
        All pockets, in order.
    imbalance, imbalance_bound
        Imbalance, and what no arrangement has less than [kg].
    """

    pockets: tuple[Pocket, ...]
    imbalance: Kg
    imbalance_bound: Kg


def loaded_tools(copies: Mapping[str, int], shop: Shop) -> tuple[Loaded, ...]:
    """Give the tools of a magazine one by one, residents first, then the pockets kept empty.

    Parameters
    ----------
    copies
        Number of equal tools by name; residents are added where they are missing.
    shop
        Shop with tools and magazine.
    """
    magazine = shop.magazine
    counted = dict.fromkeys(magazine.residents, 1) | dict(copies)
    tools = [
        loaded_tool(shop.tool_by_name[name], sister)
        for name, count in counted.items()
        for sister in range(count)
    ]
    gap = Loaded("", 0, float(magazine.diameter_full), 0.0, 0.0)
    return (*tools, *([gap] * magazine.empty_for_exchange))


def make_layout(
    tools: Sequence[Loaded], magazine: Magazine, held: Mapping[tuple[str, int], int] | None = None
) -> Layout | None:
    """Put tools into the pockets of a magazine; None if no place was found for one.

    Source: derived. Residents get the same pockets whatever else is loaded, where that is possible. Without a
    limit of the imbalance half the heaviest tool is small enough.

    Parameters
    ----------
    tools
        The tools, from `loaded_tools`.
    magazine
        The magazine.
    held
        Pockets, from 1, of tools that stay where they are, by name and sister.
    """
    room = Room(magazine)
    fixed = _held(tools, held or {}) or _residents(tools, magazine, room)
    found = place(tools, room, fixed).pockets
    if found is None and held is None:
        fixed = {}
        found = place(tools, room).pockets if len(tools) > 1 else None
        found = found or _in_row(tools, magazine)
    if found is None:
        return None
    ring = magazine.form != "rack"
    masses = [tool.mass for tool in tools if tool.name]
    bound = least_imbalance(masses, magazine.pockets, ring=ring)
    limit = magazine.imbalance
    enough = max(bound, max(masses, default=0.0) / 2 if limit is None else float(limit))
    places = balanced(tools, found, room, fixed=frozenset(fixed), enough=enough)
    by_pocket = [0.0] * room.count
    for index, pocket in enumerate(places):
        by_pocket[pocket] = tools[index].mass
    return Layout(_pockets(tools, places, room), round(imbalance(by_pocket, ring=ring), 9), round(bound, 9))


def _in_row(tools: Sequence[Loaded], magazine: Magazine) -> tuple[int, ...] | None:
    """The order that needs the fewest pockets, where only neighbours can touch."""
    if magazine.rows > 1 or magazine.strand_gap is not None or magazine.narrow_pockets or not tools:
        return None
    row = best_row([tool.diameter for tool in tools], magazine)
    return row.places if row.pockets <= magazine.pockets and magazine.form != "drum" else None


def _held(tools: Sequence[Loaded], held: Mapping[tuple[str, int], int]) -> dict[int, int]:
    return {
        index: held[tool.name, tool.sister] - 1
        for index, tool in enumerate(tools)
        if tool.name and (tool.name, tool.sister) in held
    }


def _residents(tools: Sequence[Loaded], magazine: Magazine, room: Room) -> dict[int, int]:
    """Pockets of the residents alone: they do not depend on the other tools."""
    staying = [i for i, tool in enumerate(tools) if tool.sister == 0 and tool.name in magazine.residents]
    found = place([tools[index] for index in staying], room).pockets
    return {} if found is None else dict(zip(staying, found, strict=True))


def _pockets(tools: Sequence[Loaded], places: Sequence[int], room: Room) -> tuple[Pocket, ...]:
    magazine = room.magazine
    holder = {pocket: tools[index] for index, pocket in enumerate(places)}
    closed = {each.pocket - 1: each.reason for each in magazine.narrow_pockets if not each.diameter > 0}
    full = float(magazine.diameter_full)
    wide = [(pocket, tool) for pocket, tool in sorted(holder.items()) if tool.diameter > full]
    made = []
    for number in range(room.count):
        tool = holder.get(number)
        if tool is not None and tool.name:
            resident = tool.sister == 0 and tool.name in magazine.residents
            made.append(Pocket(number + 1, tool.name, tool.sister, (), resident))
            continue
        blocking = [t.name for at, t in wide if room.kept_from(at, t.diameter, full) >> number & 1]
        remark = closed.get(number, "kept empty for the exchange" if tool is not None else "")
        made.append(Pocket(number + 1, "", 0, tuple(dict.fromkeys(blocking)), resident=False, remark=remark))
    return tuple(made)
