"""All shares of a relation together, against its allowance."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sequencer.cutting.chains import Link, root_sum_square, worst_case
from sequencer.operations.context import Context
from sequencer.tolerancing import shop_values
from sequencer.tolerancing.effects import (
    Effect,
    of_distortion,
    of_eccentricity,
    of_growth,
    of_heat,
    of_height,
    of_shift,
    of_tilt,
)
from sequencer.tolerancing.machine_shares import machine_shares, share
from sequencer.tolerancing.relation import OF_TEETH, Kind, TolerancedRelation
from sequencer.tolerancing.share import Cause, Share, Verdict
from sequencer.tolerancing.situation import Instrument, Reclamping, Situation
from sequencer.units import Micrometre, shown

#: Rounding that may not turn a relation that just holds into one that does not [um].
_ROUNDING = 1e-6

_SIZES = (Kind.SIZE, Kind.HEIGHT, Kind.POSITION)


@dataclass(frozen=True)
class Budget:
    """A relation with all that uses up its allowance.

    Parameters
    ----------
    relation
        The relation.
    shares
        What each cause uses.
    """

    relation: TolerancedRelation
    shares: tuple[Share, ...]

    @property
    def worst(self) -> Micrometre:
        """All shares at their limits at once [um]."""
        return 1000 * worst_case(self._links) if self.shares else 0.0

    @property
    def rss(self) -> Micrometre:
        """Root-sum-square of the shares, which hardly any part exceeds if they are independent [um]."""
        return 1000 * root_sum_square(self._links) if self.shares else 0.0

    @property
    def _links(self) -> tuple[Link, ...]:
        return tuple(Link(0.0, each.value / 1000) for each in self.shares)

    @property
    def verdict(self) -> Verdict:
        """Whether the relation holds."""
        if self.worst <= self.relation.allowance + _ROUNDING:
            return Verdict.HOLDS
        return Verdict.STATISTICALLY if self.rss <= self.relation.allowance + _ROUNDING else Verdict.FAILS

    def used_by(self, cause: Cause) -> Micrometre:
        """What one cause uses, all its shares at their limits [um].

        Parameters
        ----------
        cause
            The cause.
        """
        return sum((each.value for each in self.shares if each.cause is cause), 0.0)

    @property
    def numbers(self) -> str:
        """The numbers in words: "40 um allowed, 26.1 um at worst, 20.6 um root-sum-square"."""
        return (
            f"{shown(self.relation.allowance, 1)} um allowed, {shown(self.worst, 1)} um at worst, "
            f"{shown(self.rss, 1)} um root-sum-square"
        )

    @property
    def listed(self) -> str:
        """The shares in words, largest first."""
        ranked = sorted(self.shares, key=lambda each: -each.value)
        return ", ".join(
            f"{shown(each.value, 1)} um {each.fact.name}{f' in {each.clamping}' if each.clamping else ''}"
            for each in ranked
        )

    @property
    def sentence(self) -> str:
        """The whole budget in one sentence."""
        return f"{self.relation.words} {self.verdict}: {self.numbers} ({self.listed})"


def make_budget(context: Context, relation: TolerancedRelation, situation: Situation) -> Budget:
    """Give all that uses up the allowance of a relation in a situation.

    Source: derived, see the effects

    Parameters
    ----------
    context
        Part and shop.
    relation
        The relation.
    situation
        How its surfaces are made and measured.
    """
    shares = (
        *machine_shares(context, relation, situation),
        *_reclamped(context, relation, situation),
        *_released(context, relation, situation),
        *_warmed(context, relation, situation),
        *_treated(context, relation, situation),
        _measured(context, relation, situation),
    )
    return Budget(relation, tuple(each for each in shares if each.value > 0))


def _reclamped(context: Context, relation: TolerancedRelation, situation: Situation) -> Iterator[Share]:
    for each in situation.axis:
        value = shop_values.eccentricity(context.shop, each)
        effect = of_eccentricity(relation, value.value)
        if effect is not None:
            yield share(Cause.RECLAMPING, f"eccentricity{_by(each)}", effect, value, each.clamping)
    for each in situation.face:
        value = shop_values.tilt(context.shop, each)
        effect = of_tilt(relation, value.value)
        if effect is not None:
            yield share(Cause.RECLAMPING, f"tilt{_by(each)}", effect, value, each.clamping)
        zero = shop_values.height_zero(context.shop)
        effect = of_height(relation, zero.value)
        if effect is not None:
            yield share(Cause.RECLAMPING, f"new zero in height{_by(each)}", effect, zero, each.clamping)
    for each in situation.angle:
        yield from _new_angle(context, relation, each)


def _by(reclamping: Reclamping) -> str:
    return f" by {reclamping.shown_by}" if reclamping.shown_by else ""


def _new_angle(context: Context, relation: TolerancedRelation, each: Reclamping) -> Iterator[Share]:
    """The angular zero is probed on a surface; its error grows with the radius."""
    zero = shop_values.height_zero(context.shop)
    grows = relation.size / each.diameter if each.diameter else 1.0
    words = f"u r/r0 = {shown(zero.value, 2)} um*{shown(grows, 3)}"
    effect = of_shift(relation, zero.value * grows, words)
    if effect is not None:
        yield share(Cause.RECLAMPING, f"new angular zero{_by(each)}", effect, zero, each.clamping)


def _released(context: Context, relation: TolerancedRelation, situation: Situation) -> Iterator[Share]:
    springs = [
        (shop_values.release_distortion(means, situation.low_force), clamping, means.name)
        for clamping, means in situation.held
    ]
    if springs:
        value, clamping, means_name = max(springs, key=lambda each: each[0].value)
        effect = of_distortion(relation, value.value)
        if effect is not None:
            yield share(Cause.RELEASE, f"spring of {means_name}", effect, value, clamping)
    if situation.stressed:
        value = shop_values.stress_distortion(context.shop)
        effect = of_distortion(relation, value.value)
        if effect is not None:
            yield share(Cause.RELEASE, "stress that roughing sets free", effect, value)


def _warmed(context: Context, relation: TolerancedRelation, situation: Situation) -> Iterator[Share]:
    value = shop_values.temperature_difference(context.shop, situation.warm)
    effect = of_growth(relation, context.material.expansion, value.value)
    if effect is not None:
        yield share(Cause.THERMAL, "growth by warmth", effect, value)


def _treated(context: Context, relation: TolerancedRelation, situation: Situation) -> Iterator[Share]:
    for kind in situation.heat:
        value = shop_values.heat_distortion(context.shop, kind)
        effect = of_heat(relation, value.value)
        if effect is not None:
            yield share(Cause.HEAT, kind, effect, value)


def _measured(context: Context, relation: TolerancedRelation, situation: Situation) -> Share:
    size = relation.lever if relation.kind is Kind.HEIGHT else relation.size
    teeth = relation.kind in OF_TEETH and situation.instrument is Instrument.INDEPENDENT
    value = (
        shop_values.independent_teeth(context.shop)
        if teeth
        else shop_values.uncertainty(
            context.shop, situation.instrument, size if relation.kind in _SIZES else 0.0
        )
    )
    formula = f"U = {shown(value.value, 2)} um"
    return share(Cause.MEASURING, str(situation.instrument), Effect(value.value, formula), value)
