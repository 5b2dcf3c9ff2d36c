"""How the surfaces of a relation are made: in which clampings, with what between them, how measured."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from sequencer.shop import ClampingMeans


class Instrument(StrEnum):
    """What a relation is measured with while it can still be corrected."""

    PROBE = "probe on the machine"
    HAND = "gauge in the hand"
    INDICATOR = "indicator or probe, table turning"
    TEETH = "tooth measuring on the machine"
    INDEPENDENT = "independent instrument"


@dataclass(frozen=True)
class Reclamping:
    """One putting down of the part between the making of two surfaces.

    Parameters
    ----------
    clamping
        Clamping that the part is put into.
    means
        What holds it there.
    shown_by
        Surface that is indicated or probed, or that the part stands on; empty before that is known.
    diameter
        Diameter of that surface, from which an angle is found again; 0 before that is known [mm].
    raw
        True if that surface is raw.
    """

    clamping: str
    means: ClampingMeans
    shown_by: str = ""
    diameter: float = 0.0
    raw: bool = False


@dataclass(frozen=True)
class Situation:
    """What lies between the surfaces of a relation.

    Parameters
    ----------
    axis
        Re-clampings by which the axis of the feature may lie beside that of its datum.
    face
        Re-clampings by which the feature may be tilted or shifted along the axis against its datum.
    angle
        Re-clampings by which the angular zero is found again.
    held
        Clampings in which the surfaces are finished and then let go, with what holds them.
    low_force
        True if they are finished with the lower force.
    stressed
        True if the blank is stressed and was not released between its roughing and the finish.
    heat
        Heat treatments that come after the surfaces are made.
    warm
        True if heavy roughing comes before in the same clamping without a wait.
    instrument
        What it is measured with.
    method
        Method by which holes get their place; empty for anything else.
    """

    axis: tuple[Reclamping, ...] = ()
    face: tuple[Reclamping, ...] = ()
    angle: tuple[Reclamping, ...] = ()
    held: tuple[tuple[str, ClampingMeans], ...] = ()
    low_force: bool = False
    stressed: bool = False
    heat: tuple[str, ...] = ()
    warm: bool = False
    instrument: Instrument = Instrument.PROBE
    method: str = ""
