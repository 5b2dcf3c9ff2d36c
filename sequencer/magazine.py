"""The magazine: which tools the plan needs, in which pockets, and whether they fit."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from sequencer.errors import Finding, Severity
from sequencer.sequencing import Sequence, Step
from sequencer.shop import AnyTool, Magazine, Shop
from sequencer.units import Minutes, Mm, NewtonMetre, shown

_GRAVITY = 9.81


@dataclass(frozen=True)
class Pocket:
    """One pocket of the magazine.

    Parameters
    ----------
    number
        Number of the pocket, from 1.
    tool
        Tool in it; empty if none.
    sister
        0 for the first of its kind, 1, 2 ... for sister tools.
    blocked_by
        Tools whose diameter needs this pocket empty.
    resident
        True if the tool always stays in the magazine.
    """

    number: int
    tool: str
    sister: int
    blocked_by: tuple[str, ...]
    resident: bool


@dataclass(frozen=True)
class ToolUse:
    """What the plan needs of one tool.

    Parameters
    ----------
    tool
        Name of the tool.
    steps
        Numbers of the steps that use it.
    minutes
        Its cutting time for one part [min].
    edges
        Edges or equal tools that one part wears out.
    loaded
        Number of equal tools in the magazine, sisters included: as many as are needed and owned.
    reason
        Why that many, with the numbers.
    """

    tool: str
    steps: tuple[int, ...]
    minutes: Minutes
    edges: int
    loaded: int
    reason: str


@dataclass(frozen=True)
class MagazineTable:
    """Pockets and tools of a plan.

    Parameters
    ----------
    pockets
        All pockets of the magazine, in order; more than there are if the tools do not fit.
    uses
        Tools in the order of their first use.
    needed
        Pockets that the tools take, blocked ones included.
    available
        Pockets of the magazine.
    by_hand
        Tools that are loaded by hand.
    findings
        What does not fit, and by how much.
    """

    pockets: tuple[Pocket, ...]
    uses: tuple[ToolUse, ...]
    needed: int
    available: int
    by_hand: tuple[str, ...]
    findings: tuple[Finding, ...]

    @cached_property
    def pocket_of(self) -> dict[str, int]:
        """Number of the first pocket of each tool."""
        places: dict[str, int] = {}
        for pocket in self.pockets:
            if pocket.tool:
                places.setdefault(pocket.tool, pocket.number)
        return places


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
    uses = tuple(_use(name, steps, shop, lot) for name, steps in _steps_by_tool(sequence).items())
    magazine = shop.magazine
    by_hand = tuple(use.tool for use in uses if _too_big(shop.tool_by_name[use.tool], magazine))
    copies = dict.fromkeys(magazine.residents, 1)
    copies |= {use.tool: use.loaded for use in uses if use.tool not in by_hand}
    pockets = place_tools(copies, shop)
    needed = pockets[-1].number if pockets else 0
    findings = (
        *_size_findings(by_hand, shop),
        *_capacity_findings(needed, uses, shop),
        *_mass_findings(copies, shop),
        *_stock_findings(uses, shop),
    )
    free = range(needed + 1, magazine.pockets + 1)
    pockets += tuple(Pocket(number, "", 0, (), resident=False) for number in free)
    return MagazineTable(pockets, uses, needed, magazine.pockets, by_hand, findings)


def _steps_by_tool(sequence: Sequence) -> dict[str, list[Step]]:
    lists: dict[str, list[Step]] = {}
    for step in sequence.steps:
        if step.alternative.tool:
            lists.setdefault(step.alternative.tool, []).append(step)
    return lists


def _use(name: str, steps: list[Step], shop: Shop, lot: int) -> ToolUse:
    """Count the tools that one part wears out."""
    tool = shop.tool_by_name[name]
    minutes = round(math.fsum(step.alternative.minutes for step in steps), 6)
    numbers = tuple(step.number for step in steps)
    if tool.life is None or tool.life <= 0:
        reason = "no life given" if tool.life_length is None else "life is counted in length of teeth"
        return ToolUse(name, numbers, minutes, 1, 1, f"{reason}: one tool")
    share = shop.limits.life_use
    edges = max(1, math.ceil(round(minutes / (share * tool.life), 6)))
    reason = f"ceil({shown(minutes, 1)} min / ({share:g} x {tool.life.text})) = {edges} for one part"
    if lot > 1:
        reason += f", {math.ceil(round(lot * minutes / (share * tool.life), 6))} for the lot of {lot}"
    return ToolUse(name, numbers, minutes, edges, max(1, min(edges, tool.owned)), reason)


def _too_big(tool: AnyTool, magazine: Magazine) -> bool:
    return tool.by_hand or bool(_excesses(tool, magazine))


def _excesses(tool: AnyTool, magazine: Magazine) -> list[str]:
    """What of a tool is over the limits of the magazine, in words."""
    moment = tilting_moment(tool)
    checks = (
        ("diameter", tool.body_diameter, magazine.diameter_free, "mm"),
        ("length", tool.overall_length, magazine.length, "mm"),
        ("mass", tool.mass, magazine.tool_mass, "kg"),
        ("tilting moment", moment, magazine.tilting_moment, "N m"),
    )
    return [
        f"{name} {shown(value, 1)} {unit}, the magazine takes {shown(limit, 1)} {unit}"
        for name, value, limit, unit in checks
        if value > limit
    ]


def tilting_moment(tool: AnyTool) -> NewtonMetre:
    """Moment of a tool's weight about the gauge line [N m].

    Source: statics; centre of mass at half the functional length where it is not given.

    Parameters
    ----------
    tool
        Tool with mass and centre of mass.
    """
    lever = tool.centre_of_mass if tool.centre_of_mass > 0 else tool.functional_length / 2
    return tool.mass * _GRAVITY * lever / 1000


def pockets_apart(first: Mm, second: Mm, magazine: Magazine) -> int:
    """Least distance of two tools, in pockets: radius + radius + clearance <= distance x pitch.

    Source: common practice, no source.

    Parameters
    ----------
    first, second
        Diameters of the two tools [mm].
    magazine
        Magazine with pitch and clearance.
    """
    room = first / 2 + second / 2 + magazine.clearance
    apart = max(1, math.ceil(round(room / magazine.pitch, 9)))
    if apart == 1 and max(first, second) > magazine.diameter_full:
        return 2
    return apart


def place_tools(copies: dict[str, int], shop: Shop) -> tuple[Pocket, ...]:
    """Put tools into pockets: small ones side by side, wide ones side by side, so that wide ones share gaps.

    Parameters
    ----------
    copies
        Number of equal tools by name.
    shop
        Shop with tools and magazine.
    """
    magazine = shop.magazine
    listed = [(name, sister) for name, count in copies.items() for sister in range(count)]
    listed.sort(key=lambda each: shop.tool_by_name[each[0]].body_diameter > magazine.diameter_full)
    pockets: list[Pocket] = []
    previous = ""
    for name, sister in listed:
        if previous:
            diameters = (shop.tool_by_name[previous].body_diameter, shop.tool_by_name[name].body_diameter)
            gap = pockets_apart(*diameters, magazine) - 1
            for _ in range(gap):
                pockets.append(Pocket(len(pockets) + 1, "", 0, (previous, name), resident=False))
        pockets.append(Pocket(len(pockets) + 1, name, sister, (), name in magazine.residents and sister == 0))
        previous = name
    return _close_the_ring(tuple(pockets), shop)


def _close_the_ring(pockets: tuple[Pocket, ...], shop: Shop) -> tuple[Pocket, ...]:
    """In a chain or drum the last pocket stands beside the first: keep the room that the two need."""
    if not pockets or shop.magazine.form == "rack":
        return pockets
    last, first = pockets[-1].tool, pockets[0].tool
    diameters = (shop.tool_by_name[last].body_diameter, shop.tool_by_name[first].body_diameter)
    gap = pockets_apart(*diameters, shop.magazine) - 1
    extra = (Pocket(len(pockets) + 1 + index, "", 0, (last, first), resident=False) for index in range(gap))
    return (*pockets, *extra)


def _size_findings(by_hand: tuple[str, ...], shop: Shop) -> list[Finding]:
    findings = []
    for name in by_hand:
        excesses = _excesses(shop.tool_by_name[name], shop.magazine)
        if excesses:
            findings.append(
                Finding(
                    Severity.WARNING,
                    f"tool {name}",
                    "it does not fit the magazine: " + "; ".join(excesses),
                    remedy="load it by hand at a planned stop, or choose another tool",
                    subject="magazine",
                )
            )
    return findings


def _capacity_findings(needed: int, uses: tuple[ToolUse, ...], shop: Shop) -> list[Finding]:
    over = needed - shop.magazine.pockets
    if over <= 0:
        return []
    once = [use.tool for use in uses if len(use.steps) == 1 and use.tool not in shop.magazine.residents]
    return [
        Finding(
            Severity.ERROR,
            "magazine",
            f"the plan needs {needed} pockets, {over} more than there are",
            limit=f"{shop.magazine.pockets} pockets",
            remedy=(
                f"tools used once: {', '.join(once) or 'none'}; load some of them by hand at a planned stop, "
                "or split the lot by clamping"
            ),
            subject="magazine",
        )
    ]


def _mass_findings(copies: dict[str, int], shop: Shop) -> list[Finding]:
    total = math.fsum(shop.tool_by_name[name].mass * count for name, count in copies.items())
    if total <= shop.magazine.total_mass:
        return []
    return [
        Finding(
            Severity.ERROR,
            "magazine",
            f"all tools together weigh {shown(total, 1)} kg",
            limit=f"{shop.magazine.total_mass.text} in total",
            remedy="load the heaviest by hand at a planned stop",
            subject="magazine",
        )
    ]


#: Kinds whose worn edge is indexed or exchanged in the holder; all others are exchanged as a whole.
_INDEXED: Final = ("turning", "grooving", "threading", "disc cutter")


def _stock_findings(uses: tuple[ToolUse, ...], shop: Shop) -> list[Finding]:
    """Say where fewer tools are owned than are worn out, and where a tool is not owned at all."""
    return [finding for use in uses if (finding := _stock_finding(use, shop)) is not None]


def _stock_finding(use: ToolUse, shop: Shop) -> Finding | None:
    tool = shop.tool_by_name[use.tool]
    where = f"tool {use.tool}"
    if tool.owned < 1:
        limit = f"lead time {tool.lead_time.text}"
        return Finding(Severity.WARNING, where, "the shop owns none", limit, "order it now", "magazine")
    if tool.owned >= use.edges:
        return None
    if tool.kind in _INDEXED:
        return Finding(
            Severity.NOTE,
            where,
            f"one part wears out {use.edges} edges, {tool.owned} such tools are owned: {use.reason}",
            remedy="plan stops at which the edge is indexed",
            subject="magazine",
        )
    return Finding(
        Severity.WARNING,
        where,
        f"one part wears out {use.edges} of them, {tool.owned} are owned: {use.reason}",
        remedy=f"have {use.edges - tool.owned} more ready before the start, and measure each anew",
        subject="magazine",
    )
