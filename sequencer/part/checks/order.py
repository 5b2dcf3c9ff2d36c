"""Clampings, dates, tolerances and surfaces: what the drawing and the order say beside the geometry."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from sequencer.cutting import iso286
from sequencer.errors import OutOfRange
from sequencer.part.checks.checked import ROUNDING, Checked, span
from sequencer.part.fault import Fault, did_you_mean
from sequencer.part.feature import Feature
from sequencer.part.milled import BoltCircle
from sequencer.part.money import Quote
from sequencer.part.part import BLANK, Clamping
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import ToothSystem
from sequencer.part.turned import Bore, Face, Taper, TurnedDiameter
from sequencer.units import Mm

#: Rougher than this is no machined surface [mm]; a value in mm is nearly always meant in um.
ROUGHEST: Final = 0.1
_NEED_DATUM: Final = ("runout", "total runout", "concentricity", "parallelism", "perpendicularity")
_NO_DATUM: Final = ("flatness", "roundness", "cylindricity")


def order_faults(checked: Checked) -> Iterator[Fault]:
    """Check what the order and the drawing say beside the geometry.

    Source: derived

    Parameters
    ----------
    checked
        The part.
    """
    part = checked.part
    if part.due is not None and part.order_date is not None and part.due < part.order_date:
        what = f"due {part.due} lies before order_date"
        yield Fault(("due",), what, f"order_date {part.order_date}", "correct one of the two dates")
    for at, quote in enumerate(part.quotes):
        yield from _quote(checked, at, quote)
    for at, clamping in enumerate(part.clampings):
        yield from _band(checked, at, clamping)
        yield from _bolts(checked, at, clamping)
    for feature in checked.features:
        yield from _surface(checked, feature)
        if isinstance(feature, TurnedDiameter | Bore | Taper):
            yield from _size(checked, feature)
        if isinstance(feature, ToothSystem) and feature.hard_finish and part.heat_treatment is None:
            what = "hard_finish is asked, but the part has no heat_treatment"
            yield Fault(checked.path(feature, "hard_finish"), what, "", "add heat_treatment, or take it out")


def _quote(checked: Checked, at: int, quote: Quote) -> Iterator[Fault]:
    """A quotation for teeth names a feature with teeth; others name none."""
    part, path = checked.part, ("quotes", at, "of")
    if quote.work in ("teeth", "grinding"):
        toothed = [feature.name for feature in checked.features if hasattr(feature, "flank_class")]
        if quote.of is None:
            yield Fault(("quotes", at), f"quoted is {quote.work}, but not of which feature", "", "add of:")
        elif quote.of not in toothed:
            what = f"{quote.of!r} is no feature with teeth"
            yield Fault(path, what, "", did_you_mean(quote.of, toothed, "features with teeth"))
    elif quote.of is not None:
        yield Fault(path, f"quoted is {quote.work}, which is of the whole part", "", "take of: out")
    elif quote.work == "heat treatment" and part.heat_treatment is None:
        what = "a heat treatment is quoted, but the part has none"
        yield Fault(("quotes", at, "work"), what, "", "add heat_treatment, or take the quotation out")


def _band(checked: Checked, at: int, clamping: Clamping) -> Iterator[Fault]:
    """Jaws must lie where the surface is that they grip."""
    if (
        clamping.z_from is None
        or clamping.z_to is None
        or clamping.hold not in ("outside jaws", "inside jaws")
    ):
        return
    blank = checked.part.blank
    low, high, name = float(blank.z_from), float(blank.z_to), "the blank"
    if clamping.on == BLANK:
        if clamping.hold == "inside jaws" and float(blank.bore) == 0:
            what, remedy = "the blank is solid, there is no bore to grip", "hold it by outside jaws"
            yield Fault(("clampings", at, "hold"), what, "", remedy)
    else:
        feature = checked.named(clamping.on)
        if feature is None or place_of(feature) is None:
            return
        own = checked.extent(feature)
        low, high, name = own.z_from, own.z_to, repr(clamping.on)
    if clamping.z_from < low - ROUNDING or clamping.z_to > high + ROUNDING:
        what = f"the jaws cover {span(clamping.z_from, clamping.z_to)}, beyond {name}"
        key = "z_from" if clamping.z_from < low - ROUNDING else "z_to"
        limit = f"{name.strip(chr(39))} {span(low, high)}"
        yield Fault(("clampings", at, key), what, limit, "correct the band, or on")


def _bolts(checked: Checked, at: int, clamping: Clamping) -> Iterator[Fault]:
    """Blind holes can only be used from the table if they open downwards."""
    holes = checked.named(clamping.on)
    if clamping.hold != "bolts" or not isinstance(holes, BoltCircle):
        return
    path = ("clampings", at, "on")
    if holes.direction == "radial":
        yield Fault(path, f"{holes.name!r} has radial holes", "", "bolt through axial holes")
        return
    face = checked.named(holes.on)
    side = holes.side or (face.side if isinstance(face, Face) else None)
    if holes.depth is not None and side == clamping.up:
        what = f"the blind holes of {holes.name!r} open to the {side} side, which is up in this clamping"
        yield Fault(path, what, "bolts come from the table", "name holes that look down or go through")


def _surface(checked: Checked, feature: Feature) -> Iterator[Fault]:
    path = ("features", checked.position[feature.name])
    if feature.roughness is not None and feature.roughness > ROUGHEST:
        what = f"a roughness Ra of {feature.roughness}"
        remedy = "write it in um, such as 1.6 um, or in uin"
        yield Fault((*path, "roughness"), what, "at most 100 um", remedy)
    for at, tolerance in enumerate(feature.geometric):
        here = (*path, "geometric", at)
        if tolerance.characteristic in _NEED_DATUM and not tolerance.to:
            what = f"{tolerance.characteristic} refers to a datum, none is given"
            yield Fault(here, what, "ISO 1101", "add to: [A] with the letter of the datum")
        if tolerance.characteristic in _NO_DATUM and tolerance.to:
            what = f"{tolerance.characteristic} is a tolerance of form and has no datum"
            yield Fault((*here, "to"), what, "ISO 1101", "take it out, or choose another characteristic")


def _size(checked: Checked, feature: TurnedDiameter | Bore | Taper) -> Iterator[Fault]:
    tolerance = feature.tolerance
    if tolerance is None or not tolerance.code:
        return
    path = checked.path(feature, "tolerance")
    inside = place_of(feature) == "inside"
    if tolerance.code[0].isupper() != inside:
        kind = "a hole" if tolerance.code[0].isupper() else "a shaft"
        what = f"{tolerance.code} is a tolerance of {kind}, this lies {place_of(feature)}"
        right = tolerance.code.upper() if inside else tolerance.code.lower()
        yield Fault(path, what, "ISO 286: capital letters for holes, small ones for shafts", f"write {right}")
        return
    try:
        iso286.limits(tolerance.code, _size_of(feature))
    except OutOfRange as error:
        yield Fault(path, error.what, error.limit, error.remedy)


def _size_of(feature: TurnedDiameter | Bore | Taper) -> Mm:
    return float(feature.lower_diameter if isinstance(feature, Taper) else feature.diameter)
