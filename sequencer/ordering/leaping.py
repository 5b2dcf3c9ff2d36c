"""Compiled expansion of states visit by visit: all that a tool in its clamping can do is done at once.

A relaxed question, in which only precedence, clamping groups and changes count. What fits the machine as it
stands is done at once there, since later it costs no less. Of two states alike in clamping, tool and mode the
one that has done more at no higher cost makes the other needless, unless it has a group open that the other
has not.
"""

from __future__ import annotations

import numpy as np

from sequencer.ordering.expansion import set_answer, tool_answer
from sequencer.ordering.kernels import (
    BEFORE,
    CLAMPINGS,
    CODE_BIT,
    CODE_GROUP,
    FIRST_TOOL,
    FULL,
    GROUP,
    GROUP_COUNT,
    GROUPS,
    GROWN,
    LOST,
    MISSING,
    MODES_IDLE,
    NEEDS,
    NEXT,
    OF_CLAMPINGS,
    OF_MODES,
    PENDING,
    PLANS,
    SEEN,
    SIZE,
    TOOL_COST,
    TOOL_GROUP,
    TOOL_GROUPS,
    UNKNOWN,
    WAY_CLAMPING,
    WAY_MODE,
    WAY_TOOL,
    WAYS_END,
    WAYS_FIRST,
    WORDS,
    Ints,
    Tables,
    alike,
    change,
    compiled,
    has,
    hashed,
    insert,
    is_open,
    meets,
    packed,
    settle_clamping,
    settle_mode,
    within,
)


@compiled
def spread(m: Tables, row: Ints, clamping: int, fitting: Ints) -> None:
    """Do all of the operations that fit the machine as it stands and begin no group."""
    grown = True
    while grown:
        grown = False
        for op in fitting:
            if op < 0:
                break
            if has(row, op) or not within(m.sets, m.numbers[BEFORE] + op, row):
                continue
            if m.ops[op, GROUP] >= 0 and not meets(m.sets, m.numbers[GROUPS] + m.ops[op, GROUP], row):
                continue
            if within(m.sets, m.numbers[NEEDS] + op * m.numbers[CLAMPINGS] + clamping, row):
                row[op // 62] |= 1 << (op % 62)
                grown = True


@compiled
def begins(m: Tables, row: Ints, op: int, clamping: int) -> bool:
    """Whether an operation may come next and begins a group."""
    group = m.ops[op, GROUP]
    if group < 0 or has(row, op) or not within(m.sets, m.numbers[BEFORE] + op, row):
        return False
    if meets(m.sets, m.numbers[GROUPS] + group, row):
        return False
    return within(m.sets, m.numbers[NEEDS] + op * m.numbers[CLAMPINGS] + clamping, row)


@compiled
def spread_groups(m: Tables, row: Ints, clamping: int, fitting: Ints, trial: Ints) -> None:
    """Do all that fits, and every group that can be begun and finished at once."""
    words = m.numbers[WORDS]
    spread(m, row, clamping, fitting)
    if m.numbers[GROUP_COUNT] == 0:
        return
    tried = True
    while tried:
        tried = False
        for op in fitting:
            if op < 0:
                break
            if not begins(m, row, op, clamping):
                continue
            trial[:words] = row[:words]
            trial[op // 62] |= 1 << (op % 62)
            spread(m, trial, clamping, fitting)
            if within(m.sets, m.numbers[GROUPS] + m.ops[op, GROUP], trial):
                row[:words] = trial[:words]
                tried = True
                break


@compiled
def rest_bound(
    m: Tables,
    table: Ints,
    new: Ints,
    clamping: int,
    tool: int,
    mode: int,
    codes: Ints,
    key: Ints,
    missing: Ints,
    counts: Ints,
) -> int:
    """Bound of a state, UNKNOWN if an answer is missing."""
    words, end = m.numbers[WORDS], len(new)
    if within(m.sets, m.numbers[FULL], new):
        return 0
    codes[:] = 0
    for op in range(m.numbers[SIZE]):
        if m.ops[op, CODE_GROUP] >= 0 and has(new, op):
            codes[m.ops[op, CODE_GROUP]] |= m.ops[op, CODE_BIT]
    holder = m.costs[m.numbers[TOOL_GROUP] + tool] if tool >= 0 else -1
    best, known = 0, True
    for plan in range(m.numbers[PLANS]):
        total = set_answer(
            table, OF_CLAMPINGS, plan, clamping, new, end - 3 - 2 * words, key, missing, counts
        )
        if total >= LOST:
            return total
        known = known and total != UNKNOWN
        for one in range(m.numbers[TOOL_GROUPS]):
            held, place = (tool, clamping) if one == holder else (-1, -1)
            value = tool_answer(table, plan, one, codes[one], held, place, key, missing, counts)
            known = known and value != UNKNOWN
            if known:
                total += value
        if known:
            best = max(best, total)
    if tool < 0:
        best -= min(best, m.numbers[FIRST_TOOL])
    if not m.numbers[MODES_IDLE]:
        value = set_answer(table, OF_MODES, 0, mode, new, end - 3 - words, key, missing, counts)
        known = known and value != UNKNOWN
        if known:
            best += value
    return best if known else UNKNOWN


@compiled
def met(layer: Ints, slots: Ints, row: Ints, length: int, cost: int) -> bool:
    """Whether a layer has a state already, at no higher cost."""
    mask, end = len(slots) - 1, layer.shape[1]
    slot = hashed(row, length) & mask
    while slots[slot] >= 0:
        at = slots[slot]
        if alike(layer, at, row, length):
            return bool(layer[at, end - 3] <= cost)
        slot = (slot + 1) & mask
    return False


@compiled
def leap(
    m: Tables,
    fits: Ints,
    layer: Ints,
    todo: Ints,
    grown: Ints,
    slots: Ints,
    table: Ints,
    missing: Ints,
    pending: Ints,
    counts: Ints,
    limit: int,
    last: int,
) -> None:
    """Make every next visit of the states listed in `todo`, from counts[NEXT] up to `last`."""
    groups, words, most = m.numbers[TOOL_GROUPS], m.numbers[WORDS], len(m.ways)
    asked = (m.numbers[PLANS] * (groups + 1) + 1) * (most + 1)
    codes = np.zeros(groups + 1, np.int64)
    key = np.zeros(words + 1, np.int64)
    new = np.zeros(layer.shape[1], np.int64)
    trial = np.zeros(words, np.int64)
    stamps = np.full(fits.shape[:3], -1, np.int64)
    while counts[NEXT] < last:
        if counts[GROWN] + most > len(grown) or counts[MISSING] + asked > len(missing):
            return
        at = todo[counts[NEXT]]
        counts[NEXT] += 1
        row = layer[at]
        if not leap_from(
            m, fits, row, at, new, trial, stamps, grown, slots, table, codes, key, missing, counts, limit
        ):
            pending[counts[PENDING]] = at
            counts[PENDING] += 1


@compiled
def leap_from(
    m: Tables,
    fits: Ints,
    row: Ints,
    at: int,
    new: Ints,
    trial: Ints,
    stamps: Ints,
    grown: Ints,
    slots: Ints,
    table: Ints,
    codes: Ints,
    key: Ints,
    missing: Ints,
    counts: Ints,
    limit: int,
) -> bool:
    """Make every next visit of one state; whether every bound was known."""
    words, end = m.numbers[WORDS], len(row)
    state = row[words]
    clamping, tool, mode = (state & 1023) - 1, (state >> 10 & 16383) - 1, (state >> 24 & 1023) - 1
    opened, known = is_open(m, row), True
    for op in range(m.numbers[SIZE]):
        if has(row, op) or not within(m.sets, m.numbers[BEFORE] + op, row):
            continue
        group = m.ops[op, GROUP]
        begun = group >= 0 and not meets(m.sets, m.numbers[GROUPS] + group, row)
        for way in range(m.ops[op, WAYS_FIRST], m.ops[op, WAYS_END]):
            goal = m.ways[way, WAY_CLAMPING]
            if clamping >= 0 and goal != clamping and opened:
                continue
            if not within(m.sets, m.numbers[NEEDS] + op * m.numbers[CLAMPINGS] + goal, row):
                continue
            to_tool = m.ways[way, WAY_TOOL] if m.ways[way, WAY_TOOL] >= 0 else tool
            to_mode = m.ways[way, WAY_MODE] if m.ways[way, WAY_MODE] >= 0 else mode
            if not begun:
                if stamps[goal, to_tool + 1, to_mode + 1] == at:
                    continue
                stamps[goal, to_tool + 1, to_mode + 1] = at
            counts[SEEN] += 1
            cost = row[end - 3] + change(m, state, way, TOOL_COST)
            if cost >= limit:
                continue
            changed, other_mode = goal != clamping, to_mode != mode
            new[:words] = row[:words]
            if begun:
                new[op // 62] |= 1 << (op % 62)
            spread_groups(m, new, goal, fits[goal, to_tool + 1, to_mode + 1], trial)
            new[words] = packed(goal, to_tool, to_mode, -1, -1)
            if met(grown, slots, new, words + 1, cost):
                continue
            first, second = end - 3 - 2 * words, end - 3 - words
            for word in range(words):
                new[first + word] = new[word] if changed else new[word] | row[first + word]
                new[second + word] = new[word] if other_mode else new[word] | row[second + word]
            settle_clamping(m, new[first:], goal)
            if not m.numbers[MODES_IDLE]:
                settle_mode(m, new[second:], to_mode)
            bound = rest_bound(m, table, new, goal, to_tool, to_mode, codes, key, missing, counts)
            if bound == UNKNOWN:
                known = False
            elif bound < LOST // 2 and cost + bound < limit:
                new[end - 3], new[end - 2], new[end - 1] = cost, cost + bound, at << 24 | way
                insert(grown, slots, counts, new, end - 3 - 2 * words)
    if not known:
        stamps[:] = -1
    return known


@compiled
def part_of(m: Tables, one: Ints, other: Ints, words: int) -> bool:
    """Whether the first state has done no more, and has every group open that the second has."""
    for word in range(words):
        if one[word] & ~other[word] != 0:
            return False
    for group in range(m.numbers[GROUPS], m.numbers[GROUPS] + m.numbers[GROUP_COUNT]):
        if (
            meets(m.sets, group, other)
            and not within(m.sets, group, other)
            and not (meets(m.sets, group, one) and not within(m.sets, group, one))
        ):
            return False
    return True


@compiled
def thin(m: Tables, layer: Ints, ranked: Ints, kept: Ints, words: int, most: int) -> int:
    """List the states that none before them in `ranked` makes needless; how many there are.

    `ranked` sorts them by clamping, tool and mode, then by cost, then with the larger sets first.
    """
    count = begin = 0
    for at in ranked:
        if count > begin and layer[kept[count - 1], words] != layer[at, words]:
            begin = count
        needed = True
        for other in range(begin, min(count, begin + most)):
            if part_of(m, layer[at], layer[kept[other]], words):
                needed = False
                break
        if needed:
            kept[count] = at
            count += 1
    return count
