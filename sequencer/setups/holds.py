"""Ways to hold a part in words."""

from __future__ import annotations

from sequencer.operations.layouts import Layout
from sequencer.part import BLANK, Clamping, Part


def hold_words(clamping: Clamping) -> str:
    """Say how the part is held in one clamping.

    Parameters
    ----------
    clamping
        The clamping.
    """
    on = "the blank" if clamping.on == BLANK else clamping.on
    rests = "its raw face" if clamping.rests_on == BLANK else clamping.rests_on
    return f"{clamping.up} side up, {clamping.hold} on {on}, standing on {rests}"


def layout_words(part: Part, layout: Layout) -> str:
    """Say how the part is held in a row of clampings.

    Parameters
    ----------
    part
        The part; after hardening is said where it is hardened.
    layout
        The clampings.
    """
    words = []
    for place, clamping in enumerate(layout.clampings):
        hardened = part.heat_treatment is not None and layout.hard_from == place
        words.append(f"{clamping.name} {'after hardening ' if hardened else ''}{hold_words(clamping)}")
    return "; ".join(words)
