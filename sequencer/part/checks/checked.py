"""A part with its half-section, as the checks look at it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.part.fault import Path
from sequencer.part.part import AnyFeature, Part
from sequencer.part.profile import ROUNDING, Piece
from sequencer.part.section import Extent, Section
from sequencer.part.surfaces import pieces_of, place_of
from sequencer.units import Mm, shown

__all__ = ["ROUNDING", "Checked", "mm", "span"]


@dataclass(frozen=True)
class Checked:
    """A part whose features have names of their own, with its half-section.

    Parameters
    ----------
    part
        The part.
    section
        Its half-section.
    """

    part: Part
    section: Section

    @cached_property
    def position(self) -> dict[str, int]:
        """Positions of the features in the file."""
        return {feature.name: at for at, feature in enumerate(self.part.features)}

    @property
    def features(self) -> tuple[AnyFeature, ...]:
        """All features in file order."""
        return self.part.features

    def path(self, feature: AnyFeature, *keys: str | int) -> Path:
        """Give the path of a feature or of one of its keys.

        Source: derived

        Parameters
        ----------
        feature
            The feature.
        keys
            Key of the feature, and on from there.
        """
        return ("features", self.position[feature.name], *keys)

    def named(self, name: str | None) -> AnyFeature | None:
        """Give a feature by name; None if there is none.

        Source: derived

        Parameters
        ----------
        name
            Name of the feature.
        """
        return self.part.by_name.get(name) if name else None

    def extent(self, feature: AnyFeature) -> Extent:
        """Give the zone of a feature.

        Source: derived

        Parameters
        ----------
        feature
            The feature.
        """
        return self._extents[feature.name]

    @cached_property
    def _extents(self) -> dict[str, Extent]:
        return {feature.name: self.section.extent(feature.name) for feature in self.part.features}

    def carrier_pieces(self, name: str | None) -> tuple[Piece, ...]:
        """Give the surface of the feature that carries another; empty if it makes none.

        Source: derived

        Parameters
        ----------
        name
            Name of the carrier.
        """
        carrier = self.named(name)
        return pieces_of(carrier) if carrier is not None and place_of(carrier) else ()


def mm(value: Mm) -> str:
    """Write a length for a message.

    Source: derived

    Parameters
    ----------
    value
        The length [mm].
    """
    return f"{shown(value)} mm"


def span(z_from: Mm, z_to: Mm) -> str:
    """Write a stretch of the axis for a message.

    Source: derived

    Parameters
    ----------
    z_from, z_to
        Its ends [mm].
    """
    return f"z {shown(z_from)} to {mm(z_to)}"
