"""Days to make and to buy, and what dates and promises stand against each."""

from __future__ import annotations

import math
from typing import Final

from sequencer.costing.account import Basis, quote_of, tool_costs
from sequencer.costing.assumptions import Assumptions
from sequencer.operations import Fact
from sequencer.part import Quote
from sequencer.units import Minutes, shown

MINUTES_PER_DAY: Final = 1440.0


def make_days(basis: Basis, steps: frozenset[int], given: Assumptions, *, whole: bool) -> Fact:
    """Give the days until a lot is made: tools that must come first, the lot on the machine, time away.

    Source: derived

    Parameters
    ----------
    basis
        The plan's steps.
    steps
        Numbers of the steps that count.
    given
        Lot and factors.
    whole
        True for the whole part: set-up, first piece and time away count too.
    """
    working = basis.operations.shop.working_time
    here = basis.only(steps)
    minutes: Minutes = given.lot * given.time_factor * math.fsum(step.minutes for step in here.steps)
    if whole:
        minutes += basis.times.set_up_minutes.value + basis.times.first_extra.value
    wait, late = 0.0, ""
    for tool in tool_costs(here, given):
        if tool.bought:
            lead = float(basis.operations.shop.tool_by_name[tool.tool].lead_time) / MINUTES_PER_DAY
            wait, late = (lead, tool.tool) if lead > wait else (wait, late)
    work = minutes / 60 / working.hours_per_day * 7 / working.days_per_week
    away = days_away(basis) if whole else 0.0
    value = wait + work + away
    words = (
        f"{f'tool {late} ' if late else 'tools '}{shown(wait, 1)} d + {shown(minutes / 60, 1)} h/"
        f"{shown(working.hours_per_day, 1)} h*7/{shown(working.days_per_week, 1)}"
        + (f" + away {shown(away, 1)} d" if away else "")
        + f" = {shown(value, 1)} d"
    )
    guess = "hours_per_day" not in working.model_fields_set
    return Fact("days to make", value, "d", words, "shop file, working_time", guess)


def days_away(basis: Basis) -> float:
    """Give the days that a piece is away for work outside: as quoted, else as the plan assumes.

    What is sent out by one method in a row goes in one trip.

    Source: derived

    Parameters
    ----------
    basis
        The plan's steps.
    """
    trips: list[tuple[str, float]] = []
    for step in basis.steps:
        how, quote = step.step.alternative, quote_of(basis.operations, step)
        away = float(quote.transit) + float(quote.lead_time) if quote is not None else how.lead_time
        if away <= 0:
            trips.append(("", 0.0))
        elif trips and trips[-1][0] == how.method:
            trips[-1] = (how.method, max(trips[-1][1], away))
        else:
            trips.append((how.method, away))
    return math.fsum(away for _, away in trips) / MINUTES_PER_DAY


def buy_days(quote: Quote) -> Fact:
    """Give the days until a lot is back.

    Source: derived

    Parameters
    ----------
    quote
        The quotation.
    """
    transit, lead = float(quote.transit) / MINUTES_PER_DAY, float(quote.lead_time) / MINUTES_PER_DAY
    words = f"transit {shown(transit, 1)} d + there {shown(lead, 1)} d = {shown(transit + lead, 1)} d"
    return Fact("days to buy", transit + lead, "d", words, f"part file, quotation {quote.source}")


def late_words(basis: Basis, days: Fact) -> str:
    """Say that the lot is not made by its due date; empty if it is, or if no date is given.

    Parameters
    ----------
    basis
        The plan's steps.
    days
        Days until it is made.
    """
    part = basis.operations.part
    if part.due is None or part.order_date is None:
        return ""
    left = (part.due - part.order_date).days
    if days.value <= left:
        return ""
    return f"making takes {shown(days.value, 1)} d, the part is due after {left} d"


def obstacles(basis: Basis, subject: str, quote: Quote, days: Fact) -> tuple[str, ...]:
    """Say why a quotation is no choice whatever it costs: date, validity, class.

    Parameters
    ----------
    basis
        The plan's steps.
    subject
        What is decided on.
    quote
        The quotation.
    days
        Days until the lot is back.
    """
    part = basis.operations.part
    found = []
    if quote.valid_until and part.order_date and quote.valid_until < part.order_date:
        found.append(f"the quotation lapsed on {quote.valid_until}, the order is of {part.order_date}")
    if part.due and part.order_date and days.value > (left := (part.due - part.order_date).days):
        found.append(f"it takes {shown(days.value, 1)} d, the part is due after {left} d")
    wanted = getattr(part.by_name.get(subject), "flank_class", None)
    if wanted is not None and quote.flank_class is not None and quote.flank_class > wanted.number:
        found.append(f"class {quote.flank_class} is promised, the drawing asks for class {wanted.number}")
    return tuple(found)
