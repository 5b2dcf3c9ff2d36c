"""The command about several parts on one magazine."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from sequencer.cli.answering import OutFolder, answering, print_lines, print_text
from sequencer.cli.app import Seconds


def week(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="Rotation file: shop, parts, lots, due dates.")
    ],
    out: OutFolder = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the week as JSON.")] = False,
    seconds: Seconds = 20.0,
) -> None:
    """Plan the parts of a week on one magazine: order, tools that stay and are exchanged, pallets."""
    with answering():
        from sequencer.files import read_rotation
        from sequencer.papers.week_sheet import week_json, week_lines, week_papers
        from sequencer.papers.write import write_all
        from sequencer.plan import make_plan
        from sequencer.rotation import make_week

        read = read_rotation(file)
        plans = [make_plan(part, read.shop, seconds=seconds) for part in read.parts]
        made = make_week(read.rotation, plans, read.shop)
        folder = out or Path("out") / file.stem
        written = write_all(folder, week_papers(made))
        if as_json:
            print_text(week_json(made))
            return
        names = ", ".join(path.name for path in written)
        print_lines((*week_lines(made), f"Papers in {folder}: {names}"))
