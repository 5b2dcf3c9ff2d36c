"""Deburring and measuring of any teeth: time and facts once it is known what the tool can reach."""

from __future__ import annotations

from typing import Final

from sequencer.cutting import speeds, times
from sequencer.operations.choices import out_of_reach
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED, spindle_cap
from sequencer.operations.operation import (
    Action,
    Alternative,
    Fact,
    FittedClamping,
    Mode,
    Operation,
    Stage,
)
from sequencer.operations.teeth import typical
from sequencer.operations.teeth.trial import Check, Outcome, Way, fail, passed, rejected
from sequencer.part import AnyFeature
from sequencer.part.tolerances import FlankClass
from sequencer.shop.tools import ChamferMill, Probe
from sequencer.units import Mm, shown

DEBURRING: Final = "chamfering"
BY_HAND: Final = "deburring by hand"
MEASURING: Final = "measuring"

#: A touch probe measures point by point: so much longer than a scanning probe (common practice, no source).
TOUCH_FACTOR: Final = 1.5
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
) -> Operation:
    """Make an operation from the outcomes of its tools.

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
    """
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
