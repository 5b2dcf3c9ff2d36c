"""Plain chains: exchanges keep every arrow, cost what the checker says, and come near the proven order."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.chain import good_order, is_chain
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.model import build_model
from sequencer.ordering.problem import TOTAL_TIME, Alternative, Problem
from sequencer.ordering.result import Progress
from sequencer.ordering.scale import scale_of
from sequencer.ordering.search import Plan, Space
from sequencer.ordering.solve import solve


def _chain(seed: int, size: int, density: float) -> Problem:
    rnd = random.Random(seed)
    order = rnd.sample(range(size), size)
    tools, clampings = rnd.randint(1, 3), rnd.randint(1, 2)
    return Problem(
        operations=tuple(
            (Alternative(rnd.randrange(tools), rnd.randrange(clampings), 0, rnd.randint(0, 5), op),)
            for op in range(size)
        ),
        before=tuple((a, b) for at, a in enumerate(order) for b in order[at + 1 :] if rnd.random() < density),
        tool_change=tuple(rnd.randint(0, 30) for _ in range(tools)),
        clamping_change=tuple(tuple(40 * (a != b) for b in range(clampings)) for a in range(clampings)),
        positioning=tuple(tuple(rnd.randint(0, 99) * (a != b) for b in range(size)) for a in range(size)),
        home_positioning=tuple(rnd.randint(0, 20) for _ in range(size)),
    )


def _space(problem: Problem) -> Space:
    slots = tuple((op,) for op in range(problem.size))
    return Space(build_model(problem, scale_of(problem, TOTAL_TIME), slots), with_magazine=False)


def _annealed(problem: Problem, start: Plan | None = None) -> Plan:
    return good_order(_space(problem), start, lambda: False, lambda _: None, rounds=4)


@given(seed=st.integers(0, 10**9), size=st.integers(1, 9), density=st.sampled_from([0.0, 0.1, 0.4]))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_the_order_is_allowed_and_costs_what_is_said(seed: int, size: int, density: float) -> None:
    problem = _chain(seed, size, density)
    plan = _annealed(problem)
    order = [op for op, _ in plan.steps]
    assert check(problem, order, [0] * size) == ()
    assert evaluate(problem, order, [0] * size).time == plan.cost
    best = solve(problem, objective=TOTAL_TIME)
    assert best.proven
    assert plan.cost == best.levels[0].value


def test_the_same_chain_gives_the_same_order_and_none_worse_than_the_start() -> None:
    problem = _chain(3, 25, 0.1)
    first = _annealed(problem)
    assert first == _annealed(problem)
    assert _annealed(problem, first).cost <= first.cost


def test_a_search_takes_the_order_of_the_exchanges() -> None:
    """Two dozen operations hardly in order: far too many for the proof, so the value comes from exchanges."""
    problem = _chain(1, 24, 0.02)
    heard: list[Progress] = []
    result = solve(problem, objective=TOTAL_TIME, state_limit=12_500, on_progress=heard.append)
    assert "improving by exchanges" in {one.phase for one in heard}
    assert result.levels[0].value <= _annealed(problem).cost
    assert result.levels[0].bound < result.levels[0].value


@pytest.mark.parametrize(
    "changes",
    [
        {"immediately_after": ((0, 1),)},
        {"soft_before": ((0, 1, 5),)},
        {"same_clamping": ((0, 1),)},
        {"not_same_clamping": ((0, 1),)},
        {"pinned": ((0, 1),)},
        {"single_visit": (0,)},
        {"minimum_wait": ((0, 1, 5),)},
        {"not_between": ((0, 1, 2),)},
        {"forbidden_neighbours": ((0, 1),)},
        {"operations": ((Alternative(-1, 0, 0, 1, 0),),) + ((Alternative(0, 0, 0, 1, 0),),) * 4},
        {"operations": ((Alternative(0, 0, 0, 1, 0), Alternative(1, 0, 0, 9, 0)),) * 5},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_what_else_matters_makes_it_no_chain(changes: dict[str, object]) -> None:
    operations = tuple((Alternative(op % 2, 0, 0, 1, op),) for op in range(5))
    table = tuple(tuple(abs(a - b) for b in range(5)) for a in range(5))
    problem = Problem(operations, tool_change=(3, 3), positioning=table)
    assert is_chain(_space(problem).model)
    changed = replace(problem, **changes)  # type: ignore[arg-type]
    assert not is_chain(_space(changed).model)
