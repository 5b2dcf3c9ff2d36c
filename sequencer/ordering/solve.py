"""Finds the best order and proves it, or says how far the proof got."""

from __future__ import annotations

from collections.abc import Callable

from sequencer.errors import OutOfRange, ProofBroken
from sequencer.ordering.check import check, evaluate
from sequencer.ordering.explain import explain
from sequencer.ordering.model import Contradiction, Model, build_model
from sequencer.ordering.plainness import is_chain
from sequencer.ordering.portfolio import Proof, Run, prove
from sequencer.ordering.problem import LEXICOGRAPHIC, Objective, Problem
from sequencer.ordering.result import LevelValue, Progress, Result, Status
from sequencer.ordering.scale import Scale, scale_of
from sequencer.ordering.search import Plan, Space
from sequencer.ordering.slots import choices, settlements
from sequencer.ordering.tool_choice import lightest_tools, with_tools
from sequencer.ordering.tool_groups import NEVER
from sequencer.ordering.upper_levels import order_of, prove_upper_levels

#: Most ways to decide the either-or groups that cannot be left to the search.
MOST_SELECTIONS = 2048

#: States kept at a time unless the caller says otherwise; some 100 bytes each.
STATE_LIMIT = 250_000

#: States of the quick search that does not look at the magazine.
QUICK = 20_000

#: Part of the time left that the proof of the levels above time may take.
SHARE_OF_UPPER_LEVELS = 0.85


def solve(
    problem: Problem,
    *,
    objective: Objective = LEXICOGRAPHIC,
    seconds: float | None = None,
    state_limit: int = STATE_LIMIT,
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
        When too many either-or groups must be decided before the search.
    ProofBroken
        When an order and a bound contradict each other: a fault of this program.
    """
    if not objective:
        raise OutOfRange("no level", where="objective", limit="at least one")
    run = Run(seconds, stop, on_progress, scale_of(problem, objective))
    run.tell("reading")
    models = _models(problem, run.scale)
    proof = _search(problem, models, run, state_limit)
    if proof.plan is None and proof.bound >= NEVER:
        return _impossible(problem, run)
    return _answer(problem, models, run, proof.plan, proof.bound)


def _models(problem: Problem, scale: Scale) -> list[Model]:
    count = choices(problem)
    if count > MOST_SELECTIONS:
        raise OutOfRange(
            f"{count} ways to decide groups whose members other constraints tell apart",
            where="either_or",
            limit=f"at most {MOST_SELECTIONS}",
            remedy="Decide some of the groups",
        )
    models = []
    for slots in settlements(problem):
        try:
            models.append(build_model(problem, scale, slots))
        except Contradiction:
            continue
    return models


def _search(problem: Problem, models: list[Model], run: Run, state_limit: int) -> Proof:
    """Search, with an eye on the magazine only if it may overflow."""
    if problem.capacity < 0 or not any(_may_overfill(model) for model in models):
        return _with_upper_levels(problem, models, run, state_limit, with_magazine=False)
    lightest = [(model, *lightest_tools(model)) for model in models]
    left = [model for model, _, weight, sure in lightest if weight <= problem.capacity or not sure]
    lean = [with_tools(model, tools) for model, tools, weight, _ in lightest if weight <= problem.capacity]
    return _within_magazine(problem, left, lean, run, state_limit)


def _within_magazine(
    problem: Problem, models: list[Model], lean: list[Model], run: Run, state_limit: int
) -> Proof:
    """Search briefly without the magazine; if that overfills it, with few tools, and then exactly."""
    loose = prove([Space(model, with_magazine=False) for model in models], run, QUICK)
    fits = loose.plan is not None and not check(problem, *order_of(problem, loose.plan))
    start = loose.plan if fits else None
    if loose.bound >= (NEVER if start is None else start.cost):
        return loose
    first = prove([Space(model, with_magazine=False) for model in lean], run, QUICK).plan if lean else None
    if first is not None and (start is None or first.cost < start.cost):
        start = first
    run.values = () if start is None else run.scale.split(start.cost)
    full = _with_upper_levels(problem, models, run, state_limit, with_magazine=True, start=start)
    return Proof(full.plan, max(loose.bound, full.bound))


def _with_upper_levels(
    problem: Problem,
    models: list[Model],
    run: Run,
    state_limit: int,
    *,
    with_magazine: bool,
    start: Plan | None = None,
) -> Proof:
    """Search; where a quick proof fails, settle the levels above time first, which need no positions."""

    def hint() -> Proof | None:
        return _upper_levels(problem, models, run, state_limit, with_magazine=with_magazine)

    spaces = [Space(model, with_magazine=with_magazine) for model in models]
    return prove(spaces, run, state_limit, hint, start)


def _upper_levels(
    problem: Problem, models: list[Model], run: Run, state_limit: int, *, with_magazine: bool
) -> Proof | None:
    """Proof of the levels above the first that counts time, as far as it tells about all levels."""
    objective = run.scale.objective
    timed = [any(measure == "time" for measure, _ in level.weights) for level in objective]
    count = timed.index(True) if True in timed else 0
    if count == 0:
        return None
    scale = scale_of(problem, objective[:count])
    part = run.part(scale, SHARE_OF_UPPER_LEVELS)
    made = [build_model(problem, scale, model.slots) for model in models]
    found = prove_upper_levels(problem, made, part, state_limit, with_magazine=with_magazine)
    run.states += part.states
    if found.bound >= NEVER:
        return Proof(None, NEVER)
    bound = run.scale.joined(scale.split(found.bound))
    if found.plan is None:
        return Proof(None, bound)
    values = evaluate(problem, *order_of(problem, found.plan)).values(objective)
    return Proof(Plan(run.scale.joined(values), found.plan.model, found.plan.steps), bound)


def _may_overfill(model: Model) -> bool:
    tools = {way.tool for ways in model.ways for way in ways if way.tool >= 0}
    return sum(model.tool_weight[tool] for tool in tools) > model.capacity


def _answer(problem: Problem, models: list[Model], run: Run, best: Plan | None, bound: int) -> Result:
    if best is None:
        values = tuple(
            LevelValue(level.name, -1, lowest, proven=False)
            for level, lowest in zip(run.scale.objective, run.scale.split(bound), strict=True)
        )
        left_out = _ignored(problem, models)
        return Result((), (), values[:1], "between bounds", left_out, run.states, run.elapsed())
    order, choice = order_of(problem, best)
    _replay(problem, run.scale, best, bound, order, choice)
    levels = _levels(problem, models, run.scale, best.cost, bound)
    status: Status = "proven" if levels[-1].proven else "between bounds"
    ignored = () if status == "proven" else _ignored(problem, models)
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
                Space(build_model(problem, alone, model.slots), with_magazine=False).root for model in models
            )
            low = max(low, single) if not open_above else single
        levels.append(LevelValue(level.name, value, low, proven=low == value and not open_above))
        open_above = open_above or low < value
    return tuple(levels)


def _ignored(problem: Problem, models: list[Model]) -> tuple[str, ...]:
    if len(models) == 1 and is_chain(models[0]):
        return ("all operations met but the last few",)
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


def _impossible(problem: Problem, run: Run) -> Result:
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
