"""The time sheet: first piece, following pieces and lot, and where the time of each step goes."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Amount, Cell, Column, Figure, Row, Section, Sheet, Table
from sequencer.pictures.keys import step_key

if TYPE_CHECKING:
    from sequencer.costing import StepTime, TimeTable
    from sequencer.plan import Plan


def time_sheet(plan: Plan, figures: tuple[Figure, ...] = ()) -> Sheet:
    """Make the time sheet of a plan.

    Parameters
    ----------
    plan
        The plan.
    figures
        Pictures of the time, on the first page.
    """
    times = plan.costing.times
    sections = (
        Section("First piece, following pieces, lot", tables=(_sums(times), _kinds(times))),
        *(Section(figure.title, figures=(figure,), new_page=True) for figure in figures),
        Section("Where the time of each step goes", tables=(_steps(times),), new_page=True),
        Section("", cautions=(LAST_WORD,)),
    )
    return Sheet("Time", stamp_of(plan), short_entries(plan), sections)


def _sums(times: TimeTable) -> Table:
    facts = (
        *times.set_up,
        times.set_up_minutes,
        times.first_extra,
        times.first,
        times.following,
        times.lot_minutes,
        times.utilisation,
    )
    return Table(
        "Times of the lot",
        (
            Column("What", share=2.2, bold=True),
            Column("Value", number=True, share=0.8),
            Column("Unit", share=0.5),
            Column("Formula with its numbers", share=4.6),
            Column("Source", share=2.4),
            Column("Mark", share=0.8),
        ),
        tuple(
            Row(
                (
                    fact.name,
                    Amount(fact.value, fact.unit),
                    fact.unit or None,
                    fact.formula or None,
                    fact.source or None,
                    "estimate" if fact.estimate else None,
                ),
                shaded=fact in (times.first, times.following, times.lot_minutes),
            )
            for fact in facts
        ),
    )


def _kinds(times: TimeTable) -> Table:
    rows = [
        Row((str(kind), fact.value, "estimate" if fact.estimate else None)) for kind, fact in times.totals
    ]
    totals: tuple[tuple[str, float], ...] = (
        ("on the machine", times.machine_minutes),
        ("beside the machine", times.bench_minutes),
    )
    rows += [Row((name, minutes, None), strong=True) for name, minutes in totals]
    return Table(
        "One piece, by what the time is spent on",
        (Column("Kind", share=2.4), Column("Time", "min", number=True), Column("Mark")),
        tuple(rows),
    )


def _steps(times: TimeTable) -> Table:
    kinds = [kind for kind, _ in times.totals]
    columns = (
        Column("Step", number=True, share=0.6, bold=True),
        Column("Operation", share=2.2, bold=True),
        Column("In", share=0.7),
        *(Column(str(kind).capitalize(), "min", number=True, share=0.95) for kind in kinds),
        Column("All", "min", number=True, share=0.8, bold=True),
    )

    def row(each: StepTime) -> Row:
        cells: tuple[Cell, ...] = (
            each.step.number,
            each.step.operation.name,
            each.step.alternative.clamping,
            *(each.of(kind) or None for kind in kinds),
            each.minutes,
        )
        return Row(cells, keys=(step_key(each.step.number),))

    total: tuple[Cell, ...] = (None, "One piece", None, *(times.of(kind) for kind in kinds), None)
    rows = (*(row(each) for each in times.steps), Row(total, strong=True))
    return Table("Minutes of each step", columns, rows)
