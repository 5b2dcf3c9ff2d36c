"""The inspection plan of an order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sequencer.cutting.thermal import allowed_temperature_difference
from sequencer.errors import Finding, Severity
from sequencer.inspection.plan import Check, InspectionPlan
from sequencer.inspection.stops import stop_points
from sequencer.inspection.traces import APEX_PLACES, traces_of
from sequencer.ledger.bearings import Bearings
from sequencer.ledger.entry import Ledger, LedgerEntry
from sequencer.ledger.situations import instrument_of, makers_of, measuring_of
from sequencer.ledger.visits import Course
from sequencer.operations import BENCH, Action, Fact, OperationList
from sequencer.operations.teeth.zone import CylindricalFeature, Teeth, teeth_of
from sequencer.sequencing import Sequence, Step
from sequencer.tolerancing import Budget, Cause, Instrument, Kind, TolerancedRelation, Verdict, shop_values
from sequencer.tolerancing.relation import OF_TEETH
from sequencer.units import shown

_SIZES = (Kind.SIZE, Kind.HEIGHT, Kind.POSITION, Kind.PHASE)

_RECORD = "measuring record with the piece"
_DECISION = "ISO 14253-1, from memory"

#: Lot up to which every piece is measured in full; common practice, no source.
_SMALL_LOT = 10


@dataclass(frozen=True)
class _Line:
    """One characteristic, before it is known when it is measured."""

    number: int
    entry: LedgerEntry
    relation: TolerancedRelation
    made: Step
    measured: Step | None
    last: Step | None


def make_inspection(operations: OperationList, sequence: Sequence, ledger: Ledger) -> InspectionPlan:
    """Give what is measured when, with what, how it is decided and what follows.

    Each characteristic is measured before the part is let go where a step does so, and again on an
    independent instrument if it is of teeth, crosses clampings, or moves on release or in hardening.

    Source: common practice, no source; decisions after ISO 14253-1, from memory

    Parameters
    ----------
    operations, sequence, ledger
        Stages of the plan.
    """
    bearings = Bearings(Course(operations, sequence))
    checks: list[Check] = []
    findings: list[Finding] = []
    for line in _lines(bearings, ledger):
        made = tuple(_checks(bearings, line))
        checks += made
        findings += _findings(line, made)
    ordered = tuple(sorted(checks, key=lambda check: (check.step, check.number)))
    return InspectionPlan(ordered, stop_points(sequence, ordered), tuple(dict.fromkeys(findings)))


def _lines(bearings: Bearings, ledger: Ledger) -> Iterator[_Line]:
    inspects = [s for s in bearings.course.sequence.steps if s.operation.action is Action.INSPECT]
    last = inspects[-1] if inspects else None
    for number, entry in enumerate(ledger.entries, 1):
        relation = entry.budget.relation
        makers = makers_of(bearings, relation)
        if not makers:
            continue
        made = makers[-1] if relation.kind is Kind.APEX else makers[0]
        measured = measuring_of(bearings, relation)
        yield _Line(10 * number, entry, relation, made, measured, last)
        profile = _profile(bearings, entry) if relation.kind is Kind.HELIX_SLOPE else None
        if profile is not None:
            yield _Line(10 * number + 5, profile, profile.budget.relation, made, measured, last)


def _profile(bearings: Bearings, entry: LedgerEntry) -> LedgerEntry | None:
    """The profile belongs to the cutter: clampings do not enter it, so that the ledger has no line for it."""
    teeth = _teeth_of(bearings, entry.budget.relation)
    if teeth is None or teeth.tolerances is None:
        return None
    value = teeth.tolerances.profile_total
    given = Fact("F_alpha", value, "um", f"F_alpha = {shown(value, 1)} um", str(teeth.flank_class))
    relation = replace(
        entry.budget.relation, kind=Kind.PROFILE, allowance=value, given=given, axis="", face=""
    )
    return LedgerEntry(Budget(relation, ()), entry.chain[:1])


def _checks(bearings: Bearings, line: _Line) -> Iterator[Check]:
    measured = line.measured
    if measured is not None:
        yield _check(bearings, line, measured, instrument_of(bearings, line.relation))
    again = measured is None or _moves(line.entry) or line.relation.kind in OF_TEETH
    if line.last is not None and again and (measured is None or measured.number != line.last.number):
        yield _check(bearings, line, line.last, Instrument.INDEPENDENT)


def _moves(entry: LedgerEntry) -> bool:
    """Whether letting go, hardening or another clamping can have changed it."""
    causes = (Cause.RELEASE, Cause.HEAT, Cause.RECLAMPING)
    return any(entry.budget.used_by(cause) > 0 for cause in causes)


def _check(bearings: Bearings, line: _Line, step: Step, instrument: Instrument) -> Check:
    operations, relation = bearings.course.operations, line.relation
    uncertainty = _uncertainty(bearings, relation, instrument)
    correctable = 0 < step.visit == line.made.visit
    accept = max(relation.allowance - uncertainty.value, 0.0)
    numbers = f"{shown(relation.allowance, 1)} - {shown(uncertainty.value, 2)} um"
    formula = f"allowance - U = {numbers} = {shown(accept, 2)} um"
    teeth = _teeth_of(bearings, relation)
    traces = traces_of(teeth, relation.kind) if teeth is not None else None
    return Check(
        number=line.number,
        feature=relation.feature,
        characteristic=relation.words,
        specification=_specification(relation),
        special=_special(line),
        process=_process(line),
        machine=operations.shop.machine.name if line.made.visit else "outside",
        made_by=line.made.operation.name,
        made_in=line.made.alternative.clamping,
        step=step.number,
        operation=step.operation.name,
        clamping=step.alternative.clamping,
        when=_when(bearings, line, step),
        correctable=correctable,
        technique=_technique(step, instrument),
        tool=step.alternative.tool,
        alignment=relation.letters or relation.to,
        temperature=_temperature(bearings, relation),
        sample=_sample(relation, traces.teeth if traces else 0),
        frequency=_frequency(operations.part.lot, line),
        control="measuring record with the piece; trend over the lot"
        if operations.part.lot > 1
        else "record",
        uncertainty=uncertainty,
        allowance=relation.allowance,
        accept=Fact(
            "acceptance limit", accept, "um", formula, "ISO 14253-1, from memory", uncertainty.estimate
        ),
        reaction=_reaction(line, correctable),
        traces=traces,
    )


def _teeth_of(bearings: Bearings, relation: TolerancedRelation) -> Teeth | None:
    feature = bearings.course.operations.part.by_name[relation.feature]
    if relation.kind not in OF_TEETH or not isinstance(feature, CylindricalFeature):
        return None
    runs = teeth_of(bearings.course.context.section, feature)
    return next((teeth for teeth in runs if relation.half in ("", teeth.half)), runs[0])


def _uncertainty(bearings: Bearings, relation: TolerancedRelation, instrument: Instrument) -> Fact:
    shop = bearings.course.operations.shop
    size = relation.lever if relation.kind is Kind.HEIGHT else relation.size
    if relation.kind in OF_TEETH and instrument is Instrument.INDEPENDENT:
        value = shop_values.independent_teeth(shop)
    else:
        value = shop_values.uncertainty(shop, instrument, size if relation.kind in _SIZES else 0.0)
    formula = f"{value.formula} = {shown(value.value, 2)} um" if value.formula else ""
    return Fact("expanded uncertainty", value.value, "um", formula, value.source, value.estimate)


def _specification(relation: TolerancedRelation) -> str:
    to = f" to {' and '.join(relation.letters)}" if relation.letters else ""
    return f"{relation.kind} {relation.written}{to}: {shown(relation.allowance, 1)} um" + (
        " to either side" if relation.two_sided else ""
    )


def _special(line: _Line) -> str:
    if line.entry.verdict is not Verdict.HOLDS:
        return "close"
    if line.relation.kind is Kind.APEX:
        return "apex"
    return "teeth" if line.relation.kind in OF_TEETH else ""


def _process(line: _Line) -> str:
    """What of the process decides it: its largest share."""
    shares = [share for share in line.entry.budget.shares if share.cause is not Cause.MEASURING]
    if not shares:
        return "form and setting of the cutter" if line.relation.kind is Kind.PROFILE else ""
    largest = max(shares, key=lambda share: share.value)
    where = f" in {largest.clamping}" if largest.clamping else ""
    return f"{largest.fact.name}{where}, {shown(largest.value, 1)} um"


def _when(bearings: Bearings, line: _Line, step: Step) -> str:
    if step.operation.action is Action.INSPECT:
        return "after release, washed, soaked to room temperature, on an independent instrument"
    if step.alternative.clamping == BENCH:
        return "when it comes back, on the bench"
    if step.visit != line.made.visit:
        return f"in a later clamping ({step.alternative.clamping}), no more to be corrected"
    soaked = bearings.course.between(line.made, step, Action.SOAK)
    return f"before unclamping{', after soak' if soaked else ', washed'}"


def _technique(step: Step, instrument: Instrument) -> str:
    if instrument is Instrument.INDEPENDENT and step.visit == 0:
        return str(instrument)
    return f"{instrument} ({step.alternative.method})"


def _temperature(bearings: Bearings, relation: TolerancedRelation) -> Fact | None:
    """A quarter of the tolerance may go into warmth."""
    if relation.kind not in _SIZES or relation.size <= 0:
        return None
    expansion = bearings.course.context.material.expansion
    width = 2 * relation.allowance if relation.two_sided else relation.allowance
    size = max(relation.lever if relation.kind is Kind.HEIGHT else relation.size, 1.0)
    value = allowed_temperature_difference(width, size, expansion * 1e-6)
    formula = (
        f"dT = T/(4 alpha D) = {shown(width, 1)} um/(4*{shown(expansion, 1)}e-6*{shown(size, 1)} mm) = "
        f"{shown(value, 1)} K"
    )
    return Fact("temperature difference allowed", value, "K", formula, "common practice, no source")


def _sample(relation: TolerancedRelation, traced: int) -> str:
    if relation.kind is Kind.APEX:
        return f"{APEX_PLACES} places round the gear"
    if relation.kind in (Kind.TOOTH_PITCH, Kind.TOOTH_RUNOUT):
        return f"all {traced} teeth"
    if relation.kind in OF_TEETH:
        return f"{traced} teeth, evenly spaced"
    if relation.kind is Kind.SIZE:
        return "two heights, two directions"
    return "one turn" if relation.kind not in _SIZES else "each place"


def _frequency(lot: int, line: _Line) -> str:
    if lot <= _SMALL_LOT or line.entry.verdict is not Verdict.HOLDS or line.relation.kind is Kind.APEX:
        return "every piece"
    return "first piece, then every fifth"


def _reaction(line: _Line, correctable: bool) -> str:
    if correctable:
        return (
            f"correct {line.made.operation.name} in the same clamping on the stock that is left and measure "
            "again; if nothing is left, stop and ask"
        )
    return (
        "hold the piece, mark it, find the cause before the next piece is cut; use only as decided in writing"
    )


def _findings(line: _Line, checks: tuple[Check, ...]) -> Iterator[Finding]:
    if not checks:
        return
    relation = line.relation
    best = min(checks, key=lambda check: check.uncertainty.value)
    if best.accept.value <= 0:
        yield Finding(
            Severity.WARNING,
            relation.feature,
            f"{relation.kind} cannot be proven: U = {shown(best.uncertainty.value, 1)} um, {best.technique}",
            f"{shown(relation.allowance, 1)} um allowed",
            "Measure it with less uncertainty (key accuracy.measuring), or ask for a wider tolerance",
            "inspection",
        )
    on_machine = line.made.visit > 0 and line.entry.verdict is not Verdict.HOLDS
    if on_machine and not any(check.correctable for check in checks):
        yield Finding(
            Severity.NOTE,
            relation.feature,
            f"{relation.kind} holds only closely and is measured first when it can no more be corrected",
            line.entry.budget.numbers,
            "Measure it by hand before the part is let go",
            "inspection",
        )
