"""Hobbing tried with one hob in one clamping."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import hobbing, speeds
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import COMMON, DERIVED, approach_fact
from sequencer.operations.operation import Fact, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.hob_setup import Placed, Setup, margins_of, placed, room_checks
from sequencer.operations.teeth.hob_wear import chip_fact, facet_check, head_chip, wear_facts
from sequencer.operations.teeth.holds import Hold, held_lower
from sequencer.operations.teeth.level_head import level_checks
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.share import (
    Aim,
    Share,
    conditions_for,
    mark_limit,
    radial_stock,
    stages_check,
    stock_fact,
)
from sequencer.operations.teeth.speed import coupled_speeds
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import Check, Outcome, Way, faults_of, passed, rejected
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import Hob
from sequencer.units import Mm, Rpm, shown

METHOD: Final = "hobbing"


def tool_checks(context: Context, teeth: Teeth, hob: Hob, aim: Aim) -> tuple[Check, ...]:
    """Checks of a hob that hold in any clamping.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    hob
        The hob.
    aim
        What the operation is to reach.
    """
    match = checks.match_check(teeth, hob)
    if match.fault is not None:
        return (match,)
    reachable = typical.hob_class(hob.quality, hob.starts)
    words = f"hobbing with hob quality {hob.quality}"
    if hob.starts > 1:
        words += f" and {hob.starts} starts"
    return (
        checks.wish_check(teeth, hob, aim.share is not Share.ROUGH),
        stages_check(hob, hob.stage, stages_of(teeth, aim)),
        checks.delivery_check(context, hob),
        checks.length_life_check(context, teeth, hob, 1, aim.share is not Share.ROUGH),
        *(
            ()
            if aim.share is Share.ROUGH
            else (checks.class_check(teeth, words, reachable, COMMON, aim.later),)
        ),
    )


def stages_of(teeth: Teeth, aim: Aim) -> tuple[str, ...]:
    """Give the cuts of a hob, by module.

    Source: common practice, no source

    Parameters
    ----------
    teeth
        The teeth.
    aim
        What the operation is to reach.
    """
    roughs = (
        0 if teeth.module <= typical.ONE_CUT_MODULE else 1 if teeth.module <= typical.TWO_CUT_MODULE else 2
    )
    if aim.share is Share.FINISH:
        return ("finish",)
    if aim.share is Share.ROUGH:
        return ("rough",) * max(roughs, 1)
    return ("rough",) * roughs + ("finish",)


def try_hob(context: Context, standing: Standing, hob: Hob, aim: Aim) -> Outcome:
    """Try one hob in one clamping; its tool checks have passed.

    Parameters
    ----------
    context
        Part and shop.
    standing
        The teeth in the clamping.
    hob
        The hob.
    aim
        What the operation is to reach.
    """
    teeth, clamping = standing.teeth, standing.clamping
    way = Way(METHOD, hob.name, clamping.name)
    setup = Setup(teeth, hob, float(hob.outside_diameter), hob.hand)
    base = tool_checks(context, teeth, hob, aim)
    place = placed(context, setup, standing)
    stages = stages_of(teeth, aim)
    conditions, known = conditions_for(context, teeth, METHOD, hob, stages)
    found = (
        *room_checks(context, setup, standing, place),
        *level_checks(context, standing, setup.setting, setup.level, margins_of(context, setup)),
        checks.mass_check(context, clamping),
        *((facet_check(setup),) if aim.finishing else ()),
        known,
    )
    if faults_of(found):
        return rejected(way, (*found, *base))
    cuts = tuple(_cut(context, standing, setup, stage, conditions.of(stage), aim) for stage in stages)
    every = (*found, *base, *(check for cut in cuts for check in cut.checks))
    if faults_of(every):
        return rejected(way, every)
    return _passed(context, way, setup, place, cuts, every, aim)


@dataclass(frozen=True)
class Cut:
    """One cut of a hob over the face width.

    Parameters
    ----------
    stage
        "rough" or "finish".
    minutes
        Time of the cut [min].
    checks
        Its checks with their facts.
    facts
        Speeds, feed and time.
    """

    stage: str
    minutes: float
    checks: tuple[Check, ...]
    facts: tuple[Fact, ...]


def _cut(
    context: Context, standing: Standing, setup: Setup, stage: str, chosen: ChosenConditions, aim: Aim
) -> Cut:
    teeth, hob = setup.teeth, setup.hob
    wanted = speeds.spindle_rpm(setup.diameter, chosen.cutting_speed)
    ratio = hob.starts / teeth.teeth
    speed = coupled_speeds(context, teeth, standing.clamping, hob, stage, chosen, wanted, ratio)
    feed, marks = _feed(setup, stage, chosen, aim)
    depth = _depth(teeth, stage, aim)
    hold = Hold(
        standing.clamping,
        teeth.gear.tip_diameter,
        setup.swivel,
        chosen.cutting_speed * speed.share,
        speed.table,
        held_lower(context, aim.share),
    )
    share = load_share(context, _load(setup, feed, speed.cutter, depth, hold))
    feed *= share
    load = _load(setup, feed, speed.cutter, depth, hold)
    travel = _travel(setup)
    minutes = hobbing.hobbing_time(teeth.teeth, hob.starts, speed.cutter, feed, travel)
    guess = chosen.estimate
    facts = (
        Fact(
            f"hob revolutions, {stage}",
            speed.cutter,
            "rpm",
            f"n0 = 1000 vc/(pi da0) = 1000*{shown(chosen.cutting_speed * speed.share, 1)}/"
            f"(pi*{shown(setup.diameter, 1)}) = {shown(speed.cutter, 1)} rpm",
            DERIVED,
            guess,
        ),
        Fact(
            f"table revolutions, {stage}",
            speed.table,
            "rpm",
            f"n2 = n0 z0/z = {shown(speed.cutter, 1)}*{hob.starts}/{teeth.teeth} = "
            f"{shown(speed.table, 3)} rpm",
            DERIVED,
            guess,
        ),
        Fact(f"axial feed, {stage}", feed, "mm/rev", _lowered(feed, share), chosen.source, guess),
        *marks,
        chip_fact(setup, stage, feed, depth),
        Fact(
            f"time of the cut, {stage}",
            minutes,
            "min",
            f"T = z L/(n0 z0 fa) = {teeth.teeth}*{shown(travel, 1)}/({shown(speed.cutter, 1)}*"
            f"{hob.starts}*{shown(feed, 3)}) = {shown(minutes, 2)} min",
            "R. Endoy, Estimating Hobbing Times, Gear Technology 1989",
            guess,
        ),
    )
    return Cut(stage, minutes, (speed.check, load_check(context, hob, load, share, stage)), facts)


def _lowered(feed: Mm, share: float) -> str:
    """Words for a feed that is not done in full."""
    if share >= 1:
        return ""
    return f"fa = {shown(feed / share, 3)}*{shown(share, 3)} = {shown(feed, 3)} mm/rev, see feed kept"


def _depth(teeth: Teeth, stage: str, aim: Aim) -> Mm:
    """Infeed that a cut takes: all but the stock of the finish, or that stock."""
    if stage == "finish" and aim.share is Share.FINISH:
        return radial_stock(teeth, aim.before)
    return teeth.depth - radial_stock(teeth, aim.stock)


def _travel(setup: Setup) -> Mm:
    """Axial travel of one cut, from the approach to the overrun."""
    teeth = setup.teeth
    approach = hobbing.approach(setup.diameter, teeth.depth, teeth.gear.tip_diameter, setup.swivel)
    return hobbing.total_travel(teeth.face_width, approach + typical.SAFE_DISTANCE, setup.overrun)


def _load(setup: Setup, feed: Mm, rpm: Rpm, depth: Mm, hold: Hold) -> Load:
    """Chips of one cut; the mean chip is taken as half the head chip."""
    teeth, hob = setup.teeth, setup.hob
    area = teeth.gap_area * depth / teeth.depth
    along = feed / math.cos(math.radians(teeth.helix_angle))
    removal = teeth.teeth * area * along * hobbing.table_rpm(rpm, hob.starts, teeth.teeth)
    return Load(removal, head_chip(setup, feed, depth) / 2, rpm, hold)


def _feed(setup: Setup, stage: str, chosen: ChosenConditions, aim: Aim) -> tuple[Mm, tuple[Fact, ...]]:
    """Axial feed; for finished flanks no more than the feed marks allow, unless the planner gave it."""
    teeth, feed = setup.teeth, chosen.feed
    if stage != "finish" or not aim.finishing:
        return feed, ()
    angle, limit = teeth.gear.pressure_angle, mark_limit(teeth)
    given = teeth.feature.conditions
    fixed = given is not None and given.feed is not None
    if limit is not None and not fixed:
        feed = min(feed, hobbing.largest_feed(limit, setup.diameter, angle, teeth.helix_angle))
    depth = hobbing.feed_mark_depth(feed, setup.diameter, angle, teeth.helix_angle)
    quarter = "a quarter of the helix form tolerance"
    against = "" if limit is None else f"; allowed {shown(limit, 1)} um, {quarter}"
    formula = (
        f"delta = 1000 (fa/cos(beta))^2 sin(alpha)/(4 da0) = 1000*({shown(feed, 3)}/"
        f"cos({shown(teeth.helix_angle, 1)} deg))^2*sin({shown(angle, 1)} deg)/(4*{shown(setup.diameter, 1)})"
        f" = {shown(depth, 2)} um{against}"
    )
    source = "hob makers' formula, from memory; the share is common practice, no source"
    return feed, (Fact("depth of feed marks", depth, "um", formula, source, True),)


def _number_of_cuts(teeth: Teeth, cuts: int) -> Fact:
    words = (
        f"module {shown(teeth.module, 3)} mm: one cut up to {shown(typical.ONE_CUT_MODULE)} mm, two up to "
        f"{shown(typical.TWO_CUT_MODULE)} mm, three above; roughing and finishing apart where stock is left"
    )
    return Fact("number of cuts", float(cuts), "", words, COMMON)


def _approach(setup: Setup, cuts: tuple[Cut, ...], minutes: float) -> Fact:
    """Run-in and overrun of each cut, ways back and coupling."""
    share = setup.teeth.face_width / _travel(setup)
    whole = math.fsum(cut.minutes for cut in cuts)
    formula = f"t - cuts b/L = {shown(minutes, 2)} - {shown(whole, 2)}*{shown(share, 3)}"
    return approach_fact(minutes - whole * share, formula, True)


def _passed(
    context: Context,
    way: Way,
    setup: Setup,
    place: Placed,
    cuts: tuple[Cut, ...],
    every: tuple[Check, ...],
    aim: Aim,
) -> Outcome:
    times = context.shop.machine.times
    back = sum(_travel(setup) for _ in cuts[1:]) / float(times.rapid)
    minutes = sum(cut.minutes for cut in cuts) + float(times.synchronise) + back
    parts = " + ".join(shown(cut.minutes, 2) for cut in cuts)
    formula = f"t = cuts + coupling = {parts} + {shown(times.synchronise, 2)} = {shown(minutes, 2)} min"
    facts = (
        *(fact for cut in cuts for fact in cut.facts),
        _number_of_cuts(setup.teeth, len(cuts)),
        *wear_facts(context, setup, place),
        *stock_fact(setup.teeth, aim),
        _approach(setup, cuts, minutes),
        Fact("time", minutes, "min", formula, DERIVED, True),
    )
    tight = min((place.below, place.above), key=lambda one: one.spare)
    room = f"; the tightest run-out needs {shown(tight.needed, 1)} of {shown(tight.has, 1)} mm"
    words = f"{setup.words} cuts in {len(cuts)} cut{'s' if len(cuts) > 1 else ''}{room}"
    return passed(way, Mode.GEAR, minutes, every, facts, words)
