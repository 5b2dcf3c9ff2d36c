"""From operations and dependencies to the integers that the ordering engine knows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from sequencer.operations import BENCH, Alternative, Mode, Operation, OperationList
from sequencer.ordering.problem import Alternative as Choice
from sequencer.ordering.problem import Constraint, Problem
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
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
    clampings, tools
        Names by index.
    """

    operations: tuple[Operation, ...]
    clampings: tuple[str, ...]
    tools: tuple[str, ...]

    @cached_property
    def operation_index(self) -> dict[str, int]:
        """Index of an operation by its name."""
        return {operation.name: index for index, operation in enumerate(self.operations)}

    @cached_property
    def clamping_index(self) -> dict[str, int]:
        """Index of a clamping by its name."""
        return {name: index for index, name in enumerate(self.clampings)}

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
    return Numbering(listed, tuple(clampings), tuple(tools))


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

    def choice_of(self, operation: int, alternative: Alternative) -> int:
        """Give the engine's choice that an alternative of an order stands for.

        Parameters
        ----------
        operation
            Index of the operation.
        alternative
            One of its alternatives, its time rounded or not.
        """
        kept = (self.chosen(operation, choice) for choice in range(len(self.considered[operation])))
        return next(
            choice
            for choice, each in enumerate(kept)
            if replace(each, minutes=alternative.minutes) == alternative
            and to_units(each.minutes) == to_units(alternative.minutes)
        )

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
    elif dependency.clamping in numbering.clamping_index:
        clamping = numbering.clamping_index[dependency.clamping]
        opens = relation is Relation.OPENS
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
    considered = tuple(
        worthwhile(operation, operations) if places is None else cut_here(operation)
        for operation in numbering.operations
    )
    table = tuple(
        tuple(_choice(operation.alternatives[each], numbering, positioning) for each in indices)
        for operation, indices in zip(numbering.operations, considered, strict=True)
    )
    fields = {name: tuple(kept) for name, kept in entries.fields.items()}
    problem = Problem(
        operations=table,
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
    return IntegerProblem(problem, numbering, origins, considered)


def _choice(alternative: Alternative, numbering: Numbering, positioning: Minutes) -> Choice:
    mode = -1 if alternative.mode is Mode.REST else _MODES.index(alternative.mode)
    return Choice(
        tool=numbering.tool_index[alternative.tool],
        clamping=numbering.clamping_index[alternative.clamping],
        mode=mode,
        minutes=to_units(alternative.minutes) + to_units(positioning_minutes(alternative, positioning)),
        place=-1,
    )


def opening_operations(operations: OperationList, clamping: str) -> tuple[Operation, ...]:
    """Steps that open a clamping: clamp, indicate.

    Parameters
    ----------
    operations
        Operations of the part.
    clamping
        Name of the clamping.
    """
    return tuple(
        operation
        for operation in operations.operations
        if operation.opening and operation.alternatives[0].clamping == clamping
    )


def _clamping_changes(operations: OperationList, numbering: Numbering) -> tuple[tuple[int, ...], ...]:
    """Changing to a clamping costs its opening steps; laying the part on the bench costs nothing."""

    def cost(target: str) -> int:
        if target == BENCH:
            return 0
        return sum(to_units(each.alternatives[0].minutes) for each in opening_operations(operations, target))

    return tuple(
        tuple(0 if target == source else cost(target) for target in numbering.clampings)
        for source in numbering.clampings
    )


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
