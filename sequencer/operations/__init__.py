"""A feature on this shop becomes operations with alternatives; what fails stays, with its reason."""

from sequencer.operations.make import make_operations
from sequencer.operations.operation import (
    BENCH,
    Action,
    Alternative,
    Fact,
    FittedClamping,
    Mode,
    Operation,
    OperationList,
    Reach,
    Rejection,
    Stage,
)

__all__ = [
    "BENCH",
    "Action",
    "Alternative",
    "Fact",
    "FittedClamping",
    "Mode",
    "Operation",
    "OperationList",
    "Reach",
    "Rejection",
    "Stage",
    "make_operations",
]
