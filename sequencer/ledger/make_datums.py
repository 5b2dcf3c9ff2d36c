"""Datums of an order: who makes them, where they are used, what moves them, how each clamping finds them."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sequencer.errors import Finding, Severity
from sequencer.ledger.bearings import Bearing, Bearings, Which
from sequencer.ledger.datum import Datum, DatumTable, DatumUse, SetupDatums, Target, Truth
from sequencer.ledger.limits import axis_limit, face_limit
from sequencer.ledger.visits import Course, Visit
from sequencer.operations import Action, Fact, OperationList
from sequencer.part import BLANK
from sequencer.sequencing import Sequence, Step
from sequencer.tolerancing import shop_values
from sequencer.units import shown

_PROCESS = re.compile(r"^P(\d+)$")
_ROLES: dict[Which, str] = {"axis": "gives the axis", "face": "gives the face", "angle": "gives the angle"}


def make_datums(operations: OperationList, sequence: Sequence) -> DatumTable:
    """Give who makes each datum, where it is used, whether it stays true, and what each clamping indicates.

    Source: common practice, no source; limits from the relations that cross into the clamping

    Parameters
    ----------
    operations, sequence
        Stages of the plan.
    """
    bearings = Bearings(Course(operations, sequence))
    letters = _letters(bearings)
    datums = tuple(_datum(bearings, letter, name) for name, letter in letters.items())
    setups = tuple(_setup(bearings, visit, letters) for visit in bearings.course.visits)
    return DatumTable(datums, setups, tuple(_findings(bearings, setups)))


def _letters(bearings: Bearings) -> dict[str, str]:
    """Letters by feature: those of the part file, then P1, P2 ... for surfaces that only clampings use."""
    part = bearings.course.operations.part
    letters: dict[str, str] = {}
    for letter, name in part.datums.items():
        letters.setdefault(name, letter)
    taken = [int(match[1]) for letter in part.datums if (match := _PROCESS.match(letter))]
    number = max(taken, default=0)
    for tree in (bearings.axis, bearings.face, bearings.angle):
        for bearing in tree.values():
            if bearing.feature != BLANK and bearing.feature not in letters:
                number += 1
                letters[bearing.feature] = f"P{number}"
    return letters


# -- one datum -----------------------------------------------------------------------------------------


def _datum(bearings: Bearings, letter: str, name: str) -> Datum:
    made = bearings.course.making(name)
    uses = tuple(sorted(_uses(bearings, name), key=lambda use: use.step))
    process = bool(_PROCESS.match(letter))
    if made is None:
        return Datum(letter, name, process, "", 0, "", uses, ())
    truths = tuple(_truths(bearings, name, made))
    operation, clamping = made.operation.name, made.alternative.clamping
    return Datum(letter, name, process, operation, made.number, clamping, uses, truths)


def _uses(bearings: Bearings, name: str) -> Iterator[DatumUse]:
    trees: tuple[tuple[Which, dict[int, Bearing]], ...] = (
        ("axis", bearings.axis), ("face", bearings.face), ("angle", bearings.angle)
    )  # fmt: skip
    for visit in bearings.course.visits:
        step = _indicating(visit)
        if step is None:
            continue
        for which, tree in trees:
            if visit.number in tree and tree[visit.number].feature == name:
                last = bearings.course.making(name)
                early = last is not None and last.number > step.number
                how = f"{_ROLES[which]}{' as it is by then' if early else ''}"
                yield DatumUse(step.number, step.operation.name, visit.name, how)
        held = visit.fitted.clamping
        if held.on == name:
            yield DatumUse(step.number, visit.steps[0].operation.name, visit.name, f"is held by {held.hold}")
    for relation in bearings.course.relations:
        made = bearings.course.making(relation.feature, relation.half)
        if name in relation.to and made is not None:
            how = f"{relation.feature} counts from it ({relation.kind})"
            yield DatumUse(made.number, made.operation.name, made.alternative.clamping, how)


def _indicating(visit: Visit) -> Step | None:
    found = [step for step in visit.steps if step.operation.action is Action.INDICATE]
    return found[0] if found else (visit.steps[0] if visit.steps else None)


def _truths(bearings: Bearings, name: str, made: Step) -> Iterator[Truth]:
    """What happens to a surface after its last cut."""
    shop, part = bearings.course.operations.shop, bearings.course.operations.part
    size = bearings.course.context.section.extent(name).outer
    for visit in bearings.course.visits:
        if visit.number == made.visit:
            spring = shop_values.release_distortion(visit.fitted.means, False)
            moved = spring.value * size / 1000
            last = visit.steps[-1]
            reason = (
                f"{visit.fitted.means.name} lets go: springs by about {shown(moved, 1)} um, keeps its place"
            )
            yield Truth(last.number, f"let go after {visit.name}", True, reason)
        elif visit.number > made.visit > 0:
            first = visit.steps[0]
            yield Truth(
                first.number,
                f"put into {visit.name}",
                False,
                f"lies somewhere else on the table until it is indicated in {visit.name}",
            )
    treatment = part.heat_treatment
    for step in bearings.course.sequence.steps:
        if step.operation.action is Action.HEAT_TREAT and step.number > made.number and treatment is not None:
            value = shop_values.heat_distortion(shop, treatment.kind)
            moved = value.value * size / 1000
            reason = f"moves by about {shown(moved, 0)} um: made anew or trued up from the teeth"
            yield Truth(step.number, treatment.kind, moved < 5.0, reason)


# -- one clamping --------------------------------------------------------------------------------------


def _setup(bearings: Bearings, visit: Visit, letters: dict[str, str]) -> SetupDatums:
    step = _indicating(visit)
    produced = tuple(
        letter
        for name, letter in letters.items()
        if (made := bearings.course.making(name)) is not None and made.visit == visit.number
    )
    axis, face = bearings.axis[visit.number], bearings.face[visit.number]
    axis_fact, axis_reason = axis_limit(bearings, visit)
    face_fact, face_reason = face_limit(bearings, visit)
    return SetupDatums(
        visit=visit.number,
        clamping=visit.name,
        step=step.number if step is not None else 0,
        axis=Target("axis", axis.feature, letters.get(axis.feature, ""), axis.direct, axis_fact, axis_reason),
        face=Target("face", face.feature, letters.get(face.feature, ""), face.direct, face_fact, face_reason),
        angle=_angle(bearings, visit, letters),
        produced=produced,
    )


def _angle(bearings: Bearings, visit: Visit, letters: dict[str, str]) -> Target:
    """The angular zero: found again on a flank, keyway or hole, or set free and then kept."""
    course = bearings.course
    bearing = bearings.angle.get(visit.number)
    stakes = bearings.stakes(visit, "angle")
    if bearing is not None:
        relation = stakes[0]
        share = course.operations.shop.accuracy.indicating_share
        value = share * relation.allowance
        formula = f"{shown(share)}*{shown(relation.allowance, 1)} um = {shown(value, 1)} um"
        limit = Fact("shift along the circumference", value, "um", formula, "common practice, no source")
        how = (
            "both flanks"
            if hasattr(course.operations.part.by_name[bearing.feature], "teeth")
            else "its sides"
        )
        reason = f"C0 is found again by probing {how} of {bearing.feature}: {relation.words}"
        return Target("angle", bearing.feature, letters.get(bearing.feature, ""), True, limit, reason)
    if stakes:
        reason = (
            f"{stakes[0].words} needs the angle of an earlier clamping, and nothing that shows it is in reach"
        )
        return Target("angle", "", "", False, None, reason)
    timed = [
        relation
        for relation in course.relations
        if relation.other
        and relation.kind.value == "phase"
        and (made := course.making(relation.feature)) is not None
        and made.visit == visit.number
    ]
    if timed:
        words = ", ".join(relation.words for relation in timed)
        return Target("angle", "", "", False, None, f"C0 is set anywhere and kept until release: {words}")
    return Target("angle", "", "", False, None, "no angle of an earlier clamping is needed: C0 anywhere")


def _findings(bearings: Bearings, setups: tuple[SetupDatums, ...]) -> Iterator[Finding]:
    least = 1000 * float(bearings.course.operations.shop.accuracy.indicating_limit)
    for setup in setups:
        for target in setup.targets:
            asked = target.limit is not None and target.kind != "angle" and not target.limit.estimate
            if asked and target.limit is not None and target.limit.value < least:
                yield Finding(
                    Severity.WARNING,
                    setup.clamping,
                    f"{target.feature}: {shown(target.limit.value, 1)} um to indicate to, {target.reason}",
                    f"this shop indicates to {shown(least, 1)} um (accuracy.indicating_limit)",
                    "Make both surfaces in one clamping, or ask for a wider tolerance",
                    "datums",
                )
        if setup.angle.reason.endswith("in reach"):
            yield Finding(
                Severity.WARNING, setup.clamping, setup.angle.reason, "",
                "Mark the angle on a surface that stays in reach, or cut both in one clamping", "datums",
            )  # fmt: skip
