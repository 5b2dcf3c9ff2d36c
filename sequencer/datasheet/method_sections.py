"""The method table of a tooth system with every number behind it."""

from __future__ import annotations

from sequencer.datasheet.sheet import Section, Statement
from sequencer.operations.operation import BENCH, Fact, OperationList
from sequencer.operations.teeth import MethodRow, method_table
from sequencer.units import shown

_VERDICTS = {"passes": "passes", "outside": "is done outside", "fails": "fails"}


def method_sections(operations: OperationList, feature: str) -> tuple[Section, ...]:
    """Give one section a way that passes, with all its numbers, and one with the ways that fail.

    Parameters
    ----------
    operations
        Operations of the part on the shop.
    feature
        Name of the tooth system.
    """
    facts = _facts(operations, feature)
    rows = method_table(operations, feature).rows
    passing = tuple(
        Section(_heading(row), (Statement("verdict", _verdict(row)), *facts[_way(row)]))
        for row in rows
        if row.verdict != "fails"
    )
    failing = _failing(tuple(row for row in rows if row.verdict == "fails"))
    return (*passing, Section("Methods that fail", failing)) if failing else passing


def _way(row: MethodRow) -> tuple[str, str, str, str]:
    return row.operation, row.method, row.tool, row.clamping


def _facts(operations: OperationList, feature: str) -> dict[tuple[str, str, str, str], tuple[Fact, ...]]:
    return {
        (operation.name, way.method, way.tool, way.clamping): way.facts
        for operation in operations.by_feature.get(feature, ())
        for way in operation.alternatives
    }


def _heading(row: MethodRow) -> str:
    tool = f" with {row.tool}" if row.tool else ""
    place = "" if row.clamping == BENCH else f" in clamping {row.clamping}"
    return f"Method: {row.operation} by {row.method}{tool}{place}"


def _verdict(row: MethodRow) -> str:
    time = "" if row.minutes is None or row.verdict == "outside" else f" in {shown(row.minutes, 1)} min"
    return f"{_VERDICTS[row.verdict]}{time}. {row.sentence}".rstrip(". ") + "."


def _failing(rows: tuple[MethodRow, ...]) -> tuple[Statement, ...]:
    """Ways that fail; those with one reason in several clampings share a line."""
    clampings: dict[tuple[str, str, str, str, str], list[str]] = {}
    for row in rows:
        key = (row.operation, row.method, row.tool, row.sentence, row.remedy)
        clampings.setdefault(key, []).append(row.clamping or "any")
    return tuple(
        Statement(
            f"{operation} by {method}{f' with {tool}' if tool else ''}",
            f"clamping {', '.join(dict.fromkeys(names))}: {sentence}"
            + (f" What would help: {remedy}" if remedy else ""),
        )
        for (operation, method, tool, sentence, remedy), names in clampings.items()
    )
