"""Which clamping means of the shop holds a clamping, and what speaks against it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sequencer.errors import Finding, Severity
from sequencer.operations.facts import mm
from sequencer.operations.standing import Standing
from sequencer.part import BLANK
from sequencer.shop import ClampingMeans
from sequencer.units import Kg, shown


@dataclass(frozen=True)
class Fault:
    """Something that speaks against a means, a part or a clamping.

    Parameters
    ----------
    what
        What is wrong, with its numbers.
    limit
        The limit.
    remedy
        What to do.
    """

    what: str
    limit: str
    remedy: str


def faults_of(standing: Standing, means: ClampingMeans) -> tuple[Fault, ...]:
    """Give everything that speaks against holding a clamping with a means.

    Parameters
    ----------
    standing
        The part in the clamping.
    means
        A clamping means of the shop.
    """
    clamping = standing.clamping
    if means.hold != clamping.hold:
        return (Fault(f"{means.name} holds with {means.hold}", f"asked for: {clamping.hold}", ""),)
    found = [*_range(standing, means), *_softness(standing, means), *_band(standing, means)]
    found += _riser(standing, means)
    return tuple(found)


def _range(standing: Standing, means: ClampingMeans) -> Iterable[Fault]:
    diameter = standing.grip_diameter
    if not means.diameter_from <= diameter <= means.diameter_to:
        yield Fault(
            f"{means.name} does not hold diameter {mm(diameter)}",
            f"{mm(means.diameter_from)} to {mm(means.diameter_to)}",
            "hold the part at another diameter or add a means to the shop file",
        )


def _softness(standing: Standing, means: ClampingMeans) -> Iterable[Fault]:
    jaws = means.hold in ("outside jaws", "inside jaws")
    if jaws and standing.clamping.on != BLANK and not means.soft:
        yield Fault(
            f"{means.name} has hard jaws on the finished surface {standing.clamping.on}",
            "finished surfaces need soft jaws",
            "use soft jaws",
        )


def _band(standing: Standing, means: ClampingMeans) -> Iterable[Fault]:
    if standing.band is None:
        return
    length = standing.band[1] - standing.band[0]
    if length > means.height + 1e-6:
        yield Fault(
            f"the band {standing.band_words} is {mm(length)} long, the jaws of {means.name} are "
            f"{mm(means.height)} high",
            f"at most {mm(means.height)}",
            "shorten the band to what the jaws cover",
        )


def _riser(standing: Standing, means: ClampingMeans) -> Iterable[Fault]:
    riser = float(standing.clamping.riser)
    if riser > 0 and all(abs(riser - height) > 0.5 for height in means.risers):
        known = ", ".join(mm(height) for height in means.risers) or "none"
        yield Fault(
            f"{means.name} has no riser of {mm(riser)}", f"risers: {known}", "take one of these or add it"
        )


def choose_means(standing: Standing) -> tuple[ClampingMeans | None, tuple[Finding, ...]]:
    """Choose what holds a clamping: the planner's own choice, else the first that fits.

    Parameters
    ----------
    standing
        The part in the clamping.

    Returns
    -------
    means, findings
        None if nothing of the shop can hold it; the findings then say what was tried. A means that the
        planner names is taken even if it does not fit, with errors.
    """
    shop, clamping = standing.shop, standing.clamping
    where = f"clamping {clamping.name}"
    if clamping.means is not None:
        named = next((means for means in shop.clamping_means if means.name == clamping.means), None)
        if named is None:
            known = ", ".join(means.name for means in shop.clamping_means)
            what = f"means {clamping.means} is not in the shop file"
            return None, (_error(where, what, "", f"use one of {known}"),)
        return named, tuple(_error(where, f.what, f.limit, f.remedy) for f in faults_of(standing, named))
    tried: list[tuple[ClampingMeans, tuple[Fault, ...]]] = []
    for means in shop.clamping_means:
        faults = faults_of(standing, means)
        if not faults:
            return means, ()
        tried.append((means, faults))
    return None, (_nothing_fits(standing, where, tried),)


def _nothing_fits(
    standing: Standing, where: str, tried: list[tuple[ClampingMeans, tuple[Fault, ...]]]
) -> Finding:
    hold = standing.clamping.hold
    right = [(means, faults) for means, faults in tried if means.hold == hold]
    if not right:
        return _error(where, f"the shop has no {hold}", "", "add a means to the shop file or hold otherwise")
    said = "; ".join(f"{fault.what} ({fault.limit})" for _, faults in right for fault in faults)
    nearest = min(right, key=lambda pair: len(pair[1]))[1][0]
    return _error(where, f"no {hold} of the shop hold it: {said}", "", nearest.remedy)


def table_findings(
    standing: Standing, means: ClampingMeans, part_mass: Kg, inertia: float
) -> tuple[Finding, ...]:
    """Check load, swing, height and inertia of the table, and the place of the jaws.

    Parameters
    ----------
    standing
        The part in the clamping.
    means
        What holds it.
    part_mass
        Mass of the part as it is clamped [kg].
    inertia
        Its moment of inertia about the axis [kg m2].
    """
    where = f"clamping {standing.name}"
    return tuple(
        _error(where, fault.what, fault.limit, fault.remedy)
        for fault in (*_load(standing, means, part_mass), *_room(standing), *_inertia(standing, inertia))
    ) + tuple(_warnings(standing, means, where))


def _load(standing: Standing, means: ClampingMeans, part_mass: Kg) -> Iterable[Fault]:
    total, load = part_mass + float(means.mass), float(standing.shop.machine.table.load)
    if total > load:
        yield Fault(
            f"part {shown(part_mass, 0)} kg and {means.name} {shown(means.mass, 0)} kg are "
            f"{shown(total, 0)} kg",
            f"table load {shown(load, 0)} kg",
            "take lighter means or a larger machine",
        )


def _room(standing: Standing) -> Iterable[Fault]:
    table, blank = standing.shop.machine.table, standing.part.blank
    if blank.diameter > table.swing:
        yield Fault(
            f"the blank is {mm(blank.diameter)} across",
            f"swing {mm(table.swing)}, jaws included",
            "take a larger machine",
        )
    clear = float(table.tool_change_clearance)
    height = float(blank.z_to) - float(blank.z_from) + standing.air_below + clear
    if height > table.height:
        above = f" with {mm(clear)} for tool changes" if clear > 0 else ""
        yield Fault(
            f"blank {mm(float(blank.z_to) - float(blank.z_from))} on a riser of {mm(standing.air_below)} is "
            f"{mm(height)} high{above}",
            f"height above the table {mm(table.height)}",
            "take a lower riser or a larger machine",
        )


def _inertia(standing: Standing, inertia: float) -> Iterable[Fault]:
    limit = standing.shop.machine.table.inertia_limit
    if 0 < limit < inertia:
        yield Fault(
            f"moment of inertia, integral of r^2 dm over the section, {shown(inertia, 1)} kg m2",
            f"table {shown(limit, 0)} kg m2",
            "take a larger machine",
        )


def _warnings(standing: Standing, means: ClampingMeans, where: str) -> Iterable[Finding]:
    if standing.band is None:
        return
    rest = standing.part.by_name.get(standing.clamping.rests_on)
    if rest is None or rest.kind != "face":
        return
    above = standing.band[1] - standing.view.height(float(rest.z))
    if above > means.height + 1e-6:
        yield Finding(
            Severity.WARNING,
            where,
            f"the band {standing.band_words} ends {mm(above)} above the face that the part stands on",
            f"jaws of {means.name}: {mm(means.height)} above their seat",
            "raise the jaws or grip lower",
            "clamping",
        )


def _error(where: str, what: str, limit: str, remedy: str) -> Finding:
    return Finding(Severity.ERROR, where, what, limit, remedy, "clamping")
