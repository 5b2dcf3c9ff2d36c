"""A constraint-programming model of the same problems, written apart, as a second opinion.

Model: circuit over alternatives with one dummy stop (common practice for sequencing with change-over times,
no source); an alternative that is not chosen loops on itself.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from sequencer.ordering.problem import TOTAL_TIME, Alternative, Problem
from sequencer.ordering.solve import solve

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from gear_parts import gear_part


def _change(problem: Problem, way: Alternative, then: Alternative) -> int:
    cost = problem.mode_change[way.mode][then.mode]
    away = way.tool != then.tool or way.clamping != then.clamping
    if way.clamping != then.clamping:
        cost += problem.clamping_change[way.clamping][then.clamping]
    if way.tool != then.tool:
        cost += problem.tool_change[then.tool]
    if away:
        return cost + problem.home_positioning[way.place] + problem.home_positioning[then.place]
    return cost + problem.positioning[way.place][then.place]


def _second_opinion(problem: Problem) -> int:
    """Least total time by constraint programming: before, same clamping and penalties only."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    ways = [(op, way) for op, of_op in enumerate(problem.operations) for way in of_op]
    position = [model.new_int_var(0, problem.size - 1, "") for _ in problem.operations]
    visit = [model.new_int_var(0, problem.size - 1, "") for _ in problem.operations]
    chosen = [model.new_bool_var("") for _ in ways]
    arcs, cost = [], []
    for number, (op, way) in enumerate(ways):
        arcs.append((number + 1, number + 1, chosen[number].negated()))
        first, last = model.new_bool_var(""), model.new_bool_var("")
        arcs += [(0, number + 1, first), (number + 1, 0, last)]
        model.add(position[op] == 0).only_enforce_if(first)
        model.add(visit[op] == 0).only_enforce_if(first)
        cost.append(way.minutes * chosen[number])
        for follower, (then_op, then) in enumerate(ways):
            if then_op != op:
                arc = model.new_bool_var("")
                arcs.append((number + 1, follower + 1, arc))
                model.add(position[then_op] == position[op] + 1).only_enforce_if(arc)
                turned = int(way.clamping != then.clamping)
                model.add(visit[then_op] == visit[op] + turned).only_enforce_if(arc)
                cost.append(_change(problem, way, then) * arc)
    model.add_circuit(arcs)
    for op in range(problem.size):
        model.add_exactly_one(chosen[number] for number, (other, _) in enumerate(ways) if other == op)
    for a, b in problem.before:
        model.add(position[a] < position[b])
    for a, b in problem.same_clamping:
        model.add(visit[a] == visit[b])
    for a, b, penalty in problem.soft_before:
        broken = model.new_bool_var("")
        model.add(position[a] < position[b]).only_enforce_if(broken.negated())
        cost.append(penalty * broken)
    model.minimize(sum(cost))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return round(solver.objective_value)


def _without_extras(problem: Problem) -> Problem:
    """The first fourteen operations that need tool and mode, with the constraints that both models know."""
    kept = [op for op, ways in enumerate(problem.operations) if all(way.tool >= 0 for way in ways)][:14]
    number = {op: place for place, op in enumerate(kept)}

    def only(entries: tuple[tuple[int, ...], ...]) -> tuple[tuple[int, ...], ...]:
        return tuple(
            (number[entry[0]], number[entry[1]], *entry[2:])
            for entry in entries
            if entry[0] in number and entry[1] in number
        )

    return Problem(
        operations=tuple(problem.operations[op] for op in kept),
        before=only(problem.before),  # type: ignore[arg-type]
        clamping_change=problem.clamping_change,
        tool_change=problem.tool_change,
        mode_change=problem.mode_change,
        positioning=problem.positioning,
        home_positioning=problem.home_positioning,
        same_clamping=only(problem.same_clamping),  # type: ignore[arg-type]
        soft_before=only(problem.soft_before),  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("seed", range(4))
def test_constraint_programming_finds_the_same_total_time(seed: int) -> None:
    problem = _without_extras(gear_part(24, seed, 2))
    result = solve(problem, objective=TOTAL_TIME)
    assert result.proven
    assert result.levels[0].value == _second_opinion(problem)
