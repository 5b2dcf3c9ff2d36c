"""Which share of the way from blank to finished teeth one operation makes."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import StrEnum

from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.operation import Fact
from sequencer.operations.teeth.trial import Check, fail
from sequencer.operations.teeth.typical import MARK_SHARE
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop import AnyTool
from sequencer.units import Micrometre, Mm, shown


class Share(StrEnum):
    """Share of the teeth that an operation cuts."""

    WHOLE = "whole"
    ROUGH = "rough"
    FINISH = "finish"
    HARD = "hard"


@dataclass(frozen=True)
class Aim:
    """What an operation is to reach.

    Parameters
    ----------
    share
        Which share it cuts.
    stock
        Stock that it leaves on each flank [mm].
    before
        Stock on each flank that the operation before it left [mm].
    later
        True if the flanks are finished later, after hardening or by grinding.
    runs
        Runs of these teeth that one tool without a hand would cut in a part: 2 for a double-helical gear.
    """

    share: Share
    stock: Mm = 0.0
    before: Mm = 0.0
    later: bool = False
    runs: int = 1

    @property
    def finishing(self) -> bool:
        """Whether the flanks are finished by it."""
        return self.share is not Share.ROUGH and not self.later


def radial_stock(teeth: Teeth, stock: Mm) -> Mm:
    """Give the infeed that is left for a stock on each flank, s / sin(alpha).

    Source: derived

    Parameters
    ----------
    teeth
        The teeth.
    stock
        Stock on each flank [mm].
    """
    return min(stock / math.sin(math.radians(teeth.gear.pressure_angle)), 0.5 * teeth.depth)


def mark_limit(teeth: Teeth) -> Micrometre | None:
    """Give the depth of feed marks allowed on finished flanks, or None without a flank class.

    Source: common practice, no source: a quarter of the helix form tolerance

    Parameters
    ----------
    teeth
        The teeth.
    """
    if teeth.tolerances is None:
        return None
    return MARK_SHARE * teeth.tolerances.unrounded.helix_form


def stages_check(tool: AnyTool, fit_for: tuple[str, ...], stages: tuple[str, ...]) -> Check:
    """Check that a cutter is fit for the stages that are asked of it.

    Parameters
    ----------
    tool
        The cutter.
    fit_for
        Stages that it is fit for.
    stages
        Stages that are asked.
    """
    missing = [stage for stage in dict.fromkeys(stages) if stage not in fit_for]
    if not missing:
        return Check()
    words = {"rough": "roughing", "finish": "finishing"}
    return fail(
        f"{tool.name} is for {' and '.join(words[stage] for stage in fit_for)} only, "
        f"this cut is {words[missing[0]]}"
    )


@dataclass(frozen=True)
class StageConditions:
    """Cutting conditions of the stages of an operation.

    Parameters
    ----------
    by_stage
        Conditions by stage; stages without conditions are left out.
    """

    by_stage: dict[str, ChosenConditions]

    def of(self, stage: str) -> ChosenConditions:
        """Conditions of a stage.

        Parameters
        ----------
        stage
            "rough" or "finish".
        """
        return self.by_stage[stage]


def conditions_for(
    context: Context, teeth: Teeth, method: str, tool: AnyTool, stages: tuple[str, ...]
) -> tuple[StageConditions, Check]:
    """Look up the conditions of all stages; a missing one is a fault.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    method
        Method.
    tool
        The cutter.
    stages
        Stages of the operation.
    """
    found: dict[str, ChosenConditions] = {}
    facts: list[Fact] = []
    for stage in dict.fromkeys(stages):
        chosen = context.conditions(method, tool, stage, teeth.feature)
        if chosen is None:
            return StageConditions(found), fail(
                f"the shop has no conditions for {method} with {tool.material} in {context.material.group}, "
                f"{stage}",
                "add a row to the shop's conditions, or cutting_speed and feed to the tool",
            )
        found[stage] = chosen
        facts.append(
            Fact(
                f"cutting speed, {stage}",
                chosen.cutting_speed,
                "m/min",
                source=chosen.source,
                estimate=chosen.estimate,
            )
        )
    return StageConditions(found), Check(tuple(facts))


def stock_fact(teeth: Teeth, aim: Aim) -> tuple[Fact, ...]:
    """Give the stock left on the flanks as a fact, if any is left.

    Parameters
    ----------
    teeth
        The teeth.
    aim
        What the operation is to reach.
    """
    if aim.stock <= 0:
        return ()
    infeed = radial_stock(teeth, aim.stock)
    angle = teeth.gear.pressure_angle
    formula = (
        f"s = {shown(aim.stock, 3)} mm; radial s/sin(alpha) = "
        f"{shown(aim.stock, 3)}/sin({shown(angle, 1)} deg) = {shown(infeed, 3)} mm"
    )
    return (Fact("stock left on each flank", aim.stock, "mm", formula, "shop file"),)
