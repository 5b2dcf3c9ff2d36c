"""A constraint-programming model of the same problems, written apart, as a second opinion."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Objective
from sequencer.ordering.solve import solve

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from circuit import solved, without_extras
from gear_parts import gear_part


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("objective", [TOTAL_TIME, LEXICOGRAPHIC], ids=["total time", "lexicographic"])
def test_constraint_programming_finds_the_same_values(seed: int, objective: Objective) -> None:
    problem = without_extras(gear_part(24, seed, 2), 14)
    result = solve(problem, objective=objective)
    other = solved(problem, objective)
    assert result.proven
    assert other.proven
    assert tuple(level.value for level in result.levels) == other.values
