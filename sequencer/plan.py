"""The whole answer: runs the chain from part and shop to the plan, and keeps every stage."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from sequencer.costing import Costing, make_costing
from sequencer.errors import Finding, NoPlan, Severity
from sequencer.inspection import InspectionPlan, make_inspection
from sequencer.ledger import DatumTable, Ledger, make_datums, make_ledger
from sequencer.magazine import MagazineTable, make_magazine, other_tools, tool_places, with_remedies
from sequencer.operations import OperationList, make_operations
from sequencer.ordering.result import Progress
from sequencer.part import Part
from sequencer.part.section import Section, make_section
from sequencer.precedence.graph import DependencyGraph
from sequencer.precedence.make import make_graph
from sequencer.sequencing import Sequence, make_sequence, refuse_errors
from sequencer.sequencing.order import Aim
from sequencer.sequencing.spare import choices_of_clampings
from sequencer.setups import (
    LeastClampings,
    SetUp,
    least_clampings,
    least_findings,
    make_set_ups,
    other_rows,
    set_up_findings,
)
from sequencer.shop import Shop


@dataclass(frozen=True)
class Plan:
    """A plan with all the stages that led to it.

    Parameters
    ----------
    part, shop
        What was asked.
    section
        Half-section of the part.
    operations
        Operations with alternatives and rejections.
    graph
        Dependencies.
    sequence
        The order.
    magazine
        Tools and pockets.
    """

    part: Part
    shop: Shop
    section: Section
    operations: OperationList
    graph: DependencyGraph
    sequence: Sequence
    magazine: MagazineTable

    @cached_property
    def costing(self) -> Costing:
        """Time and money, make or buy."""
        return make_costing(self.operations, self.graph, self.sequence, self.magazine)

    @cached_property
    def set_ups(self) -> tuple[SetUp, ...]:
        """Set-up of each clamping visit, in order."""
        return make_set_ups(self.operations, self.sequence, self.datums)

    @cached_property
    def datums(self) -> DatumTable:
        """Who makes each datum, where it is used, and what each clamping indicates."""
        return make_datums(self.operations, self.sequence)

    @cached_property
    def ledger(self) -> Ledger:
        """How each tolerance is used up; process dimensions and stock."""
        return make_ledger(self.operations, self.sequence)

    @cached_property
    def inspection(self) -> InspectionPlan:
        """What is measured when, with what, and how it is decided."""
        return make_inspection(self.operations, self.sequence, self.ledger)

    @cached_property
    def least(self) -> LeastClampings:
        """How few clampings the part needs on this shop, with proof."""
        return least_clampings(self.operations, self.sequence)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, errors first."""
        return self._findings(self.least)

    @cached_property
    def weighty(self) -> tuple[Finding, ...]:
        """Errors and warnings alone; quicker, since what forces each clamping is a note."""
        least = least_clampings(self.operations, self.sequence, reasons=False)
        return tuple(each for each in self._findings(least) if each.severity is not Severity.NOTE)

    def _findings(self, least: LeastClampings) -> tuple[Finding, ...]:
        order = {"error": 0, "warning": 1, "note": 2}
        found = dict.fromkeys(
            (
                *self.operations.findings,
                *self.graph.findings,
                *self.magazine.findings,
                *self.costing.findings,
                *set_up_findings(self.set_ups),
                *self.datums.findings,
                *self.ledger.findings,
                *self.inspection.findings,
                *least_findings(least),
            )
        )
        return tuple(sorted(found, key=lambda finding: order[finding.severity]))


def make_plan(
    part: Part,
    shop: Shop,
    *,
    aim: Aim = "clampings",
    seconds: float = 20.0,
    on_progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
) -> Plan:
    """Plan a part on a shop: operations, dependencies, order, magazine.

    Parameters
    ----------
    part, shop
        As read.
    aim
        "clampings" (fewest, then least minutes), "changes" (fewest clampings, tool changes, mode changes,
        then least minutes) or "minutes" (least in all).
    seconds
        Longest search time for the order [s].
    on_progress
        Told about the progress of the search.
    stop
        Asked now and then whether to stop with the best order so far.

    Raises
    ------
    NoPlan
        When no plan is possible, with the reasons that contradict each other.
    """
    operations = make_operations(part, shop)
    refuse_errors(operations)
    best: Plan | None = None
    refused: NoPlan | None = None
    for names in choices_of_clampings(operations):
        if best is not None and len(names) > len(best.operations.clampings):
            break
        try:
            made = _plan_in(operations, names, aim, seconds, on_progress, stop)
        except NoPlan as error:
            refused = error
            continue
        if best is None or _value(made) < _value(best):
            best = made
    if not part.clampings and (best is None or best.least.fewer):
        best = _held_otherwise(operations, best, aim, seconds, on_progress, stop) or best
    if best is None:
        raise refused or NoPlan("the part has no clamping")
    if best.magazine.remedies or not best.magazine.fits:
        return _with_other_tools(best, aim, seconds, on_progress, stop)
    return best


def _held_otherwise(
    operations: OperationList,
    best: Plan | None,
    aim: Aim,
    seconds: float,
    on_progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
) -> Plan | None:
    """Plan with other clampings than those first proposed: where these fail, or fewer would do."""
    part, shop = operations.part, operations.shop
    rows = other_rows(operations) if best is None else other_rows(operations, best.sequence.clampings - 1)
    for row in rows:
        made = make_operations(part, shop, row.clampings)
        try:
            refuse_errors(made)
            names = tuple(clamping.name for clamping in made.clampings)
            return _plan_in(made, names, aim, seconds, on_progress, stop)
        except NoPlan:
            continue
    return None


#: How often the order is searched anew with fewer pockets for its tools.
_TRIALS: Final = 4
#: Longest search of each [s].
_LONGEST: Final = 10.0


def _with_other_tools(
    plan: Plan,
    aim: Aim,
    seconds: float,
    on_progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
) -> Plan:
    """Search the order once more so that its tools fit the magazine, and say what that would cost."""
    shop, lot = plan.shop, plan.part.lot
    places = tool_places(plan.magazine, shop)
    for _ in range(_TRIALS):
        try:
            sequence = make_sequence(
                plan.operations,
                plan.graph,
                aim=aim,
                seconds=min(seconds, _LONGEST),
                on_progress=on_progress,
                stop=stop,
                places=places,
            )
        except NoPlan:
            return plan
        made = make_magazine(sequence, shop, lot)
        if made.fits and not made.remedies:
            remedy = other_tools(plan.sequence, sequence, made, shop, lot)
            return replace(plan, magazine=with_remedies(plan.magazine, (remedy,), shop))
        places = replace(places, capacity=places.capacity - max(1, made.over))
        if places.capacity < 0:
            break
    return plan


def _value(plan: Plan) -> tuple[float, ...]:
    return tuple(level.value for level in plan.sequence.levels)


def _plan_in(
    operations: OperationList,
    names: tuple[str, ...],
    aim: Aim,
    seconds: float,
    on_progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
) -> Plan:
    """Plan with some of the clampings; the others are told to be spare."""
    part, shop = operations.part, operations.shop
    left_out = [clamping.name for clamping in operations.clampings if clamping.name not in names]
    if left_out:
        kept = tuple(clamping.clamping for clamping in operations.clampings if clamping.name in names)
        operations = make_operations(part.model_copy(update={"clampings": kept}), shop)
        refuse_errors(operations)
        spare = tuple(_spare(name) for name in left_out)
        operations = replace(operations, findings=(*operations.findings, *spare))
    graph = make_graph(operations)
    sequence = make_sequence(operations, graph, aim=aim, seconds=seconds, on_progress=on_progress, stop=stop)
    return Plan(
        part=part,
        shop=shop,
        section=make_section(part),
        operations=operations,
        graph=graph,
        sequence=sequence,
        magazine=make_magazine(sequence, shop, part.lot),
    )


def _spare(name: str) -> Finding:
    return Finding(
        Severity.NOTE,
        f"clamping {name}",
        "it is not used: everything can be cut in the others",
        remedy="leave it out of the part file, or say which feature it is for (key clamping)",
        subject="clampings",
    )
