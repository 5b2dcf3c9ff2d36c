"""Refuses problems whose numbers do not fit together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

from sequencer.errors import OutOfRange

if TYPE_CHECKING:
    from sequencer.ordering.problem import Problem

#: Largest single cost and largest number of operations that are taken.
LARGEST_COST: Final = 2**40
MOST_OPERATIONS: Final = 500


def validate(problem: Problem) -> None:
    """Check every number of a problem.

    Parameters
    ----------
    problem
        The problem just built.

    Raises
    ------
    OutOfRange
        When a table has the wrong size, an index points nowhere or a cost is no integer from 0 to 2^40.
    """
    if len(problem.operations) > MOST_OPERATIONS:
        raise OutOfRange(
            f"{len(problem.operations)} operations",
            where="operations",
            limit=f"at most {MOST_OPERATIONS}",
            remedy="Plan the part in sections",
        )
    _tables(problem)
    _alternatives(problem)
    _constraints(problem)
    _magazine(problem)


def _tables(problem: Problem) -> None:
    for name in ("clamping_change", "mode_change", "positioning"):
        table: Sequence[Sequence[int]] = getattr(problem, name)
        for row, costs in enumerate(table):
            if len(costs) != len(table):
                raise OutOfRange(
                    f"row {row} has {len(costs)} entries",
                    where=name,
                    limit=f"{len(table)} rows need {len(table)} entries each",
                )
            for column, cost in enumerate(costs):
                _cost(cost, f"{name}[{row}][{column}]")
            if name != "positioning" and costs[row] != 0:
                raise OutOfRange(f"{costs[row]}", where=f"{name}[{row}][{row}]", limit="staying costs 0")
    for tool, cost in enumerate(problem.tool_change):
        _cost(cost, f"tool_change[{tool}]")
    for place, cost in enumerate(problem.home_positioning):
        _cost(cost, f"home_positioning[{place}]")
    places, homes = len(problem.positioning), len(problem.home_positioning)
    if places and homes and places != homes:
        raise OutOfRange(f"{homes} places", where="home_positioning", limit=f"positioning has {places}")


def _alternatives(problem: Problem) -> None:
    places = max(len(problem.positioning), len(problem.home_positioning))
    for op, alternatives in enumerate(problem.operations):
        if not alternatives:
            raise OutOfRange(
                "no alternative", where=f"operations[{op}]", limit="at least one", remedy="Give it a method"
            )
        for number, way in enumerate(alternatives):
            where = f"operations[{op}][{number}]"
            _index(way.tool, -1, len(problem.tool_change), f"{where}.tool")
            _index(way.clamping, 0, len(problem.clamping_change), f"{where}.clamping")
            _index(way.mode, -1, len(problem.mode_change), f"{where}.mode")
            _index(way.place, -1, places if places else LARGEST_COST, f"{where}.place")
            _cost(way.minutes, f"{where}.minutes")


def _constraints(problem: Problem) -> None:
    size = len(problem.operations)
    for name in ("before", "immediately_after", "not_same_clamping", "forbidden_neighbours"):
        for number, pair in enumerate(getattr(problem, name)):
            _distinct(pair, 2, size, f"{name}[{number}]")
    for name in ("same_clamping", "same_zero", "only_with"):
        for number, pair in enumerate(getattr(problem, name)):
            _distinct(pair, 2, size, f"{name}[{number}]")
    for number, triple in enumerate(problem.not_between):
        _distinct(triple, 3, size, f"not_between[{number}]")
    for name in ("minimum_wait", "soft_before"):
        for number, entry in enumerate(getattr(problem, name)):
            _length(entry, 3, f"{name}[{number}]")
            _distinct(entry[:2], 2, size, f"{name}[{number}]")
            _cost(entry[2], f"{name}[{number}][2]")
    for number, op in enumerate(problem.re_references):
        _index(op, 0, size, f"re_references[{number}]")
    for number, pair in enumerate(problem.pinned):
        _length(pair, 2, f"pinned[{number}]")
        _index(pair[0], 0, size, f"pinned[{number}][0]")
        _index(pair[1], 0, size, f"pinned[{number}][1]")
    _clamping_rules(problem, size)
    _groups(problem, size)


def _clamping_rules(problem: Problem, size: int) -> None:
    clampings = len(problem.clamping_change)
    for name, length in (("opens", 2), ("closes", 2), ("opens_for", 3), ("closes_for", 3)):
        for number, entry in enumerate(getattr(problem, name)):
            where = f"{name}[{number}]"
            _length(entry, length, where)
            _index(entry[0], 0, clampings, f"{where}[0]")
            _distinct(entry[1:], length - 1, size, where)
    for number, clamping in enumerate(problem.single_visit):
        _index(clamping, 0, clampings, f"single_visit[{number}]")


def _groups(problem: Problem, size: int) -> None:
    member_of: dict[int, int] = {}
    for number, group in enumerate(problem.either_or):
        if not group:
            raise OutOfRange("no operation", where=f"either_or[{number}]", limit="at least one")
        _distinct(group, len(group), size, f"either_or[{number}]")
        for op in group:
            if op in member_of:
                raise OutOfRange(
                    f"operation {op} is in groups {member_of[op]} and {number}",
                    where="either_or",
                    limit="one group each",
                    remedy="Tie further operations to it by only_with",
                )
            member_of[op] = number


def _magazine(problem: Problem) -> None:
    if problem.tool_weight and len(problem.tool_weight) != len(problem.tool_change):
        raise OutOfRange(
            f"{len(problem.tool_weight)} weights",
            where="tool_weight",
            limit=f"{len(problem.tool_change)} tools",
        )
    for tool, weight in enumerate(problem.tool_weight):
        _cost(weight, f"tool_weight[{tool}]")
    _integer(problem.capacity, "capacity")
    if problem.capacity < -1:
        raise OutOfRange(f"{problem.capacity}", where="capacity", limit="0 or more, or -1 for none")


def _integer(value: object, where: str) -> None:
    if isinstance(value, bool) or not isinstance(value, int):
        raise OutOfRange(
            f"{value!r} is no integer",
            where=where,
            limit="integers only",
            remedy="Scale and round it yourself",
        )


def _cost(value: int, where: str) -> None:
    _integer(value, where)
    if not 0 <= value <= LARGEST_COST:
        raise OutOfRange(f"{value}", where=where, limit="0 to 2^40")


def _index(value: int, lowest: int, end: int, where: str) -> None:
    _integer(value, where)
    if not lowest <= value < end:
        raise OutOfRange(f"{value}", where=where, limit=f"{lowest} to {end - 1}")


def _length(entry: Sequence[int], length: int, where: str) -> None:
    if len(entry) != length:
        raise OutOfRange(f"{len(entry)} numbers", where=where, limit=f"{length} needed")


def _distinct(entry: Iterable[int], length: int, size: int, where: str) -> None:
    members = tuple(entry)
    _length(members, length, where)
    for op in members:
        _index(op, 0, size, where)
    if len(set(members)) != length:
        raise OutOfRange(f"{members}", where=where, limit="different operations")
