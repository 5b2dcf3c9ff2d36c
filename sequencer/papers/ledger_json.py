"""Datums, ledger and inspection plan of a plan as plain values."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sequencer.inspection import InspectionPlan
    from sequencer.ledger import DatumTable, Ledger, LedgerEntry, Transfer


def datums_dict(table: DatumTable) -> dict[str, Any]:
    """Give the datums and what each clamping indicates.

    Parameters
    ----------
    table
        The datums.
    """
    return {
        "datums": [{**asdict(each), "sentence": each.sentence} for each in table.datums],
        "set_ups": [asdict(each) for each in table.setups],
    }


def ledger_dict(ledger: Ledger) -> dict[str, Any]:
    """Give the ledger: relations with their shares, process dimensions, stock of each stage.

    Parameters
    ----------
    ledger
        The ledger.
    """
    return {
        "relations": [_entry(each) for each in ledger.entries],
        "transfers": [_transfer(each) for each in ledger.transfers],
        "stock": [_without_finding(asdict(each)) for each in ledger.stock],
    }


def _entry(entry: LedgerEntry) -> dict[str, Any]:
    budget = entry.budget
    return {
        **asdict(budget.relation),
        "words": entry.name,
        "shares": [asdict(each) for each in budget.shares],
        "worst_case": budget.worst,
        "root_sum_square": budget.rss,
        "verdict": budget.verdict,
        "crosses_clampings": entry.crosses,
        "chain": [asdict(each) for each in entry.chain],
        "sentence": entry.sentence,
    }


def _transfer(transfer: Transfer) -> dict[str, Any]:
    return {
        **_without_finding(asdict(transfer)),
        "worst_case": transfer.worst,
        "root_sum_square": transfer.rss,
    }


def _without_finding(made: dict[str, Any]) -> dict[str, Any]:
    """Findings stand together at the end of the plan."""
    return {key: value for key, value in made.items() if key != "finding"}


def inspection_dict(inspection: InspectionPlan) -> dict[str, Any]:
    """Give the inspection plan.

    Parameters
    ----------
    inspection
        The inspection plan.
    """
    return {
        "checks": [asdict(each) for each in inspection.checks],
        "stops": [asdict(each) for each in inspection.stops],
    }
