"""Power skiving tried with one cutter in one clamping."""

from __future__ import annotations

import math
from typing import Final

from sequencer.cutting import skiving
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED, approach_fact
from sequencer.operations.operation import Fact, Mode
from sequencer.operations.teeth import checks, typical
from sequencer.operations.teeth.holds import Hold, held_lower
from sequencer.operations.teeth.loads import Load, load_check, load_share
from sequencer.operations.teeth.share import (
    Aim,
    Share,
    StageConditions,
    conditions_for,
    radial_stock,
    stock_fact,
)
from sequencer.operations.teeth.skiving_angles import Cut, clearance_check
from sequencer.operations.teeth.skiving_passes import Passes, passes_of, stages_of
from sequencer.operations.teeth.skiving_setup import Setup, access_checks, angle_checks
from sequencer.operations.teeth.speed import Coupled, coupled_speeds, turn_words
from sequencer.operations.teeth.standing import Standing
from sequencer.operations.teeth.trial import (
    Check,
    Outcome,
    Plain,
    Way,
    fail,
    faults_of,
    passed,
    rejected,
)
from sequencer.operations.teeth.zone import Teeth
from sequencer.shop.tools import SkivingCutter
from sequencer.units import Mm, Rpm, shown

METHOD: Final = "power skiving"
#: Cutting materials that stand hardened flanks (common practice, no source).
HARD_EDGES: Final = ("carbide", "CBN")
#: Depths that differ by less are the same [mm].
_SAME: Final[Mm] = 1e-6


def tool_checks(context: Context, teeth: Teeth, cutter: SkivingCutter, aim: Aim) -> tuple[Check, ...]:
    """Checks of a skiving cutter that hold in any clamping.

    Parameters
    ----------
    context
        Part and shop.
    teeth
        The teeth.
    cutter
        The cutter.
    aim
        What the operation is to reach.
    """
    match = checks.match_check(teeth, cutter)
    if match.fault is not None:
        return (match,)
    place = "internal" if teeth.internal else "external"
    if cutter.made_for not in ("both", place):
        return (
            fail(
                f"skiving cutter {cutter.name} is made for {cutter.made_for} teeth, these are {place}",
                plain=Plain("made for", f"{cutter.made_for} teeth", f"these are {place}"),
            ),
        )
    finishing = aim.share is not Share.ROUGH
    runs = aim.runs if cutter.hand is None or not float(cutter.helix_angle) else 1
    hard = aim.share is Share.HARD
    reachable = typical.HARD_SKIVING_CLASS if hard else typical.skiving_class(teeth.module)
    words = "hard skiving" if hard else METHOD
    return (
        checks.wish_check(teeth, cutter, finishing),
        _edge_check(cutter, hard),
        checks.range_check(cutter, float(teeth.teeth), "teeth"),
        *_relation_check(context, teeth, cutter),
        *angle_checks(context, Setup(teeth, cutter)),
        checks.delivery_check(context, cutter),
        checks.length_life_check(context, teeth, cutter, runs, finishing),
        *((checks.class_check(teeth, words, reachable, COMMON, aim.later),) if finishing else ()),
    )


def _edge_check(cutter: SkivingCutter, hard: bool) -> Check:
    """Hard flanks need carbide or CBN, soft ones no CBN."""
    if hard and cutter.material not in HARD_EDGES:
        return fail(
            f"skiving cutter {cutter.name} is of {cutter.material}, hardened flanks need "
            f"{' or '.join(HARD_EDGES)}",
            f"a skiving cutter of {HARD_EDGES[-1]}",
        )
    if not hard and cutter.material == "CBN":
        return fail(f"skiving cutter {cutter.name} is of CBN, which is for hardened flanks")
    return Check()


def _relation_check(context: Context, teeth: Teeth, cutter: SkivingCutter) -> tuple[Check, ...]:
    """Cutter teeth over internal gear teeth: too large a cutter leaves no way in and out of the gap."""
    if not teeth.internal:
        return ()
    limit = context.shop.limits.skiving_tooth_relation
    relation = cutter.teeth / teeth.teeth
    most = skiving.largest_cutter_teeth(teeth.teeth, limit)
    fact = Fact(
        "tooth relation of skiving",
        relation,
        "",
        f"z0/z2 = {cutter.teeth}/{teeth.teeth} = {shown(relation, 3)}, limit {shown(limit, 2)}",
        "shop file",
    )
    if relation <= limit + 1e-9:
        return (Check((fact,)),)
    return (
        fail(
            f"skiving cutter {cutter.name} has {cutter.teeth} teeth for {teeth.teeth} inside teeth, "
            f"{shown(relation, 2)} of them; {shown(limit, 2)} are allowed",
            f"a cutter with at most {most} teeth",
            fact,
        ),
    )


def try_cutter(context: Context, standing: Standing, cutter: SkivingCutter, aim: Aim) -> Outcome:
    """Try one skiving cutter in one clamping; its tool checks have passed.

    Parameters
    ----------
    context
        Part and shop.
    standing
        The teeth in the clamping.
    cutter
        The cutter.
    aim
        What the operation is to reach.
    """
    teeth, clamping = standing.teeth, standing.clamping
    way = Way(METHOD, cutter.name, clamping.name)
    setup = Setup(teeth, cutter)
    base = tool_checks(context, teeth, cutter, aim)
    stages = stages_of(aim)
    conditions, known = conditions_for(context, teeth, METHOD, cutter, stages)
    speeds = {stage: _speeds(context, standing, setup, stage, conditions) for stage in conditions.by_stage}
    found = (
        *access_checks(context, setup, standing),
        checks.mass_check(context, clamping),
        known,
        *(speed.check for speed in speeds.values()),
    )
    if faults_of((*found, *base)):
        return rejected(way, (*found, *base))
    passes = passes_of(teeth, aim, conditions)
    first = stages[0]
    hold = Hold(
        clamping,
        max(teeth.gear.tip_diameter, teeth.gear.root_diameter),
        teeth.helix_angle,
        conditions.of(first).cutting_speed * speeds[first].share,
        speeds[first].table,
        held_lower(context, aim.share),
    )
    share = load_share(context, _load(teeth, passes, speeds[first].cutter, cutter, hold))
    feeds = tuple(
        feed * (share if stage == first else 1.0)
        for feed, stage in zip(passes.feeds, passes.stages, strict=True)
    )
    passes = Passes(passes.infeeds, feeds, passes.stages)
    load = _load(teeth, passes, speeds[first].cutter, cutter, hold)
    every = (*found, *base, load_check(context, cutter, load, share, first))
    if faults_of(every):
        return rejected(way, every)
    every = (*every, clearance_check(context, setup, _cut_of(setup, passes, aim)))
    if faults_of(every):
        return rejected(way, every)
    return _passed(context, way, setup, standing, passes, speeds, every, aim)


def _cut_of(setup: Setup, passes: Passes, aim: Aim) -> Cut:
    """The passes with what earlier operations have cut and what is left."""
    teeth, left = setup.teeth, radial_stock(setup.teeth, aim.stock)
    before = max(0.0, teeth.depth - left - math.fsum(passes.infeeds))
    first = before if before > _SAME else 0.0
    return Cut(teeth.gear, setup.cutter.teeth, setup.helix, passes.feeds[-1], first, passes.infeeds, left)


def _speeds(
    context: Context, standing: Standing, setup: Setup, stage: str, conditions: StageConditions
) -> Coupled:
    chosen, teeth = conditions.of(stage), setup.teeth
    wanted = skiving.cutter_rpm(chosen.cutting_speed, setup.pitch_diameter, setup.sigma, teeth.helix_angle)
    ratio = setup.cutter.teeth / teeth.teeth
    return coupled_speeds(context, teeth, standing.clamping, setup.cutter, stage, chosen, wanted, ratio)


def _load(teeth: Teeth, passes: Passes, rpm: Rpm, cutter: SkivingCutter, hold: Hold) -> Load:
    """Chips of the largest pass; the mean chip is taken as half the axial feed."""
    feed, largest = passes.feeds[0], max(passes.infeeds)
    area = teeth.gap_area * largest / teeth.depth
    table = skiving.table_rpm(rpm, cutter.teeth, teeth.teeth)
    removal = teeth.teeth * area * feed / math.cos(math.radians(teeth.helix_angle)) * table
    return Load(removal, feed / 2, rpm, hold)


def _passed(
    context: Context,
    way: Way,
    setup: Setup,
    standing: Standing,
    passes: Passes,
    speeds: dict[str, Coupled],
    every: tuple[Check, ...],
    aim: Aim,
) -> Outcome:
    teeth, times = setup.teeth, context.shop.machine.times
    run = _run(context, setup)
    cutting, parts = 0.0, []
    for stage in dict.fromkeys(passes.stages):
        feeds = tuple(f for f, s in zip(passes.feeds, passes.stages, strict=True) if s == stage)
        minutes = skiving.passes_time(teeth.face_width, run, run, feeds, speeds[stage].table)
        cutting += minutes
        parts.append(
            f"{len(feeds)}*({shown(teeth.face_width, 1)} + 2*{shown(run, 1)})/"
            f"({shown(feeds[0], 3)}*{shown(speeds[stage].table, 1)})"
        )
    back = len(passes.infeeds) * (teeth.face_width + 2 * run) / float(times.rapid)
    total = cutting + back + float(times.synchronise)
    formula = (
        f"t = passes + ways back + coupling = {' + '.join(parts)} + {shown(back, 2)} + "
        f"{shown(times.synchronise, 2)} = {shown(total, 2)} min"
    )
    facts = (
        *_speed_facts(setup, speeds),
        *_pass_facts(teeth, passes),
        *stock_fact(teeth, aim),
        approach_fact(
            total - cutting * teeth.face_width / (teeth.face_width + 2 * run),
            f"t - passes b/(b + 2 run) = {shown(total, 2)} - {shown(cutting, 2)}*"
            f"{shown(teeth.face_width, 1)}/"
            f"({shown(teeth.face_width, 1)} + 2*{shown(run, 1)})",
            True,
        ),
        Fact("time", total, "min", formula, "Gear Technology 2021, skiving time, as quoted", True),
    )
    table = max(speed.table for speed in speeds.values())
    words = (
        f"{setup.words} cuts in {len(passes.infeeds)} passes with the table at {shown(table, 1)} rpm, "
        f"clamping {standing.clamping.name} allows it"
    )
    return passed(way, Mode.GEAR, total, every, facts, words)


def _run(context: Context, setup: Setup) -> Mm:
    """Axial way before and behind the teeth: from where the edge touches the tip circle, and the margin."""
    gear = setup.teeth.gear
    reach = skiving.engagement_reach(
        gear.tip_diameter,
        gear.root_diameter,
        float(setup.cutter.outside_diameter),
        setup.sigma,
        gear.internal,
    )
    return reach + float(context.shop.limits.skiving_margin)


def _hunting_fact(setup: Setup) -> Fact:
    """How many tooth spaces share one cutter tooth: with a common divisor its errors repeat on the gear."""
    cutter, gear = setup.cutter.teeth, setup.teeth.teeth
    common = math.gcd(cutter, gear)
    words = (
        "no common divisor: each cutter tooth meets every space in turn"
        if common == 1
        else f"each cutter tooth meets {gear // common} spaces only: its errors repeat there as pitch errors"
    )
    return Fact(
        "common divisor of the teeth", common, "", f"gcd({cutter}, {gear}) = {common}; {words}", "derived"
    )


def _speed_facts(setup: Setup, speeds: dict[str, Coupled]) -> tuple[Fact, ...]:
    cutter, teeth = setup.cutter, setup.teeth
    sense = "the same way" if teeth.internal else "opposite ways"
    facts = [
        Fact(
            "speed ratio",
            cutter.teeth / teeth.teeth,
            "",
            f"n2/n0 = z0/z2 = {cutter.teeth}/{teeth.teeth}; cutter and table turn {sense}",
            "derived by velocity vectors",
        ),
        _sense_fact(setup),
        _hunting_fact(setup),
    ]
    for stage, speed in speeds.items():
        lowered = f" at {shown(100 * speed.share)} % of the cutting speed" if speed.share < 1 else ""
        facts += [
            Fact(
                f"cutter revolutions, {stage}",
                speed.cutter,
                "rpm",
                f"n0 = 1000 vc cos(beta2)/(pi d0 sin(Sigma)) with d0 {shown(setup.pitch_diameter, 2)} mm, "
                f"Sigma {shown(abs(setup.sigma), 2)} deg = {shown(speed.cutter, 1)} rpm{lowered}",
                "Gear Technology 2021, as quoted; confirmed by velocity vectors",
                True,
            ),
            Fact(
                f"table revolutions, {stage}",
                speed.table,
                "rpm",
                f"n2 = n0 z0/z2 = {shown(speed.cutter, 1)}*{cutter.teeth}/{teeth.teeth} = "
                f"{shown(speed.table, 1)} rpm",
                DERIVED,
                True,
            ),
        ]
    return tuple(facts)


def _sense_fact(setup: Setup) -> Fact:
    """Which way cutter and table turn, so that the lower face of the cutter cuts."""
    teeth, cutter = setup.teeth, setup.cutter
    senses = skiving.skiving_senses(
        teeth.module, teeth.teeth, teeth.signed_helix, teeth.internal, cutter.teeth, setup.helix, 1.0, 1.0
    )
    extra = ""
    if teeth.helix_angle:
        faster, slower = ("faster", "slower") if senses.adds else ("slower", "faster")
        extra = f"; the differential makes it {faster} for a feed downwards, {slower} for one upwards"
    return Fact(
        "senses of cutter and table",
        math.copysign(1.0, senses.table),
        "",
        f"from above, lower face of the cutter leading: the cutter turns {turn_words(senses.cutter)}, the "
        f"table {turn_words(senses.table)}{extra}",
        "derived by velocity vectors",
    )


def _pass_facts(teeth: Teeth, passes: Passes) -> tuple[Fact, ...]:
    listed = ", ".join(shown(infeed, 2) for infeed in passes.infeeds)
    return (
        Fact(
            "number of passes",
            float(len(passes.infeeds)),
            "",
            f"infeeds {listed} mm of {shown(teeth.depth, 2)} mm depth",
            "derived: each pass cuts about the same area",
            True,
        ),
        Fact("axial feed, first pass", passes.feeds[0], "mm/rev", source="conditions", estimate=True),
        Fact("axial feed, last pass", passes.feeds[-1], "mm/rev", source="conditions", estimate=True),
    )
