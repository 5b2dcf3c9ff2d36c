"""How an elementary error shows in a relation: one equation a function."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sequencer.cutting.reclamping import (
    helix_slope_from_wobble,
    pitch_from_eccentricity,
    runout_from_eccentricity,
    tangential_shift_from_offset,
)
from sequencer.tolerancing.relation import Kind, TolerancedRelation
from sequencer.units import Deg, Micrometre, Mm, shown

_ROUND = (Kind.RUNOUT, Kind.TOTAL_RUNOUT, Kind.CONCENTRICITY, Kind.POSITION, Kind.TOOTH_RUNOUT)
_SQUARE = (Kind.PARALLELISM, Kind.PERPENDICULARITY)


@dataclass(frozen=True)
class Effect:
    """Effect of an error on a relation.

    Parameters
    ----------
    value
        What it uses of the allowance [um].
    formula
        Symbol = expression = numbers.
    """

    value: Micrometre
    formula: str


def of_eccentricity(relation: TolerancedRelation, error: Micrometre) -> Effect | None:
    """Effect of an axis that lies beside its datum; None if the relation does not feel it.

    Source: derived: runout and zones of location 2 e, total pitch 2 e/cos(alpha_t), along the circumference
    e, apex e/(2 tan(beta)).

    Parameters
    ----------
    relation
        The relation.
    error
        Eccentricity [um].
    """
    e = shown(error, 2)
    if relation.kind in _ROUND and not relation.flat:
        value = runout_from_eccentricity(error)
        return Effect(value, f"2 e = 2*{e} um = {shown(value, 2)} um")
    if relation.kind is Kind.TOOTH_PITCH:
        value = pitch_from_eccentricity(error, relation.pressure_angle)
        angle = shown(relation.pressure_angle, 2)
        return Effect(value, f"2 e/cos(alpha_t) = 2*{e} um/cos({angle} deg) = {shown(value, 2)} um")
    if relation.kind is Kind.PHASE:
        return Effect(error, f"e along the circumference = {e} um")
    if relation.kind is Kind.APEX:
        value = apex_from_shift(error, relation.helix_angle)
        return Effect(value, f"e/(2 tan(beta)) = {_over(e, relation)} = {shown(value, 2)} um")
    return None


def _over(shift: str, relation: TolerancedRelation) -> str:
    return f"{shift} um/(2*tan({shown(relation.helix_angle, 2)} deg))"


def apex_from_shift(shift: Micrometre, helix_angle: Deg) -> Micrometre:
    """Axial shift of the apex from a shift of one helix along the circumference, s/(2 tan(beta)).

    Source: derived

    Parameters
    ----------
    shift
        Shift along the circumference [um].
    helix_angle
        Helix angle without sign [deg].
    """
    return shift / (2 * math.tan(math.radians(helix_angle)))


def of_tilt(relation: TolerancedRelation, wobble: Micrometre) -> Effect | None:
    """Effect of an axis tilted by a face wobble over one metre; None if the relation does not feel it.

    Source: derived: over a face w D, over a length w L, at a distance L from the datum 2 w L, helix slope
    w b, height at the rim w D/2.

    Parameters
    ----------
    relation
        The relation.
    wobble
        Face wobble over one metre [um].
    """
    if relation.kind is Kind.HELIX_SLOPE:
        value = helix_slope_from_wobble(wobble, relation.length, 1000.0)
        return _tilted(value, "w b", wobble, relation.length)
    if relation.kind is Kind.HEIGHT:
        return _tilted(wobble * relation.size / 2000, "w D/2", wobble, relation.size, 0.5)
    if relation.kind in _SQUARE or (relation.flat and relation.kind in _ROUND):
        span = relation.size if relation.flat else relation.length
        return _tilted(wobble * span / 1000, "w D" if relation.flat else "w L", wobble, span)
    if relation.kind is Kind.TOTAL_RUNOUT:
        span = relation.lever + relation.length / 2
        return _tilted(2 * wobble * span / 1000, "2 w L", wobble, span, 2)
    if relation.kind in _ROUND and relation.lever:
        return _tilted(2 * wobble * relation.lever / 1000, "2 w L", wobble, relation.lever, 2)
    if relation.kind is Kind.TOOTH_PITCH and relation.lever:
        runout = 2 * wobble * relation.lever / 1000
        value = runout / math.cos(math.radians(relation.pressure_angle))
        numbers = f"2*{shown(wobble, 2)} um/m*{shown(relation.lever / 1000, 4)} m"
        angle = f"cos({shown(relation.pressure_angle, 2)} deg)"
        return Effect(value, f"2 w L/cos(alpha_t) = {numbers}/{angle} = {shown(value, 2)} um")
    return None


def _tilted(value: Micrometre, symbol: str, wobble: Micrometre, span: Mm, factor: float = 1.0) -> Effect:
    front = "" if factor == 1 else f"{shown(factor)}*"
    numbers = f"{front}{shown(wobble, 2)} um/m*{shown(span / 1000, 4)} m"
    return Effect(value, f"{symbol} = {numbers} = {shown(value, 2)} um")


def of_height(relation: TolerancedRelation, error: Micrometre) -> Effect | None:
    """Effect of an error along the axis; None if the relation does not feel it.

    Source: derived: a height and an apex take it as it is, a helical flank dz tan(beta) along the
    circumference.

    Parameters
    ----------
    relation
        The relation.
    error
        Error along the axis [um].
    """
    if relation.kind in (Kind.HEIGHT, Kind.APEX):
        return Effect(error, f"dz = {shown(error, 2)} um")
    if relation.kind is Kind.PHASE and relation.helix_angle:
        value = tangential_shift_from_offset(error, relation.helix_angle)
        angle = shown(relation.helix_angle, 2)
        return Effect(value, f"dz tan(beta) = {shown(error, 2)} um*tan({angle} deg) = {shown(value, 2)} um")
    return None


def of_infeed(relation: TolerancedRelation, error: Micrometre) -> Effect:
    """Effect of a radial infeed error on the normal thickness of teeth, 2 r tan(alpha_n).

    Source: derived, tan(alpha_n) = tan(alpha_t) cos(beta)

    Parameters
    ----------
    relation
        The thickness of the teeth.
    error
        Error of the infeed [um].
    """
    flank = math.tan(math.radians(relation.pressure_angle)) * math.cos(math.radians(relation.helix_angle))
    value = 2 * error * flank
    numbers = f"2*{shown(error, 2)} um*tan({shown(math.degrees(math.atan(flank)), 2)} deg)"
    return Effect(value, f"2 r tan(alpha_n) = {numbers} = {shown(value, 2)} um")


def of_angle(relation: TolerancedRelation, angle: Deg) -> Effect | None:
    """Effect of an angular error of the table; None if the relation does not feel it.

    Source: derived: along the circumference r dphi, apex r dphi/(2 tan(beta)), total pitch r dphi, zone of
    a position 2 r dphi.

    Parameters
    ----------
    relation
        The relation.
    angle
        Angular error [deg].
    """
    if relation.kind not in (Kind.PHASE, Kind.APEX, Kind.TOOTH_PITCH, Kind.POSITION) or relation.size == 0:
        return None
    shift = 1000 * relation.size / 2 * math.radians(angle)
    numbers = f"{shown(relation.size / 2, 2)} mm*{shown(3600 * angle, 2)} arcsec"
    if relation.kind is Kind.APEX:
        value = apex_from_shift(shift, relation.helix_angle)
        beta = shown(relation.helix_angle, 2)
        return Effect(value, f"r dphi/(2 tan(beta)) = {numbers}/(2*tan({beta} deg)) = {shown(value, 2)} um")
    if relation.kind is Kind.POSITION:
        return Effect(2 * shift, f"2 r dphi = 2*{numbers} = {shown(2 * shift, 2)} um")
    return Effect(shift, f"r dphi = {numbers} = {shown(shift, 2)} um")


def of_shift(relation: TolerancedRelation, shift: Micrometre, words: str) -> Effect | None:
    """Effect of a shift along the circumference at the size of the relation; None if it does not feel it.

    Source: derived

    Parameters
    ----------
    relation
        The relation.
    shift
        The shift [um].
    words
        How it comes about, for the formula.
    """
    if relation.kind is Kind.PHASE:
        return Effect(shift, f"{words} = {shown(shift, 2)} um")
    if relation.kind is Kind.APEX:
        value = apex_from_shift(shift, relation.helix_angle)
        return Effect(value, f"{words}/(2 tan(beta)) = {shown(value, 2)} um")
    return None


def of_distortion(relation: TolerancedRelation, distortion: Micrometre) -> Effect | None:
    """Effect of a change of roundness over one metre of diameter; None if the relation does not feel it.

    Source: derived: a diameter that springs by o D shows o D as runout and roundness, half of it to either
    side of a size, o D/cos(alpha_t) in the total pitch.

    Parameters
    ----------
    relation
        The relation.
    distortion
        Change of the diameter over one metre [um].
    """
    change = distortion * relation.size / 1000
    numbers = f"{shown(distortion, 2)} um/m*{shown(relation.size / 1000, 4)} m"
    if relation.kind is Kind.TOOTH_PITCH:
        value = change / math.cos(math.radians(relation.pressure_angle))
        angle = shown(relation.pressure_angle, 2)
        return Effect(value, f"o D/cos(alpha_t) = {numbers}/cos({angle} deg) = {shown(value, 2)} um")
    if relation.kind is Kind.SIZE and relation.diametral:
        return Effect(change / 2, f"o D/2 = {numbers}/2 = {shown(change / 2, 2)} um")
    felt = (*_ROUND[:4], Kind.TOOTH_RUNOUT, Kind.ROUNDNESS, Kind.CYLINDRICITY, Kind.FLATNESS, *_SQUARE)
    if relation.kind in felt:
        return Effect(change, f"o D = {numbers} = {shown(change, 2)} um")
    return None


def of_growth(relation: TolerancedRelation, expansion: float, difference: float) -> Effect | None:
    """Effect of warmth; None if the relation does not feel it.

    Source: physics, linear expansion alpha D dT; a zone of location takes the growth of its circle

    Parameters
    ----------
    relation
        The relation.
    expansion
        Thermal expansion [um/(m K)].
    difference
        Difference of temperature [K].
    """
    if relation.kind not in (Kind.SIZE, Kind.HEIGHT, Kind.POSITION):
        return None
    size = relation.lever if relation.kind is Kind.HEIGHT else relation.size
    value = expansion * size / 1000 * difference
    numbers = f"{shown(expansion, 2)} um/(m K)*{shown(size / 1000, 4)} m*{shown(difference, 2)} K"
    return Effect(value, f"alpha D dT = {numbers} = {shown(value, 2)} um")


def of_heat(relation: TolerancedRelation, distortion: Micrometre) -> Effect | None:
    """Effect of a heat treatment that moves one metre by so much; None if the relation does not feel it.

    Source: derived: sizes, heights and zones move by their size; total pitch with 1/cos(alpha_t); a helix by
    its face width; phase not, since the part stays symmetrical

    Parameters
    ----------
    relation
        The relation.
    distortion
        Movement over one metre [um].
    """
    if relation.kind in (Kind.PHASE, Kind.APEX):
        return None
    span = {Kind.HELIX_SLOPE: relation.length, Kind.HEIGHT: relation.lever}.get(relation.kind, relation.size)
    value = distortion * span / 1000
    numbers = f"{shown(distortion, 2)} um/m*{shown(span / 1000, 4)} m"
    if relation.kind is Kind.TOOTH_PITCH:
        value /= math.cos(math.radians(relation.pressure_angle))
        angle = shown(relation.pressure_angle, 2)
        return Effect(value, f"h D/cos(alpha_t) = {numbers}/cos({angle} deg) = {shown(value, 2)} um")
    return Effect(value, f"h D = {numbers} = {shown(value, 2)} um")
