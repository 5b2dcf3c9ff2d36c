"""Parts made from the shipped ones by leaving features out or repeating them."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from sequencer.ordering.problem import LEXICOGRAPHIC
from sequencer.ordering.solve import solve

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from shipped_parts import repeated, shipped_names, shipped_problem


@pytest.mark.parametrize("name", shipped_names())
@pytest.mark.parametrize("size", [20, 60])
def test_it_has_about_the_size_asked_for_and_the_rules_of_the_part(name: str, size: int) -> None:
    problem, whole = repeated(name, size), shipped_problem(name)[0]
    assert size <= problem.size <= size + 8 or problem.size < size <= whole.size
    more = problem.size > whole.size
    assert (len(problem.before) > len(whole.before)) == more
    assert (len(problem.tool_change) > len(whole.tool_change)) <= more


@pytest.mark.parametrize("name", shipped_names())
def test_thirty_operations_of_it_are_proven(name: str) -> None:
    assert solve(repeated(name, 30), objective=LEXICOGRAPHIC).proven
