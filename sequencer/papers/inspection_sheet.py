"""The inspection plan: what is measured when, with what, how it is decided, and where the work stops."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Column, Row, Section, Sheet, Table
from sequencer.pictures.keys import feature_key, step_key

if TYPE_CHECKING:
    from sequencer.inspection import Check
    from sequencer.plan import Plan


def inspection_sheet(plan: Plan) -> Sheet:
    """Make the inspection plan of a plan, with the columns of a control plan.

    Parameters
    ----------
    plan
        The plan.
    """
    inspection = plan.inspection
    tables = tuple(
        table for table in (_stops(plan), _checks(plan), _traces(plan), _reactions(plan)) if table.rows
    )
    none = "The drawing tolerances nothing that is measured." if not inspection.checks else ""
    sections = (
        Section(
            "What is measured",
            paragraphs=tuple(line for line in (none, _READING if inspection.checks else "") if line),
            tables=tables,
        ),
        Section("", cautions=(_STILL, LAST_WORD)),
    )
    return Sheet("Inspection plan", stamp_of(plan), short_entries(plan), sections)


_READING = (
    "Accept up to the guard band: the allowance less the expanded uncertainty (k = 2). Reject above the "
    "allowance plus the uncertainty. In between measure again with the better instrument. S: close, where "
    "the ledger holds only statistically or not at all; teeth and apex as named. "
    "E: the uncertainty is an estimate."
)
_STILL = (
    "Before anyone measures by hand, table and spindles stand still and are secured against starting. "
    "Tooth edges are sharp until they are deburred."
)


def _stops(plan: Plan) -> Table:
    return Table(
        "Stop here: last chances to correct",
        (
            Column("Before step", number=True, share=0.7, bold=True),
            Column("Operation", share=1.6),
            Column("Clamping", share=0.8),
            Column("Why", share=5.2),
            Column("Characteristics", share=2.2),
            Column("Released by", share=1.2),
        ),
        tuple(
            Row(
                (
                    stop.before,
                    stop.operation,
                    stop.clamping,
                    stop.reason,
                    ", ".join(str(number) for number in stop.checks) or None,
                    None,
                ),
                keys=(step_key(stop.before),),
            )
            for stop in plan.inspection.stops
        ),
    )


def _checks(plan: Plan) -> Table:
    return Table(
        "Characteristics",
        (
            Column("No.", number=True, share=0.5, bold=True),
            Column("Characteristic", share=2.4, bold=True),
            Column("Specification", share=2.4, under=True),
            Column("S", share=0.65),
            Column("Made by", share=1.6),
            Column("Process characteristic", share=1.6, under=True),
            Column("Step", number=True, share=0.6),
            Column("When", share=2.0),
            Column("In", share=2.0, under=True),
            Column("With", share=2.0),
            Column("Tool", share=2.0, under=True),
            Column("To", share=0.6),
            Column("Sample", share=1.4),
            Column("Frequency", share=1.4, under=True),
            Column("Allowed", "um", number=True, share=0.85),
            Column("U", "um", number=True, share=0.6),
            Column("Accept to", "um", number=True, share=0.85),
            Column("Reject from", "um", number=True, share=0.85),
            Column("Found", share=0.9),
            Column("Mark", share=0.6),
        ),
        tuple(_row(check) for check in plan.inspection.checks),
        note="To: datums that the part is aligned to.",
    )


def _row(check: Check) -> Row:
    cells = (
        check.number,
        check.characteristic,
        check.specification,
        check.special or None,
        check.made_by,
        check.process or None,
        check.step,
        check.when,
        check.clamping,
        check.technique,
        check.tool or None,
        " ".join(check.alignment) or None,
        check.sample,
        check.frequency,
        check.allowance,
        check.uncertainty.value,
        check.accept.value,
        check.reject_from,
        None,
        "E" if check.uncertainty.estimate else None,
    )
    return Row(cells, keys=(step_key(check.step), feature_key(check.feature)))


def _traces(plan: Plan) -> Table:
    """Where teeth are measured; the same for several characteristics stands once."""
    found: dict[tuple[str, ...], list[int]] = {}
    for check in plan.inspection.checks:
        traces = check.traces
        if traces is not None:
            numbers = ", ".join(str(number) for number in traces.numbers)
            key = (
                check.feature,
                traces.standard,
                numbers if len(traces.numbers) < traces.teeth or len(traces.numbers) <= 8 else "all",
                traces.flanks,
                traces.place,
                traces.evaluation,
            )
            found.setdefault(key, []).append(check.number)
    return Table(
        "Where teeth are measured",
        (
            Column("Characteristics", share=1.2),
            Column("Teeth of", share=1.2),
            Column("Standard and class", share=1.8),
            Column("Tooth numbers", share=1.4),
            Column("Flanks", share=1.4),
            Column("Place", share=1.8),
            Column("Evaluated over", share=2.0),
        ),
        tuple(
            Row((", ".join(map(str, dict.fromkeys(numbers))), *key), keys=(feature_key(key[0]),))
            for key, numbers in found.items()
        ),
    )


def _reactions(plan: Plan) -> Table:
    """What follows a result that is not accepted, and how results are kept."""
    found: dict[tuple[str, str, str], list[int]] = {}
    for check in plan.inspection.checks:
        found.setdefault((check.when, check.reaction, check.control), []).append(check.number)
    return Table(
        "Reaction",
        (
            Column("Characteristics", share=1.4),
            Column("When", share=1.4),
            Column("If it is not accepted", share=5.0),
            Column("How the result is kept", share=2.2),
        ),
        tuple(
            Row((", ".join(map(str, dict.fromkeys(numbers))), when, reaction, control))
            for (when, reaction, control), numbers in found.items()
        ),
    )
