"""Parts that are released after roughing, so that what sprang under the jaws comes back."""

from __future__ import annotations

from typing import Final

from sequencer.operations.context import Context
from sequencer.operations.facts import mm
from sequencer.units import shown

#: A part is a ring from this bore over outside diameter on; common practice, no source.
RING_FROM: Final = 0.3


def thin_ring(context: Context) -> bool:
    """Whether the part is so thin that its teeth too are finished with the lower force of the jaws.

    Source: common practice, no source; a stiffer part is tightened again after it was turned to size

    Parameters
    ----------
    context
        Part and shop.
    """
    return context.section.wall_ratio() < context.shop.limits.thin_wall


def release_reason(context: Context) -> str:
    """Say why a part is released after roughing and clamped again with the force for finishing.

    Source: common practice, no source

    Parameters
    ----------
    context
        Part and shop.

    Returns
    -------
    reason
        Empty if it stays as it is clamped.
    """
    section, limits = context.section, context.shop.limits
    outer = max(max(piece.lower, piece.upper) for piece in section.outside.pieces)
    inner = min(min(piece.lower, piece.upper) for piece in section.inside.pieces)
    wall = section.wall_ratio()
    if wall < limits.thin_wall:
        return f"thin: wall over diameter {shown(wall)} is below {shown(limits.thin_wall)}"
    if context.part.blank.stressed:
        return f"a {context.part.blank.form} with high residual stress moves as its skin is taken off"
    if inner >= RING_FROM * outer:
        return f"a ring: bore {mm(inner, 0)} in diameter {mm(outer, 0)}"
    return ""
