"""Work on the whole part and on each clamping: receive, clamp, indicate, soak, release, wash, inspect."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from typing import Final

from sequencer.cutting.thermal import allowed_temperature_difference
from sequencer.operations.closeness import has_close_size, size_of, tolerance_of, width_of
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON
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
from sequencer.operations.releasing import release_reason
from sequencer.part import AnyFeature
from sequencer.shop.clamp_times import Actuation, clamp_minutes, release_minutes
from sequencer.shop.machine import Times
from sequencer.shop.tools import Nozzle, Probe
from sequencer.units import Micrometre, Minutes, Mm, shown

#: Temperature of a part above its surroundings after heavy roughing [K]; common practice, no source.
WARM_BY: Final = 5.0


def receive_operation(context: Context) -> Operation:
    """Give the check of the blank at receipt.

    Parameters
    ----------
    context
        Part and shop.
    """
    blank = context.part.blank
    minutes = float(context.shop.machine.times.receive)
    title = f"Check the {blank.form} at receipt: size, stock, hardness, mass, temperature"
    return _bench("part/receive", Stage.PREPARE, Action.RECEIVE, title, minutes, "shop file, time at receipt")


def heat_treat_operations(context: Context) -> tuple[Operation, ...]:
    """Give the heat treatment inside the route, if there is one.

    Parameters
    ----------
    context
        Part and shop.
    """
    treatment = context.part.heat_treatment
    if treatment is None:
        return ()
    depth = f", case depth {treatment.case_depth.text}" if treatment.case_depth is not None else ""
    title = f"{treatment.kind.capitalize()}{depth}"
    away, minutes = float(treatment.duration), float(context.shop.machine.times.receive)
    facts = (
        Fact("time away", away, "min", "until the part is back", "part file, duration of the heat treatment"),
        Fact("time", minutes, "min", "check when it comes back", "shop file, time at receipt"),
    )
    way = Alternative(
        str(Action.HEAT_TREAT),
        "",
        BENCH,
        Mode.REST,
        minutes,
        facts,
        "away from the machine; checked for size, hardness and distortion when it comes back",
        lead_time=away,
    )
    return (Operation("part/heat_treat", "", Stage.PREPARE, Action.HEAT_TREAT, title, (way,)),)


def inspect_operation(context: Context) -> Operation:
    """Give the independent check at the end.

    Parameters
    ----------
    context
        Part and shop.
    """
    minutes = float(context.shop.machine.times.independent_check)
    title = "Check on an independent measuring instrument, free and at room temperature"
    return _bench(
        "part/inspect", Stage.MEASURE, Action.INSPECT, title, minutes, "shop file, independent check"
    )


def _bench(name: str, stage: Stage, action: Action, title: str, minutes: Minutes, source: str) -> Operation:
    facts = (Fact("time", minutes, "min", "", source),)
    way = Alternative(str(action), "", BENCH, Mode.REST, minutes, facts, "away from the machine")
    return Operation(name, "", stage, action, title, (way,))


def opening_operations(context: Context) -> tuple[Operation, ...]:
    """Give clamping and indicating of every clamping; lifting and turning over belong to the clamping.

    Parameters
    ----------
    context
        Part and shop.
    """
    made: list[Operation] = []
    before: FittedClamping | None = None
    for clamping in context.clampings:
        made += [_clamp(context, clamping, before), _indicate(context, clamping)]
        before = clamping
    return tuple(made)


def _step(
    name: str, clamping: FittedClamping, action: Action, title: str, way: Alternative, opening: bool = False
) -> Operation:
    return Operation(
        f"{clamping.name}/{name}",
        clamping.name,
        Stage.PREPARE,
        action,
        title,
        (way,),
        opening=opening,
    )


class Handling(StrEnum):
    """What is done with the part before it is clamped."""

    NOTHING = ""
    RELEASED = "release and lift"
    TURNED = "turn over"


NOTHING, RELEASED, TURNED = Handling


def clamp_time(times: Times, handling: Handling, actuation: Actuation = "manual") -> Fact:
    """Give the time of clamping with what is done before, as a fact.

    Parameters
    ----------
    times
        Times of the machine.
    handling
        What is done with the part before.
    actuation
        How the clamping means are tightened.
    """
    minutes = clamp_minutes(times, actuation)
    formula = f"clamp {shown(minutes)}"
    if handling is not NOTHING:
        extra = float(times.turn_over if handling is TURNED else times.release)
        minutes += extra
        formula += f" + {handling} {shown(extra)}"
    return Fact("time", minutes, "min", f"{formula} = {shown(minutes)} min", "shop file, times")


def _clamp(context: Context, clamping: FittedClamping, before: FittedClamping | None) -> Operation:
    times, held = context.shop.machine.times, clamping.clamping
    handling = NOTHING if before is None else TURNED if before.clamping.up != held.up else RELEASED
    time = clamp_time(times, handling, clamping.means.actuation)
    facts = (
        Fact("mass", clamping.mass, "kg", "at most: the blank less what earlier clampings took", "derived"),
        Fact("highest table speed", clamping.table_speed, "rpm", clamping.speed_reason, "shop file"),
        Fact("clamping force", float(clamping.means.force), "N", "all jaws together", "shop file"),
        *_finishing_force(clamping),
        Fact("riser", float(held.riser), "mm", "free height below the lowest face", _place(clamping)),
        time,
    )
    on = "the raw blank" if held.on == "blank" else held.on
    rests = "its raw face" if held.rests_on == "blank" else held.rests_on
    title = f"Clamp {clamping.name}: {held.up} side up, {held.hold} on {on}, standing on {rests}"
    reason = f"{clamping.means.name} holds it; part {shown(clamping.mass, 0)} kg at most"
    way = Alternative("clamping", "", clamping.name, Mode.REST, float(time.value), facts, reason)
    return _step("clamp", clamping, Action.CLAMP, title, way, opening=True)


def _place(clamping: FittedClamping) -> str:
    return "proposed" if clamping.proposed else "part file"


def _finishing_force(clamping: FittedClamping) -> tuple[Fact, ...]:
    force = clamping.means.finishing_force
    if force is None:
        return ()
    return (Fact("clamping force for finishing", float(force), "N", "all jaws together", "shop file"),)


def _indicate(context: Context, clamping: FittedClamping) -> Operation:
    minutes = float(context.shop.machine.times.indicate)
    probe = next((tool for tool in context.shop.tools if isinstance(tool, Probe)), None)
    facts = (Fact("time", minutes, "min", "", "shop file, time to indicate"),)
    reason = "probed on the machine" if probe is not None else "indicated by hand, the shop has no probe"
    way = Alternative(
        "probing" if probe is not None else "by hand",
        probe.name if probe is not None else "",
        clamping.name,
        Mode.REST,
        minutes,
        facts,
        reason,
    )
    title = f"Indicate axis, face and angular zero in clamping {clamping.name}; record the runout"
    return _step("indicate", clamping, Action.INDICATE, title, way, opening=True)


def clamping_operations(context: Context, made: Sequence[Operation]) -> tuple[Operation, ...]:
    """Give soak, release and wash of every clamping that needs them.

    Roughing counts for the first clamping that it can be done in, close finishing for the last.

    Parameters
    ----------
    context
        Part and shop.
    made
        Operations of all features.
    """
    found: list[Operation] = []
    for clamping in context.clampings:
        heavy = [op for op in made if op.heavy and _ends(context, op)[0] == clamping.name]
        close = _close_here(context, made, clamping)
        found += _soak(context, clamping, heavy, close)
        found += _release(context, clamping, heavy, close)
        found += _wash(context, clamping, made)
    return tuple(found)


def _ends(context: Context, operation: Operation) -> tuple[str, str]:
    """First and last clamping of an operation: roughing is done early, close finishing late."""
    names = [clamping.name for clamping in context.clampings if clamping.name in operation.clampings]
    return (names[0], names[-1]) if names else ("", "")


def _close_here(context: Context, made: Iterable[Operation], clamping: FittedClamping) -> list[AnyFeature]:
    """Features with close tolerances whose last clamping this is, in order."""
    names = dict.fromkeys(
        op.feature
        for op in made
        if op.stage in (Stage.FINISH, Stage.HARD) and op.cuts and _ends(context, op)[1] == clamping.name
    )
    features = [context.part.by_name[name] for name in names if name in context.part.by_name]
    return [
        feature
        for feature in features
        if has_close_size(feature, context.shop) or feature.geometric or hasattr(feature, "flank_class")
    ]


def _closest(
    context: Context, features: Iterable[AnyFeature]
) -> tuple[AnyFeature, float, Mm, Micrometre] | None:
    """Feature that stands the least warmth: allowed difference, size and tolerance."""
    found: list[tuple[AnyFeature, float, Mm, Micrometre]] = []
    for feature in features:
        for size, width in _widths(context, feature):
            expansion = context.material.expansion * 1e-6
            found.append((feature, allowed_temperature_difference(width, size, expansion), size, width))
    return min(found, key=lambda entry: entry[1]) if found else None


def _widths(context: Context, feature: AnyFeature) -> Iterable[tuple[Mm, Micrometre]]:
    """Sizes that grow with warmth, with their tolerance: the size itself, and runout at the outside."""
    tolerance, size = tolerance_of(feature), abs(size_of(feature))
    width = width_of(tolerance, size) if tolerance is not None else None
    if width is not None and size > 0 and width > 0:
        yield size, width
    outer = context.section.extent(feature.name).outer
    for each in feature.geometric:
        if each.characteristic in ("runout", "total runout", "concentricity", "position") and outer > 0:
            yield outer, 1000 * float(each.value)


def _soak(
    context: Context, clamping: FittedClamping, heavy: list[Operation], close: list[AnyFeature]
) -> tuple[Operation, ...]:
    closest = _closest(context, close)
    if not heavy or closest is None or closest[1] >= WARM_BY:
        return ()
    feature, allowed, size, width = closest
    minutes = float(context.shop.machine.times.soak)
    formula = (
        f"dT = tol/(4 alpha D) = {shown(width, 0)} um/(4*{shown(context.material.expansion, 1)}e-6*"
        f"{shown(size, 1)} mm) = {shown(allowed, 1)} K for {feature.name}; after roughing about "
        f"{shown(WARM_BY, 0)} K"
    )
    facts = (
        Fact("allowed temperature difference", allowed, "K", formula, COMMON, estimate=True),
        Fact("time", minutes, "min", "", "shop file, time to soak"),
    )
    reason = (
        f"{feature.name} stands {shown(allowed, 1)} K, heavy roughing warms the part by about {WARM_BY} K"
    )
    way = Alternative("waiting", "", clamping.name, Mode.REST, minutes, facts, reason)
    title = f"Wait for temperature after roughing in clamping {clamping.name}"
    return (_step("soak", clamping, Action.SOAK, title, way),)


def _release(
    context: Context, clamping: FittedClamping, heavy: list[Operation], close: list[AnyFeature]
) -> tuple[Operation, ...]:
    why = release_reason(context)
    if not heavy or not close or not why:
        return ()
    minutes = release_minutes(context.shop.machine.times, clamping.means.actuation)
    force = clamping.means.finishing_force
    with_force = f" with {shown(force / 1000, 1)} kN" if force is not None else " with lower force"
    facts = (
        *_finishing_force(clamping),
        Fact("time", minutes, "min", "", "shop file, time to release and clamp again"),
    )
    reason = f"{why}; roundness returns only once it is released, {close[0].name} is finished after it"
    way = Alternative("re-clamping", "", clamping.name, Mode.REST, minutes, facts, reason)
    title = f"Release in clamping {clamping.name} and clamp again{with_force}"
    return (_step("release", clamping, Action.RELEASE, title, way),)


def _wash(context: Context, clamping: FittedClamping, made: Iterable[Operation]) -> tuple[Operation, ...]:
    measured = [op for op in made if op.stage is Stage.MEASURE and clamping.name in op.clampings]
    if not measured:
        return ()
    minutes = float(context.shop.machine.times.wash)
    nozzle = next((tool for tool in context.shop.tools if isinstance(tool, Nozzle)), None)
    facts = (Fact("time", minutes, "min", "", "shop file, time to wash"),)
    reason = "chips and coolant falsify what is measured"
    way = Alternative(
        "flushing" if nozzle is not None else "by hand",
        nozzle.name if nozzle is not None else "",
        clamping.name,
        Mode.REST,
        minutes,
        facts,
        reason,
    )
    return (_step("wash", clamping, Action.WASH, f"Flush chips off in clamping {clamping.name}", way),)
