"""Diving for some order: it finds one where one exists, and says so where none does."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.dives import Diver
from sequencer.ordering.model import Contradiction, build_model
from sequencer.ordering.problem import LEXICOGRAPHIC, Alternative, Problem
from sequencer.ordering.scale import scale_of
from sequencer.ordering.search import Space, beam
from sequencer.ordering.slots import settlements
from sequencer.ordering.solve import solve
from sequencer.ordering.tool_groups import NEVER
from sequencer.ordering.upper_levels import order_of
from tests.unit.ordering.random_problems import enumerate_all, random_problem

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from shipped_parts import repeated


def _divers(problem: Problem) -> list[Diver]:
    scale = scale_of(problem, LEXICOGRAPHIC)
    divers: list[Diver] = []
    for slots in settlements(problem):
        try:
            model = build_model(problem, scale, slots)
        except Contradiction:
            continue
        divers.append(Diver(Space(model, with_magazine=problem.capacity >= 0), len(divers)))
    return divers


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=120)
def test_it_finds_an_order_exactly_where_one_exists(seed: int) -> None:
    problem = random_problem(seed, largest=5, stress=0.6)
    divers = _divers(problem)
    plans = [diver.find(20_000, lambda: False) for diver in divers]
    found = [plan for plan in plans if plan is not None]
    assert bool(found) == (enumerate_all(problem, LEXICOGRAPHIC) is not None)
    assert all(diver.exhausted or plan is not None for diver, plan in zip(divers, plans, strict=True))
    for plan in found:
        order, choice = order_of(problem, plan)
        values = evaluate(problem, order, choice).values(LEXICOGRAPHIC)
        assert check(problem, order, choice) == ()
        assert scale_of(problem, LEXICOGRAPHIC).joined(values) == plan.cost


@pytest.mark.parametrize(("name", "size"), [("bridge_wheel", 84), ("mill_ring_inch", 150)])
def test_a_part_in_which_the_beam_ends_has_an_order(name: str, size: int) -> None:
    problem = repeated(name, size)
    diver = _divers(problem)[0]
    assert beam(diver.space, 0, 4, NEVER, lambda: False)[0] is None
    plan = diver.find(20_000, lambda: False)
    assert plan is not None
    assert check(problem, *order_of(problem, plan)) == ()


def test_even_a_search_without_time_gives_an_order() -> None:
    found = solve(repeated("bridge_wheel", 84), objective=LEXICOGRAPHIC, seconds=0.0)
    assert found.status == "between bounds"
    assert len(found.order) == 85


def _knotted(groups: int) -> Problem:
    """Pairs in one clamping visit, each pair opened by work elsewhere, with work kept from between."""
    ways = {0: Alternative(0, 0, 0, 3), 1: Alternative(1, 1, 0, 3)}
    size = 4 * groups
    pairs = [(4 * n, 4 * n + 2) for n in range(groups)]
    return Problem(
        operations=tuple((ways[op % 2],) if op % 4 < 2 else (ways[0], ways[1]) for op in range(size)),
        before=tuple((4 * n + 1, 4 * n + 2) for n in range(groups)),
        same_clamping=tuple(pairs),
        not_between=tuple((a, b, (b + 4) % size) for a, b in pairs),
        immediately_after=tuple((b, b + 1) for _, b in pairs),
        clamping_change=((0, 9), (9, 0)),
        tool_change=(1, 1),
        mode_change=((0,),),
    )


@pytest.mark.parametrize("groups", [2, 6, 10])
def test_knots_of_clamping_visits_have_an_order(groups: int) -> None:
    problem = _knotted(groups)
    plan = _divers(problem)[0].find(50_000, lambda: False)
    assert plan is not None
    assert check(problem, *order_of(problem, plan)) == ()
