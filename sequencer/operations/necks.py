"""Cylinders behind something that stands proud of them: only a blade from the side gets at them."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.operations.attempt import Attempt
from sequencer.operations.bars import bar_fault
from sequencer.operations.choices import Outcome
from sequencer.operations.facts import mm
from sequencer.operations.operation import Stage
from sequencer.operations.plunging import METHOD, Plunge, plunge
from sequencer.operations.proud import overhang
from sequencer.operations.stock import Surface, TurnStage
from sequencer.shop.tools import GroovingTool


def neck_outcomes(attempt: Attempt, surface: Surface, step: TurnStage) -> Iterator[Outcome]:
    """Try every blade on a cylinder that is hidden from above.

    Parameters
    ----------
    attempt
        The feature in the clamping.
    surface
        The cylinder with its stock.
    step
        The stage.
    """
    if step.stage is Stage.HARD:
        return
    for tool in attempt.context.shop.tools:
        if isinstance(tool, GroovingTool) and surface.place in tool.use:
            yield _try(attempt, surface, step, tool)


def _try(attempt: Attempt, surface: Surface, step: TurnStage, tool: GroovingTool) -> Outcome:
    inside = surface.place == "inside"
    standing = attempt.standing
    proud, diameter, name = overhang(standing, surface.z_from, surface.z_to, surface.inner, inside)
    if proud > tool.depth:
        what = f"{name or 'the blank'} above it stands {mm(proud)} proud, the blade reaches {mm(tool.depth)}"
        return attempt.reject(METHOD, tool, what, f"a blade {mm(proud)} deep, or cut it from the other side")
    if tool.width > surface.length:
        what = f"blade {mm(tool.width)} is wider than the neck {mm(surface.length)}"
        return attempt.reject(METHOD, tool, what, "a narrower blade")
    depth = standing.view.depth(surface.z_from, surface.z_to)
    fault = bar_fault(attempt, tool, diameter, depth) if inside else None
    if fault is not None:
        return attempt.reject(METHOD, tool, *fault)
    start, end = surface.diameter_at(step.left + step.removed), surface.diameter_at(step.left)
    rough = step.stage is Stage.ROUGH
    opened = not rough and step.removed < attempt.context.shop.limits.rough_from
    outer, inner = max(start, end), min(start, end)
    return plunge(
        attempt, tool, Plunge(outer, inner, surface.length, proud, step.left, rough, not rough, opened)
    )
