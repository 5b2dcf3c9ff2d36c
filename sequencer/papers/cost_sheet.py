"""The make-or-buy page, the account behind it, and the value at risk along the route."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sequencer.operations import Fact
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Cell, Column, Figure, Row, Section, Sheet, Table
from sequencer.pictures.keys import step_key

if TYPE_CHECKING:
    from sequencer.costing import Account, Choice
    from sequencer.plan import Plan


def cost_sheet(plan: Plan, figures: tuple[Figure, ...] = ()) -> Sheet:
    """Make the sheet on money: make or buy first.

    Parameters
    ----------
    plan
        The plan.
    figures
        Pictures of cost, break-even and value at risk.
    """
    costing = plan.costing
    advice = costing.advice
    sections = [
        Section(
            "Recommendation",
            paragraphs=(advice.sentence, advice.validity),
            tables=(_choices(plan), *_some(_ways(plan))),
        ),
        *(Section(figure.title, figures=(figure,)) for figure in figures),
        Section("Beside money", tables=_some(_beside(plan))),
        Section(
            f"Account of one piece in a lot of {plan.part.lot}",
            tables=(_account(costing.account),),
            new_page=True,
        ),
        Section("What drives it", tables=_some(_drivers(plan))),
        Section("Value at risk", tables=_some(_risk(plan))),
        Section("", cautions=(LAST_WORD,)),
    ]
    kept = tuple(each for each in sections if each.tables or each.figures or each.cautions)
    return Sheet("Make or buy, cost", stamp_of(plan), short_entries(plan), kept)


def _some(table: Table) -> tuple[Table, ...]:
    return (table,) if table.rows else ()


def _money(value: float | None) -> Cell:
    """Money is shown to two places."""
    return None if value is None else round(value, 2)


def _mark(*facts: Fact | None) -> Cell:
    return "estimate" if any(fact is not None and fact.estimate for fact in facts) else None


def _choices(plan: Plan) -> Table:
    currency = plan.costing.account.currency
    return Table(
        "Make or buy",
        (
            Column("Subject", share=1.2, bold=True),
            Column("Made by", share=1.3),
            Column("Make", currency, number=True, share=0.8),
            Column("Buy", currency, number=True, share=0.8),
            Column("Make", "d", number=True, share=0.6),
            Column("Buy", "d", number=True, share=0.6),
            Column("Verdict", share=0.9, bold=True),
            Column("Flips at", currency, number=True, share=0.8),
            Column("Break-even", share=3.4),
            Column("Quotation, obstacles", share=2.4),
            Column("Mark", share=0.8),
        ),
        tuple(_choice(each) for each in plan.costing.choices),
        note="A piece of this lot. Flips at: price of a piece at which the answer changes.",
    )


def _choice(each: Choice) -> Row:
    words = [each.quote.source] if each.quote is not None else []
    words += [*each.obstacles, *([each.late] if each.late else [])]
    cells = (
        each.subject,
        each.method or None,
        _money(each.make.per_piece),
        _money(each.buy.per_piece) if each.buy is not None else None,
        each.make_days.value,
        each.buy_days.value if each.buy_days is not None else None,
        each.verdict,
        _money(each.flip_price.value),
        each.break_even_words or None,
        "; ".join(words) or None,
        _mark(each.make.total, each.make_days, each.flip_price),
    )
    return Row(cells)


def _ways(plan: Plan) -> Table:
    currency = plan.costing.account.currency
    return Table(
        "Other ways to cut the teeth here",
        (
            Column("Teeth", share=1.4, bold=True),
            Column("Method", share=1.6),
            Column("Tools", share=1.6),
            Column("Cuts", "min", number=True, share=0.8),
            Column("A piece", currency, number=True, share=0.9),
            Column("Tools there after", "d", number=True, share=1.0),
            Column("In time", share=0.7),
            Column("Chosen", share=0.8),
        ),
        tuple(
            Row(
                (
                    ways.feature,
                    way.method,
                    ", ".join(way.tools) or None,
                    way.minutes,
                    _money(way.per_piece),
                    way.days,
                    "yes" if way.in_time else "no",
                    "CHOSEN" if way.chosen else None,
                ),
                shaded=way.chosen,
            )
            for ways in plan.costing.ways
            for way in ways.ways
        ),
        note="Machine, wear, and tools that must be bought.",
    )


def _beside(plan: Plan) -> Table:
    return Table(
        "What counts beside money",
        (
            Column("Subject", share=1.2, bold=True),
            Column("Matter", share=2.2),
            Column("Made here", share=2.6),
            Column("Bought", share=2.6),
        ),
        tuple(Row((each.subject, each.matter, each.make, each.buy)) for each in plan.costing.advice.beside),
    )


def _account(account: Account) -> Table:
    rows = [
        Row(
            (
                line.name,
                f"a {line.per}",
                _money(line.amount.value),
                line.amount.formula or None,
                line.amount.source or None,
                _mark(line.amount),
            )
        )
        for line in account.lines
    ]
    total = account.total
    last = ("one piece", "a piece", _money(total.value), total.formula, total.source, _mark(total))
    return Table(
        "Lines of the account",
        (
            Column("Line", share=1.8, bold=True),
            Column("For", share=0.8),
            Column("Amount", account.currency, number=True, share=1.0),
            Column("Formula with its numbers", share=4.4),
            Column("Source", share=1.8),
            Column("Mark", share=0.8),
        ),
        (*rows, Row(last, strong=True)),
    )


def _drivers(plan: Plan) -> Table:
    currency = plan.costing.account.currency
    return Table(
        "Each assumption changed alone, the strongest first",
        (
            Column("Answer", share=2.2, bold=True),
            Column("Now", currency, number=True, share=0.9),
            Column("Assumption", share=2.0),
            Column("Changed to", share=1.2),
            Column("Answer then", currency, number=True, share=1.0),
            Column("Or to", share=2.0),
            Column("Answer then", currency, number=True, share=1.0),
            Column("Flips", share=0.6),
        ),
        tuple(
            Row(
                (
                    tornado.subject,
                    _money(tornado.now),
                    driver.name,
                    driver.low,
                    _money(driver.at_low),
                    driver.high,
                    _money(driver.at_high),
                    "yes" if driver.flips else None,
                )
            )
            for tornado in plan.costing.tornadoes
            for driver in tornado.drivers
        ),
    )


def _risk(plan: Plan) -> Table:
    currency, worst = plan.costing.account.currency, plan.costing.riskiest
    return Table(
        "Steps that can scrap the part",
        (
            Column("Step", number=True, share=0.6, bold=True),
            Column("Operation", share=2.2),
            Column("Value so far", currency, number=True, share=1.0),
            Column("Chance", number=True, share=0.8),
            Column("Expected loss", currency, number=True, share=1.0),
            Column("Formula with its numbers", share=3.4),
            Column("Mark", share=0.8),
        ),
        tuple(
            Row(
                (
                    point.number,
                    point.operation,
                    _money(point.value.value),
                    point.chance,
                    _money(point.loss.value),
                    point.loss.formula or None,
                    _mark(point.value, point.loss),
                ),
                shaded=point is worst,
                keys=(step_key(point.number),),
            )
            for point in plan.costing.risk
            if point.loss.value > 0
        ),
        note="Shaded: the step that scraps the most.",
    )
