"""The page for one pair of operations: why one stands before the other, and what a swap breaks and costs."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Amount, Column, Row, Section, Sheet, Table
from sequencer.papers.why_text import why_lines

if TYPE_CHECKING:
    from sequencer.plan import Plan
    from sequencer.precedence import Dependency
    from sequencer.sequencing import Why


def why_page(plan: Plan, answer: Why, swapped: Plan | None = None) -> Sheet:
    """Make the page for one pair of operations.

    Parameters
    ----------
    plan
        The plan.
    answer
        What was found.
    swapped
        The plan in the swapped order; None if there is none.
    """
    first, second = answer.first, answer.second
    sections = [
        Section(
            f"Why {first} stands before {second}",
            paragraphs=() if answer.chain else why_lines(answer)[:2],
            tables=_some(_reasons("Shortest chain of reasons", answer.chain)),
        ),
        Section(
            f"What if {second} stood before {first}",
            paragraphs=_swap_words(answer),
            tables=(
                *_some(_reasons("Musts that would be broken", answer.broken)),
                *_some(_reasons("Shoulds that would be broken as well", answer.shoulds)),
                *_some(_levels(answer)),
            ),
        ),
    ]
    if swapped is not None:
        sections.append(_ledger(plan, swapped))
    sections.append(Section("", cautions=(LAST_WORD,)))
    return Sheet("Why this before that", stamp_of(plan), short_entries(plan), tuple(sections))


def _some(table: Table) -> tuple[Table, ...]:
    return (table,) if table.rows else ()


def _swap_words(answer: Why) -> tuple[str, ...]:
    if answer.swapped is None:
        return (f"No order has them the other way round, even with these musts dropped: {answer.obstacle}.",)
    proof = "best" if answer.swapped.proven else "best found"
    broken = "with the musts below dropped" if answer.broken else "which breaks no must"
    return (f"Compared with the {proof} order the other way round, {broken}.",)


def _reasons(title: str, listed: tuple[Dependency, ...]) -> Table:
    return Table(
        title,
        (
            Column("Rule", share=0.6, bold=True),
            Column("First", share=1.8),
            Column("Then", share=1.8),
            Column("Strength", share=0.8),
            Column("Demands", share=1.3),
            Column("Reason", share=4.4),
            Column("Source", share=2.2),
        ),
        tuple(
            Row(
                (
                    each.rule or None,
                    each.first or None,
                    each.second or None,
                    str(each.strength),
                    str(each.relation),
                    each.reason,
                    each.source or None,
                )
            )
            for each in listed
        ),
    )


def _levels(answer: Why) -> Table:
    if answer.swapped is None:
        return Table("", (), ())
    units = {"minutes and penalties": "min"}
    rows = [
        Row(
            (
                mine.name,
                Amount(mine.value, units.get(mine.name, "")),
                Amount(other.value, units.get(other.name, "")),
            ),
            changed=mine.value != other.value,
        )
        for mine, other in zip(answer.levels, answer.swapped.levels, strict=True)
    ]
    columns = (
        Column("Level", share=2.0, bold=True),
        Column("This plan", number=True),
        Column("Other way round", number=True),
    )
    return Table("What it costs", columns, tuple(rows))


def _ledger(plan: Plan, swapped: Plan) -> Section:
    """Relations whose use of the tolerance differs."""
    other = {entry.name: entry for entry in swapped.ledger.entries}
    rows = [
        Row(
            (
                entry.name,
                entry.allowance,
                entry.budget.worst,
                other[entry.name].budget.worst,
                str(entry.verdict),
                str(other[entry.name].verdict),
            ),
            strong=entry.verdict != other[entry.name].verdict,
        )
        for entry in plan.ledger.entries
        if entry.name in other and entry.budget.numbers != other[entry.name].budget.numbers
    ]
    title = "What it does to the tolerances"
    if not rows:
        return Section(title, paragraphs=("No relation of the ledger changes.",))
    columns = (
        Column("Relation", share=3.0, bold=True),
        Column("Allowed", "um", number=True),
        Column("Worst, this plan", "um", number=True),
        Column("Worst, other way round", "um", number=True),
        Column("Verdict, this plan", share=1.4),
        Column("Verdict, other way round", share=1.4),
    )
    return Section(title, tables=(Table("Relations that change", columns, tuple(rows)),))


def write_why(plan: Plan, answer: Why, folder: Path) -> tuple[Path, ...]:
    """Write the page for one pair of operations.

    Parameters
    ----------
    plan
        The plan.
    answer
        What was found.
    folder
        Folder for the page; made if it does not exist.

    Raises
    ------
    SequencerError
        When the page cannot be made or written.
    """
    from sequencer.papers.localise import localised, style_of
    from sequencer.papers.typst_pdf import sheets_pdf
    from sequencer.papers.write import write_all

    swapped = replace(plan, sequence=answer.swapped) if answer.swapped is not None else None
    style = style_of(plan)
    page = localised(why_page(plan, answer, swapped), style.wording)
    name = re.sub(r"[^A-Za-z0-9]+", "-", f"why {answer.first} before {answer.second}").strip("-")
    return write_all(folder, {f"{name}.pdf": sheets_pdf((page,), style)})
