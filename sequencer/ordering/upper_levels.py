"""The levels above time: least changes visit by visit first, then exactly with all constraints."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sequencer.ordering.check import check, evaluate
from sequencer.ordering.model import Model
from sequencer.ordering.portfolio import Proof, Run, prove
from sequencer.ordering.problem import Problem
from sequencer.ordering.scale import Scale
from sequencer.ordering.search import Plan, Space
from sequencer.ordering.tool_groups import NEVER

#: Part of the time of the upper levels that the relaxed question may take.
SHARE_OF_LEAPS = 0.95

#: First width of the passes, how much wider each is than the one before, and most models looked at.
FIRST_WIDTH, WIDER, MOST_MODELS = 300, 16, 8

#: Most operations of one tool group of the bound.
GROUP_SIZE = 32


def order_of(problem: Problem, plan: Plan) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """Give the order of a plan and the alternative of each operation, -1 for those left out.

    Parameters
    ----------
    problem
        The problem.
    plan
        The plan.
    """
    choice = [-1] * problem.size
    for op, way in plan.steps:
        choice[op] = way
    return tuple(op for op, _ in plan.steps), tuple(choice)


def prove_upper_levels(
    problem: Problem, models: list[Model], part: Run, state_limit: int, *, with_magazine: bool
) -> Proof:
    """Prove an objective that does not count time, as far as the time goes.

    Parameters
    ----------
    problem
        The problem.
    models
        Its models in the scale of that objective.
    part
        Clock, with the scale of that objective.
    state_limit
        Most states kept at a time.
    with_magazine
        Whether the magazine may overflow.
    """
    first = least_changes(problem, models, part.part(part.scale, SHARE_OF_LEAPS), state_limit)
    if first is None:
        return prove([Space(model, with_magazine=with_magazine) for model in models], part, state_limit)
    cost = NEVER if first.plan is None else first.plan.cost
    if first.bound >= cost or part.stop():
        return first
    spaces = [Space(model, with_magazine=with_magazine) for model in models]
    exact = prove(spaces, part, state_limit, start=first.plan)
    return Proof(exact.plan, max(first.bound, exact.bound))


def least_changes(problem: Problem, models: list[Model], part: Run, state_limit: int) -> Proof | None:
    """Bound and, where the relaxed question's order keeps all constraints, the order; None if not applicable.

    Parameters
    ----------
    problem
        The problem.
    models
        Its models in a scale that does not count time.
    part
        Clock.
    state_limit
        Most states kept at a time.
    """
    if len(models) > MOST_MODELS or not all(_ready(model, part) for model in models):
        return None
    from sequencer.ordering.leaps import Leaps, relaxed

    spaces = [Space(relaxed(model), with_magazine=False, group_size=GROUP_SIZE) for model in models]
    programs: dict[int, Leaps] = {}
    bounds = [space.root for space in spaces]
    limit, best, width = part.scale.largest + 1, None, min(FIRST_WIDTH, state_limit)
    while True:
        for number in sorted(range(len(spaces)), key=lambda one: (bounds[one], one)):
            if bounds[number] >= limit:
                continue
            if number not in programs:
                programs[number] = Leaps(spaces[number], number)
            outcome = programs[number].run(width, limit, part.stop, _teller(part, width))
            if outcome is None:
                return _proof(problem, part.scale, best, min(bounds))
            part.states += outcome.states
            if outcome.plan is not None:
                best, limit = outcome.plan, outcome.plan.cost
            bounds[number] = max(bounds[number], outcome.bound)
        if min(bounds) >= limit or width >= state_limit:
            return _proof(problem, part.scale, best, min(*bounds, limit) if best else min(bounds))
        width = min(WIDER * width, state_limit)


def _proof(problem: Problem, scale: Scale, best: Plan | None, bound: int) -> Proof:
    """The order counts only if the checker finds nothing broken, and costs what the checker says."""
    if best is None or check(problem, *order_of(problem, best)):
        return Proof(None, bound)
    values = evaluate(problem, *order_of(problem, best)).values(scale.objective)
    return Proof(replace(best, cost=scale.joined(values)), bound)


def _ready(model: Model, part: Run) -> bool:
    """Whether the compiled program can hold the model, and removing a visit never costs anything."""
    try:
        from sequencer.ordering.arrays import fits
        from sequencer.ordering.compiling import begin_beside, compile_beside, is_compiled
        from sequencer.ordering.leaps import relaxed
    except (ImportError, RuntimeError):
        return False
    space = Space(relaxed(model), with_magazine=False)
    if space.moves.at_once != model.full or not fits(space.model, space.moves, space.bound):
        return False
    if not is_compiled("layers"):
        begin_beside("layers")  # it will be wanted next, and a second core may be free
    return is_compiled("leaps") or compile_beside("leaps", part.stop, lambda: part.tell("compiling"))


def _teller(part: Run, width: int) -> Callable[[float], None]:
    return lambda done: part.tell(f"counting changes, up to {width} states a visit", done)
