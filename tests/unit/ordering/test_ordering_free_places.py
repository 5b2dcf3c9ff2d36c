"""Operations that may stand elsewhere at no cost, against every single move tried."""

from __future__ import annotations

import sys
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.free_places import free_places
from sequencer.ordering.problem import Alternative, Problem
from sequencer.ordering.solve import solve

sys.path.insert(0, str(Path(__file__).parent))
from random_problems import random_problem


def test_equal_work_may_change_places_up_to_the_next_tool_change() -> None:
    """Two cuts with tool 0, one with tool 1 after the first: the second cut may go first, the third not."""
    ways = tuple((Alternative(tool, 0, 0, 5),) for tool in (0, 0, 1))
    problem = Problem(ways, before=((0, 2),), tool_change=(1, 1))
    assert free_places(problem, (0, 1, 2), (0, 0, 0)) == ((0, 0, 1), (1, 0, 1))


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=80)
def test_each_place_named_costs_nothing_and_the_next_one_does(seed: int) -> None:
    problem = random_problem(seed, largest=6, stress=0.2)
    result = solve(problem)
    if not result.order:
        return

    def allowed_at(op: int, goal: int) -> bool:
        rest = [one for one in result.order if one != op]
        moved = (*rest[:goal], op, *rest[goal:])
        new, old = (evaluate(problem, order, result.choice) for order in (moved, result.order))
        names = ("clampings", "tools", "modes", "time", "penalty")
        dearer = any(getattr(new, name) > getattr(old, name) for name in names)
        return not dearer and not check(problem, moved, result.choice)

    found = {op: (first, last) for op, first, last in free_places(problem, result.order, result.choice)}
    for place, op in enumerate(result.order):
        first, last = found.get(op, (place, place))
        assert first <= place <= last
        assert all(allowed_at(op, goal) for goal in range(first, last + 1))
        assert not (first > 0 and allowed_at(op, first - 1))
        assert not (last + 1 < len(result.order) and allowed_at(op, last + 1))
