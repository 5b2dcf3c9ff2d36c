"""Lines and picture of a tooth space as a cutter leaves it."""

from __future__ import annotations

from typing import Final

from sequencer.cutting.simulation import describe
from sequencer.datasheet.tooth_cut import ToothCut
from sequencer.units import shown

#: Below this nothing is left that anyone could measure [um].
NOTHING: Final = 0.01


def cut_lines(cut: ToothCut) -> tuple[str, ...]:
    """Write what was set up, what came out, and where it is worst.

    Parameters
    ----------
    cut
        The cut.
    """
    flank, diameter, value = cut.worst
    end = "material stays" if value > 0 else "cut too deep"
    if abs(value) < NOTHING:
        end = "nothing that could be measured"
    return (
        f"{cut.name} cut by {cut.tool}",
        *(f"  {line}" for line in cut.settings),
        *(f"  note: {line}" for line in cut.notes),
        *(f"  {line}" for line in describe(cut.deviation)),
        f"  largest deviation: {shown(value, 2)} um on the {flank} flank at diameter {shown(diameter)} mm "
        f"({end})",
    )


def cut_picture(cut: ToothCut) -> str:
    """Draw the deviation of both flanks.

    Parameters
    ----------
    cut
        The cut.
    """
    from sequencer.pictures.deviation import draw_deviation

    return draw_deviation(cut.deviation, f"{cut.name} cut by {cut.tool}", (*cut.settings, *cut.notes))
