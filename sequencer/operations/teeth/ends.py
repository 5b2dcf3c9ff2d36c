"""Deburring and measuring of any teeth: time and facts once it is known what the tool can reach."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from sequencer.cutting import speeds, times
from sequencer.operations.choices import out_of_reach
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED, spindle_cap
from sequencer.operations.operation import (
    BENCH,
    Action,
    Alternative,
    Fact,
    FittedClamping,
    Mode,
    Operation,
    Stage,
)
from sequencer.operations.outside import incoming_check
from sequencer.operations.teeth import typical
from sequencer.operations.teeth.trial import Check, Outcome, Way, fail, passed, rejected
from sequencer.part import AnyFeature
from sequencer.part.tolerances import FlankClass
from sequencer.shop.tools import ChamferMill, Probe
from sequencer.units import Mm, shown

DEBURRING: Final = "chamfering"
BY_HAND: Final = "deburring by hand"
MEASURING: Final = "measuring"
OVER_PINS: Final = "over pins by hand"
WITH_BALL: Final = "ball and indicator by hand"

#: A touch probe measures point by point: so much longer than a scanning probe (common practice, no source).
TOUCH_FACTOR: Final = 1.5
#: By hand takes so much longer than by probe (common practice, no source).
HAND_FACTOR: Final = 2.0
#: Flank class up to which form has to be scanned (common practice, no source).
SCANNED_CLASS: Final = 7


def closing_operation(
    context: Context,
    feature: AnyFeature,
    word: str,
    stage: Stage,
    action: Action,
    title: str,
    outcomes: tuple[Outcome, ...],
    hard: bool | None,
    otherwise: Callable[[str], Outcome],
) -> Operation:
    """Make an operation from the outcomes of its tools; it is never left without a way.

    Parameters
    ----------
    context
        Clampings with their reach.
    feature
        The feature.
    word
        Word of the operation's name.
    stage
        Stage.
    action
        Action.
    title
        Words for the route sheet.
    outcomes
        What came out of trying each tool in each clamping.
    hard
        Side of the hardening.
    otherwise
        Gives the way by hand in a clamping, or on the bench, where no tool passes.
    """
    if all(one.alternative is None for one in outcomes):
        places = [clamping.name for clamping in context.reaching(feature)] or [BENCH]
        outcomes = (*outcomes, *(otherwise(place) for place in places))
    alternatives = [one.alternative for one in outcomes if one.alternative is not None]
    rejections = [one.rejection for one in outcomes if one.rejection is not None]
    unreached = out_of_reach(context, feature, word)
    return Operation(
        name=f"{feature.name}/{word}",
        feature=feature.name,
        stage=stage,
        action=action,
        title=title,
        alternatives=tuple(sorted(alternatives, key=lambda way: (way.minutes, way.tool, way.clamping))),
        rejected=(*rejections, *unreached),
        hard=hard,
    )


def mill_outcome(
    context: Context,
    feature: AnyFeature,
    clamping: FittedClamping,
    mill: ChamferMill,
    counted: tuple[int, int, Mm],
    found: tuple[Check, ...],
) -> Outcome:
    """Give the outcome of a chamfer mill along tooth ends.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    clamping
        The clamping.
    mill
        The chamfer mill.
    counted
        Number of teeth, number of tooth ends, and length of the edge around one tooth and gap.
    found
        Checks of its room.
    """
    way = Way(DEBURRING, mill.name, clamping.name)
    chosen = context.conditions(DEBURRING, mill, "finish", feature, False)
    if chosen is None:
        words = f"{DEBURRING} with {mill.material} in {context.material.group}"
        missing = fail(f"the shop has no conditions for {words}", "add a row to the shop's conditions")
        return rejected(way, (*found, missing))
    if any(check.fault is not None for check in found):
        return rejected(way, found)
    teeth, ends, edge = counted
    rpm = speeds.capped_rpm(float(mill.diameter), chosen.cutting_speed, spindle_cap(context.shop, mill).rpm)
    rate = speeds.table_feed(chosen.feed, mill.teeth, rpm)
    way_on = typical.DEBURR_WAY
    minutes = ends * times.tooth_edge_chamfer_time(teeth, edge, rate, way_on)
    formula = (
        f"t = ends z (edge/vf + way) = {ends}*{teeth}*({shown(edge, 1)}/{shown(rate, 1)} + "
        f"{shown(way_on, 3)}) = {shown(minutes, 2)} min"
    )
    facts = (
        Fact("cutter revolutions", rpm, "rpm", source=chosen.source, estimate=chosen.estimate),
        Fact("feed along the edge", rate, "mm/min", source=chosen.source, estimate=chosen.estimate),
        Fact("time", minutes, "min", formula, DERIVED, True),
    )
    reason = f"chamfer mill {mill.name} follows the edges of the tooth ends; burrs cut hands and break off"
    return passed(way, Mode.MILLING, minutes, found, facts, reason)


def hand_outcome(clamping: FittedClamping, teeth: int, runs: int) -> Outcome:
    """Give the outcome of deburring by hand.

    Parameters
    ----------
    clamping
        The clamping.
    teeth
        Number of teeth [-].
    runs
        Runs of teeth: 2 for a double-helical gear [-].
    """
    minutes = runs * teeth * typical.DEBURR_BY_HAND
    formula = f"t = runs z t1 = {runs}*{teeth}*{shown(typical.DEBURR_BY_HAND, 2)} = {shown(minutes, 2)} min"
    fact = Fact("time", minutes, "min", formula, COMMON, True)
    reason = "By hand at the standing, locked table; gloves against sharp edges."
    return Outcome(Alternative(BY_HAND, "", clamping.name, Mode.REST, minutes, (fact,), reason))


def bench_deburring(teeth: int, runs: int, why: str) -> Outcome:
    """Give the outcome of deburring by hand on the bench.

    Parameters
    ----------
    teeth
        Number of teeth [-].
    runs
        Runs of teeth: 2 for a double-helical gear [-].
    why
        Why it is done there, for the reason.
    """
    minutes = runs * teeth * typical.DEBURR_BY_HAND
    formula = f"t = runs z t1 = {runs}*{teeth}*{shown(typical.DEBURR_BY_HAND, 2)} = {shown(minutes, 2)} min"
    fact = Fact("time", minutes, "min", formula, COMMON, True)
    reason = f"By hand on the bench: {why}; gloves against sharp edges."
    return Outcome(Alternative(BY_HAND, "", BENCH, Mode.REST, minutes, (fact,), reason))


def _place(clamping: str) -> str:
    if clamping == BENCH:
        return "on the bench"
    return "at the standing, locked table, before the part is released"


def back_check(context: Context, runs: int) -> Alternative:
    """Give the measuring of teeth that are hardened or come back from outside: no clamping of their own.

    Parameters
    ----------
    context
        Shop with its times.
    runs
        Runs of teeth: 2 for a double-helical gear [-].
    """
    return incoming_check(
        runs * float(context.shop.machine.times.measure_tooth_system),
        "shop file, time to measure a tooth system",
        "comes back from outside; nothing is cut any more",
    )


def hand_measuring(context: Context, clamping: str, runs: int, wanted: FlankClass | None) -> Outcome:
    """Give the outcome of measuring the size of teeth by hand where no probe can.

    Parameters
    ----------
    context
        Shop with its times.
    clamping
        Name of the clamping, or `BENCH` where none reaches the teeth.
    runs
        Runs of teeth: 2 for a double-helical gear [-].
    wanted
        Flank class of the drawing.
    """
    one = float(context.shop.machine.times.measure_tooth_system)
    minutes = one * runs
    formula = f"t = runs t1 = {runs}*{shown(one, 2)} = {shown(minutes, 2)} min"
    fact = Fact("time", minutes, "min", formula, "shop file", True)
    where = (
        "on the bench" if clamping == BENCH else "at the standing, locked table, before the part is released"
    )
    asked = "" if wanted is None else f", which {wanted} asks for"
    reason = (
        f"No probe of the shop measures these teeth in place: size over pins or balls by hand {where}. "
        f"Warning: it says nothing about pitch, profile and helix{asked}; have them checked independently."
    )
    return Outcome(Alternative(OVER_PINS, "", clamping, Mode.REST, minutes, (fact,), reason))


def hand_apex(context: Context, clamping: str) -> Outcome:
    """Give the outcome of checking an apex by hand where no probe can.

    Parameters
    ----------
    context
        Shop with its times.
    clamping
        Name of the clamping, or `BENCH` where none reaches the teeth.
    """
    minutes = float(context.shop.machine.times.apex_check) * HAND_FACTOR
    formula = f"t = 2 t1 = 2*{shown(context.shop.machine.times.apex_check, 2)} = {shown(minutes, 2)} min"
    fact = Fact("time", minutes, "min", formula, COMMON, True)
    where = (
        "on the bench" if clamping == BENCH else "at the standing, locked table, before the part is released"
    )
    reason = (
        "No probe of the shop measures these teeth in place: by hand with an indicator and a ball in the "
        f"gaps of both helices {where}. Warning: coarser than a probe; repeat each place."
    )
    return Outcome(Alternative(WITH_BALL, "", clamping, Mode.REST, minutes, (fact,), reason))


def probe_outcome(
    context: Context,
    clamping: FittedClamping,
    probe: Probe,
    counted: tuple[int, int],
    found: tuple[Check, ...],
) -> Outcome:
    """Give the outcome of measuring teeth with a probe.

    Parameters
    ----------
    context
        Part and shop.
    clamping
        The clamping.
    probe
        The probe.
    counted
        Number of teeth, and runs of teeth.
    found
        Checks of ball, reach and form.
    """
    way = Way(MEASURING, probe.name, clamping.name)
    if any(check.fault is not None for check in found):
        return rejected(way, found)
    teeth, runs = counted
    one = float(context.shop.machine.times.measure_tooth_system)
    factor = TOUCH_FACTOR if probe.form == "touch" else 1.0
    minutes = one * factor * runs
    formula = f"t = runs t1 factor = {runs}*{shown(one, 2)}*{shown(factor, 2)} = {shown(minutes, 2)} min"
    traced = "evenly spaced, both flanks; profile at mid-face, helix near mid-depth"
    facts = (
        Fact("pitch, gaps measured", float(teeth * runs), "", "all teeth, both flanks", COMMON),
        Fact(
            "profile and helix, teeth traced",
            float(min(typical.TRACED_TEETH, teeth) * runs),
            "",
            traced,
            COMMON,
        ),
        Fact("time", minutes, "min", formula, "shop file", True),
    )
    reason = (
        f"{probe.form} probe {probe.name} measures before the part is released, while a flank can still be "
        "corrected; it does not replace an independent check"
    )
    return passed(way, Mode.REST, minutes, found, facts, reason)


def form_check(wanted: FlankClass | None, probe: Probe) -> Check:
    """Check that the probe scans form where the class asks for it.

    Parameters
    ----------
    wanted
        Flank class of the drawing.
    probe
        The probe.
    """
    if probe.form == "scanning" or wanted is None or wanted.number > SCANNED_CLASS:
        return Check()
    return fail(
        f"touch probe {probe.name} measures pitch and size point by point; class {wanted.number} asks for "
        "profile and helix form, which are scanned",
        "use a scanning probe",
    )
