"""Hobbing tried with one hob in one clamping."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from sequencer.cutting import hobbing, speeds
from sequencer.cutting.cutter_bodies import CutterBody, hob_body
from sequencer.cutting.run_out import Arrangement, Setting
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import COMMON, DERIVED, lowest, spindle_cap, table_cap
from sequencer.operations.operation import Fact, FittedClamping, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.room import (
    Clearance,
    Margins,
    clearance,
    largest_passing,
    room_check,
    table_remedy,
)
from sequencer.operations.teeth.share import Aim, Share, conditions_for, stages_check, stock_fact
from sequencer.operations.teeth.speed import table_limit
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import Check, Outcome, Way, fail, faults_of, passed, rejected
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import Hob
from sequencer.units import Deg, Mm, shown

METHOD: Final = "hobbing"


@dataclass(frozen=True)
class Setup:
    """A hob at the teeth.

    Parameters
    ----------
    teeth
        The teeth.
    hob
        The hob.
    diameter
        Outside diameter of the hob; another one is asked about when the hob is too large [mm].
    hand
        Hand of the hob; the other one is asked about when the hob swivels too far.
    """

    teeth: Teeth
    hob: Hob
    diameter: Mm
    hand: str

    @property
    def lead_angle(self) -> Deg:
        """Lead angle of the hob [deg]."""
        module = checks.normal_module_of(self.hob.module)
        pitch = hobbing.hob_pitch_diameter(self.diameter, self.hob.addendum * module)
        return hobbing.hob_lead_angle(self.hob.starts, module, pitch)

    @property
    def swivel(self) -> Deg:
        """Swivel of the hob axis out of the transverse plane [deg]."""
        teeth = self.teeth
        return hobbing.swivel_angle(teeth.helix_angle, self.lead_angle, teeth.hand, self.hand)

    @property
    def same_hand(self) -> bool:
        """Whether hob and teeth have one hand, or the teeth none."""
        return self.teeth.hand in ("spur", self.hand)

    @property
    def overrun(self) -> Mm:
        """Travel behind the teeth until both flanks are generated [mm]."""
        return hobbing.overrun(self.teeth.module, self.teeth.gear.pressure_angle, self.swivel)

    @property
    def shifts(self) -> tuple[Mm, ...]:
        """Hob shifts to look at: middle first, then as far up and down as the flanks can be generated [mm]."""
        teeth = self.teeth
        needed = hobbing.generating_length(teeth.module, teeth.gear.pressure_angle) + teeth.module
        free = float(self.hob.length) / 2 - needed
        return (0.0, free, -free) if free > 0 else (0.0,)

    def body(self, shift: Mm) -> CutterBody:
        """Body of the hob.

        Parameters
        ----------
        shift
            Place of the hob middle along its axis, above 0 upwards [mm].
        """
        return hob_body(self.diameter, float(self.hob.length), shift=shift)

    @property
    def setting(self) -> Setting:
        """How it stands to the teeth."""
        return Setting(Arrangement.CROSSED, self.teeth.gear.root_diameter / 2, self.swivel)

    @property
    def words(self) -> str:
        """Words for a sentence."""
        how = "" if self.teeth.hand == "spur" else f" on {self.teeth.hand}-hand teeth"
        return (
            f"hob {self.hob.name} (diameter {shown(self.diameter, 1)} mm, {self.hand} hand{how}) "
            f"swivelled {shown(self.swivel, 1)} deg"
        )


def margins_of(context: Context, setup: Setup) -> Margins:
    """Give what is added to the reach of the hob.

    Parameters
    ----------
    context
        Part and shop.
    setup
        The hob at the teeth.
    """
    limits = context.shop.limits
    return Margins(setup.overrun, float(limits.hob_margin), float(limits.riser_margin))


@dataclass(frozen=True)
class Placed:
    """A hob with the shift that gives the most room.

    Parameters
    ----------
    shift
        Place of the hob middle along its axis [mm].
    below, above
        Room at both ends.
    """

    shift: Mm
    below: Clearance
    above: Clearance

    @property
    def spare(self) -> Mm:
        """Room to spare at the tighter end [mm]."""
        return min(self.below.spare, self.above.spare)


def placed(context: Context, setup: Setup, standing: Standing) -> Placed:
    """Place a hob: in its middle if that passes, else with the shift that gives the most room.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    setup
        The hob at the teeth.
    standing
        The teeth in a clamping.
    """
    margins, best = margins_of(context, setup), None
    for shift in setup.shifts:
        body = setup.body(shift)
        below, above = (
            clearance(body, setup.setting, standing, side, margins) for side in ("below", "above")
        )
        here = Placed(shift, below, above)
        if here.spare >= -1e-9:
            return here
        if best is None or here.spare > best.spare:
            best = here
    assert best is not None
    return best


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
        *_room_checks(context, setup, standing, place),
        checks.tilt_check(
            context,
            (90 - setup.swivel, 90 + setup.swivel),
            f"90 deg less swivel {shown(setup.swivel, 2)} deg",
        ),
        checks.mass_check(context, clamping),
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
    cap = lowest((spindle_cap(context.shop, hob), _cap_by_table(context, standing.clamping, setup)))
    wanted = speeds.spindle_rpm(setup.diameter, chosen.cutting_speed)
    rpm = min(wanted, cap.rpm)
    feed, marks = _feed(setup, stage, chosen, aim)
    load = _load(setup, feed, rpm)
    share = load_share(context, load)
    if share < 1:
        feed *= share
        load = _load(setup, feed, rpm)
    table = hobbing.table_rpm(rpm, hob.starts, teeth.teeth)
    travel = _travel(setup)
    minutes = hobbing.hobbing_time(teeth.teeth, hob.starts, rpm, feed, travel)
    speed_check = _speed_check(setup, stage, chosen, wanted, rpm, cap.reason)
    rpm_formula = (
        f"n0 = 1000 vc/(pi da0) = 1000*{shown(chosen.cutting_speed, 1)}/(pi*{shown(setup.diameter, 1)}) "
        f"= {shown(wanted, 1)} rpm"
    )
    facts = (
        Fact(f"hob revolutions, {stage}", rpm, "rpm", rpm_formula, DERIVED, chosen.estimate),
        Fact(
            f"table revolutions, {stage}",
            table,
            "rpm",
            f"n2 = n0 z0/z = {shown(rpm, 1)}*{hob.starts}/{teeth.teeth} = {shown(table, 3)} rpm",
            DERIVED,
            chosen.estimate,
        ),
        Fact(f"axial feed, {stage}", feed, "mm/rev", source=chosen.source, estimate=chosen.estimate),
        *marks,
        Fact(
            f"time of the cut, {stage}",
            minutes,
            "min",
            f"T = z L/(n0 z0 fa) = {teeth.teeth}*{shown(travel, 1)}/({shown(rpm, 1)}*{hob.starts}*"
            f"{shown(feed, 3)}) = {shown(minutes, 2)} min",
            "R. Endoy, Estimating Hobbing Times, Gear Technology 1989",
            chosen.estimate,
        ),
    )
    return Cut(stage, minutes, (speed_check, load_check(context, hob, load, share)), facts)


def _cap_by_table(context: Context, clamping: FittedClamping, setup: Setup):  # type: ignore[no-untyped-def]
    raise NotImplementedError
