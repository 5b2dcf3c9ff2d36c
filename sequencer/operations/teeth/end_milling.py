"""End-mill milling of teeth, level by level and flank by flank, tried with one end mill in one clamping."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import end_milling, forces, speeds
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import COMMON, DERIVED, spindle_cap
from sequencer.operations.operation import Fact, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.end_mill_setup import (
    access_checks,
    gap_check,
    reach_check,
    slenderness_check,
)
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.share import Aim, Share, StageConditions, conditions_for, stock_fact
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import (
    Check,
    Outcome,
    Way,
    fail,
    faults_of,
    passed,
    rejected,
)
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import EndMill
from sequencer.units import Micrometre, Mm, Rpm, shown

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
    if "teeth" not in mill.use:
        return (fail(f"end mill {mill.name} is for {' and '.join(mill.use)}, not for teeth"),)
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
    cuts = tuple(_cut(context, teeth, mill, stage, conditions) for stage in stages)
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
    words = f"{setup.words} mills {teeth.teeth} gaps and runs out at both ends"
    return passed(way, Mode.MILLING, minutes, every, facts, words)


@dataclass(frozen=True)
class _Cut:
    """One stage in all gaps.

    Parameters
    ----------
    minutes
        Time [min].
    check
        Power and torque.
    facts
        Speeds, lines and time.
    """

    minutes: float
    check: Check
    facts: tuple[Fact, ...]


def _cut(context: Context, teeth: Teeth, mill: EndMill, stage: str, conditions: StageConditions) -> _Cut:
    times, chosen = context.shop.machine.times, conditions.of(stage)
    diameter = float(mill.diameter)
    rpm = speeds.capped_rpm(diameter, chosen.cutting_speed, spindle_cap(context.shop, mill).rpm)
    feed = _feed(teeth, stage, chosen, diameter)
    rate = speeds.table_feed(feed, mill.teeth, rpm)
    length = end_milling.line_length(teeth.face_width, teeth.helix_angle, diameter / 2 + 1.0)
    back = length / float(times.rapid)
    load, lines, words = _lines(teeth, mill, stage, chosen, feed, rate, rpm)
    share = load_share(context, load)
    index = float(times.index)
    minutes = end_milling.roughing_time(teeth.teeth, lines, length, rate * share, back, index)
    facts = (
        Fact(
            f"cutter revolutions, {stage}",
            rpm,
            "rpm",
            f"n = 1000 vc/(pi D) = 1000*{shown(chosen.cutting_speed, 1)}/(pi*{shown(diameter, 2)}), "
            f"at most {shown(spindle_cap(context.shop, mill).rpm)} rpm = {shown(rpm)} rpm",
            DERIVED,
            chosen.estimate,
        ),
        Fact(
            f"feed along the gap, {stage}",
            rate * share,
            "mm/min",
            f"vf = fz z n = {shown(feed, 4)}*{mill.teeth}*{shown(rpm)} = {shown(rate, 1)} mm/min",
            chosen.source,
            chosen.estimate,
        ),
        Fact(f"lines in a gap, {stage}", float(lines), "", words, DERIVED, True),
        Fact(
            f"time of the cut, {stage}",
            minutes,
            "min",
            f"T = z (lines (L/vf + L/rapid) + index) = {teeth.teeth}*({lines}*({shown(length, 1)}/"
            f"{shown(rate * share, 1)} + {shown(back, 4)}) + {shown(index, 3)}) = {shown(minutes, 2)} min",
            DERIVED,
            chosen.estimate,
        ),
    )
    return _Cut(minutes, load_check(context, mill, load, share), facts)


def _feed(teeth: Teeth, stage: str, chosen: ChosenConditions, diameter: Mm) -> Mm:
    """Feed of a tooth; a small mill takes less than the table says, unless the planner gave it."""
    given = teeth.feature.conditions
    fixed = given is not None and (given.feed is not None or given.feed_per_tooth is not None)
    if stage == "finish" and fixed:
        return chosen.feed
    return min(chosen.feed, typical.END_MILL_FEED_SHARE * diameter)


def _lines(
    teeth: Teeth, mill: EndMill, stage: str, chosen: ChosenConditions, feed: Mm, rate: float, rpm: Rpm
) -> tuple[Load, int, str]:
    """Lines in one gap with their load: levels and tracks when roughing, both flanks when finishing."""
    diameter = float(mill.diameter)
    if stage == "rough":
        level = min(chosen.depth or diameter, typical.END_MILL_LEVEL_SHARE * diameter)
        levels = end_milling.roughing_levels(teeth.depth, level)
        tracks = max(1, math.ceil(teeth.gap_area / teeth.depth / diameter - 1e-9))
        chip = forces.milling_mean_chip(feed, diameter, diameter)
        words = f"{levels} levels of {shown(level, 2)} mm in {tracks} track{'s' if tracks > 1 else ''}"
        return Load(level * diameter * rate, chip, rpm), levels * tracks, words
    ridge, spacing = _spacing(teeth, mill)
    height = teeth.depth / math.cos(math.radians(teeth.gear.pressure_angle))
    lines = end_milling.flank_lines(height, spacing)
    width = 0.3
    chip = forces.milling_mean_chip(feed, width, diameter)
    words = f"2 flanks of {lines} lines {shown(spacing, 3)} mm apart leave ridges of {shown(ridge, 1)} um"
    return Load(spacing * width * rate, chip, rpm), 2 * lines, words


def _spacing(teeth: Teeth, mill: EndMill) -> tuple[Micrometre, Mm]:
    """Ridges allowed and spacing of lines: the straight edge on a convex flank, the corner on a concave."""
    values = teeth.tolerances
    ridge = (
        typical.RIDGE_WITHOUT_CLASS if values is None else typical.MARK_SHARE * values.unrounded.profile_form
    )
    if teeth.internal:
        corner = max(float(mill.corner_radius), 0.1)
        return ridge, end_milling.line_spacing(ridge, corner)
    angle = math.radians(teeth.gear.transverse_pressure_angle)
    radius = teeth.gear.reference_diameter / 2 * math.sin(angle)
    return ridge, end_milling.line_spacing(ridge, math.inf, radius)
