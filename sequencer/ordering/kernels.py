"""Compiled building blocks of the layered program: sets, rows of states, hash tables.

Everything is a signed 64-bit integer. A set of operations is a run of words of 62 bits. A state is one row:

    set done | packed state | rest | set settled by clamping | set settled by mode | cost | total | link

of which the first three tell states apart (the key). The caller makes sure beforehand that all sums fit.
"""

from __future__ import annotations

import hashlib
import os
import tempfile
from collections.abc import Callable
from typing import Any, Final, NamedTuple, TypeVar, cast

import numba
import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]

WORD = 62
#: Values of the bound: never to be finished, and not known yet.
LOST = 1 << 60
UNKNOWN = -(1 << 60)

#: Single numbers of a model; from BEFORE on: first row of a family of sets, first entry of a family of costs.
(SIZE, WORDS, TRAVELS, PLAIN, TIME_UNIT, ROOM, SINGLE_VISIT, PLANS, TOOL_GROUPS, FIRST_TOOL, FIRST_TRAVEL) = (
    range(11)
)
(MODES_IDLE, CLAMPINGS, MODES, PLACES, GROUP_COUNT, APART_COUNT, ZERO_FIRST, ZERO_END, WAIT_COUNT) = range(
    11, 20
)
(BEFORE, FORBIDDEN, NEEDS, GROUPS, USERS, FITS, WAY_NEEDS, WAY_BARS, PARTNERS, FULL) = range(20, 30)
(TOOL_COST, CLAMPING_COST, MODE_COST, POSITIONING, HOME) = range(30, 35)
(TOOL_TIME, CLAMPING_TIME, MODE_TIME, POSITIONING_TIME, HOME_TIME) = range(35, 40)
(TOOL_GROUP, TOOL_BIT, TOOL_WEIGHT, LAST_LEAVING) = range(40, 44)
NUMBERS = 44

#: Columns of `ops`.
(PIN, PIN_AT, FOLLOWER, LEADER, BINDS, GROUP, RE_REFERENCES, APART, APART_BITS, CODE_GROUP, CODE_BIT) = range(
    11
)
(PAIRS_FIRST, PAIRS_END, SOFT_FIRST, SOFT_END, WAYS_FIRST, WAYS_END, AT_ONCE) = range(11, 18)
OP_COLUMNS = 18

#: Columns of `ways`.
(WAY_TOOL, WAY_CLAMPING, WAY_MODE, WAY_PLACE, WAY_COST, WAY_MINUTES) = range(6)

#: Columns of the rest of a state.
VISIT, LEFT, USED, WAITS = range(4)

#: Places of `counts`.
GROWN, MISSING, PENDING, SEEN, NEXT = range(5)

#: What a key of the bound's table is about.
OF_CLAMPINGS, OF_MODES, OF_TOOLS = 1, 2, 3

F = TypeVar("F", bound=Callable[..., Any])


class Tables(NamedTuple):
    """A model as arrays; what stands where is named above."""

    numbers: Ints
    ops: Ints
    sets: Ints
    ways: Ints
    entries: Ints
    costs: Ints


#: Modules whose functions are compiled, or stand in compiled ones.
SOURCES: Final = (
    *("kernels", "expansion", "leaping", "switching_search", "switching_halves"),
    *("descents", "exchanges", "relaxation", "completion", "cuts"),
)


def _cache_folder() -> str:
    """Folder for compiled code, empty if none can be written.

    Its name holds a digest of all sources: kept code is found again only if none of them has changed, and the
    compiler itself looks only at the module that a function stands in.
    """
    own = os.path.join(tempfile.gettempdir(), f"sequencer-compiled-{getattr(os, 'getuid', int)()}")
    here = os.path.dirname(__file__)
    wanted = os.environ.get("NUMBA_CACHE_DIR")
    digest = hashlib.sha256()
    for name in SOURCES:
        with open(os.path.join(here, f"{name}.py"), "rb") as source:
            digest.update(source.read())
    for above in (wanted,) if wanted else (os.path.join(here, "__pycache__"), own):
        folder = os.path.join(above, f"compiled-{digest.hexdigest()[:16]}")
        try:
            os.makedirs(folder, mode=0o700, exist_ok=True)
            with tempfile.TemporaryFile(dir=folder):
                return folder
        except OSError:
            continue
    return ""


_CACHE = _cache_folder()

vars(numba.config)["CACHE_DIR"] = _CACHE  # the setting of the same name, read when a function is made


def compiled(function: F) -> F:
    """Compile at the first call and keep the outcome; the lock of the interpreter is free while it runs.

    Parameters
    ----------
    function
        What is compiled.
    """
    made: Any = numba.njit(cache=bool(_CACHE), nogil=True)(function)
    return cast(F, made)


@compiled
def packed(clamping: int, tool: int, mode: int, place: int, last: int) -> int:
    """Put the small parts of a state, each -1 or more, into one integer."""
    return (clamping + 1) | (tool + 1) << 10 | (mode + 1) << 24 | (place + 1) << 34 | (last + 1) << 48


@compiled
def has(row: Ints, op: int) -> bool:
    """Whether an operation is in the set that a row begins with."""
    return bool((row[op // 62] >> (op % 62)) & 1)


@compiled
def within(sets: Ints, number: int, row: Ints) -> bool:
    """Whether a set is part of the one that a row begins with."""
    for word in range(sets.shape[1]):  # noqa: SIM110  a plain loop compiles fastest
        if sets[number, word] & ~row[word] != 0:
            return False
    return True


@compiled
def meets(sets: Ints, number: int, row: Ints) -> bool:
    """Whether a set and the one that a row begins with have a member in common."""
    for word in range(sets.shape[1]):  # noqa: SIM110
        if sets[number, word] & row[word] != 0:
            return True
    return False


@compiled
def hashed(row: Ints, length: int) -> int:
    """Stir the first words of a row into one."""
    value = 0
    for word in range(length):
        value = (value ^ row[word]) * -7046029254386353131
        value ^= (value >> 31) & 0x1FFFFFFFF
    return value


@compiled
def alike(table: Ints, at: int, row: Ints, length: int) -> bool:
    """Whether a row of a table begins like another row."""
    for word in range(length):  # noqa: SIM110
        if table[at, word] != row[word]:
            return False
    return True


@compiled
def find(table: Ints, key: Ints, missing: Ints, counts: Ints) -> int:
    """Look an answer of the bound up; an unknown key is put in as such and listed.

    The last column holds the answers; the first is 0 where a row is free.
    """
    mask, length = len(table) - 1, table.shape[1] - 1
    slot = hashed(key, length) & mask
    while table[slot, 0] != 0:
        if alike(table, slot, key, length):
            return int(table[slot, length])
        slot = (slot + 1) & mask
    for word in range(length):
        table[slot, word] = key[word]
    table[slot, length] = UNKNOWN
    missing[counts[MISSING]] = slot
    counts[MISSING] += 1
    return UNKNOWN


@compiled
def refill(old: Ints, new: Ints) -> None:
    """Copy all answers of the bound into a larger table."""
    mask, length = len(new) - 1, new.shape[1] - 1
    for at in range(len(old)):
        if old[at, 0] != 0:
            slot = hashed(old[at], length) & mask
            while new[slot, 0] != 0:
                slot = (slot + 1) & mask
            new[slot, :] = old[at]


@compiled
def insert(layer: Ints, slots: Ints, counts: Ints, row: Ints, length: int) -> None:
    """Put a state into a layer, or lower its cost there; the last three columns are cost, total, link."""
    mask, end = len(slots) - 1, layer.shape[1]
    slot = hashed(row, length) & mask
    while slots[slot] >= 0:
        at = slots[slot]
        if alike(layer, at, row, length):
            if row[end - 3] < layer[at, end - 3]:
                layer[at, end - 3 :] = row[end - 3 :]
            return
        slot = (slot + 1) & mask
    slots[slot] = counts[GROWN]
    layer[counts[GROWN], :] = row
    counts[GROWN] += 1


@compiled
def reslot(layer: Ints, slots: Ints, count: int, length: int) -> None:
    """Fill an empty hash index with the states of a layer."""
    mask = len(slots) - 1
    for at in range(count):
        slot = hashed(layer[at], length) & mask
        while slots[slot] >= 0:
            slot = (slot + 1) & mask
        slots[slot] = at


@compiled
def settle_clamping(m: Tables, row: Ints, clamping: int) -> None:
    """Do everything that fits a clamping and binds nothing."""
    if clamping < 0:
        return
    users = m.numbers[USERS] + clamping
    grown = True
    while grown:
        grown = False
        for op in range(m.numbers[SIZE]):
            if has(row, op) or not has(m.sets[users], op) or not within(m.sets, m.numbers[BEFORE] + op, row):
                continue
            if m.ops[op, GROUP] >= 0 and not meets(m.sets, m.numbers[GROUPS] + m.ops[op, GROUP], row):
                continue
            if within(m.sets, m.numbers[NEEDS] + op * m.numbers[CLAMPINGS] + clamping, row):
                row[op // 62] |= 1 << (op % 62)
                grown = True


@compiled
def settle_mode(m: Tables, row: Ints, mode: int) -> None:
    """Do everything that fits a mode."""
    fits = m.numbers[FITS] + mode + 1
    grown = True
    while grown:
        grown = False
        for op in range(m.numbers[SIZE]):
            if has(m.sets[fits], op) and not has(row, op) and within(m.sets, m.numbers[BEFORE] + op, row):
                row[op // 62] |= 1 << (op % 62)
                grown = True


@compiled
def is_open(m: Tables, row: Ints) -> bool:
    """Whether a group that belongs in one clamping visit is begun but not finished."""
    first = m.numbers[GROUPS]
    for group in range(first, first + m.numbers[GROUP_COUNT]):
        if meets(m.sets, group, row) and not within(m.sets, group, row):
            return True
    return False


@compiled
def allowed(m: Tables, row: Ints, op: int, position: int, last: int) -> bool:
    """Whether an operation may come next, whatever its alternative."""
    if has(row, op) or not within(m.sets, m.numbers[BEFORE] + op, row):
        return False
    if m.ops[position, PIN_AT] not in (-1, op) or m.ops[op, PIN] not in (-1, position):
        return False
    follower = m.ops[last, FOLLOWER] if last >= 0 else -1
    if follower >= 0 and follower != op:
        return False
    if follower < 0 and m.ops[op, LEADER] >= 0:
        return False
    if last >= 0 and has(m.sets[m.numbers[FORBIDDEN] + last], op):
        return False
    for pair in range(m.ops[op, PAIRS_FIRST], m.ops[op, PAIRS_END]):
        if has(row, m.entries[pair, 0]) != has(row, m.entries[pair, 1]):
            return False
    if m.ops[op, RE_REFERENCES]:
        for pair in range(m.numbers[ZERO_FIRST], m.numbers[ZERO_END]):
            a, b = m.entries[pair, 0], m.entries[pair, 1]
            if op not in (a, b) and has(row, a) != has(row, b):
                return False
    return True


@compiled
def travel(m: Tables, place: int, goal: int, away: bool, positioning: int, home: int) -> int:
    """Cost or time of getting from place to place."""
    if m.numbers[TRAVELS] == 0 or place < 0 or goal < 0:
        return 0
    if away:
        return int(m.costs[m.numbers[home] + place] + m.costs[m.numbers[home] + goal])
    return int(m.costs[m.numbers[positioning] + place * m.numbers[PLACES] + goal])


@compiled
def change(m: Tables, state: int, way: int, first: int) -> int:
    """Cost (first = TOOL_COST) or plain time (first = TOOL_TIME) between the last operation and a way."""
    clamping, tool, mode = (state & 1023) - 1, (state >> 10 & 16383) - 1, (state >> 24 & 1023) - 1
    place = (state >> 34 & 16383) - 1
    goal, to_tool, to_mode = m.ways[way, WAY_CLAMPING], m.ways[way, WAY_TOOL], m.ways[way, WAY_MODE]
    total = 0
    away = clamping >= 0 and clamping != goal
    if away:
        total += m.costs[m.numbers[first + 1] + clamping * m.numbers[CLAMPINGS] + goal]
    if tool >= 0 and to_tool >= 0 and to_tool != tool:
        total += m.costs[m.numbers[first] + to_tool]
        away = True
    if mode >= 0 and to_mode >= 0:
        total += m.costs[m.numbers[first + 2] + mode * m.numbers[MODES] + to_mode]
    return total + travel(m, place, m.ways[way, WAY_PLACE], away, first + 3, first + 4)
