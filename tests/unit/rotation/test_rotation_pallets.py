"""Pallets and dates, worked out by hand."""

from __future__ import annotations

import datetime
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.rotation.calendar import day_of, late_limits, working_day
from sequencer.rotation.pallets import Visit, lot_time
from sequencer.shop.clamp_times import clamp_minutes, release_minutes
from sequencer.shop.machine import Times
from sequencer.shop.money import WorkingTime
from sequencer.units import parse

MONDAY = datetime.date(2027, 4, 5)


def test_one_pallet_waits_for_every_set_up():
    """Three pieces of 30 + 100 min: 390 min, the table stands still for 90."""
    made = lot_time([Visit(30, 100, 0)], 3, 1, 5)
    assert (made.minutes, made.cutting, made.idle, made.presence) == (390, 300, 90, 90)
    assert made.alone == 100


def test_two_pallets_set_up_while_one_is_cut():
    """30 min, then three times 5 min exchange and 100 min: 345 min; two set-ups are hidden."""
    made = lot_time([Visit(30, 100, 0)], 3, 2, 5)
    assert (made.minutes, made.idle, made.presence) == (345, 45, 90)


def test_two_pallets_with_long_set_ups_wait_for_the_operator():
    """Set-up 100, cut 30: the operator is the neck: 3 x 100 + 5 + 30 = 335 min."""
    assert lot_time([Visit(100, 30, 0)], 3, 2, 5).minutes == 335


def test_second_clamping_begins_when_the_first_is_cut():
    """One piece, two clampings, two pallets, nothing hidden: 30 + 5 + 100 + 5 + 20 + 5 + 50 = 215 min."""
    assert lot_time([Visit(30, 100, 0), Visit(20, 50, 10)], 1, 2, 5).minutes == 215


visits = st.lists(
    st.builds(Visit, st.integers(1, 60), st.integers(1, 200), st.just(0)), min_size=1, max_size=3
)


@given(visits, st.integers(1, 6))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_pallets_never_beat_the_cutting_or_the_operator(clampings, lot):
    """Free exchanges: more pallets are never slower, and never quicker than either of the two alone."""
    times = [lot_time(clampings, lot, pallets, 0.0) for pallets in (1, 2, 3)]
    cut = lot * sum(visit.cut for visit in clampings)
    setup = lot * sum(visit.setup for visit in clampings)
    assert times[0].minutes == pytest.approx(cut + setup)
    assert all(after.minutes <= before.minutes + 1e-9 for before, after in pairwise(times))
    assert all(each.minutes >= max(cut, setup) for each in times)
    assert all(each.presence == pytest.approx(setup) for each in times)


def test_hydraulic_times_are_estimated_where_the_shop_says_nothing():
    """0.4 of 35 min and 0.2 of 12 min; given times win (common practice, no source)."""
    by_hand = {"clamp": parse("35 min", "time"), "release": parse("12 min", "time")}
    times = Times.model_construct(**by_hand)
    assert clamp_minutes(times, "manual") == 35
    assert clamp_minutes(times, "hydraulic") == pytest.approx(14)
    assert release_minutes(times, "hydraulic") == pytest.approx(2.4)
    given_times = Times.model_construct(**by_hand, hydraulic_clamp=parse("9 min", "time"))
    assert clamp_minutes(given_times, "hydraulic") == 9


@pytest.mark.parametrize(
    ("number", "days", "day"),
    [
        (0, 5, "2027-04-05"),
        (4, 5, "2027-04-09"),
        (5, 5, "2027-04-12"),
        (5, 6, "2027-04-10"),
        (7, 7, "2027-04-12"),
    ],
)
def test_working_days_leave_free_days_out(number, days, day):
    """From Monday 5 April 2027."""
    working = WorkingTime(hours_per_day=8, days_per_week=days)
    assert working_day(MONDAY, number, working).isoformat() == day


def test_a_day_ends_when_its_hours_are_over():
    """480 min are one day of 8 h; one minute more is the next day."""
    working = WorkingTime(hours_per_day=8, days_per_week=5)
    assert day_of(MONDAY, 480, working) == MONDAY
    assert day_of(MONDAY, 481, working) == MONDAY + datetime.timedelta(days=1)
    assert day_of(MONDAY, 5 * 480 + 1, working) == MONDAY + datetime.timedelta(days=7)


def test_late_limits_count_calendar_days():
    """Due on Friday: late after 5 x 480 min, by three days at once, since Monday is three days later."""
    limits = late_limits(MONDAY, MONDAY + datetime.timedelta(days=4), 0, WorkingTime())
    assert limits[:4] == (2400, 2400, 2400, 2880)
    assert late_limits(MONDAY, None, 0, WorkingTime()) == ()
