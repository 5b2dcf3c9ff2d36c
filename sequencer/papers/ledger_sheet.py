"""The tolerance ledger: each toleranced relation with its chain, what uses it up, and whether it holds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Column, Row, Section, Sheet, Table
from sequencer.pictures.keys import feature_key
from sequencer.tolerancing import Cause, Verdict

if TYPE_CHECKING:
    from sequencer.ledger import LedgerEntry
    from sequencer.plan import Plan


def ledger_sheet(plan: Plan) -> Sheet:
    """Make the tolerance ledger of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    if not plan.ledger.entries:
        sections = [Section("", paragraphs=("The drawing tolerances nothing.",))]
    else:
        sections = [
            Section("How much of each tolerance is used up", paragraphs=_READING, tables=(_relations(plan),)),
            Section("Where it goes", tables=(_shares(plan),)),
        ]
    return Sheet(
        "Tolerance ledger",
        stamp_of(plan),
        short_entries(plan),
        (*sections, Section("", cautions=(LAST_WORD,))),
    )


_READING = (
    "Worst case: all shares at their limits at once. RSS: root-sum-square, which hardly any part exceeds if "
    "the shares are independent. A relation holds if the worst case stays within the allowance, and "
    "statistically if only the RSS does.",
)


def _relations(plan: Plan) -> Table:
    causes = tuple(Cause)
    return Table(
        "Relations",
        (
            Column("No.", number=True, share=0.45),
            Column("Relation", share=2.4, bold=True),
            Column("As drawn", share=2.4, under=True),
            Column("Chain: surface, role, step, clamping", share=2.9),
            *(Column(_SHORT[cause], "um", number=True, share=0.98) for cause in causes),
            Column("Worst", "um", number=True, share=0.75, bold=True),
            Column("RSS", "um", number=True, share=0.7),
            Column("Allowed", "um", number=True, share=0.85, bold=True),
            Column("Verdict", share=1.15),
            Column("Crosses", share=0.8),
        ),
        tuple(_relation(place, each, causes) for place, each in enumerate(plan.ledger.entries, start=1)),
        note="Crosses: the relation crosses clampings.",
    )


_SHORT = {
    Cause.MACHINE: "Machine",
    Cause.RECLAMPING: "New clamping",
    Cause.RELEASE: "Release",
    Cause.THERMAL: "Warmth",
    Cause.HEAT: "Heat treatment",
    Cause.MEASURING: "Measuring",
}


def _relation(place: int, entry: LedgerEntry, causes: tuple[Cause, ...]) -> Row:
    budget = entry.budget
    cells = (
        place,
        entry.name,
        budget.relation.written or None,
        chain_words(entry),
        *(budget.used_by(cause) or None for cause in causes),
        budget.worst,
        budget.rss,
        entry.allowance,
        str(entry.verdict).upper() if entry.verdict is Verdict.FAILS else str(entry.verdict),
        "yes" if entry.crosses else None,
    )
    return Row(cells, strong=entry.verdict is Verdict.FAILS, keys=(feature_key(entry.feature),))


def chain_words(entry: LedgerEntry) -> str:
    """Write the chain of a relation: surfaces with role, step and clamping.

    Parameters
    ----------
    entry
        The relation.
    """
    return "; ".join(
        f"{link.surface} {link.role}" + (f" ({link.step}, {link.clamping})" if link.step else "")
        for link in entry.chain
    )


def _shares(plan: Plan) -> Table:
    """Each share with its formula; the same share of several relations stands once."""
    found: dict[tuple[str, str, float, str, str, str, bool], list[int]] = {}
    for place, entry in enumerate(plan.ledger.entries, start=1):
        for share in entry.budget.shares:
            fact = share.fact
            key = (
                fact.name,
                share.clamping,
                share.value,
                fact.formula,
                fact.source,
                share.change,
                fact.estimate,
            )
            found.setdefault(key, []).append(place)
    rows = []
    for (name, clamping, value, formula, source, change, estimate), places in found.items():
        cells = (
            ", ".join(map(str, dict.fromkeys(places))),
            name,
            clamping or None,
            value,
            formula or None,
            source or None,
            change or None,
            "estimate" if estimate else None,
        )
        rows.append(Row(cells))
    return Table(
        "Shares with their formulas",
        (
            Column("Relations", share=1.4),
            Column("Share", share=1.8),
            Column("Clamping", share=0.8),
            Column("Value", "um", number=True, share=0.7),
            Column("Formula with its numbers", share=3.0),
            Column("Source", share=2.4),
            Column("Where to change it", share=2.0),
            Column("Mark", share=0.8),
        ),
        tuple(rows),
    )
