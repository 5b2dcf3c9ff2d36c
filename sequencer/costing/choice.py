"""Make or buy: one tooth system or the whole part, here against a quotation."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from sequencer.costing.account import Account, Basis, Line, tool_costs, values_so_far
from sequencer.costing.assumptions import Assumptions
from sequencer.costing.break_even import BreakEven, break_even
from sequencer.costing.days import buy_days, late_words, make_days, obstacles
from sequencer.costing.lines import piece_lines, series_lines, whole_account
from sequencer.costing.subjects import WHOLE_PART, Subject
from sequencer.operations import Action, Fact
from sequencer.part import Quote
from sequencer.units import shown


@dataclass(frozen=True)
class Choice:
    """Make and buy of one subject side by side.

    Parameters
    ----------
    subject
        Name of the tooth system, or "whole part".
    method
        How it is made here.
    make
        Account of making it here: what falls away when it is bought.
    buy
        Account of buying it; None without a quotation.
    quote
        The quotation; None without one.
    make_days, buy_days
        Days until the lot is ready, tools and transit included.
    break_even
        Pieces of a lot from which making is cheaper; None where there is no such lot.
    break_even_words
        What holds for which lots, in words.
    flip_price
        Price of a piece at which the answer changes.
    curve
        Lot, cost of a piece made, cost of a piece bought.
    obstacles
        Why buying is no choice, whatever it costs.
    late
        Why making is no choice: the due date; empty if it is in time.
    """

    subject: str
    method: str
    make: Account
    buy: Account | None
    quote: Quote | None
    make_days: Fact
    buy_days: Fact | None
    break_even: Fact | None
    break_even_words: str
    flip_price: Fact
    curve: tuple[tuple[int, float, float], ...]
    obstacles: tuple[str, ...]
    late: str = ""

    @property
    def saved(self) -> float:
        """What making saves on each piece of this lot; below 0 where buying is cheaper."""
        return self.buy.per_piece - self.make.per_piece if self.buy is not None else 0.0

    @property
    def verdict(self) -> str:
        """What is cheaper, or that it is not priced: "make", "buy" or "not priced"."""
        if self.buy is None:
            return "not priced"
        if self.obstacles:
            return "make"
        return "buy" if self.late or self.saved < 0 else "make"

    @property
    def sentence(self) -> str:
        """The answer in one sentence."""
        currency = self.make.currency
        here = f"{self.subject}: made here ({self.method}) {shown(self.make.per_piece, 2)} {currency} a piece"
        if self.buy is None or self.quote is None:
            limit = shown(self.flip_price.value, 2)
            return f"{here}; bought: not priced; buying pays below {limit} {currency} a piece, all included"
        text = f"{here}, bought {shown(self.buy.per_piece, 2)} {currency} ({self.quote.source})"
        if self.obstacles:
            return f"{text}; buying is no choice: {'; '.join(self.obstacles)}"
        if self.late:
            return f"{text}: buy it, {self.late}"
        words = "make it here" if self.verdict == "make" else "buy it"
        if self.flip_price.value <= 0:
            return f"{text}: {words}; freight and handling alone cost more, whatever the price"
        return f"{text}: {words}; flips at a price of {shown(self.flip_price.value, 2)} {currency}"


def make_account(basis: Basis, subject: Subject, given: Assumptions) -> Account:
    """Give what falls away when a subject is bought.

    Source: comparison of incremental costs; common practice, no source

    Parameters
    ----------
    basis
        The plan's steps.
    subject
        What is decided on.
    given
        Rates, prices, risks, lot.
    """
    if subject.name == WHOLE_PART:
        return whole_account(basis, given, marginal=True)
    here = basis.only(subject.steps)
    value = _value_before(basis, subject, given)
    lines = [
        *piece_lines(here, replace(given, blank=value), marginal=True),
        _tools_loaded(basis, subject, given),
        *_clampings_set_up(basis, subject, given),
    ]
    lines += series_lines(here, replace(given, blank=value), marginal=True)
    return Account(tuple(lines), given.lot, given.series, given.currency)


def _value_before(basis: Basis, subject: Subject, given: Assumptions) -> float:
    """Value of a piece when the first step of a subject begins."""
    first = min(subject.steps)
    before = [value for number, value, _ in values_so_far(basis, given) if number < first]
    return before[-1] if before else given.blank or 0.0


def _tools_loaded(basis: Basis, subject: Subject, given: Assumptions) -> Line:
    """Tools that no other step uses need not be loaded."""
    others = {
        step.step.alternative.tool for step in basis.steps if step.step.number not in subject.steps
    } | set(basis.operations.shop.magazine.residents)
    own = [tool.tool for tool in tool_costs(basis.only(subject.steps), given) if tool.tool not in others]
    one = float(basis.operations.shop.effort.load_tool) * given.effort_factor
    minutes = len(own) * one
    value = minutes * given.setup_hour / 60
    words = (
        f"{len(own)} tools*{shown(one, 1)} min*{shown(given.setup_hour, 2)}/60 = {shown(value, 2)} "
        f"{given.currency}"
    )
    guess = "load_tool" not in basis.operations.shop.effort.model_fields_set
    return Line(
        "loading its tools", "lot", Fact("tools", value, given.currency, words, "shop file, effort", guess)
    )


def _clampings_set_up(basis: Basis, subject: Subject, given: Assumptions) -> list[Line]:
    """Clampings that fall away need not be set up for the lot."""
    if not subject.clampings:
        return []
    effort = basis.operations.shop.effort
    one = float(effort.set_up_clamping) * given.effort_factor
    value = len(subject.clampings) * one * given.setup_hour / 60
    words = (
        f"{', '.join(subject.clampings)}: {len(subject.clampings)} clampings*{shown(one, 1)} min*"
        f"{shown(given.setup_hour, 2)}/60 = {shown(value, 2)} {given.currency}"
    )
    guess = "set_up_clamping" not in effort.model_fields_set
    fact = Fact("clampings", value, given.currency, words, "shop file, effort", guess)
    return [Line("setting up its clampings", "lot", fact)]


def buy_account(basis: Basis, subject: Subject, quote: Quote, given: Assumptions) -> Account:
    """Give what buying a subject costs, all included.

    Source: price, freight, transit loss, incoming inspection and handling; common practice, no source

    Parameters
    ----------
    basis
        The plan's steps.
    subject
        What is decided on.
    quote
        The quotation.
    given
        Rates, prices, risks, lot.
    """
    currency, f = given.currency, given.outside_factor
    where = f"part file, quotation {quote.source}"
    times = basis.operations.shop.machine.times
    check = float(quote.incoming_inspection if quote.incoming_inspection is not None else times.receive)
    inspected = check * given.inspection_hour / 60
    price = quote.price * f
    stake = price + (_value_before(basis, subject, given) if subject.name != WHOLE_PART else 0.0)
    share = _loss(subject, quote, given)
    lines = [
        Line("price", "piece", Fact("price", price, currency, "", where)),
        Line(
            "incoming inspection",
            "piece",
            Fact(
                "inspection",
                inspected,
                currency,
                f"t r/60 = {shown(check, 1)} min*{shown(given.inspection_hour, 2)}/60 = "
                f"{shown(inspected, 2)}",
                where if quote.incoming_inspection is not None else "shop file, time at receipt",
                quote.incoming_inspection is None,
            ),
        ),
        Line(
            "loss on the way",
            "piece",
            Fact(
                "loss",
                share * stake,
                currency,
                f"p (V + price) = {shown(share, 4)}*{shown(stake, 2)} = {shown(share * stake, 2)}",
                where if quote.loss else "shop file, risks",
                not quote.loss,
            ),
        ),
    ]
    if subject.name == WHOLE_PART and not quote.includes_blank and given.blank is not None:
        words, guess = given.blank_words, given.blank_guessed
        lines.append(
            Line("blank", "piece", Fact("blank", given.blank, currency, words, "part and shop file", guess))
        )
    if subject.after:
        minutes = float(times.clamp) + float(times.indicate)
        value = minutes * given.marginal_machine_hour / 60
        words = (
            f"{subject.after} must follow on the machine: clamp and indicate {shown(minutes, 1)} min*"
            f"{shown(given.marginal_machine_hour, 2)}/60 = {shown(value, 2)}"
        )
        lines.append(
            Line("one more clamping", "piece", Fact("clamping", value, currency, words, "derived", True))
        )
    per_lot = (quote.per_lot + quote.freight) * f
    if per_lot:
        words = f"set-up {shown(quote.per_lot, 2)} + freight {shown(quote.freight, 2)}"
        lines.append(
            Line("set-up there and freight", "lot", Fact("per lot", per_lot, currency, words, where))
        )
    if quote.one_off:
        lines.append(Line("tools there", "series", Fact("one-off", quote.one_off * f, currency, "", where)))
    return Account(tuple(lines), given.lot, given.series, currency)


def _loss(subject: Subject, quote: Quote, given: Assumptions) -> float:
    """Share of pieces lost on the way; a whole part that is lost is replaced by who sells it."""
    share = quote.loss or (given.risks.outside if subject.name != WHOLE_PART else 0.0)
    return share * given.risk_factor


def choose(basis: Basis, subject: Subject, quote: Quote | None, given: Assumptions) -> Choice:
    """Set making and buying side by side.

    Parameters
    ----------
    basis
        The plan's steps.
    subject
        What is decided on.
    quote
        The quotation; None if there is none.
    given
        Rates, prices, risks, lot.
    """
    make = make_account(basis, subject, given)
    method = _method(basis, subject)
    days = make_days(basis, subject.steps, given, whole=subject.name == WHOLE_PART)
    if quote is None:
        flip = replace(make.total, name="price at which buying pays, all included")
        words = "not priced: no quotation"
        late = late_words(basis, days)
        return Choice(subject.name, method, make, None, None, days, None, None, words, flip, (), (), late)
    buy = buy_account(basis, subject, quote, given)
    even = _even(make, buy, given)
    fact = None
    if even.pieces is not None:
        fact = Fact("break-even lot", even.pieces, "", even.words, "derived", True)
    back = buy_days(quote)
    return Choice(
        subject.name,
        method,
        make,
        buy,
        quote,
        days,
        back,
        fact,
        even.words,
        _flip(make, buy, quote, given, _loss(subject, quote, given)),
        _curve(basis, subject, quote, given),
        obstacles(basis, subject.name, quote, back),
        late_words(basis, days),
    )


def _even(make: Account, buy: Account, given: Assumptions) -> BreakEven:
    """One-off costs lie on this lot, unless a series is given that carries them."""
    if given.series > given.lot:
        once = (make.sum("series") / given.series, buy.sum("series") / given.series)
        return break_even(
            make.sum("lot"), make.sum("piece") + once[0], buy.sum("lot"), buy.sum("piece") + once[1]
        )
    fixed = (make.sum("lot") + make.sum("series"), buy.sum("lot") + buy.sum("series"))
    return break_even(fixed[0], make.sum("piece"), fixed[1], buy.sum("piece"))


def _flip(make: Account, buy: Account, quote: Quote, given: Assumptions, share: float) -> Fact:
    """Price of a piece at which both cost the same; a lost piece loses its price too."""
    difference = make.per_piece - buy.per_piece
    value = quote.price * given.outside_factor + difference / (1 + share)
    words = (
        f"p + (make - buy)/(1 + loss) = {shown(quote.price * given.outside_factor, 2)} + "
        f"({shown(make.per_piece, 2)} - {shown(buy.per_piece, 2)})/{shown(1 + share, 4)} = {shown(value, 2)}"
    )
    return Fact("price at which the answer flips", value, given.currency, words, "derived", True)


#: Lots of the curve beside the lot itself.
CURVE_LOTS: Final = (1, 2, 3, 5, 8, 12, 20, 30, 50, 80, 120, 200)


def _curve(
    basis: Basis, subject: Subject, quote: Quote, given: Assumptions
) -> tuple[tuple[int, float, float], ...]:
    """Cost of a piece by lot, with the steps that further tool sets make."""
    points = []
    for lot in sorted({*CURVE_LOTS, round(given.lot)}):
        series = max(given.series, lot) if given.series > given.lot else lot
        here = replace(given, lot=float(lot), series=float(series))
        make, buy = make_account(basis, subject, here), buy_account(basis, subject, quote, here)
        points.append((lot, make.per_piece, buy.per_piece))
    return tuple(points)


def _method(basis: Basis, subject: Subject) -> str:
    if subject.name == WHOLE_PART:
        return f"{basis.operations.shop.machine.name}"
    methods = dict.fromkeys(
        step.step.alternative.method
        for step in basis.only(subject.steps).steps
        if step.step.operation.action is Action.CUT_TEETH
    )
    return ", ".join(methods)
