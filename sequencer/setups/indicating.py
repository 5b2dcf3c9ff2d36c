"""Zeros of a visit and what is indicated before its first cut, with limits."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Final

from sequencer.errors import OutOfRange
from sequencer.operations.facts import COMMON, mm
from sequencer.operations.standing import Standing
from sequencer.operations.teeth.zone import teeth_of
from sequencer.part import BLANK, AnyFeature
from sequencer.part.milled import BoltCircle, Flat, Keyway, Pocket
from sequencer.part.stages import StageBody
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import Bore, Face, TurnedDiameter
from sequencer.setups.setup import Target, Zero
from sequencer.setups.surfaces import spigot_of
from sequencer.units import Micrometre, shown

_GEARS: Final = (ExternalGear, InternalGear, DoubleHelicalGear, Spline)
_ANGULAR: Final = (BoltCircle, Keyway, Flat, Pocket)

#: Closest reading that is asked of a face where nothing needs more [um]; common practice, no source.
LEAST_READING: Final[Micrometre] = 10.0

#: Share of a tolerance that re-clamping may use; common practice, no source.
_SHARE: Final = 1 / 3


def targets_of(standing: Standing, made: StageBody, cut: Iterable[str]) -> tuple[Target, ...]:
    """Give the surfaces that are indicated before the first cut, with limits.

    Source: common practice, no source: a third of the closest runout that is made here; ISO 1328-1 for teeth

    Parameters
    ----------
    standing
        The part in the clamping.
    made
        The part as it comes.
    cut
        Features that are cut in this visit.
    """
    features = [standing.part.by_name[name] for name in cut]
    finished = _true(standing, made)
    if not made.made:
        return tuple(_raw_targets(standing))
    return tuple(
        target
        for target in (
            _axis(standing, made, finished, features),
            _wobble(standing, finished, features),
            _angle(finished, features),
        )
        if target is not None
    )


def _true(standing: Standing, made: StageBody) -> set[str]:
    """Features that are true enough to be indicated: finished, or with the stock for grinding only."""
    left = float(standing.shop.stock.grinding)
    return {name for name, state in made.made.items() if state.left <= left}


def _raw_targets(standing: Standing) -> Iterator[Target]:
    part, section = standing.part, standing.section
    widest = max(max(piece.lower, piece.upper) for piece in section.outside.pieces)
    stock = (float(part.blank.diameter) - widest) / 2
    if stock > 0:
        limit = 1000 * stock * _SHARE
        yield Target(
            BLANK,
            "runout of the diameter",
            limit,
            f"raw: stock stays all round; a third of the smallest stock of {mm(stock)} a side ({COMMON})",
        )
    up = standing.clamping.up
    face = section.upper_face if up == "upper" else section.lower_face
    over, under = float(part.blank.z_to) - section.z_to, section.z_from - float(part.blank.z_from)
    depth = over if up == "upper" else under
    if face and depth > 0:
        yield Target(
            BLANK,
            "wobble of the face",
            1000 * depth * _SHARE,
            f"raw: the face cleans up; a third of its stock of {mm(depth)} ({COMMON})",
        )


def _rough_axis(standing: Standing, made: StageBody) -> Target | None:
    """The longest surface that is rough: everything close is made here, only the stock must be even."""
    rough = [
        (standing.section.extent(f.name).z_from - standing.section.extent(f.name).z_to, f.name)
        for f in standing.part.features
        if place_of(f) is not None and f.name in made.made
    ]
    if not rough:
        return None
    _, name = min(rough)
    stock = made.made[name].left or float(standing.shop.stock.turning)
    words = f"rough; a third of its stock of {mm(stock)} a side ({COMMON})"
    return Target(name, "runout of the diameter", 1000 * stock * _SHARE, words)


def _axis(standing: Standing, made: StageBody, finished: set[str], cut: list[AnyFeature]) -> Target | None:
    """A finished bore or diameter that a probe gets at; datums first, then the longest."""
    part = standing.part
    datums = list(part.datums.values())
    covered = {standing.clamping.on} if standing.band is not None else set()
    done = [f for f in part.features if isinstance(f, Bore | TurnedDiameter) and f.name in finished]
    round_ones = [f for f in done if f.name not in covered] or done
    if not round_ones:
        return _rough_axis(standing, made)

    def worth(feature: AnyFeature) -> tuple[int, float]:
        extent = standing.section.extent(feature.name)
        order = datums.index(feature.name) if feature.name in datums else len(datums)
        return order, extent.z_from - extent.z_to

    best = min(round_ones, key=worth)
    limit, why = runout_limit(standing, cut)
    partly = "; measured above the jaws" if best.name in covered else ""
    return Target(best.name, "runout of the diameter", limit, why + partly)


def runout_limit(standing: Standing, cut: Iterable[AnyFeature]) -> tuple[Micrometre, str]:
    """Largest runout of the axis that the features of a visit bear, with the reason [um].

    Source: common practice, no source: a third of the runout tolerance of the teeth (ISO 1328-1) or of the
    drawing; else twice what stays after re-clamping on this machine

    Parameters
    ----------
    standing
        The part in the clamping.
    cut
        Features that are cut in this visit.
    """
    found: list[tuple[float, str]] = []
    for feature in cut:
        for each in feature.geometric:
            if each.to and each.characteristic in ("runout", "total runout", "concentricity", "position"):
                value = 1000 * float(each.value)
                words = f"a third of the {each.characteristic} of {feature.name}, {shown(value, 0)} um"
                found.append((value * _SHARE, words))
        if isinstance(feature, _GEARS):
            found += _of_teeth(standing, feature)
    if found:
        return min(found)
    left = float(standing.shop.machine.capability.reclamping) * 1000
    return 2 * left, f"nothing closer is asked here; twice the {shown(left, 0)} um that re-clamping leaves"


def _of_teeth(
    standing: Standing, feature: ExternalGear | InternalGear | DoubleHelicalGear | Spline
) -> Iterator[tuple[float, str]]:
    try:
        runs = teeth_of(standing.section, feature)
        found = [teeth.tolerances for teeth in runs]
    except OutOfRange:
        return
    for tolerances in found:
        if tolerances is not None:
            value = tolerances.rounded.runout
            yield value * _SHARE, f"a third of F_r of {feature.name}, {shown(value, 0)} um (ISO 1328-1)"


def _wobble(standing: Standing, finished: set[str], cut: list[AnyFeature]) -> Target | None:
    """A finished face; the wobble that tilts the teeth by a third of their helix slope tolerance."""
    faces = [f for f in standing.part.features if isinstance(f, Face) and f.name in finished]
    if not faces:
        return None
    rest = standing.clamping.rests_on
    face = next((f for f in faces if f.name != rest and f.side == standing.clamping.up), None) or faces[0]
    across = standing.section.extent(face.name).outer
    limits: list[tuple[float, str]] = []
    for feature in cut:
        if isinstance(feature, _GEARS):
            limits += _slopes(standing, feature, across)
    if limits:
        limit, why = min(limits)
    else:
        tilt = float(standing.shop.machine.capability.reclamping_tilt) * 1000
        limit = max(tilt * across / 1000, LEAST_READING)
        why = (
            f"no teeth are cut here; {shown(tilt, 0)} um over 1 m that re-clamping leaves, no less than "
            f"{shown(LEAST_READING, 0)} um"
        )
    seat = "; it is the seat: indicated at its rim, or on its supports before the part is set down"
    return Target(face.name, "wobble of the face", limit, why + (seat if face.name == rest else ""))


def _slopes(
    standing: Standing, feature: ExternalGear | InternalGear | DoubleHelicalGear | Spline, across: float
) -> Iterator[tuple[float, str]]:
    try:
        runs = teeth_of(standing.section, feature)
        found = [(teeth.tolerances, teeth.face_width) for teeth in runs]
    except OutOfRange:
        return
    for tolerances, width in found:
        if tolerances is not None:
            slope = tolerances.rounded.helix_slope
            limit = slope * _SHARE * across / width
            yield (
                limit,
                f"w = f_HbT/3 D/b = {shown(slope, 1)} um/3*{mm(across)}/{mm(width)}: a third of the helix "
                f"slope of {feature.name}",
            )


def _angle(finished: set[str], cut: list[AnyFeature]) -> Target | None:
    """What carries the angular zero from an earlier visit, if something cut here is timed to it."""
    name, tolerance, why = timed_to(finished, cut)
    if not name:
        return None
    return Target(name, "angular zero", tolerance * _SHARE, f"a third of the phase tolerance: {why}")


def timed_to(finished: set[str], cut: Iterable[AnyFeature]) -> tuple[str, Micrometre, str]:
    """Feature of an earlier visit that something cut here is timed to, tolerance and reason; empty if none.

    Parameters
    ----------
    finished
        Features finished in earlier visits.
    cut
        Features that are cut in this visit.
    """
    found = [
        (1000 * float(feature.phase.tolerance), feature.phase.to, feature.name)
        for feature in cut
        if feature.phase is not None and feature.phase.to in finished
    ]
    if not found:
        return "", 0.0, ""
    tolerance, name, timed = min(found)
    return name, tolerance, f"{timed} is timed to it within {shown(tolerance, 0)} um"


def zero_of(
    standing: Standing, made: StageBody, cut: Iterable[AnyFeature], targets: Iterable[Target]
) -> Zero:
    """Say what carries the zero of the axis, of Z and of C.

    Parameters
    ----------
    standing
        The part in the clamping.
    made
        The part as it comes.
    cut
        Features that are cut in this visit.
    targets
        What is indicated.
    """
    listed = list(cut)
    axis = next((t.name for t in targets if t.what == "runout of the diameter"), BLANK)
    axis_words = "the raw outside, set to the middle of its runout" if axis == BLANK else f"{axis}, indicated"
    spigot = spigot_of(standing, made)
    if spigot and spigot != axis:
        axis_words += f"; {spigot} on the spigot"
    return Zero(axis_words, _height_zero(standing), _angle_zero(standing, made, listed))


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


def _angle_zero(standing: Standing, made: StageBody, cut: list[AnyFeature]) -> str:
    finished = _true(standing, made)
    name, _, why = timed_to(finished, cut)
    if name:
        return f"{name}: found again by probing both flanks or several holes; {why}"
    angular = [f for f in standing.part.features if f.name in finished and isinstance(f, _ANGULAR + _GEARS)]
    here = [f for f in cut if isinstance(f, _ANGULAR + _GEARS)]
    if not here:
        return "free: nothing here has an angular position"
    carrier = next((f.name for f in angular if isinstance(f, _ANGULAR)), "")
    if carrier and any(isinstance(f, _ANGULAR) for f in here):
        return f"{carrier}: found again by probing, so that drawing angles hold"
    return "set here at will; kept until the part is released"
