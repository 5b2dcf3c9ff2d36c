"""The datum sheet: who makes each datum, where it is used, whether it is still true there."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.localise import sheet_units
from sequencer.papers.model import Column, Row, Section, Sheet, Table
from sequencer.pictures.keys import feature_key, step_key
from sequencer.pictures.rounding import in_units

if TYPE_CHECKING:
    from sequencer.ledger import Datum
    from sequencer.plan import Plan


def datum_sheet(plan: Plan) -> Sheet:
    """Make the sheet of datums, process dimensions and stock.

    Parameters
    ----------
    plan
        The plan.
    """
    sections = [
        Section("Datums", tables=_some(_made(plan), _moved(plan))),
        Section("What each clamping finds its place by", tables=_some(_targets(plan))),
        _transfers(plan),
        Section("Stock that each stage meets and leaves", tables=_some(_stock(plan))),
        Section("", cautions=(LAST_WORD,)),
    ]
    return Sheet(
        "Datums, process dimensions, stock",
        stamp_of(plan),
        short_entries(plan),
        tuple(each for each in sections if each.tables or each.paragraphs or each.cautions),
    )


def _some(*tables: Table) -> tuple[Table, ...]:
    return tuple(table for table in tables if table.rows)


def _made(plan: Plan) -> Table:
    return Table(
        "Who makes it and where it is used",
        (
            Column("Datum", share=0.6, bold=True),
            Column("Feature", share=1.3),
            Column("Of", share=0.8),
            Column("Made by", share=1.5),
            Column("Step", number=True, share=0.6),
            Column("Clamping", share=0.8),
            Column("Used at", share=4.6),
            Column("Still true", share=0.9),
        ),
        tuple(
            Row(
                (
                    each.letter,
                    each.feature,
                    "the process" if each.process else "the drawing",
                    each.operation or None,
                    each.step or None,
                    each.clamping or None,
                    _uses(each) or "nowhere",
                    "yes" if all(truth.true for truth in each.truths) else "see below",
                ),
                keys=(feature_key(each.feature),),
            )
            for each in plan.datums.datums
        ),
    )


def _uses(datum: Datum) -> str:
    """Uses in words; one way of use at several steps stands once."""
    steps: dict[tuple[str, str], list[int]] = {}
    for use in datum.uses:
        steps.setdefault((use.how, use.clamping), []).append(use.step)
    return "; ".join(
        f"{how}, {clamping} {', '.join(map(str, dict.fromkeys(numbers)))}"
        for (how, clamping), numbers in steps.items()
    )


def _moved(plan: Plan) -> Table:
    return Table(
        "What may move it",
        (
            Column("Datum", share=0.6, bold=True),
            Column("Step", number=True, share=0.6),
            Column("Event", share=2.0),
            Column("True afterwards", share=1.2),
            Column("Why", share=6.0),
        ),
        tuple(
            Row(
                (
                    each.letter,
                    truth.step,
                    truth.event,
                    "yes" if truth.true else "no: find it again",
                    truth.reason,
                ),
                shaded=not truth.true,
                keys=(step_key(truth.step), feature_key(each.feature)),
            )
            for each in plan.datums.datums
            for truth in each.truths
        ),
    )


def _targets(plan: Plan) -> Table:
    rows = []
    for each in plan.datums.setups:
        for target in each.targets:
            where = f"{target.feature} ({target.letter})" if target.letter else target.feature
            limit = target.limit
            cells = (
                each.visit,
                each.clamping,
                each.step or None,
                target.kind,
                where or None,
                ("indicated" if target.direct else "carries or grips") if target.feature else None,
                limit.value if limit is not None else None,
                limit.formula if limit is not None else None,
                target.reason,
            )
            rows.append(Row(cells, keys=(feature_key(target.feature),) if target.feature else ()))
    return Table(
        "Axis, face and angle",
        (
            Column("Visit", number=True, share=0.5),
            Column("Clamping", share=0.8),
            Column("Step", number=True, share=0.6),
            Column("For the", share=0.7),
            Column("Surface", share=1.5, bold=True),
            Column("How", share=1.2),
            Column("At most", "um", number=True, share=0.8),
            Column("Formula with its numbers", share=3.0),
            Column("Why this limit", share=3.2),
        ),
        tuple(rows),
    )


def _transfers(plan: Plan) -> Section:
    title = "Process dimensions"
    if not plan.ledger.transfers:
        line = "Every toleranced dimension between faces is worked to in one clamping; none is transferred."
        return Section(title, paragraphs=(line,))
    units = sheet_units(plan)
    rows = []
    for transfer in plan.ledger.transfers:
        drawn = f"{transfer.face} to {transfer.datum}"
        closing = (
            drawn,
            "closes the chain",
            None,
            in_units(transfer.dimension, "mm", units)[0],
            transfer.tolerance.value,
            transfer.worst,
            transfer.rss,
            transfer.tolerance.formula or None,
        )
        rows.append(Row(closing, shaded=True, strong=transfer.finding is not None))
        for link in transfer.chain:
            cells = (
                f"{link.first} to {link.second}",
                link.operation,
                link.clamping,
                in_units(link.nominal, "mm", units)[0],
                link.tolerance,
                link.reached.value,
                None,
                link.reached.formula or None,
            )
            rows.append(Row(cells))
    table = Table(
        "Dimensions of the drawing that no clamping works to, each with the chain that closes it",
        (
            Column("Dimension", share=2.2, bold=True),
            Column("Worked to by", share=1.6),
            Column("Clamping", share=0.8),
            Column("Nominal", units, number=True, share=0.9),
            Column("Tolerance, +-", "um", number=True, share=0.9),
            Column("Reached, worst", "um", number=True, share=0.9),
            Column("RSS", "um", number=True, share=0.7),
            Column("Formula with its numbers", share=3.4),
        ),
        tuple(rows),
    )
    return Section(title, tables=(table,))


def _stock(plan: Plan) -> Table:
    units = sheet_units(plan)

    def length(millimetres: float) -> float:
        return in_units(millimetres, "mm", units)[0]

    rows = [
        Row(
            (
                stage.step,
                stage.surface,
                stage.operation,
                stage.clamping,
                length(stage.nominal),
                length(stage.least),
                length(stage.most),
                length(stage.left),
                ", ".join(fact.name for fact in stage.because) or None,
            ),
            strong=stage.finding is not None,
            keys=(step_key(stage.step), feature_key(stage.surface)),
        )
        for stage in plan.ledger.stock
    ]
    return Table(
        "Per side, of teeth per flank",
        (
            Column("Step", number=True, share=0.6),
            Column("Surface", share=1.5, bold=True),
            Column("Stage", share=1.8),
            Column("Clamping", share=0.8),
            Column("Taken off", units, number=True, share=0.9),
            Column("At least", units, number=True, share=0.9),
            Column("At most", units, number=True, share=0.9),
            Column("Left", units, number=True, share=0.8),
            Column("Uneven because of", share=4.4),
        ),
        tuple(rows),
    )
