"""What follows the cutting of teeth: deburring of their ends, measuring, and the check of the apex."""

from __future__ import annotations

import math

from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, DERIVED
from sequencer.operations.operation import Action, Fact, FittedClamping, Mode, Operation, Stage
from sequencer.operations.teeth import typical
from sequencer.operations.teeth.ends import (
    MEASURING,
    back_check,
    bench_deburring,
    closing_operation,
    form_check,
    hand_apex,
    hand_measuring,
    hand_outcome,
    mill_outcome,
    probe_outcome,
)
from sequencer.operations.teeth.sent_out import CUT_OUTSIDE
from sequencer.operations.teeth.standing import Standing, standing_of
from sequencer.operations.teeth.trial import Check, Outcome, Way, fail, passed, rejected
from sequencer.operations.teeth.zone import Teeth
from sequencer.operations.wording import named, work_of
from sequencer.part.toothed import DoubleHelicalGear, Spline
from sequencer.shop.tools import ChamferMill, Probe
from sequencer.units import Mm, shown


def deburr_operation(context: Context, runs: tuple[Teeth, ...], side: bool | None) -> Operation:
    """Give the deburring of all tooth ends, by a chamfer mill or by hand.

    Parameters
    ----------
    context
        Part and shop.
    runs
        The runs of teeth of one feature.
    side
        False if it is done before hardening, None if nothing is hardened.
    """
    feature = runs[0].feature
    mills = [tool for tool in context.shop.tools if isinstance(tool, ChamferMill) and "teeth" in tool.use]
    outcomes = [
        _mill(context, runs, clamping, mill) for clamping in context.reaching(feature) for mill in mills
    ]
    hands = [hand_outcome(clamping, runs[0].teeth, len(runs)) for clamping in context.reaching(feature)]
    if feature.method in CUT_OUTSIDE:
        hands.append(bench_deburring(runs[0].teeth, len(runs), f"{feature.method} is done outside"))
    chamfer = None if isinstance(feature, Spline) else feature.tooth_chamfer
    title = f"Deburr tooth ends of {named(feature)}"
    if chamfer is not None:
        title = f"Chamfer tooth ends of {named(feature)} {chamfer.text}"
    return closing_operation(
        context,
        runs[0].feature,
        "deburr",
        Stage.DEBURR,
        Action.DEBURR,
        title,
        (*outcomes, *hands),
        side,
        lambda _: bench_deburring(runs[0].teeth, len(runs), "no clamping reaches these teeth"),
    )


def _ends(runs: tuple[Teeth, ...]) -> int:
    return 2 * len(runs)


def _mill(context: Context, runs: tuple[Teeth, ...], clamping: FittedClamping, mill: ChamferMill) -> Outcome:
    teeth = runs[0]
    found = tuple(_end_check(context, standing_of(context, one, clamping), mill) for one in runs)
    edge = math.pi * teeth.module + 2 * teeth.depth
    return mill_outcome(context, teeth.feature, clamping, mill, (teeth.teeth, _ends(runs), edge), found)


def _end_check(context: Context, standing: Standing, mill: ChamferMill) -> Check:
    """The mill stands over the edge with its axis square to it: half its diameter needs room."""
    needed = float(mill.diameter) / 2 + float(context.shop.limits.end_mill_margin)
    tightest = min((*standing.below, *standing.above), key=lambda obstacle: obstacle.near)
    fact = Fact(
        "room for the chamfer mill",
        tightest.near,
        "mm",
        f"needs D/2 + margin = {shown(needed, 1)} mm, {shown(tightest.near, 1)} mm up to {tightest.words}",
        DERIVED,
    )
    if tightest.near < needed:
        return fail(
            f"chamfer mill {mill.name} needs {shown(needed, 1)} mm beside the tooth ends, "
            f"has {shown(tightest.near, 1)} mm against {tightest.words}",
            "deburr by hand or with a smaller mill",
            fact,
        )
    if not standing.teeth.internal:
        return Check((fact,))
    return _bore_check(standing, mill, fact)


def _bore_check(standing: Standing, mill: ChamferMill, fact: Fact) -> Check:
    depth, opening = standing.depth, standing.entry_diameter
    if float(mill.body_diameter) + 2 > opening:
        return fail(
            f"the holder of {mill.name} ({shown(mill.body_diameter, 1)} mm) does not enter "
            f"{shown(opening, 1)} mm",
            "deburr by hand",
            fact,
        )
    if float(mill.functional_length) < depth:
        return fail(
            f"{mill.name} is {shown(mill.functional_length, 1)} mm long, the lower tooth ends lie "
            f"{shown(depth, 1)} mm below the top",
            "deburr by hand",
            fact,
        )
    return Check((fact,))


def measure_operation(context: Context, runs: tuple[Teeth, ...], hard: bool, back: bool = False) -> Operation:
    """Give the measuring of a tooth system on the machine, before the part is released.

    Parameters
    ----------
    context
        Part and shop.
    runs
        The runs of teeth of one feature.
    hard
        True if flanks are finished after hardening.
    back
        True if the flanks come back finished from outside.
    """
    feature = runs[0].feature
    probes = [tool for tool in context.shop.tools if isinstance(tool, Probe)]
    outcomes = tuple(
        _probe(context, runs, clamping, probe) for clamping in context.reaching(feature) for probe in probes
    )
    if hard or back:
        outcomes += (Outcome(alternative=back_check(context, len(runs))),)
    return closing_operation(
        context,
        runs[0].feature,
        "measure",
        Stage.MEASURE,
        Action.MEASURE,
        work_of("Measure teeth", feature),
        outcomes,
        True if hard else None,
        lambda place: hand_measuring(context, place, len(runs), runs[0].flank_class),
    )


def _probe(context: Context, runs: tuple[Teeth, ...], clamping: FittedClamping, probe: Probe) -> Outcome:
    teeth = runs[0]
    found = (
        *(_probe_check(standing_of(context, one, clamping), probe) for one in runs),
        form_check(teeth.flank_class, probe),
    )
    return probe_outcome(context, clamping, probe, (teeth.teeth, len(runs)), found)


def _probe_check(standing: Standing, probe: Probe) -> Check:
    teeth = standing.teeth
    gap = teeth.gap_above_root(teeth.depth / 2)
    if float(probe.ball_diameter) >= gap:
        return fail(
            f"the ball of {probe.name} has {shown(probe.ball_diameter, 2)} mm, the gap at mid-depth "
            f"{shown(gap, 2)} mm",
            f"a ball below {shown(gap, 1)} mm",
        )
    if teeth.internal and float(probe.reach) < standing.depth:
        return fail(
            f"{probe.name} reaches {shown(probe.reach, 1)} mm, the teeth end {shown(standing.depth, 1)} mm "
            "below the top",
            "a longer stylus",
        )
    return Check()


def apex_operation(context: Context, runs: tuple[Teeth, ...]) -> Operation:
    """Give the check of the apex at four places, before the part is released.

    Parameters
    ----------
    context
        Part and shop.
    runs
        Both halves of a double-helical gear.
    """
    feature = runs[0].feature
    probes = [tool for tool in context.shop.tools if isinstance(tool, Probe)]
    outcomes = tuple(
        _apex(context, runs, clamping, probe) for clamping in context.reaching(feature) for probe in probes
    )
    return closing_operation(
        context,
        runs[0].feature,
        "apex_check",
        Stage.MEASURE,
        Action.APEX_CHECK,
        f"Check apex of {named(feature)} at {typical.APEX_PLACES} places",
        outcomes,
        None,
        lambda place: hand_apex(context, place),
    )


def _apex(context: Context, runs: tuple[Teeth, ...], clamping: FittedClamping, probe: Probe) -> Outcome:
    way = Way(MEASURING, probe.name, clamping.name)
    found = tuple(_probe_check(standing_of(context, teeth, clamping), probe) for teeth in runs)
    if any(check.fault is not None for check in found):
        return rejected(way, found)
    minutes = float(context.shop.machine.times.apex_check)
    facts = (
        *_apex_facts(context, runs[0]),
        Fact("time", minutes, "min", source="shop file"),
    )
    reason = (
        f"{probe.name} probes both helices before the part is released, while the apex can still be corrected"
    )
    return passed(way, Mode.REST, minutes, found, facts, reason)


def _apex_facts(context: Context, teeth: Teeth) -> tuple[Fact, ...]:
    feature = teeth.feature
    assert isinstance(feature, DoubleHelicalGear)
    angular = float(context.shop.machine.capability.angular)
    shift = apex_shift(teeth.gear.reference_diameter, angular, teeth.helix_angle)
    formula = (
        f"dz = r dphi/(2 tan(beta)) = {shown(teeth.gear.reference_diameter / 2, 2)}*"
        f"{shown(angular * 3600, 2)} arcsec/(2*tan({shown(teeth.helix_angle, 2)} deg)) = {shown(shift, 4)} mm"
    )
    return (
        Fact(
            "places checked",
            float(typical.APEX_PLACES),
            "",
            "evenly round the gear",
            COMMON,
        ),
        Fact("apex shift allowed", float(feature.apex_tolerance), "mm", source="part file"),
        Fact("apex shift by the angular error of the table", shift, "mm", formula, DERIVED),
    )


def apex_shift(reference_diameter: Mm, angle: float, helix_angle: float) -> Mm:
    """Give the shift of the apex by an angular error between the two helices, r dphi / (2 tan beta).

    Source: derived

    Parameters
    ----------
    reference_diameter
        Reference diameter [mm].
    angle
        Angular error between the helices [deg].
    helix_angle
        Helix angle [deg].
    """
    tangent = math.tan(math.radians(helix_angle))
    return reference_diameter / 2 * math.radians(angle) / (2 * tangent)
