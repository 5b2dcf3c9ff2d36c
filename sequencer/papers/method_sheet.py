"""The method sheet: for each tooth system which methods pass, and why the others fail."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.operations import Action, Alternative, Operation
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import MINUTES_A_DAY, short_entries, stamp_of
from sequencer.papers.localise import sheet_units
from sequencer.papers.model import Column, Row, Section, Sheet, Table
from sequencer.pictures.rounding import in_units, quantity_words
from sequencer.pictures.wording import size_words

if TYPE_CHECKING:
    from sequencer.plan import Plan

_COLUMNS = (
    Column("Operation", share=1.7),
    Column("Verdict", share=0.9),
    Column("Method", share=1.2),
    Column("Tool", share=0.7),
    Column("Clamping", share=0.8),
    Column("Time", "min", number=True, share=0.7),
    Column("Away", "d", number=True, share=0.6),
    Column("Why", share=5.0),
    Column("What would make it work", share=2.2),
)


def method_sheet(plan: Plan) -> Sheet:
    """Make the method sheet of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    sections = []
    for feature in plan.part.features:
        operations = [
            operation
            for operation in plan.operations.by_feature.get(feature.name, ())
            if operation.action in (Action.CUT_TEETH, Action.SEND_OUT)
        ]
        if operations:
            table = Table("Methods", _COLUMNS, tuple(_rows(plan, operations)))
            facts = _facts(plan, operations)
            sections.append(
                Section(
                    f"{feature.shown}: {size_words(feature)}",
                    tables=(table, facts) if facts.rows else (table,),
                )
            )
    if not sections:
        sections = [Section("", paragraphs=("The part has no tooth systems.",))]
    last = Section("", cautions=(LAST_WORD,))
    return Sheet("Methods of the tooth systems", stamp_of(plan), short_entries(plan), (*sections, last))


def _rows(plan: Plan, operations: list[Operation]) -> list[Row]:
    rows = []
    for operation in operations:
        step = plan.sequence.by_operation.get(operation.name)
        for alternative in operation.alternatives:
            chosen = step is not None and _way(step.alternative) == _way(alternative)
            rows.append(_passing(operation, alternative, chosen=chosen))
        rows += _failing(operation)
    return rows


def _way(alternative: Alternative) -> tuple[str, str, str]:
    return alternative.method, alternative.tool, alternative.clamping


def _passing(operation: Operation, alternative: Alternative, *, chosen: bool) -> Row:
    return Row(
        (
            operation.name,
            "CHOSEN" if chosen else "passes",
            alternative.method,
            alternative.tool or None,
            alternative.clamping,
            alternative.minutes,
            alternative.lead_time / MINUTES_A_DAY if alternative.lead_time else None,
            alternative.reason,
            None,
        ),
        shaded=chosen,
    )


def _failing(operation: Operation) -> list[Row]:
    """Rejected ways; those that fail for the same reason in several clampings share a row."""
    clampings: dict[tuple[str, str, str, str], list[str]] = {}
    for each in operation.rejected:
        key = (each.method, each.tool, each.sentence, each.remedy)
        clampings.setdefault(key, []).append(each.clamping or "any")
    return [
        Row(
            (
                operation.name,
                "rejected",
                method,
                tool or "any",
                ", ".join(dict.fromkeys(names)),
                None,
                None,
                sentence,
                remedy or None,
            )
        )
        for (method, tool, sentence, remedy), names in clampings.items()
    ]


def _facts(plan: Plan, operations: list[Operation]) -> Table:
    """Numbers of the chosen methods, each with its formula and source."""
    rows = []
    for operation in operations:
        step = plan.sequence.by_operation.get(operation.name)
        if step is None:
            continue
        for fact in step.alternative.facts:
            value, unit = in_units(fact.value, fact.unit, sheet_units(plan))
            rows.append(
                Row(
                    (
                        operation.name,
                        fact.name,
                        quantity_words(value, unit),
                        fact.formula or None,
                        fact.source or None,
                        "estimate" if fact.estimate else None,
                    )
                )
            )
    return Table(
        "Numbers of the chosen methods",
        (
            Column("Operation", share=1.5),
            Column("What", share=1.8),
            Column("Value with unit", share=1.1),
            Column("Formula with its numbers", share=4.2),
            Column("Source", share=2.2),
            Column("Mark", share=0.7),
        ),
        tuple(rows),
    )
