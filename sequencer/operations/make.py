"""Operations of a part on a shop: every feature, every clamping, and what the planner must know."""

from __future__ import annotations

from sequencer.errors import Finding, OutOfRange, Severity
from sequencer.operations.centre_drilling import centre_drill_operations
from sequencer.operations.clampings import fit_clampings
from sequencer.operations.context import Context
from sequencer.operations.features import feature_operations
from sequencer.operations.findings import operation_findings
from sequencer.operations.forbidden import without_forbidden
from sequencer.operations.general import (
    clamping_operations,
    heat_treat_operations,
    inspect_operation,
    opening_operations,
    receive_operation,
)
from sequencer.operations.operation import Operation, OperationList
from sequencer.operations.run_up import with_run_up
from sequencer.part import AnyFeature, Clamping, Part
from sequencer.part.section import make_section
from sequencer.shop import Shop


def make_operations(part: Part, shop: Shop, proposed: tuple[Clamping, ...] = ()) -> OperationList:
    """Turn a part on a shop into operations with their alternatives and rejections.

    A feature that cannot be made gives an error among the findings and an operation without alternatives;
    nothing is raised for it.

    Parameters
    ----------
    part
        The part; its references are taken as checked.
    shop
        The shop.
    proposed
        Clampings for a part whose planner gives none; proposed here if left out.

    Raises
    ------
    SequencerError
        When the shop does not know the part's material.
    """
    section = make_section(part)
    clampings, findings = fit_clampings(part, shop, section, proposed)
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
    operations: tuple[Operation, ...] = (
        receive_operation(context),
        *opening_operations(context),
        *made,
        *clamping_operations(context, made),
        *heat_treat_operations(context),
        inspect_operation(context),
    )
    operations = tuple(with_run_up(context, without_forbidden(operation, shop)) for operation in operations)
    all_findings = (*findings, *failed, *operation_findings(context, made))
    return OperationList(part, shop, clampings, operations, all_findings)


def _out_of_range(feature: AnyFeature, error: OutOfRange) -> Finding:
    what = f"{error.where}: {error.what}" if error.where else error.what
    return Finding(Severity.ERROR, feature.name, what, error.limit, error.remedy, "method")
