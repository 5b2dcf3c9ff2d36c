"""A plain constraint-programming model of the ordering problem, written apart from the engine.

Model: circuit over alternatives with one dummy stop (common practice for sequencing with change-over times,
no source); an alternative that is not chosen loops on itself. It knows before, same clamping and penalties;
every operation must need a tool, a mode and a place.
"""

from __future__ import annotations

import time
from dataclasses import dataclass, field, replace
from typing import Any

from sequencer.ordering.problem import MEASURES, Alternative, Objective, Problem


@dataclass(frozen=True)
class Answer:
    """What the model gave: value and bound of each level up to the first one not proven."""

    values: tuple[int, ...]
    bounds: tuple[int, ...]
    proven: bool


@dataclass
class _Circuit:
    """The model under construction: what each measure adds up."""

    problem: Problem
    model: Any
    sums: dict[str, list[Any]] = field(default_factory=lambda: {name: [] for name in MEASURES})

    def __post_init__(self) -> None:
        self._drawn = set(self.problem.before)

    def build(self) -> None:
        model, problem = self.model, self.problem
        ways = [(op, way) for op, of_op in enumerate(problem.operations) for way in of_op]
        last = problem.size - 1
        position = [model.new_int_var(0, last, "") for _ in problem.operations]
        visit = [model.new_int_var(0, last, "") for _ in problem.operations]
        chosen = [model.new_bool_var("") for _ in ways]
        arcs = []
        for number, (op, way) in enumerate(ways):
            arcs.append((number + 1, number + 1, chosen[number].negated()))
            begins, ends = model.new_bool_var(""), model.new_bool_var("")
            arcs += [(0, number + 1, begins), (number + 1, 0, ends)]
            model.add(position[op] == 0).only_enforce_if(begins)
            model.add(visit[op] == 0).only_enforce_if(begins)
            self.sums["time"].append(way.minutes * chosen[number])
            for follower, (then_op, then) in enumerate(ways):
                if then_op == op or (then_op, op) in self._drawn:
                    continue
                arc = model.new_bool_var("")
                arcs.append((number + 1, follower + 1, arc))
                model.add(position[then_op] == position[op] + 1).only_enforce_if(arc)
                turned = int(way.clamping != then.clamping)
                model.add(visit[then_op] == visit[op] + turned).only_enforce_if(arc)
                self._count(way, then, arc)
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
            self.sums["penalty"].append(penalty * broken)

    def _count(self, way: Alternative, then: Alternative, arc: Any) -> None:
        problem = self.problem
        turned, swapped, coupled = (
            way.clamping != then.clamping,
            way.tool != then.tool,
            way.mode != then.mode,
        )
        minutes = problem.mode_change[way.mode][then.mode]
        minutes += problem.clamping_change[way.clamping][then.clamping] if turned else 0
        minutes += problem.tool_change[then.tool] if swapped else 0
        if turned or swapped:
            minutes += problem.home_positioning[way.place] + problem.home_positioning[then.place]
        else:
            minutes += problem.positioning[way.place][then.place]
        counts = {"clampings": turned, "tools": swapped, "modes": coupled, "time": minutes}
        for name, count in counts.items():
            if count:
                self.sums[name].append(int(count) * arc)


def solved(problem: Problem, objective: Objective, seconds: float = 60.0, workers: int = 2) -> Answer:
    """Solve level by level, each held at its value for the next.

    Parameters
    ----------
    problem
        With the constraints that the model knows.
    objective
        The levels.
    seconds
        Time limit of all levels together [s].
    workers
        Threads.
    """
    from ortools.sat.python import cp_model

    began = time.monotonic()
    circuit = _Circuit(problem, cp_model.CpModel())
    circuit.build()
    values: list[int] = []
    bounds: list[int] = []
    left = seconds - (time.monotonic() - began)
    for level in objective:
        total = sum(weight * sum(circuit.sums[name]) for name, weight in level.weights)
        circuit.model.minimize(total)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = workers
        solver.parameters.random_seed = 1
        solver.parameters.max_time_in_seconds = max(0.1, left)
        status = solver.solve(circuit.model)
        left -= solver.wall_time
        bounds.append(round(solver.best_objective_bound))
        if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            values.append(round(solver.objective_value))
        if status != cp_model.OPTIMAL:
            return Answer(tuple(values), tuple(bounds), proven=False)
        circuit.model.add(total == values[-1])
    return Answer(tuple(values), tuple(bounds), proven=True)


def without_extras(problem: Problem, count: int) -> Problem:
    """Cut a part down to its first operations that need a tool and a mode, with the constraints known here.

    Parameters
    ----------
    problem
        The part.
    count
        Operations that stay.
    """
    kept = [op for op, ways in enumerate(problem.operations) if all(way.tool >= 0 for way in ways)][:count]
    number = {op: place for place, op in enumerate(kept)}

    def only(entries: tuple[tuple[int, ...], ...]) -> Any:
        return tuple(
            (number[entry[0]], number[entry[1]], *entry[2:])
            for entry in entries
            if entry[0] in number and entry[1] in number
        )

    return replace(
        problem,
        operations=tuple(problem.operations[op] for op in kept),
        before=only(problem.before),
        same_clamping=only(problem.same_clamping),
        soft_before=only(problem.soft_before),
        immediately_after=(),
        same_zero=(),
        re_references=(),
    )
