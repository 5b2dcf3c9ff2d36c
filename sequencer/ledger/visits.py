"""Clamping visits of an order, and which surface is made in which."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.operations import Action, FittedClamping, OperationList, Stage
from sequencer.operations.context import Context
from sequencer.part.milled import BoltCircle
from sequencer.part.section import make_section
from sequencer.part.toothed import DoubleHelicalGear, ExternalGear, InternalGear
from sequencer.part.turned import Bore, Face, Taper, TurnedDiameter
from sequencer.sequencing import Sequence, Step
from sequencer.tolerancing import TolerancedRelation, relations_of

#: Number of the visit that stands for the raw blank.
RAW = -1

_ROUND = (Bore, TurnedDiameter, Taper)
_NOT_MAKING = (Action.DEBURR, Action.ENGRAVE)


@dataclass(frozen=True)
class Visit:
    """One clamping visit.

    Parameters
    ----------
    number
        Its number, from 1.
    fitted
        The clamping.
    steps
        Its steps in order.
    """

    number: int
    fitted: FittedClamping
    steps: tuple[Step, ...]

    @property
    def name(self) -> str:
        """Name of the clamping."""
        return self.fitted.name


@dataclass(frozen=True)
class Course:
    """The order seen surface by surface.

    Parameters
    ----------
    operations, sequence
        Stages of the plan.
    """

    operations: OperationList
    sequence: Sequence

    @cached_property
    def context(self) -> Context:
        """Part and shop."""
        part = self.operations.part
        return Context(part, self.operations.shop, make_section(part), self.operations.clampings)

    @cached_property
    def visits(self) -> tuple[Visit, ...]:
        """Visits on the machine, in order."""
        groups: dict[int, list[Step]] = {}
        for step in self.sequence.steps:
            if step.visit:
                groups.setdefault(step.visit, []).append(step)
        by_name = self.operations.clamping_by_name
        return tuple(
            Visit(number, by_name[steps[0].alternative.clamping], tuple(steps))
            for number, steps in groups.items()
        )

    @cached_property
    def relations(self) -> tuple[TolerancedRelation, ...]:
        """Toleranced relations of the part."""
        return relations_of(self.context)

    @cached_property
    def cuts(self) -> dict[str, tuple[Step, ...]]:
        """Cutting steps of each feature, in order."""
        found: dict[str, list[Step]] = {}
        for step in self.sequence.steps:
            operation = step.operation
            if operation.cuts and operation.action not in _NOT_MAKING:
                found.setdefault(operation.feature, []).append(step)
        return {name: tuple(steps) for name, steps in found.items()}

    def making(self, name: str, half: str = "", before: int = 0) -> Step | None:
        """Step that gives a surface its last state; of holes the one that gives them their place.

        Parameters
        ----------
        name
            The feature.
        half
            Half of a double-helical gear.
        before
            Only steps of visits before this one count; 0 for all.
        """
        made = self.cuts.get(name, ())
        steps = [step for step in made if not half or step.operation.half in ("", half)]
        if before:
            steps = [step for step in steps if 0 < step.visit < before]
        if not steps:
            return None
        return steps[0] if isinstance(self.operations.part.by_name.get(name), BoltCircle) else steps[-1]

    def finished_before(self, visit: int, kinds: tuple[type, ...]) -> tuple[str, ...]:
        """Features of some kinds that earlier visits made, best state first, then latest made.

        Parameters
        ----------
        visit
            Number of the visit.
        kinds
            Classes of features.
        """
        found: list[tuple[tuple[int, int], str]] = []
        for feature in self.operations.part.features:
            step = self.making(feature.name, before=visit) if isinstance(feature, kinds) else None
            if step is not None:
                rough = step.operation.stage in (Stage.ROUGH, Stage.SEMI)
                found.append(((int(rough), -step.visit), feature.name))
        return tuple(name for _, name in sorted(found, key=lambda pair: pair[0]))

    def is_finished(self, name: str, before: int) -> bool:
        """Whether a surface has its last state before a visit.

        Parameters
        ----------
        name
            The feature.
        before
            Number of the visit.
        """
        last = self.making(name)
        return last is not None and 0 < last.visit < before

    def reached(self, visit: Visit, name: str) -> bool:
        """Whether a surface can be indicated in a visit.

        Parameters
        ----------
        visit
            The visit.
        name
            The feature.
        """
        answer = visit.fitted.reach_by_feature.get(name)
        return answer is not None and answer.reachable

    def round_before(self, visit: Visit) -> tuple[str, ...]:
        """Round surfaces made before a visit that it can indicate.

        Parameters
        ----------
        visit
            The visit.
        """
        names = self.finished_before(visit.number, _ROUND)
        return tuple(name for name in names if self.reached(visit, name))

    def teeth_after_hardening(self, visit: Visit) -> tuple[str, ...]:
        """Hardened teeth that a visit can indicate: after hardening the axis is found from their pitch line.

        Parameters
        ----------
        visit
            The visit.
        """
        first = visit.steps[0].number
        treated = [
            step.number
            for step in self.sequence.steps
            if step.operation.action is Action.HEAT_TREAT and step.number < first
        ]
        treatment = self.operations.part.heat_treatment
        if not treated or treatment is None or "hardening" not in treatment.kind:
            return ()
        names = self.finished_before(visit.number, (ExternalGear, InternalGear, DoubleHelicalGear))
        soft = [name for name in names if self.cuts[name][-1].number > treated[0]]
        return tuple(name for name in soft if self.reached(visit, name))

    def faces_before(self, visit: Visit) -> tuple[str, ...]:
        """Faces made before a visit that it can indicate.

        Parameters
        ----------
        visit
            The visit.
        """
        names = self.finished_before(visit.number, (Face,))
        return tuple(name for name in names if self.reached(visit, name))

    def between(self, first: Step, last: Step, *actions: Action) -> tuple[Step, ...]:
        """Steps of some actions between two steps.

        Parameters
        ----------
        first, last
            The steps.
        actions
            What is done.
        """
        return tuple(
            step
            for step in self.sequence.steps
            if first.number < step.number < last.number and step.operation.action in actions
        )
