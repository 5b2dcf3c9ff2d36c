"""Search and proof of a plain chain: exchanges in one thread, bounds and programs in the other.

Dense arrows (many pairs in a given order) are proven by the program over sets with the walks as its bound,
sparse ones by cuts and, where few steps are left, a constraint program. Whichever does not fit comes second.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sequencer.errors import ProofBroken
from sequencer.ordering.annealing import Annealing, first_order
from sequencer.ordering.chain_layers import go_through
from sequencer.ordering.circuit import MOST_STEPS, settle_rest
from sequencer.ordering.cuts import Cuts, solver_is_there
from sequencer.ordering.kernels import Ints
from sequencer.ordering.prices import Walks
from sequencer.ordering.search import Plan
from sequencer.ordering.sequence import Chain

if TYPE_CHECKING:
    from sequencer.ordering.portfolio import Proof, Run

#: Turns of the exchanges before the proof begins, between two of its stages, and in all: for each operation.
FIRST, MORE, ALL = 1_000, 1_000, 100_000

#: Part of the pairs in a given order from which the program over sets comes first.
DENSE: Final = 0.45

#: Operations up to which it comes first in any case.
SMALL: Final = 24

#: Walks of a stage, and the width of the first pass over sets and of the others, each wider.
WALKS: Final = 120
WIDTH, WIDER = 10_000, 6

#: States of a chain that take the room of one of another problem.
SMALLER: Final = 8

#: Part of the time left that the constraint program may take, and how often cuts and it begin anew with a
#: better order.
SHARE, TURNS = 0.4, 4

#: Operations from which there is something to exchange.
FEWEST: Final = 4


class Search:
    """The search of one chain.

    Parameters
    ----------
    chain
        The chain.
    run
        Clock and progress.
    state_limit
        Most states of another problem kept at a time.
    start
        An order already known, if any.
    """

    def __init__(self, chain: Chain, run: Run, state_limit: int, start: Plan | None) -> None:
        self._chain = chain
        self._run = run
        self._widest = SMALLER * state_limit
        self._order = first_order(chain) if start is None else chain.order(start)
        self._cost = chain.total(self._order)
        self._bound = 0
        self._asked = FIRST * chain.size
        self._tell()
        self._annealing = Annealing(chain, self._order, ALL * chain.size)

    def prove(self) -> tuple[Plan, int]:
        """Search until proven, stopped or out of room; gives the best order and the bound."""
        try:
            if not self._heard() and self._chain.size >= FEWEST:
                self._stages()
            self._wait_out()
        finally:
            self._annealing.halt()
        if not self._closed:
            self._take(*self._annealing.latest)
        return self._chain.plan(self._order), min(self._bound, self._cost) + self._chain.own

    @property
    def _closed(self) -> bool:
        return self._bound >= self._cost

    def _stages(self) -> None:
        walks = Walks(self._chain, self._cost)
        if self._chain.density >= DENSE or self._chain.size <= SMALL:
            if self._walk(walks) or self._layers(walks, WIDTH):
                return
            self._layers_until_cut(walks)
            return
        if not solver_is_there():
            if not self._walk(walks):
                self._layers_until_cut(walks)
            return
        cuts = Cuts(walks)
        for _ in range(TURNS):
            known = self._cost
            self._run.tell("proving by cuts", 0.0)
            cuts.improve(
                self._run.remaining, self._stop, lambda done: self._run.tell("proving by cuts", done)
            )
            if self._settled(walks) or self._walk(walks) or self._rest(walks, cuts):
                return
            if self._cost >= known:
                break
        self._layers_until_cut(walks)

    def _rest(self, walks: Walks, cuts: Cuts) -> bool:
        """Settle what the cuts left, if that is little; tells whether to end."""
        if len(walks.steps.to) > MOST_STEPS:
            return False
        self._run.tell("proving what is left")
        rest = settle_rest(walks, cuts.kept, SHARE * self._run.remaining(), self._stop)
        if rest is None:
            return False
        if rest[0] is not None:
            self._take(self._chain.total(rest[0]), rest[0])
        self._raise(rest[1])
        return self._settled(walks)

    def _walk(self, walks: Walks) -> bool:
        """Improve the prices; tells whether to end."""
        for part in range(4):
            self._run.tell("proving by walks", part / 4)
            walks.improve(WALKS // 4, self._stop)
            if self._settled(walks):
                return True
        return False

    def _layers_until_cut(self, walks: Walks) -> None:
        width = WIDTH * WIDER
        while not self._layers(walks, min(width, self._widest)) and width < self._widest:
            width *= WIDER

    def _layers(self, walks: Walks, width: int) -> bool:
        walks.settle()
        if self._settled(walks):
            return True
        found = go_through(
            walks,
            min(width, self._widest),
            self._stop,
            lambda done: self._run.tell(f"proving, up to {width} states a layer", done),
        )
        self._run.states += found.states
        if found.order is not None:
            self._take(self._chain.total(found.order), found.order)
        self._raise(found.bound)
        return self._settled(walks)

    def _settled(self, walks: Walks) -> bool:
        """Share what both sides know; tells whether to end."""
        self._raise(walks.bound)
        self._asked += MORE * self._chain.size
        stopped = self._heard()
        walks.lower_limit(self._cost)
        return self._closed or stopped

    def _heard(self) -> bool:
        """Take the order of the exchanges as of now; tells whether to end."""
        while (found := self._annealing.at(self._asked)) is None:
            if self._run.stop():
                return True
            self._run.tell("improving by exchanges", min(1.0, self._annealing.done / self._asked))
            self._annealing.wait(0.05)
        self._take(*found)
        return self._stop()

    def _wait_out(self) -> None:
        """Nothing more can be proven: let the exchanges go on."""
        while not self._closed and not self._run.stop():
            cost, order = self._annealing.latest
            if self._annealing.at(ALL * self._chain.size) is not None:
                break
            if cost < self._cost:
                self._take(cost, order)
            self._run.tell("improving by exchanges", self._annealing.done / (ALL * self._chain.size))
            self._annealing.wait(0.05)

    def _stop(self) -> bool:
        return self._closed or self._run.stop()

    def _take(self, cost: int, order: Ints) -> None:
        if cost < self._bound:
            raise ProofBroken(
                f"an order costs {cost}, the bound says {self._bound}",
                where="ordering",
                remedy="This is a fault of the program; please report it with the part and the shop file",
            )
        if cost < self._cost:
            self._cost, self._order = cost, order.copy()
            self._tell()

    def _raise(self, bound: int) -> None:
        if bound > self._cost:
            raise ProofBroken(
                f"a bound says {bound}, an order costs {self._cost}",
                where="ordering",
                remedy="This is a fault of the program; please report it with the part and the shop file",
            )
        self._bound = max(self._bound, bound)

    def _tell(self) -> None:
        self._run.values = self._run.scale.split(self._cost + self._chain.own)


def prove_chain(chain: Chain, run: Run, state_limit: int, start: Plan | None) -> Proof:
    """Search until proven, stopped or out of room.

    Parameters
    ----------
    chain
        The chain.
    run
        Clock and progress.
    state_limit
        Most states of another problem kept at a time; those of a chain are smaller, and more are kept.
    start
        An order already known, if any.
    """
    from sequencer.ordering.portfolio import Proof

    plan, bound = Search(chain, run, state_limit, start).prove()
    return Proof(plan, bound)
