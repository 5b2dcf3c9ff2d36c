"""What can be decided between making and buying: each tooth system, then the whole part."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from sequencer.costing.account import TOOTH_ACTIONS, Basis
from sequencer.costing.times import StepTime
from sequencer.operations import Action

#: Subject of the decision on the whole part.
WHOLE_PART: Final = "whole part"


@dataclass(frozen=True)
class Subject:
    """What is decided on.

    Parameters
    ----------
    name
        Name of the tooth system, or `WHOLE_PART`.
    steps
        Steps that fall away when it is bought, by number.
    after
        Operation that must follow on the machine once it is back; empty if none must.
    clampings
        Clampings that fall away with it, since nothing else is cut in them.
    """

    name: str
    steps: frozenset[int]
    after: str
    clampings: tuple[str, ...] = ()


def subjects(basis: Basis, followers: dict[str, str]) -> tuple[Subject, ...]:
    """Give what can be decided: each tooth system that is cut here, then the whole part.

    Parameters
    ----------
    basis
        The plan's steps.
    followers
        For each feature with teeth, an operation that must follow them on the machine; empty if none.
    """
    found: dict[str, list[int]] = {}
    cut: set[str] = set()
    for step in basis.times.steps:
        operation = step.step.operation
        if operation.action in TOOTH_ACTIONS:
            found.setdefault(operation.feature, []).append(step.step.number)
        if operation.action is Action.CUT_TEETH and step.on_machine:
            cut.add(operation.feature)
    made = [
        _with_clampings(basis, Subject(name, frozenset(numbers), followers.get(name, "")))
        for name, numbers in found.items()
        if name in cut
    ]
    every = frozenset(step.step.number for step in basis.times.steps)
    return (*made, Subject(WHOLE_PART, every, ""))


def _with_clampings(basis: Basis, subject: Subject) -> Subject:
    """Add whole clamping visits in which nothing else is cut: they fall away with the teeth."""
    visits: dict[int, list[StepTime]] = {}
    for step in basis.times.steps:
        if step.on_machine:
            visits.setdefault(step.step.visit, []).append(step)
    numbers, gone = set(subject.steps), []
    for steps in visits.values():
        cutting = {step.step.number for step in steps if step.step.operation.cuts}
        if cutting and cutting <= subject.steps:
            numbers |= {step.step.number for step in steps}
            gone.append(steps[0].step.alternative.clamping)
    return replace(subject, steps=frozenset(numbers), clampings=tuple(gone))
