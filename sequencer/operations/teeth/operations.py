"""Operations of a tooth system: blank, teeth, deburring, finish after hardening, measuring."""

from __future__ import annotations

from sequencer.operations.context import Context
from sequencer.operations.operation import Action, Operation
from sequencer.operations.teeth.bevel_operations import bevel_operations
from sequencer.operations.teeth.blank import blank_operations
from sequencer.operations.teeth.closing import apex_operation, deburr_operation, measure_operation
from sequencer.operations.teeth.route import cut_operations, later_of, later_operations, soft_side
from sequencer.operations.teeth.sent_out import CUT_OUTSIDE
from sequencer.operations.teeth.zone import CylindricalFeature, teeth_of
from sequencer.part.toothed import BevelGear, DoubleHelicalGear


def tooth_operations(context: Context, feature: CylindricalFeature | BevelGear) -> tuple[Operation, ...]:
    """Give the operations of a gear or spline, in order of their stages.

    Blank, then the cuts (both halves of a double-helical gear roughed before either is finished, then the
    apex check), deburring, the finish after hardening if there is one, and measuring.

    Parameters
    ----------
    context
        Part, shop, section and clampings.
    feature
        External, internal or double-helical gear, spline or bevel gear.

    Raises
    ------
    OutOfRange
        When the teeth cannot exist.
    SequencerError
        When the shop does not know the material.
    """
    if isinstance(feature, BevelGear):
        return bevel_operations(context, feature)
    runs = teeth_of(context.section, feature)
    later = later_of(context, runs)
    apex = (apex_operation(context, runs),) if isinstance(feature, DoubleHelicalGear) else ()
    finishing = later_operations(context, runs, later)
    outside = feature.method in CUT_OUTSIDE or any(one.action is Action.SEND_OUT for one in finishing)
    hard = later.hard or context.part.case_hardened
    return (
        *blank_operations(context, feature),
        *cut_operations(context, runs, later),
        *apex,
        deburr_operation(context, runs, soft_side(context)),
        *finishing,
        measure_operation(context, runs, hard, outside),
    )
