"""Process plans: value, bound and proof on published parts. Run by hand; it passes or fails nothing.

    python tests/benchmarks/process_plans.py FOLDER --seconds 10 --json process_plans.json

Reads every FOLDER/process_plans/*.json, as transcribed with the article of Ma, Luo, Chou and Sun,
International Journal of Production Research (2025), and the reference values of references.csv there.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from fractions import Fraction
from functools import partial
from math import prod
from pathlib import Path

from published import Row, measured, needed, options, percent, process_plan, rows_of, show

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import TOTAL_TIME
from sequencer.ordering.solve import solve

COLUMNS = (
    "part", "operations", "selections", "value", "bound", "gap %", "proven",
    "reference", "above reference %", "changes", "seconds", "megabytes",
)  # fmt: skip


def one(path: Path, seconds: float) -> Row:
    """Solve one part.

    Parameters
    ----------
    path
        Its file.
    seconds
        Time limit [s].
    """
    problem, factor = process_plan(json.loads(path.read_text(encoding="utf-8")))
    result = solve(problem, objective=TOTAL_TIME, seconds=seconds)
    row: Row = {
        "operations": problem.size,
        "selections": prod(len(group) for group in problem.either_or),
        "bound": float(Fraction(result.levels[0].bound, factor)) if result.levels else "",
        "proven": result.proven,
    }
    if not result.order:
        return row | {"fault": result.status}
    measures = evaluate(problem, result.order, result.choice)
    row |= {"value": float(Fraction(measures.time, factor)), "gap %": round(100 * result.gap, 2)}
    row["changes"] = f"{measures.clampings}, {measures.tools}, {measures.modes}"
    broken = len(check(problem, result.order, result.choice))
    return row | ({"fault": f"{broken} constraints broken"} if broken else {})


def instances(folder: Path, seconds: float, only: str) -> Iterator[Row]:
    """Solve all parts.

    Parameters
    ----------
    folder
        Folder of published instances.
    seconds
        Time limit of each [s].
    only
        Part of the name of those wanted.
    """
    place = needed(folder, "process_plans")
    known = {row["id"]: row for row in rows_of(place / "references.csv")}
    for path in sorted(path for path in place.glob("*.json") if only in path.stem):
        row: Row = {"part": path.stem}
        row |= measured(partial(one, path, seconds), seconds)
        wanted = known.get(path.stem, {}).get("proven_optimum", "")
        if wanted and "value" in row:
            row["reference"] = float(Fraction(wanted))
            row["above reference %"] = percent(row["value"], row["reference"])
            if row["value"] < row["reference"] or (row["proven"] and row["value"] > row["reference"]):
                row["fault"] = "contradicts the reference"
        yield row


def main() -> None:
    """Print the table."""
    parser = options("Process plans of published parts")
    parser.add_argument("folder", type=Path)
    given = parser.parse_args()
    rows = show(instances(given.folder, given.seconds, given.only), COLUMNS, given.json)
    proven = sum(bool(row.get("proven")) for row in rows)
    equal = sum(row.get("above reference %") == 0 for row in rows)
    print(f"\n{proven} of {len(rows)} proven, {equal} at the reference value")


if __name__ == "__main__":
    main()
