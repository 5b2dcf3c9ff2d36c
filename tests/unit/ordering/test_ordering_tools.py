"""The lightest set of tools, and what the magazine does to an order."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import combinations

import pytest

from sequencer.ordering.check import check
from sequencer.ordering.model import build_model
from sequencer.ordering.problem import TOTAL_TIME, Alternative, Constraint, Problem
from sequencer.ordering.scale import scale_of
from sequencer.ordering.solve import solve
from sequencer.ordering.tool_choice import lightest_tools


def _random(seed: int) -> Problem:
    rnd = random.Random(seed)
    tools = 6
    operations = tuple(
        tuple(
            Alternative(tool, 0, 0, rnd.randint(1, 9)) for tool in rnd.sample(range(tools), rnd.randint(1, 3))
        )
        for _ in range(7)
    )
    weights = tuple(rnd.randint(0, 3) for _ in range(tools))
    return Problem(operations, tool_change=(2,) * tools, tool_weight=weights, capacity=rnd.randint(3, 7))


def _lightest_by_trying(problem: Problem) -> int:
    tools = range(len(problem.tool_change))
    return min(
        sum(problem.weight_of_tool(tool) for tool in taken)
        for count in range(len(problem.tool_change) + 1)
        for taken in combinations(tools, count)
        if all(any(way.tool in taken for way in ways) for ways in problem.operations)
    )


@pytest.mark.parametrize("seed", range(40))
def test_no_lighter_set_of_tools_serves_every_operation(seed: int) -> None:
    problem = _random(seed)
    model = build_model(problem, scale_of(problem, TOTAL_TIME), tuple((op,) for op in range(problem.size)))
    tools, weight, sure = lightest_tools(model)
    assert sure
    assert weight == _lightest_by_trying(problem)
    assert all(any(tools >> way.tool & 1 for way in ways) for ways in problem.operations)
    result = solve(problem, objective=TOTAL_TIME)
    if weight > problem.capacity:
        assert result.conflict == (Constraint("capacity", 0),)
    else:
        assert result.proven
        assert check(problem, result.order, result.choice) == ()
        assert (
            result.levels[0].value
            >= solve(replace(problem, capacity=-1), objective=TOTAL_TIME).levels[0].value
        )
