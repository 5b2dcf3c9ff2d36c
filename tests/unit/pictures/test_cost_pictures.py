"""Cost bars, break-even line, tornado and value-at-risk curve: all numbers there, words clear."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from clear_words import check_words
from example_plan import example_plan
from hypothesis import given, settings
from hypothesis import strategies as st
from planned_parts import planned

from sequencer.pictures.charts import money, round_step, ticks
from sequencer.pictures.cost_bars import OTHER, cost_bars, group_of, shares
from sequencer.pictures.cost_charts import break_even_line, tornado, value_at_risk
from sequencer.plan import Plan

PICTURES = (cost_bars, break_even_line, tornado, value_at_risk)
PARTS = ("bridge_wheel", "press_sleeve", "mill_ring_inch")


@pytest.mark.parametrize("draw", PICTURES)
@pytest.mark.parametrize("name", PARTS)
def test_words_are_clear_and_bytes_the_same(
    parts_folder: Path, name: str, draw: Callable[[Plan], str]
) -> None:
    plan = planned(parts_folder, name)
    check_words(draw(plan))
    assert draw(plan) == draw(plan)


@pytest.mark.parametrize("draw", PICTURES)
def test_a_plan_without_quotations_has_pictures_too(draw: Callable[[Plan], str]) -> None:
    check_words(draw(example_plan()))


@pytest.mark.parametrize("name", PARTS)
def test_the_groups_of_a_bar_add_up_to_the_cost_of_a_piece(parts_folder: Path, name: str) -> None:
    for choice in planned(parts_folder, name).costing.choices:
        for account in (choice.make, choice.buy):
            if account is not None:
                assert math.fsum(shares(account).values()) == pytest.approx(account.per_piece)
                assert OTHER not in shares(account)


def test_a_line_goes_to_the_group_with_the_longest_beginning() -> None:
    assert group_of("set-up") == "set-up"
    assert group_of("set-up there and freight") == "bought outside"
    assert group_of("tool T59") == "tools and clamping means"
    assert group_of("tools for teeth outside") == "bought outside"
    assert group_of("something new") == OTHER


def test_each_driver_stands_with_both_ends(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    words = {each.text for each in check_words(tornado(plan))}
    for panel in plan.costing.tornadoes:
        assert f"{panel.subject}: now {money(panel.now)}" in words
        for driver in panel.drivers:
            assert driver.name in words
            for value in (driver.at_low, driver.at_high):
                assert money(value) in words or value == pytest.approx(panel.now)


def test_this_lot_is_marked_with_both_costs(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    words = {each.text for each in check_words(break_even_line(plan))}
    for choice in plan.costing.choices:
        if choice.buy is not None:
            both = f"made {money(choice.make.per_piece)}, bought {money(choice.buy.per_piece)}"
            assert f"this lot of {plan.part.lot}: {both}" in words


def test_a_lot_of_one_is_drawn(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    single = replace(plan, part=plan.part.model_copy(update={"lot": 1}))
    check_words(break_even_line(single))


@given(st.floats(-1e4, 1e4), st.floats(0.01, 1e5), st.floats(15, 200))
@settings(deadline=None, derandomize=True)
def test_ticks_lie_inside_and_are_not_too_near(low: float, span: float, length: float) -> None:
    found = ticks(low, low + span, length)
    assert all(low - 1e-6 * span <= each <= low + span * (1 + 1e-6) for each in found)
    assert all((b - a) * length / span > 12.9 for a, b in pairwise(found))


@pytest.mark.parametrize(("least", "step"), [(0.7, 1.0), (1.0, 1.0), (1.2, 2.0), (2.1, 5.0), (51.0, 100.0)])
def test_steps_are_one_two_or_five(least: float, step: float) -> None:
    assert round_step(least) == pytest.approx(step)
