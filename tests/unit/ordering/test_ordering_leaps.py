"""Changes counted visit by visit: a bound always, and the exact answer where nothing was left out."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.layered import Layers
from sequencer.ordering.leaps import Changes, Leaps, relaxed
from sequencer.ordering.model import Contradiction, Model, build_model
from sequencer.ordering.problem import LEXICOGRAPHIC, Level, Objective, Problem
from sequencer.ordering.scale import Scale, scale_of
from sequencer.ordering.search import Space
from sequencer.ordering.slots import settlements
from sequencer.ordering.tool_groups import NEVER
from sequencer.ordering.upper_levels import order_of

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from gear_parts import first_operations, gear_part
from random_problems import enumerate_all, random_problem

CHANGES = LEXICOGRAPHIC[:3]
WEIGHED: Objective = (
    Level("changes", (("tools", 3), ("modes", 2))),
    Level("clampings", (("clampings", 1),)),
)
OBJECTIVES = {"one after the other": CHANGES, "weighed": WEIGHED}
WIDE = 10**5


def _models(problem: Problem, scale: Scale) -> list[Model]:
    models = []
    for slots in settlements(problem):
        try:
            models.append(build_model(problem, scale, slots))
        except Contradiction:
            continue
    return models


def _run(model: Model, scale: Scale, width: int) -> Changes:
    space = Space(relaxed(model), with_magazine=False)
    if space.root >= NEVER:
        return Changes(None, NEVER, 0)
    outcome = Leaps(space, 0).run(width, scale.largest + 1, lambda: False, lambda _: None)
    assert outcome is not None
    return outcome


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@given(seed=st.integers(0, 10**9), stress=st.sampled_from([0.1, 0.35]), width=st.sampled_from([1, 3, WIDE]))
@settings(deadline=None, derandomize=True, max_examples=100)
def test_no_order_costs_less_than_the_bound(
    objective: Objective, seed: int, stress: float, width: int
) -> None:
    problem = random_problem(seed, largest=5, stress=stress)
    scale = scale_of(problem, objective)
    lowest = min((_run(model, scale, width).bound for model in _models(problem, scale)), default=NEVER)
    value = enumerate_all(problem, objective)
    assert value is None or lowest <= scale.joined(value)


@pytest.mark.parametrize("objective", OBJECTIVES.values(), ids=OBJECTIVES)
@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=120)
def test_it_is_exact_for_precedence_groups_and_changes(objective: Objective, seed: int) -> None:
    drawn = random_problem(seed, largest=6, stress=0.0)
    grouped = random_problem(seed, largest=6, stress=0.8)
    pairs = tuple(pair for pair in grouped.same_clamping if max(pair) < drawn.size)
    problem = replace(drawn, same_clamping=pairs, capacity=-1, tool_weight=())
    scale = scale_of(problem, objective)
    value = enumerate_all(problem, objective)
    models = _models(problem, scale)
    if value is None:
        assert all(_run(model, scale, WIDE).plan is None for model in models)
        return
    outcome = _run(models[0], scale, WIDE)
    assert outcome.plan is not None
    order, choice = order_of(problem, outcome.plan)
    assert check(problem, order, choice) == ()
    assert evaluate(problem, order, choice).values(objective) == scale.split(outcome.plan.cost) == value
    assert outcome.bound == outcome.plan.cost


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("layered", [0.0, 0.5])
def test_it_agrees_with_the_program_that_goes_step_by_step(seed: int, layered: float) -> None:
    part = first_operations(gear_part(30, seed, 2 + seed % 2, layered), 22)
    problem = replace(part, same_zero=(), immediately_after=(), re_references=())
    scale = scale_of(problem, CHANGES)
    (model,) = _models(problem, scale)
    outcome = _run(model, scale, WIDE)
    space = Space(model, with_magazine=False)
    step_by_step = Layers(space, 0).run(WIDE, scale.largest + 1, lambda: False, lambda _: None)
    assert outcome.bound == step_by_step.bound
    assert outcome.plan is not None
    assert step_by_step.plan is not None
    assert outcome.plan.cost == step_by_step.plan.cost
