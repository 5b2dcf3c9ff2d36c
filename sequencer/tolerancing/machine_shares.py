"""What the machine's own axes use of a relation."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sequencer.operations import Fact
from sequencer.operations.context import Context
from sequencer.operations.facts import COMMON
from sequencer.operations.hole_position import STRAYS
from sequencer.tolerancing import shop_values
from sequencer.tolerancing.effects import Effect, of_angle, of_height, of_infeed
from sequencer.tolerancing.relation import Kind, TolerancedRelation
from sequencer.tolerancing.share import Cause, Share
from sequencer.tolerancing.shop_values import ShopValue
from sequencer.tolerancing.situation import Situation
from sequencer.units import shown

_TABLE = (
    Kind.RUNOUT,
    Kind.TOTAL_RUNOUT,
    Kind.CONCENTRICITY,
    Kind.ROUNDNESS,
    Kind.CYLINDRICITY,
    Kind.TOOTH_RUNOUT,
)
_ALONG = (Kind.CYLINDRICITY, Kind.TOTAL_RUNOUT, Kind.HELIX_SLOPE)
_SQUARE = (Kind.PARALLELISM, Kind.PERPENDICULARITY, Kind.FLATNESS)


def share(cause: Cause, name: str, effect: Effect, value: ShopValue, clamping: str = "") -> Share:
    """Make a share from the effect of a value of the shop.

    Parameters
    ----------
    cause
        The cause.
    name
        What it is.
    effect
        Its effect on the relation.
    value
        The value behind it.
    clamping
        Clamping in which it enters.
    """
    formula = effect.formula if not value.formula else f"{effect.formula}; {value.formula}"
    fact = Fact(name, effect.value, "um", formula, value.source, value.estimate)
    return Share(cause, fact, value.change, clamping)


def machine_shares(context: Context, relation: TolerancedRelation, situation: Situation) -> Iterator[Share]:
    """Give what table, X, Z and C use of a relation.

    Source: derived from the axes that make the surfaces

    Parameters
    ----------
    context
        Part and shop.
    relation
        The relation.
    situation
        How its surfaces are made.
    """
    yield from _table(context, relation)
    yield from _linear(context, relation)
    yield from _angular(context, relation)
    if relation.kind is Kind.POSITION and situation.method:
        yield _stray(situation.method)


def _table(context: Context, relation: TolerancedRelation) -> Iterator[Share]:
    value = shop_values.table_runout(context.shop)
    if relation.kind in _TABLE:
        yield _machine("runout of the table", Effect(value.value, f"t = {shown(value.value, 2)} um"), value)
    if relation.kind is Kind.TOOTH_PITCH:
        angle = relation.pressure_angle
        pitch = value.value / math.cos(math.radians(angle))
        formula = (
            f"t/cos(alpha_t) = {shown(value.value, 2)} um/cos({shown(angle, 2)} deg) = {shown(pitch, 2)} um"
        )
        yield _machine("runout of the table", Effect(pitch, formula), value)
    square = shop_values.squareness(context.shop)
    span = relation.length if relation.kind in _ALONG else relation.size if relation.flat else relation.length
    if (relation.kind in (*_ALONG, *_SQUARE) or (relation.flat and relation.kind in _TABLE)) and span:
        error = square.value * span / 1000
        numbers = f"{shown(square.value, 2)} um/m*{shown(span / 1000, 4)} m"
        yield _machine(
            "squareness of travel", Effect(error, f"s L = {numbers} = {shown(error, 2)} um"), square
        )


def _machine(name: str, effect: Effect, value: ShopValue) -> Share:
    return share(Cause.MACHINE, name, effect, value)


def _linear(context: Context, relation: TolerancedRelation) -> Iterator[Share]:
    if relation.kind is Kind.SIZE:
        value = shop_values.repeatability(context.shop)
        total = 2 * value.value if relation.diametral else value.value
        symbol, front = ("2 r", "2*") if relation.diametral else ("r", "")
        formula = f"{symbol} = {front}{shown(value.value, 2)} um = {shown(total, 2)} um"
        yield _machine("repeatability of X", Effect(total, formula), value)
    elif relation.kind is Kind.THICKNESS:
        value = shop_values.repeatability(context.shop)
        yield _machine("repeatability of X", of_infeed(relation, value.value), value)
    elif relation.kind is Kind.POSITION:
        value = shop_values.linear_x(context.shop)
        formula = f"2 x = 2*{shown(value.value, 2)} um = {shown(2 * value.value, 2)} um"
        yield _machine("positioning of X", Effect(2 * value.value, formula), value)
    else:
        value = shop_values.linear_z(context.shop)
        effect = of_height(relation, value.value)
        if effect is not None:
            yield _machine("positioning of Z", effect, value)


def _angular(context: Context, relation: TolerancedRelation) -> Iterator[Share]:
    value = shop_values.angular(context.shop)
    effect = of_angle(relation, value.value)
    if effect is not None:
        yield _machine("positioning of C", effect, value)


def _stray(method: str) -> Share:
    value = 1000 * STRAYS.get(method, max(STRAYS.values()))
    fact = Fact(f"stray of {method}", value, "um", f"{shown(value, 0)} um", COMMON, True)
    return Share(Cause.MACHINE, fact, "choose another method for the holes (key method in the part file)")
