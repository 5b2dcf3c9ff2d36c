"""Loads the magazine with the tools of a plan."""

from __future__ import annotations

import math
from dataclasses import replace

from sequencer.errors import Finding
from sequencer.magazine.fewest import Fewest, fewest_pockets
from sequencer.magazine.findings import (
    balance_finding,
    capacity_finding,
    mass_finding,
    size_findings,
    stock_findings,
    stop_finding,
    strand_findings,
)
from sequencer.magazine.layout import Layout, loaded_tools, make_layout
from sequencer.magazine.remedies import Asked, find_remedies, in_order_of_cost
from sequencer.magazine.stops import manual_stops
from sequencer.magazine.table import MagazineTable, Remedy
from sequencer.magazine.uses import tool_uses
from sequencer.sequencing import Sequence
from sequencer.shop import Shop
from sequencer.shop.pocket_limits import goes_by_hand


def make_magazine(sequence: Sequence, shop: Shop, lot: int) -> MagazineTable:
    """Load the magazine with the tools of a plan and its residents.

    Parameters
    ----------
    sequence
        The order with the chosen tools.
    shop
        Shop with tools and magazine.
    lot
        Pieces of the lot, for the number of tools that it wears out.
    """
    uses = tool_uses(sequence, shop, lot)
    over = [use.tool for use in uses if goes_by_hand(shop.tool_by_name[use.tool], shop.magazine)]
    parted = tools_parted([use.tool for use in uses if use.tool not in over], shop)
    by_hand = tuple(use.tool for use in uses if use.tool in over or use.tool in parted)
    asked = Asked(sequence, shop, lot, uses, by_hand)
    copies = asked.copies(uses)
    tools = loaded_tools(copies, shop)
    fewest = fewest_pockets(tools, shop.magazine)
    there = max(shop.magazine.pockets, fewest.pockets)
    layout = make_layout(tools, shop.magazine.resized(there)) or Layout((), 0.0, 0.0)
    mass = math.fsum(tool.mass for tool in tools)
    fits = 0 < len(layout.pockets) <= shop.magazine.pockets
    stops = manual_stops(sequence, shop, by_hand)
    findings = (
        *size_findings(by_hand, shop),
        *strand_findings(parted, shop),
        *(balance_finding(layout, shop) if fits else ()),
        *stock_findings(uses, shop, lot),
        *stop_finding(stops),
    )
    made = MagazineTable(
        layout.pockets,
        uses,
        fewest.pockets,
        shop.magazine.pockets,
        by_hand,
        findings,
        fewest.bound,
        round(mass, 9),
        layout.imbalance,
        layout.imbalance_bound,
        stops,
    )
    return with_remedies(made, find_remedies(asked), shop) if trouble_findings(made, (), shop) else made


def tools_parted(names: list[str], shop: Shop) -> dict[str, str]:
    """Give the tools that would touch another one when the strands of the chain pass each other.

    Source: derived; the widest goes until the two widest left pass each other.

    Parameters
    ----------
    names
        Tools of the plan that fit the magazine by themselves.
    shop
        Shop with tools and magazine.
    """
    gap = shop.magazine.strand_gap
    parted: dict[str, str] = {}
    if gap is None:
        return parted
    listed = list(dict.fromkeys((*names, *shop.magazine.residents)))
    by_size = sorted(listed, key=lambda name: (-shop.tool_by_name[name].body_diameter, name))
    while len(by_size) > 1:
        first, second = (float(shop.tool_by_name[name].body_diameter) for name in by_size[:2])
        if first / 2 + second / 2 + shop.magazine.clearance <= gap + 1e-9:
            break
        going = next((name for name in by_size[:2] if name not in shop.magazine.residents), by_size[0])
        by_size.remove(going)
        parted[going] = by_size[0]
    return parted


def with_remedies(table: MagazineTable, remedies: tuple[Remedy, ...], shop: Shop) -> MagazineTable:
    """Say what does not fit, with some remedies and those known before.

    Parameters
    ----------
    table
        The magazine of a plan.
    remedies
        Ways to make its tools fit.
    shop
        Shop with tools and magazine.
    """
    before = trouble_findings(table, table.remedies, shop)
    known = in_order_of_cost([*table.remedies, *remedies])
    others = tuple(each for each in table.findings if each not in before)
    return replace(table, remedies=known, findings=(*trouble_findings(table, known, shop), *others))


def trouble_findings(table: MagazineTable, remedies: tuple[Remedy, ...], shop: Shop) -> tuple[Finding, ...]:
    """Say which of pockets and mass are too few, with the remedies.

    Parameters
    ----------
    table
        The magazine of a plan.
    remedies
        Ways to make its tools fit, the cheapest first.
    shop
        Shop with tools and magazine.
    """
    found = []
    if not table.fits:
        fewest = Fewest(table.needed, table.bound)
        found.append(capacity_finding(fewest, table.uses, shop, remedies))
    if table.mass > shop.magazine.total_mass + 1e-6:
        found.append(mass_finding(table.mass, shop, () if found else remedies))
    return tuple(found)
