"""The ledger of an order."""

from __future__ import annotations

from sequencer.errors import Finding, Severity
from sequencer.ledger.bearings import Bearings
from sequencer.ledger.entry import Ledger, LedgerEntry
from sequencer.ledger.situations import chain_of, situation_of
from sequencer.ledger.stock_chain import stock_stages
from sequencer.ledger.transfers import transfers_of
from sequencer.ledger.visits import Course
from sequencer.operations import OperationList
from sequencer.sequencing import Sequence
from sequencer.tolerancing import Cause, Verdict, make_budget
from sequencer.units import shown


def make_ledger(operations: OperationList, sequence: Sequence) -> Ledger:
    """Give for each toleranced relation what made it and what uses it up in this order.

    Source: derived, see the tolerancing room

    Parameters
    ----------
    operations, sequence
        Stages of the plan.
    """
    bearings = Bearings(Course(operations, sequence))
    context = bearings.course.context
    entries = tuple(
        LedgerEntry(
            make_budget(context, relation, situation_of(bearings, relation)), chain_of(bearings, relation)
        )
        for relation in bearings.course.relations
    )
    transfers = transfers_of(bearings)
    stock = stock_stages(bearings)
    failed = tuple(_fails(entry) for entry in entries if entry.verdict is Verdict.FAILS)
    tight = tuple(each.finding for each in transfers if each.finding is not None)
    thin = tuple(each.finding for each in stock if each.finding is not None)
    return Ledger(entries, transfers, stock, (*failed, *tight, *thin))


def _fails(entry: LedgerEntry) -> Finding:
    """Say what does not hold, and which share to lower first."""
    budget = entry.budget
    largest = max(budget.shares, key=lambda each: each.value)
    apart = budget.used_by(Cause.RECLAMPING) > 0
    first = "Make both surfaces in one clamping, or lower" if apart else "Lower"
    return Finding(
        Severity.WARNING,
        entry.feature,
        f"{budget.relation.kind}{' to ' if budget.relation.to else ''}{' and '.join(budget.relation.to)} "
        f"does not hold: {shown(budget.rss, 1)} um root-sum-square, {shown(budget.worst, 1)} um at worst "
        f"({budget.listed})",
        f"{shown(budget.relation.allowance, 1)} um allowed, {budget.relation.written}",
        f"{first} the largest share ({largest.fact.name}: {largest.change}), or ask for a wider tolerance",
        "ledger",
    )
