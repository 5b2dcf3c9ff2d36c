"""Which operation may come next, what it costs and what the search must remember.

A state is a tuple (done, clamping, tool, mode, place, last, visit, left, used, waiting):

done
    Mask of the operations done.
clamping, tool, mode, place
    As they stand now, -1 before the first one is needed.
last
    The operation just done if it binds the next one, otherwise -1.
visit
    Mask of the operations done in this clamping visit that still exclude others from it.
left
    Mask of the clampings left for good that some operation not done yet could use.
used
    Mask of the tools used, only if the magazine may overflow.
waiting
    Time still to wait, for each minimum wait.

The first six say where the search stands; of two states alike in them the one that costs no more and has the
smaller rest makes the other needless. Costs are reduced: what each operation costs at least is left out here
and added once at the end (`least_total`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from sequencer.ordering.model import Model, Way, bits

State = tuple[int, int, int, int, int, int, int, int, int, tuple[int, ...]]


class Step(NamedTuple):
    """One operation appended to a state."""

    operation: int
    way: Way
    cost: int
    state: State


class Moves:
    """Transitions between states of a model.

    Parameters
    ----------
    model
        The model.
    with_magazine
        Whether the tools used are remembered and kept within the capacity.
    """

    def __init__(self, model: Model, *, with_magazine: bool = False) -> None:
        self.model = model
        self.travels = any(map(any, model.positioning)) or any(model.home)
        self.least_own = tuple(min(way.cost for way in ways) for ways in model.ways)
        self.least_travel = self._least_travel() if self.travels else (0,) * model.size
        self.least_total = sum(self.least_own) + sum(self.least_travel)
        self.binds = tuple(model.follower[op] >= 0 or model.forbidden[op] != 0 for op in range(model.size))
        self.pin_of = {op: position for position, op in model.pinned.items()}
        self._apart = any(model.apart)
        self.with_magazine = with_magazine
        self.always = self._tools_always_needed() if with_magazine else 0
        self.room = self._room_left() if with_magazine else 0
        self.at_once = 0 if self.travels else _at_once(model)
        self._ready: dict[int, tuple[tuple[int, ...], bool]] = {}

    @property
    def plain(self) -> bool:
        """Whether the rest of a state (visit, left, used, waiting) is always empty."""
        model = self.model
        return not (self._apart or model.single_visit or self.with_magazine or model.waits)

    def start(self) -> State:
        """Give the state before the first operation."""
        return (0, -1, -1, -1, -1, -1, 0, 0, 0, (0,) * len(self.model.waits))

    def ready(self, done: int) -> tuple[tuple[int, ...], bool]:
        """List the operations that the set of done ones allows, and whether a clamping group is open.

        Parameters
        ----------
        done
            Mask of the operations done.
        """
        known = self._ready.get(done)
        if known is None:
            known = self._ready[done] = (tuple(self._allowed(done)), self.is_open(done))
        return known

    def is_open(self, done: int) -> bool:
        """Tell whether a group that belongs in one clamping visit is begun but not finished.

        Parameters
        ----------
        done
            Mask of the operations done.
        """
        return any(group & done and group & ~done for group in self.model.together)

    def _allowed(self, done: int) -> Iterator[int]:
        model = self.model
        position = done.bit_count()
        pinned = model.pinned.get(position, -1)
        for op in bits(model.full & ~done):
            if model.before[op] & ~done or (pinned >= 0 and op != pinned):
                continue
            if self.pin_of.get(op, position) != position:
                continue
            if any(_half(pair, done) for pair in model.between[op]):
                continue
            if model.re_references >> op & 1 and any(
                _half(pair, done) and not pair >> op & 1 for pair in model.zero_pairs
            ):
                continue
            yield op

    def steps(self, state: State) -> Iterator[Step]:
        """List every operation and alternative that may come next.

        Parameters
        ----------
        state
            Where the search stands.
        """
        model = self.model
        done, clamping, _, _, _, last, visit, left, _, _ = state
        allowed, is_open = self.ready(done)
        urgent = self._urgent(state, allowed) if self.at_once else None
        if urgent is not None:
            yield urgent
            return
        forced = model.follower[last] if last >= 0 else -1
        barred = model.forbidden[last] if last >= 0 else 0
        for op in allowed:
            if barred >> op & 1 or (op != forced if forced >= 0 else model.leader[op] >= 0):
                continue
            extra = -self.least_travel[op] - self.least_own[op]
            for mask, penalty in model.soft[op]:
                if not mask & done:
                    extra += penalty
            for way in model.ways[op]:
                if way.needs & ~done or way.bars & done or left >> way.clamping & 1:
                    continue
                if clamping >= 0 and (is_open if way.clamping != clamping else bool(visit & model.apart[op])):
                    continue
                step = self._step(state, op, way, extra)
                if step is not None:
                    yield step

    def _urgent(self, state: State, allowed: tuple[int, ...]) -> Step | None:
        """An operation that fits the machine as it stands and can gain or help nothing by waiting."""
        done, clamping, tool, mode, _, last, _, _, _, _ = state
        model = self.model
        if last >= 0 and model.follower[last] >= 0:
            return None
        for op in allowed:
            if not self.at_once >> op & 1 or any(not mask & done for mask, _ in model.soft[op]):
                continue
            if any(group >> op & 1 and not group & done for group in model.together):
                continue
            for way in model.ways[op]:
                fits = way.clamping == clamping and way.tool in (-1, tool) and way.mode in (-1, mode)
                if fits and way.cost == self.least_own[op] and not (way.needs & ~done or way.bars & done):
                    return self._step(state, op, way, -self.least_own[op])
        return None

    def _step(self, state: State, op: int, way: Way, extra: int) -> Step | None:
        model = self.model
        done, clamping, tool, mode, place, _, visit, left, used, waiting = state
        new_tool = way.tool if way.tool >= 0 else tool
        new_mode = way.mode if way.mode >= 0 else mode
        new_place = way.place if self.travels and way.place >= 0 else place
        cost = extra + way.cost
        changed = clamping >= 0 and way.clamping != clamping
        if changed:
            cost += model.clamping_cost[clamping][way.clamping]
        tool_changed = tool >= 0 and new_tool != tool
        if tool_changed:
            cost += model.tool_cost[new_tool]
        if mode >= 0 and new_mode != mode:
            cost += model.mode_cost[mode][new_mode]
        if self.travels:
            cost += self.travel(place, way.place, away=changed or tool_changed)
        new_done = done | 1 << op
        if self._apart:
            visit = self._visit(0 if changed else visit, op, new_done)
        if changed and model.single_visit >> clamping & 1:
            left |= 1 << clamping
        if left:
            left = self._still_wanted(left, new_done)
        if self.with_magazine and way.tool >= 0 and not self.always >> way.tool & 1:
            used |= 1 << way.tool
            if self._weight(used) > self.room:
                return None
        if waiting:
            idle, waiting = self._wait(state, op, way, new_done)
            cost += idle * model.time_unit
        last = op if self.binds[op] else -1
        after = (new_done, way.clamping, new_tool, new_mode, new_place, last, visit, left, used, waiting)
        return Step(op, way, cost, after)

    def travel(self, place: int, new_place: int, *, away: bool) -> int:
        """Cost of getting from place to place.

        Parameters
        ----------
        place, new_place
            The places, -1 for none yet.
        away
            Whether the tool or the clamping changes in between.
        """
        model = self.model
        if place < 0 or new_place < 0:
            return 0
        if away:
            return model.home[place] + model.home[new_place] if model.home else 0
        return model.positioning[place][new_place] if model.positioning else 0

    def _visit(self, visit: int, op: int, done: int) -> int:
        apart = self.model.apart
        if apart[op]:
            visit |= 1 << op
        return sum(1 << member for member in bits(visit) if apart[member] & ~done)

    def _still_wanted(self, left: int, done: int) -> int:
        """Only the clampings left that matter to an operation not done yet."""
        ways = (way for op in bits(self.model.full & ~done) for way in self.model.ways[op])
        return left & sum({1 << way.clamping for way in ways})

    def _weight(self, tools: int) -> int:
        return sum(self.model.tool_weight[tool] for tool in bits(tools))

    def _tools_always_needed(self) -> int:
        needed = 0
        for ways in self.model.ways:
            tools = {way.tool for way in ways}
            if len(tools) == 1 and -1 not in tools:
                needed |= 1 << tools.pop()
        return needed

    def _room_left(self) -> int:
        return self.model.capacity - self._weight(self.always)

    @property
    def overfull(self) -> bool:
        """Whether the tools that every order needs already overfill the magazine."""
        return self.with_magazine and self.room < 0

    def _wait(self, state: State, op: int, way: Way, done: int) -> tuple[int, tuple[int, ...]]:
        """Idle time directly before `op`, and what remains to wait after it."""
        model = self.model
        waiting = state[9]
        change = self._plain_change(state, way)
        idle = 0
        for (_, b, _), left in zip(model.waits, waiting, strict=True):
            if b == op:
                idle = max(idle, left - change)
        passed = change + idle + way.minutes
        remaining = []
        for (a, b, wait), left in zip(model.waits, waiting, strict=True):
            if a == op:
                remaining.append(wait)
            else:
                remaining.append(0 if done >> b & 1 else max(0, left - passed))
        return idle, tuple(remaining)

    def _plain_change(self, state: State, way: Way) -> int:
        """Time between the end of the last operation and the start of the next, without waiting."""
        _, clamping, tool, mode, place, *_ = state
        problem = self.model.problem
        time = 0
        away = clamping >= 0 and way.clamping != clamping
        if away:
            time += problem.clamping_change[clamping][way.clamping]
        if tool >= 0 and way.tool not in (-1, tool):
            time += problem.tool_change[way.tool]
            away = True
        if mode >= 0 and way.mode not in (-1, mode):
            time += problem.mode_change[mode][way.mode]
        if self.travels and place >= 0 and way.place >= 0:
            if away:
                home = problem.home_positioning
                time += home[place] + home[way.place] if home else 0
            elif problem.positioning:
                time += problem.positioning[place][way.place]
        return time

    def _least_travel(self) -> tuple[int, ...]:
        """Least cost of travel into each operation, whatever comes directly before."""
        model = self.model
        some_stay = any(way.place < 0 for ways in model.ways for way in ways)
        least = []
        for op, ways in enumerate(model.ways):
            entries = [
                self._entry(way, earlier, sure=not some_stay)
                for other in self._neighbours_before(op, adjacent=not some_stay)
                for earlier in model.ways[other]
                for way in ways
                if earlier.place >= 0
            ]
            stays = any(way.place < 0 for way in ways)
            least.append(0 if stays else min(entries, default=0))
        return tuple(least)

    def _neighbours_before(self, op: int, *, adjacent: bool) -> list[int]:
        """Operations from whose place the travel to `op` may start."""
        model = self.model
        return [
            other
            for other in range(model.size)
            if other != op
            and not model.after[op] >> other & 1
            and not (
                adjacent and (model.after[other] & model.before[op] or model.leader[op] not in (-1, other))
            )
        ]

    def _entry(self, way: Way, earlier: Way, *, sure: bool) -> int:
        """Least cost of travel; `sure` if `earlier` comes directly before."""
        stays = self.travel(earlier.place, way.place, away=False)
        leaves = self.travel(earlier.place, way.place, away=True)
        if sure and way.clamping != earlier.clamping:
            return leaves
        if not sure or -1 in (way.tool, earlier.tool):
            return min(stays, leaves)
        return stays if way.tool == earlier.tool else leaves


def _at_once(model: Model) -> int:
    """Operations whose moment cannot hinder any other, if no operation ever needs another to part two."""
    parted = any(model.apart) or any(model.forbidden) or model.pinned
    if (
        parted
        or (model.waits and model.time_unit)
        or not (_metric(model.clamping_cost) and _metric(model.mode_cost))
    ):
        return 0
    bound = model.re_references if model.zero_pairs else 0
    for pair in model.zero_pairs:
        bound |= pair
    for op, ways in enumerate(model.ways):
        for way in ways:
            bound |= way.bars
        for pair in model.between[op]:
            bound |= pair | 1 << op
        if model.follower[op] >= 0 or model.leader[op] >= 0:
            bound |= 1 << op
    return model.full & ~bound


def _metric(table: Sequence[Sequence[int]]) -> bool:
    """Whether no way over a third is shorter."""
    places = range(len(table))
    return all(table[a][c] <= table[a][b] + table[b][c] for a in places for b in places for c in places)


def _half(pair: int, done: int) -> bool:
    return 0 != pair & done != pair
