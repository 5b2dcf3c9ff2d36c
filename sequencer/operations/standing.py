"""The part as it stands in one clamping: what looks up, what the jaws cover, how much air is below."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from sequencer.operations.facts import mm
from sequencer.operations.view import View
from sequencer.part import BLANK, AnyFeature, Clamping, Part
from sequencer.part.section import Section
from sequencer.shop import Shop
from sequencer.units import Mm

if TYPE_CHECKING:
    from sequencer.operations.context import Context
    from sequencer.operations.operation import FittedClamping


@dataclass(frozen=True)
class Standing:
    """A part in one clamping on the machine of a shop.

    Parameters
    ----------
    part, shop
        As read.
    section
        Half-section of the part.
    clamping
        The clamping.
    """

    part: Part
    shop: Shop
    section: Section
    clamping: Clamping

    @cached_property
    def view(self) -> View:
        """The half-section with the side that looks up."""
        return View(self.section, self.clamping.up)

    @property
    def name(self) -> str:
        """Name of the clamping."""
        return self.clamping.name

    @cached_property
    def band(self) -> tuple[Mm, Mm] | None:
        """Heights between which jaws cover the part; None without jaws."""
        z_from, z_to = self.clamping.z_from, self.clamping.z_to
        if self.clamping.hold not in ("outside jaws", "inside jaws") or z_from is None or z_to is None:
            return None
        return self.view.ends(float(z_from), float(z_to))

    @cached_property
    def gripped(self) -> AnyFeature | None:
        """Feature that is gripped or bolted through; None for the raw blank."""
        return self.part.by_name.get(self.clamping.on)

    @cached_property
    def grip_diameter(self) -> Mm:
        """Diameter at which the means holds the part [mm]."""
        clamping, blank = self.clamping, self.part.blank
        if self.gripped is not None and self.gripped.kind == "bolt_circle":
            return float(self.gripped.circle_diameter or blank.diameter)
        if clamping.on not in self.part.by_name:
            inside = clamping.hold == "inside jaws"
            return float(blank.bore if inside else blank.diameter)
        extent = self.section.extent(clamping.on)
        return extent.inner if clamping.hold == "inside jaws" else extent.outer

    @cached_property
    def air_below(self) -> Mm:
        """Free height below the lowest face: the riser [mm]."""
        return float(self.clamping.riser)

    @cached_property
    def stock_below(self) -> Mm:
        """Stock between the lowest finished face and the raw face below it [mm]."""
        blank = self.part.blank
        if self.clamping.up == "upper":
            return max(0.0, self.section.z_from - float(blank.z_from))
        return max(0.0, float(blank.z_to) - self.section.z_to)

    def above_table(self, z: Mm) -> Mm:
        """Height of a position above the table; raw stock that the part still stands on lies below it [mm].

        Parameters
        ----------
        z
            Position in the drawing [mm].
        """
        raw = self.stock_below if self.clamping.rests_on == BLANK else 0.0
        return self.air_below + raw + self.view.height(z) - self.view.bottom

    @cached_property
    def raw_hold(self) -> str:
        """What raw surface holds the part that is cut sooner or later; empty if none does."""
        low_face = self.section.lower_face if self.clamping.up == "upper" else self.section.upper_face
        if self.clamping.rests_on == BLANK and low_face is not None:
            return f"stands on the raw face that {low_face} cuts away"
        if self.clamping.on != BLANK or self.band is None:
            return ""
        profile = self.section.inside if self.clamping.hold == "inside jaws" else self.section.outside
        low, high = sorted(self.view.height(end) for end in self.band)
        cut = next((piece.feature for piece in profile.between(low, high) if piece.feature != BLANK), "")
        return f"is gripped on the raw surface that {cut} cuts away" if cut else ""

    def hidden_by_jaws(self, z_from: Mm, z_to: Mm, inside: bool) -> str:
        """Say how jaws hide a zone; empty if they do not.

        Parameters
        ----------
        z_from, z_to
            Ends of the zone in the drawing [mm].
        inside
            Whether the zone lies inside.
        """
        if self.band is None or inside != (self.clamping.hold == "inside jaws"):
            return ""
        low, high = self.view.ends(z_from, z_to)
        band_low, band_high = self.band
        if low >= band_high - 1e-6:
            return ""
        jaws = f"{'inside' if inside else 'outside'} jaws, which cover {self.band_words}"
        if high <= band_low + 1e-6:
            return f"lies below the {jaws}"
        if high <= band_high + 1e-6:
            return f"hidden by the {jaws}"
        return f"partly covered by the {jaws}: the zone is z {mm(z_from)} to {mm(z_to)}"

    @property
    def band_words(self) -> str:
        """The band of the jaws in words of the drawing."""
        return f"z {mm(float(self.clamping.z_from or 0))} to {mm(float(self.clamping.z_to or 0))}"


def standing_in(context: Context, clamping: FittedClamping) -> Standing:
    """Give the part as it stands in a fitted clamping.

    Parameters
    ----------
    context
        Part, shop and section.
    clamping
        The clamping.
    """
    return Standing(context.part, context.shop, context.section, clamping.clamping)
