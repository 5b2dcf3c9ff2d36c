"""What does not fit the magazine, by how much, and what the planner can do about it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sequencer.errors import Finding, Severity
from sequencer.magazine.fewest import Fewest
from sequencer.magazine.layout import Layout
from sequencer.magazine.table import ManualStop, Remedy, ToolUse
from sequencer.magazine.uses import INDEXED
from sequencer.shop import Shop
from sequencer.shop.pocket_limits import excesses
from sequencer.units import Kg, shown

SUBJECT = "magazine"


def size_findings(by_hand: tuple[str, ...], shop: Shop) -> Iterator[Finding]:
    """Say which tools are over a limit of the magazine.

    Parameters
    ----------
    by_hand
        Tools that are loaded by hand.
    shop
        Shop with tools and magazine.
    """
    for name in by_hand:
        over = excesses(shop.tool_by_name[name], shop.magazine)
        if over:
            yield Finding(
                Severity.WARNING,
                f"tool {name}",
                "it does not fit the magazine: " + "; ".join(over),
                remedy="load it by hand at a planned stop, or choose another tool",
                subject=SUBJECT,
            )


def strand_findings(parted: Mapping[str, str], shop: Shop) -> Iterator[Finding]:
    """Say which tools would touch one on the facing strand.

    Parameters
    ----------
    parted
        Tools that are loaded by hand for this reason, each with the tool that it would touch.
    shop
        Shop with tools and magazine.
    """
    for name, other in parted.items():
        first, second = shop.tool_by_name[name].body_diameter, shop.tool_by_name[other].body_diameter
        need = first / 2 + second / 2 + shop.magazine.clearance
        yield Finding(
            Severity.WARNING,
            f"tool {name}",
            f"it would touch {other} where the strands of the chain pass: both need {shown(need, 1)} mm",
            limit=f"strand_gap {shop.magazine.strand_gap}",
            remedy="load it by hand at a planned stop, or choose another tool",
            subject=SUBJECT,
        )


def capacity_finding(
    fewest: Fewest, uses: tuple[ToolUse, ...], shop: Shop, remedies: tuple[Remedy, ...]
) -> Finding:
    """Say how many pockets are missing, and the cheapest remedies.

    Parameters
    ----------
    fewest
        Pockets that the tools need.
    uses
        Tools of the plan.
    shop
        Shop with tools and magazine.
    remedies
        Ways to make them fit, the cheapest first.
    """
    over = fewest.pockets - shop.magazine.pockets
    least = "" if fewest.proven else f" (at least {fewest.bound - shop.magazine.pockets})"
    proof = "no arrangement needs fewer" if fewest.proven else "a better arrangement was not found"
    if fewest.pockets <= shop.magazine.pockets:
        over, least, proof = 0, "", "but no place was found for each of them"
    once = [use.tool for use in uses if len(use.steps) == 1 and use.tool not in shop.magazine.residents]
    return Finding(
        Severity.ERROR,
        "magazine",
        f"the plan needs {fewest.pockets} pockets, {over}{least} more than there are; {proof}",
        limit=f"{shop.magazine.pockets} pockets",
        remedy=_remedy_words(remedies)
        or f"tools used once: {', '.join(once) or 'none'}; load some by hand, or take residents out",
        subject=SUBJECT,
    )


def price_words(remedy: Remedy) -> str:
    """Write what a remedy costs and leaves.

    Parameters
    ----------
    remedy
        The remedy.
    """
    money = f", {shown(remedy.money, 0)} {remedy.currency}" if round(remedy.money) else ""
    return (
        f"{remedy.needed} of {remedy.available} pockets, +{shown(remedy.minutes, 1)} min for the lot{money}"
    )


def mass_finding(total: Kg, shop: Shop, remedies: tuple[Remedy, ...]) -> Finding:
    """Say that all tools together are too heavy, and the cheapest remedies.

    Parameters
    ----------
    total
        Mass of all tools in the magazine [kg].
    shop
        Shop with tools and magazine.
    remedies
        Ways to make them fit, the cheapest first.
    """
    over = shown(total - shop.magazine.total_mass, 1)
    return Finding(
        Severity.ERROR,
        "magazine",
        f"all tools together weigh {shown(total, 1)} kg, {over} kg too much",
        limit=f"{shop.magazine.total_mass.text} in total",
        remedy=_remedy_words(remedies) or "load the heaviest by hand at a planned stop",
        subject=SUBJECT,
    )


def _remedy_words(remedies: tuple[Remedy, ...]) -> str:
    words = [f"{each.words} ({price_words(each)})" for each in remedies]
    return "cheapest first: " + "; or ".join(words) if words else ""


def balance_finding(layout: Layout, shop: Shop) -> Iterator[Finding]:
    """Say when one side hangs heavier than it may.

    Parameters
    ----------
    layout
        Tools in their pockets.
    shop
        Shop with tools and magazine.
    """
    limit = shop.magazine.imbalance
    if limit is None or layout.imbalance <= limit + 1e-6:
        return
    proven = layout.imbalance_bound > limit
    words = "no arrangement keeps it" if proven else "no better arrangement was found"
    yield Finding(
        Severity.ERROR,
        "magazine",
        f"one side is {shown(layout.imbalance, 1)} kg heavier than the other, "
        f"{shown(layout.imbalance - limit, 1)} kg too much; {words} "
        f"(at least {shown(layout.imbalance_bound, 1)} kg)",
        limit=f"imbalance {limit.text}",
        remedy="load the heaviest tool by hand at a planned stop, or put a weight opposite to it",
        subject=SUBJECT,
    )


def stop_finding(stops: tuple[ManualStop, ...]) -> Iterator[Finding]:
    """Name the planned stops.

    Parameters
    ----------
    stops
        Planned stops for tools loaded by hand.
    """
    if stops:
        listed = [
            f"before step {stop.step} in {stop.clamping}: {', '.join(stop.tools)}"
            + (" (right after clamping)" if stop.attended else "")
            for stop in stops
        ]
        minutes = math.fsum(stop.minutes for stop in stops)
        yield Finding(
            Severity.NOTE,
            "magazine",
            f"{len(stops)} planned stop{'s' if len(stops) > 1 else ''}, {shown(minutes, 1)} min a piece, "
            f"for tools loaded by hand: {'; '.join(listed)}",
            remedy="have an operator there and the tools set",
            subject=SUBJECT,
        )


def stock_findings(uses: tuple[ToolUse, ...], shop: Shop, lot: int) -> Iterator[Finding]:
    """Say where fewer tools are owned than are worn out, where none is owned, and what does not last.

    Parameters
    ----------
    uses
        Tools of the plan.
    shop
        Shop with tools.
    lot
        Pieces of the lot [-].
    """
    for use in uses:
        tool = shop.tool_by_name[use.tool]
        if tool.owned < 1:
            limit = f"lead time {tool.lead_time.text}"
            what = "the shop owns none"
            yield Finding(Severity.WARNING, f"tool {use.tool}", what, limit, "order it now", SUBJECT)
        elif not use.lasts:
            yield _not_lasting(use)
        elif tool.owned < use.window_edges:
            yield _window(use, tool.owned)
        elif tool.owned < use.edges or (tool.owned < use.lot_edges and tool.kind not in INDEXED):
            yield _worn(use, tool.owned, lot, indexed=tool.kind in INDEXED)


def _not_lasting(use: ToolUse) -> Finding:
    return Finding(
        Severity.WARNING,
        f"tool {use.tool}",
        f"an edge does not last the whole of {', '.join(use.whole_gears)}: {use.reason}",
        remedy="plan a new edge before the finishing cut and a lower speed, or a longer-lived tool",
        subject=SUBJECT,
    )


def _window(use: ToolUse, owned: int) -> Finding:
    return Finding(
        Severity.WARNING,
        f"tool {use.tool}",
        f"the unattended time wears out {use.window_edges} of them, {owned} are owned: {use.reason}",
        remedy=f"have {use.window_edges - owned} more ready, or shorten the unattended time",
        subject=SUBJECT,
    )


def _worn(use: ToolUse, owned: int, lot: int, *, indexed: bool) -> Finding:
    one = owned < use.edges
    worn, what = (use.edges, "one part") if one else (use.lot_edges, f"the lot of {lot}")
    if indexed:
        tools = "tool is" if owned == 1 else "tools are"
        return Finding(
            Severity.NOTE,
            f"tool {use.tool}",
            f"{what} wears out {worn} edges, {owned} such {tools} owned: {use.reason}",
            remedy="plan stops at which the edge is indexed",
            subject=SUBJECT,
        )
    return Finding(
        Severity.WARNING if one else Severity.NOTE,
        f"tool {use.tool}",
        f"{what} wears out {worn} of them, {owned} are owned: {use.reason}",
        remedy=f"have {worn - owned} more ready before the start, and measure each anew"
        if one
        else f"have {worn - owned} more ready, or sharpen between pieces, and measure each anew",
        subject=SUBJECT,
    )
