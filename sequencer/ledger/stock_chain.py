"""Least and greatest stock that each stage meets, from the tolerances of the stages before."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from sequencer.cutting import iso286
from sequencer.cutting.chains import Link, stock_range
from sequencer.errors import Finding, OutOfRange, Severity
from sequencer.ledger.bearings import Bearings
from sequencer.ledger.transfer import StockStage
from sequencer.operations import Action, Fact, Stage
from sequencer.operations.closeness import size_of, tolerance_of, width_of
from sequencer.operations.stock import TurnStage, stages_of, surface_of
from sequencer.part import AnyFeature
from sequencer.part.turned import Bore, Face, Taper, TurnedDiameter
from sequencer.sequencing import Step
from sequencer.tolerancing import Reclamping, shop_values
from sequencer.units import Mm, shown

_TURNED = (Bore, TurnedDiameter, Taper, Face)


def stock_stages(bearings: Bearings) -> tuple[StockStage, ...]:
    """Give the stock that each stage of the turned surfaces and of the flanks meets and leaves.

    Source: tolerance chart practice, stock as the closing link; common to all handbooks, from memory

    Parameters
    ----------
    bearings
        The visits and what each takes its bearings from.
    """
    found: list[StockStage] = []
    for feature in bearings.course.operations.part.features:
        if isinstance(feature, _TURNED):
            found += _turned(bearings, feature)
        elif hasattr(feature, "teeth"):
            found += _flanks(bearings, feature)
    return tuple(found)


def _turned(bearings: Bearings, feature: AnyFeature) -> Iterator[StockStage]:
    context = bearings.course.context
    stages = stages_of(context, feature, surface_of(context, feature))
    by_name = {step.operation.name: step for step in bearings.course.cuts.get(feature.name, ())}
    before: tuple[TurnStage, Step] | None = None
    for stage in stages:
        step = by_name.get(f"{feature.name}/{stage.word}")
        if step is None:
            return  # it is made in another way: its stock is not that of these stages
        facts = tuple(_uneven(bearings, feature, stage, step, before))
        yield _stage(feature.name, step, stage.removed, stage.left, facts)
        before = (stage, step)


def _stage(name: str, step: Step, nominal: Mm, left: Mm, facts: tuple[Fact, ...]) -> StockStage:
    links = (Link(nominal, 0.0), *(Link(0.0, fact.value) for fact in facts))
    least, most = stock_range(links)
    finding = None
    if least <= 0 < nominal:
        assumed = any(fact.estimate and fact.name.endswith("of the blank") for fact in facts)
        finding = Finding(
            Severity.NOTE if assumed else Severity.WARNING,
            name,
            f"{step.operation.name} takes {shown(nominal)} mm off per side and may meet {shown(least)} to "
            f"{shown(most)} mm ({', '.join(f'{shown(fact.value)} {fact.name}' for fact in facts)})",
            "more than 0 mm everywhere, or it does not clean up",
            "leave more stock before it, or true the part up more closely",
            "ledger",
        )
    return StockStage(
        name, step.operation.name, step.number, step.alternative.clamping, nominal, least, most, left,
        facts, finding,
    )  # fmt: skip


def _uneven(
    bearings: Bearings,
    feature: AnyFeature,
    stage: TurnStage,
    step: Step,
    before: tuple[TurnStage, Step] | None,
) -> Iterator[Fact]:
    """Unevenness of the state before, shift since then, and the tolerance of the cut itself."""
    context = bearings.course.context
    axial = isinstance(feature, Face)
    if before is not None:
        yield _size(bearings, feature, before[0].stage, "size before")
        yield from _moved(bearings, feature, before[1], step)
    elif axial and _is_shoulder(bearings, feature.name):
        yield _size(bearings, feature, Stage.ROUGH, "turning beside it")
    else:
        yield from _raw(bearings, axial)
    yield _size(bearings, feature, stage.stage, "size now")
    treatment = context.part.heat_treatment
    if before is not None and treatment is not None and stage.hard and not before[0].hard:
        value = shop_values.heat_distortion(context.shop, treatment.kind)
        size = context.section.extent(feature.name).outer
        moved = value.value * size / 1000 / 1000 / 2
        numbers = f"{shown(value.value, 0)} um/m*{shown(size / 1000, 4)} m/2"
        formula = f"h D/2 = {numbers} = {shown(moved, 4)} mm"
        yield Fact(treatment.kind, moved, "mm", formula, value.source, value.estimate)


def _is_shoulder(bearings: Bearings, name: str) -> bool:
    section = bearings.course.context.section
    return name not in (section.lower_face, section.upper_face)


def _raw(bearings: Bearings, axial: bool) -> Iterator[Fact]:
    accuracy = bearings.course.operations.shop.accuracy
    part = 1.0 if axial else 0.5
    for key, name in (("blank_tolerance", "size of the blank"), ("blank_runout", "runout of the blank")):
        value = float(getattr(accuracy, key)) * part
        given = key in accuracy.model_fields_set
        source = f"shop file, accuracy.{key}" if given else f"estimate, accuracy.{key} is not given"
        yield Fact(name, value, "mm", f"{shown(value, 3)} mm per side", source, not given)


def _size(bearings: Bearings, feature: AnyFeature, stage: Stage, name: str) -> Fact:
    """Half of what a stage holds, per side: of a diameter its grade or the drawing's closer tolerance."""
    accuracy = bearings.course.operations.shop.accuracy
    rough = stage is Stage.ROUGH
    size = abs(size_of(feature))
    tolerance = tolerance_of(feature) if stage in (Stage.FINISH, Stage.HARD) else None
    drawn = width_of(tolerance, size) if tolerance is not None else None
    if isinstance(feature, Face):
        key = "rough_face" if rough else "semi_face"
        held, words = float(getattr(accuracy, key)), f"accuracy.{key}"
        drawn_half = drawn / 2000 if drawn is not None else held
    else:
        key = "rough_grade" if rough else "semi_grade"
        held, words = _grade_half(bearings, getattr(accuracy, key), size) / 2, f"accuracy.{key}"
        drawn_half = drawn / 4000 if drawn is not None else held
    value = min(held, drawn_half)
    source = "part file" if drawn_half < held else f"shop file, {words}"
    estimate = drawn_half >= held and key not in accuracy.model_fields_set
    words = str(tolerance) if drawn_half < held else words
    return Fact(name, value, "mm", f"{words}: {shown(value, 4)} mm per side", source, estimate)


def _grade_half(bearings: Bearings, grade: int, size: Mm) -> Mm:
    try:
        return iso286.standard_tolerance(grade, max(size, 1.0)) / 2000
    except OutOfRange:
        return float(bearings.course.operations.shop.general_tolerance)


def _moved(bearings: Bearings, feature: AnyFeature, before: Step, step: Step) -> Iterator[Fact]:
    """Shift between the two stages if the part was put down anew between them."""
    if not (before.visit and step.visit) or before.visit == step.visit:
        return
    context = bearings.course.context
    if isinstance(feature, Face):
        size = context.section.extent(feature.name).outer
        for each in bearings.route("face", before.visit, step.visit):
            value = shop_values.tilt(context.shop, each)
            moved = value.value * size / 1000 / 2 / 1000
            formula = f"w D/2 = {shown(moved, 4)} mm"
            yield Fact(f"tilt in {each.clamping}", moved, "mm", formula, value.source, value.estimate)
        return
    for each in bearings.route("axis", before.visit, step.visit):
        value = shop_values.eccentricity(context.shop, each)
        moved = value.value / 1000
        formula = f"e = {shown(moved, 4)} mm"
        yield Fact(f"eccentricity in {each.clamping}", moved, "mm", formula, value.source, value.estimate)


def _flanks(bearings: Bearings, feature: AnyFeature) -> Iterator[StockStage]:
    """Flanks that are cut again: the shift along the circumference makes one flank meet more, one less."""
    shop = bearings.course.operations.shop
    halves: dict[str, list[Step]] = {}
    for step in bearings.course.cuts.get(feature.name, ()):
        if step.operation.action in (Action.CUT_TEETH, Action.SEND_OUT):
            halves.setdefault(step.operation.half, []).append(step)
    whole = halves.get("", [])
    for half, steps in halves.items():
        ordered = steps if not half else sorted([*steps, *whole], key=lambda each: each.number)
        if not half and len(halves) > 1:
            continue
        for before, step in pairwise(ordered):
            hard = step.operation.stage is Stage.HARD
            nominal = float(shop.stock.grinding if hard else shop.stock.flank)
            left = (
                float(shop.stock.grinding) if not hard and ordered[-1].operation.stage is Stage.HARD else 0.0
            )
            yield _stage(
                feature.name, step, nominal, left, tuple(_flank_shift(bearings, feature, before, step))
            )


def _flank_shift(bearings: Bearings, feature: AnyFeature, before: Step, step: Step) -> Iterator[Fact]:
    context = bearings.course.context
    zero = shop_values.height_zero(context.shop)
    found = zero.value / 1000
    yield Fact(
        "finding the tooth space", found, "mm", f"u = {shown(found, 4)} mm", zero.source, zero.estimate
    )
    for each in _roads(bearings, before, step):
        value = shop_values.eccentricity(context.shop, each)
        moved = value.value / 1000
        formula = f"e = {shown(moved, 4)} mm along the circumference"
        yield Fact(f"eccentricity in {each.clamping}", moved, "mm", formula, value.source, value.estimate)
    treatment = context.part.heat_treatment
    between = bearings.course.between(before, step, Action.HEAT_TREAT)
    if between and treatment is not None:
        value = shop_values.heat_distortion(context.shop, treatment.kind)
        moved = value.value * context.section.extent(feature.name).outer / 1000 / 2 / 1000
        formula = f"h D/2 = {shown(moved, 4)} mm"
        yield Fact(treatment.kind, moved, "mm", formula, value.source, value.estimate)


def _roads(bearings: Bearings, before: Step, step: Step) -> tuple[Reclamping, ...]:
    if before.visit and step.visit:
        return bearings.route("axis", before.visit, step.visit)
    by_number = {visit.number: visit for visit in bearings.course.visits}
    visit = by_number.get(before.visit or step.visit, bearings.course.visits[-1])
    return (Reclamping("outside", visit.fitted.means),)
