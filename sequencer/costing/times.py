"""Where the time of each step goes, and what first, following pieces and the whole lot take."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from math import fsum
from typing import Final

from sequencer.magazine import MagazineTable
from sequencer.operations import Action, Fact, OperationList
from sequencer.operations.facts import APPROACH_TIME
from sequencer.sequencing import Sequence, Step
from sequencer.units import Minutes, shown


class TimeKind(StrEnum):
    """What time is spent on."""

    CUTTING = "cutting"
    APPROACH = "approach"
    TOOL_CHANGE = "tool change"
    MODE_CHANGE = "mode change"
    POSITIONING = "positioning"
    PROBING = "probing"
    MEASURING = "measuring"
    INDICATING = "indicating"
    CLAMPING = "clamping"
    TURN_OVER = "turning over and crane"
    RE_CLAMPING = "re-clamping"
    CLEANING = "cleaning"
    SOAK = "soak"
    WAITING = "waiting"
    BENCH = "bench work"


_BY_ACTION: Final = {
    Action.INDICATE: TimeKind.INDICATING,
    Action.RELEASE: TimeKind.RE_CLAMPING,
    Action.SOAK: TimeKind.SOAK,
    Action.WASH: TimeKind.CLEANING,
    Action.PROBE: TimeKind.PROBING,
    Action.MEASURE: TimeKind.MEASURING,
    Action.APEX_CHECK: TimeKind.MEASURING,
    Action.RECEIVE: TimeKind.BENCH,
    Action.HEAT_TREAT: TimeKind.BENCH,
    Action.SEND_OUT: TimeKind.BENCH,
    Action.INSPECT: TimeKind.BENCH,
}

_BY_CHANGE: Final = {
    "tool change": TimeKind.TOOL_CHANGE,
    "mode change": TimeKind.MODE_CHANGE,
    "positioning": TimeKind.POSITIONING,
    "waiting": TimeKind.WAITING,
    "re-clamping": TimeKind.RE_CLAMPING,
}


@dataclass(frozen=True)
class StepTime:
    """Where the time of one step goes.

    Parameters
    ----------
    step
        The step.
    shares
        Kind of time and its minutes as a fact, in the order in which they pass.
    """

    step: Step
    shares: tuple[tuple[TimeKind, Fact], ...]

    @property
    def minutes(self) -> Minutes:
        """All shares together [min]."""
        return fsum(fact.value for _, fact in self.shares)

    @property
    def on_machine(self) -> bool:
        """Whether the machine is taken meanwhile."""
        return self.step.visit > 0

    def of(self, kind: TimeKind) -> Minutes:
        """Minutes of one kind [min].

        Parameters
        ----------
        kind
            The kind.
        """
        return fsum(fact.value for each, fact in self.shares if each is kind)


@dataclass(frozen=True)
class TimeTable:
    """Times of a plan, step by step and in sum.

    Parameters
    ----------
    steps
        One entry a step, in order.
    set_up
        Setting up for a lot: clamping means and tools.
    first_extra
        What the first piece of a new part takes more.
    lot
        Pieces of the lot.
    away
        Time away from the shop for one piece [min].
    """

    steps: tuple[StepTime, ...]
    set_up: tuple[Fact, ...]
    first_extra: Fact
    lot: int
    away: Minutes

    @cached_property
    def totals(self) -> tuple[tuple[TimeKind, Fact], ...]:
        """Sum of each kind that occurs, in the order of `TimeKind`."""
        found = []
        for kind in TimeKind:
            facts = [fact for step in self.steps for each, fact in step.shares if each is kind]
            if facts:
                total = fsum(fact.value for fact in facts)
                formula = f"sum over {len(facts)} steps = {shown(total, 2)} min"
                estimate = any(fact.estimate for fact in facts)
                found.append((kind, Fact(kind, total, "min", formula, "derived", estimate)))
        return tuple(found)

    def of(self, kind: TimeKind) -> Minutes:
        """Minutes of one kind for one piece [min].

        Parameters
        ----------
        kind
            The kind.
        """
        return fsum(step.of(kind) for step in self.steps)

    @property
    def machine_minutes(self) -> Minutes:
        """Time of one piece on the machine [min]."""
        return fsum(step.minutes for step in self.steps if step.on_machine)

    @property
    def bench_minutes(self) -> Minutes:
        """Time of one piece beside the machine [min]."""
        return fsum(step.minutes for step in self.steps if not step.on_machine)

    @cached_property
    def following(self) -> Fact:
        """Time of each following piece on the machine."""
        value = self.machine_minutes
        words = f"t = sum of all steps on the machine = {shown(value, 1)} min"
        return Fact("following pieces", value, "min", words, "derived", self._estimated)

    @cached_property
    def first(self) -> Fact:
        """Time of the first piece on the machine."""
        value = self.machine_minutes + self.first_extra.value
        words = (
            f"t1 = t + extra = {shown(self.machine_minutes, 1)} + {shown(self.first_extra.value, 1)} = "
            f"{shown(value, 1)} min"
        )
        return Fact("first piece", value, "min", words, "derived", self._estimated)

    @cached_property
    def set_up_minutes(self) -> Fact:
        """Set-up of one lot."""
        value = fsum(fact.value for fact in self.set_up)
        parts = " + ".join(shown(fact.value, 1) for fact in self.set_up)
        estimate = any(fact.estimate for fact in self.set_up)
        words = f"Tsu = {parts} = {shown(value, 1)} min"
        return Fact("set-up per lot", value, "min", words, "derived", estimate)

    @cached_property
    def lot_minutes(self) -> Fact:
        """Time of the lot on the machine."""
        su, extra, piece = self.set_up_minutes.value, self.first_extra.value, self.machine_minutes
        value = batch_minutes(su + extra, self.lot, piece)
        words = (
            f"Tb = Tsu + extra + Q t = {shown(su, 1)} + {shown(extra, 1)} + {self.lot}*{shown(piece, 1)} = "
            f"{shown(value, 1)} min"
        )
        source = "M. P. Groover, Automation, Production Systems, batch time"
        return Fact("lot on the machine", value, "min", words, source, True)

    @cached_property
    def utilisation(self) -> Fact:
        """Share of the lot's machine time in which a spindle cuts."""
        cutting, all_minutes = self.of(TimeKind.CUTTING), self.lot_minutes.value
        value = self.lot * cutting / all_minutes if all_minutes else 0.0
        words = f"U = Q tc/Tb = {self.lot}*{shown(cutting, 1)}/{shown(all_minutes, 1)} = {shown(value, 3)}"
        return Fact("spindle utilisation", value, "", words, "derived", True)

    @property
    def _estimated(self) -> bool:
        return any(fact.estimate for step in self.steps if step.on_machine for _, fact in step.shares)


def batch_minutes(set_up: Minutes, pieces: int, piece: Minutes) -> Minutes:
    """Time of a batch: its set-up and every piece, Tb = Tsu + Q Tc.

    Source: M. P. Groover, Automation, Production Systems, and Computer-Integrated Manufacturing, batch time

    Parameters
    ----------
    set_up
        Set-up of the batch [min].
    pieces
        Pieces.
    piece
        Time of one piece [min].
    """
    return set_up + pieces * piece


def make_times(operations: OperationList, sequence: Sequence, magazine: MagazineTable) -> TimeTable:
    """Split the time of a plan by what it is spent on.

    Parameters
    ----------
    operations
        Operations with part and shop.
    sequence
        The order.
    magazine
        The tools that are loaded.
    """
    part, shop = operations.part, operations.shop
    steps = tuple(_split(operations, step) for step in sequence.steps)
    machine = fsum(step.minutes for step in steps if step.on_machine)
    return TimeTable(
        steps,
        _set_up(operations, sequence, magazine),
        _first_extra(
            part.money.programmed,
            shop.effort.first_piece,
            "first_piece" not in shop.effort.model_fields_set,
            machine,
        ),
        part.lot,
        sequence.time_away,
    )


def _first_extra(programmed: bool, share: float, guess: bool, machine: Minutes) -> Fact:
    name = "proving the programme on the first piece"
    if programmed:
        return Fact(name, 0.0, "min", "a repeat order: nothing is proved anew", "part file")
    value = share * machine
    words = f"{shown(share, 2)}*t = {shown(share, 2)}*{shown(machine, 1)} = {shown(value, 1)} min"
    return Fact(name, value, "min", words, "shop file, effort", guess)


def _set_up(operations: OperationList, sequence: Sequence, magazine: MagazineTable) -> tuple[Fact, ...]:
    effort = operations.shop.effort
    given = effort.model_fields_set
    visits, one = sequence.clampings, float(effort.set_up_clamping)
    residents = set(operations.shop.magazine.residents)
    tools = sum(use.loaded for use in magazine.uses if use.tool not in residents)
    load = float(effort.load_tool)
    return (
        Fact(
            "clamping means",
            visits * one,
            "min",
            f"{visits} clampings*{shown(one, 1)} = {shown(visits * one, 1)} min",
            "shop file, effort",
            "set_up_clamping" not in given,
        ),
        Fact(
            "tools",
            tools * load,
            "min",
            f"{tools} tools that do not stay in the magazine*{shown(load, 1)} = {shown(tools * load, 1)} min",
            "shop file, effort",
            "load_tool" not in given,
        ),
    )


def _split(operations: OperationList, step: Step) -> StepTime:
    shares = [
        (_BY_CHANGE[change.name], Fact(change.name, change.minutes, "min", change.reason, "shop file, times"))
        for change in step.changes
    ]
    if step.operation.action is Action.CLAMP:
        shares += _clamping(operations, step)
    elif step.operation.action in _BY_ACTION:
        kind = _BY_ACTION[step.operation.action]
        if kind is TimeKind.MEASURING and step.alternative.method == "probing":
            kind = TimeKind.PROBING
        shares.append((kind, _own(step, kind, step.alternative.minutes)))
    else:
        shares += _cutting(step)
    return StepTime(step, tuple(shares))


def _own(step: Step, name: str, minutes: Minutes) -> Fact:
    """Own time of a step under another name, with the formula that the step has for it."""
    known = next((fact for fact in step.alternative.facts if fact.name == "time"), None)
    if known is None:
        return Fact(name, minutes, "min", "", "derived", True)
    return Fact(name, minutes, "min", known.formula, known.source, known.estimate)


def _clamping(operations: OperationList, step: Step) -> list[tuple[TimeKind, Fact]]:
    """Clamping, and what comes before it: turning over with the crane, or releasing and lifting."""
    clamp = float(operations.shop.machine.times.clamp)
    extra = step.alternative.minutes - clamp
    own = Fact(
        "clamping", step.alternative.minutes - max(extra, 0.0), "min", "time to clamp", "shop file, times"
    )
    if extra <= 0:
        return [(TimeKind.CLAMPING, own)]
    names = [clamping.name for clamping in operations.clampings]
    at = names.index(step.alternative.clamping)
    sides = [operations.clampings[each].clamping.up for each in (max(at - 1, 0), at)]
    kind = TimeKind.TURN_OVER if sides[0] != sides[1] else TimeKind.RE_CLAMPING
    return [(kind, Fact(kind, extra, "min", "before clamping", "shop file, times")), (TimeKind.CLAMPING, own)]


def _cutting(step: Step) -> list[tuple[TimeKind, Fact]]:
    """Cutting, and the approach where the method tells it apart; else it is contained in the cutting."""
    minutes = step.alternative.minutes
    known = next((fact for fact in step.alternative.facts if fact.name == APPROACH_TIME), None)
    if known is None:
        return [(TimeKind.CUTTING, _own(step, "cutting, approach included", minutes))]
    approach = min(known.value, minutes)
    whole = _own(step, "cutting", minutes - approach)
    rest = f"; less the approach of {shown(approach, 2)} = {shown(minutes - approach, 2)} min"
    cutting = Fact("cutting", minutes - approach, "min", whole.formula + rest, whole.source, whole.estimate)
    first = Fact("approach", approach, "min", known.formula, known.source, known.estimate)
    return [(TimeKind.APPROACH, first), (TimeKind.CUTTING, cutting)]
