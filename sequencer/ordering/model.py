"""A problem with its left-out operations settled, as bit masks and single integer costs for the search."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from sequencer.ordering.problem import Problem
from sequencer.ordering.scale import Scale


class Contradiction(Exception):
    """The constraints of a problem exclude each other before any search."""


@dataclass(frozen=True, slots=True)
class Way:
    """An alternative with its cost as one integer.

    `needs` masks the operations that must be done before it may be taken, `bars` those that must not be.
    """

    index: int
    tool: int
    clamping: int
    mode: int
    place: int
    cost: int
    minutes: int
    needs: int
    bars: int


@dataclass(frozen=True)
class Model:
    """What the search sees: operations renumbered from 0, sets of operations as bit masks.

    Parameters
    ----------
    scale
        How costs are made.
    original
        Number in the problem of each operation.
    ways
        Alternatives of each operation, dominated ones removed.
    before, after
        Operations that come before (after) each one, directly or not.
    tool_cost, clamping_cost, mode_cost, positioning, home
        Costs of changes as single integers; the last two may be empty.
    together
        Groups done in one clamping visit, as masks.
    zero_pairs
        Pairs without a re-referencing operation between, as masks of two.
    re_references
        Mask of the operations that break the zero.
    between
        For each operation the pairs it must not come between, as masks of two.
    apart
        For each operation those of other clamping visits.
    waits
        Triples (a, b, time).
    time_unit
        What one unit of time counts.
    times
        The costs of changes as plain time: tool, clamping, mode, positioning, home; used for waits.
    pinned
        Operation by position.
    follower, leader
        The operation directly after (before) each one, -1 if free.
    forbidden
        For each operation those never directly after it.
    soft
        For each operation pairs (mask, cost): due if the mask is not done yet.
    single_visit
        Mask of the clampings visited once only.
    tool_weight, capacity
        The magazine; capacity -1: no limit.
    """

    scale: Scale
    original: tuple[int, ...]
    ways: tuple[tuple[Way, ...], ...]
    before: tuple[int, ...]
    after: tuple[int, ...]
    tool_cost: tuple[int, ...]
    clamping_cost: tuple[tuple[int, ...], ...]
    mode_cost: tuple[tuple[int, ...], ...]
    positioning: tuple[tuple[int, ...], ...]
    home: tuple[int, ...]
    together: tuple[int, ...]
    zero_pairs: tuple[int, ...]
    re_references: int
    between: tuple[tuple[int, ...], ...]
    apart: tuple[int, ...]
    waits: tuple[tuple[int, int, int], ...]
    time_unit: int
    problem: Problem
    pinned: dict[int, int]
    follower: tuple[int, ...]
    leader: tuple[int, ...]
    forbidden: tuple[int, ...]
    soft: tuple[tuple[tuple[int, int], ...], ...]
    single_visit: int
    tool_weight: tuple[int, ...]
    capacity: int

    @property
    def size(self) -> int:
        """Number of operations."""
        return len(self.ways)

    @property
    def full(self) -> int:
        """Mask of all operations."""
        return (1 << len(self.ways)) - 1


def bits(mask: int) -> Iterator[int]:
    """List the members of a mask, smallest first.

    Parameters
    ----------
    mask
        Set of operations.
    """
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def selections(problem: Problem) -> Iterator[tuple[int, ...]]:
    """List the sets of operations that may be done, by either-or groups and ties.

    Parameters
    ----------
    problem
        The problem.
    """
    grouped = {op for group in problem.either_or for op in group}
    tied = _tied_sets(problem)
    seen: set[tuple[int, ...]] = set()
    for chosen in product(*problem.either_or):
        done = {op for op in range(problem.size) if op not in grouped} | set(chosen)
        out = grouped - set(chosen)
        done -= {op for ties in tied if ties & out for op in ties if op not in grouped}
        if any(ties & done and ties & out for ties in tied):
            continue
        picked = tuple(sorted(done))
        if picked not in seen:
            seen.add(picked)
            yield picked


def _tied_sets(problem: Problem) -> list[set[int]]:
    sets: list[set[int]] = []
    for pair in problem.only_with:
        joined = set(pair)
        rest = []
        for known in sets:
            if known & joined:
                joined |= known
            else:
                rest.append(known)
        sets = [*rest, joined]
    return sets


def build_model(problem: Problem, scale: Scale, selection: Sequence[int]) -> Model:
    """Renumber the operations that are done and turn constraints into masks.

    Parameters
    ----------
    problem
        The problem.
    scale
        How costs are made.
    selection
        The operations that are done.

    Raises
    ------
    Contradiction
        When the constraints exclude each other already here.
    """
    number = {op: place for place, op in enumerate(selection)}
    size = len(selection)
    follower, leader = _chains(problem, number)
    together = _together(problem, number)
    ways, before, after = _settle(problem, number, follower, _ways(problem, scale, number, together))
    apart = [0] * size
    for a, b in _kept(problem.not_same_clamping, number):
        apart[a] |= 1 << b
        apart[b] |= 1 << a
    between: list[list[int]] = [[] for _ in range(size)]
    for a, b, x in _kept(problem.not_between, number):
        between[x].append(1 << a | 1 << b)
    forbidden = [0] * size
    for a, b in _kept(problem.forbidden_neighbours, number):
        forbidden[a] |= 1 << b
    soft: list[list[tuple[int, int]]] = [[] for _ in range(size)]
    for a, b, penalty in problem.soft_before:
        if a in number and b in number:
            soft[number[b]].append((1 << number[a], penalty * scale.unit("penalty")))
    time = scale.unit("time")
    return Model(
        scale=scale,
        original=tuple(selection),
        ways=ways,
        before=before,
        after=after,
        tool_cost=tuple(scale.unit("tools") + time * cost for cost in problem.tool_change),
        clamping_cost=_changes(problem.clamping_change, scale.unit("clampings"), time),
        mode_cost=_changes(problem.mode_change, scale.unit("modes"), time),
        positioning=tuple(tuple(time * cost for cost in row) for row in problem.positioning),
        home=tuple(time * cost for cost in problem.home_positioning),
        together=together,
        zero_pairs=tuple(1 << a | 1 << b for a, b in _kept(problem.same_zero, number)),
        re_references=sum({1 << number[op] for op in problem.re_references if op in number}),
        between=tuple(map(tuple, between)),
        apart=tuple(apart),
        waits=tuple(
            (number[a], number[b], wait)
            for a, b, wait in problem.minimum_wait
            if a in number and b in number and wait > 0
        ),
        time_unit=time,
        problem=problem,
        pinned=_pins(problem, number),
        follower=tuple(follower),
        leader=tuple(leader),
        forbidden=tuple(forbidden),
        soft=tuple(map(tuple, soft)),
        single_visit=sum({1 << clamping for clamping in problem.single_visit}),
        tool_weight=tuple(problem.weight_of_tool(tool) for tool in range(len(problem.tool_change))),
        capacity=problem.capacity,
    )


def _kept(entries: Iterable[tuple[int, ...]], number: dict[int, int]) -> Iterator[tuple[int, ...]]:
    for entry in entries:
        if all(op in number for op in entry):
            yield tuple(number[op] for op in entry)


def _chains(problem: Problem, number: dict[int, int]) -> tuple[list[int], list[int]]:
    follower, leader = [-1] * len(number), [-1] * len(number)
    for a, b in _kept(problem.immediately_after, number):
        if follower[a] not in (-1, b) or leader[b] not in (-1, a):
            raise Contradiction
        follower[a], leader[b] = b, a
    return follower, leader


def _settle(
    problem: Problem, number: dict[int, int], follower: list[int], ways: list[tuple[Way, ...]]
) -> tuple[tuple[tuple[Way, ...], ...], tuple[int, ...], tuple[int, ...]]:
    """Strike ways that come too early or too late, and draw arrows from what all ways left have in common."""
    direct = [0] * len(number)
    waits = ((a, b) for a, b, _ in problem.minimum_wait)
    for a, b in _kept((*problem.before, *waits, *problem.immediately_after), number):
        direct[b] |= 1 << a
    while True:
        for op, left in enumerate(ways):
            direct[op] |= _common(way.needs for way in left)
            for later in bits(_common(way.bars for way in left)):
                direct[later] |= 1 << op
        before, after = _closure(direct, follower)
        kept = [
            tuple(way for way in left if not way.needs & after[op] and not way.bars & before[op])
            for op, left in enumerate(ways)
        ]
        if not all(kept):
            raise Contradiction
        if kept == ways:
            return tuple(kept), before, after
        ways, direct = kept, list(before)


def _common(masks: Iterable[int]) -> int:
    """What all masks share; there is at least one."""
    common = -1
    for mask in masks:
        common &= mask
    return common


def _closure(direct: Sequence[int], follower: list[int]) -> tuple[tuple[int, ...], tuple[int, ...]]:
    """All operations before and after each one; a chain of direct followers moves as one."""
    reach = list(direct)
    changed = True
    while changed:
        changed = False
        for op in range(len(reach)):
            reached = reach[op]
            for earlier in bits(reach[op]):
                reached |= reach[earlier]
                if follower[earlier] not in (-1, op):
                    reached |= 1 << follower[earlier]
            if follower[op] >= 0:
                reached |= reach[follower[op]] & ~(1 << op)
            if reached >> op & 1:
                raise Contradiction
            if reached != reach[op]:
                reach[op], changed = reached, True
    after = [0] * len(reach)
    for op, earlier_ones in enumerate(reach):
        for earlier in bits(earlier_ones):
            after[earlier] |= 1 << op
    return tuple(reach), tuple(after)


def _together(problem: Problem, number: dict[int, int]) -> tuple[int, ...]:
    groups: list[int] = []
    for a, b in _kept((*problem.same_clamping, *problem.same_zero), number):
        joined = 1 << a | 1 << b
        rest = []
        for group in groups:
            if group & joined:
                joined |= group
            else:
                rest.append(group)
        groups = [*rest, joined]
    for a, b in _kept(problem.not_same_clamping, number):
        if any(group >> a & 1 and group >> b & 1 for group in groups):
            raise Contradiction
    return tuple(sorted(groups))


def _ways(
    problem: Problem, scale: Scale, number: dict[int, int], together: tuple[int, ...]
) -> list[tuple[Way, ...]]:
    allowed = [{way.clamping for way in problem.operations[op]} for op in number]
    for group in together:
        common = set.intersection(*(allowed[op] for op in bits(group)))
        for op in bits(group):
            allowed[op] = common
    needs = _clamping_rules(number, problem.opens, problem.opens_for)
    bars = _clamping_rules(number, problem.closes, problem.closes_for)
    time = scale.unit("time")
    ways = []
    for op, place in number.items():
        best: dict[tuple[int, int, int, int], Way] = {}
        for index, way in enumerate(problem.operations[op]):
            key = (way.tool, way.clamping, way.mode, way.place)
            if way.clamping in allowed[place] and (key not in best or way.minutes < best[key].minutes):
                rules = (place, way.clamping)
                needed, barred = needs.get(rules, 0), bars.get(rules, 0)
                best[key] = Way(index, *key, way.minutes * time, way.minutes, needed, barred)
        if not best:
            raise Contradiction
        ways.append(tuple(best.values()))
    return ways


def _clamping_rules(
    number: dict[int, int], for_all: Iterable[tuple[int, int]], for_one: Iterable[tuple[int, int, int]]
) -> dict[tuple[int, int], int]:
    """Mask of the first operations of the rules for each operation and clamping."""
    rules: dict[tuple[int, int], int] = {}
    spread = [(clamping, a, b) for clamping, a in for_all for b in number if b != a]
    for clamping, a, b in (*spread, *for_one):
        if a in number and b in number:
            key = (number[b], clamping)
            rules[key] = rules.get(key, 0) | 1 << number[a]
    return rules


def _changes(table: tuple[tuple[int, ...], ...], count: int, time: int) -> tuple[tuple[int, ...], ...]:
    return tuple(
        tuple(0 if a == b else count + time * cost for b, cost in enumerate(row))
        for a, row in enumerate(table)
    )


def _pins(problem: Problem, number: dict[int, int]) -> dict[int, int]:
    pinned: dict[int, int] = {}
    where: dict[int, int] = {}
    for op, position in problem.pinned:
        if op not in number:
            continue
        place = number[op]
        if pinned.get(position, place) != place or where.get(place, position) != position:
            raise Contradiction
        if position >= len(number):
            raise Contradiction
        pinned[position], where[place] = place, position
    return pinned
