"""Tool switching on published instances: loads, bound, proof. Run by hand; it passes or fails nothing.

    python tests/benchmarks/tool_switching.py FOLDER --seconds 5 --json tool_switching.json

Reads every FOLDER/tool_switching/SET/TABLE/* (Crama, Kolen, Oerlemans, Spieksma 1994; Catanzaro, Gouveia,
Labbe, European Journal of Operational Research 244(3), 2015) and the reference values of bounds.csv there.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from functools import partial
from pathlib import Path

from published import Row, measured, needed, options, percent, rows_of, show, tool_needs

from sequencer.ordering.tool_switching import fewest_loads

COLUMNS = (
    "set", "table", "file", "parts", "tools", "places", "loads", "bound", "gap %", "proven",
    "reference", "status", "above reference %", "seconds", "megabytes",
)  # fmt: skip


def one(path: Path, seconds: float) -> Row:
    """Solve one instance and replay its magazines.

    Parameters
    ----------
    path
        Its file.
    seconds
        Time limit [s].
    """
    needs, places = tool_needs(path)
    found = fewest_loads(needs, places, seconds=seconds)
    row: Row = {"parts": len(needs), "tools": len(frozenset().union(*needs)), "places": places}
    row |= {"loads": found.loads, "bound": found.bound, "proven": found.proven}
    row["gap %"] = round(100 * (found.loads - found.bound) / found.loads, 2)
    broken = sum(
        not needs[part] <= held or len(held) > places
        for part, held in zip(found.order, found.magazines, strict=True)
    )
    if broken or sorted(found.order) != list(range(len(needs))):
        row["fault"] = f"{broken} magazines do not serve their part"
    return row


def instances(folder: Path, seconds: float, only: str, every: int) -> Iterator[Row]:
    """Solve all instances.

    Parameters
    ----------
    folder
        Folder of published instances.
    seconds
        Time limit of each [s].
    only
        Part of the path of those wanted.
    every
        Takes one out of so many.
    """
    place = needed(folder, "tool_switching")
    known = {(row["set"], row["table"], row["file"]): row for row in rows_of(place / "bounds.csv")}
    paths = sorted(path for path in place.glob("*/*/*") if path.is_file() and only in str(path))
    for path in paths[::every]:
        key = (path.parent.parent.name, path.parent.name, path.name)
        row: Row = dict(zip(("set", "table", "file"), key, strict=True))
        row |= measured(partial(one, path, seconds), seconds)
        reference = known.get(key) or known.get((*key[:2], path.stem))
        if reference and "loads" in row:
            row["reference"] = int(reference["setups_of_sequence_in_solutions_csv"])
            row["status"] = reference["status_of_that_value"]
            row["above reference %"] = percent(row["loads"], row["reference"])
            if row["bound"] > row["reference"] or (row["proven"] and row["loads"] > row["reference"]):
                row["fault"] = "contradicts the reference"
        yield row


def summary(rows: Sequence[Row]) -> None:
    """Print one line for each set and size.

    Parameters
    ----------
    rows
        The rows.
    """
    groups: dict[tuple[str, int, int], list[Row]] = defaultdict(list)
    for row in rows:
        if "loads" in row:
            groups[row["set"], row["parts"], row["tools"]].append(row)
    columns = "instances | proven | below, at, above reference | mean above % | mean gap %"
    print(f"\n| set | parts | tools | {columns} |")
    print("|---|---|---|---|---|---|---|---|")
    for (name, parts, tools), members in sorted(groups.items()):
        above = [row["above reference %"] for row in members if "above reference %" in row]
        sides = f"{sum(x < 0 for x in above)}, {sum(x == 0 for x in above)}, {sum(x > 0 for x in above)}"
        proven = sum(row["proven"] for row in members)
        gap = sum(row["gap %"] for row in members) / len(members)
        mean = sum(above) / len(above) if above else 0.0
        print(
            f"| {name} | {parts} | {tools} | {len(members)} | {proven} | {sides} | {mean:.2f} | {gap:.2f} |"
        )


def main() -> None:
    """Print the tables."""
    parser = options("Tool switching on published instances")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--every", type=int, default=1, help="take one instance out of so many")
    given = parser.parse_args()
    rows = instances(given.folder, given.seconds, given.only, given.every)
    summary(show(rows, COLUMNS, given.json))


if __name__ == "__main__":
    main()
