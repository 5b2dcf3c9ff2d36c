"""Which ways to hold a part, in which number and order, could cut all: every one of a stated set is tried."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from copy import copy
from dataclasses import dataclass
from functools import cached_property

from sequencer.errors import SequencerError, Severity
from sequencer.operations.context import Context
from sequencer.operations.features import feature_operations
from sequencer.operations.fitting import fit_one
from sequencer.operations.forbidden import without_forbidden
from sequencer.operations.layouts import Holder, Layout
from sequencer.operations.operation import Operation
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.part import BLANK, Clamping
from sequencer.part.stages import Made, StageBody


@dataclass(frozen=True)
class Candidate:
    """One way to hold the part.

    Parameters
    ----------
    clamping
        The clamping, on the highest riser that fits.
    first
        True if it holds the raw blank and so may come first.
    """

    clamping: Clamping
    first: bool

    @cached_property
    def needs(self) -> frozenset[str]:
        """Features that must be made before the part can be held so."""
        return frozenset({self.clamping.on, self.clamping.rests_on} - {BLANK})


@dataclass(frozen=True)
class Wanted:
    """An operation that must be cut in some clamping.

    Parameters
    ----------
    name, feature
        Its name and its feature.
    hard
        True if it is cut after hardening, False if before, None if it does not matter.
    """

    name: str
    feature: str
    hard: bool | None


@dataclass(frozen=True)
class Together:
    """Two operations that must be done in one clamping.

    Parameters
    ----------
    first, second
        Names of the operations.
    reason
        What binds them, with its numbers.
    """

    first: str
    second: str
    reason: str


@dataclass(frozen=True)
class Count:
    """What a search over the candidates tried.

    Parameters
    ----------
    sequences
        Rows of candidates in which each stands on what the ones before can make.
    reaching
        Those of them that reach every feature, as far as reach alone says.
    """

    sequences: int
    reaching: int


class Covering:
    """Searches rows of candidates that cut everything that is wanted; what a candidate cuts is kept.

    Parameters
    ----------
    holder
        Part, shop and section.
    given
        Clampings of the planner, tried as well.
    together
        Pairs of operations that only rows will do for which cut both in one clamping.
    """

    def __init__(
        self, holder: Holder, given: Iterable[Clamping] = (), together: Iterable[Together] = ()
    ) -> None:
        self.holder = holder
        self.together = tuple(together)
        self.candidates = tuple(_candidates(holder, given))
        self._reached: dict[int, frozenset[str]] = {}
        self._cut: dict[int, dict[str, Operation]] = {}
        self.tried = Count(0, 0)

    def bound_by(self, pairs: Iterable[Together]) -> Covering:
        """Give the same search with other pairs bound to one clamping; what is known stays known.

        Parameters
        ----------
        pairs
            The pairs.
        """
        other = copy(self)
        other.together = tuple(pairs)
        return other

    def cut_by(self, index: int) -> dict[str, Operation]:
        """Give the operations of all features when a candidate is the only clamping, by name.

        Parameters
        ----------
        index
            Index of the candidate.
        """
        if index not in self._cut:
            self._cut[index] = {op.name: op for op in self._operations(self.candidates[index])}
        return self._cut[index]

    def reached_by(self, index: int) -> frozenset[str]:
        """Give the features that a candidate reaches.

        Parameters
        ----------
        index
            Index of the candidate.
        """
        if index not in self._reached:
            standing = self._standing(self.candidates[index])
            features = self.holder.part.features
            self._reached[index] = frozenset(f.name for f in features if reach_of(standing, f).reachable)
        return self._reached[index]

    def answer(self, index: int, name: str) -> str:
        """Say why a candidate reaches a feature or does not.

        Parameters
        ----------
        index
            Index of the candidate.
        name
            Name of the feature.
        """
        return reach_of(self._standing(self.candidates[index]), self.holder.part.by_name[name]).reason

    def _standing(self, candidate: Candidate) -> Standing:
        holder = self.holder
        return Standing(holder.part, holder.shop, holder.section, candidate.clamping)

    def _operations(self, candidate: Candidate) -> Iterator[Operation]:
        holder, standing = self.holder, self._standing(candidate)
        reach = tuple(reach_of(standing, feature) for feature in holder.part.features)
        fitted, findings = fit_one(standing, reach, self._lightest(candidate), proposed=True)
        if fitted is None or any(each.severity is Severity.ERROR for each in findings):
            return
        context = Context(holder.part, holder.shop, holder.section, (fitted,))
        for feature in holder.part.features:
            try:
                for operation in feature_operations(context, feature):
                    yield without_forbidden(operation, holder.shop)
            except SequencerError:
                # Teeth that cannot exist or an unknown material: whoever asks for the operations is told so.
                continue

    def _lightest(self, candidate: Candidate) -> StageBody:
        """The part as it comes: the blank in a first clamping, in others the least that it can be."""
        features = () if candidate.first else self.holder.part.features
        return StageBody(self.holder.section, {feature.name: Made() for feature in features})

    def cuts(self, index: int, name: str) -> bool:
        """Whether a candidate has a way to do an operation on the machine.

        Parameters
        ----------
        index
            Index of the candidate.
        name
            Name of the operation.
        """
        operation = self.cut_by(index).get(name)
        return operation is not None and self.candidates[index].clamping.name in operation.clampings

    def layouts(
        self, wanted: Iterable[Wanted], count: int, all_cuts: Iterable[Wanted] | None = None
    ) -> Iterator[Layout]:
        """Give the rows of so many candidates that cut everything wanted, each standing on what is made.

        Parameters
        ----------
        wanted
            What must be cut.
        count
            Number of clampings.
        all_cuts
            What may be cut besides, to be held on; the same if left out.
        """
        listed = tuple(wanted)
        search = _Search(self, listed, tuple(all_cuts) if all_cuts is not None else listed)
        hard = any(each.hard for each in listed)
        splits = range(1, count) if hard else (count,)
        for hard_from in splits:
            yield from search.rows(count, hard_from)
        self.tried = Count(self.tried.sequences + search.rows_tried, self.tried.reaching + search.reaching)


class _Search:
    """Rows of candidates as bit sets: first what they reach, then, for rows that reach all, what they cut."""

    def __init__(self, covering: Covering, wanted: tuple[Wanted, ...], all_cuts: tuple[Wanted, ...]) -> None:
        self.covering = covering
        self.features = {each.name: each.feature for each in all_cuts}
        self.wanted = wanted
        self.all = (1 << len(wanted)) - 1
        self.rows_tried = 0
        self.reaching = 0
        self._exact: set[int] = set()
        self._masks: dict[int, int] = {}
        self._soft = self._side(hard=False)
        self._hard = self._side(hard=True)
        self._pairs = self._bound()

    def _bound(self) -> tuple[int, ...]:
        """Pairs that one candidate must cut, as bits, of which both are wanted."""
        bits = {each.name: 1 << i for i, each in enumerate(self.wanted)}
        return tuple(
            bits[each.first] | bits[each.second]
            for each in self.covering.together
            if each.first in bits and each.second in bits
        )

    def _side(self, *, hard: bool) -> int:
        return sum(1 << i for i, each in enumerate(self.wanted) if each.hard in (None, hard))

    def _mask(self, index: int) -> int:
        if index not in self._masks:
            reached = self.covering.reached_by(index)
            self._masks[index] = sum(1 << i for i, each in enumerate(self.wanted) if each.feature in reached)
        return self._masks[index]

    def _settle(self, index: int) -> bool:
        """Replace what a candidate reaches by what it cuts; False if that was done before."""
        if index in self._exact:
            return False
        self._exact.add(index)
        self._masks[index] = sum(
            1 << i for i, each in enumerate(self.wanted) if self.covering.cuts(index, each.name)
        )
        return True

    def rows(self, count: int, hard_from: int) -> Iterator[Layout]:
        indices = range(len(self.covering.candidates))
        for first in indices:
            if self.covering.candidates[first].first:
                yield from self._grow((first,), count, hard_from)

    def _covers(self, row: tuple[int, ...], hard_from: int) -> bool:
        """Whether a row cuts everything, and each bound pair in one of its clampings."""
        sides = (self._soft if place < hard_from else self._hard for place in range(len(row)))
        masks = [self._mask(index) & side for index, side in zip(row, sides, strict=True)]
        covered = 0
        for mask in masks:
            covered |= mask
        return covered == self.all and all(any(mask & pair == pair for mask in masks) for pair in self._pairs)

    def _grow(self, row: tuple[int, ...], count: int, hard_from: int) -> Iterator[Layout]:
        if len(row) == count:
            self.rows_tried += 1
            if not self._covers(row, hard_from):
                return
            self.reaching += 1
            for index in row:
                self._settle(index)
            if self._covers(row, hard_from) and self._stands(row):
                yield self._layout(row, hard_from)
            return
        made = frozenset().union(*(self.covering.reached_by(index) for index in row))
        for index, candidate in enumerate(self.covering.candidates):
            again = index == row[-1] and len(row) != hard_from
            if not again and not candidate.first and candidate.needs <= made:
                yield from self._grow((*row, index), count, hard_from)

    def _stands(self, row: tuple[int, ...]) -> bool:
        """Whether each candidate of a row is held on something that the ones before cut."""
        made: set[str] = set()
        for index in row:
            needs = self.covering.candidates[index].needs
            if not needs <= made:
                return False
            made |= {feature for name, feature in self.features.items() if self.covering.cuts(index, name)}
        return True

    def _layout(self, row: tuple[int, ...], hard_from: int) -> Layout:
        names = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII")
        clampings = tuple(
            self.covering.candidates[index].clamping.model_copy(update={"name": name})
            for index, name in zip(row, names, strict=False)
        )
        return Layout(clampings, hard_from)


def _candidates(holder: Holder, given: Iterable[Clamping]) -> Iterator[Candidate]:
    """Give every way to hold the part that a means of the shop allows, each once."""
    seen: set[str] = set()
    for clamping in given:
        key = clamping.model_dump_json(exclude={"name"})
        if key not in seen:
            seen.add(key)
            raw = clamping.on == BLANK and clamping.rests_on == BLANK
            yield Candidate(clamping.model_copy(update={"name": "I"}), raw)
    sides = ("lower", "upper")
    sources = [(holder.firsts(up), True) for up in sides]  # type: ignore[arg-type]
    sources += [(holder.laters(up), False) for up in sides]  # type: ignore[arg-type]
    for clampings, first in sources:
        for clamping in holder.held(clampings, "I"):
            risers = holder.risers(clamping)
            raised = Layout((clamping,), 1).with_riser(0, risers[-1]).clampings[0]
            key = raised.model_dump_json(exclude={"name"})
            if key not in seen:
                seen.add(key)
                yield Candidate(raised, first)
