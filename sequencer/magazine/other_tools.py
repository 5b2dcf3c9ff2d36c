"""Another choice of methods and tools as a remedy: what the order is asked for, and what it costs."""

from __future__ import annotations

from sequencer.magazine.room import pockets_apart
from sequencer.magazine.table import MagazineTable, Remedy
from sequencer.sequencing import Places, Sequence
from sequencer.shop import Shop
from sequencer.shop.pocket_limits import goes_by_hand


def tool_places(table: MagazineTable, shop: Shop) -> Places:
    """Say how many pockets each tool takes and how many there are for all, for the search of the order.

    Source: derived; a tool that keeps neighbours empty is counted with the gap to its like, since wide tools
    share gaps; the magazine of the order that is found is planned in full.

    Parameters
    ----------
    table
        The magazine of the plan that does not fit.
    shop
        Shop with tools and magazine.
    """
    magazine = shop.magazine
    loaded = {use.tool: use.loaded for use in table.uses}
    weights = {
        tool.name: loaded.get(tool.name, 1)
        * pockets_apart(float(tool.body_diameter), float(tool.body_diameter), magazine)
        for tool in shop.tools
        if not goes_by_hand(tool, magazine)
    }
    held = sum(weights.get(name, 0) // loaded.get(name, 1) for name in magazine.residents)
    for name in magazine.residents:
        weights[name] = weights.get(name, 0) - weights.get(name, 0) // loaded.get(name, 1)
    closed = sum(1 for each in magazine.narrow_pockets if not each.diameter > 0)
    capacity = magazine.pockets - held - closed - magazine.empty_for_exchange
    return Places(weights, max(0, capacity))


def other_tools(before: Sequence, after: Sequence, made: MagazineTable, shop: Shop, lot: int) -> Remedy:
    """Price an order with other methods or tools that fit the magazine.

    Source: derived

    Parameters
    ----------
    before
        The order whose tools do not fit.
    after
        The order whose tools fit.
    made
        Its magazine.
    shop
        Shop with rates.
    lot
        Pieces of the lot [-].
    """
    minutes = round(lot * (after.minutes - before.minutes), 6)
    money = minutes / 60 * shop.rates.machine_hour
    were = dict.fromkeys(step.alternative.tool for step in before.steps if step.alternative.tool)
    used = dict.fromkeys(step.alternative.tool for step in after.steps if step.alternative.tool)
    out = ", ".join(name for name in were if name not in used) or "none"
    new = ", ".join(name for name in used if name not in were) or "no other"
    clampings = "" if after.clampings == before.clampings else f", in {after.clampings} clampings"
    words = f"choose other methods or tools: without {out}, with {new}{clampings}"
    currency = shop.rates.currency
    return Remedy("other tools", words, made.needed, made.available, minutes, round(money, 6), currency)
