"""Operations of a part on a shop: every feature, every clamping, and what the planner must know."""

from __future__ import annotations

from sequencer.errors import Finding, OutOfRange, Severity
from sequencer.operations.centre_drilling import centre_drill_operations
from sequencer.operations.clampings import fit_clampings
from sequencer.operations.context import Context
from sequencer.operations.edges import edge_operations
from sequencer.operations.findings import operation_findings
from sequencer.operations.general import (
    clamping_operations,
    heat_treat_operations,
    inspect_operation,
    opening_operations,
    receive_operation,
)
from sequencer.operations.grooves import groove_operations
from sequencer.operations.holes import hole_operations
from sequencer.operations.measuring import measure_operations
from sequencer.operations.milled import milled_operations
from sequencer.operations.operation import Operation, OperationList
from sequencer.operations.teeth import tooth_operations
from sequencer.operations.threads import thread_operations
from sequencer.operations.turning import turned_operations
from sequencer.part import AnyFeature, Part
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
from sequencer.part.section import make_section
from sequencer.part.turned import (
    ApexGroove,
    Bore,
    Chamfer,
    Face,
    FaceGroove,
    Groove,
    Radius,
    RunOutGroove,
    Taper,
    Thread,
    TurnedDiameter,
)
from sequencer.shop import Shop


def make_operations(part: Part, shop: Shop) -> OperationList:
    """Turn a part on a shop into operations with their alternatives and rejections.

    A feature that cannot be made gives an error among the findings and an operation without alternatives;
    nothing is raised for it.

    Parameters
    ----------
    part
        The part; its references are taken as checked.
    shop
        The shop.

    Raises
    ------
    SequencerError
        When the shop does not know the part's material.
    """
    section = make_section(part)
    clampings, findings = fit_clampings(part, shop, section)
    context = Context(part, shop, section, clampings)
    made: list[Operation] = []
    failed: list[Finding] = []
    if context.material and clampings:
        for feature in part.features:
            made += centre_drill_operations(context, feature)
            try:
                made += feature_operations(context, feature)
            except OutOfRange as error:
                failed.append(_out_of_range(feature, error))
    operations = (
        receive_operation(context),
        *opening_operations(context),
        *made,
        *clamping_operations(context, made),
        *heat_treat_operations(context),
        inspect_operation(context),
    )
    all_findings = (*findings, *failed, *operation_findings(context, made))
    return OperationList(part, shop, clampings, operations, all_findings)


def feature_operations(context: Context, feature: AnyFeature) -> tuple[Operation, ...]:
    """Give all operations of one feature but the opening of a solid blank, its measuring included.

    Parameters
    ----------
    context
        Part and shop.
    feature
        The feature.
    """
    made = _cut(context, feature)
    return (*made, *measure_operations(context, feature, made))


def _cut(context: Context, feature: AnyFeature) -> tuple[Operation, ...]:
    if isinstance(feature, Face | TurnedDiameter | Bore | Taper):
        return turned_operations(context, feature)
    if isinstance(feature, FaceGroove | Groove | ApexGroove | RunOutGroove):
        return groove_operations(context, feature)
    if isinstance(feature, Thread):
        return thread_operations(context, feature)
    if isinstance(feature, Chamfer | Radius):
        return edge_operations(context, feature)
    if isinstance(feature, BoltCircle):
        return hole_operations(context, feature)
    if isinstance(feature, Keyway | Flat | Pocket | Marking):
        return milled_operations(context, feature)
    return tooth_operations(context, feature)


def _out_of_range(feature: AnyFeature, error: OutOfRange) -> Finding:
    what = f"{error.where}: {error.what}" if error.where else error.what
    return Finding(Severity.ERROR, feature.name, what, error.limit, error.remedy, "method")
