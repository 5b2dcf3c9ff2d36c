"""The sources page: where every number and every rule of the plan comes from, each source once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import TYPE_CHECKING, Any

from sequencer.operations import Fact
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Column, Row, Section, Sheet, Table

if TYPE_CHECKING:
    from sequencer.plan import Plan


def sources_sheet(plan: Plan, gears: Sheet) -> Sheet:
    """Make the sources page of a plan.

    Parameters
    ----------
    plan
        The plan.
    gears
        Its gear data, whose rows name their sources.
    """
    found: dict[str, dict[str, None]] = {}
    for what, source in (*sources_of(plan), *_named_in(gears)):
        found.setdefault(source, {})[what] = None
    files = {source: whats for source, whats in found.items() if _of_file(source)}
    others = {source: whats for source, whats in found.items() if source not in files}
    sections = (
        Section(
            "Standards, books, common practice",
            tables=(_table("Sources of rules and formulas", others),),
        ),
        Section("Files", tables=(_table("Values of part and shop file, and values assumed", files),)),
        Section("", cautions=(LAST_WORD,)),
    )
    return Sheet("Sources", stamp_of(plan), short_entries(plan), sections)


def _named_in(sheet: Sheet) -> Iterator[tuple[str, str]]:
    """Give the sources in the columns of that name."""
    for section in sheet.sections:
        for table in section.tables:
            names = [column.name for column in table.columns]
            if "Source" in names:
                place = names.index("Source")
                for row in table.rows:
                    if row.cells[place]:
                        yield str(row.cells[0]), str(row.cells[place])


def _of_file(source: str) -> bool:
    return source.startswith(("shop file", "part file", "part and shop", "estimate", "default"))


def sources_of(plan: Plan) -> Iterator[tuple[str, str]]:
    """Give what is used in this plan with its source, in the order of the sheets.

    Parameters
    ----------
    plan
        The plan.
    """
    for each in plan.graph.dependencies:
        if each.source:
            yield f"rule {each.rule}".strip(), each.source
    costing = plan.costing
    stages = (
        (step.alternative.facts for step in plan.sequence.steps),
        (entry.budget.shares for entry in plan.ledger.entries),
        (entry.budget.relation.given for entry in plan.ledger.entries),
        plan.ledger.stock,
        plan.datums.setups,
        plan.inspection.checks,
        (costing.times.set_up, costing.times.first_extra, costing.times.lot_minutes, costing.account.lines),
    )
    for stage in stages:
        for fact in _facts(stage):
            if fact.source:
                yield fact.name, fact.source
    for set_up in plan.set_ups:
        yield from (("holding", grip.source) for grip in (set_up.rough, set_up.finish) if grip.source)
        yield "tipping", set_up.tipping.source
        if set_up.ovality is not None:
            yield "out-of-roundness under jaws", set_up.ovality.source


def _facts(value: Any) -> Iterator[Fact]:
    """Facts inside stages, tuples and objects of a plan."""
    if isinstance(value, Fact):
        yield value
    elif isinstance(value, str | int | float) or value is None:
        return
    elif is_dataclass(value):
        for field in fields(value):
            yield from _facts(getattr(value, field.name))
    else:
        for each in value:
            yield from _facts(each)


def _table(title: str, found: dict[str, dict[str, None]]) -> Table:
    return Table(
        title,
        (Column("No.", number=True, share=0.4), Column("Source", share=4.0), Column("Used for", share=5.0)),
        tuple(
            Row((place, source, ", ".join(found[source]))) for place, source in enumerate(sorted(found), 1)
        ),
    )
