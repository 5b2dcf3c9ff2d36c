"""The findings sheet: what the planner must know, which numbers are estimates, which shoulds are broken."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import masses, short_entries, stamp_of
from sequencer.papers.localise import sheet_units
from sequencer.papers.model import Column, Row, Section, Sheet, Table
from sequencer.pictures.rounding import in_units, quantity_words

if TYPE_CHECKING:
    from sequencer.plan import Plan


def findings_sheet(plan: Plan) -> Sheet:
    """Make the findings sheet of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    findings, estimates, broken = _findings(plan), _estimates(plan), _broken(plan)
    sections = (
        _section("Findings", findings, "Nothing was found."),
        _section(
            "Shoulds that this order breaks",
            broken,
            "No should that can be kept is broken; the notes name those that cannot.",
        ),
        _section("Estimates", estimates, "Every number was given."),
        Section("", cautions=(LAST_WORD,)),
    )
    return Sheet("Findings and estimates", stamp_of(plan), short_entries(plan), sections)


def _section(title: str, table: Table, none: str) -> Section:
    return Section(title, tables=(table,)) if table.rows else Section(title, paragraphs=(none,))


def _findings(plan: Plan) -> Table:
    return Table(
        "Errors first",
        (
            Column("Kind", share=0.8),
            Column("Where", share=1.5),
            Column("What", share=4.5),
            Column("Limit", share=2.5),
            Column("What to do", share=3.0),
            Column("Found by", share=1.0),
        ),
        tuple(
            Row(
                (
                    finding.severity.upper() if finding.severity == "error" else str(finding.severity),
                    finding.where,
                    finding.what,
                    finding.limit or None,
                    finding.remedy or None,
                    finding.subject or None,
                ),
                strong=finding.severity == "error",
            )
            for finding in plan.findings
        ),
    )


def _broken(plan: Plan) -> Table:
    return Table(
        "Broken shoulds",
        (
            Column("Rule", share=0.6),
            Column("Should come first", share=1.8),
            Column("Comes before it", share=1.8),
            Column("Reason of the rule", share=4.5),
            Column("Penalty", "min", number=True, share=0.8),
            Column("Source", share=2.2),
        ),
        tuple(
            Row((each.rule, each.first, each.second, each.reason, each.penalty, each.source))
            for each in plan.sequence.broken
        ),
    )


def _estimates(plan: Plan) -> Table:
    rows = [
        Row((None, f"{entry.name} {entry.words}", "section of the part; weigh it before lifting"))
        for entry in masses(plan)
        if entry.estimate
    ]
    rows += [
        Row(
            (
                None,
                f"clamping {fitted.name} with {fitted.means.name}",
                "proposal; give clampings in the part file",
            )
        )
        for fitted in plan.operations.clampings
        if fitted.proposed
    ]
    return Table(
        "Numbers that nobody gave",
        (
            Column("Steps", share=3.0),
            Column("What", share=4.5),
            Column("Comes from, and where to change it", share=4.5),
        ),
        (*rows, *_step_estimates(plan)),
        note="What a formula makes of these numbers is an estimate too.",
    )


def _step_estimates(plan: Plan) -> list[Row]:
    """One row for each set of assumed numbers, with all steps that use it."""
    steps: dict[tuple[str, str], list[int]] = {}
    for step in plan.sequence.steps:
        assumed: dict[str, list[str]] = {}
        for fact in step.alternative.facts:
            if fact.estimate and fact.source != "derived":
                value, unit = in_units(fact.value, fact.unit, sheet_units(plan))
                words = (
                    f"{fact.name}, by formula"
                    if fact.formula
                    else f"{fact.name} {quantity_words(value, unit)}"
                )
                assumed.setdefault(fact.source, []).append(words)
        for source, listed in assumed.items():
            steps.setdefault((", ".join(listed), source), []).append(step.number)
    return [
        Row((", ".join(str(number) for number in numbers), words, source))
        for (words, source), numbers in steps.items()
    ]
