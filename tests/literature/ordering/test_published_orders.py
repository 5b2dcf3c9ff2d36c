"""Published instances with known optima; they are read from the folder that --benchmarks names.

Process plans (operations with machines, tools, approach directions and alternatives) as transcribed with
the article of Ma, Luo, Chou and Sun, International Journal of Production Research (2025); each file names its
first source. Sequential ordering: TSPLIB (Reinelt 1991). Values and proofs: references.csv, bounds.csv there.
"""

from __future__ import annotations

import json
import sys
from fractions import Fraction
from pathlib import Path

import pytest

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import TOTAL_TIME
from sequencer.ordering.solve import solve

sys.path.insert(0, str(Path(__file__).parents[2] / "benchmarks"))
from published import process_plan, rows_of, sequential

pytestmark = pytest.mark.benchmarks

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
    rows = rows_of(folder / "references.csv")
    wanted = next(Fraction(row["proven_optimum"]) for row in rows if row["id"] == name)
    problem, factor = process_plan(json.loads((folder / f"{name}.json").read_text(encoding="utf-8")))
    result = solve(problem, objective=TOTAL_TIME, seconds=60)
    assert check(problem, result.order, result.choice) == ()
    assert Fraction(evaluate(problem, result.order, result.choice).time, factor) == wanted
    assert result.proven


@pytest.mark.parametrize("name", ["ESC07", "ESC12", "ESC63", "br17.10", "rbg048a", "rbg109a", "ry48p.4"])
def test_small_sequential_orders_reach_their_proven_optimum(benchmarks, name):
    """Value equal to the reference, and proven here as well."""
    folder = benchmarks / "sop"
    rows = rows_of(folder / "bounds.csv")
    wanted = next(int(row["reference_value_to_use"]) for row in rows if row["instance"] == name)
    problem = sequential(folder / "tsplib" / f"{name}.sop")
    result = solve(problem, objective=TOTAL_TIME, seconds=60)
    assert check(problem, result.order, result.choice) == ()
    assert evaluate(problem, result.order, result.choice).positioning == wanted
    assert result.proven
