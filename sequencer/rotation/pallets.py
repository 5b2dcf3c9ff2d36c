"""Lot time, idle time and presence with one pallet or several, clamped by hand or hydraulically."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sequencer.operations import Action
from sequencer.plan import Plan
from sequencer.sequencing import Step
from sequencer.shop.clamp_times import Actuation, clamp_minutes, release_minutes
from sequencer.units import Minutes


@dataclass(frozen=True)
class Visit:
    """One clamping of a piece: setting up, then cutting.

    Parameters
    ----------
    setup
        Setting up: clamping and indicating [min].
    cut
        Everything after it on the table [min].
    attended
        Part of it with an operator at the machine: re-clamping, tools loaded by hand [min].
    """

    setup: Minutes
    cut: Minutes
    attended: Minutes


@dataclass(frozen=True)
class LotTime:
    """A lot on one machine.

    Parameters
    ----------
    pallets
        Number of pallets; 1 is a fixed table.
    actuation
        "manual" or "hydraulic".
    minutes
        From the first set-up to the last cut [min].
    cutting
        Time in which the machine works on a piece [min].
    presence
        Time in which an operator is needed [min].
    alone
        Longest time without one [min].
    estimate
        True if a time of hydraulic clamping was estimated.
    """

    pallets: int
    actuation: Actuation
    minutes: Minutes
    cutting: Minutes
    presence: Minutes
    alone: Minutes
    estimate: bool

    @property
    def idle(self) -> Minutes:
        """Time in which the machine stands still [min]."""
        return round(self.minutes - self.cutting, 6)


def visits_of(plan: Plan, actuation: Actuation | None = None) -> tuple[Visit, ...]:
    """Give the clampings of a piece with their times.

    Source: derived

    Parameters
    ----------
    plan
        The plan.
    actuation
        How all clamping means are tightened; as the shop has them if left out.
    """
    stops: dict[int, Minutes] = {stop.step: stop.minutes for stop in plan.magazine.stops}
    groups: dict[int, list[Step]] = {}
    for step in plan.sequence.steps:
        if step.visit:
            groups.setdefault(step.visit, []).append(step)
    return tuple(_visit(plan, steps, stops, actuation) for steps in groups.values())


def _visit(plan: Plan, steps: list[Step], stops: dict[int, Minutes], actuation: Actuation | None) -> Visit:
    times = plan.shop.machine.times
    means = plan.operations.clamping_by_name[steps[0].alternative.clamping].means
    now: Actuation = means.actuation
    wanted: Actuation = actuation or now
    setup = cut = attended = 0.0
    for step in steps:
        minutes = step.minutes
        if step.operation.action is Action.CLAMP:
            minutes += clamp_minutes(times, wanted) - clamp_minutes(times, now)
        if step.operation.action is Action.RELEASE:
            minutes += release_minutes(times, wanted) - release_minutes(times, now)
        if step.operation.opening:
            setup += minutes
            continue
        cut += minutes
        attended += minutes if step.operation.action is Action.RELEASE and wanted == "manual" else 0.0
        attended += stops.get(step.number, 0.0)
    return Visit(round(setup, 6), round(cut, 6), round(attended, 6))


def lot_time(
    visits: Sequence[Visit],
    lot: int,
    pallets: int,
    change: Minutes,
    *,
    actuation: Actuation = "manual",
    estimate: bool = False,
) -> LotTime:
    """Run a lot through one clamping after the other; one operator sets up whenever a pallet is free.

    Source: derived; with one pallet the machine waits during each set-up, with more the next piece is set up
    while one is cut, and the pallets are exchanged before each cut.

    Parameters
    ----------
    visits
        Clampings of a piece.
    lot
        Pieces [-].
    pallets
        Number of pallets [-].
    change
        Exchange of two pallets [min].
    actuation
        How the pieces are clamped, for the answer.
    estimate
        Whether a time was estimated, for the answer.
    """
    exchange = change if pallets > 1 else 0.0
    operator = machine = cutting = presence = 0.0
    busy: list[tuple[Minutes, Minutes]] = []
    free = [0.0] * pallets
    ready = [0.0] * lot
    for visit in visits:
        for piece in range(lot):
            pallet = min(range(pallets), key=lambda index: free[index])
            begin = max(operator, free[pallet], ready[piece])
            operator = begin + visit.setup
            start = max(machine, operator) + exchange
            machine = start + visit.cut
            free[pallet] = ready[piece] = machine + exchange
            cutting += visit.cut
            presence += visit.setup + visit.attended
            busy.append((begin, operator))
    alone, end = 0.0, 0.0
    for begin, finish in busy:
        alone = max(alone, begin - end)
        end = max(end, finish)
    alone = round(max(alone, machine - end), 6)
    total, cut, there = round(machine, 6), round(cutting, 6), round(presence, 6)
    return LotTime(pallets, actuation, total, cut, there, alone, estimate)


def lot_times(plan: Plan, lot: int | None = None) -> tuple[LotTime, ...]:
    """Compare one pallet, two, and as many as the machine has, by hand and hydraulically.

    Source: derived

    Parameters
    ----------
    plan
        The plan of a part.
    lot
        Pieces; those of the part if left out [-].
    """
    machine = plan.shop.machine
    counts = sorted({1, 2, machine.pallets})
    pieces = plan.part.lot if lot is None else lot
    kinds: tuple[Actuation, Actuation] = ("manual", "hydraulic")
    times = machine.times
    guessed = times.hydraulic_clamp is None or times.hydraulic_release is None
    return tuple(
        lot_time(
            visits_of(plan, kind),
            pieces,
            pallets,
            float(machine.pallet_change),
            actuation=kind,
            estimate=kind == "hydraulic" and guessed,
        )
        for pallets in counts
        for kind in kinds
    )


def lot_time_here(plan: Plan) -> LotTime:
    """Give the lot time with the pallets and clamping means that the shop has.

    Parameters
    ----------
    plan
        The plan of a part.
    """
    machine = plan.shop.machine
    kinds = {clamping.means.actuation for clamping in plan.operations.clampings}
    kind: Actuation = "hydraulic" if kinds == {"hydraulic"} else "manual"
    guessed = "hydraulic" in kinds and machine.times.hydraulic_clamp is None
    return lot_time(
        visits_of(plan),
        plan.part.lot,
        machine.pallets,
        float(machine.pallet_change),
        actuation=kind,
        estimate=guessed,
    )
