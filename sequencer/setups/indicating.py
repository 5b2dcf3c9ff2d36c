"""Zeros of a visit and what is indicated before its first cut, as the datum table says."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from sequencer.ledger import SetupDatums
from sequencer.ledger import Target as Aimed
from sequencer.operations.facts import mm
from sequencer.operations.standing import Standing
from sequencer.part import BLANK, AnyFeature
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.stages import StageBody
from sequencer.part.toothed import DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import Face
from sequencer.setups.setup import Target, Zero
from sequencer.setups.surfaces import spigot_of

_ANGULAR: Final = (BoltCircle, Keyway, Flat, Pocket)
_TIMED: Final = (*_ANGULAR, ExternalGear, InternalGear, DoubleHelicalGear, Spline)

_WORDS: Final = {"axis": "runout of the diameter", "face": "wobble of the face", "angle": "angular zero"}


def targets_of(datums: SetupDatums) -> tuple[Target, ...]:
    """Give the surfaces that are indicated before the first cut, with the limits of the datum table.

    Source: the datum table

    Parameters
    ----------
    datums
        What the datum table says of the visit.
    """
    return tuple(_targets(datums))


def _targets(datums: SetupDatums) -> Iterator[Target]:
    for aimed in datums.targets:
        if aimed.limit is not None:
            reason = f"{aimed.reason}; {aimed.limit.formula}{_where(aimed)}"
            yield Target(aimed.feature or BLANK, _WORDS[aimed.kind], aimed.limit.value, reason)


def _where(aimed: Aimed) -> str:
    """Where the indicator stands on a surface that the means covers or the part stands on."""
    if aimed.direct or aimed.kind == "angle":
        return ""
    if aimed.kind == "axis":
        return "" if aimed.feature == BLANK else "; measured above the jaws"
    if aimed.feature == BLANK:
        return "; measured at the rim of the raw face on top"
    return "; it is the seat: indicated at its rim, or on its supports before the part is set down"


def zero_of(standing: Standing, made: StageBody, cut: Iterable[AnyFeature], datums: SetupDatums) -> Zero:
    """Say what carries the zero of the axis, of Z and of C.

    Parameters
    ----------
    standing
        The part in the clamping.
    made
        The part as it comes.
    cut
        Features that are cut in this visit.
    datums
        What the datum table says of the visit.
    """
    axis = datums.axis.feature or BLANK
    axis_words = "the raw outside, set to the middle of its runout" if axis == BLANK else f"{axis}, indicated"
    spigot = spigot_of(standing, made)
    if spigot and spigot != axis:
        axis_words += f"; {spigot} on the spigot"
    return Zero(axis_words, _height_zero(standing), _angle_zero(standing, made, list(cut), datums.angle))


def _height_zero(standing: Standing) -> str:
    rest = standing.part.by_name.get(standing.clamping.rests_on)
    up = standing.clamping.up
    if isinstance(rest, Face):
        z = float(rest.z)
        return f"{rest.name}, z {mm(z)}, {mm(standing.above_table(z))} above the table"
    face = standing.section.upper_face if up == "upper" else standing.section.lower_face
    z = standing.section.z_to if up == "upper" else standing.section.z_from
    name = face or "the raw face on top"
    return f"{name}, z {mm(z)}, {mm(standing.above_table(z))} above the table, set from its first cut"


def _angle_zero(standing: Standing, made: StageBody, cut: list[AnyFeature], angle: Aimed) -> str:
    if angle.feature:
        return f"{angle.feature}: {angle.reason}"
    here = [f for f in cut if isinstance(f, _TIMED)]
    if not here:
        return "free: nothing here has an angular position"
    left = float(standing.shop.stock.grinding)
    finished = {name for name, state in made.made.items() if state.left <= left}
    carrier = next(
        (f.name for f in standing.part.features if f.name in finished and isinstance(f, _ANGULAR)), ""
    )
    if carrier and any(isinstance(f, _ANGULAR) for f in here):
        return f"{carrier}: found again by probing, so that drawing angles hold"
    return "set here at will; kept until the part is released"
