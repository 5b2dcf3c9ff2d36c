"""Measuring on the machine: features with close sizes or geometric tolerances, before they are unclamped."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from sequencer.operations.attempt import Attempt
from sequencer.operations.choices import Outcome, settle
from sequencer.operations.closeness import has_close_size
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON, mm
from sequencer.operations.operation import BENCH, Action, Alternative, Fact, Mode, Operation, Stage
from sequencer.operations.outside import incoming_check
from sequencer.operations.wording import work
from sequencer.part import AnyFeature
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.shop.tools import Probe

#: Features whose measuring belongs to their teeth.
TOOTHED: Final = (ExternalGear, InternalGear, DoubleHelicalGear, Spline, BevelGear)

#: Time to measure by hand over that to probe; common practice, no source.
BY_HAND: Final = 2.0


def measure_operations(
    context: Context, feature: AnyFeature, made: Sequence[Operation]
) -> tuple[Operation, ...]:
    """Give the measuring of a feature; none where no tolerance asks for it.

    Source: common practice, no source

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    made
        Its operations, in order.
    """
    asks = has_close_size(feature, context.shop) or bool(feature.geometric) or feature.phase is not None
    if isinstance(feature, TOOTHED) or not asks or not made or not made[-1].alternatives:
        return ()
    last = made[-1]
    places = [clamping for clamping in context.clampings if clamping.name in last.clampings]
    outcomes: list[Outcome] = []
    for clamping in places:
        outcomes += _probes(Attempt(context, feature, clamping, False))
    if last.clampings == (BENCH,):
        outcomes.append(_on_bench(context))
    if not any(isinstance(outcome, Alternative) for outcome in outcomes):
        outcomes += [_by_hand(context, clamping.name) for clamping in places]
    alternatives, rejected = settle(context, feature, outcomes, finishing=False)
    return (
        Operation(
            f"{feature.name}/measure",
            feature.name,
            Stage.MEASURE,
            Action.MEASURE,
            f"{work('Measure', feature)}{_what(feature)}",
            alternatives,
            rejected,
            hard=last.hard,
        ),
    )


def _what(feature: AnyFeature) -> str:
    tolerance = getattr(feature, "tolerance", None) or getattr(feature, "ream", None)
    words = [str(tolerance)] if tolerance is not None else []
    words += [f"{each.characteristic} {each.value.text}" for each in feature.geometric]
    if feature.phase is not None:
        words.append(f"phase to {feature.phase.to} {feature.phase.tolerance.text}")
    return f" ({', '.join(words)})" if words else ""


def _probes(attempt: Attempt) -> Iterator[Outcome]:
    probes = [tool for tool in attempt.context.shop.tools if isinstance(tool, Probe)]
    minutes = float(attempt.context.shop.machine.times.probe)
    for tool in probes:
        fault = _fault(attempt, tool)
        if fault is not None:
            yield attempt.reject("probing", tool, *fault)
            continue
        facts = (Fact("time", minutes, "min", "", "shop file, time to probe one feature"),)
        reason = f"{tool.title} reaches it; measured while it can still be corrected"
        yield Alternative("probing", tool.name, attempt.clamping.name, Mode.REST, minutes, facts, reason)


def _by_hand(context: Context, clamping: str) -> Alternative:
    """Measuring never stops a plan: where no probe gets at it, a gauge in the hand does."""
    minutes = BY_HAND * float(context.shop.machine.times.probe)
    facts = (Fact("time", minutes, "min", "twice the time to probe", COMMON, True),)
    has_one = any(isinstance(tool, Probe) for tool in context.shop.tools)
    why = "no probe of the shop gets at it" if has_one else "the shop has no probe"
    return Alternative("by hand", "", clamping, Mode.REST, minutes, facts, f"{why}: by hand, with a gauge")


def _fault(attempt: Attempt, tool: Probe) -> tuple[str, str] | None:
    """A probe that does not fit into a bore with its body reaches only as deep as its stylus."""
    feature, section = attempt.feature, attempt.context.section
    if place_of(feature) != "inside":
        return None
    extent, view = section.extent(feature.name), attempt.standing.view
    above = view.narrowest_above(view.ends(extent.z_from, extent.z_to)[1])
    opening = min(extent.inner, above.diameter) if above is not None else extent.inner
    # Half of the length of a bore is enough for its size.
    depth = view.depth(extent.z_from, extent.z_to) - (extent.z_to - extent.z_from) / 2
    reach = float(tool.functional_length if tool.body_diameter < opening else tool.reach)
    if opening >= attempt.context.shop.machine.spindle.head_diameter:
        reach += float(attempt.context.shop.machine.spindle.reach_inside)
    if tool.ball_diameter >= opening:
        return f"ball {mm(tool.ball_diameter)} does not enter {mm(opening)}", "a smaller ball"
    if depth > reach:
        return (
            f"the middle of the bore lies {mm(depth)} below the top, the probe reaches {mm(reach)}",
            f"a probe with a reach of {mm(depth)}",
        )
    return None


def _on_bench(context: Context) -> Alternative:
    minutes = float(context.shop.machine.times.probe)
    return incoming_check(minutes, "shop file, time to probe one feature", "comes back from outside")
