"""Compiled expansion of one layer of states into the next, with the bound of every state made."""

from __future__ import annotations

import numpy as np

from sequencer.ordering.kernels import (
    APART,
    APART_BITS,
    APART_COUNT,
    AT_ONCE,
    BINDS,
    CLAMPINGS,
    CODE_BIT,
    CODE_GROUP,
    FIRST_TOOL,
    FIRST_TRAVEL,
    FOLLOWER,
    FULL,
    GROUP,
    GROUPS,
    GROWN,
    LAST_LEAVING,
    LEFT,
    LOST,
    MISSING,
    MODES_IDLE,
    NEXT,
    OF_CLAMPINGS,
    OF_MODES,
    OF_TOOLS,
    PARTNERS,
    PENDING,
    PLAIN,
    PLANS,
    ROOM,
    SEEN,
    SINGLE_VISIT,
    SIZE,
    SOFT_END,
    SOFT_FIRST,
    TIME_UNIT,
    TOOL_BIT,
    TOOL_COST,
    TOOL_GROUP,
    TOOL_GROUPS,
    TOOL_TIME,
    TOOL_WEIGHT,
    TRAVELS,
    UNKNOWN,
    USED,
    USERS,
    VISIT,
    WAIT_COUNT,
    WAITS,
    WAY_BARS,
    WAY_CLAMPING,
    WAY_COST,
    WAY_MINUTES,
    WAY_MODE,
    WAY_NEEDS,
    WAY_PLACE,
    WAY_TOOL,
    WAYS_END,
    WAYS_FIRST,
    WORDS,
    Ints,
    Tables,
    allowed,
    change,
    compiled,
    find,
    has,
    insert,
    is_open,
    meets,
    packed,
    settle_clamping,
    settle_mode,
    within,
)


@compiled
def tool_answer(
    table: Ints,
    plan: int,
    group: int,
    code: int,
    tool: int,
    clamping: int,
    key: Ints,
    missing: Ints,
    counts: Ints,
) -> int:
    """Bound of one group of tools; the first plan does not look at clampings."""
    key[1:] = 0
    place = clamping + 1 if plan > 0 else 0
    key[0] = (((OF_TOOLS * 4 + plan) * 4096 + group) * 65536 + tool + 1) * 1024 + place
    key[1] = code
    return find(table, key, missing, counts)


@compiled
def set_answer(
    table: Ints,
    kind: int,
    plan: int,
    state: int,
    row: Ints,
    first: int,
    key: Ints,
    missing: Ints,
    counts: Ints,
) -> int:
    """Bound of the clamping or mode changes of a settled set, which stands at `first` in a row."""
    key[0] = (kind * 4 + plan) * 65536 + state + 1
    for word in range(len(key) - 1):
        key[word + 1] = row[first + word]
    return find(table, key, missing, counts)


@compiled
def group_answers(
    m: Tables, table: Ints, row: Ints, codes: Ints, values: Ints, key: Ints, missing: Ints, counts: Ints
) -> bool:
    """What of each tool group is done, and its bound with a foreign tool; whether all are known."""
    codes[:] = 0
    for op in range(m.numbers[SIZE]):
        if m.ops[op, CODE_GROUP] >= 0 and has(row, op):
            codes[m.ops[op, CODE_GROUP]] |= m.ops[op, CODE_BIT]
    known = True
    for plan in range(m.numbers[PLANS]):
        for group in range(m.numbers[TOOL_GROUPS]):
            value = tool_answer(table, plan, group, codes[group], -1, -1, key, missing, counts)
            values[plan, group] = value
            known = known and value != UNKNOWN
    return known


@compiled
def fill_rest(m: Tables, old: Ints, new: Ints, op: int, way: int, changed: bool) -> int:
    """Fill in the rest of the state after an operation; the idle time, or -1 if the magazine is overfull."""
    words = m.numbers[WORDS]
    first = words + 1
    clamping = (old[words] & 1023) - 1
    visit = 0 if changed else old[first + VISIT]
    if m.ops[op, APART] >= 0:
        visit |= 1 << m.ops[op, APART]
    for member in range(m.numbers[APART_COUNT]):
        if (visit >> member) & 1 and within(m.sets, m.numbers[PARTNERS] + member, new):
            visit &= ~(1 << member)
    left = old[first + LEFT]
    if changed:
        left |= m.numbers[SINGLE_VISIT] & (1 << clamping)
    for other in range(m.numbers[CLAMPINGS]):
        if (left >> other) & 1 and within(m.sets, m.numbers[USERS] + other, new):
            left &= ~(1 << other)
    used, tool = old[first + USED], m.ways[way, WAY_TOOL]
    if tool >= 0 and m.costs[m.numbers[TOOL_BIT] + tool] >= 0:
        used |= 1 << m.costs[m.numbers[TOOL_BIT] + tool]
        taken = 0
        for bit in range(62):
            if (used >> bit) & 1:
                taken += m.costs[m.numbers[TOOL_WEIGHT] + bit]
        if taken > m.numbers[ROOM]:
            return -1
    new[first + VISIT], new[first + LEFT], new[first + USED] = visit, left, used
    return fill_waits(m, old, new, op, way) if m.numbers[WAIT_COUNT] else 0


@compiled
def fill_waits(m: Tables, old: Ints, new: Ints, op: int, way: int) -> int:
    """Fill in what remains to wait; the idle time directly before the operation."""
    first, count = m.numbers[WORDS] + 1 + WAITS, m.numbers[WAIT_COUNT]
    time = change(m, old[m.numbers[WORDS]], way, TOOL_TIME)
    idle = 0
    for wait in range(count):
        if m.entries[wait, 1] == op:
            idle = max(idle, old[first + wait] - time)
    passed = time + idle + m.ways[way, WAY_MINUTES]
    for wait in range(count):
        if m.entries[wait, 0] == op:
            new[first + wait] = m.entries[wait, 2]
        elif has(new, m.entries[wait, 1]):
            new[first + wait] = 0
        else:
            new[first + wait] = max(0, old[first + wait] - passed)
    return idle


@compiled
def may_take(m: Tables, row: Ints, op: int, way: int, clamping: int, opened: bool) -> bool:
    """Whether an alternative may be taken."""
    goal = m.ways[way, WAY_CLAMPING]
    if not within(m.sets, m.numbers[WAY_NEEDS] + way, row) or meets(m.sets, m.numbers[WAY_BARS] + way, row):
        return False
    if clamping >= 0 and goal != clamping and opened:
        return False
    if m.numbers[PLAIN]:
        return True
    first = m.numbers[WORDS] + 1
    if (row[first + LEFT] >> goal) & 1:
        return False
    return bool(goal != clamping or m.ops[op, APART] < 0 or row[first + VISIT] & m.ops[op, APART_BITS] == 0)


@compiled
def urgent(m: Tables, row: Ints, position: int, clamping: int, tool: int, mode: int, last: int) -> int:
    """Alternative that fits the machine as it stands and is best taken at once, or -1."""
    if last >= 0 and m.ops[last, FOLLOWER] >= 0:
        return -1
    for op in range(m.numbers[SIZE]):
        if not m.ops[op, AT_ONCE] or not allowed(m, row, op, position, last):
            continue
        group = m.ops[op, GROUP]
        ready = group < 0 or meets(m.sets, m.numbers[GROUPS] + group, row)
        for number in range(m.ops[op, SOFT_FIRST], m.ops[op, SOFT_END]):
            ready = ready and has(row, m.entries[number, 0])
        for way in range(m.ops[op, WAYS_FIRST], m.ops[op, WAYS_END]):
            if not ready or m.ways[way, WAY_COST] != 0 or m.ways[way, WAY_CLAMPING] != clamping:
                continue
            if m.ways[way, WAY_TOOL] not in (-1, tool) or m.ways[way, WAY_MODE] not in (-1, mode):
                continue
            if may_take(m, row, op, way, clamping, False):
                return way
    return -1


@compiled
def expand(
    m: Tables,
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
    """Append every possible operation to the states listed in `todo`, from counts[NEXT] up to `last`.

    A state whose bound needs an answer that the table lacks is listed in `pending` and left for later. Stops
    early when the next layer or the list of missing answers may run full.
    """
    groups, words, most = m.numbers[TOOL_GROUPS], m.numbers[WORDS], len(m.ways)
    asked = m.numbers[PLANS] * (groups + 3 * most) + most
    codes = np.zeros(groups + 1, np.int64)
    values = np.zeros((m.numbers[PLANS], groups + 1), np.int64)
    key = np.zeros(words + 1, np.int64)
    new = np.zeros(layer.shape[1], np.int64)
    while counts[NEXT] < last:
        if counts[GROWN] + most > len(grown) or counts[MISSING] + asked > len(missing):
            return
        at = todo[counts[NEXT]]
        counts[NEXT] += 1
        row = layer[at]
        if not group_answers(m, table, row, codes, values, key, missing, counts) or not append(
            m, row, at, new, grown, slots, table, codes, values, key, missing, counts, limit
        ):
            pending[counts[PENDING]] = at
            counts[PENDING] += 1


@compiled
def append(
    m: Tables,
    row: Ints,
    at: int,
    new: Ints,
    grown: Ints,
    slots: Ints,
    table: Ints,
    codes: Ints,
    values: Ints,
    key: Ints,
    missing: Ints,
    counts: Ints,
    limit: int,
) -> bool:
    """Append every possible operation to one state; whether every bound was known."""
    words, end = m.numbers[WORDS], len(row)
    state = row[words]
    clamping, tool, mode = (state & 1023) - 1, (state >> 10 & 16383) - 1, (state >> 24 & 1023) - 1
    place, bound_to = (state >> 34 & 16383) - 1, (state >> 48) - 1
    position = 0
    for op in range(m.numbers[SIZE]):
        position += has(row, op)
    opened = is_open(m, row)
    known = True
    only = urgent(m, row, position, clamping, tool, mode, bound_to)
    for op in range(m.numbers[SIZE]):
        if not allowed(m, row, op, position, bound_to):
            continue
        extra = row[end - 3]
        for number in range(m.ops[op, SOFT_FIRST], m.ops[op, SOFT_END]):
            if not has(row, m.entries[number, 0]):
                extra += m.entries[number, 1]
        for way in range(m.ops[op, WAYS_FIRST], m.ops[op, WAYS_END]):
            if (only >= 0 and way != only) or not may_take(m, row, op, way, clamping, opened):
                continue
            counts[SEEN] += 1
            cost = extra + m.ways[way, WAY_COST] + change(m, state, way, TOOL_COST)
            new[:words] = row[:words]
            new[op // 62] |= 1 << (op % 62)
            goal = m.ways[way, WAY_CLAMPING]
            changed = clamping >= 0 and goal != clamping
            if not m.numbers[PLAIN]:
                idle = fill_rest(m, row, new, op, way, changed)
                if idle < 0:
                    continue
                cost += idle * m.numbers[TIME_UNIT]
            if cost - m.numbers[FIRST_TRAVEL] >= limit:
                continue
            to_tool = m.ways[way, WAY_TOOL] if m.ways[way, WAY_TOOL] >= 0 else tool
            to_mode = m.ways[way, WAY_MODE] if m.ways[way, WAY_MODE] >= 0 else mode
            stays = m.ways[way, WAY_PLACE] < 0 or not m.numbers[TRAVELS]
            to_place = place if stays else m.ways[way, WAY_PLACE]
            new[words] = packed(goal, to_tool, to_mode, to_place, op if m.ops[op, BINDS] else -1)
            settle(m, row, new, op, goal, changed, to_mode, to_mode != mode)
            bound = completion(m, table, op, new, goal, to_tool, to_mode, codes, values, key, missing, counts)
            if m.numbers[TRAVELS] and to_place < 0:
                bound -= m.numbers[FIRST_TRAVEL] if bound != UNKNOWN else 0
            if bound == UNKNOWN:
                known = False
            elif bound < LOST // 2 and cost + bound < limit:
                new[end - 3], new[end - 2], new[end - 1] = cost, cost + bound, at << 24 | way
                insert(grown, slots, counts, new, end - 3 - 2 * words)
    return known


@compiled
def settle(
    m: Tables, row: Ints, new: Ints, op: int, clamping: int, changed: bool, mode: int, other_mode: bool
) -> None:
    """Fill in the settled sets of a state made by `op`, from those before it where they still hold."""
    words, end = m.numbers[WORDS], len(row)
    first, second = end - 3 - 2 * words, end - 3 - words
    for word in range(words):
        new[first + word] = new[word] if changed else new[word] | row[first + word]
        new[second + word] = new[word] if other_mode else new[word] | row[second + word]
    if changed or not has(row[first:], op):
        settle_clamping(m, new[first:], clamping)
    if not m.numbers[MODES_IDLE] and (other_mode or not has(row[second:], op)):
        settle_mode(m, new[second:], mode)


@compiled
def completion(
    m: Tables,
    table: Ints,
    op: int,
    new: Ints,
    clamping: int,
    tool: int,
    mode: int,
    codes: Ints,
    values: Ints,
    key: Ints,
    missing: Ints,
    counts: Ints,
) -> int:
    """Bound of the state after `op`, before the first travel is taken off."""
    words, end = m.numbers[WORDS], len(new)
    if within(m.sets, m.numbers[FULL], new):
        return 0
    group = m.ops[op, CODE_GROUP]
    holder = m.costs[m.numbers[TOOL_GROUP] + tool] if tool >= 0 else -1
    best = 0
    for plan in range(m.numbers[PLANS]):
        first = end - 3 - 2 * words
        total = set_answer(table, OF_CLAMPINGS, plan, clamping, new, first, key, missing, counts)
        if total == UNKNOWN or total >= LOST:
            return total
        tools = 0
        for one in range(m.numbers[TOOL_GROUPS]):
            value = values[plan, one]
            if one == holder or one == group:  # noqa: SIM109  compiles faster than a tuple
                code = codes[one] | (m.ops[op, CODE_BIT] if one == group else 0)
                held, place = (tool, clamping) if one == holder else (-1, -1)
                value = tool_answer(table, plan, one, code, held, place, key, missing, counts)
            if value == UNKNOWN:
                return UNKNOWN
            tools += value
        best = max(best, total + tools - min(tools, m.numbers[LAST_LEAVING]))
    if tool < 0:
        best -= min(best, m.numbers[FIRST_TOOL])
    if not m.numbers[MODES_IDLE]:
        value = set_answer(table, OF_MODES, 0, mode, new, end - 3 - words, key, missing, counts)
        if value == UNKNOWN:
            return UNKNOWN
        best += value
    return best
