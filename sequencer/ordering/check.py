"""Replays an order: which constraints it breaks and what it costs, independent of the search."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sequencer.errors import OutOfRange
from sequencer.ordering.problem import Alternative, Constraint, Objective, Problem


@dataclass(frozen=True)
class Violation:
    """A constraint that an order breaks.

    Parameters
    ----------
    constraint
        Which one.
    operations
        The operations concerned.
    what
        What is wrong, in words of numbers.
    """

    constraint: Constraint
    operations: tuple[int, ...]
    what: str


@dataclass(frozen=True)
class Measures:
    """What an order costs, by kind.

    Parameters
    ----------
    clampings, tools, modes
        Number of changes.
    own, clamping_time, tool_time, mode_time, positioning, waiting
        Time by kind.
    penalty
        Sum of the penalties of soft constraints that are broken.
    starts
        Start of each step of the order, from 0.
    """

    clampings: int
    tools: int
    modes: int
    own: int
    clamping_time: int
    tool_time: int
    mode_time: int
    positioning: int
    waiting: int
    penalty: int
    starts: tuple[int, ...]

    @property
    def time(self) -> int:
        """All time together."""
        changes = self.clamping_time + self.tool_time + self.mode_time
        return self.own + changes + self.positioning + self.waiting

    @property
    def visits(self) -> int:
        """Number of clamping visits."""
        return self.clampings + 1 if self.starts else 0

    def values(self, objective: Objective) -> tuple[int, ...]:
        """Give the value of each level of an objective.

        Parameters
        ----------
        objective
            The levels.
        """
        return tuple(
            sum(weight * int(getattr(self, name)) for name, weight in level.weights) for level in objective
        )


def evaluate(problem: Problem, order: Sequence[int], choice: Sequence[int]) -> Measures:
    """Add up what an order costs, allowed or not.

    Parameters
    ----------
    problem
        The problem.
    order
        Operations in their order.
    choice
        Alternative of each operation; that of operations left out is not looked at.

    Raises
    ------
    OutOfRange
        When the order names an operation twice or one that does not exist, or a choice does not exist.
    """
    steps = _steps(problem, order, choice)
    ends: dict[int, int] = {}
    starts: list[int] = []
    clock = waiting = clampings = tools = modes = 0
    times = [0, 0, 0, 0]
    spindle = held = spot = -1
    for number, (op, way) in enumerate(steps):
        turned = number > 0 and steps[number - 1][1].clamping != way.clamping
        swapped = way.tool != -1 and spindle not in (-1, way.tool)
        coupled = way.mode != -1 and held not in (-1, way.mode)
        parts = [
            problem.clamping_change[steps[number - 1][1].clamping][way.clamping] if turned else 0,
            problem.tool_change[way.tool] if swapped else 0,
            problem.mode_change[held][way.mode] if coupled else 0,
            _way_between(problem, spot, way.place, turned or swapped),
        ]
        clampings, tools, modes = clampings + turned, tools + swapped, modes + coupled
        times = [total + part for total, part in zip(times, parts, strict=True)]
        clock += sum(parts)
        earliest = max((ends[a] + w for a, b, w in problem.minimum_wait if b == op and a in ends), default=0)
        idle = max(0, earliest - clock)
        waiting, clock = waiting + idle, clock + idle
        starts.append(clock)
        clock += way.minutes
        ends[op] = clock
        spindle = spindle if way.tool == -1 else way.tool
        held = held if way.mode == -1 else way.mode
        spot = spot if way.place == -1 else way.place
    return Measures(
        clampings=clampings,
        tools=tools,
        modes=modes,
        own=sum(way.minutes for _, way in steps),
        clamping_time=times[0],
        tool_time=times[1],
        mode_time=times[2],
        positioning=times[3],
        waiting=waiting,
        penalty=_penalty(problem, order),
        starts=tuple(starts),
    )


def _way_between(problem: Problem, spot: int, place: int, away: bool) -> int:
    if spot == -1 or place == -1:
        return 0
    if away:
        return (
            problem.home_positioning[spot] + problem.home_positioning[place]
            if problem.home_positioning
            else 0
        )
    return problem.positioning[spot][place] if problem.positioning else 0


def _penalty(problem: Problem, order: Sequence[int]) -> int:
    position = {op: number for number, op in enumerate(order)}
    return sum(
        cost
        for a, b, cost in problem.soft_before
        if a in position and b in position and position[b] < position[a]
    )


def _steps(problem: Problem, order: Sequence[int], choice: Sequence[int]) -> list[tuple[int, Alternative]]:
    if len(choice) != problem.size:
        raise OutOfRange(f"{len(choice)} choices", where="choice", limit=f"{problem.size} operations")
    if len(set(order)) != len(order):
        twice = sorted(op for op in set(order) if list(order).count(op) > 1)
        raise OutOfRange(f"operations {twice} are listed twice", where="order", limit="each at most once")
    steps = []
    for op in order:
        if not 0 <= op < problem.size:
            raise OutOfRange(f"operation {op}", where="order", limit=f"0 to {problem.size - 1}")
        ways = problem.operations[op]
        if not 0 <= choice[op] < len(ways):
            raise OutOfRange(
                f"alternative {choice[op]}", where=f"choice[{op}]", limit=f"0 to {len(ways) - 1}"
            )
        steps.append((op, ways[choice[op]]))
    return steps


def check(problem: Problem, order: Sequence[int], choice: Sequence[int]) -> tuple[Violation, ...]:
    """Name every constraint that an order breaks.

    Parameters
    ----------
    problem
        The problem.
    order
        Operations in their order.
    choice
        Alternative of each operation; that of operations left out is not looked at.

    Raises
    ------
    OutOfRange
        When the order names an operation twice or one that does not exist, or a choice does not exist.
    """
    steps = _steps(problem, order, choice)
    position = {op: number for number, op in enumerate(order)}
    visit: dict[int, int] = {}
    current = 0
    for number, (op, way) in enumerate(steps):
        current += number > 0 and steps[number - 1][1].clamping != way.clamping
        visit[op] = current
    return (
        *_completeness(problem, position),
        *_orders(problem, position),
        *_neighbours(problem, position),
        *_visits(problem, position, visit),
        *_clamping_rules(problem, position, {op: way.clamping for op, way in steps}),
        *_single_visits(problem, steps),
        *_positions(problem, position),
        *_capacity(problem, steps),
    )


def _completeness(problem: Problem, position: dict[int, int]) -> Iterator[Violation]:
    grouped = {op for group in problem.either_or for op in group}
    tied = {op for pair in problem.only_with for op in pair}
    for op in range(problem.size):
        if op not in position and op not in grouped and op not in tied:
            yield Violation(Constraint("operations", op), (op,), f"operation {op} is left out")
    for index, group in enumerate(problem.either_or):
        done = tuple(op for op in group if op in position)
        if len(done) != 1:
            yield Violation(Constraint("either_or", index), group, f"{len(done)} of {group} are done")
    for index, (a, b) in enumerate(problem.only_with):
        if (a in position) != (b in position):
            yield Violation(Constraint("only_with", index), (a, b), f"only one of {a} and {b} is done")
    for op in sorted(tied - grouped - set(position)):
        if not _may_be_left_out(problem, op, grouped):
            yield Violation(Constraint("operations", op), (op,), f"operation {op} is left out")


def _may_be_left_out(problem: Problem, op: int, grouped: set[int]) -> bool:
    """Only an operation tied, directly or over others, to a member of an either-or group may be left out."""
    reached = {op}
    for _ in problem.only_with:
        for a, b in problem.only_with:
            if a in reached or b in reached:
                reached |= {a, b}
    return bool(reached & grouped)


def _orders(problem: Problem, position: dict[int, int]) -> Iterator[Violation]:
    for kind in ("before", "minimum_wait"):
        for index, (a, b, *_) in enumerate(getattr(problem, kind)):
            if a in position and b in position and position[a] > position[b]:
                yield Violation(Constraint(kind, index), (a, b), f"{a} is done after {b}")


def _neighbours(problem: Problem, position: dict[int, int]) -> Iterator[Violation]:
    for index, (a, b) in enumerate(problem.immediately_after):
        if a in position and b in position and position[b] != position[a] + 1:
            yield Violation(Constraint("immediately_after", index), (a, b), f"{b} is not directly after {a}")
    for index, (a, b) in enumerate(problem.forbidden_neighbours):
        if a in position and b in position and position[b] == position[a] + 1:
            yield Violation(Constraint("forbidden_neighbours", index), (a, b), f"{b} is directly after {a}")


def _visits(problem: Problem, position: dict[int, int], visit: dict[int, int]) -> Iterator[Violation]:
    for index, (a, b) in enumerate(problem.same_clamping):
        if a in visit and b in visit and visit[a] != visit[b]:
            yield Violation(
                Constraint("same_clamping", index), (a, b), f"{a} and {b} are in two clamping visits"
            )
    for index, (a, b) in enumerate(problem.not_same_clamping):
        if a in visit and b in visit and visit[a] == visit[b]:
            yield Violation(
                Constraint("not_same_clamping", index), (a, b), f"{a} and {b} are in one clamping visit"
            )
    for index, (a, b) in enumerate(problem.same_zero):
        if a not in visit or b not in visit:
            continue
        first, second = sorted((position[a], position[b]))
        breaks = [op for op in problem.re_references if first < position.get(op, -1) < second]
        if visit[a] != visit[b]:
            yield Violation(Constraint("same_zero", index), (a, b), f"{a} and {b} are in two clamping visits")
        elif breaks:
            yield Violation(
                Constraint("same_zero", index),
                (a, b, *breaks),
                f"{breaks} between {a} and {b} break the zero",
            )


def _clamping_rules(
    problem: Problem, position: dict[int, int], held_in: dict[int, int]
) -> Iterator[Violation]:
    for kind in ("opens", "opens_for"):
        for index, (clamping, a, *only) in enumerate(getattr(problem, kind)):
            for b in only or held_in:
                if b != a and a in position and held_in.get(b) == clamping and position[b] < position[a]:
                    what = f"{b} is done in clamping {clamping} before {a}"
                    yield Violation(Constraint(kind, index), (a, b), what)
    for kind in ("closes", "closes_for"):
        for index, (clamping, a, *only) in enumerate(getattr(problem, kind)):
            for b in only or held_in:
                if b != a and a in position and held_in.get(b) == clamping and position[b] > position[a]:
                    what = f"{b} is done in clamping {clamping} after {a}"
                    yield Violation(Constraint(kind, index), (a, b), what)


def _single_visits(problem: Problem, steps: list[tuple[int, Alternative]]) -> Iterator[Violation]:
    for index, clamping in enumerate(problem.single_visit):
        begins = tuple(
            op
            for number, (op, way) in enumerate(steps)
            if way.clamping == clamping and (number == 0 or steps[number - 1][1].clamping != clamping)
        )
        if len(begins) > 1:
            what = f"clamping {clamping} is visited {len(begins)} times"
            yield Violation(Constraint("single_visit", index), begins, what)


def _positions(problem: Problem, position: dict[int, int]) -> Iterator[Violation]:
    for index, (a, b, x) in enumerate(problem.not_between):
        if a in position and b in position and x in position:
            first, second = sorted((position[a], position[b]))
            if first < position[x] < second:
                yield Violation(Constraint("not_between", index), (a, b, x), f"{x} is between {a} and {b}")
    for index, (op, wanted) in enumerate(problem.pinned):
        if op in position and position[op] != wanted:
            yield Violation(
                Constraint("pinned", index), (op,), f"{op} is at position {position[op]}, pinned to {wanted}"
            )


def _capacity(problem: Problem, steps: list[tuple[int, Alternative]]) -> Iterator[Violation]:
    if problem.capacity < 0:
        return
    used = sorted({way.tool for _, way in steps if way.tool != -1})
    needed = sum(problem.weight_of_tool(tool) for tool in used)
    if needed > problem.capacity:
        what = f"tools {used} need {needed} places, the magazine has {problem.capacity}"
        yield Violation(Constraint("capacity", 0), tuple(op for op, _ in steps), what)
