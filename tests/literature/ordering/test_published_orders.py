"""Published instances with known optima; they are read from the folder that --benchmarks names.

Process plans (operations with machines, tools, approach directions and alternatives) as transcribed with
the article of Ma, Luo, Chou and Sun, International Journal of Production Research (2025); each file names its
first source. Sequential ordering: TSPLIB (Reinelt 1991). Values and proofs: references.csv, bounds.csv there.
"""

from __future__ import annotations

import csv
import json
from fractions import Fraction
from math import lcm
from pathlib import Path

import pytest

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import TOTAL_TIME, Alternative, Problem
from sequencer.ordering.solve import solve

pytestmark = pytest.mark.benchmarks


def process_plan(data: dict) -> tuple[Problem, int]:
    """A process plan as an ordering problem, and the factor that makes its times whole.

    A machine is a clamping; a tool or an approach direction on another machine counts as another one.
    """
    machines = {
        name: index
        for index, name in enumerate(sorted({m for o in data["operations"] for m in o["machines"]}))
    }
    tools = sorted({(m, t) for o in data["operations"] for m in o["machines"] for t in o["tools"]})
    modes = sorted({(m, d) for o in data["operations"] for m in o["machines"] for d in o["tads"]})

    def own(operation: dict, machine: str, tool: str) -> Fraction:
        if data["objective"] == "cost":
            return Fraction(str(data["machine_index"][machine])) + Fraction(str(data["tool_index"][tool]))
        return Fraction(str(operation["time"][machine][tool]))

    ways = [
        [
            (own(o, m, t), machines[m], tools.index((m, t)), modes.index((m, d)))
            for m in o["machines"]
            for t in o["tools"]
            for d in o["tads"]
        ]
        for o in data["operations"]
    ]
    table = data["machine_change"]
    between = [[_change(table, a, b) if a != b else Fraction(0) for b in machines] for a in machines]
    tool_change, setup_change = (Fraction(str(data[f"{kind}_change"])) for kind in ("tool", "setup"))
    values = [tool_change, setup_change, *(way[0] for listed in ways for way in listed)]
    values += [value for row in between for value in row]
    factor = lcm(*(value.denominator for value in values))
    number = {o["id"]: index for index, o in enumerate(data["operations"])}
    problem = Problem(
        operations=tuple(
            tuple(
                Alternative(tool, machine, mode, int(cost * factor)) for cost, machine, tool, mode in listed
            )
            for listed in ways
        ),
        before=tuple((number[p], number[o["id"]]) for o in data["operations"] for p in o["predecessors"]),
        clamping_change=tuple(tuple(int(cost * factor) for cost in row) for row in between),
        tool_change=(int(tool_change * factor),) * len(tools),
        mode_change=tuple(
            tuple(0 if a == b else int(setup_change * factor) for b in range(len(modes)))
            for a in range(len(modes))
        ),
        either_or=tuple(
            tuple(number[each] for each in group) for group in data.get("alternatives", ()) if len(group) > 1
        ),
    )
    return problem, factor


def _change(table: dict | float, a: str, b: str) -> Fraction:
    """Cost between two machines: one for all pairs, or by pair."""
    return Fraction(str(table[a][b] if isinstance(table, dict) else table))


def sequential(path: Path) -> Problem:
    """A sequential ordering instance: every node its own place, one tool, one clamping."""
    words = path.read_text(encoding="utf-8").split("EDGE_WEIGHT_SECTION")[1].split("EOF")[0].split()
    size, entries = int(words[0]), [int(word) for word in words[1:]]
    cost = [entries[row * size : (row + 1) * size] for row in range(size)]
    return Problem(
        operations=tuple((Alternative(0, 0, 0, 0, place),) for place in range(size)),
        before=tuple((j, i) for i in range(size) for j in range(size) if i != j and cost[i][j] == -1),
        positioning=tuple(tuple(max(value, 0) for value in row) for row in cost),
    )


PLANS = (
    "case01_ma2000_cost",
    "case02_li2002_cost",
    "case04_li2007a_time",
    "case06_wang2009_cost",
    "case09_petrovic2016_cost",
    "case10_petrovic2016_time",
)


@pytest.mark.parametrize("name", PLANS)
def test_process_plans_reach_their_proven_optimum(benchmarks, name):
    """Value equal to the reference, and proven here as well."""
    folder = benchmarks / "process_plans"
    rows = csv.DictReader((folder / "references.csv").read_text(encoding="utf-8").splitlines())
    wanted = next(Fraction(row["proven_optimum"]) for row in rows if row["id"] == name)
    problem, factor = process_plan(json.loads((folder / f"{name}.json").read_text(encoding="utf-8")))
    result = solve(problem, objective=TOTAL_TIME, seconds=60)
    assert check(problem, result.order, result.choice) == ()
    assert Fraction(evaluate(problem, result.order, result.choice).time, factor) == wanted
    assert result.proven


@pytest.mark.parametrize("name", ["ESC07", "ESC11", "ESC12", "br17.10", "br17.12"])
def test_small_sequential_orders_reach_their_proven_optimum(benchmarks, name):
    """Value equal to the reference, and proven here as well."""
    folder = benchmarks / "sop"
    rows = csv.DictReader((folder / "bounds.csv").read_text(encoding="utf-8").splitlines())
    wanted = next(int(row["reference_value_to_use"]) for row in rows if row["instance"] == name)
    problem = sequential(folder / "tsplib" / f"{name}.sop")
    result = solve(problem, objective=TOTAL_TIME, seconds=60)
    assert check(problem, result.order, result.choice) == ()
    assert evaluate(problem, result.order, result.choice).positioning == wanted
    assert result.proven
