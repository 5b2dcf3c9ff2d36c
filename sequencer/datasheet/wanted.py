"""What is wanted: a tooth system of a part or of options, and choices of the inspector."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.units import Mm

Cylindrical = ExternalGear | InternalGear | DoubleHelicalGear
Toothed = Cylindrical | Spline | BevelGear


@dataclass(frozen=True, kw_only=True)
class Wanted:
    """A tooth system of which a data sheet is wanted.

    Parameters
    ----------
    feature
        The tooth system.
    given_by
        Who gives its values: "part file" or "options".
    units
        "mm" or "in": unit of length on the sheet.
    graded
        Whether its flank class was given; options may leave it out.
    teeth_spanned
        Number of teeth of the drawing's span; None to choose [-].
    ball_diameter
        Diameter of the drawing's balls or pins; None to choose [mm].
    """

    feature: Toothed
    given_by: str = "part file"
    units: str = "mm"
    graded: bool = True
    teeth_spanned: int | None = None
    ball_diameter: Mm | None = None
