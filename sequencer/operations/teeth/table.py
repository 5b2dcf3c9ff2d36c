"""The method table of a tooth system: every way that was tried, with verdict, numbers and sentence."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal

from sequencer.operations.operation import (
    BENCH,
    Action,
    Alternative,
    Fact,
    Operation,
    OperationList,
    Rejection,
)
from sequencer.units import Minutes, Mm

Verdict = Literal["passes", "fails", "outside"]

_CUTS: Final = (Action.CUT_TEETH, Action.SEND_OUT)


@dataclass(frozen=True)
class MethodRow:
    """One way to make an operation of a tooth system.

    Parameters
    ----------
    operation
        Name of the operation.
    half
        "lower" or "upper" for one helix of a double-helical gear; else empty.
    method, tool, clamping
        What was tried; empty where it fails in any.
    verdict
        Whether it passes, fails, or is done outside.
    needs
        Run-out needed at the tighter end [mm]; None where it was not looked at.
    has
        Room at that end [mm]; None where it was not looked at or nothing limits it.
    minutes
        Own time [min]; None if it fails.
    flank_class
        Flank class reachable; None where it was not looked at [-].
    sentence
        Why it passes or fails.
    remedy
        The nearest thing that would help; empty if nothing does.
    """

    operation: str
    half: str
    method: str
    tool: str
    clamping: str
    verdict: Verdict
    needs: Mm | None
    has: Mm | None
    minutes: Minutes | None
    flank_class: int | None
    sentence: str
    remedy: str = ""


@dataclass(frozen=True)
class MethodTable:
    """All ways of a tooth system, those that pass first.

    Parameters
    ----------
    feature
        Name of the gear or spline.
    rows
        One row a way.
    """

    feature: str
    rows: tuple[MethodRow, ...]

    @property
    def passing(self) -> tuple[MethodRow, ...]:
        """Rows that pass on this machine."""
        return tuple(row for row in self.rows if row.verdict == "passes")


def method_table(operation_list: OperationList, feature_name: str) -> MethodTable:
    """Put all ways to cut a tooth system into a table.

    Parameters
    ----------
    operation_list
        Operations of the part.
    feature_name
        Name of the gear or spline.
    """
    rows: list[MethodRow] = []
    for operation in operation_list.by_feature.get(feature_name, ()):
        if operation.action in _CUTS:
            rows += [_passing(operation, way) for way in operation.alternatives]
            rows += [_failing(operation, way) for way in operation.rejected]
    order = {"passes": 0, "outside": 1, "fails": 2}
    return MethodTable(feature_name, tuple(sorted(rows, key=lambda row: order[row.verdict])))


def _passing(operation: Operation, way: Alternative) -> MethodRow:
    needs, has = _tightest(way.facts)
    return MethodRow(
        operation.name,
        operation.half,
        way.method,
        way.tool,
        way.clamping,
        "outside" if way.clamping == BENCH else "passes",
        needs,
        has,
        way.minutes,
        _class(way.facts),
        way.reason,
    )


def _failing(operation: Operation, way: Rejection) -> MethodRow:
    needs, has = _tightest(way.facts)
    return MethodRow(
        operation.name,
        operation.half,
        way.method,
        way.tool,
        way.clamping,
        "fails",
        needs,
        has,
        None,
        _class(way.facts),
        way.sentence,
        way.remedy,
    )


def _tightest(facts: tuple[Fact, ...]) -> tuple[Mm | None, Mm | None]:
    """Run-out needed and room at the end where least is left."""
    values = {fact.name: fact.value for fact in facts}
    ends = [
        (values[f"run-out needed {side}"], values.get(f"run-out room {side}"))
        for side in ("below", "above")
        if f"run-out needed {side}" in values
    ]
    limited = [(needs, has) for needs, has in ends if has is not None]
    if limited:
        return min(limited, key=lambda end: end[1] - end[0])
    return (max(needs for needs, _ in ends), None) if ends else (None, None)


def _class(facts: tuple[Fact, ...]) -> int | None:
    return next((int(fact.value) for fact in facts if fact.name == "flank class reachable"), None)
