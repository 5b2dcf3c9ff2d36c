"""How many equal tools the lot needs: lives, whole gears, unattended time."""

from __future__ import annotations

import math
from collections.abc import Sequence as Series
from dataclasses import dataclass
from typing import Final, Literal

from sequencer.magazine.table import ToolUse
from sequencer.operations import Action, Stage
from sequencer.sequencing import Sequence, Step
from sequencer.shop import AnyTool, Shop
from sequencer.units import shown

Policy = Literal["lot", "part", "one"]

#: Kinds whose worn edge is indexed or exchanged in the holder; all others are exchanged as a whole.
INDEXED: Final = ("turning", "grooving", "threading", "disc cutter")

#: The fact of a step that says how many metres of teeth a cutter cuts in it.
_TEETH_CUT: Final = "length of teeth cut"


@dataclass(frozen=True)
class Cut:
    """What one cut wears off an edge.

    Parameters
    ----------
    share
        Share of the usable life of an edge.
    whole
        Tooth system that it finishes, with one edge; empty if the edge may be changed in it.
    """

    share: float
    whole: str = ""


def tool_uses(sequence: Sequence, shop: Shop, lot: int, policy: Policy | None = None) -> tuple[ToolUse, ...]:
    """Give the tools of a plan in the order of their first use, with the number of each.

    Parameters
    ----------
    sequence
        The order with the chosen tools.
    shop
        Shop with tools and magazine.
    lot
        Pieces of the lot [-].
    policy
        How many equal tools are loaded; as the shop file says if left out.
    """
    window = _pieces_unattended(sequence, shop, lot)
    kept = policy or shop.magazine.sisters
    return tuple(
        _use(shop.tool_by_name[name], steps, shop, lot, window, kept)
        for name, steps in steps_by_tool(sequence).items()
    )


def copies_loaded(uses: tuple[ToolUse, ...], by_hand: tuple[str, ...], shop: Shop) -> dict[str, int]:
    """Give the number of equal tools in the magazine by name, residents included.

    Parameters
    ----------
    uses
        Tools of a plan.
    by_hand
        Those that are loaded by hand.
    shop
        Shop with the residents.
    """
    counted = dict.fromkeys(shop.magazine.residents, 1)
    return counted | {use.tool: use.loaded for use in uses if use.tool not in by_hand}


def steps_by_tool(sequence: Sequence) -> dict[str, list[Step]]:
    """Give the steps of each tool, in order.

    Parameters
    ----------
    sequence
        The order with the chosen tools.
    """
    lists: dict[str, list[Step]] = {}
    for step in sequence.steps:
        if step.alternative.tool:
            lists.setdefault(step.alternative.tool, []).append(step)
    return lists


def _pieces_unattended(sequence: Sequence, shop: Shop, lot: int) -> int:
    """Pieces begun while no operator is there; 0 if that is not asked."""
    window = shop.magazine.unattended
    if window is None or window <= 0:
        return 0
    piece = math.fsum(step.minutes for step in sequence.steps if step.visit)
    return min(lot, max(1, math.ceil(round(window / piece, 9)))) if piece > 0 else 1


def edges_needed(cuts: Series[Cut], parts: int) -> int:
    """Count the edges that some parts wear out; an edge is not changed inside a tooth system.

    Source: common practice, no source: N = ceil(parts x t / (k T)), and for finishing cuts of teeth the next
    edge where the rest of the life does not reach for the whole tooth system.

    Parameters
    ----------
    cuts
        Cuts of one part in their order.
    parts
        Number of parts [-].
    """
    if not any(cut.whole for cut in cuts):
        return max(1, math.ceil(round(parts * math.fsum(cut.share for cut in cuts), 6)))
    edges, left = 1, 1.0
    for cut in (each for _ in range(parts) for each in cuts):
        if cut.whole and cut.share > left + 1e-9 and left < 1.0:
            edges, left = edges + 1, 1.0
        left -= cut.share
        if left < -1e-9:
            more = math.ceil(round(-left, 9))
            edges, left = edges + more, left + more
    return edges


def _use(tool: AnyTool, steps: list[Step], shop: Shop, lot: int, window: int, policy: Policy) -> ToolUse:
    minutes = round(math.fsum(step.alternative.minutes for step in steps), 6)
    numbers = tuple(step.number for step in steps)
    share = shop.limits.life_use
    if tool.life is not None and tool.life > 0:
        cuts = _cuts(steps, {step.number: step.alternative.minutes / (share * tool.life) for step in steps})
        life, amount = tool.life.text, f"{shown(minutes, 1)} min"
    elif tool.life_length is not None and any(_metres(step) for step in steps):
        metres = {step.number: _metres(step) for step in steps}
        usable = share * float(tool.life_length) / 1000
        cuts = _cuts(steps, {number: each / usable for number, each in metres.items()})
        life, amount = tool.life_length.text, f"{shown(math.fsum(metres.values()), 1)} m of teeth"
    else:
        reason = "no life given" if tool.life_length is None else "life is counted in length of teeth"
        return ToolUse(tool.name, numbers, minutes, 1, 1, f"{reason}: one tool")
    edges, lot_edges = edges_needed(cuts, 1), edges_needed(cuts, lot)
    window_edges = edges_needed(cuts, window) if window else 0
    whole = tuple(dict.fromkeys(cut.whole for cut in cuts if cut.whole))
    lasts = all(cut.share <= 1 + 1e-9 for cut in cuts if cut.whole)
    reason = f"ceil({amount} / ({share:g} x {life})) = {edges} for one part"
    reason += f", {lot_edges} for the lot of {lot}" if lot > 1 else ""
    reason += f", {window_edges} for {window} unattended" if window else ""
    reason += f"; one edge for the whole of {', '.join(whole)}" if whole else ""
    wanted = max({"lot": lot_edges, "part": edges, "one": 1}[policy], window_edges)
    loaded = max(1, min(wanted, tool.owned))
    worn = round(math.fsum(cut.share for cut in cuts), 9)
    return ToolUse(
        tool.name, numbers, minutes, edges, loaded, reason, lot_edges, window_edges, whole, lasts, worn
    )


def _metres(step: Step) -> float:
    return math.fsum(fact.value for fact in step.alternative.facts if fact.name == _TEETH_CUT)


def _cuts(steps: list[Step], shares: dict[int, float]) -> list[Cut]:
    """Cuts in their order; finishing cuts of a tooth system, both helices, are one that is not divided."""
    whole: dict[str, float] = {}
    for step in steps:
        if _finishes_teeth(step):
            whole[step.operation.feature] = whole.get(step.operation.feature, 0.0) + shares[step.number]
    cuts = []
    for step in steps:
        feature = step.operation.feature
        if not _finishes_teeth(step):
            cuts.append(Cut(shares[step.number]))
        elif feature in whole:
            cuts.append(Cut(whole.pop(feature), feature))
    return cuts


def _finishes_teeth(step: Step) -> bool:
    operation = step.operation
    return operation.action is Action.CUT_TEETH and operation.stage in (Stage.FINISH, Stage.HARD)
