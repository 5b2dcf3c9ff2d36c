"""Best-first search with proof, and a beam that finds good orders at once."""

from __future__ import annotations

import heapq
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from sequencer.ordering.bound import SMALL_GROUPS, Bound
from sequencer.ordering.model import Model
from sequencer.ordering.moves import Moves, State
from sequencer.ordering.tool_groups import NEVER

Stop = Callable[[], bool]

#: States between two looks at the clock.
POLL = 256


@dataclass(frozen=True)
class Plan:
    """An order of a model with its cost.

    Parameters
    ----------
    cost
        The single integer.
    model
        Number of the model among those searched.
    steps
        Pairs of an operation and the index of its alternative, in the numbering of the problem.
    """

    cost: int
    model: int
    steps: tuple[tuple[int, int], ...]


class Space:
    """A model with its transitions and bound.

    Parameters
    ----------
    model
        The model.
    with_magazine
        Whether the capacity of the magazine is kept.
    group_size
        Most operations of one tool group of the bound.
    """

    def __init__(self, model: Model, *, with_magazine: bool, group_size: int = SMALL_GROUPS) -> None:
        self.model = model
        self.moves = Moves(model, with_magazine=with_magazine)
        self.bound = Bound(model, self.moves, group_size)
        self.root = NEVER if self.moves.overfull else self.bound.of(self.moves.start())
        self.root = min(NEVER, self.root + self.moves.least_total)


class Labels:
    """States met, so that a state no better than one met before is left alone.

    Parameters
    ----------
    moves
        Transitions; says whether states carry a rest that must be compared.
    """

    def __init__(self, moves: Moves) -> None:
        self._plain = moves.plain
        self._time_unit = moves.model.time_unit
        self._best: dict[State, int] = {}
        self._rests: dict[tuple[int, ...], list[tuple[int, State]]] = {}

    def __len__(self) -> int:
        return len(self._best)

    def current(self, state: State, cost: int) -> bool:
        """Tell whether a state is still reached at this cost and not cheaper.

        Parameters
        ----------
        state
            The state.
        cost
            Cost it was met at.
        """
        return self._best.get(state) == cost

    def add(self, state: State, cost: int) -> bool:
        """Take a state in, unless one met before makes it needless.

        Parameters
        ----------
        state
            The state.
        cost
            What it costs to get there.
        """
        known = self._best.get(state)
        if known is not None and known <= cost:
            return False
        if not self._plain:
            others = self._rests.setdefault(state[:6], [])
            if any(self._beats(other, other_cost, state, cost) for other_cost, other in others):
                return False
            kept = []
            for other_cost, other in others:
                if self._beats(state, cost, other, other_cost):
                    del self._best[other]
                else:
                    kept.append((other_cost, other))
            kept.append((cost, state))
            self._rests[state[:6]] = kept
        self._best[state] = cost
        return True

    def _beats(self, one: State, cost: int, other: State, other_cost: int) -> bool:
        """Whether `one`, after waiting as long as `other` need not, can do all that `other` can."""
        if cost > other_cost or one[6] & ~other[6] or one[7] & ~other[7] or one[8] & ~other[8]:
            return False
        longer = max((mine - its for mine, its in zip(one[9], other[9], strict=True)), default=0)
        return cost + max(0, longer) * self._time_unit <= other_cost


@dataclass
class BestFirst:
    """A* over the states of several models at once; stops and goes on as asked.

    Parameters
    ----------
    spaces
        The models.
    """

    spaces: Sequence[Space]
    states: int = 0
    best: Plan | None = None
    limit: int = NEVER
    _heap: list[tuple[int, int, int, int, int, State]] = field(default_factory=list)
    _labels: list[Labels] = field(default_factory=list)
    _came: list[tuple[int, int, int]] = field(default_factory=list)

    def __post_init__(self) -> None:
        for number, space in enumerate(self.spaces):
            self._labels.append(Labels(space.moves))
            if space.root < NEVER:
                self._push(number, space.moves.start(), 0, space.root, (-1, -1, -1))

    def _push(self, number: int, state: State, cost: int, total: int, came: tuple[int, int, int]) -> None:
        if total < self.limit and self._labels[number].add(state, cost):
            entry = (total, -state[0].bit_count(), len(self._came), number, cost, state)
            self._came.append(came)
            heapq.heappush(self._heap, entry)

    @property
    def kept(self) -> int:
        """Number of states in memory."""
        return len(self._came)

    @property
    def bound(self) -> int:
        """No order costs less than this."""
        lowest = self._heap[0][0] if self._heap else NEVER
        return min(lowest, self.limit)

    @property
    def finished(self) -> bool:
        """Whether no better order than the limit is left."""
        return self.bound >= self.limit

    def lower_limit(self, cost: int) -> None:
        """Look only for orders cheaper than this.

        Parameters
        ----------
        cost
            Cost of an order already found.
        """
        self.limit = min(self.limit, cost)

    def run(self, kept: int, stop: Stop) -> None:
        """Search until done, stopped, or so many states are in memory.

        Parameters
        ----------
        kept
            Most states in memory.
        stop
            Asked now and then.
        """
        while self._heap and self._heap[0][0] < self.limit and len(self._came) < kept:
            _, _, identity, number, cost, state = heapq.heappop(self._heap)
            if not self._labels[number].current(state, cost):
                continue
            self.states += 1
            space = self.spaces[number]
            if state[0] == space.model.full:
                self._found(identity, number, cost + space.moves.least_total)
                return
            self._expand(space, number, identity, cost, state)
            if self.states % POLL == 0 and stop():
                return

    def _expand(self, space: Space, number: int, identity: int, cost: int, state: State) -> None:
        bound, least = space.bound, space.moves.least_total
        for step in space.moves.steps(state):
            rest = bound.of(step.state)
            if rest < NEVER:
                reached = cost + step.cost
                came = (identity, step.way.operation, step.way.index)
                self._push(number, step.state, reached, reached + rest + least, came)

    def _found(self, identity: int, number: int, cost: int) -> None:
        steps: list[tuple[int, int]] = []
        while self._came[identity][0] >= 0:
            parent, op, way = self._came[identity]
            steps.append((op, way))
            identity = parent
        self.best = Plan(cost, number, tuple(reversed(steps)))
        self.limit = cost


def beam(space: Space, number: int, width: int, limit: int, stop: Stop) -> tuple[Plan | None, int, bool]:
    """Keep the most promising states of each length; gives a plan, the states seen, and if none was dropped.

    Parameters
    ----------
    space
        The model.
    number
        Its number, for the plan.
    width
        States kept of each length.
    limit
        Look only for orders cheaper than this.
    stop
        Asked after each length.
    """
    least = space.moves.least_total
    layer: list[tuple[int, int, State, tuple[object, ...]]] = [(space.root, 0, space.moves.start(), ())]
    seen, complete = 0, True
    if space.root >= limit:
        return None, 0, True
    for _ in range(space.model.size):
        labels = Labels(space.moves)
        grown: dict[State, tuple[int, int, State, tuple[object, ...]]] = {}
        for _, cost, state, path in layer:
            for step in space.moves.steps(state):
                seen += 1
                reached = cost + step.cost
                total = reached + least + space.bound.of(step.state)
                if total < limit and labels.add(step.state, reached):
                    way = (step.way.operation, step.way.index)
                    grown[step.state] = (total, reached, step.state, (path, way))
        ranked = sorted(grown.values(), key=lambda entry: entry[:3])
        complete = complete and len(ranked) <= width
        layer = ranked[:width]
        if not layer:
            return None, seen, complete
        if stop():
            return None, seen, False
    _, cost, _, path = layer[0]
    return Plan(cost + least, number, _unrolled(path)), seen, complete


def _unrolled(path: tuple[object, ...]) -> tuple[tuple[int, int], ...]:
    steps = []
    while path:
        path, way = path  # type: ignore[assignment]
        steps.append(way)
    return tuple(reversed(steps))  # type: ignore[arg-type]
