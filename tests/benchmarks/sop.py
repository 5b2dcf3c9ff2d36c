"""Sequential ordering on published instances: value, bound, proof. Run by hand; it passes or fails nothing.

    python tests/benchmarks/sop.py FOLDER --seconds 10 --json sop.json

Reads every FOLDER/sop/SET/*.sop (TSPLIB95, Reinelt 1991; SOPLIB06, Montemanni, Smith, Gambardella, Computers
and Operations Research 35(12), 2008) and the reference values of FOLDER/sop/bounds.csv.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from published import Row, measured, needed, options, percent, rows_of, sequential, show

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.problem import TOTAL_TIME
from sequencer.ordering.solve import solve

COLUMNS = (
    "instance", "size", "density", "value", "bound", "gap %", "proven",
    "reference", "status", "above reference %", "seconds", "megabytes",
)  # fmt: skip


def one(path: Path, seconds: float) -> Row:
    """Solve one instance.

    Parameters
    ----------
    path
        Its file.
    seconds
        Time limit [s].
    """
    problem = sequential(path)
    result = solve(problem, objective=TOTAL_TIME, seconds=seconds)
    bound = result.levels[0].bound
    row: Row = {"size": problem.size, "bound": bound, "proven": result.proven}
    if not result.order:
        return row
    value = evaluate(problem, result.order, result.choice).time
    broken = len(check(problem, result.order, result.choice))
    row |= {"value": value, "gap %": round(100 * result.gap, 2), "order": list(result.order)}
    return row | ({"fault": f"{broken} constraints broken"} if broken else {})


def instances(folder: Path, seconds: float, only: str) -> Iterator[Row]:
    """Solve all instances.

    Parameters
    ----------
    folder
        Folder of published instances.
    seconds
        Time limit of each [s].
    only
        Part of the name of those wanted.
    """
    place = needed(folder, "sop")
    known = {(row["set"], row["instance"]): row for row in rows_of(place / "bounds.csv")}
    paths = sorted(path for path in place.glob("*/*.sop") if only in path.stem)
    for path in sorted(paths, key=lambda path: (path.parent.name, path.stat().st_size, path.name)):
        reference = known.get((path.parent.name, path.stem), {})
        row: Row = {"set": path.parent.name, "instance": path.stem}
        row |= measured(partial(one, path, seconds), seconds)
        if reference:
            wanted = int(reference["reference_value_to_use"])
            row |= {"density": reference.get("precedence_density", ""), "reference": wanted}
            row["status"] = reference["reference_status"]
            if "value" in row:
                row["above reference %"] = percent(row["value"], wanted)
                if row["proven"] and row["value"] > wanted:
                    row["fault"] = "proven value above the reference"
            if row.get("bound", 0) > wanted:
                row["fault"] = "bound above the reference"
        yield row


def main() -> None:
    """Print the table."""
    parser = options("Sequential ordering on published instances")
    parser.add_argument("folder", type=Path)
    given = parser.parse_args()
    rows = show(instances(given.folder, given.seconds, given.only), COLUMNS, given.json)
    compared = [row["above reference %"] for row in rows if "above reference %" in row]
    print(f"\n{sum(bool(row.get('proven')) for row in rows)} of {len(rows)} proven", end="")
    if compared:
        reached = sum(value <= 0 for value in compared)
        print(f"; {reached} of {len(compared)} at the reference value", end="")
        print(f", {sum(compared) / len(compared):.2f} % above it on average", end="")
    print()


if __name__ == "__main__":
    main()
