"""How the surfaces of a relation are made in this order, and the chain between them."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.ledger.bearings import Bearings, Which, partners_by
from sequencer.ledger.entry import ChainLink
from sequencer.operations import BENCH, Action
from sequencer.part import BLANK
from sequencer.part.milled import BoltCircle
from sequencer.sequencing import Step
from sequencer.tolerancing import Instrument, Kind, Reclamping, Situation, TolerancedRelation
from sequencer.tolerancing.apart import usual_instrument
from sequencer.tolerancing.relation import OF_TEETH

_MEASURES = (Action.MEASURE, Action.APEX_CHECK)


def situation_of(bearings: Bearings, relation: TolerancedRelation) -> Situation:
    """Give what lies between the surfaces of a relation in this order.

    Source: derived from the order

    Parameters
    ----------
    bearings
        The visits and what each takes its bearings from.
    relation
        The relation.
    """
    course = bearings.course
    makers = makers_of(bearings, relation)
    if not makers:
        return Situation(instrument=Instrument.INDEPENDENT)
    own = makers[-1] if relation.kind is Kind.APEX else makers[0]
    machine = [step for step in makers if step.visit]
    by_number = {visit.number: visit for visit in course.visits}
    felt = [step for step in machine if relation.flat or step.operation.feature != relation.face]
    held = tuple(
        (by_number[number].name, by_number[number].fitted.means)
        for number in dict.fromkeys(step.visit for step in felt)
    )
    part = course.operations.part
    holes = isinstance(part.by_name[relation.feature], BoltCircle)
    return Situation(
        axis=_between(bearings, relation, "axis"),
        face=_between(bearings, relation, "face"),
        angle=_between(bearings, relation, "angle"),
        held=held,
        low_force=bool(machine) and all(_released(bearings, step) for step in machine),
        stressed=part.blank.stressed and any(_stressed(bearings, step) for step in machine),
        heat=_heat(bearings, makers),
        warm=own.visit > 0 and _warm(bearings, own),
        instrument=instrument_of(bearings, relation),
        method=own.alternative.method if holes else "",
    )


def makers_of(bearings: Bearings, relation: TolerancedRelation) -> tuple[Step, ...]:
    """Give the steps that make the surfaces of a relation, the toleranced one first.

    Source: derived

    Parameters
    ----------
    bearings
        The visits.
    relation
        The relation.
    """
    course = bearings.course
    if relation.kind is Kind.APEX:
        halves = [course.making(relation.feature, half) for half in ("lower", "upper")]
        steps = [step for step in halves if step is not None]
        return tuple(sorted(dict.fromkeys(steps), key=lambda step: step.number))
    found = [course.making(relation.feature, relation.half), *(course.making(name) for name in relation.to)]
    return tuple(step for step in found if step is not None)


def _between(bearings: Bearings, relation: TolerancedRelation, which: Which) -> tuple[Reclamping, ...]:
    """Re-clampings between the toleranced surface and each partner that feels them, each once."""
    found: dict[Reclamping, None] = {}
    for one, two in _ends(bearings, relation, which):
        if one.visit and two.visit:
            found |= dict.fromkeys(bearings.route(which, one.visit, two.visit))
        elif one.visit != two.visit:
            found[_outside(bearings, one if one.visit else two)] = None
    return tuple(found)


def _ends(bearings: Bearings, relation: TolerancedRelation, which: Which) -> Iterator[tuple[Step, Step]]:
    course = bearings.course
    if relation.kind is Kind.APEX:
        steps = makers_of(bearings, relation)
        if len(steps) == 2:
            yield steps[0], steps[1]
        return
    own = course.making(relation.feature, relation.half)
    for name in partners_by(relation, which):
        other = course.making(name)
        if own is not None and other is not None:
            yield own, other


def _outside(bearings: Bearings, made: Step) -> Reclamping:
    """Work outside takes its bearings from the datum: reckoned like one more re-clamping of this shop."""
    by_number = {visit.number: visit for visit in bearings.course.visits}
    visit = by_number.get(made.visit, bearings.course.visits[-1])
    return Reclamping("outside", visit.fitted.means)


def _released(bearings: Bearings, step: Step) -> bool:
    """Whether the part was let go and held with the lower force before a step of the same visit."""
    visit = next(each for each in bearings.course.visits if each.number == step.visit)
    return any(each.operation.action is Action.RELEASE and each.number < step.number for each in visit.steps)


def _stressed(bearings: Bearings, step: Step) -> bool:
    """Whether heavy roughing of the same visit comes before a step without letting go between."""
    return _rests(bearings, step, Action.RELEASE)


def _warm(bearings: Bearings, step: Step) -> bool:
    """Whether heavy roughing of the same visit comes before a step without a wait between."""
    return _rests(bearings, step, Action.SOAK)


def _rests(bearings: Bearings, step: Step, ends: Action) -> bool:
    visit = next(each for each in bearings.course.visits if each.number == step.visit)
    pending = False
    for each in visit.steps:
        if each.number >= step.number:
            break
        pending = (pending or each.operation.heavy) and each.operation.action is not ends
    return pending


def _heat(bearings: Bearings, makers: tuple[Step, ...]) -> tuple[str, ...]:
    treatment = bearings.course.operations.part.heat_treatment
    first = min(step.number for step in makers)
    steps = bearings.course.sequence.steps
    after = any(step.operation.action is Action.HEAT_TREAT and step.number > first for step in steps)
    return (treatment.kind,) if treatment is not None and after else ()


def measuring_of(bearings: Bearings, relation: TolerancedRelation) -> Step | None:
    """Give the step that measures a relation; None if only the last check does.

    Source: derived

    Parameters
    ----------
    bearings
        The visits.
    relation
        The relation.
    """
    wanted = Action.APEX_CHECK if relation.kind is Kind.APEX else Action.MEASURE
    found = None
    for step in bearings.course.sequence.steps:
        operation = step.operation
        if operation.feature == relation.feature and operation.action in _MEASURES:
            if operation.action is wanted:
                return step
            found = found or step
    return found


def instrument_of(bearings: Bearings, relation: TolerancedRelation) -> Instrument:
    """Give what a relation is measured with in this order.

    Source: derived from the measuring step

    Parameters
    ----------
    bearings
        The visits.
    relation
        The relation.
    """
    step = measuring_of(bearings, relation)
    if step is None or step.alternative.clamping == BENCH:
        return Instrument.INDEPENDENT
    if step.alternative.method == "by hand" and relation.kind not in OF_TEETH:
        return Instrument.HAND
    return usual_instrument(bearings.course.context, relation)


def chain_of(bearings: Bearings, relation: TolerancedRelation) -> tuple[ChainLink, ...]:
    """Give the surfaces and clampings from the toleranced surface to its datums.

    Source: derived from the order

    Parameters
    ----------
    bearings
        The visits.
    relation
        The relation.
    """
    links: dict[ChainLink, None] = {}
    own = makers_of(bearings, relation)
    names = (relation.feature,) if relation.kind is Kind.APEX else (relation.feature, *relation.to)
    steps = {step.operation.feature: step for step in own}
    links[_link(relation.feature, "toleranced", steps.get(relation.feature))] = None
    situation = situation_of(bearings, relation)
    for which, roads in (("axis", situation.axis), ("face", situation.face), ("angle", situation.angle)):
        for each in roads:
            if each.shown_by:
                step = None if each.raw else bearings.course.making(each.shown_by)
                links[_link(each.shown_by, f"gives {each.clamping} its {which}", step)] = None
    for name in names[1:]:
        links[_link(name, "datum" if name != relation.other else "counterpart", steps.get(name))] = None
    return tuple(links)


def _link(surface: str, role: str, step: Step | None) -> ChainLink:
    if step is None or surface == BLANK:
        return ChainLink(surface, role, "", 0, "", 0)
    return ChainLink(surface, role, step.operation.name, step.number, step.alternative.clamping, step.visit)
