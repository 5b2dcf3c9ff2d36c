"""A second solver for the tests: a plain dynamic program without bounds, written apart from the search."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.ordering.problem import Alternative, Objective, Problem


@dataclass(frozen=True)
class _Now:
    """Where an order stands."""

    done: frozenset[int]
    last: int
    clamping: int
    tool: int
    mode: int
    place: int
    visit: frozenset[int]
    since_zero: frozenset[int]


def least(problem: Problem, objective: Objective) -> tuple[int, ...] | None:
    """Value of the best order; for problems without waits, capacity, groups and rules by clamping.

    Parameters
    ----------
    problem
        The problem.
    objective
        The levels.
    """
    empty: frozenset[int] = frozenset()
    layer = {_Now(empty, -1, -1, -1, -1, -1, empty, empty): dict.fromkeys(_names(), 0)}
    for _ in range(problem.size):
        grown: dict[_Now, dict[str, int]] = {}
        for now, cost in layer.items():
            for op in range(problem.size):
                if op in now.done or not _may_follow(problem, now, op):
                    continue
                for way in problem.operations[op]:
                    if not _fits_visit(problem, now, op, way):
                        continue
                    then, added = _append(problem, now, op, way)
                    total = {name: cost[name] + added[name] for name in cost}
                    if then not in grown or _levels(total, objective) < _levels(grown[then], objective):
                        grown[then] = total
        layer = grown
    return min((_levels(cost, objective) for cost in layer.values()), default=None)


def _names() -> tuple[str, ...]:
    return ("clampings", "tools", "modes", "time", "penalty")


def _levels(cost: dict[str, int], objective: Objective) -> tuple[int, ...]:
    return tuple(sum(weight * cost[name] for name, weight in level.weights) for level in objective)


def _may_follow(problem: Problem, now: _Now, op: int) -> bool:
    if any(b == op and a not in now.done for a, b in problem.before):
        return False
    if any((a == now.last) != (b == op) for a, b in problem.immediately_after if a == now.last or b == op):
        return False
    if (now.last, op) in problem.forbidden_neighbours:
        return False
    if any(len({a, b} & now.done) == 1 for a, b, x in problem.not_between if x == op):
        return False
    return all(
        (one == op) == (at == len(now.done)) for one, at in problem.pinned if op == one or at == len(now.done)
    )


def _fits_visit(problem: Problem, now: _Now, op: int, way: Alternative) -> bool:
    visit = now.visit if way.clamping == now.clamping else frozenset()
    for a, b in (*problem.same_clamping, *problem.same_zero):
        if op in (a, b):
            other = b if op == a else a
            if other in now.done and other not in visit:
                return False
    for a, b in problem.not_same_clamping:
        if op in (a, b) and (b if op == a else a) in visit:
            return False
    for a, b in problem.same_zero:
        if op in (a, b):
            other = b if op == a else a
            if other in now.done and other not in now.since_zero:
                return False
    return True


def _append(problem: Problem, now: _Now, op: int, way: Alternative) -> tuple[_Now, dict[str, int]]:
    turned = now.clamping not in (-1, way.clamping)
    tool = now.tool if way.tool == -1 else way.tool
    swapped = now.tool not in (-1, tool)
    mode = now.mode if way.mode == -1 else way.mode
    coupled = now.mode not in (-1, mode)
    time = way.minutes
    time += problem.clamping_change[now.clamping][way.clamping] if turned else 0
    time += problem.tool_change[tool] if swapped else 0
    time += problem.mode_change[now.mode][mode] if coupled else 0
    if now.place != -1 and way.place != -1:
        if turned or swapped:
            home = problem.home_positioning or (0,) * (max(now.place, way.place) + 1)
            time += home[now.place] + home[way.place]
        elif problem.positioning:
            time += problem.positioning[now.place][way.place]
    penalty = sum(cost for a, b, cost in problem.soft_before if b == op and a not in now.done)
    then = _Now(
        now.done | {op},
        op,
        way.clamping,
        tool,
        mode,
        now.place if way.place == -1 else way.place,
        frozenset({op}) if turned else now.visit | {op},
        frozenset({op}) if op in problem.re_references else now.since_zero | {op},
    )
    added = {"clampings": turned, "tools": swapped, "modes": coupled, "time": time, "penalty": penalty}
    return then, {name: int(value) for name, value in added.items()}
