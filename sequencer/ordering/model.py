"""A problem with its slots settled, as bit masks and single integer costs for the search."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from sequencer.ordering.problem import Problem
from sequencer.ordering.scale import Scale
from sequencer.ordering.slots import Slots, arrows


class Contradiction(Exception):
    """The constraints of a problem exclude each other before any search."""


@dataclass(frozen=True, slots=True)
class Way:
    """An alternative of one operation of the problem, with its cost as one integer.

    `needs` masks the operations that must be done before it may be taken, `bars` those that must not be.
    """

    operation: int
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
    slots
        For each operation of the model those of the problem, of which one is done.
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
    slots: Slots
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


def build_model(problem: Problem, scale: Scale, slots: Slots) -> Model:
    """Number the slots as the operations of the search and turn constraints into masks.

    Parameters
    ----------
    problem
        The problem.
    scale
        How costs are made.
    slots
        One of the settlements of its either-or groups.

    Raises
    ------
    Contradiction
        When the constraints exclude each other already here.
    """
    number = {op: place for place, members in enumerate(slots) for op in members}
    size = len(slots)
    follower, leader = _chains(problem, number, size)
    together = _together(problem, number)
    direct, needs, bars = _arrows(problem, number, slots)
    drawn = _ways(problem, scale, slots, number, together, needs, bars)
    ways, before, after = _settle(direct, follower, drawn)
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
        slots=slots,
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
        pinned=_pins(problem, number, size),
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


def _chains(problem: Problem, number: dict[int, int], size: int) -> tuple[list[int], list[int]]:
    follower, leader = [-1] * size, [-1] * size
    for a, b in _kept(problem.immediately_after, number):
        if follower[a] not in (-1, b) or leader[b] not in (-1, a):
            raise Contradiction
        follower[a], leader[b] = b, a
    return follower, leader


def _arrows(
    problem: Problem, number: dict[int, int], slots: Slots
) -> tuple[list[int], dict[int, int], dict[int, int]]:
    """Arrows between slots; what each member of a larger slot needs done, and what bars it when done."""
    direct = [0] * len(slots)
    needs: dict[int, int] = {}
    bars: dict[int, int] = {}
    for a, b in arrows(problem):
        if a not in number or b not in number or number[a] == number[b]:
            continue
        one, two = number[a], number[b]
        if len(slots[one]) == 1 and len(slots[two]) > 1:
            needs[b] = needs.get(b, 0) | 1 << one
        elif len(slots[one]) > 1 and len(slots[two]) == 1:
            bars[a] = bars.get(a, 0) | 1 << two
        else:
            direct[two] |= 1 << one
    return direct, needs, bars


def _settle(
    direct: list[int], follower: list[int], ways: list[tuple[Way, ...]]
) -> tuple[tuple[tuple[Way, ...], ...], tuple[int, ...], tuple[int, ...]]:
    """Strike ways that come too early or too late, and draw arrows from what all ways left have in common."""
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
    problem: Problem,
    scale: Scale,
    slots: Slots,
    number: dict[int, int],
    together: tuple[int, ...],
    needs: dict[int, int],
    bars: dict[int, int],
) -> list[tuple[Way, ...]]:
    allowed = [{way.clamping for op in members for way in problem.operations[op]} for members in slots]
    for group in together:
        common = set.intersection(*(allowed[place] for place in bits(group)))
        for place in bits(group):
            allowed[place] = common
    opened = _clamping_rules(number, problem.opens, problem.opens_for)
    closed = _clamping_rules(number, problem.closes, problem.closes_for)
    time = scale.unit("time")
    ways = []
    for place, members in enumerate(slots):
        best: dict[tuple[int, ...], Way] = {}
        for op in members:
            for index, way in enumerate(problem.operations[op]):
                rules = (op, way.clamping)
                needed = needs.get(op, 0) | opened.get(rules, 0)
                barred = bars.get(op, 0) | closed.get(rules, 0)
                kind = (way.tool, way.clamping, way.mode, way.place)
                key = (*kind, needed, barred)
                if way.clamping in allowed[place] and (key not in best or way.minutes < best[key].minutes):
                    cost = way.minutes * time
                    best[key] = Way(op, index, *kind, cost, way.minutes, needed, barred)
        if not best:
            raise Contradiction
        ways.append(tuple(best.values()))
    return ways


def _clamping_rules(
    number: dict[int, int], for_all: Iterable[tuple[int, int]], for_one: Iterable[tuple[int, int, int]]
) -> dict[tuple[int, int], int]:
    """Mask of the first operations of the rules for each operation of the problem and clamping."""
    rules: dict[tuple[int, int], int] = {}
    spread = [(clamping, a, b) for clamping, a in for_all for b in number if b != a]
    for clamping, a, b in (*spread, *for_one):
        if a in number and b in number:
            key = (b, clamping)
            rules[key] = rules.get(key, 0) | 1 << number[a]
    return rules


def _changes(table: tuple[tuple[int, ...], ...], count: int, time: int) -> tuple[tuple[int, ...], ...]:
    return tuple(
        tuple(0 if a == b else count + time * cost for b, cost in enumerate(row))
        for a, row in enumerate(table)
    )


def _pins(problem: Problem, number: dict[int, int], size: int) -> dict[int, int]:
    pinned: dict[int, int] = {}
    where: dict[int, int] = {}
    for op, position in problem.pinned:
        if op not in number:
            continue
        place = number[op]
        if pinned.get(position, place) != place or where.get(place, position) != position:
            raise Contradiction
        if position >= size:
            raise Contradiction
        pinned[position], where[place] = place, position
    return pinned
