"""End-mill milling of teeth, level by level and flank by flank, tried with one end mill in one clamping."""

from __future__ import annotations

import math
from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED
from sequencer.operations.operation import Fact, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.end_mill_cuts import Gap, mill_cut
from sequencer.operations.teeth.end_mill_setup import (
    access_checks,
    gap_check,
    reach_check,
    slenderness_check,
)
from sequencer.operations.teeth.holds import held_lower
from sequencer.operations.teeth.share import Aim, Share, conditions_for, stock_fact
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import (
    Check,
    Outcome,
    Way,
    faults_of,
    passed,
    rejected,
)
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import EndMill
from sequencer.units import shown

METHOD: Final = "end-mill milling"


def tool_checks(context: Context, teeth: Teeth, mill: EndMill, aim: Aim) -> tuple[Check, ...]:
    """Checks of an end mill that hold in any clamping.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    mill
        The end mill.
    aim
        What the operation is to reach.
    """
    use = checks.use_check(mill)
    if use.fault is not None:
        return (use,)
    finishing = aim.share is not Share.ROUGH
    return (
        checks.wish_check(teeth, mill, finishing),
        gap_check(teeth, mill, aim),
        reach_check(teeth, mill),
        slenderness_check(context, mill),
        checks.delivery_check(context, mill),
        *(
            (checks.class_check(teeth, METHOD, typical.END_MILL_CLASS, COMMON, aim.later),)
            if finishing
            else ()
        ),
    )


def stages_of(aim: Aim) -> tuple[str, ...]:
    """Give the stages of an end mill.

    Source: common practice, no source

    Parameters
    ----------
    aim
        What the operation is to reach.
    """
    return {Share.ROUGH: ("rough",), Share.FINISH: ("finish",), Share.WHOLE: ("rough", "finish")}[aim.share]


def try_mill(context: Context, standing: Standing, mill: EndMill, aim: Aim) -> Outcome:
    """Try one end mill in one clamping; its tool checks have passed.

    Parameters
    ----------
    context
        Part and shop.
    standing
        The teeth in the clamping.
    mill
        The end mill.
    aim
        What the operation is to reach.
    """
    teeth = standing.teeth
    way = Way(METHOD, mill.name, standing.clamping.name)
    base = tool_checks(context, teeth, mill, aim)
    stages = stages_of(aim)
    setup, access = access_checks(context, standing, mill)
    conditions, known = conditions_for(context, teeth, METHOD, mill, stages)
    found = (*access, known)
    if faults_of(found):
        return rejected(way, (*found, *base))
    gap = gap_of(teeth)
    lower = held_lower(context, aim.share)
    cuts = tuple(
        mill_cut(context, gap, mill, stage, conditions.of(stage), standing.clamping, lower)
        for stage in stages
    )
    minutes = sum(cut.minutes for cut in cuts)
    every = (
        *found,
        *base,
        *(cut.check for cut in cuts),
        checks.minutes_life_check(context, mill, minutes * aim.runs, one_edge=False),
    )
    if faults_of(every):
        return rejected(way, every)
    parts = " + ".join(shown(cut.minutes, 2) for cut in cuts)
    facts = (
        *(fact for cut in cuts for fact in cut.facts),
        *stock_fact(teeth, aim),
        Fact("time", minutes, "min", f"t = stages = {parts} = {shown(minutes, 2)} min", DERIVED, True),
    )
    words = f"{setup.words} reaches the root of all {teeth.teeth} gaps and clears everything at both ends"
    return passed(way, Mode.MILLING, minutes, every, facts, words)


def gap_of(teeth: Teeth) -> Gap:
    """Give the gap of cylindrical teeth.

    Source: derived; the flank's radius of curvature is that of the involute at the reference circle

    Parameters
    ----------
    teeth
        The teeth.
    """
    values, gear = teeth.tolerances, teeth.gear
    ridge = (
        typical.RIDGE_WITHOUT_CLASS if values is None else typical.MARK_SHARE * values.unrounded.profile_form
    )
    sine = math.sin(math.radians(gear.transverse_pressure_angle))
    return Gap(
        feature=teeth.feature,
        teeth=teeth.teeth,
        length=teeth.face_width,
        helix_angle=teeth.helix_angle,
        depth=teeth.depth,
        mean_width=teeth.gap_area / teeth.depth,
        pressure_angle=gear.pressure_angle,
        flank_radius=None if teeth.internal else gear.reference_diameter / 2 * sine,
        ridge=ridge,
        diameter=max(gear.tip_diameter, gear.root_diameter),
    )
