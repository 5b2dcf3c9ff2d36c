"""Finds the best order and proves it, or says how far the proof got."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field

from sequencer.errors import OutOfRange, ProofBroken
from sequencer.ordering.bound import NEVER
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.explain import explain
from sequencer.ordering.model import Contradiction, Model, Scale, build_model, scale_of, selections
from sequencer.ordering.problem import LEXICOGRAPHIC, Objective, Problem
from sequencer.ordering.result import LevelValue, Progress, Result, Status
from sequencer.ordering.search import BestFirst, Plan, Space, beam

#: Most sets of operations that either-or groups may leave to choose from.
MOST_SELECTIONS = 2048

#: States in memory after which each wider beam is tried.
STAGES = ((2_000, 4), (20_000, 16), (200_000, 60))


@dataclass
class _Run:
    """Clock, stop sign and progress of one call."""

    seconds: float | None
    stopped_by_caller: Callable[[], bool] | None
    on_progress: Callable[[Progress], None] | None
    scale: Scale
    started: float = field(default_factory=time.monotonic)
    states: int = 0
    phase: str = ""
    values: tuple[int, ...] = ()
    halted: bool = False

    def elapsed(self) -> float:
        return time.monotonic() - self.started

    def stop(self) -> bool:
        late = self.seconds is not None and self.elapsed() >= self.seconds
        self.halted = self.halted or late or bool(self.stopped_by_caller and self.stopped_by_caller())
        return self.halted

    def tell(self, phase: str, done: float = -1.0) -> None:
        self.phase = phase
        if self.on_progress:
            self.on_progress(Progress(phase, done, self.values, self.states, self.elapsed()))


def solve(
    problem: Problem,
    *,
    objective: Objective = LEXICOGRAPHIC,
    seconds: float | None = None,
    state_limit: int = 200_000,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Result:
    """Find the best order of a problem and prove it.

    The answer depends on the problem, the objective and the state limit alone, unless a time limit
    or `stop` ends the search earlier; then the status says that the proof is open.

    Parameters
    ----------
    problem
        The problem.
    objective
        Levels, each minimised without worsening those above.
    seconds
        Time limit [s].
    state_limit
        Most states kept in memory.
    on_progress
        Called with the progress now and then.
    stop
        Asked now and then; the search ends when it says yes.

    Raises
    ------
    OutOfRange
        When either-or groups leave too many sets of operations to choose from.
    ProofBroken
        When an order and a bound contradict each other: a fault of this program.
    """
    if not objective:
        raise OutOfRange("no level", where="objective", limit="at least one")
    run = _Run(seconds, stop, on_progress, scale_of(problem, objective))
    run.tell("reading")
    models = _models(problem, run.scale)
    best, bound = _search(problem, models, run, state_limit)
    if best is None and bound >= NEVER:
        return _impossible(problem, run)
    return _answer(problem, models, run, best, bound)


def _models(problem: Problem, scale: Scale) -> list[Model]:
    count = 1
    for group in problem.either_or:
        count *= len(group)
    if count > MOST_SELECTIONS:
        raise OutOfRange(
            f"{count} sets of operations to choose from",
            where="either_or",
            limit=f"at most {MOST_SELECTIONS}",
            remedy="Decide some of the groups",
        )
    models = []
    for selection in selections(problem):
        try:
            models.append(build_model(problem, scale, selection))
        except Contradiction:
            continue
    return models


def _search(problem: Problem, models: list[Model], run: _Run, state_limit: int) -> tuple[Plan | None, int]:
    """Search without the magazine first; only if that overfills it, again with it."""
    tight = problem.capacity >= 0 and any(_may_overfill(model) for model in models)
    best, bound = _prove([Space(model, with_magazine=False) for model in models], run, state_limit)
    if not tight or bound >= NEVER:
        return best, bound
    if best is not None and not check(problem, *_order_of(problem, best)):
        return best, bound
    if run.halted:
        return None, bound
    found, with_magazine = _prove([Space(model, with_magazine=True) for model in models], run, state_limit)
    return found, max(bound, with_magazine)


def _may_overfill(model: Model) -> bool:
    tools = {way.tool for ways in model.ways for way in ways if way.tool >= 0}
    return sum(model.tool_weight[tool] for tool in tools) > model.capacity


def _prove(spaces: list[Space], run: _Run, state_limit: int) -> tuple[Plan | None, int]:
    """Widen the beam and go on with the proof in turns, until one of them is done."""
    search = BestFirst(spaces)
    best: Plan | None = None
    ranked = sorted(range(len(spaces)), key=lambda number: (spaces[number].root, number))
    stages = [(min(kept, state_limit), width) for kept, width in STAGES]
    for kept, width in stages:
        run.tell("improving")
        for number in ranked[:8]:
            found, seen, _ = beam(spaces[number], number, width, search.limit, run.stop)
            run.states += seen
            if found is not None:
                best = found
                search.lower_limit(found.cost)
                run.values = run.scale.split(found.cost)
        run.tell("proving")
        before = search.states
        search.run(kept, run.stop)
        run.states += search.states - before
        if search.best is not None and search.best.cost <= search.limit:
            best = search.best
        if search.finished or run.stop():
            break
    if best is None and search.finished:
        return None, NEVER
    return best, search.bound


def _order_of(problem: Problem, plan: Plan) -> tuple[tuple[int, ...], tuple[int, ...]]:
    choice = [-1] * problem.size
    for op, way in plan.steps:
        choice[op] = way
    return tuple(op for op, _ in plan.steps), tuple(choice)


def _answer(problem: Problem, models: list[Model], run: _Run, best: Plan | None, bound: int) -> Result:
    if best is None:
        values = tuple(
            LevelValue(level.name, -1, lowest, proven=False)
            for level, lowest in zip(run.scale.objective, run.scale.split(bound), strict=True)
        )
        return Result((), (), values[:1], "between bounds", _ignored(problem), run.states, run.elapsed())
    order, choice = _order_of(problem, best)
    _replay(problem, run.scale, best, bound, order, choice)
    levels = _levels(problem, models, run.scale, best.cost, bound)
    status: Status = "proven" if levels[-1].proven else "between bounds"
    ignored = () if status == "proven" else _ignored(problem)
    run.tell("done", 1.0)
    return Result(order, choice, levels, status, ignored, run.states, run.elapsed())


def _replay(
    problem: Problem, scale: Scale, best: Plan, bound: int, order: tuple[int, ...], choice: tuple[int, ...]
) -> None:
    """Hold the plan against the independent checker and the bound."""
    broken = check(problem, order, choice)
    values = evaluate(problem, order, choice).values(scale.objective)
    if broken or values != scale.split(best.cost) or bound > best.cost:
        raise ProofBroken(
            f"the plan found costs {values}, the search says {scale.split(best.cost)}, its bound"
            f" {scale.split(bound)} and {len(broken)} constraints are broken",
            where="ordering",
            remedy="This is a fault of the program; please report it with the part and the shop file",
        )


def _levels(
    problem: Problem, models: list[Model], scale: Scale, cost: int, bound: int
) -> tuple[LevelValue, ...]:
    """Bound of each level: below the first open one only what holds whatever the levels above are."""
    levels = []
    values, lowest = scale.split(cost), scale.split(bound)
    open_above = False
    for level, value, low in zip(scale.objective, values, lowest, strict=True):
        if open_above or low < value:
            alone = scale_of(problem, (level,))
            single = min(
                Space(build_model(problem, alone, model.original), with_magazine=False).root
                for model in models
            )
            low = max(low, single) if not open_above else single
        levels.append(LevelValue(level.name, value, low, proven=low == value and not open_above))
        open_above = open_above or low < value
    return tuple(levels)


def _ignored(problem: Problem) -> tuple[str, ...]:
    named = (
        ("positioning", "positioning beyond the least way into each operation"),
        ("not_same_clamping", "operations kept out of one clamping visit"),
        ("same_zero", "re-referencing between operations of one zero"),
        ("not_between", "operations kept from between others"),
        ("minimum_wait", "minimum waits"),
        ("pinned", "pinned positions"),
        ("immediately_after", "operations directly after another"),
        ("forbidden_neighbours", "forbidden neighbours"),
        ("closes", "operations that close a clamping"),
        ("closes_for", "operations that close a clamping for others"),
        ("single_visit", "clampings visited once only"),
        ("soft_before", "penalties"),
    )
    left = [text for name, text in named if getattr(problem, name)]
    if problem.capacity >= 0:
        left.append("places of the magazine")
    return tuple(left)


def _impossible(problem: Problem, run: _Run) -> Result:
    run.tell("explaining")
    conflict, loop, smallest = explain(problem, run.stop)
    return Result(
        (),
        (),
        (),
        "impossible",
        (),
        run.states,
        run.elapsed(),
        conflict=conflict,
        loop=loop,
        smallest=smallest,
    )
