"""Whether a relation holds if its surfaces are made in different clampings, or in one: before any order."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sequencer.operations import FittedClamping
from sequencer.operations.context import Context
from sequencer.shop.tools import Probe
from sequencer.tolerancing.budget import Budget, make_budget
from sequencer.tolerancing.relation import OF_TEETH, Kind, TolerancedRelation
from sequencer.tolerancing.share import Verdict
from sequencer.tolerancing.situation import Instrument, Reclamping, Situation

_SIZES = (Kind.SIZE, Kind.HEIGHT, Kind.POSITION, Kind.PHASE)


@dataclass(frozen=True)
class ApartAndTogether:
    """The budget of a relation at its best, apart and together.

    Parameters
    ----------
    partner
        Feature that is made apart or together with the one that carries the tolerance.
    apart
        Budget with one re-clamping between the two, in the clamping that errs least.
    together
        Budget if both are made in one clamping.
    """

    partner: str
    apart: Budget
    together: Budget

    @property
    def needs_one_clamping(self) -> bool:
        """Whether the relation holds only if both surfaces are made in one clamping."""
        return self.apart.verdict is Verdict.FAILS and self.together.verdict is not Verdict.FAILS

    @property
    def sentence(self) -> str:
        """Why, with the numbers."""
        return (
            f"{self.apart.relation.words} does not hold if {self.partner} is made in another clamping: "
            f"{self.apart.numbers} ({self.apart.listed}); in one clamping it {self.together.verdict}: "
            f"{self.together.numbers}"
        )


def usual_instrument(context: Context, relation: TolerancedRelation) -> Instrument:
    """What a relation is measured with on this machine.

    Source: common practice, no source: teeth by scanning, sizes by probing, runout while the table turns

    Parameters
    ----------
    context
        Part and shop.
    relation
        The relation.
    """
    if relation.kind in OF_TEETH:
        return Instrument.TEETH
    if relation.kind not in _SIZES:
        return Instrument.INDICATOR
    has_probe = any(isinstance(tool, Probe) for tool in context.shop.tools)
    return Instrument.PROBE if has_probe else Instrument.HAND


def partners(relation: TolerancedRelation) -> tuple[str, ...]:
    """Features that a relation binds its feature to; of an apex the gear itself, whose halves it binds.

    Source: derived

    Parameters
    ----------
    relation
        The relation.
    """
    return (relation.feature,) if relation.kind is Kind.APEX else relation.to


def apart_and_together(
    context: Context, relation: TolerancedRelation, partner: str, clampings: Iterable[FittedClamping]
) -> ApartAndTogether | None:
    """Give the budget of a relation with its partner apart and together; None if there is no clamping.

    Both are reckoned at their best: one re-clamping, nothing that springs on release.

    Source: derived

    Parameters
    ----------
    context
        Part and shop.
    relation
        The relation.
    partner
        One of its partners.
    clampings
        Clampings that either of the two may be made in.
    """
    instrument = usual_instrument(context, relation)
    together = make_budget(context, relation, Situation(instrument=instrument))
    means = {fitted.means.name: fitted for fitted in clampings}
    apart = [
        make_budget(context, relation, _one_reclamping(relation, partner, fitted, instrument))
        for fitted in means.values()
    ]
    if not apart:
        return None
    return ApartAndTogether(partner, min(apart, key=lambda budget: budget.rss), together)


def _one_reclamping(
    relation: TolerancedRelation, partner: str, fitted: FittedClamping, instrument: Instrument
) -> Situation:
    again = (Reclamping(fitted.name, fitted.means),)
    axis = partner in (relation.axis, relation.feature) or relation.kind is Kind.PHASE
    angle = relation.kind in (Kind.PHASE, Kind.APEX)
    return Situation(
        axis=again if axis else (), face=again, angle=again if angle else (), instrument=instrument
    )
