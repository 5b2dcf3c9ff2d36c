"""Roughing of straight bevel teeth with a gashing disc, tried with one disc cutter in one clamping."""

from __future__ import annotations

import math

from sequencer.cutting import form_milling, speeds
from sequencer.operations.context import Context
from sequencer.operations.facts import DERIVED, spindle_cap
from sequencer.operations.operation import Fact, FittedClamping, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.bevel import BevelTeeth, end_room_checks
from sequencer.operations.teeth.holds import Hold
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.share import Aim, Share
from sequencer.operations.teeth.trial import Check, Outcome, Plain, Way, fail, faults_of, passed, rejected
from sequencer.shop.tools import DiscCutter
from sequencer.units import Mm, Rpm, shown


def try_disc(
    context: Context, teeth: BevelTeeth, clamping: FittedClamping, disc: DiscCutter, aim: Aim
) -> Outcome:
    """Try one disc cutter for roughing a bevel gear in one clamping.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    clamping
        The clamping.
    disc
        The disc cutter.
    aim
        What the operation is to reach.
    """
    way = Way("disc milling", disc.name, clamping.name)
    found = _disc_checks(context, teeth, disc, aim)
    if faults_of(found):
        return rejected(way, found)
    chosen = context.conditions("disc milling", disc, "rough", teeth.gear)
    if chosen is None:
        words = f"disc milling with {disc.material} in {context.material.group}, rough"
        return rejected(way, (*found, fail(f"the shop has no conditions for {words}")))
    times, diameter = context.shop.machine.times, float(disc.outside_diameter)
    rpm = speeds.capped_rpm(diameter, chosen.cutting_speed, spindle_cap(context.shop, disc).rpm)
    load = _load(teeth, clamping, disc, chosen.feed, rpm)
    share = load_share(context, load)
    rate = speeds.table_feed(chosen.feed * share, disc.teeth, rpm)
    found = (
        *found,
        load_check(context, disc, _load(teeth, clamping, disc, chosen.feed * share, rpm), share, "rough"),
    )
    if faults_of(found):
        return rejected(way, found)
    travel = form_milling.gap_travel(
        float(teeth.gear.face_width), 0.0, teeth.depth, diameter, typical.SAFE_DISTANCE
    )
    one = form_milling.gap_time(travel, rate, float(times.rapid), float(times.index))
    minutes = form_milling.gear_time(teeth.gear.teeth, 1, one)
    facts = (
        Fact("cutter revolutions, rough", rpm, "rpm", source=chosen.source, estimate=chosen.estimate),
        Fact("feed along the gap, rough", rate, "mm/min", source=chosen.source, estimate=chosen.estimate),
        Fact(
            "time",
            minutes,
            "min",
            f"T = z (L/vf + L/rapid + index) = {teeth.gear.teeth}*{shown(one, 3)} = {shown(minutes, 2)} min",
            DERIVED,
            True,
        ),
    )
    reason = (
        f"disc cutter {disc.name} gashes the straight teeth at the width of their small end; the taper is "
        "left for the finish"
    )
    return passed(way, Mode.MILLING, minutes, found, facts, reason)


def _load(teeth: BevelTeeth, clamping: FittedClamping, disc: DiscCutter, feed: Mm, rpm: Rpm) -> Load:
    """Chips in the gap at the large end; the mean chip is half the greatest one."""
    gap, diameter = teeth.gap, float(disc.outside_diameter)
    rate = speeds.table_feed(feed, disc.teeth, rpm)
    chip = form_milling.greatest_chip(feed, min(gap.depth, diameter / 2), diameter)
    hold = Hold(clamping, gap.diameter, teeth.cone_angle, speeds.cutting_speed(diameter, rpm), 0.0, False)
    return Load(gap.mean_width * gap.depth * rate, chip / 2, rpm, hold)


def _taper(teeth: BevelTeeth) -> str:
    return f"bevel teeth taper from module {shown(teeth.module, 2)} to {shown(teeth.toe_module, 2)} mm"


def _disc_checks(context: Context, teeth: BevelTeeth, disc: DiscCutter, aim: Aim) -> tuple[Check, ...]:
    if teeth.gear.form == "spiral":
        return (fail(f"disc cutter {disc.name} cuts a straight gap, these teeth are spiral"),)
    if aim.share is not Share.ROUGH:
        return (
            fail(
                f"disc cutter {disc.name} has one gap form, {_taper(teeth)}: it can only rough them",
                plain=Plain("has", "one gap form", f"{_taper(teeth)}: it can only rough them"),
            ),
        )
    module = checks.normal_module_of(disc.module)
    if module > teeth.toe_module * (1 + checks.SAME_MODULE) or "rough" not in disc.stage:
        return (
            fail(
                f"disc cutter {disc.name} has module {disc.module}, the small end of the teeth has "
                f"{shown(teeth.toe_module, 2)} mm",
                f"a gashing disc up to module {shown(math.floor(teeth.toe_module * 10) / 10, 1)} mm",
            ),
        )
    needed = form_milling.approach(teeth.depth, float(disc.outside_diameter))
    needed += float(context.shop.limits.hob_margin)
    words = f"disc cutter {disc.name} (diameter {shown(disc.outside_diameter, 1)} mm)"
    return (
        checks.delivery_check(context, disc),
        *end_room_checks(context, teeth, needed, words),
        checks.tilt_check(
            context,
            (90.0, -90.0),
            "disc axis level, across the straight teeth",
        ),
    )
