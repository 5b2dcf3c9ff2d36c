"""What kind of work an operation is: whether it removes material, and how late it comes."""

from __future__ import annotations

from typing import Final

from sequencer.operations import Action, Operation, Stage

_STAGES: Final = (Stage.ROUGH, Stage.SEMI, Stage.FINISH, Stage.HARD)


def removes(operation: Operation) -> bool:
    """Say whether an operation takes material off, here or sent out; deburring apart.

    Parameters
    ----------
    operation
        The operation.
    """
    sent = operation.action is Action.SEND_OUT
    return (operation.cuts or sent) and operation.action is not Action.DEBURR


def is_late(operation: Operation) -> bool:
    """Say whether an operation finishes what is cut soft before: after hardening, or by a finer method.

    Teeth that are ground without hardening are cut, deburred and ground like hardened ones.

    Parameters
    ----------
    operation
        The operation.
    """
    return operation.hard is True or operation.stage is Stage.HARD


def stage_rank(stage: Stage) -> int:
    """Place of a cutting stage in the order of stages; -1 for stages that do not cut.

    Parameters
    ----------
    stage
        The stage.
    """
    return _STAGES.index(stage) if stage in _STAGES else -1
