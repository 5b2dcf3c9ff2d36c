"""Passes of power skiving: infeed, feed and stage of each."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import skiving
from sequencer.operations.teeth import typical
from sequencer.operations.teeth.share import Aim, Share, StageConditions, radial_stock
from sequencer.operations.teeth.zone import Teeth
from sequencer.units import Mm

#: Infeed of the first pass where the conditions give none [mm]; common practice, no source.
_USUAL_INFEED: Final[Mm] = 1.0
#: Infeed of the fine pass at the end where the conditions give none [mm]; common practice, no source.
_USUAL_FINISH: Final[Mm] = 0.1


@dataclass(frozen=True)
class Passes:
    """Passes of a skiving operation.

    Parameters
    ----------
    infeeds
        Radial infeed of each pass [mm].
    feeds
        Axial feed of each pass per table revolution [mm].
    stages
        Stage of each pass.
    """

    infeeds: tuple[Mm, ...]
    feeds: tuple[Mm, ...]
    stages: tuple[str, ...]


def stages_of(aim: Aim) -> tuple[str, ...]:
    """Give the stages of a skiving operation; even a finish takes its stock in several passes.

    Source: common practice, no source

    Parameters
    ----------
    aim
        What the operation is to reach.
    """
    return {Share.ROUGH: ("rough",), Share.HARD: ("finish",)}.get(aim.share, ("rough", "finish"))


def last_infeed(width: Mm, slope: float, depth: Mm, first: Mm) -> Mm:
    """Give the infeed at full depth that cuts the same area as the first infeed does at the tip.

    Source: derived: w a + a^2 tan(alpha) over the width w + 2 h tan(alpha) of the gap

    Parameters
    ----------
    width
        Width of the gap at its bottom, w [mm].
    slope
        Tangent of the pressure angle [-].
    depth
        Depth of the gap, h [mm].
    first
        First and largest infeed, a [mm].
    """
    return first * (width + slope * first) / (width + 2 * slope * depth)


def passes_of(teeth: Teeth, aim: Aim, conditions: StageConditions) -> Passes:
    """Divide the infeed into passes of about even chip area, with a fine one at the end.

    Source: derived; the infeed of the conditions is that of the first pass, the largest

    Parameters
    ----------
    teeth
        The teeth.
    aim
        What the operation is to reach.
    conditions
        Conditions by stage.
    """
    step, finish = _steps(aim, conditions)
    stop = teeth.depth - radial_stock(teeth, aim.stock)
    slope = math.tan(math.radians(teeth.gear.pressure_angle))
    if aim.share in (Share.FINISH, Share.HARD):
        stock = radial_stock(teeth, aim.before) - radial_stock(teeth, aim.stock)
        if aim.share is Share.FINISH:
            step = last_infeed(teeth.gap_at_root, slope, teeth.depth, step)
        infeeds = _even(stock, step, min(finish, stock))
    else:
        largest = max(min(step, stop), 2 * typical.LEAST_INFEED)
        infeeds = skiving.infeed_passes(
            stop,
            teeth.gap_at_root,
            teeth.gear.pressure_angle,
            largest,
            typical.LEAST_INFEED,
            finish,
        ).infeeds
    last = "finish" if finish else "rough"
    before = stages_of(aim)[0]
    stages = (*(before for _ in infeeds[1:]), last)
    return Passes(infeeds, tuple(conditions.of(stage).feed for stage in stages), stages)


def _steps(aim: Aim, conditions: StageConditions) -> tuple[Mm, Mm]:
    """Infeed of the first roughing pass and of the fine pass at the end; 0 for none."""
    if aim.share is Share.HARD:
        step = conditions.of("finish").depth or _USUAL_FINISH
        return step, step
    step = conditions.of("rough").depth or _USUAL_INFEED
    if aim.share is Share.ROUGH:
        return step, 0.0
    return step, min(conditions.of("finish").depth or _USUAL_FINISH, 0.5 * step)


def _even(stock: Mm, step: Mm, finish: Mm) -> tuple[Mm, ...]:
    """Even infeeds of a stock with a fine one at the end."""
    rest = max(stock - finish, 0.0)
    count = math.ceil(rest / step - 1e-9)
    return (*(rest / count for _ in range(count)), finish)
