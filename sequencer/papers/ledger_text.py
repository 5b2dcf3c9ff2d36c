"""Ledger and datums of a plan for the screen, as plain lines."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from sequencer.operations import Fact
from sequencer.papers.ledger_json import datums_dict, ledger_dict
from sequencer.units import shown

if TYPE_CHECKING:
    from sequencer.ledger import LedgerEntry, Target, Transfer
    from sequencer.plan import Plan


def ledger_text(plan: Plan) -> tuple[str, ...]:
    """Give each toleranced relation with shares, formulas and verdict, then the process dimensions.

    Parameters
    ----------
    plan
        The plan.
    """
    ledger = plan.ledger
    transfers = [line for each in ledger.transfers for line in _transfer(each)]
    return (
        f"{plan.part.name}: how each tolerance is used up; * marks an estimate",
        *(line for each in ledger.entries for line in ("", *_entry(each))),
        *(
            ("", "Process dimensions, where the drawing's dimension is not worked to", *transfers)
            if transfers
            else ()
        ),
        *(str(finding) for finding in ledger.findings),
    )


def datums_text(plan: Plan) -> tuple[str, ...]:
    """Give who makes each datum, where it is used, and what each clamping indicates.

    Parameters
    ----------
    plan
        The plan.
    """
    table = plan.datums
    lines = [f"{plan.part.name}: datums; * marks an estimate"]
    lines += [f"  {each.sentence}" for each in table.datums]
    for setup in table.setups:
        made = f"; makes {', '.join(setup.produced)}" if setup.produced else ""
        lines += ["", f"Clamping {setup.clamping} (visit {setup.visit}){made}"]
        lines += [_target(each) for each in setup.targets]
    return (*lines, *(str(finding) for finding in table.findings))


def ledger_json(plan: Plan) -> str:
    """Give the ledger as JSON.

    Parameters
    ----------
    plan
        The plan.
    """
    return _json(ledger_dict(plan.ledger))


def datums_json(plan: Plan) -> str:
    """Give the datums as JSON.

    Parameters
    ----------
    plan
        The plan.
    """
    return _json(datums_dict(plan.datums))


def _json(values: dict[str, object]) -> str:
    return json.dumps(values, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _mark(fact: Fact) -> str:
    return "*" if fact.estimate else ""


def _entry(entry: LedgerEntry) -> list[str]:
    budget = entry.budget
    lines = [f"{entry.name} {budget.verdict}: {budget.numbers}"]
    for each in sorted(budget.shares, key=lambda share: -share.value):
        place = f" in {each.clamping}" if each.clamping else ""
        formula = f"  [{each.fact.formula}]" if each.fact.formula else ""
        lines.append(
            f"  {shown(each.value, 1)}{_mark(each.fact)} um {each.cause}: {each.fact.name}{place}{formula}"
        )
    chain = (
        f"{link.surface} {link.role}" + (f" ({link.operation}, {link.clamping})" if link.operation else "")
        for link in entry.chain
    )
    return [*lines, f"  chain: {', '.join(chain)}"]


def _transfer(transfer: Transfer) -> list[str]:
    lines = [
        f"  {transfer.face} to {transfer.datum} {shown(transfer.dimension)} mm "
        f"+-{shown(transfer.tolerance.value, 1)}{_mark(transfer.tolerance)} um: the shop reaches "
        f"{shown(transfer.worst, 1)} um at worst, {shown(transfer.rss, 1)} um root-sum-square"
    ]
    return lines + [
        f"    {each.first} to {each.second} {shown(each.nominal)} mm +-{shown(each.tolerance, 1)} um in "
        f"{each.clamping} ({each.operation})"
        for each in transfer.chain
    ]


def _target(target: Target) -> str:
    words = target.feature or "free"
    if target.letter:
        words += f" ({target.letter})"
    if target.limit is None:
        return f"  {target.kind}: {words}; {target.reason}"
    limit = f"{shown(target.limit.value, 1)}{_mark(target.limit)} um"
    return f"  {target.kind}: {words} to {limit}; {target.reason}  [{target.limit.formula}]"
