"""The formulas of the data sheets as text; each result symbol once, variants behind a slash.

The values come from `sequencer.gears`; a test puts the numbers into these texts and compares.
"""

from __future__ import annotations

from typing import Final

from sequencer.datasheet.formula import Formula
from sequencer.datasheet.formulas.bevels import BEVELS
from sequencer.datasheet.formulas.blocks import BLOCKS
from sequencer.datasheet.formulas.flanks import FLANKS
from sequencer.datasheet.formulas.mates import MATES
from sequencer.datasheet.formulas.sizes import SIZES
from sequencer.datasheet.formulas.splines import SPLINES

#: Formulas by room of the sheet, in the order of the reference page.
CHAPTERS: Final[dict[str, dict[str, Formula]]] = {
    "Gear data": BLOCKS,
    "Inspection sizes": SIZES,
    "Flank tolerances": FLANKS,
    "Mate": MATES,
    "Splines": SPLINES,
    "Bevel gears": BEVELS,
}
FORMULAS: Final[dict[str, Formula]] = {
    key: formula for chapter in CHAPTERS.values() for key, formula in chapter.items()
}
