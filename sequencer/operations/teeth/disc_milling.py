"""Disc (form) milling, gap by gap, tried with one disc cutter in one clamping."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.cutting import form_milling, hobbing, speeds
from sequencer.cutting.cutter_bodies import CutterBody, disc_body
from sequencer.cutting.run_out import Arrangement, Setting
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import COMMON, DERIVED, spindle_cap
from sequencer.operations.operation import Fact, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.holds import Hold, held_lower
from sequencer.operations.teeth.level_head import LevelCutter, level_checks
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.room import (
    Clearance,
    Margins,
    clamping_remedy,
    clearance,
    largest_passing,
    room_check,
)
from sequencer.operations.teeth.share import (
    Aim,
    Share,
    conditions_for,
    mark_limit,
    radial_stock,
    stages_check,
    stock_fact,
)
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import Check, Outcome, Way, fail, faults_of, passed, rejected
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import DiscCutter
from sequencer.units import Mm, Rpm, shown

METHOD: Final = "disc milling"


def tool_checks(context: Context, teeth: Teeth, disc: DiscCutter, aim: Aim) -> tuple[Check, ...]:
    """Checks of a disc cutter that hold in any clamping.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    disc
        The disc cutter.
    aim
        What the operation is to reach.
    """
    match = checks.match_check(teeth, disc)
    if match.fault is not None:
        return (match,)
    if teeth.internal:
        return (
            fail(
                f"the axis of disc cutter {disc.name} stands level beside the teeth; inside teeth need an "
                "angle head, and this machine has none",
                "skive these teeth",
            ),
        )
    finishing = aim.share is not Share.ROUGH
    words = "teeth" if not teeth.helix_angle else f"virtual teeth ({teeth.teeth} on the helix)"
    return (
        checks.wish_check(teeth, disc, finishing),
        checks.range_check(disc, teeth.gear.virtual_teeth, words),
        stages_check(disc, disc.stage, stages_of(aim)),
        checks.delivery_check(context, disc),
        checks.length_life_check(context, teeth, disc, aim.runs, finishing),
        *((checks.class_check(teeth, METHOD, typical.DISC_CLASS, COMMON, aim.later),) if finishing else ()),
    )


def stages_of(aim: Aim) -> tuple[str, ...]:
    """Give the cuts in a gap.

    Source: common practice, no source

    Parameters
    ----------
    aim
        What the operation is to reach.
    """
    return {Share.ROUGH: ("rough",), Share.FINISH: ("finish",), Share.WHOLE: ("rough", "finish")}[aim.share]


@dataclass(frozen=True)
class Setup:
    """A disc at the teeth: its axis stands at the helix angle.

    Parameters
    ----------
    teeth
        The teeth.
    disc
        The disc cutter.
    """

    teeth: Teeth
    disc: DiscCutter

    @property
    def setting(self) -> Setting:
        """How it stands to the teeth."""
        return Setting(Arrangement.CROSSED, self.teeth.gear.root_diameter / 2, self.teeth.helix_angle)

    @property
    def level(self) -> LevelCutter:
        """The disc for the room of the head."""
        disc, beta = self.disc, self.teeth.helix_angle
        diameter, gauge = float(disc.outside_diameter), float(disc.functional_length)
        return LevelCutter(disc.name, diameter, gauge, beta, f"helix angle {shown(beta, 2)} deg")

    def body(self, diameter: Mm) -> CutterBody:
        """Body of a disc of the same width.

        Parameters
        ----------
        diameter
            Outside diameter [mm].
        """
        return disc_body(diameter, float(self.disc.width))

    @property
    def words(self) -> str:
        """Words for a sentence."""
        at = "" if not self.teeth.helix_angle else f" at {shown(self.teeth.helix_angle, 1)} deg"
        return f"disc cutter {self.disc.name} (diameter {shown(self.disc.outside_diameter, 1)} mm){at}"


def try_disc(context: Context, standing: Standing, disc: DiscCutter, aim: Aim) -> Outcome:
    """Try one disc cutter in one clamping; its tool checks have passed.

    Parameters
    ----------
    context
        Part and shop.
    standing
        The teeth in the clamping.
    disc
        The disc cutter.
    aim
        What the operation is to reach.
    """
    teeth, clamping = standing.teeth, standing.clamping
    way = Way(METHOD, disc.name, clamping.name)
    setup = Setup(teeth, disc)
    stages = stages_of(aim)
    base = tool_checks(context, teeth, disc, aim)
    conditions, known = conditions_for(context, teeth, METHOD, disc, stages)
    found = (
        *_room_checks(context, setup, standing),
        *level_checks(context, standing, setup.setting, setup.level, _margins(context)),
        known,
    )
    if faults_of(found):
        return rejected(way, (*found, *base))
    cuts = tuple(_cut(context, standing, setup, stage, conditions.of(stage), aim) for stage in stages)
    minutes = sum(cut.minutes for cut in cuts)
    one_edge = aim.share is not Share.ROUGH
    every = (
        *found,
        *base,
        *(cut.check for cut in cuts),
        checks.minutes_life_check(
            context, disc, sum(cut.minutes for cut in cuts if cut.stage == stages[-1]) * aim.runs, one_edge
        ),
    )
    if faults_of(every):
        return rejected(way, every)
    parts = " + ".join(shown(cut.minutes, 2) for cut in cuts)
    facts = (
        *(fact for cut in cuts for fact in cut.facts),
        *stock_fact(teeth, aim),
        Fact("time", minutes, "min", f"t = cuts = {parts} = {shown(minutes, 2)} min", DERIVED, True),
    )
    many = "s" if len(stages) > 1 else ""
    words = f"{setup.words} mills {teeth.teeth} gaps in {len(stages)} cut{many} each"
    return passed(way, Mode.MILLING, minutes, every, facts, words)


def _margins(context: Context) -> Margins:
    limits = context.shop.limits
    return Margins(0.0, float(limits.hob_margin), float(limits.riser_margin))


def _room_checks(context: Context, setup: Setup, standing: Standing) -> tuple[Check, ...]:
    margins = _margins(context)
    diameter = float(setup.disc.outside_diameter)

    def remedy(found: Clearance) -> str:
        if by_clamping := clamping_remedy(found, standing):
            return by_clamping
        largest = largest_passing(
            lambda size: clearance(setup.body(size), setup.setting, standing, found.side, margins).passes,
            4 * setup.teeth.depth,
            diameter,
        )
        if largest is None:
            return "no disc passes: skive or end-mill these teeth"
        return f"the largest disc that passes has diameter {shown(largest, 1)} mm"

    body = setup.body(diameter)
    return tuple(
        room_check(clearance(body, setup.setting, standing, side, margins), setup.words, margins, remedy)
        for side in ("below", "above")
    )


@dataclass(frozen=True)
class _Cut:
    """One cut through all gaps.

    Parameters
    ----------
    stage
        "rough" or "finish".
    minutes
        Time [min].
    check
        Power and torque.
    facts
        Speeds, feed and time.
    """

    stage: str
    minutes: float
    check: Check
    facts: tuple[Fact, ...]


def _cut(
    context: Context, standing: Standing, setup: Setup, stage: str, chosen: ChosenConditions, aim: Aim
) -> _Cut:
    teeth, disc, times = setup.teeth, setup.disc, context.shop.machine.times
    diameter = float(disc.outside_diameter)
    rpm = speeds.capped_rpm(diameter, chosen.cutting_speed, spindle_cap(context.shop, disc).rpm)
    depth = _depth(teeth, stage, aim)
    feed = _feed(teeth, disc, stage, chosen, aim)
    speed = speeds.cutting_speed(diameter, rpm)
    hold = Hold(
        standing.clamping,
        teeth.gear.tip_diameter,
        teeth.helix_angle,
        speed,
        0.0,
        held_lower(context, aim.share),
    )
    share = load_share(context, _load(teeth, disc, feed, rpm, depth, hold))
    feed *= share
    load = _load(teeth, disc, feed, rpm, depth, hold)
    rate = speeds.table_feed(feed, disc.teeth, rpm)
    travel = form_milling.gap_travel(
        teeth.face_width, teeth.helix_angle, teeth.depth, diameter, typical.SAFE_DISTANCE
    )
    per_gap = form_milling.gap_time(travel, rate, float(times.rapid), float(times.index))
    minutes = form_milling.gear_time(teeth.teeth, 1, per_gap)
    facts = (
        Fact(
            f"cutter revolutions, {stage}",
            rpm,
            "rpm",
            f"n = 1000 vc/(pi D) = 1000*{shown(chosen.cutting_speed, 1)}/(pi*{shown(diameter, 1)}) "
            f"= {shown(rpm, 1)} rpm",
            DERIVED,
            chosen.estimate,
        ),
        Fact(
            f"feed along the gap, {stage}",
            rate,
            "mm/min",
            f"vf = fz z n = {shown(feed, 4)}*{disc.teeth}*{shown(rpm, 1)} = {shown(rate, 1)} mm/min",
            chosen.source,
            chosen.estimate,
        ),
        Fact(
            f"time of the cut, {stage}",
            minutes,
            "min",
            f"T = z (L/vf + L/rapid + index) = {teeth.teeth}*({shown(travel, 1)}/{shown(rate, 1)} + "
            f"{shown(travel, 1)}/{shown(times.rapid)} + {shown(times.index, 3)}) = {shown(minutes, 2)} min",
            DERIVED,
            chosen.estimate,
        ),
    )
    return _Cut(stage, minutes, load_check(context, disc, load, share, stage), facts)


def _depth(teeth: Teeth, stage: str, aim: Aim) -> Mm:
    if stage == "finish":
        return max(radial_stock(teeth, aim.before or 0.3), 0.1)
    return teeth.depth - radial_stock(teeth, aim.stock)


def _feed(teeth: Teeth, disc: DiscCutter, stage: str, chosen: ChosenConditions, aim: Aim) -> Mm:
    """Feed of a tooth; on finished flanks the marks of one turn of the disc stay within the class."""
    limit = mark_limit(teeth)
    given = teeth.feature.conditions
    fixed = given is not None and (given.feed is not None or given.feed_per_tooth is not None)
    if stage != "finish" or not aim.finishing or limit is None or fixed:
        return chosen.feed
    largest = hobbing.largest_feed(limit, float(disc.outside_diameter), teeth.gear.pressure_angle, 0.0)
    return min(chosen.feed, largest / disc.teeth)


def _load(teeth: Teeth, disc: DiscCutter, feed: Mm, rpm: Rpm, depth: Mm, hold: Hold) -> Load:
    """Chips of one cut; the mean chip is half the greatest one."""
    area = teeth.gap_area * depth / teeth.depth
    rate = speeds.table_feed(feed, disc.teeth, rpm)
    diameter = float(disc.outside_diameter)
    chip = form_milling.greatest_chip(feed, min(depth, diameter / 2), diameter)
    return Load(area * rate, chip / 2, rpm, hold)
