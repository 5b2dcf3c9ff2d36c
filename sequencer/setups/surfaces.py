"""What a clamping holds, locates on and covers; what is reached and hidden; the things on the table."""

from __future__ import annotations

from typing import Final

from sequencer.operations import FittedClamping
from sequencer.operations.facts import mm
from sequencer.operations.standing import Standing
from sequencer.operations.straps import LEAST_BORE, STRAP
from sequencer.part import BLANK
from sequencer.part.milled import BoltCircle
from sequencer.part.stages import StageBody
from sequencer.part.surfaces import place_of
from sequencer.setups.setup import Note, Rectangle
from sequencer.units import Mm

#: Thickness at which the table is drawn [mm].
_TABLE_THICKNESS: Final[Mm] = 40.0


def held_on(standing: Standing, fitted: FittedClamping) -> tuple[Note, ...]:
    """Give the surface that the means holds, with how.

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    """
    clamping, means = fitted.clamping, fitted.means
    at = f"diameter {mm(standing.grip_diameter)}"
    if clamping.hold in ("outside jaws", "inside jaws"):
        kind = "soft" if means.soft else "hard"
        words = f"{means.count} {kind} {clamping.hold} on {at}, {standing.band_words}"
    elif clamping.hold == "bolts":
        words = f"{means.count} bolts on {at}"
    else:
        words = f"{means.count} straps press it on the face plate, {_strap_words(standing)}"
    raw = standing.raw_hold
    return (Note(clamping.on, f"{words}; {raw}" if raw else words),)


def _strap_words(standing: Standing) -> str:
    bore = min(min(piece.lower, piece.upper) for piece in standing.section.inside.pieces)
    return "in two sets, on the rim and through the bore" if bore >= LEAST_BORE else "on the rim"


def located_on(standing: Standing, made: StageBody) -> tuple[Note, ...]:
    """Give the surfaces that locate the part: the face that it stands on and what centres it.

    Parameters
    ----------
    standing
        The part in the clamping.
    made
        The part as it comes.
    """
    clamping = standing.clamping
    rest = clamping.rests_on
    raw = rest == BLANK or rest not in made.made
    three = "stands on three supports, shimmed level" if raw else "stands flat on its seats"
    face = Note(rest, f"{'raw face' if raw else 'finished face'}: {three}")
    centre = spigot_of(standing, made)
    if clamping.hold in ("outside jaws", "inside jaws"):
        return face, Note(clamping.on, "centred by the jaws, then indicated")
    if centre:
        return face, Note(centre, "centred on a spigot, then indicated")
    return face, Note(clamping.on, "pushed to the centre by the indicator before it is tightened")


def spigot_of(standing: Standing, made: StageBody) -> str:
    """Finished bore at the lower end as it stands, which a spigot can fill; empty without one.

    Parameters
    ----------
    standing
        The part in the clamping.
    made
        The part as it comes.
    """
    pieces = made.inside.pieces
    low = pieces[0] if standing.clamping.up == "upper" else pieces[-1]
    done = made.made.get(low.feature)
    if standing.clamping.hold in ("outside jaws", "inside jaws") or done is None or done.left > 0:
        return ""
    return low.feature


def covered_by(standing: Standing) -> tuple[Note, ...]:
    """Give the surfaces that means and seat cover, partly or wholly.

    Parameters
    ----------
    standing
        The part in the clamping.
    """
    clamping = standing.clamping
    found = [Note(clamping.rests_on, "the part stands on it")]
    for feature in standing.part.features:
        place = place_of(feature)
        if place is None or feature.name == clamping.rests_on:
            continue
        extent = standing.section.extent(feature.name)
        hidden = standing.hidden_by_jaws(extent.z_from, extent.z_to, place == "inside")
        if hidden:
            found.append(Note(feature.name, hidden))
    if clamping.hold == "bolts" and clamping.on != BLANK:
        found.append(Note(clamping.on, "the bolts sit in it"))
    return tuple(found)


def reached_and_hidden(fitted: FittedClamping) -> tuple[tuple[Note, ...], tuple[Note, ...]]:
    """Split the answers of reach.

    Parameters
    ----------
    fitted
        The clamping with its answers.
    """
    reached = tuple(Note(each.feature, each.reason) for each in fitted.reach if each.reachable)
    hidden = tuple(Note(each.feature, each.reason) for each in fitted.reach if not each.reachable)
    return reached, hidden


def things_on_table(standing: Standing, fitted: FittedClamping, made: StageBody) -> tuple[Rectangle, ...]:
    """Give table, riser and means as rectangles of the half-section, for the picture.

    Parameters
    ----------
    standing
        The part in the clamping.
    fitted
        The clamping with its means.
    made
        The part as it comes.
    """
    table = standing.shop.machine.table
    found = [Rectangle("table", -_TABLE_THICKNESS, 0.0, 0.0, table.radius, table.diameter is None)]
    inner, outer = _seat(standing, made)
    if standing.air_below > 0:
        found.append(Rectangle("riser", 0.0, standing.air_below, inner, outer, True))
    if standing.band is not None:
        found.append(_jaws(standing, fitted))
    elif fitted.clamping.hold == "bolts":
        found += _bolts(standing)
    else:
        found += _plate(standing, fitted, made)
    return tuple(found)


def _seat(standing: Standing, made: StageBody) -> tuple[Mm, Mm]:
    """Ring of the lowest face that the part stands on, beside the means: a third of its width [mm]."""
    up = standing.clamping.up == "upper"
    low = (
        (made.outside.pieces[0].lower, made.inside.pieces[0].lower)
        if up
        else (
            made.outside.pieces[-1].upper,
            made.inside.pieces[-1].upper,
        )
    )
    outer, inner = low[0] / 2, low[1] / 2
    holes = standing.gripped
    if standing.clamping.hold == "bolts" and isinstance(holes, BoltCircle):
        middle, half = float(holes.circle_diameter or 0.0) / 2, 1.5 * float(holes.diameter)
        return max(inner, middle - half), min(outer, middle + half)
    if standing.clamping.hold == "inside jaws":
        return inner, inner + (outer - inner) / 3
    if standing.clamping.hold == "outside jaws":
        return outer - (outer - inner) / 3, outer
    return inner, outer


def _jaws(standing: Standing, fitted: FittedClamping) -> Rectangle:
    means, radius = fitted.means, standing.grip_diameter / 2
    z_from, z_to = float(standing.clamping.z_from or 0.0), float(standing.clamping.z_to or 0.0)
    top = max(standing.above_table(z_from), standing.above_table(z_to))
    given = float(means.depth)
    depth = given if given > 0 else float(means.height)
    if fitted.clamping.hold == "inside jaws":
        return Rectangle("jaws", 0.0, top, max(0.0, radius - depth), radius, given <= 0)
    return Rectangle("jaws", 0.0, top, radius, radius + depth, given <= 0)


def _bolts(standing: Standing) -> list[Rectangle]:
    holes = standing.gripped
    if not isinstance(holes, BoltCircle):
        return []
    extent = standing.section.extent(holes.name)
    middle, half = float(holes.circle_diameter or 0.0) / 2, float(holes.diameter) / 2
    top = max(standing.above_table(extent.z_from), standing.above_table(extent.z_to))
    return [Rectangle("bolts", 0.0, top, middle - half, middle + half, False)]


def _plate(standing: Standing, fitted: FittedClamping, made: StageBody) -> list[Rectangle]:
    inner, outer = _seat(standing, made)
    thick = float(fitted.means.height)
    z_top = standing.above_table(made.z_to if standing.clamping.up == "upper" else made.z_from)
    found = [Rectangle("face plate", -thick, 0.0, 0.0, outer, True)]
    if standing.air_below >= thick:
        found = [Rectangle("face plate", standing.air_below - thick, standing.air_below, 0.0, outer, True)]
    if spigot_of(standing, made):
        low = standing.air_below
        found.append(Rectangle("spigot", low, low + thick / 2, 0.0, inner, True))
    found.append(Rectangle("straps", z_top, z_top + thick, max(0.0, outer - STRAP), outer + STRAP, True))
    if inner > 0:
        found.append(Rectangle("straps", z_top, z_top + thick, 0.0, inner + STRAP, True))
    return found
