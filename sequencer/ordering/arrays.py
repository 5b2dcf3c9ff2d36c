"""A model with its bound as arrays for the compiled program."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

import numpy as np

from sequencer.ordering import kernels as k
from sequencer.ordering.bound import Bound, needs_by_clamping
from sequencer.ordering.kernels import LOST, WORD, Ints, Tables
from sequencer.ordering.model import Model, bits
from sequencer.ordering.moves import Moves
from sequencer.ordering.tool_groups import NEVER

_LOW = (1 << WORD) - 1

#: No sum of costs of one order may reach this.
LARGEST_TOTAL = 1 << 58


def fits(model: Model, moves: Moves, bound: Bound) -> bool:
    """Tell whether the compiled program can hold a model.

    Parameters
    ----------
    model
        The model.
    moves
        Its transitions.
    bound
        Its bound.
    """
    masks = max(
        sum(1 for mask in model.apart if mask), len(model.clamping_cost), len(counted_tools(model, moves))
    )
    few = len(model.tool_cost) < 16000 and _places(model) < 16000 and len(model.mode_cost) < 1000
    groups_fit = all(group.operations.bit_count() <= WORD for group in bound.tool_groups)
    return model.size > 0 and model.scale.largest < LARGEST_TOTAL and masks <= WORD and few and groups_fit


def row(mask: int, words: int) -> list[int]:
    """Split a mask into words.

    Parameters
    ----------
    mask
        Set of operations.
    words
        Number of words.
    """
    return [(mask >> (WORD * word)) & _LOW for word in range(words)]


def joined(words: Sequence[int]) -> int:
    """Join words into a mask.

    Parameters
    ----------
    words
        The words, lowest first.
    """
    return sum(int(value) << (WORD * word) for word, value in enumerate(words))


class _Builder:
    """Gathers families of sets, entries and costs, and remembers where each begins."""

    def __init__(self, words: int) -> None:
        self.numbers = np.zeros(k.NUMBERS, np.int64)
        self.sets: list[list[int]] = []
        self.entries: list[tuple[int, int, int]] = []
        self.costs: list[int] = []
        self._words = words

    def add_sets(self, name: int, masks: Iterable[int]) -> None:
        self.numbers[name] = len(self.sets)
        self.sets.extend(row(mask, self._words) for mask in masks)

    def add_entries(self, entries: Iterable[tuple[int, ...]]) -> tuple[int, int]:
        first = len(self.entries)
        self.entries.extend((*entry, 0)[:3] for entry in entries)  # type: ignore[misc]
        return first, len(self.entries)

    def add_costs(self, name: int, costs: Iterable[int]) -> None:
        self.numbers[name] = len(self.costs)
        self.costs.extend(costs)


def tables_of(model: Model, moves: Moves, bound: Bound) -> Tables:
    """Write a model as arrays.

    Parameters
    ----------
    model
        The model.
    moves
        Its transitions.
    bound
        Its bound.
    """
    made = _Builder(words_of(model))
    made.add_entries(model.waits)  # the waits stand first
    ops = np.full((model.size, k.OP_COLUMNS), -1, np.int64)
    ways = _ways(model, moves, ops)
    _sets(model, made)
    _costs(model, moves, bound, made)
    _numbers(model, moves, bound, made)
    _operations(model, moves, bound, made, ops)
    made.numbers[k.ZERO_FIRST], made.numbers[k.ZERO_END] = made.add_entries(map(_pair, model.zero_pairs))
    return Tables(
        made.numbers,
        ops,
        np.array(made.sets, np.int64),
        ways,
        np.array(made.entries, np.int64).reshape(len(made.entries), 3),
        np.array(made.costs, np.int64),
    )


def words_of(model: Model) -> int:
    """Words that a set of operations takes.

    Parameters
    ----------
    model
        The model.
    """
    return (model.size + WORD - 1) // WORD


def _pair(mask: int) -> tuple[int, int]:
    a, b = bits(mask)
    return a, b


def _ways(model: Model, moves: Moves, ops: Ints) -> Ints:
    ways: list[tuple[int, ...]] = []
    for op, of_op in enumerate(model.ways):
        ops[op, k.WAYS_FIRST] = len(ways)
        for way in of_op:
            cost = way.cost - moves.least_own[op] - moves.least_travel[op]
            ways.append((way.tool, way.clamping, way.mode, way.place, cost, way.minutes))
        ops[op, k.WAYS_END] = len(ways)
    return np.array(ways, np.int64)


def _sets(model: Model, made: _Builder) -> None:
    everyone = range(model.size)
    ways = [way for of_op in model.ways for way in of_op]
    made.add_sets(k.BEFORE, model.before)
    made.add_sets(k.FORBIDDEN, model.forbidden)
    clampings = range(len(model.clamping_cost))
    by_clamping = [needs_by_clamping(of_op) for of_op in model.ways]
    made.add_sets(k.NEEDS, (needs.get(clamping, 0) for needs in by_clamping for clamping in clampings))
    made.add_sets(k.GROUPS, model.together)
    made.add_sets(
        k.USERS, (sum(1 << op for op in everyone if clamping in by_clamping[op]) for clamping in clampings)
    )
    modes = [{way.mode for way in of_op} for of_op in model.ways]
    made.add_sets(
        k.FITS,
        (
            sum(1 << op for op in everyone if -1 in modes[op] or mode in modes[op])
            for mode in range(-1, len(model.mode_cost))
        ),
    )
    made.add_sets(k.WAY_NEEDS, (way.needs for way in ways))
    made.add_sets(k.WAY_BARS, (way.bars for way in ways))
    made.add_sets(k.PARTNERS, (mask for mask in model.apart if mask))
    made.add_sets(k.FULL, [model.full])


def _costs(model: Model, moves: Moves, bound: Bound, made: _Builder) -> None:
    problem, places = model.problem, _places(model)
    made.add_costs(k.TOOL_COST, model.tool_cost)
    made.add_costs(k.CLAMPING_COST, chain.from_iterable(model.clamping_cost))
    made.add_costs(k.MODE_COST, chain.from_iterable(model.mode_cost))
    made.add_costs(k.POSITIONING, chain.from_iterable(model.positioning or [[0] * places] * places))
    made.add_costs(k.HOME, model.home or [0] * places)
    made.add_costs(k.TOOL_TIME, problem.tool_change)
    made.add_costs(k.CLAMPING_TIME, chain.from_iterable(problem.clamping_change))
    made.add_costs(k.MODE_TIME, chain.from_iterable(problem.mode_change))
    made.add_costs(k.POSITIONING_TIME, chain.from_iterable(problem.positioning or [[0] * places] * places))
    made.add_costs(k.HOME_TIME, problem.home_positioning or [0] * places)
    tools = range(len(model.tool_cost))
    holder = {tool: number for number, group in enumerate(bound.tool_groups) for tool in bits(group.tools)}
    made.add_costs(k.TOOL_GROUP, (holder.get(tool, -1) for tool in tools))
    counted = counted_tools(model, moves)
    made.add_costs(k.TOOL_BIT, (counted.index(tool) if tool in counted else -1 for tool in tools))
    weights = [model.tool_weight[tool] for tool in counted]
    made.add_costs(k.TOOL_WEIGHT, weights + [0] * (WORD - len(weights)))


def _places(model: Model) -> int:
    if model.positioning or model.home:
        return max(len(model.positioning), len(model.home))
    return 1


def counted_tools(model: Model, moves: Moves) -> list[int]:
    """Tools that may be used or not and take places in a magazine that may overflow.

    Parameters
    ----------
    model
        The model.
    moves
        Its transitions.
    """
    if not moves.with_magazine:
        return []
    used = sorted({way.tool for ways in model.ways for way in ways if way.tool >= 0})
    return [tool for tool in used if not moves.always >> tool & 1 and model.tool_weight[tool]]


def _numbers(model: Model, moves: Moves, bound: Bound, made: _Builder) -> None:
    values = {
        k.SIZE: model.size,
        k.WORDS: words_of(model),
        k.TRAVELS: int(moves.travels),
        k.PLAIN: int(moves.plain),
        k.TIME_UNIT: model.time_unit,
        k.ROOM: moves.room if moves.with_magazine else LOST,
        k.SINGLE_VISIT: model.single_visit,
        k.PLANS: bound.plans,
        k.TOOL_GROUPS: len(bound.tool_groups),
        k.FIRST_TOOL: bound.first_tool,
        k.LAST_LEAVING: bound.last_leaving,
        k.FIRST_TRAVEL: bound.first_travel,
        k.MODES_IDLE: int(bound.modes_idle),
        k.CLAMPINGS: len(model.clamping_cost),
        k.MODES: len(model.mode_cost),
        k.PLACES: _places(model),
        k.GROUP_COUNT: len(model.together),
        k.APART_COUNT: sum(1 for mask in model.apart if mask),
        k.WAIT_COUNT: len(model.waits),
    }
    for place, value in values.items():
        made.numbers[place] = value


def _operations(model: Model, moves: Moves, bound: Bound, made: _Builder, ops: Ints) -> None:
    apart = [op for op in range(model.size) if model.apart[op]]
    for op in range(model.size):
        ops[op, k.PIN] = moves.pin_of.get(op, -1)
        ops[op, k.PIN_AT] = model.pinned.get(op, -1)  # operation pinned to the position of this number
        ops[op, k.FOLLOWER], ops[op, k.LEADER] = model.follower[op], model.leader[op]
        ops[op, k.BINDS] = moves.binds[op]
        ops[op, k.AT_ONCE] = moves.at_once >> op & 1
        ops[op, k.RE_REFERENCES] = model.re_references >> op & 1
        ops[op, k.APART_BITS] = sum(
            1 << number for number, other in enumerate(apart) if model.apart[op] >> other & 1
        )
        pairs = map(_pair, model.between[op])
        ops[op, k.PAIRS_FIRST], ops[op, k.PAIRS_END] = made.add_entries(pairs)
        soft = ((next(bits(mask)), cost) for mask, cost in model.soft[op])
        ops[op, k.SOFT_FIRST], ops[op, k.SOFT_END] = made.add_entries(soft)
    for number, op in enumerate(apart):
        ops[op, k.APART] = number
    for number, group in enumerate(model.together):
        ops[list(bits(group)), k.GROUP] = number
    for number, tool_group in enumerate(bound.tool_groups):
        for bit, op in enumerate(bits(tool_group.operations)):
            ops[op, k.CODE_GROUP], ops[op, k.CODE_BIT] = number, 1 << bit


class Answers:
    """Fills the table of the bound: what the compiled program asks for is answered by `Bound`.

    Parameters
    ----------
    bound
        The bound.
    words
        Words of a set.
    """

    def __init__(self, bound: Bound, words: int) -> None:
        self._bound = bound
        self._words = words
        self._members = [list(bits(group.operations)) for group in bound.tool_groups]
        self.count = 0
        self.table = self._empty(1 << 14)

    def _empty(self, size: int) -> Ints:
        return np.zeros((size, self._words + 2), np.int64)

    def answer(self, slots: Ints) -> None:
        """Answer the keys that stand in some rows.

        Parameters
        ----------
        slots
            Rows of the table.
        """
        self.count += len(slots)
        for slot in slots.tolist():
            value = self._value(self.table[slot, :-1].tolist())
            self.table[slot, -1] = LOST if value >= NEVER else value

    def _value(self, key: list[int]) -> int:
        tag = key[0]
        if tag >> 38:
            clamping, tool = tag % 1024 - 1, (tag >> 10) % 65536 - 1
            group, plan = (tag >> 26) % 4096, (tag >> 38) % 4
            done = sum(1 << op for bit, op in enumerate(self._members[group]) if key[1] >> bit & 1)
            return self._bound.of_tools(plan, group, done, tool, clamping)
        kind, plan, state = tag >> 18, (tag >> 16) % 4, tag % 65536 - 1
        done = joined(key[1:])
        if kind == k.OF_CLAMPINGS:
            return self._bound.of_clampings(plan, done, state)
        return self._bound.of_modes(done, state)

    def make_room(self, more: int) -> None:
        """Grow the table so that so many more keys leave it at most half full.

        Parameters
        ----------
        more
            Number of keys.
        """
        size = len(self.table)
        if 2 * (self.count + more) <= size:
            return
        while 2 * (self.count + more) > size:
            size *= 2
        larger = self._empty(size)
        k.refill(self.table, larger)
        self.table = larger
