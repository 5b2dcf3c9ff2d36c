"""Names the constraints that make a problem impossible, none of which can be spared."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from sequencer.ordering.bound import ClampingBound
from sequencer.ordering.model import Contradiction, Model, build_model
from sequencer.ordering.moves import Moves, State, Step
from sequencer.ordering.problem import TOTAL_TIME, Alternative, Constraint, Problem
from sequencer.ordering.scale import scale_of
from sequencer.ordering.slots import settlements
from sequencer.ordering.tool_choice import lightest_tools
from sequencer.ordering.tool_groups import NEVER

#: States looked at in one question "is it still impossible?".
QUESTION_LIMIT = 20_000

Conflict = tuple[tuple[Constraint, ...], tuple[int, ...], bool]


def explain(problem: Problem, stop: Callable[[], bool]) -> Conflict:
    """Find a smallest conflict: the constraints, a loop if it is one, and whether it is surely smallest.

    Parameters
    ----------
    problem
        A problem known to be impossible.
    stop
        Asked between questions; ends the reduction.
    """
    found = find_loop(problem)
    if found:
        arcs, loop = found
        return tuple(sorted(arcs)), loop, True
    return _reduce(problem, stop)


def find_loop(problem: Problem) -> tuple[list[Constraint], tuple[int, ...]] | None:
    """Find a shortest loop of operations each before the next, among those that are always done.

    Parameters
    ----------
    problem
        The problem.
    """
    optional = {op for group in problem.either_or if len(group) > 1 for op in group}
    for _ in problem.only_with:
        optional |= {op for pair in problem.only_with if optional & set(pair) for op in pair}
    arcs: dict[int, dict[int, Constraint]] = {}
    for kind in ("before", "immediately_after", "minimum_wait"):
        for index, (a, b, *_) in enumerate(getattr(problem, kind)):
            if a not in optional and b not in optional:
                arcs.setdefault(a, {}).setdefault(b, Constraint(kind, index))
    shortest: tuple[int, ...] = ()
    for start in sorted(arcs):
        loop = _loop_through(start, arcs)
        if loop and (not shortest or len(loop) < len(shortest)):
            shortest = loop
    if not shortest:
        return None
    return [arcs[a][b] for a, b in zip(shortest, (*shortest[1:], shortest[0]), strict=True)], shortest


def _loop_through(start: int, arcs: dict[int, dict[int, Constraint]]) -> tuple[int, ...]:
    came = {start: -1}
    queue = [start]
    for op in queue:
        for following in sorted(arcs.get(op, {})):
            if following == start:
                path = [op]
                while came[path[-1]] >= 0:
                    path.append(came[path[-1]])
                return tuple(reversed(path))
            if following not in came:
                came[following] = op
                queue.append(following)
    return ()


def _reduce(problem: Problem, stop: Callable[[], bool]) -> Conflict:
    """Leave out ever smaller pieces as long as the problem stays impossible."""
    kept = list(problem.constraints())
    smallest = True
    piece = max(1, len(kept) // 2)
    while True:
        number = 0
        while number < len(kept):
            if stop():
                return tuple(sorted(kept)), (), False
            trial = kept[:number] + kept[number + piece :]
            answer = is_possible(with_constraints(problem, trial))
            if answer is False:
                kept = trial
            else:
                smallest = smallest and (answer is True or piece > 1)
                number += piece
        if piece == 1:
            return tuple(sorted(kept)), (), smallest
        piece = max(1, piece // 2)


def with_constraints(problem: Problem, kept: Sequence[Constraint]) -> Problem:
    """Copy a problem with only some of its constraints.

    Parameters
    ----------
    problem
        The problem.
    kept
        Constraints that stay.
    """
    chosen: dict[str, list[int]] = {}
    for constraint in kept:
        chosen.setdefault(constraint.kind, []).append(constraint.index)
    fields = {
        kind: tuple(getattr(problem, kind)[index] for index in sorted(chosen.get(kind, ())))
        for kind in {constraint.kind for constraint in problem.constraints()} - {"capacity"}
    }
    capacity = problem.capacity if "capacity" in chosen else -1
    return replace(problem, capacity=capacity, **fields)


def is_possible(problem: Problem, limit: int = QUESTION_LIMIT) -> bool | None:
    """Tell whether any order holds all constraints; None if that stays open.

    Parameters
    ----------
    problem
        The problem.
    limit
        Most states looked at.
    """
    bare = _bare(problem)
    scale = scale_of(bare, TOTAL_TIME)
    answer: bool | None = False
    for slots in settlements(bare):
        try:
            model = build_model(bare, scale, slots)
        except Contradiction:
            continue
        if _never_fits(model):
            continue
        found = _Dive(model, limit).run()
        if found:
            return True
        if found is None:
            answer = None
    return answer


def _never_fits(model: Model) -> bool:
    """Whether the magazine is too small for any set of tools."""
    if model.capacity < 0:
        return False
    _, weight, sure = lightest_tools(model)
    return sure and weight > model.capacity


def _bare(problem: Problem) -> Problem:
    """Only what can make an order impossible: no costs, no modes and places, tools only for the magazine."""
    tools = problem.capacity >= 0
    operations = tuple(
        tuple(
            Alternative(tool, clamping, -1, 0, -1)
            for tool, clamping in dict.fromkeys((way.tool if tools else -1, way.clamping) for way in ways)
        )
        for ways in problem.operations
    )
    waits = tuple((a, b) for a, b, _ in problem.minimum_wait)
    count = len(problem.clamping_change)
    return replace(
        problem,
        operations=operations,
        before=(*problem.before, *waits),
        minimum_wait=(),
        soft_before=(),
        clamping_change=((0,) * count,) * count,
        positioning=(),
        home_positioning=(),
    )


class _Dive:
    """Depth-first search for any order; operations that bind nothing are done as soon as they fit."""

    def __init__(self, model: Model, limit: int) -> None:
        tight = model.capacity >= 0
        self._model = model
        self._moves = Moves(model, with_magazine=tight)
        self._clampings = ClampingBound(model, 0)
        self._limit = limit
        self._free = self._unbound() if not tight else 0

    def _unbound(self) -> int:
        """Operations whose moment cannot hinder any other."""
        model = self._model
        if model.pinned or any(model.forbidden) or any(model.apart):
            return 0  # an operation may be wanted elsewhere, to part two others
        bound = model.re_references if model.zero_pairs else 0
        for mask in (*model.together, *model.zero_pairs):
            bound |= mask
        for ways in model.ways:
            for way in ways:
                bound |= way.bars
        for op, pairs in enumerate(model.between):
            for pair in pairs:
                bound |= pair | 1 << op
        for op in range(model.size):
            if model.follower[op] >= 0 or model.leader[op] >= 0:
                bound |= 1 << op
        return model.full & ~bound

    def run(self) -> bool | None:
        if self._moves.overfull:
            return False
        start = self._moves.start()
        stack, seen = [start], {start}
        while stack:
            state = stack.pop()
            if state[0] == self._model.full:
                return True
            if len(seen) > self._limit:
                return None
            for step in reversed(self._promising(state)):
                after = self._without_tool(step.state)
                if after not in seen and self._clampings.of(after[0], after[1]) < NEVER:
                    seen.add(after)
                    stack.append(after)
        return False

    def _promising(self, state: State) -> list[Step]:
        steps = list(self._moves.steps(state))
        for step in steps:
            if self._free >> step.operation & 1 and step.state[1] == state[1]:
                return [step]
        return sorted(steps, key=lambda step: (step.state[1] != state[1], step.operation))

    @staticmethod
    def _without_tool(state: State) -> State:
        return (*state[:2], -1, *state[3:])
