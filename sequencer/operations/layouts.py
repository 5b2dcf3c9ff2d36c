"""Ways to hold a part in one, two or more clampings, before anyone has tried what can be cut in them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final

from sequencer.operations.means import choose_means
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.part import BLANK, AnyFeature, Clamping, Part
from sequencer.part.feature import Side
from sequencer.part.milled import BoltCircle
from sequencer.part.section import Section
from sequencer.part.turned import Bore, TurnedDiameter
from sequencer.shop import Shop
from sequencer.units import Mm, Quantity, shown

#: Shortest band that jaws grip [mm]; common practice, no source.
SHORTEST_BAND: Final[Mm] = 8.0

#: A short grip, where a long one would hide what is to be cut [mm]; common practice, no source.
SHORT_BAND: Final[Mm] = 20.0

#: Jaws grip at most this share of the raw height in the first clamping; common practice, no source.
RAW_SHARE: Final = 0.25

_NAMES: Final = ("I", "II", "III", "IV")

Band = tuple[Mm, Mm] | None


@dataclass(frozen=True)
class Layout:
    """Clampings in order.

    Parameters
    ----------
    clampings
        The clampings; all are used before hardening if there is none.
    hard_from
        Index of the first clamping that is used after hardening.
    """

    clampings: tuple[Clamping, ...]
    hard_from: int

    def with_riser(self, index: int, riser: Mm) -> Layout:
        """The same with another riser under one clamping.

        Parameters
        ----------
        index
            Index of the clamping.
        riser
            Height of the riser [mm].
        """
        changed = self.clampings[index].model_copy(update={"riser": _length(riser)})
        return Layout((*self.clampings[:index], changed, *self.clampings[index + 1 :]), self.hard_from)


@dataclass(frozen=True)
class Holder:
    """Finds clampings of a part on a shop.

    Parameters
    ----------
    part, shop, section
        Part, shop and half-section.
    """

    part: Part
    shop: Shop
    section: Section

    def pairs(self) -> Iterator[Layout]:
        """Give one clamping, then two: the raw blank first, then what the first clamping made."""
        sides: tuple[Side, Side] = ("lower", "upper")
        for up in reversed(sides):
            for first in self.held(self.firsts(up), "I"):
                yield Layout((first,), 1)
        for up in sides:
            for first in self.held(self.firsts(up), "I"):
                for second in self.next_to(first, "II"):
                    yield Layout((first, second), 2)

    def after(self, layout: Layout) -> Iterator[Layout]:
        """Give the same with the last clamping again, turned over once more, and both.

        Hardened parts are made again in these; others get at what the first two hide.

        Parameters
        ----------
        layout
            One or two clampings.
        """
        soft = len(layout.clampings)
        if soft >= len(_NAMES):
            return
        again = self._named(layout.clampings[-1], soft)
        hard_from = soft if self.part.heat_treatment is not None else soft + 2
        yield Layout((*layout.clampings, again), hard_from)
        for turned in self.next_to(layout.clampings[-1], _NAMES[soft]):
            yield Layout((*layout.clampings, turned), hard_from)
            if soft + 2 <= len(_NAMES):
                yield Layout((*layout.clampings, again, self._named(turned, soft + 1)), hard_from)

    def risers(self, clamping: Clamping) -> tuple[Mm, ...]:
        """Risers that fit below a clamping, the lowest first; 0 is none [mm].

        Parameters
        ----------
        clamping
            The clamping.
        """
        blank = self.part.blank
        table = self.shop.machine.table
        room = float(table.height) - float(table.tool_change_clearance)
        room -= float(blank.z_to) - float(blank.z_from)
        known = {
            float(riser)
            for means in self.shop.clamping_means
            if means.hold == clamping.hold
            for riser in means.risers
            if riser <= room
        }
        fitting = [
            riser for riser in sorted(known) if self._means(Layout((clamping,), 1).with_riser(0, riser))
        ]
        return (0.0, *fitting)

    def _means(self, layout: Layout) -> bool:
        return choose_means(self._standing(layout.clampings[0]))[0] is not None

    def _standing(self, clamping: Clamping) -> Standing:
        return Standing(self.part, self.shop, self.section, clamping)

    def _named(self, clamping: Clamping, index: int) -> Clamping:
        return clamping.model_copy(update={"name": _NAMES[index]})

    def held(self, clampings: Iterable[Clamping], name: str) -> Iterator[Clamping]:
        """Give those clampings that a means of the shop holds.

        Parameters
        ----------
        clampings
            The clampings.
        name
            Their name on the sheets.
        """
        for clamping in clampings:
            if choose_means(self._standing(clamping))[0] is not None:
                yield clamping.model_copy(update={"name": name})

    def firsts(self, up: Side) -> Iterator[Clamping]:
        """Give ways to hold the raw blank: outside, in its bore, on the face plate.

        Parameters
        ----------
        up
            Side of the drawing that looks up.
        """
        low, high = float(self.part.blank.z_from), float(self.part.blank.z_to)
        for hold in ("outside jaws", "inside jaws"):
            if hold == "inside jaws" and self.part.blank.bore <= 0:
                continue
            height = min(self._jaw_height(hold, raw=True), RAW_SHARE * (high - low))
            for length in _lengths(height):
                band = (high - length, high) if up == "lower" else (low, low + length)
                yield _clamping("I", up, hold, BLANK, BLANK, band)
        yield _clamping("I", up, "face plate", BLANK, BLANK, None)

    def next_to(self, before: Clamping, name: str) -> Iterator[Clamping]:
        """Give ways to hold the part turned over, on what a clamping made: bolts, jaws inside, jaws outside.

        Parameters
        ----------
        before
            The clamping before.
        name
            Name of the next one.
        """
        up: Side = "upper" if before.up == "lower" else "lower"
        face = self.section.lower_face if up == "upper" else self.section.upper_face
        rests_on = face or BLANK
        standing = self._standing(before)
        made = [feature for feature in self.part.features if reach_of(standing, feature).reachable]
        ways = [
            _clamping(name, up, hold, on, rests_on, band) for hold, on, band in self._holds(made, up, face)
        ]
        yield from self.held(ways, name)

    def laters(self, up: Side) -> Iterator[Clamping]:
        """Give all ways to hold the part on what earlier clampings may have made.

        Parameters
        ----------
        up
            Side of the drawing that looks up.
        """
        face = self.section.lower_face if up == "upper" else self.section.upper_face
        for hold, on, band in self._holds(list(self.part.features), up, face):
            yield _clamping("II", up, hold, on, face or BLANK, band)

    def _holds(self, made: list[AnyFeature], up: Side, face: str | None) -> Iterator[tuple[str, str, Band]]:
        for feature in made:
            if isinstance(feature, BoltCircle) and feature.use == "clamping":
                yield "bolts", feature.name, None
        for kind, hold in ((Bore, "inside jaws"), (TurnedDiameter, "outside jaws")):
            for feature in made:
                if isinstance(feature, kind):
                    low, high = float(feature.z_from), float(feature.z_to)
                    for length in _lengths(min(self._jaw_height(hold), high - low)):
                        yield (
                            hold,
                            feature.name,
                            (low, low + length) if up == "upper" else (high - length, high),
                        )
        raw = self._raw_band(up)
        if raw is not None:
            yield "outside jaws", BLANK, raw
        if face in {feature.name for feature in made}:
            yield "face plate", str(face), None

    def _raw_band(self, up: Side) -> Band:
        """Raw outside at the lower end as it stands, where nothing is ever cut; None without any."""
        pieces = self.section.outside.pieces
        lowest = pieces[0] if up == "upper" else pieces[-1]
        length = min(self._jaw_height("outside jaws", raw=True), lowest.z_to - lowest.z_from)
        if lowest.feature != BLANK or length < SHORTEST_BAND:
            return None
        return (
            (lowest.z_from, lowest.z_from + length) if up == "upper" else (lowest.z_to - length, lowest.z_to)
        )

    def _jaw_height(self, hold: str, raw: bool = False) -> Mm:
        """Height of the lowest jaws of this kind that may hold it, so that any of them covers the band."""
        heights = [
            float(means.height)
            for means in self.shop.clamping_means
            if means.hold == hold and (means.soft or raw)
        ]
        return min(heights, default=0.0)


def _lengths(length: Mm) -> Iterator[Mm]:
    if length >= SHORTEST_BAND:
        yield length
    if length > 1.25 * SHORT_BAND:
        yield SHORT_BAND


def _clamping(name: str, up: Side, hold: str, on: str, rests_on: str, band: Band) -> Clamping:
    written = {
        "name": name,
        "up": up,
        "hold": hold,
        "on": on,
        "rests_on": rests_on,
        "z_from": _length(band[0]) if band else None,
        "z_to": _length(band[1]) if band else None,
    }
    return Clamping.model_validate(written)


def _length(value: Mm) -> Quantity:
    return Quantity(value, f"{shown(value)} mm")
