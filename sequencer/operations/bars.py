"""Tools on a bar that go into a bore: whether they enter and how deep they reach."""

from __future__ import annotations

from typing import Final

from sequencer.cutting import bars
from sequencer.operations.attempt import Attempt
from sequencer.operations.closeness import size_of, tolerance_of, width_of
from sequencer.operations.facts import COMMON, mm
from sequencer.operations.operation import Fact
from sequencer.part.turned import Bore
from sequencer.shop.tools import GroovingTool, SlottingTool, ThreadingTool, TurningTool
from sequencer.units import Mm, Newton, shown

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
    stiff = stiffness_fault(attempt, tool)
    if stiff is not None:
        return stiff
    if depth > tool.reach + head:
        words = f" and the head {mm(head)}" if head else ""
        return (
            f"its far end lies {mm(depth)} below the top, the bar reaches {mm(tool.reach)}{words}",
            f"a bar with a usable length of {mm(depth - head)}{split}",
        )
    return None


#: Largest overhang of a bar against that of a steel one; common practice, no source.
_AGAINST_STEEL: Final = {"steel": 1.0, "heavy metal": 1.5, "carbide": 1.75, "damped": 2.5}
#: Young's modulus [N/mm2]; from memory of handbooks. A damped bar is of steel.
_MODULUS: Final = {"steel": 210_000.0, "heavy metal": 340_000.0, "carbide": 600_000.0, "damped": 210_000.0}
#: Force across a bar over the cutting force; common practice, no source.
_ACROSS: Final = 0.5


def stiffness_fault(attempt: Attempt, tool: Bar) -> tuple[str, str] | None:
    """Say why a bar hangs out too far for its diameter; None if it does not or its diameter is not given.

    Source: common practice, no source

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        The bar.
    """
    if not isinstance(tool, TurningTool) or tool.bar_diameter is None or tool.reach is None:
        return None
    limit = attempt.context.shop.limits.bar_slenderness * _AGAINST_STEEL[tool.bar]
    ratio = bars.overhang_ratio(float(tool.reach), float(tool.bar_diameter))
    if ratio <= limit + 1e-9:
        return None
    return (
        f"the {tool.bar} bar hangs out {shown(ratio, 1)} diameters ({mm(tool.reach)} at "
        f"{mm(tool.bar_diameter)}), {shown(limit, 1)} are allowed",
        f"a thicker, shorter or damped bar of at most {mm(limit * float(tool.bar_diameter), 0)} overhang",
    )


def bar_facts(attempt: Attempt, tool: TurningTool, force: Newton) -> tuple[Fact, ...]:
    """Give overhang and deflection of a boring bar whose diameter is given.

    Source: beam fixed at one end, strength of materials

    Parameters
    ----------
    attempt
        The feature in the clamping.
    tool
        The bar.
    force
        Cutting force [N].
    """
    if "inside" not in tool.use or tool.bar_diameter is None or tool.reach is None:
        return ()
    reach, size = float(tool.reach), float(tool.bar_diameter)
    across, modulus = _ACROSS * force, _MODULUS[tool.bar]
    yields = 1000 * bars.bar_deflection(across, reach, size, modulus)
    formula = (
        f"y = 64 F L^3/(3 pi E D^4), F = {_ACROSS}*{shown(force, 0)} N, L {mm(reach)}, D {mm(size)}, "
        f"E {shown(modulus / 1000, 0)} kN/mm2 ({tool.bar}): {shown(yields, 0)} um"
    )
    width = _tolerance_width(attempt)
    if width is not None:
        formula += (
            f"; the diameter changes by {shown(2 * yields, 0)} um, its tolerance is {shown(width, 0)} um"
        )
        if 2 * yields > width / 4:
            formula += ": measure and cut once more without infeed"
    limit = attempt.context.shop.limits.bar_slenderness * _AGAINST_STEEL[tool.bar]
    ratio = bars.overhang_ratio(reach, size)
    words = (
        f"L/D = {shown(reach, 1)}/{shown(size, 1)} = {shown(ratio, 1)}, limit {shown(limit, 1)} ({tool.bar})"
    )
    return (
        Fact("overhang of the bar", ratio, "", words, COMMON),
        Fact("deflection of the bar", yields, "um", formula, "beam fixed at one end", True),
    )


def _tolerance_width(attempt: Attempt) -> float | None:
    """Width of the tolerance of a bore that is finished [um]."""
    tolerance = tolerance_of(attempt.feature)
    return None if tolerance is None else width_of(tolerance, size_of(attempt.feature))
