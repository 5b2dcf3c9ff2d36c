"""From operations and dependencies to the integers that the ordering engine knows."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from sequencer.operations import BENCH, Alternative, Mode, Operation, OperationList
from sequencer.ordering.problem import Alternative as Choice
from sequencer.ordering.problem import Constraint, Problem
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing.reclamping import opening_units, side_of, sides
from sequencer.sequencing.times import positioning_minutes, to_units, tool_change_minutes
from sequencer.sequencing.worthwhile import cut_here, worthwhile
from sequencer.units import Minutes

_MODES: Final = (Mode.TURNING, Mode.MILLING, Mode.GEAR)


@dataclass(frozen=True)
class Numbering:
    """Which integer stands for what.

    Parameters
    ----------
    operations
        Operations that are put in order; the opening steps of clampings are left out.
    clampings
        Names by index; the bench stands there once for each side that the part may lie on.
    sides
        The side that is up, for each of these.
    tools
        Names by index.
    """

    operations: tuple[Operation, ...]
    clampings: tuple[str, ...]
    sides: tuple[str, ...]
    tools: tuple[str, ...]

    @cached_property
    def operation_index(self) -> dict[str, int]:
        """Index of an operation by its name."""
        return {operation.name: index for index, operation in enumerate(self.operations)}

    @cached_property
    def clamping_indices(self) -> dict[str, tuple[int, ...]]:
        """Indices of a clamping by its name: several for the bench, one for any other."""
        return {
            name: tuple(index for index, each in enumerate(self.clampings) if each == name)
            for name in self.clampings
        }

    @cached_property
    def tool_index(self) -> dict[str, int]:
        """Index of a tool by its name; no tool is -1."""
        return {"": -1} | {name: index for index, name in enumerate(self.tools)}


def number(operations: OperationList) -> Numbering:
    """Number operations, clampings and tools in the order of their first mention.

    Parameters
    ----------
    operations
        All operations of the part.
    """
    listed = tuple(operation for operation in operations.operations if not operation.opening)
    alternatives = [alternative for operation in listed for alternative in operation.alternatives]
    clampings = dict.fromkeys(clamping.name for clamping in operations.clampings)
    clampings |= dict.fromkeys(alternative.clamping for alternative in alternatives)
    tools = dict.fromkeys(alternative.tool for alternative in alternatives if alternative.tool)
    names = [name for name in clampings if name != BENCH]
    ups = [side_of(operations, name) for name in names]
    if BENCH in clampings:
        names += [BENCH] * len(sides(operations))
        ups += sides(operations)
    return Numbering(listed, tuple(names), tuple(ups), tuple(tools))


@dataclass(frozen=True)
class IntegerProblem:
    """The engine's problem with the way back to names.

    Parameters
    ----------
    problem
        The integers.
    numbering
        What they stand for.
    origins
        For each field of the problem, the dependency that each entry comes from.
    considered
        For each operation, the indices of its alternatives that the problem knows.
    """

    problem: Problem
    numbering: Numbering
    origins: dict[str, tuple[Dependency, ...]]
    considered: tuple[tuple[int, ...], ...]

    def chosen(self, operation: int, choice: int) -> Alternative:
        """Give the alternative that the engine's choice stands for.

        Parameters
        ----------
        operation
            Index of the operation.
        choice
            Index in the engine's list of its alternatives.
        """
        return self.numbering.operations[operation].alternatives[self.considered[operation][choice]]

    def choices_of(self, order: Iterable[int]) -> list[int]:
        """Give the choices where each operation has one alternative: on the bench the part lies as taken off.

        Parameters
        ----------
        order
            Indices of the operations in their order.
        """
        listed = list(order)
        ways, up, choices = self.problem.operations, self.numbering.sides, [0] * self.problem.size
        side = next((up[ways[op][0].clamping] for op in listed if len(ways[op]) == 1), up[0])
        for op in listed:
            if len(ways[op]) == 1:
                side = up[ways[op][0].clamping]
            else:
                choices[op] = next(number for number, way in enumerate(ways[op]) if up[way.clamping] == side)
        return choices

    def reason(self, constraint: Constraint) -> str:
        """Say a constraint of the engine in words.

        Parameters
        ----------
        constraint
            Field and index.
        """
        if constraint.kind == "capacity":
            return f"the magazine has {self.problem.capacity} pockets left for its tools"
        listed = self.origins.get(constraint.kind, ())
        if constraint.index < len(listed):
            return in_words(listed[constraint.index])
        return f"{constraint.kind} {constraint.index}"


def in_words(dependency: Dependency) -> str:
    """Write a dependency as one sentence: rule, what it demands, and why.

    Parameters
    ----------
    dependency
        The dependency.
    """
    first, second = dependency.first, dependency.second
    demand = {
        Relation.BEFORE: f"{first} before {second}",
        Relation.IMMEDIATELY_AFTER: f"{second} directly after {first}",
        Relation.SAME_CLAMPING: f"{first} and {second} in the same clamping",
        Relation.NOT_SAME_CLAMPING: f"{first} and {second} not in the same clamping",
        Relation.SAME_ZERO: f"{first} and {second} from the same zero",
        Relation.NOT_BETWEEN: f"{dependency.third} not between {first} and {second}",
        Relation.MINIMUM_WAIT: f"{second} at least {dependency.minutes:g} min after {first}",
        Relation.NEVER_NEXT: f"{second} never directly after {first}",
        Relation.OPENS: f"{second or 'all work'} in clamping {dependency.clamping} after {first}",
        Relation.CLOSES: f"no {second or 'work'} in clamping {dependency.clamping} after {first}",
    }[dependency.relation]
    return f"{dependency.rule}: {demand}: {dependency.reason}"


class _Entries:
    """Collects the entries of each field together with the dependency that each comes from."""

    def __init__(self) -> None:
        self.fields: dict[str, dict[tuple[int, ...], Dependency]] = {}

    def add(self, field: str, entry: tuple[int, ...], origin: Dependency) -> None:
        self.fields.setdefault(field, {}).setdefault(entry, origin)


def _translate(dependency: Dependency, numbering: Numbering, entries: _Entries) -> None:
    """Add one dependency to the fields of the problem; opening steps keep theirs by themselves."""
    index = numbering.operation_index
    names = [name for name in (dependency.first, dependency.second, dependency.third) if name]
    if any(name not in index for name in names):
        return
    a = index[dependency.first]
    b = index[dependency.second] if dependency.second else -1
    relation = dependency.relation
    if relation is Relation.BEFORE and dependency.strength is Strength.SHOULD:
        _soften(a, b, dependency, entries)
    elif relation in _PAIR_FIELDS:
        entries.add(_PAIR_FIELDS[relation], (a, b), dependency)
    elif relation is Relation.NOT_BETWEEN:
        entries.add("not_between", (a, b, index[dependency.third]), dependency)
    elif relation is Relation.MINIMUM_WAIT:
        entries.add("minimum_wait", (a, b, to_units(dependency.minutes)), dependency)
    else:
        opens = relation is Relation.OPENS
        for clamping in numbering.clamping_indices.get(dependency.clamping, ()):
            if b < 0:
                entries.add("opens" if opens else "closes", (clamping, a), dependency)
            else:
                entries.add("opens_for" if opens else "closes_for", (clamping, a, b), dependency)


_PAIR_FIELDS: Final = {
    Relation.BEFORE: "before",
    Relation.IMMEDIATELY_AFTER: "immediately_after",
    Relation.SAME_CLAMPING: "same_clamping",
    Relation.NOT_SAME_CLAMPING: "not_same_clamping",
    Relation.SAME_ZERO: "same_zero",
    Relation.NEVER_NEXT: "forbidden_neighbours",
}


def _soften(a: int, b: int, dependency: Dependency, entries: _Entries) -> None:
    """Add a should; of several between the same two the dearest counts, since one swap breaks them all."""
    kept = entries.fields.setdefault("soft_before", {})
    penalty = max(to_units(dependency.penalty), 1)
    same = next((entry for entry in kept if entry[:2] == (a, b)), None)
    if same is not None and same[2] >= penalty:
        return
    if same is not None:
        del kept[same]
    kept[(a, b, penalty)] = dependency


@dataclass(frozen=True)
class Places:
    """Pockets that the tools of an order may take together.

    Parameters
    ----------
    weights
        Pockets that a tool takes, by name; a tool without an entry takes none.
    capacity
        Pockets for all of them together.
    """

    weights: Mapping[str, int]
    capacity: int


def make_problem(
    operations: OperationList, graph: DependencyGraph, places: Places | None = None
) -> IntegerProblem:
    """Turn operations and dependencies into the engine's problem.

    Parameters
    ----------
    operations
        Operations with at least one alternative each.
    graph
        Their dependencies.
    places
        Pockets of the magazine; no limit if left out.
    """
    numbering = number(operations)
    entries = _Entries()
    for dependency in graph.dependencies:
        _translate(dependency, numbering, entries)
    positioning = operations.shop.machine.times.positioning
    considered: list[tuple[int, ...]] = []
    table: list[tuple[Choice, ...]] = []
    for operation in numbering.operations:
        ways = [
            (index, choice)
            for index in (worthwhile(operation, operations) if places is None else cut_here(operation))
            for choice in _choices(operation.alternatives[index], numbering, positioning)
        ]
        considered.append(tuple(index for index, _ in ways))
        table.append(tuple(choice for _, choice in ways))
    fields = {name: tuple(kept) for name, kept in entries.fields.items()}
    problem = Problem(
        operations=tuple(table),
        clamping_change=_clamping_changes(operations, numbering),
        tool_change=tuple(to_units(tool_change_minutes(operations, name)) for name in numbering.tools)
        or (0,),
        mode_change=_mode_changes(operations),
        re_references=_re_references(numbering),
        tool_weight=() if places is None else tuple(places.weights.get(n, 0) for n in numbering.tools),
        capacity=-1 if places is None else places.capacity,
        **fields,  # type: ignore[arg-type]  # each field holds tuples of the length that it wants
    )
    origins = {name: tuple(kept.values()) for name, kept in entries.fields.items()}
    return IntegerProblem(problem, numbering, origins, tuple(considered))


def _choices(alternative: Alternative, numbering: Numbering, positioning: Minutes) -> Iterator[Choice]:
    mode = -1 if alternative.mode is Mode.REST else _MODES.index(alternative.mode)
    for clamping in numbering.clamping_indices[alternative.clamping]:
        yield Choice(
            tool=numbering.tool_index[alternative.tool],
            clamping=clamping,
            mode=mode,
            minutes=to_units(alternative.minutes) + to_units(positioning_minutes(alternative, positioning)),
            place=-1,
        )


def _clamping_changes(operations: OperationList, numbering: Numbering) -> tuple[tuple[int, ...], ...]:
    """Changing to a clamping costs its opening steps; laying the part on the bench costs nothing.

    On the bench the part lies as it was taken off: turning it over there takes as long as elsewhere.
    """
    places = tuple(zip(numbering.clampings, numbering.sides, strict=True))
    turn = to_units(float(operations.shop.machine.times.turn_over))

    def cost(source: str, side: str, target: str, new_side: str) -> int:
        if target == BENCH:
            return 0 if side == new_side else turn
        return opening_units(operations, source, side, target)

    return tuple(tuple(0 if a == b else cost(*a, *b) for b in places) for a in places)


def _mode_changes(operations: OperationList) -> tuple[tuple[int, ...], ...]:
    change = to_units(operations.shop.machine.times.mode_change)
    return tuple(tuple(0 if a is b else change for b in _MODES) for a in _MODES)


def _re_references(numbering: Numbering) -> tuple[int, ...]:
    """Operations after which the zero is another one."""
    from sequencer.operations import Action

    breaking = (Action.RELEASE, Action.INDICATE)
    return tuple(
        index for index, operation in enumerate(numbering.operations) if operation.action in breaking
    )
