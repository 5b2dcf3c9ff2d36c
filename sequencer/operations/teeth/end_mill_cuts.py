"""Lines, speeds and time of an end mill in tooth gaps, roughing by levels and finishing flank by flank."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from sequencer.cutting import end_milling, forces, speeds
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import DERIVED, spindle_cap
from sequencer.operations.operation import Fact, FittedClamping
from sequencer.operations.teeth import typical
from sequencer.operations.teeth.holds import Hold
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.trial import Check
from sequencer.part import AnyFeature
from sequencer.shop.tools import EndMill
from sequencer.units import Deg, Micrometre, Mm, Rpm, shown

#: Width of cut when finishing a flank (common practice, no source) [mm].
FLANK_STOCK: Final[Mm] = 0.3


@dataclass(frozen=True)
class Gap:
    """A tooth gap as an end mill sees it.

    Parameters
    ----------
    feature
        The feature; its conditions hold for the finish.
    teeth
        Number of gaps [-].
    length
        Face width along the axis or along the cone [mm].
    helix_angle
        Angle between tooth and that direction [deg].
    depth
        Depth [mm].
    mean_width
        Mean width [mm].
    pressure_angle
        Pressure angle [deg].
    flank_radius
        Radius of curvature of convex flanks; None if they are concave [mm].
    ridge
        Ridges allowed on finished flanks [um].
    diameter
        Largest diameter of the gap [mm].
    """

    feature: AnyFeature
    teeth: int
    length: Mm
    helix_angle: Deg
    depth: Mm
    mean_width: Mm
    pressure_angle: Deg
    flank_radius: Mm | None
    ridge: Micrometre
    diameter: Mm


@dataclass(frozen=True)
class MillCut:
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


def mill_cut(
    context: Context,
    gap: Gap,
    mill: EndMill,
    stage: str,
    chosen: ChosenConditions,
    clamping: FittedClamping,
    finishing: bool = False,
) -> MillCut:
    """Work out one stage of an end mill in all gaps.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    gap
        The gap.
    mill
        The end mill.
    stage
        "rough" or "finish".
    chosen
        Cutting conditions.
    clamping
        The clamping.
    finishing
        True if the part may be held with the lower force for finishing.
    """
    times, diameter = context.shop.machine.times, float(mill.diameter)
    rpm = speeds.capped_rpm(diameter, chosen.cutting_speed, spindle_cap(context.shop, mill).rpm)
    feed = _feed(gap, stage, chosen, diameter)
    rate = speeds.table_feed(feed, mill.teeth, rpm)
    length = end_milling.line_length(gap.length, gap.helix_angle, diameter / 2 + 1.0)
    back = length / float(times.rapid)
    load, lines, words = _lines(gap, mill, stage, chosen, feed, rate, rpm)
    # The force of an end mill that points at the root lies across its axis: it may turn the part in full.
    hold = Hold(clamping, gap.diameter, 90.0, speeds.cutting_speed(diameter, rpm), 0.0, finishing)
    load = replace(load, hold=hold)
    share = load_share(context, load)
    load = Load(load.removal * share, load.chip * share, load.rpm, hold)
    index = float(times.index)
    minutes = end_milling.roughing_time(gap.teeth, lines, length, rate * share, back, index)
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
            f"T = z (lines (L/vf + L/rapid) + index) = {gap.teeth}*({lines}*({shown(length, 1)}/"
            f"{shown(rate * share, 1)} + {shown(back, 4)}) + {shown(index, 3)}) = {shown(minutes, 2)} min",
            DERIVED,
            chosen.estimate,
        ),
    )
    return MillCut(minutes, load_check(context, mill, load, share, stage), facts)


def _feed(gap: Gap, stage: str, chosen: ChosenConditions, diameter: Mm) -> Mm:
    """Feed of a tooth; a small mill takes less than the table says, unless the planner gave it."""
    given = gap.feature.conditions
    fixed = given is not None and (given.feed is not None or given.feed_per_tooth is not None)
    if stage == "finish" and fixed:
        return chosen.feed
    return min(chosen.feed, typical.END_MILL_FEED_SHARE * diameter)


def _lines(
    gap: Gap, mill: EndMill, stage: str, chosen: ChosenConditions, feed: Mm, rate: float, rpm: Rpm
) -> tuple[Load, int, str]:
    """Lines in one gap with their load: levels and tracks when roughing, both flanks when finishing."""
    diameter = float(mill.diameter)
    if stage == "rough":
        level = min(chosen.depth or diameter, typical.END_MILL_LEVEL_SHARE * diameter)
        levels = end_milling.roughing_levels(gap.depth, level)
        tracks = max(1, math.ceil(gap.mean_width / diameter - 1e-9))
        chip = forces.milling_mean_chip(feed, diameter, diameter)
        words = f"{levels} levels of {shown(level, 2)} mm in {tracks} track{'s' if tracks > 1 else ''}"
        return Load(level * diameter * rate, chip, rpm), levels * tracks, words
    spacing = _spacing(gap, mill)
    height = gap.depth / math.cos(math.radians(gap.pressure_angle))
    lines = end_milling.flank_lines(height, spacing)
    width = min(FLANK_STOCK, diameter)
    chip = forces.milling_mean_chip(feed, width, diameter)
    words = f"2 flanks of {lines} lines {shown(spacing, 3)} mm apart leave ridges of {shown(gap.ridge, 1)} um"
    return Load(spacing * width * rate, chip, rpm), 2 * lines, words


def _spacing(gap: Gap, mill: EndMill) -> Mm:
    """Spacing of lines: the straight edge touches a convex flank, the corner a concave one."""
    if gap.flank_radius is None:
        return end_milling.line_spacing(gap.ridge, max(float(mill.corner_radius), 0.1))
    return end_milling.line_spacing(gap.ridge, math.inf, gap.flank_radius)
