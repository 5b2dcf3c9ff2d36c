"""Turning of faces, cylinders, bores and cones, stage by stage."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.cutting import roughness, speeds, times
from sequencer.operations.attempt import Attempt
from sequencer.operations.bars import bar_facts, bar_fault
from sequencer.operations.choices import (
    Outcome,
    out_of_reach,
    rough_clampings,
    settle,
)
from sequencer.operations.closeness import grade_of
from sequencer.operations.context import ChosenConditions, Context
from sequencer.operations.facts import (
    DERIVED,
    approach_fact,
    diameter_words,
    mm,
    speed_facts,
    time_fact,
)
from sequencer.operations.force_limits import cutting_force, fit_cut, force_facts, table_limit, turning_cap
from sequencer.operations.necks import neck_outcomes
from sequencer.operations.operation import (
    Action,
    Alternative,
    Fact,
    Mode,
    Operation,
    Rejection,
    Stage,
)
from sequencer.operations.outside import sent_out
from sequencer.operations.proud import SLIGHT, overhang
from sequencer.operations.stock import (
    Place,
    Surface,
    TurnStage,
    cylinder_surface,
    stages_of,
    surface_of,
)
from sequencer.operations.turning_seat import Seat, right_kind, seat_of
from sequencer.operations.wording import named, work
from sequencer.part import AnyFeature
from sequencer.part.profile import SAME
from sequencer.part.turned import RunOutGroove
from sequencer.shop.tools import TurningTool
from sequencer.units import Minutes, Mm, Rpm, shown

#: Feed path before and behind a turned surface [mm]; common practice, no source.
APPROACH: Final[Mm] = 2.0

#: Stock below this is still one light cut [mm]; common practice, no source.
LIGHT_CUT: Final[Mm] = 0.1

#: Remedy where no clamping is left after hardening.
CLAMP_AGAIN: Final = (
    "List a further clamping for after hardening: the same holding again, or one on finished surfaces"
)

_TITLES: Final = {"rough": "Rough", "semi": "Semi-finish", "finish": "Finish", "hard": "Finish hard"}


def turned_operations(context: Context, feature: AnyFeature) -> tuple[Operation, ...]:
    """Give the operations of a face, turned diameter, bore or taper.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    """
    return surface_operations(context, feature, surface_of(context, feature))


def cylinder_operations(
    context: Context,
    feature: AnyFeature,
    place: Place,
    z_from: Mm,
    z_to: Mm,
    diameter: Mm,
    prefix: str = "blank_",
) -> tuple[Operation, ...]:
    """Give the turning of the cylinder that carries teeth or a thread: tip cylinder, crest, minor diameter.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The gear, spline or thread.
    place
        "outside" or "inside".
    z_from, z_to
        Ends on the axis [mm].
    diameter
        Finished diameter [mm].
    prefix
        Put before the words rough and finish.
    """
    z_from, z_to = _over_run_outs(context, feature, place, z_from, z_to)
    surface = cylinder_surface(context, place, z_from, z_to, diameter)
    return surface_operations(context, feature, surface, prefix)


def _over_run_outs(
    context: Context, feature: AnyFeature, place: Place, z_from: Mm, z_to: Mm
) -> tuple[Mm, Mm]:
    """Turn the cylinder through over the run-out grooves beside it, which are cut into it later."""
    for groove in context.part.features:
        if not isinstance(groove, RunOutGroove) or groove.gear != feature.name or groove.place != place:
            continue
        if abs(groove.z_to - z_from) <= SAME:
            z_from = float(groove.z_from)
        elif abs(groove.z_from - z_to) <= SAME:
            z_to = float(groove.z_to)
    return z_from, z_to


def surface_operations(
    context: Context, feature: AnyFeature, surface: Surface, prefix: str = ""
) -> tuple[Operation, ...]:
    """Give one operation for each stage of a turned surface.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    surface
        Its surface with the stock.
    prefix
        Put before the words; with one the feature's own wishes do not hold, they are for its teeth.
    """
    return tuple(
        _operation(context, feature, surface, step, prefix) for step in stages_of(context, feature, surface)
    )


def _operation(
    context: Context, feature: AnyFeature, surface: Surface, step: TurnStage, prefix: str
) -> Operation:
    wished = step.finishing and not prefix
    outcomes: list[Outcome] = [*out_of_reach(context, feature, _method(surface), wished)]
    places = context.reaching(feature) if wished else rough_clampings(context, feature)
    attempts = [Attempt(context, feature, clamping, wished) for clamping in places]
    open_in = [attempt.clamping.name for attempt in attempts if not _behind(attempt, surface)]
    for attempt in attempts:
        outcomes += _in_clamping(attempt, surface, step, open_in)
    outcomes += _sent_out(context, feature, step)
    alternatives, rejected = settle(context, feature, outcomes, wished)
    title = _TITLES[step.word]
    return Operation(
        f"{feature.name}/{prefix}{step.word}",
        feature.name,
        step.stage,
        Action.TURN,
        f"{title} blank of {named(feature)}" if prefix else work(title, feature),
        alternatives,
        rejected,
        heavy=step.stage is Stage.ROUGH,
        hard=step.hard,
    )


def _method(surface: Surface) -> str:
    return "boring" if surface.place == "inside" else "turning"


def _behind(attempt: Attempt, surface: Surface) -> tuple[Mm, str] | None:
    """How far something above stands proud of a cylinder, and what; None if it is open to a turning tool."""
    if surface.place == "face":
        return None
    zone = (surface.z_from, surface.z_to)
    proud, _, name = overhang(attempt.standing, *zone, surface.inner, surface.place == "inside")
    return (proud, name) if proud > SLIGHT else None


def _in_clamping(
    attempt: Attempt, surface: Surface, step: TurnStage, open_in: list[str]
) -> Iterator[Outcome]:
    """Try all tools; what lies behind something is plunged only where no clamping shows it openly."""
    if step.hard and attempt.standing.raw_hold:
        what = f"in clamping {attempt.clamping.name} the part {attempt.standing.raw_hold} before hardening"
        yield Rejection(_method(surface), "", attempt.clamping.name, what, CLAMP_AGAIN)
        return
    behind = _behind(attempt, surface)
    if behind is not None and open_in:
        what = f"{behind[1]} above it stands {mm(behind[0])} proud; it is turned openly in {open_in[0]}"
        yield Rejection("grooving", "", attempt.clamping.name, what)
        return
    if behind is not None:
        yield from neck_outcomes(attempt, surface, step)
        return
    seat = seat_of(attempt, surface, step)
    for tool in attempt.context.shop.tools:
        if isinstance(tool, TurningTool) and right_kind(tool, surface, step, seat):
            yield _try(attempt, surface, step, tool, seat)


def _try(attempt: Attempt, surface: Surface, step: TurnStage, tool: TurningTool, seat: Seat) -> Outcome:
    method, context = _method(surface), attempt.context
    fault = _grade_fault(context, attempt.feature, step)
    if fault is None and seat.inside:
        fault = bar_fault(attempt, tool, seat.opening, seat.depth)
    if fault is not None:
        return attempt.reject(method, tool, *fault)
    chosen = attempt.conditions(tool, [(method, step.table_stage), ("turning", step.table_stage)])
    if chosen is None:
        return attempt.no_conditions(method, tool, step.table_stage)
    make = _face if surface.place == "face" else _cylinder
    return make(attempt, surface, step, tool, chosen)


def _grade_fault(context: Context, feature: AnyFeature, step: TurnStage) -> tuple[str, str] | None:
    grade, best = grade_of(feature), context.shop.machine.capability.best_turned_grade
    if not step.finishing or grade is None or grade >= best:
        return None
    return (
        f"grade IT{grade} is closer than the machine turns: IT{best} at best",
        "widen the tolerance or send it out for grinding",
    )


def _sent_out(context: Context, feature: AnyFeature, step: TurnStage) -> list[Outcome]:
    """Grinding outside: for hard surfaces, and for grades that turning does not hold."""
    asked = step.finishing and (feature.method == "grinding" or _grade_fault(context, feature, step))
    if step.stage is not Stage.HARD and not asked:
        return []
    stock = Fact("stock", step.removed, "mm", "", "shop file, stock for grinding")
    reason = "sent out for grinding; leaves with its datums and a known stock"
    return [sent_out(context.shop, "grinding", reason, stock)]


def _finish_feed(attempt: Attempt, step: TurnStage, tool: TurningTool, chosen: ChosenConditions) -> Fact:
    """Feed, held down to what the roughness allows unless the planner gives it."""
    feature = attempt.feature
    given = attempt.wished and feature.conditions is not None and feature.conditions.feed is not None
    fact = Fact("feed", chosen.feed, "mm/rev", "", chosen.source, chosen.estimate)
    if given or not step.finishing or feature.roughness is None:
        return fact
    ra, radius = 1000 * float(feature.roughness), float(tool.corner_radius)
    largest = roughness.largest_feed_for_ra(ra, radius)
    if largest >= chosen.feed:
        return fact
    formula = (
        f"f = sqrt(32 r Ra/1000) = sqrt(32*{shown(radius)}*{shown(ra)}/1000) = {shown(largest)} mm/rev "
        f"instead of {shown(chosen.feed)}"
    )
    return Fact("feed", largest, "mm/rev", formula, "derived from Ra = 1000 f^2/(32 r)", chosen.estimate)


def _wanted_depth(step: TurnStage, tool: TurningTool, chosen: ChosenConditions) -> Mm:
    removed = max(step.removed, LIGHT_CUT)
    return min(removed, chosen.depth or float(tool.depth), float(tool.depth))


def _cylinder(
    attempt: Attempt, surface: Surface, step: TurnStage, tool: TurningTool, chosen: ChosenConditions
) -> Outcome:
    context, clamping = attempt.context, attempt.clamping
    method = _method(surface)
    removed = max(step.removed, LIGHT_CUT)
    start, end = surface.diameter_at(step.left + step.removed), surface.diameter_at(step.left)
    mean, largest = (start + end) / 2, max(start, end)
    feed = _finish_feed(attempt, step, tool, chosen)
    depth = _wanted_depth(step, tool, chosen)
    finishing = step.stage is not Stage.ROUGH
    cap = turning_cap(context, clamping, cutting_force(context, depth, feed.value), largest, finishing)
    vc, rpm = speed_facts(chosen, mean, cap)
    speed = speeds.cutting_speed(mean, rpm.value)
    limit = table_limit(context, clamping, largest, speed, rpm.value, finishing)
    cut = fit_cut(context, depth, feed.value, limit)
    if isinstance(cut, str):
        return attempt.reject(method, tool, cut, "a stronger grip or a lighter cut")
    cuts = times.cuts_for_stock(removed, cut.depth)
    length = surface.length
    back = cuts * (length + 2 * APPROACH) / float(context.shop.machine.times.rapid)
    minutes = times.turning_time(length, cut.feed, rpm.value, APPROACH, APPROACH, cuts) + back
    formula = (
        f"t = i (L + la + lu)/(f n) + i L/rapid = {cuts}*({shown(length, 1)} + {shown(APPROACH)} + "
        f"{shown(APPROACH)})/({shown(cut.feed)}*{shown(rpm.value, 1)}) + {shown(back, 2)}"
    )
    facts = (
        vc,
        rpm,
        _real_feed(feed, cut.feed),
        _depth_fact(removed, cuts),
        *force_facts(context, removed / cuts, cut.feed, speed, limit, cut.reduced),
        *bar_facts(attempt, tool, cutting_force(context, removed / cuts, cut.feed)),
        _approach(minutes, length, cuts, cut.feed, rpm.value, chosen.estimate),
        time_fact(minutes, formula, DERIVED, chosen.estimate),
    )
    reason = (
        f"{tool.title}: {_cuts(cuts)} from {diameter_words(start)} to {mm(end)} at {shown(rpm.value, 0)} rpm"
    )
    return Alternative(method, tool.name, clamping.name, Mode.TURNING, minutes, facts, reason)


def _approach(minutes: Minutes, length: Mm, cuts: int, feed: Mm, rpm: Rpm, estimate: bool) -> Fact:
    """Run-in, overrun and way back of straight cuts: what is left of the time once the length is cut."""
    cutting = cuts * length / (feed * rpm)
    formula = (
        f"t - i L/(f n) = {shown(minutes, 2)} - {cuts}*{shown(length, 1)}/({shown(feed)}*{shown(rpm, 1)})"
    )
    return approach_fact(minutes - cutting, formula, estimate)


def _beside_the_ring(
    minutes: Minutes, outer: Mm, inner: Mm, feed: Mm, chosen: ChosenConditions, cap: Rpm, cuts: int
) -> Fact:
    """Run-in and overrun of a face: what is left of the time once the ring itself is cut."""
    ring = times.facing_time(outer, inner, feed, chosen.cutting_speed, cap, cuts)
    words = f"t less the ring from {diameter_words(outer, 1)} to {mm(inner, 1)} itself"
    formula = f"{words} = {shown(minutes, 2)} - {shown(ring, 2)}"
    return approach_fact(minutes - ring, formula, chosen.estimate)


def _face(
    attempt: Attempt, surface: Surface, step: TurnStage, tool: TurningTool, chosen: ChosenConditions
) -> Outcome:
    context, clamping = attempt.context, attempt.clamping
    removed = max(step.removed, LIGHT_CUT)
    rough = step.stage is Stage.ROUGH
    inner = surface.raw_inner if rough else surface.inner
    outer = surface.raw_outer if rough else surface.outer
    feed = _finish_feed(attempt, step, tool, chosen)
    depth = _wanted_depth(step, tool, chosen)
    cap = turning_cap(context, clamping, cutting_force(context, depth, feed.value), outer, not rough)
    vc, rpm = speed_facts(chosen, outer, cap, "revolutions at the outside")
    speed = speeds.cutting_speed(outer, rpm.value)
    limit = table_limit(context, clamping, outer, speed, rpm.value, not rough)
    cut = fit_cut(context, depth, feed.value, limit)
    if isinstance(cut, str):
        return attempt.reject("turning", tool, cut, "a stronger grip or a lighter cut")
    cuts = times.cuts_for_stock(removed, cut.depth)
    minutes = times.facing_time(
        outer + 2 * APPROACH, max(inner - 2 * APPROACH, 0.0), cut.feed, chosen.cutting_speed, cap.rpm, cuts
    )
    formula = (
        f"t = i * integral of dr/(f n) from {diameter_words(outer + 2 * APPROACH, 1)} to "
        f"{mm(max(inner - 2 * APPROACH, 0.0), 1)} at vc {shown(chosen.cutting_speed, 1)} m/min, at most "
        f"{shown(cap.rpm, 0)} rpm, f {shown(cut.feed)} mm, i {cuts}"
    )
    facts = (
        vc,
        rpm,
        _real_feed(feed, cut.feed),
        _depth_fact(removed, cuts),
        *force_facts(context, removed / cuts, cut.feed, speed, limit, cut.reduced),
        _beside_the_ring(minutes, outer, inner, cut.feed, chosen, cap.rpm, cuts),
        time_fact(minutes, formula, DERIVED, chosen.estimate),
    )
    reason = f"{tool.title}: {_cuts(cuts)} of the ring from {diameter_words(inner)} to {mm(outer)}"
    return Alternative("turning", tool.name, clamping.name, Mode.TURNING, minutes, facts, reason)


def _real_feed(wanted: Fact, feed: Mm) -> Fact:
    if abs(feed - wanted.value) < 1e-9:
        return wanted
    formula = f"{wanted.formula}{'; ' if wanted.formula else ''}reduced to what is carried, see cutting force"
    return Fact("feed", feed, "mm/rev", formula, wanted.source, wanted.estimate)


def _depth_fact(removed: Mm, cuts: int) -> Fact:
    depth = removed / cuts
    return Fact("depth of cut", depth, "mm", f"ap = stock/cuts = {mm(removed)}/{cuts} = {mm(depth)}", DERIVED)


def _cuts(cuts: int) -> str:
    return "1 cut" if cuts == 1 else f"{cuts} cuts"
