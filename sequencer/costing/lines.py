"""The lines of the account of a plan, or of some of its steps."""

from __future__ import annotations

import math

from sequencer.costing.account import Account, Basis, Line, expected_loss, quote_of, step_costs, tool_costs
from sequencer.costing.assumptions import Assumptions
from sequencer.operations import Action, Fact
from sequencer.units import shown


def whole_account(basis: Basis, given: Assumptions, *, marginal: bool = False) -> Account:
    """Give the account of all that counts in a basis, with blank and set-up.

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices, risks, lot.
    marginal
        Count only what falls away when the part is bought: the marginal rate of the machine, and the
        contribution lost on a bottleneck.
    """
    lines = [*_blank(given), *piece_lines(basis, given, marginal=marginal)]
    lines += [_set_up(basis, given), *series_lines(basis, given, marginal=marginal)]
    lines += [*_fixtures(basis, given), *_sent_out(basis, given)]
    return Account(tuple(lines), given.lot, given.series, given.currency)


def _money(name: str, value: float, words: str, given: Assumptions, source: str, guess: bool) -> Fact:
    return Fact(name, value, given.currency, f"{words} = {shown(value, 2)} {given.currency}", source, guess)


def _blank(given: Assumptions) -> list[Line]:
    if given.blank is None:
        return []
    fact = Fact(
        "blank", given.blank, given.currency, given.blank_words, "part and shop file", given.blank_guessed
    )
    return [Line("blank", "piece", fact)]


def piece_lines(basis: Basis, given: Assumptions, *, marginal: bool = False) -> list[Line]:
    """Give the lines that come back with every piece, the blank left out.

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices, risks.
    marginal
        Count the marginal rate of the machine.
    """
    f = given.time_factor
    machine = f * math.fsum(step.minutes for step in basis.steps if step.on_machine)
    bench = f * math.fsum(step.minutes for step in basis.steps if not step.on_machine)
    rate = given.marginal_machine_hour if marginal else given.machine_hour
    lines = [
        Line("machine", "piece", _time("machine", machine, rate, given, True)),
        Line("bench and measuring room", "piece", _time("bench", bench, given.inspection_hour, given, False)),
    ]
    costs = step_costs(basis, given)
    total = math.fsum(cost.tools for cost in costs)
    words = "sum of lives*price of a life over all steps"
    lines.append(Line("tools", "piece", _money("tools", total, words, given, "shop file, tools", True)))
    outside = math.fsum(cost.outside for cost in costs)
    if outside:
        words = "prices of what is sent out"
        lines.append(
            Line(
                "work outside", "piece", _money("outside", outside, words, given, "part file, quotes", False)
            )
        )
    loss = expected_loss(basis, given)
    words = "sum of chance*value along the route"
    lines.append(
        Line(
            "scrap risk",
            "piece",
            _money("scrap", loss, words, given, "shop file, risks", given.risks_guessed),
        )
    )
    if given.lost_hour:
        lines.append(
            Line("lost contribution", "piece", _time("bottleneck", machine, given.lost_hour, given, True))
        )
    return lines


def _time(name: str, minutes: float, rate: float, given: Assumptions, guess: bool) -> Fact:
    value = minutes * rate / 60
    words = f"t r/60 = {shown(minutes, 1)} min*{shown(rate, 2)}/60"
    return _money(name, value, words, given, "shop file, rates", guess)


def _set_up(basis: Basis, given: Assumptions) -> Line:
    su = basis.times.set_up_minutes
    minutes = su.value * given.effort_factor
    fact = _time("set-up", minutes, given.setup_hour, given, su.estimate)
    return Line("set-up", "lot", fact)


def series_lines(basis: Basis, given: Assumptions, *, marginal: bool = False) -> list[Line]:
    """Give the lines that come once: programming, proving on the first piece, tools that must be bought.

    Parameters
    ----------
    basis
        The plan's steps.
    given
        Rates, prices, risks, series.
    marginal
        Count the marginal rate of the machine.
    """
    lines = [*_bought(basis, given)]
    if given.programmed:
        return lines
    effort = basis.operations.shop.effort
    cutting = [step.step.operation for step in basis.steps if step.on_machine and step.step.operation.cuts]
    teeth = sum(1 for operation in cutting if operation.action is Action.CUT_TEETH)
    others = len(cutting) - teeth
    minutes = given.effort_factor * (
        others * float(effort.programming) + teeth * float(effort.programming_teeth)
    )
    words = (
        f"({others}*{effort.programming.text} + {teeth}*{effort.programming_teeth.text})*"
        f"{shown(given.programming_hour, 2)}/h"
    )
    fact = _money(
        "programming",
        minutes * given.programming_hour / 60,
        words,
        given,
        "shop file, effort",
        given.effort_guessed,
    )
    lines.append(Line("programming", "series", fact))
    machine = given.time_factor * math.fsum(step.minutes for step in basis.steps if step.on_machine)
    extra = effort.first_piece * machine
    rate = given.marginal_machine_hour if marginal else given.machine_hour
    lines.append(Line("proving on the first piece", "series", _time("first piece", extra, rate, given, True)))
    loss = expected_loss(basis, given)
    more = (given.risks.first_piece - 1) * loss
    words = f"({shown(given.risks.first_piece, 1)} - 1)*{shown(loss, 2)}"
    lines.append(
        Line(
            "scrap risk of the first piece",
            "series",
            _money("scrap", more, words, given, "shop file, risks", True),
        )
    )
    return lines


def _bought(basis: Basis, given: Assumptions) -> list[Line]:
    lines = []
    for tool in tool_costs(basis, given):
        count = tool.sets(given.series)
        if count and tool.price:
            words = f"{count}*{shown(tool.price, 2)} for {shown(given.series, 0)} pieces, none is owned"
            fact = _money(tool.tool, count * tool.price, words, given, "shop file, tools", False)
            lines.append(Line(f"tool {tool.tool}", "series", fact))
    return lines


def _fixtures(basis: Basis, given: Assumptions) -> list[Line]:
    """Clamping means with a price are bought or made for a new part."""
    if given.programmed:
        return []
    used = {step.step.alternative.clamping for step in basis.steps}
    means = {
        each.means.name: each.means
        for each in basis.operations.clampings
        if each.name in used and each.means.price
    }
    return [
        Line(
            f"clamping means {name}",
            "series",
            Fact(name, item.price, given.currency, "", "shop file, clamping means"),
        )
        for name, item in means.items()
    ]


def _sent_out(basis: Basis, given: Assumptions) -> list[Line]:
    """What a quotation in the route costs beside its price of a piece."""
    found = {quote: None for step in basis.steps if (quote := quote_of(basis.operations, step)) is not None}
    lines = []
    for quote in found:
        per_lot = (quote.per_lot + quote.freight) * given.outside_factor
        words = f"set-up {shown(quote.per_lot, 2)} + freight {shown(quote.freight, 2)}"
        source = f"part file, quotation {quote.source}"
        if per_lot:
            fact = _money(quote.work, per_lot, words, given, source, False)
            lines.append(Line(f"set-up and freight of {quote.work} outside", "lot", fact))
        if quote.one_off:
            once = quote.one_off * given.outside_factor
            fact = Fact(quote.work, once, given.currency, "", source)
            lines.append(Line(f"tools for {quote.work} outside", "series", fact))
    return lines
