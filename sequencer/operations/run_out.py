"""A cutter at one end of the teeth that it cuts, for those who want to see its room."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.cutting.cutter_bodies import CutterBody
from sequencer.cutting.cutter_setting import Setting
from sequencer.units import Mm


@dataclass(frozen=True)
class RunOut:
    """Room of a cutter beyond one end of the teeth.

    Parameters
    ----------
    side
        "below" or "above" the teeth, as the part stands.
    body, setting
        The cutter and how it stands to the teeth.
    z_from, z_to
        Ends of the teeth in the drawing [mm].
    upright
        True if the part stands as drawn, False if it is turned over.
    reach
        How far the cutter itself stands beyond the end of the teeth [mm].
    overrun
        Its travel beyond the end of the teeth [mm].
    needed
        Room needed, overrun and margin included [mm].
    has
        Room there; infinite if nothing limits it [mm].
    kind
        "part", "jaws" or "table"; empty if nothing limits it.
    neighbour
        Words for what limits it; empty if nothing does.
    inner, outer
        Radii between which the neighbour lies; the outer one may be infinite [mm].
    """

    side: str
    body: CutterBody
    setting: Setting
    z_from: Mm
    z_to: Mm
    upright: bool
    reach: Mm
    overrun: Mm
    needed: Mm
    has: Mm
    kind: str
    neighbour: str
    inner: Mm
    outer: Mm
