"""Tools on a bar that go into a bore: whether they enter and how deep they reach."""

from __future__ import annotations

from typing import Final

from sequencer.operations.attempt import Attempt
from sequencer.operations.facts import mm
from sequencer.part.turned import Bore
from sequencer.shop.tools import GroovingTool, SlottingTool, ThreadingTool, TurningTool
from sequencer.units import Mm

#: What makes a long bore without a long bar.
SPLIT: Final = ", or two features, each for the half of the length that is bored from its own side"

Bar = TurningTool | GroovingTool | ThreadingTool | SlottingTool


def bar_fault(attempt: Attempt, tool: Bar, opening: Mm, depth: Mm) -> tuple[str, str] | None:
    """Say why a bar does not enter or reach: sentence and remedy; None if it does.

    Where the opening is wider than the head, the head follows the bar into it.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        The bar.
    opening
        Narrowest diameter that it passes; 0 in the solid [mm].
    depth
        From the top of the part to the far end of what is cut [mm].
    """
    is_bore = isinstance(attempt.feature, Bore)
    split, wider = (SPLIT, ", or a larger bore in the blank") if is_bore else ("", "")
    if opening <= 0:
        return "the blank is solid and no drill of the shop opens it", "buy a drill that is long enough"
    if tool.least_bore is None or tool.reach is None:
        return f"{tool.name} has no least_bore or reach in the shop file", "complete the tool"
    if tool.least_bore > opening:
        return (
            f"enters bores from {mm(tool.least_bore)}, the opening is {mm(opening)}",
            f"a bar for bores from {mm(opening)} or below{wider}",
        )
    spindle = attempt.context.shop.machine.spindle
    head = float(spindle.reach_inside) if opening >= spindle.head_diameter else 0.0
    if depth > tool.reach + head:
        words = f" and the head {mm(head)}" if head else ""
        return (
            f"its far end lies {mm(depth)} below the top, the bar reaches {mm(tool.reach)}{words}",
            f"a bar with a usable length of {mm(depth - head)}{split}",
        )
    return None
