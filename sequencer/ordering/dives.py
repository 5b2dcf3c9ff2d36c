"""Some order where the beam runs into dead ends: goes down, and back from each state that leads nowhere."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field

from sequencer.ordering.moves import State, Step
from sequencer.ordering.search import Plan, Space, Stop
from sequencer.ordering.tool_groups import NEVER

#: States of the first dive for each operation; every dive after it may look at twice as many.
FIRST = 8

#: States between two looks at the clock.
POLL = 64

#: What can be done from a state: the operations done, the clamping, and what binds or bars the next ones.
Footing = tuple[int, int, int, int, int, int]


def footing(state: State) -> Footing:
    """Leave out of a state what costs time alone and never bars an operation: tool, mode, place, waiting.

    Parameters
    ----------
    state
        The state.
    """
    return (state[0], state[1], state[5], state[6], state[7], state[8])


@dataclass
class Diver:
    """Dives until an order is found, each in another manner; what led nowhere once is not tried again.

    Parameters
    ----------
    space
        The model.
    number
        Its number, for the plan.
    """

    space: Space
    number: int
    states: int = 0
    exhausted: bool = False
    _dead: set[Footing] = field(default_factory=set)
    _blame: dict[int, int] = field(default_factory=dict)

    def find(self, most: int, stop: Stop) -> Plan | None:
        """Find an order; None if there is none, or none was found in time.

        Parameters
        ----------
        most
            States looked at before it gives up.
        stop
            Asked now and then.
        """
        if self.space.root >= NEVER:
            self.exhausted = True
            return None
        patience, manner = FIRST * self.space.model.size, 0
        while self.states < most and not self.exhausted and not stop():
            plan = self._dive(min(patience, most - self.states), manner, stop)
            if plan is not None:
                return plan
            patience, manner = 2 * patience, manner + 1
        return None

    def _dive(self, patience: int, manner: int, stop: Stop) -> Plan | None:
        """Go down the most promising steps, back from dead ends, until an order is found or patience ends."""
        moves, full = self.space.moves, self.space.model.full
        rnd = random.Random(manner)
        start = moves.start()
        path: list[Step] = []
        spent: list[int] = [0]
        levels: list[tuple[State, Iterator[Step]]] = [(start, self._ranked(start, manner, rnd))]
        for seen in range(patience):
            if not levels or (seen % POLL == POLL - 1 and stop()):
                break
            self.states += 1
            state, steps = levels[-1]
            step = next(steps, None)
            if step is None:
                self._dead.add(footing(state))
                levels.pop()
                spent.pop()
                if path:
                    path.pop()
                continue
            if footing(step.state) in self._dead:
                continue
            path.append(step)
            spent.append(spent[-1] + step.cost)
            if step.state[0] == full:
                ways = tuple((each.way.operation, each.way.index) for each in path)
                return Plan(spent[-1] + moves.least_total, self.number, ways)
            levels.append((step.state, self._ranked(step.state, manner, rnd)))
        self.exhausted = self.exhausted or not levels
        return None

    def _ranked(self, state: State, manner: int, rnd: random.Random) -> Iterator[Step]:
        """Steps that may lead to an order: at first the cheapest, later those blamed for dead ends first."""
        ranked: list[tuple[bool, bool, int, int, int, Step]] = []
        for step in self.space.moves.steps(state):
            rest = self.space.bound.of(step.state)
            if rest >= NEVER or footing(step.state) in self._dead:
                continue
            blaming = manner % 2 == 1
            leaves = blaming and step.state[1] != state[1]
            blamed = self._blame.get(step.operation, 0) if blaming else 0
            usual = manner < 2 or rnd.random() >= 0.1 * manner
            ranked.append((usual, leaves, -blamed, step.cost + rest, len(ranked), step))
        if not ranked:
            for op in range(self.space.model.size):
                if not state[0] >> op & 1:
                    self._blame[op] = self._blame.get(op, 0) + 1
        ranked.sort(key=lambda entry: entry[:5])
        return (entry[5] for entry in ranked)
