"""Set-ups of a plan: one for each clamping visit."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sequencer.errors import Finding, Severity
from sequencer.ledger import DatumTable, SetupDatums
from sequencer.operations import OperationList
from sequencer.operations.standing import Standing
from sequencer.part.section import make_section
from sequencer.part.stages import StageBody
from sequencer.sequencing import Sequence
from sequencer.setups.cautions import cautions_of, first_checks, lifting_of
from sequencer.setups.holding import grips_of, ovality_of, run_up_seconds, table_use, tipping_of
from sequencer.setups.indicating import targets_of, zero_of
from sequencer.setups.setup import SetUp
from sequencer.setups.states import Visit, density_of, state_of, visits_of
from sequencer.setups.surfaces import (
    covered_by,
    held_on,
    located_on,
    reached_and_hidden,
    things_on_table,
)
from sequencer.units import shown


def make_set_ups(operations: OperationList, sequence: Sequence, datums: DatumTable) -> tuple[SetUp, ...]:
    """Give the set-up of every clamping visit of a plan.

    Parameters
    ----------
    operations
        Operations with their clampings.
    sequence
        The order.
    datums
        What each visit indicates.
    """
    visits = tuple(visits_of(operations, sequence))
    aimed = {each.visit: each for each in datums.setups}
    maker = _Maker(operations, _last_visits(visits), aimed)
    made: list[SetUp] = []
    for visit in visits:
        made.append(maker.set_up(visit, made[-1] if made else None))
    return tuple(made)


def _last_visits(visits: Iterable[Visit]) -> dict[str, int]:
    """Number of the visit that cuts a feature for the last time."""
    return {
        step.operation.feature: visit.number
        for visit in visits
        for step in visit.steps
        if step.operation.cuts
    }


@dataclass(frozen=True)
class _Maker:
    operations: OperationList
    last: dict[str, int]
    datums: dict[int, SetupDatums]

    def set_up(self, visit: Visit, earlier: SetUp | None) -> SetUp:
        part, shop = self.operations.part, self.operations.shop
        section, density = make_section(part), density_of(self.operations)
        fitted = self.operations.clamping_by_name[visit.name]
        standing = Standing(part, shop, section, fitted.clamping)
        bodies = StageBody(section, visit.before), StageBody(section, visit.after)
        before, after = (state_of(standing, body, density) for body in bodies)
        cut = tuple(dict.fromkeys(s.operation.feature for s in visit.steps if s.operation.cuts))
        finished = tuple(name for name in cut if self.last[name] == visit.number)
        rough, finish = grips_of(standing, fitted, visit.steps)
        ovality = ovality_of(standing, fitted, bodies[1], finished, finish.at_rest)
        tipping = tipping_of(standing, before, rough.at_rest, visit.steps)
        datums = self.datums[visit.number]
        targets = targets_of(datums)
        reached, hidden = reached_and_hidden(fitted)
        turned = earlier is not None and earlier.clamping.clamping.up != fitted.clamping.up
        return SetUp(
            visit=visit.number,
            clamping=fitted,
            operations=tuple(step.operation.name for step in visit.steps),
            held=held_on(standing, fitted),
            located=located_on(standing, bodies[0]),
            covered=covered_by(standing),
            reached=reached,
            hidden=hidden,
            cut=cut,
            finished=finished,
            before=before,
            after=after,
            things=things_on_table(standing, fitted, bodies[0]),
            rough=rough,
            finish=finish,
            ovality=ovality,
            tipping=tipping,
            speed_cap=fitted.table_speed,
            speed_reason=fitted.speed_reason,
            run_up=run_up_seconds(standing, before, fitted.table_speed),
            table=table_use(standing, fitted, before, after),
            riser=float(fitted.clamping.riser),
            free_height=standing.air_below,
            lifting=lifting_of(standing, visit, before, after, turned),
            zero=zero_of(standing, bodies[0], [part.by_name[name] for name in cut], datums),
            targets=targets,
            checks=first_checks(standing, fitted, visit, targets),
            cautions=cautions_of(standing, fitted, before, (rough, finish), ovality, tipping),
        )


def set_up_findings(set_ups: Iterable[SetUp]) -> tuple[Finding, ...]:
    """Give what the planner must know about holding: grip, ovality, swing, height, inertia, unbalance.

    Parameters
    ----------
    set_ups
        The set-ups.
    """
    return tuple(finding for set_up in set_ups for finding in _findings(set_up))


def _findings(set_up: SetUp) -> Iterable[Finding]:
    where = f"clamping {set_up.name}"
    for grip in (set_up.rough, set_up.finish):
        if not grip.holds:
            yield Finding(
                Severity.WARNING,
                where,
                f"{grip.heaviest} asks {shown(grip.torque_needed, 0)} N m of the grip",
                f"friction holds {shown(grip.torque_held, 0)} N m: {grip.formula}",
                "cut less deep, clamp harder, or add a driver against turning",
                "holding",
            )
    tipping = set_up.tipping
    if tipping.needed > tipping.allowed:
        yield Finding(
            Severity.WARNING,
            where,
            f"{tipping.heaviest} with {shown(tipping.needed / 1000, 1)} kN may tip the part",
            f"{shown(tipping.allowed / 1000, 1)} kN at its height: {tipping.formula}",
            "cut less deep, grip a longer or wider band, or bolt the part down",
            "holding",
        )
    yield from _ovality(set_up, where)
    for use in set_up.table:
        # Load and height are errors of the clamping itself.
        if use.name in ("swing", "moment of inertia", "unbalance") and 0 < use.limit < use.value:
            yield Finding(
                Severity.WARNING if use.name == "unbalance" else Severity.ERROR,
                where,
                f"{use.name} is {shown(use.value, 1)} {use.unit} ({use.formula})",
                f"machine: {shown(use.limit, 1)} {use.unit}",
                "balance it with a counterweight" if use.name == "unbalance" else "take a larger machine",
                "holding",
            )


def _ovality(set_up: SetUp, where: str) -> Iterable[Finding]:
    found = set_up.ovality
    if found is None or found.allowed <= 0 or found.deviation <= found.allowed:
        return
    force = shown(set_up.finish.at_rest / 1000, 1)
    asked = shown(set_up.finish.torque_needed, 0)
    yield Finding(
        Severity.WARNING,
        where,
        f"{found.feature} comes out about {shown(found.deviation, 0)} um out of round: it is finished under "
        f"{found.jaws} jaws with {force} kN ({found.formula})",
        f"{shown(found.allowed, 0)} um, a third of its tolerance",
        f"clamp with at most {shown(found.most / 1000, 1)} kN for finishing (its cuts ask {asked} N m), "
        "use more or softer jaws, or bolt it down on its face",
        "holding",
    )
