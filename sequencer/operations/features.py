"""Operations of one feature: which room makes them."""

from __future__ import annotations

from sequencer.operations.context import Context
from sequencer.operations.edges import edge_operations
from sequencer.operations.grooves import groove_operations
from sequencer.operations.holes import hole_operations
from sequencer.operations.measuring import measure_operations
from sequencer.operations.milled import milled_operations
from sequencer.operations.operation import Operation
from sequencer.operations.teeth import tooth_operations
from sequencer.operations.threads import thread_operations
from sequencer.operations.turning import turned_operations
from sequencer.part import AnyFeature
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
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
