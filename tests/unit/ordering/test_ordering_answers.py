"""What callers get: proven orders, honest bounds, explained conflicts, swaps and fixed orders."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import OutOfRange
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.explain import is_possible, with_constraints
from sequencer.ordering.fixed_order import best_choice
from sequencer.ordering.problem import LEXICOGRAPHIC, TOTAL_TIME, Alternative, Constraint, Problem
from sequencer.ordering.result import Progress
from sequencer.ordering.solve import solve
from sequencer.ordering.swaps import fewest_arcs_between, swap_cost

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from gear_parts import gear_part
from random_problems import enumerate_all, random_problem


def _chain(size: int) -> Problem:
    ways = tuple((Alternative(op % 2, 0, 0, 1),) for op in range(size))
    return Problem(ways, tool_change=(3, 3))


def test_a_problem_without_operations_is_done() -> None:
    result = solve(Problem(()))
    assert (result.order, result.status, [level.value for level in result.levels]) == (
        (),
        "proven",
        [0, 0, 0, 0],
    )


def test_tools_are_gathered() -> None:
    result = solve(_chain(6))
    assert result.proven
    assert [level.value for level in result.levels] == [0, 1, 0, 9]
    assert result.gap == 0


def test_the_two_objectives_can_disagree() -> None:
    fast_far = (Alternative(0, 1, 0, 1), Alternative(0, 0, 0, 100))
    problem = Problem(((Alternative(0, 0, 0, 1),), fast_far), clamping_change=((0, 9), (9, 0)))
    assert [level.value for level in solve(problem).levels] == [0, 0, 0, 101]
    assert [level.value for level in solve(problem, objective=TOTAL_TIME).levels] == [11]


@pytest.mark.parametrize("clampings", [2, 3])
@pytest.mark.parametrize("seed", range(3))
def test_gear_parts_of_twenty_are_proven(seed: int, clampings: int) -> None:
    problem = gear_part(20, seed, clampings)
    result = solve(problem)
    assert result.proven
    assert check(problem, result.order, result.choice) == ()
    total = solve(problem, objective=TOTAL_TIME)
    assert total.proven
    assert total.levels[0].value <= result.levels[3].value


def test_the_same_input_gives_the_same_answer() -> None:
    problem = gear_part(30, 5, 2)
    first, second = solve(problem), solve(problem)
    assert (first.order, first.choice, first.levels) == (second.order, second.choice, second.levels)


def test_a_search_cut_short_reports_a_bound_below_its_value() -> None:
    problem = gear_part(40, 0, 2)
    result = solve(problem, objective=TOTAL_TIME, state_limit=500)
    best = solve(problem, objective=TOTAL_TIME, state_limit=300)
    assert result.status == "between bounds"
    assert 0 < result.gap < 0.05
    assert result.levels[0].bound < result.levels[0].value
    assert result.ignored[0] == "positioning beyond the least way into each operation"
    assert best.levels[0].bound <= result.levels[0].value


def test_lower_levels_are_not_proven_when_an_upper_one_is_open() -> None:
    result = solve(gear_part(40, 1, 2), state_limit=60)
    proven = [level.proven for level in result.levels]
    assert proven == sorted(proven, reverse=True)
    assert not proven[-1]
    assert all(level.bound <= level.value for level in result.levels)


def test_stop_ends_the_search_at_once() -> None:
    result = solve(gear_part(40, 0, 2), objective=TOTAL_TIME, stop=lambda: True)
    assert result.status == "between bounds"
    assert result.states < 5000


def test_progress_is_told_in_order() -> None:
    heard: list[Progress] = []
    solve(gear_part(20, 0, 2), on_progress=heard.append)
    assert [one.phase for one in heard][:3] == ["reading", "improving", "proving"]
    assert heard[-1].phase == "done"
    assert [one.seconds for one in heard] == sorted(one.seconds for one in heard)


def test_a_loop_is_shown_as_a_loop() -> None:
    problem = replace(_chain(5), before=((0, 1), (1, 2), (2, 3), (2, 0)))
    result = solve(problem)
    assert result.status == "impossible"
    assert result.loop == (0, 1, 2)
    assert result.conflict == (Constraint("before", 0), Constraint("before", 1), Constraint("before", 3))


def test_a_conflict_is_reduced_to_what_is_needed() -> None:
    """Operations 0 and 2 share a visit, 1 must be between them but is held another way."""
    one, other = (Alternative(0, 0, 0, 1),), (Alternative(0, 1, 0, 1),)
    problem = Problem(
        (one, other, one, one),
        before=((3, 0), (0, 1), (1, 2)),
        clamping_change=((0, 1), (1, 0)),
        same_clamping=((0, 2), (0, 3)),
    )
    result = solve(problem)
    assert result.status == "impossible"
    assert result.smallest
    assert result.conflict == (
        Constraint("before", 1),
        Constraint("before", 2),
        Constraint("same_clamping", 0),
    )


def test_a_magazine_too_small_is_named() -> None:
    problem = replace(_chain(4), capacity=1)
    assert solve(problem).conflict == (Constraint("capacity", 0),)


def test_the_magazine_makes_a_slower_tool_the_better_one() -> None:
    special = (Alternative(1, 0, 0, 5), Alternative(0, 0, 0, 50))
    problem = Problem(((Alternative(0, 0, 0, 5),), special), tool_change=(1, 1))
    assert [level.value for level in solve(problem, objective=TOTAL_TIME).levels] == [11]
    tight = replace(problem, capacity=1)
    assert [level.value for level in solve(tight, objective=TOTAL_TIME).levels] == [55]


@given(seed=st.integers(0, 10**9))
@settings(deadline=None, derandomize=True, max_examples=80)
def test_each_constraint_of_a_conflict_is_needed(seed: int) -> None:
    problem = random_problem(seed, largest=5, stress=0.5)
    result = solve(problem)
    assert (is_possible(problem) is False) == (result.status == "impossible")
    if result.status == "impossible":
        assert enumerate_all(with_constraints(problem, result.conflict), TOTAL_TIME) is None
        for spared in result.conflict:
            fewer = [one for one in result.conflict if one != spared]
            assert enumerate_all(with_constraints(problem, fewer), TOTAL_TIME) is not None


def test_one_of_two_methods_is_chosen_with_all_that_belongs_to_it() -> None:
    ways = [(Alternative(0, 0, 0, minutes),) for minutes in (4, 5, 8, 1)]
    problem = Problem(tuple(ways), either_or=((0, 2),), only_with=((1, 0),))
    result = solve(problem, objective=TOTAL_TIME)
    assert sorted(result.order) == [2, 3]
    assert result.choice == (-1, -1, 0, 0)
    assert result.levels[0].value == 9


def test_a_fixed_order_gets_its_best_alternatives() -> None:
    problem = gear_part(20, 1, 2)
    best = solve(problem, objective=TOTAL_TIME)
    choice = best_choice(problem, best.order, objective=TOTAL_TIME)
    assert evaluate(problem, best.order, choice).values(TOTAL_TIME) == (best.levels[0].value,)


def test_a_fixed_order_that_breaks_constraints_still_gets_alternatives() -> None:
    problem = replace(_chain(3), before=((2, 0),), same_clamping=((0, 1),), capacity=1)
    assert best_choice(problem, (0, 1, 2)) == (0, 0, 0)
    assert best_choice(problem, (2,)) == (-1, -1, 0)
    with pytest.raises(OutOfRange, match="listed twice"):
        best_choice(problem, (0, 0))
    with pytest.raises(OutOfRange, match="operation 3"):
        best_choice(problem, (3,))


def test_a_swap_within_the_rules_costs_its_difference() -> None:
    problem = replace(_chain(4), before=((0, 1),))
    best = solve(problem)
    swap = swap_cost(problem, best, 3, 0)
    assert swap.broken == ()
    assert swap.result.order.index(0) < swap.result.order.index(3)
    assert swap.extra == (0, 0, 0, 0)


def test_a_swap_against_an_arrow_gives_it_up_and_no_other() -> None:
    problem = replace(_chain(5), before=((0, 1), (1, 2), (0, 2), (2, 3)))
    best = solve(problem)
    swap = swap_cost(problem, best, 1, 2)
    assert swap.broken == (Constraint("before", 1),)
    assert swap.result.proven
    far = swap_cost(problem, best, 0, 3)
    assert far.broken == (Constraint("before", 3),)
    assert [one.constraint for one in check(problem, far.result.order, far.result.choice)] == [
        Constraint("before", 3)
    ]


def test_a_swap_that_other_constraints_forbid_is_impossible() -> None:
    problem = replace(_chain(3), pinned=((0, 0),))
    swap = swap_cost(problem, solve(problem), 0, 1)
    assert (swap.result.status, swap.extra) == ("impossible", ())
    with pytest.raises(OutOfRange, match="before itself"):
        swap_cost(problem, solve(problem), 1, 1)
    with pytest.raises(OutOfRange, match="operation 9"):
        swap_cost(problem, solve(problem), 1, 9)


def test_the_fewest_arrows_are_cut() -> None:
    """Two ways lead from 0 to 4, both over 3: cutting the last arrow is enough."""
    problem = replace(_chain(5), before=((0, 1), (0, 2), (1, 3), (2, 3), (3, 4)))
    assert fewest_arcs_between(problem, 0, 4) == (Constraint("before", 4),)
    assert len(fewest_arcs_between(problem, 0, 3)) == 2
    assert fewest_arcs_between(problem, 4, 0) == ()


def test_lexicographic_values_come_from_the_checker() -> None:
    problem = gear_part(24, 3, 3)
    result = solve(problem)
    measures = evaluate(problem, result.order, result.choice)
    assert measures.values(LEXICOGRAPHIC) == tuple(level.value for level in result.levels)
