"""Working time on the calendar."""

from __future__ import annotations

import datetime
import math

from sequencer.shop.money import WorkingTime
from sequencer.units import Minutes

#: Days looked at beyond a due date.
_MOST_DAYS = 400


def working_day(start: datetime.date, number: int, working: WorkingTime) -> datetime.date:
    """Give a working day by its number; weeks begin on Monday, the last days of a week are free.

    Source: derived

    Parameters
    ----------
    start
        First day; if it is free, work begins on the next working day.
    number
        Working days after the first one [-].
    working
        Working time of the shop.
    """
    days_a_week = math.ceil(round(working.days_per_week, 9))
    day, left = start, number
    while day.weekday() >= days_a_week or left > 0:
        left -= day.weekday() < days_a_week
        day += datetime.timedelta(days=1)
    return day


def day_of(start: datetime.date, minutes: Minutes, working: WorkingTime) -> datetime.date:
    """Give the day on which some working time has passed.

    Source: derived

    Parameters
    ----------
    start
        First day.
    minutes
        Working time from the start [min].
    working
        Working time of the shop.
    """
    number = max(0, math.ceil(round(minutes / (60 * working.hours_per_day), 9)) - 1)
    return working_day(start, number, working)


def late_limits(
    start: datetime.date, due: datetime.date | None, away_days: int, working: WorkingTime
) -> tuple[Minutes, ...]:
    """Working times after which a part is late by one more day, rising [min].

    Source: derived

    Parameters
    ----------
    start
        First day.
    due
        Due date of the part; None for none.
    away_days
        Days that the part is away from the shop [d].
    working
        Working time of the shop.
    """
    if due is None:
        return ()
    limits: list[Minutes] = []
    for number in range(_MOST_DAYS):
        ready = working_day(start, number, working) + datetime.timedelta(days=away_days)
        late = (ready - due).days
        limits += [number * 60 * working.hours_per_day] * max(0, late - len(limits))
    return tuple(limits)
