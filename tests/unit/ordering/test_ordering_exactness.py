"""The search against full enumeration and against a plain program without bounds, on random problems."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Level, Objective, Problem
from sequencer.ordering.result import Result
from sequencer.ordering.solve import solve

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from gear_parts import first_operations, gear_part
from random_problems import enumerate_all, random_problem, with_groups
from uninformed import least

MIXED: Objective = (
    Level("cost", (("tools", 7), ("time", 2), ("penalty", 3))),
    Level("clampings", (("clampings", 1),)),
)
OBJECTIVES = {"lexicographic": LEXICOGRAPHIC, "total time": TOTAL_TIME, "mixed": MIXED}


def _values(result: Result) -> tuple[int, ...] | None:
    return tuple(level.value for level in result.levels) if result.order else None


def _holds(problem: Problem, objective: Objective, result: Result) -> bool:
    if not result.order:
        return result.status == "impossible"
    assert check(problem, result.order, result.choice) == ()
    assert evaluate(problem, result.order, result.choice).values(objective) == _values(result)
    assert all(level.bound == level.value and level.proven for level in result.levels)
    return result.status == "proven"


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@given(seed=st.integers(0, 10**9), stress=st.sampled_from([0.1, 0.2, 0.35]))
@settings(deadline=None, derandomize=True, max_examples=150)
def test_every_order_tried_gives_the_same_value(objective: Objective, seed: int, stress: float) -> None:
    problem = random_problem(seed, largest=5, stress=stress)
    result = solve(problem, objective=objective)
    assert _values(result) == enumerate_all(problem, objective)
    assert _holds(problem, objective, result)


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@given(seed=st.integers(0, 10**9), stress=st.sampled_from([0.0, 0.1, 0.2]))
@settings(deadline=None, derandomize=True, max_examples=150)
def test_groups_are_chosen_from_as_full_enumeration_does(
    objective: Objective, seed: int, stress: float
) -> None:
    problem = with_groups(random_problem(seed, largest=6, stress=stress), seed)
    result = solve(problem, objective=objective)
    assert _values(result) == enumerate_all(problem, objective)
    assert _holds(problem, objective, result)


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_a_program_without_bounds_gives_the_same_value(objective: Objective, seed: int) -> None:
    drawn = random_problem(seed, largest=9, stress=0.15)
    problem = replace(
        drawn,
        minimum_wait=(),
        capacity=-1,
        either_or=(),
        only_with=(),
        opens=(),
        closes=(),
        opens_for=(),
        closes_for=(),
        single_visit=(),
    )
    result = solve(problem, objective=objective)
    assert _values(result) == least(problem, objective)
    assert _holds(problem, objective, result)


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@pytest.mark.parametrize("seed", range(4))
def test_fourteen_operations_of_a_gear_part(objective: Objective, seed: int) -> None:
    problem = first_operations(gear_part(30, seed, 2 + seed % 2), 14)
    result = solve(problem, objective=objective)
    assert _values(result) == least(problem, objective)
    assert _holds(problem, objective, result)
