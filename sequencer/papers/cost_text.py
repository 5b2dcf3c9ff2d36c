"""Time and money of a plan for the screen, as plain lines."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.operations import Fact
from sequencer.papers.summary import cost_lines
from sequencer.units import shown

if TYPE_CHECKING:
    from sequencer.costing import Account, Choice, Costing
    from sequencer.plan import Plan


def cost_text(plan: Plan) -> tuple[str, ...]:
    """Give all of time and money, each number with its formula; * marks an estimate.

    Parameters
    ----------
    plan
        The plan.
    """
    costing = plan.costing
    return (
        f"{plan.part.name}, lot of {plan.part.lot}; * marks an estimate",
        *cost_lines(costing),
        "",
        *_times(costing),
        "",
        *_account("Account of making it here", costing.account),
        "",
        *_risk(costing),
        "",
        *(line for choice in costing.choices for line in (*_choice(choice), "")),
        "Other ways to cut the teeth (machine, wear, tools to buy)",
        *(f"  {ways.answer}" for ways in costing.ways),
        "",
        *_drivers(costing),
        "",
        "Recommendation",
        f"  {costing.advice.sentence}",
        f"  {costing.advice.validity}",
        "Beside money",
        *(f"  {b.subject}, {b.matter}: here {b.make}; outside {b.buy}" for b in costing.advice.beside),
        *(str(finding) for finding in costing.findings),
    )


def _value(fact: Fact) -> str:
    mark = "*" if fact.estimate else ""
    return f"{shown(fact.value, 2)}{mark} {fact.unit}".rstrip()


def _times(costing: Costing) -> list[str]:
    times = costing.times
    lines = ["Time of one piece"]
    lines += [f"  {kind}: {_value(fact)}" for kind, fact in times.totals]
    facts = (times.following, times.first, times.set_up_minutes, times.lot_minutes, times.utilisation)
    return [*lines, *(f"  {fact.name}: {_value(fact)}  [{fact.formula}]" for fact in facts)]


def _account(title: str, account: Account) -> list[str]:
    lines = [f"{title}: {_value(account.total)} a piece  [{account.total.formula}]"]
    return lines + [
        f"  {line.name}, per {line.per}: {_value(line.amount)}"
        + (f"  [{line.amount.formula}]" if line.amount.formula else "")
        for line in account.lines
    ]


def _risk(costing: Costing) -> list[str]:
    """The value after each step that can scrap the part."""
    lines = ["Value at risk"]
    lines += [
        f"  {point.number} {point.operation}: value {_value(point.value)}, expected loss {_value(point.loss)}"
        for point in costing.risk
        if point.loss.value > 0
    ]
    return lines


def _choice(choice: Choice) -> list[str]:
    lines = [f"Make or buy, {choice.sentence}"]
    lines.append(f"  make: {_value(choice.make.total)}, ready after {_value(choice.make_days)}")
    if choice.buy is not None and choice.buy_days is not None:
        lines.append(f"  buy: {_value(choice.buy.total)}, ready after {_value(choice.buy_days)}")
        lines.append(f"  break-even: {choice.break_even_words}")
        lines.append(
            f"  {choice.flip_price.name}: {_value(choice.flip_price)}  [{choice.flip_price.formula}]"
        )
        points = (f"{lot}: {shown(make, 0)}/{shown(buy, 0)}" for lot, make, buy in choice.curve)
        lines.append(f"  lot: make/buy a piece  {', '.join(points)}")
    return lines


def _drivers(costing: Costing) -> list[str]:
    lines = []
    for tornado in costing.tornadoes:
        lines.append(
            f"What drives {tornado.subject} (now {shown(tornado.now, 2)} {costing.account.currency})"
        )
        lines += [
            f"  {d.name}: {d.low} {shown(d.at_low, 2)}, {d.high} {shown(d.at_high, 2)}"
            + ("; the answer flips" if d.flips else "")
            for d in tornado.drivers
        ]
    return lines
