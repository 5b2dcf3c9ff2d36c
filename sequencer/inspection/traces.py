"""Which teeth are traced, and where."""

from __future__ import annotations

from sequencer.inspection.plan import Traces
from sequencer.operations.teeth.zone import Teeth
from sequencer.tolerancing import Kind
from sequencer.units import shown

#: Teeth on which profile and helix are traced; from memory: ISO 1328-1 asks for three, many shops take four.
TRACED = 4

#: Places at which an apex is checked; common practice, no source: at least four.
APEX_PLACES = 4


def spread(teeth: int, count: int) -> tuple[int, ...]:
    """Give teeth evenly round a gear, from number 1.

    Source: common practice, no source: evenly spaced

    Parameters
    ----------
    teeth
        Number of teeth of the gear.
    count
        How many of them.
    """
    traced = min(count, teeth)
    return tuple(1 + place * teeth // traced for place in range(traced))


def traces_of(teeth: Teeth, kind: Kind) -> Traces | None:
    """Give where a tooth characteristic is measured; None if it is none of teeth.

    Source: ISO 1328-1, from memory: pitch on all teeth, profile at mid-face, helix near mid-depth, both
    flanks; apex at four places, common practice, no source

    Parameters
    ----------
    teeth
        Teeth of the gear or of one half.
    kind
        What is measured.
    """
    standard = str(teeth.flank_class) if teeth.flank_class is not None else "no class on the drawing"
    every = tuple(range(1, teeth.teeth + 1))
    few = spread(teeth.teeth, TRACED)
    width = f"{shown(teeth.face_width, 1)} mm of face width"
    if kind in (Kind.TOOTH_PITCH, Kind.TOOTH_RUNOUT):
        flanks = "both" if kind is Kind.TOOTH_PITCH else "both at once, with a ball"
        return Traces(standard, teeth.teeth, every, flanks, "mid-face, near mid-depth", "all teeth, one turn")
    if kind is Kind.HELIX_SLOPE:
        return Traces(standard, len(few), few, "both", "near mid-depth", f"{width} less the tooth ends")
    if kind is Kind.APEX:
        places = spread(teeth.teeth, APEX_PLACES)
        return Traces(standard, len(places), places, "both, of both halves", "near mid-depth", "evenly round")
    if kind is Kind.THICKNESS:
        return Traces(standard, len(few), few, "over balls or span", "mid-face", "mean and spread")
    if kind is Kind.PROFILE:
        return Traces(standard, len(few), few, "both", "mid-face", "active profile, root to tip chamfer")
    return None
