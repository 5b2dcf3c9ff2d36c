"""The page of formulas, written from their texts.

`python -m sequencer.datasheet.reference [FOLDER]` writes it; FOLDER is `docs` if left out.
"""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Final

from sequencer.datasheet.formula import Formula
from sequencer.datasheet.formulas import CHAPTERS
from sequencer.datasheet.symbols import GIVEN
from sequencer.files.writing import write_text

NAME: Final = "gears.md"
_HEAD: Final = """\
# Formulas of the gear data sheets

<!-- Written by python -m sequencer.datasheet.reference from the texts of the formulas: change those. -->

`sequencer gear` prints each of these with its numbers put in. The values come from the functions of
`sequencer.gears`; a test puts the numbers into the texts and compares. Lengths are in mm. `inv` is the
involute function, `arcinv` its inverse; angles inside `sin`, `cos`, `tan` and `inv` carry their unit,
others are in radians. For straight teeth the helix is left out. An internal gear counts teeth and diameters
above 0, and a profile shift above 0 enlarges it. Where the tool of the teeth undercuts them, the root form
diameter is searched: the crossing of the trochoid with the involute.
"""


def gears_page() -> str:
    """Write the page of formulas."""
    lines = [_HEAD]
    for title, formulas in CHAPTERS.items():
        lines += [f"## {title}", "", "| what | unit | formula | source |", "|---|---|---|---|"]
        lines += [_row(key, formula) for key, formula in formulas.items()]
        lines.append("")
    lines += ["## Symbols of given values", "", "| symbol | unit | meaning |", "|---|---|---|"]
    lines += [f"| `{symbol}` | {meant.unit} | {meant.meaning} |" for symbol, meant in GIVEN.items()]
    return "\n".join(lines) + "\n"


def _row(key: str, formula: Formula) -> str:
    variant = key.partition("/")[2]
    name = f"{formula.name} ({variant})" if variant else formula.name
    return f"| {name} | {formula.unit} | `{formula.symbol} = {formula.expression}` | {formula.source} |"


def write_page(folder: Path) -> Path:
    """Write the page into a folder.

    Parameters
    ----------
    folder
        The folder; it must exist.

    Raises
    ------
    SequencerError
        When it cannot be written.
    """
    write_text(folder / NAME, gears_page())
    return folder / NAME


if __name__ == "__main__":
    write_page(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
