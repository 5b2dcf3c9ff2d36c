"""Readers of published instances and what the benchmarks on them share: measuring apart, tables, options.

The folder of instances is laid out by kind: process_plans/*.json with references.csv, sop/SET/*.sop with
bounds.csv, tool_switching/SET/TABLE/* with bounds.csv. It is not part of the repository.
"""

from __future__ import annotations

import argparse
import csv
import json
import multiprocessing
import resource
import sys
import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from fractions import Fraction
from math import lcm
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from sequencer.ordering.problem import Alternative, Problem

Row = dict[str, Any]

#: Time that a run may take beyond its limit before it is ended [s].
PATIENCE = 60.0


def process_plan(data: Mapping[str, Any]) -> tuple[Problem, int]:
    """Read a process plan as an ordering problem, with the factor that makes its times whole.

    A machine is a clamping; a tool or an approach direction on another machine counts as another one.

    Parameters
    ----------
    data
        Content of the file.
    """
    machines = {
        name: index
        for index, name in enumerate(sorted({m for o in data["operations"] for m in o["machines"]}))
    }
    tools = sorted({(m, t) for o in data["operations"] for m in o["machines"] for t in o["tools"]})
    modes = sorted({(m, d) for o in data["operations"] for m in o["machines"] for d in o["tads"]})

    def own(operation: Mapping[str, Any], machine: str, tool: str) -> Fraction:
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


def _change(table: Mapping[str, Any] | float, a: str, b: str) -> Fraction:
    """Cost between two machines: one for all pairs, or by pair."""
    return Fraction(str(table[a][b] if isinstance(table, Mapping) else table))


def sequential(path: Path) -> Problem:
    """Read a sequential ordering instance: every operation its own place, one tool, one clamping.

    An entry (i, j) of -1 means j before i; the first operation stands first and the last one last.

    Parameters
    ----------
    path
        TSPLIB file with a header, or a bare number and matrix as in SOPLIB.
    """
    text = path.read_text(encoding="utf-8")
    words = text.rpartition("EDGE_WEIGHT_SECTION")[2].partition("EOF")[0].split()
    size, entries = int(words[0]), [int(word) for word in words[1:]]
    cost = [entries[row * size : (row + 1) * size] for row in range(size)]
    arrows = {(j, i) for i in range(size) for j in range(size) if i != j and cost[i][j] == -1}
    arrows |= {(0, op) for op in range(1, size)} | {(op, size - 1) for op in range(size - 1)}
    return Problem(
        operations=tuple((Alternative(0, 0, 0, 0, place),) for place in range(size)),
        before=tuple(sorted(arrows)),
        positioning=tuple(tuple(max(value, 0) for value in row) for row in cost),
    )


def tool_needs(path: Path) -> tuple[tuple[frozenset[int], ...], int]:
    """Read a tool switching instance: the tools of each part, and the places of the magazine.

    Parameters
    ----------
    path
        The file: parts, tools, places, then a row of 0 and 1 for each tool.
    """
    parts, tools, places, *entries = (int(word) for word in path.read_text(encoding="utf-8").split())
    needs = tuple(
        frozenset(tool for tool in range(tools) if entries[tool * parts + part]) for part in range(parts)
    )
    return needs, places


def rows_of(path: Path) -> list[dict[str, str]]:
    """Read a table of reference values; empty if the folder has none.

    Parameters
    ----------
    path
        The CSV file.
    """
    if not path.exists():
        return []
    return list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()))


def measured(run: Callable[[], Row], seconds: float) -> Row:
    """Run in a process of its own and add time, processor time and peak memory; ends it when it far overruns.

    Parameters
    ----------
    run
        Gives the row.
    seconds
        Its time limit [s].
    """
    context = multiprocessing.get_context("fork")
    receiver, sender = context.Pipe(duplex=False)
    child = context.Process(target=_report, args=(run, sender))
    child.start()
    row = {"fault": "overran its time limit"}
    if receiver.poll(seconds + PATIENCE):
        try:
            row = receiver.recv()
        except EOFError:
            row = {"fault": "ended without an answer"}
    child.kill()
    child.join()
    return row


def _report(run: Callable[[], Row], sender: Connection) -> None:
    began = time.monotonic()
    try:
        row = run()
    except Exception as fault:  # a benchmark goes on with the next instance
        row = {"fault": f"{type(fault).__name__}: {fault}"}
    row["seconds"] = round(time.monotonic() - began, 2)
    used = resource.getrusage(resource.RUSAGE_SELF)
    row["processor"] = round(used.ru_utime + used.ru_stime, 2)
    row["megabytes"] = used.ru_maxrss // 1024
    sender.send(row)


def options(what: str) -> argparse.ArgumentParser:
    """Make the options that every benchmark has.

    Parameters
    ----------
    what
        First line of the help.
    """
    parser = argparse.ArgumentParser(description=what)
    parser.add_argument("--seconds", type=float, default=10.0, help="time limit of each instance [s]")
    parser.add_argument("--json", type=Path, help="file for the table as JSON")
    parser.add_argument("--only", default="", help="instances whose name holds this text")
    return parser


def percent(value: float, reference: float) -> float:
    """Give by how much a value lies above a reference, in percent.

    Parameters
    ----------
    value, reference
        What is compared.
    """
    if value == reference:
        return 0.0
    return round(100 * (value - reference) / abs(reference), 2) if reference else float("inf")


def show(rows: Iterable[Row], columns: Sequence[str], file: Path | None) -> list[Row]:
    """Print rows as they come and write them as JSON at the end.

    Parameters
    ----------
    rows
        The rows.
    columns
        Keys that are printed.
    file
        Where the JSON goes, if anywhere.
    """
    shown: list[Row] = []
    print("| " + " | ".join(columns) + " |")
    print("|" + "---|" * len(columns), flush=True)
    for row in rows:
        shown.append(row)
        cells = [row.get(column, "") for column in columns]
        print("| " + " | ".join(str(cell) for cell in cells) + f" | {row.get('fault', '')}", flush=True)
    if file is not None:
        file.write_text(json.dumps(shown, indent=1) + "\n", encoding="utf-8")
    return shown


def needed(folder: Path, kind: str) -> Path:
    """Give the folder of one kind of instances, or leave with a word where it is missing.

    Parameters
    ----------
    folder
        Folder of all published instances.
    kind
        The kind.
    """
    if not (folder / kind).is_dir():
        sys.exit(f"{folder} has no folder {kind}; name the folder of the published instances")
    return folder / kind
