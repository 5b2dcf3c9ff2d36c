"""An order given by hand: which rules it breaks and what it costs against the best; what is free to move."""

from __future__ import annotations

from collections.abc import Iterable
from collections.abc import Sequence as Listed
from dataclasses import dataclass, replace

from sequencer.errors import SequencerError
from sequencer.operations import OperationList
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.free_places import free_places
from sequencer.ordering.problem import Objective, Problem
from sequencer.ordering.result import LevelValue, Result
from sequencer.precedence import Dependency
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing.integers import IntegerProblem, make_problem
from sequencer.sequencing.order import OBJECTIVES, Aim, to_sequence
from sequencer.sequencing.steps import Level, Sequence
from sequencer.sequencing.why import as_chosen, unknown_operation


@dataclass(frozen=True)
class Judged:
    """What an order given by hand breaks and costs.

    Parameters
    ----------
    sequence
        The order with its steps and times, each operation done by the alternative that suits the order best.
    broken
        Musts that it breaks, in words.
    shoulds
        Shoulds that it breaks and the plan keeps.
    levels
        Levels of the plan, for comparison.
    elsewhere
        Operations that cannot be done in the clamping they were put in, and why, in words.
    """

    sequence: Sequence
    broken: tuple[str, ...]
    shoulds: tuple[Dependency, ...]
    levels: tuple[Level, ...]
    elsewhere: tuple[str, ...]

    @property
    def allowed(self) -> bool:
        """Whether the order can be worked to."""
        return not self.broken and not self.elsewhere

    @property
    def extra_minutes(self) -> float:
        """Minutes and penalties that it costs more than the plan [min]."""
        return self.sequence.levels[-1].value - self.levels[-1].value


def judge_order(
    operations: OperationList,
    graph: DependencyGraph,
    sequence: Sequence,
    given: Listed[tuple[str, str]],
    *,
    aim: Aim = "clampings",
) -> Judged:
    """Say which rules an order breaks and what it costs against the plan.

    Parameters
    ----------
    operations, graph, sequence
        Stages of the plan.
    given
        The order: name of each operation and of its clamping, empty if any will do. Opening steps are left
        out or named; they follow from the clampings.
    aim
        What the plan makes least.

    Raises
    ------
    SequencerError
        When an operation is unknown, named twice or missing.
    """
    from sequencer.ordering.fixed_order import best_choice

    integers = make_problem(operations, graph)
    words, objective = OBJECTIVES[aim]
    places = _places(operations, integers, given)
    held, kept, elsewhere = _held(operations, integers, places)
    order = tuple(op for op, _ in places)
    picked = best_choice(held, order, objective=objective)
    choice = tuple(kept[op][picked[op]] for op in range(len(kept)))
    made = to_sequence(
        operations, graph, integers, _result(integers.problem, order, choice, objective, sequence), words
    )
    violations = check(integers.problem, order, choice)
    known = set(sequence.broken)
    return Judged(
        sequence=made,
        broken=tuple(dict.fromkeys(integers.reason(each.constraint) for each in violations)),
        shoulds=tuple(each for each in made.broken if each not in known),
        levels=sequence.levels,
        elsewhere=elsewhere,
    )


def _places(
    operations: OperationList, integers: IntegerProblem, given: Iterable[tuple[str, str]]
) -> list[tuple[int, str]]:
    index = integers.numbering.operation_index
    clampings = integers.numbering.clampings
    places: list[tuple[int, str]] = []
    for name, clamping in given:
        if clamping and clamping not in clampings:
            raise SequencerError(
                f"the plan has no clamping {clamping!r}",
                where=name,
                remedy=f"use {', '.join(dict.fromkeys(clampings))}",
            )
        if name in index:
            places.append((index[name], clamping))
        elif name not in operations.by_name:
            raise unknown_operation(name, tuple(index), where="order")
    order = [op for op, _ in places]
    twice = [integers.numbering.operations[op].name for op in sorted(set(order)) if order.count(op) > 1]
    if twice:
        raise SequencerError(
            f"{', '.join(twice)} stands twice", where="order", remedy="name each operation once"
        )
    missing = [each.name for each in integers.numbering.operations if index[each.name] not in order]
    if missing:
        what = f"{len(missing)} operations are missing: {', '.join(missing)}"
        raise SequencerError(what, where="order", remedy="put each where it is to be done")
    return places


def _held(
    operations: OperationList, integers: IntegerProblem, places: list[tuple[int, str]]
) -> tuple[Problem, list[tuple[int, ...]], tuple[str, ...]]:
    """The problem with each operation held in its clamping, the choices left, and what cannot be held."""
    problem, elsewhere = integers.problem, []
    kept = [tuple(range(len(ways))) for ways in problem.operations]
    for op, clamping in places:
        wanted = integers.numbering.clamping_indices.get(clamping, range(len(integers.numbering.clampings)))
        fitting = tuple(number for number, way in enumerate(problem.operations[op]) if way.clamping in wanted)
        if fitting:
            kept[op] = fitting
        else:
            elsewhere.append(_why_elsewhere(operations, integers.numbering.operations[op].name, clamping))
    ways = tuple(
        tuple(problem.operations[op][number] for number in numbers) for op, numbers in enumerate(kept)
    )
    return replace(problem, operations=ways), kept, tuple(elsewhere)


def _why_elsewhere(operations: OperationList, name: str, clamping: str) -> str:
    operation = operations.by_name[name]
    reasons = [each.sentence for each in operation.rejected if each.clamping == clamping]
    said = f": {reasons[0]}" if reasons else ""
    return f"{name} is not done in {clamping} but in {' or '.join(operation.clampings)}{said}"


def _result(
    problem: Problem,
    order: tuple[int, ...],
    choice: tuple[int, ...],
    objective: Objective,
    best: Sequence,
) -> Result:
    values = evaluate(problem, order, choice).values(objective)
    levels = tuple(
        LevelValue(level.name, value, value, proven=False)
        for level, value in zip(objective, values, strict=True)
    )
    return Result(order, choice, levels, "between bounds", best.ignored, 0, 0.0)


@dataclass(frozen=True)
class FreeMove:
    """An operation that may stand elsewhere at no cost, all others kept as they are.

    Parameters
    ----------
    operation
        Its name.
    after
        The operation it must stay behind; empty if it may stand first.
    before
        The operation it must stay in front of; empty if it may stand last.
    """

    operation: str
    after: str
    before: str


def free_moves(operations: OperationList, graph: DependencyGraph, sequence: Sequence) -> tuple[FreeMove, ...]:
    """Give the operations that are free to move at no cost, and how far.

    Parameters
    ----------
    operations, graph, sequence
        Stages of the plan.
    """
    integers = make_problem(as_chosen(operations, sequence), graph)
    steps = [step for step in sequence.steps if not step.operation.opening]
    index = integers.numbering.operation_index
    order = [index[step.operation.name] for step in steps]
    choice = integers.choices_of(order)
    names = ["", *(step.operation.name for step in steps), ""]
    place = {op: number for number, op in enumerate(order)}
    return tuple(
        FreeMove(names[place[op] + 1], names[first], names[last + 2])
        for op, first, last in free_places(integers.problem, order, choice)
    )
