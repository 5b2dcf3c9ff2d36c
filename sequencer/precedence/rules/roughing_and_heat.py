"""Roughing, stress, heat and thin walls: what shakes, warms or moves the part comes before what is close."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

from sequencer.operations import Action, Operation, Stage
from sequencer.part.teeth import normal_module
from sequencer.part.toothed import BevelGear, Spline
from sequencer.part.turned import ApexGroove, Chamfer, Radius, RunOutGroove
from sequencer.precedence.context import RuleContext, Toothed
from sequencer.precedence.demands import (
    Outcome,
    before,
    closes,
    note,
    opens,
    warning,
    wish,
)
from sequencer.precedence.dependency import Relation, Strength
from sequencer.precedence.rule import PRACTICE, Kept, Rule
from sequencer.precedence.work import is_late, removes
from sequencer.units import shown

#: Roughing longer than this in one clamping warms machine and part so far that a new probing pays [min].
#: Common practice, no source.
LONG_ROUGHING = 60.0

_EDGES = Chamfer | Radius


@dataclass(frozen=True)
class _Halves:
    """Heavy roughing and close finishing that meet in one clamping; `early` finishes roughing waits for."""

    heavy: tuple[Operation, ...]
    close: tuple[Operation, ...]
    early: tuple[Operation, ...]


def is_close_finish(context: RuleContext, operation: Operation) -> bool:
    """Say whether an operation finishes a close feature before any hardening.

    Parameters
    ----------
    context
        The operations.
    operation
        The operation.
    """
    feature = context.part.by_name.get(operation.feature)
    if feature is None or not operation.cuts or operation.heavy or is_late(operation):
        return False
    if operation.action is Action.DEBURR or operation.stage is not Stage.FINISH:
        return False
    if isinstance(feature, Toothed) and operation.action is not Action.CUT_TEETH:
        return False
    return not isinstance(feature, _EDGES) and context.is_close(feature)


def _meeting(context: RuleContext, clamping: str) -> _Halves:
    """Roughing and finishing of one clamping, without those that other musts put the other way round.

    A groove that must be finished before teeth are roughed stays free; a heavy drill that belongs to a
    finished datum or shares its zero with finished teeth counts as finishing.
    """
    here = [op for op in context.all if clamping in context.possible[op.name]]
    heavy = [op for op in here if op.heavy and op.cuts]
    close = [op for op in here if is_close_finish(context, op)]
    zeros = _zero_partners(context)
    heavy = [op for op in heavy if not any(f.name in zeros.get(op.name, ()) for f in close)]
    late = [op for op in heavy if op.stage is not Stage.ROUGH and any(context.leads(f, op) for f in close)]
    heavy = [op for op in heavy if op not in late]
    early = [f for f in close if any(context.leads(f, op) for op in heavy)]
    return _Halves(tuple(heavy), tuple(f for f in close if f not in early), tuple(early))


def _zero_partners(context: RuleContext) -> dict[str, set[str]]:
    partners: dict[str, set[str]] = {}
    for dependency in context.known:
        if dependency.relation is Relation.SAME_ZERO:
            partners.setdefault(dependency.first, set()).add(dependency.second)
            partners.setdefault(dependency.second, set()).add(dependency.first)
    return partners


def _split_by(
    step: Operation, clamping: str, meeting: _Halves, rough_reason: str, close_reason: str
) -> Iterator[Outcome]:
    """Put a soak, release or probing of a clamping between its roughing and its close finishing."""
    for op in meeting.heavy:
        yield closes(clamping, step, op, rough_reason)
    for op in meeting.close:
        yield opens(clamping, step, op, close_reason)
    if meeting.early:
        names = ", ".join(op.name for op in meeting.early)
        yield note(
            clamping,
            f"{names} cannot wait for {step.name}: roughing needs it done before",
            close_reason,
            "Check that its tolerance stands the heat and stress of the roughing after it",
        )


def rough_before_close(context: RuleContext) -> Iterator[Outcome]:
    """R12: heavy roughing comes before close finishing in a clamping, with the soak of the clamping between.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for fitted in context.clampings:
        meeting = _meeting(context, fitted.name)
        soaks = context.in_clamping(fitted.name, Action.SOAK)
        for soak in soaks:
            yield from _split_by(
                soak,
                fitted.name,
                meeting,
                f"roughing in {fitted.name} warms the part and frees stress; the soak comes after it",
                f"close surfaces in {fitted.name} are cut at even temperature",
            )
        if soaks:
            continue
        for rough, close in product(meeting.heavy, meeting.close):
            apart = rough.feature != close.feature and not context.leads(rough, close)
            if apart and set(rough.clampings) <= set(close.clampings):
                yield wish(rough, close, f"roughing heats and frees stress; {close.feature} is close")


def stress_relief(context: RuleContext) -> Iterator[Outcome]:
    """R13: rough all over, relieve stress, then finish; binding where the blank holds high stress.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    relief = context.heat_treatment("stress relief")
    blank = context.part.blank
    if relief is None:
        if blank.stressed and context.part.heat_treatment is None and any(op.heavy for op in context.all):
            yield warning(
                "blank",
                f"a {blank.form} holds high residual stress and no stress relief is planned",
                "unequal stock frees stress while it is roughed",
                "Rough all over leaving 2 to 5 mm a side, relieve stress, then finish; or state stress: low",
            )
        return
    demand = before if blank.stressed else wish
    turning = (Action.TURN, Action.GROOVE)
    roughs = [
        op
        for op in context.all
        if op.stage is Stage.ROUGH
        and (op.action in turning or (op.heavy and op.action is not Action.CUT_TEETH))
    ]
    for rough in roughs:
        yield demand(rough, relief, f"roughing {rough.feature} frees stress of the {blank.form}")
    for op in context.all:
        feature = context.part.by_name.get(op.feature)
        if feature is None or not removes(op) or op.stage not in (Stage.SEMI, Stage.FINISH):
            continue
        close = context.is_close(feature)
        later = [rough.name for rough in roughs if context.leads(op, rough)]
        if later and close:
            yield note(
                op.feature,
                f"{op.name} comes before stress relief, since {later[0]} needs it done",
                "finished surfaces move when stress is relieved",
                f"Leave stock on {op.feature}, or hold the part on another surface until then",
            )
        if later:
            continue
        if close or not isinstance(feature, ApexGroove | RunOutGroove):
            after = demand if close else wish
            yield after(relief, op, f"finished {op.feature} would move when stress is relieved")


def gash_before_datums(context: RuleContext) -> Iterator[Outcome]:
    """R14: coarse teeth are gashed before stress relief, or at least before datum bore and face are finished.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    relief = context.heat_treatment("stress relief")
    for gear in context.toothed:
        if module_of(gear) < context.shop.limits.coarse_module:
            continue
        for gash in context.tooth_roughs(gear.name):
            if not gash.heavy:
                continue
            if relief is not None:
                yield wish(gash, relief, f"gashing {gear.name} frees most of the stress in its rim")
            for reference in gear.datums:
                name = context.resolve(reference)
                for done in context.done(name) if name else ():
                    if set(gash.clampings) <= set(done.clampings):
                        yield wish(gash, done, f"gashing {gear.name} would move and warm finished {name}")


def module_of(gear: Toothed) -> float:
    """Module that decides how coarse teeth are [mm].

    Parameters
    ----------
    gear
        The gear or spline.
    """
    if isinstance(gear, Spline | BevelGear):
        return float(gear.module.millimetres)
    return normal_module(gear)


def release_before_finish(context: RuleContext) -> Iterator[Outcome]:
    """R15: after roughing the part is released and held with less force before it is finished.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    thin = context.section.wall_ratio() < context.shop.limits.thin_wall
    for fitted in context.clampings:
        meeting = _meeting(context, fitted.name)
        releases = context.in_clamping(fitted.name, Action.RELEASE)
        for release in releases:
            for soak in context.in_clamping(fitted.name, Action.SOAK):
                yield before(soak, release, "the part is released once it is cold, then held for finishing")
            yield from _split_by(
                release,
                fitted.name,
                meeting,
                f"roughing in {fitted.name} needs the full clamping force",
                f"roundness returns only once {fitted.name} is released; it is finished under low force",
            )
        if (
            thin
            and meeting.heavy
            and meeting.close
            and not releases
            and fitted.clamping.hold.endswith("jaws")
        ):
            yield warning(
                fitted.name,
                f"a thin ring (wall {shown(context.section.wall_ratio())} of its diameter) is roughed and "
                "finished without being released between",
                f"thin below {shown(context.shop.limits.thin_wall)}",
                "Release after roughing and clamp again with low force, or finish in another clamping",
            )


def probe_after_roughing(context: RuleContext) -> Iterator[Outcome]:
    """R19: after long roughing the datum is probed anew before finishing.

    Parameters
    ----------
    context
        The operations and what is known.
    """
    for fitted in context.clampings:
        meeting = _meeting(context, fitted.name)
        probes = [
            op for op in context.in_clamping(fitted.name, Action.PROBE, Action.INDICATE) if not op.opening
        ]
        for probe in probes:
            for step in context.in_clamping(fitted.name, Action.SOAK, Action.RELEASE):
                yield before(step, probe, "the datum is probed once the part is cold and held anew")
            yield from _split_by(
                probe,
                fitted.name,
                meeting,
                f"roughing in {fitted.name} comes before the datum is probed anew",
                f"close surfaces in {fitted.name} are cut from the datum as it lies after roughing",
            )
        minutes = sum(_least_minutes(op, fitted.name) for op in meeting.heavy)
        calmed = probes or context.in_clamping(fitted.name, Action.SOAK, Action.RELEASE)
        if minutes >= LONG_ROUGHING and meeting.close and not calmed:
            yield note(
                fitted.name,
                f"{shown(minutes, 0)} min of roughing and close finishing without probing anew between them",
                f"long from {shown(LONG_ROUGHING)} min",
                "Probe the datum again before the first close cut",
            )


def _least_minutes(operation: Operation, clamping: str) -> float:
    return min(each.minutes for each in operation.alternatives if each.clamping == clamping)


RULES = (
    Rule(
        "R12",
        "Heavy roughing before close finishing",
        Strength.SHOULD,
        "Roughing heats the part, frees stress and loads the table; close surfaces come after a wait.",
        "common practice, no source; articles on thermal deformation in long runs on the heat",
        rough_before_close,
        penalty=10.0,
        late=True,
    ),
    Rule(
        "R13",
        "Rough all over, relieve stress, then finish",
        Strength.MUST,
        "Forged and welded blanks keep stress that moves the part when unequal stock is taken off.",
        "Residual stresses: friend or foe (forging article); common practice, no source",
        stress_relief,
        Kept.BOTH,
        penalty=20.0,
        late=True,
    ),
    Rule(
        "R14",
        "Gash coarse teeth early",
        Strength.SHOULD,
        "Gashing frees most of the stress and heat of the rim.",
        PRACTICE,
        gash_before_datums,
        penalty=15.0,
        late=True,
    ),
    Rule(
        "R15",
        "Release after roughing, finish with less force",
        Strength.MUST,
        "A ring becomes round again only unclamped, and weaker as stock goes.",
        "Turning thin rings without ovality (article); "
        "Distorting the facts: workholding distortion (trade article)",
        release_before_finish,
        Kept.BOTH,
        late=True,
    ),
    Rule(
        "R19",
        "Probe anew after long roughing",
        Strength.SHOULD,
        "Machine and part have grown while roughing.",
        "articles on thermal deformation in long runs",
        probe_after_roughing,
        Kept.BOTH,
        late=True,
    ),
)
