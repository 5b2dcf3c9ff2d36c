"""Double-helical gears: groove first, one zero for both helices, apex checked while it can be corrected."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.cutting.reclamping import apex_shift_from_angle
from sequencer.operations import Action, Operation
from sequencer.part.toothed import DoubleHelicalGear
from sequencer.part.turned import ApexGroove
from sequencer.precedence.context import RuleContext, shared
from sequencer.precedence.demands import Outcome, Wanted, before, same_clamping, same_zero, wish
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.work import is_late
from sequencer.units import shown


def _gears(context: RuleContext) -> tuple[DoubleHelicalGear, ...]:
    return tuple(gear for gear in context.toothed if isinstance(gear, DoubleHelicalGear))


def groove_before_helices(context: RuleContext) -> Iterator[Outcome]:
    """R6: the apex groove has its full width and depth before either helix is cut.

    Parameters
    ----------
    context
        The operations.
    """
    for groove in context.part.features:
        if isinstance(groove, ApexGroove):
            for done in context.done(groove.name):
                for tooth in context.first_teeth(groove.gear):
                    yield before(
                        done,
                        tooth,
                        f"the cutter of the {tooth.half or 'first'} helix of {groove.gear} runs out into "
                        f"{groove.name}; its run-out is reckoned with the full width",
                    )


def _finishes(context: RuleContext, gear: DoubleHelicalGear) -> Iterator[tuple[Operation, Operation]]:
    for hard in (False, True):
        ends = [op for op in context.last_teeth(gear.name, hard=hard) if op.half]
        if len(ends) == 2 and (not hard or is_late(ends[0])):
            yield ends[0], ends[1]


def one_zero(context: RuleContext) -> Iterator[Outcome]:
    """R9: both helices are finished from the same zero, without unclamping or probing anew between them.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in _gears(context):
        for lower, upper in _finishes(context, gear):
            yield Wanted(
                same_zero(
                    lower, upper, f"the apex of {gear.name} lies right only if both helices share a zero"
                ),
                _apex_error(context, gear),
                "Let one clamping reach both helices, or plan a phase check with stock left on the second",
            )
            for clamping in shared(lower, upper):
                for probing in context.in_clamping(clamping, Action.PROBE):
                    yield Dependency(
                        Relation.NOT_BETWEEN,
                        lower.name,
                        upper.name,
                        probing.name,
                        reason=f"probing between the helices of {gear.name} would set a new zero",
                    )


def _apex_error(context: RuleContext, gear: DoubleHelicalGear) -> str:
    capability = context.shop.machine.capability
    radius = context.section.extent(gear.name).inner / 2
    turn = apex_shift_from_angle(float(capability.angular), radius, float(gear.helix_angle))
    total = turn + 1000 * float(capability.reclamping)
    return (
        f"a new zero between the helices shifts the apex by about {shown(total, 0)} um "
        f"({shown(turn, 0)} um from the angle, {shown(1000 * capability.reclamping, 0)} um from the height); "
        f"{shown(1000 * gear.apex_tolerance, 0)} um are allowed"
    )


def rough_both_then_finish_both(context: RuleContext) -> Iterator[Outcome]:
    """R10: rough one helix, rough the other, then finish both in the same state of heat.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in _gears(context):
        for rough in context.tooth_roughs(gear.name):
            for finish in context.last_teeth(gear.name):
                if rough.half and finish.half and rough.half != finish.half:
                    yield wish(
                        rough,
                        finish,
                        f"heat of roughing the {rough.half} helix shifts the phase of the finished "
                        f"{finish.half} one",
                    )


def apex_checked_before_release(context: RuleContext) -> Iterator[Outcome]:
    """R11: the apex is checked after both finishes and before the part is unclamped.

    Parameters
    ----------
    context
        The operations.
    """
    for gear in _gears(context):
        for check in context.operations.of(gear.name, action=Action.APEX_CHECK):
            for finish in context.last_teeth(gear.name, hard=check.hard is True):
                yield before(finish, check, f"the apex of {gear.name} exists only once both helices are cut")
                yield Wanted(
                    same_clamping(
                        finish, check, f"the apex of {gear.name} can be corrected only while clamped"
                    ),
                    "an apex error found after unclamping cannot be corrected",
                    "Check the apex on the machine, in the clamping of the helices",
                )
            yield from _timed_after_check(context, gear, check)
            for deburring in context.deburring(gear.name):
                yield wish(
                    check, deburring, f"flanks of {gear.name} may be corrected before they are deburred"
                )


def _timed_after_check(context: RuleContext, gear: DoubleHelicalGear, check: Operation) -> Iterator[Outcome]:
    """What is timed to the apex waits until the apex is proven: correcting a flank would move it."""
    for feature in context.part.features:
        if feature.phase is None or context.resolve(feature.phase.to) != gear.name:
            continue
        for first in context.cuts(feature.name)[:1]:
            yield Wanted(
                before(
                    check, first, f"{feature.name} is timed to the apex of {gear.name} once that is proven"
                ),
                f"{feature.name} is made before the apex of {gear.name} is checked",
                "Check the apex before what is timed to it is made",
            )


RULES = (
    Rule(
        "R6",
        "Apex groove before either helix",
        Strength.MUST,
        "The cutter leaves each helix through the groove.",
        "Approximate calculation of minimum undercut width for hobbing herringbone gears (article)",
        groove_before_helices,
    ),
    Rule(
        "R9",
        "Both helices from one zero",
        Strength.MUST,
        "A new angular or axial zero between the helices moves the apex out of the middle of the gap.",
        "A simple method to ensure herringbone gear machining quality (article)",
        one_zero,
        Kept.BOTH,
    ),
    Rule(
        "R10",
        "Rough both helices, then finish both",
        Strength.SHOULD,
        "Heat between the two finishes shifts their phase.",
        PRACTICE,
        rough_both_then_finish_both,
        penalty=15.0,
    ),
    Rule(
        "R11",
        "Apex check before unclamping",
        Strength.MUST,
        "Phase can be corrected only on stock that is left, in the same clamping.",
        "common practice, no source; Measurement of V-shaped vertices of double-helical gears (paper)",
        apex_checked_before_release,
        Kept.BOTH,
        penalty=10.0,
    ),
)
