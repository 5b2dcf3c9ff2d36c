"""Time and money of a plan as plain values for plan.json."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sequencer.costing import Account, Choice, Costing, TimeTable


def costing_dict(costing: Costing) -> dict[str, Any]:
    """Give time and money as plain values.

    Parameters
    ----------
    costing
        The costing of a plan.
    """
    return {
        "times": _times(costing.times),
        "account": _account(costing.account),
        "tools": [asdict(tool) | {"per_piece": tool.per_piece} for tool in costing.tools],
        "risk": [asdict(point) for point in costing.risk],
        "choices": [_choice(choice) for choice in costing.choices],
        "ways": [asdict(ways) for ways in costing.ways],
        "tornadoes": [asdict(tornado) for tornado in costing.tornadoes],
        "advice": asdict(costing.advice),
    }


def _times(times: TimeTable) -> dict[str, Any]:
    return {
        "totals": [asdict(fact) for _, fact in times.totals],
        "following": asdict(times.following),
        "first": asdict(times.first),
        "set_up": [asdict(fact) for fact in times.set_up],
        "lot": asdict(times.lot_minutes),
        "utilisation": asdict(times.utilisation),
        "away": times.away,
        "steps": [
            {
                "number": step.step.number,
                "on_machine": step.on_machine,
                "shares": [{"kind": kind.value, **asdict(fact)} for kind, fact in step.shares],
            }
            for step in times.steps
        ],
    }


def _account(account: Account) -> dict[str, Any]:
    return {
        "currency": account.currency,
        "lot": account.lot,
        "series": account.series,
        "total": asdict(account.total),
        "lines": [asdict(line) for line in account.lines],
    }


def _choice(choice: Choice) -> dict[str, Any]:
    return {
        "subject": choice.subject,
        "method": choice.method,
        "verdict": choice.verdict,
        "sentence": choice.sentence,
        "quote": choice.quote.source if choice.quote else None,
        "make": _account(choice.make),
        "buy": _account(choice.buy) if choice.buy else None,
        "make_days": asdict(choice.make_days),
        "buy_days": asdict(choice.buy_days) if choice.buy_days else None,
        "break_even": asdict(choice.break_even) if choice.break_even else None,
        "break_even_words": choice.break_even_words,
        "flip_price": asdict(choice.flip_price),
        "curve": [{"lot": lot, "make": make, "buy": buy} for lot, make, buy in choice.curve],
        "obstacles": list(choice.obstacles),
        "late": choice.late,
    }
