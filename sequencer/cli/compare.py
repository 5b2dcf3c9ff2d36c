"""The command that tells two plans apart: two revisions of a part file, or two plans as they were written."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from sequencer.cli.answering import ShopFile, answering, print_lines, read_both
from sequencer.cli.app import Seconds, interruptible

if TYPE_CHECKING:
    from sequencer.papers.model import PaperStyle, Sheet

_OLD = Annotated[Path, typer.Argument(metavar="OLD", help="Part file or plan.json of before.")]
_NEW = Annotated[Path, typer.Argument(metavar="NEW", help="Part file or plan.json of now.")]
_Out = Annotated[
    Path | None,
    typer.Option("--out", metavar="FOLDER", help="Folder for the papers; out/compare if left out."),
]


def compare(
    old: _OLD,
    new: _NEW,
    shop: ShopFile = None,
    old_shop: Annotated[
        Path | None,
        typer.Option("--old-shop", metavar="FILE", help="Shop file of OLD, if it is another one."),
    ] = None,
    out: _Out = None,
    seconds: Seconds = 20.0,
) -> None:
    """Tell two plans apart in words, and print the new sheets with all that changed marked."""
    with answering(), interruptible() as stop:
        from sequencer.errors import SequencerError
        from sequencer.papers.compare_sheet import compared_papers
        from sequencer.papers.write import write_all

        kinds = {path.suffix.lower() == ".json" for path in (old, new)}
        if len(kinds) > 1:
            raise SequencerError(
                "a part file cannot be compared with a plan",
                where=f"{old}, {new}",
                remedy="give two part files or two plan.json",
            )
        if kinds == {True}:
            lines, sheets, style = _written(old, new)
        else:
            lines, sheets, style = _planned(old, new, old_shop or shop, shop, seconds, stop)
        written = write_all(out or Path("out") / "compare", compared_papers(sheets, style))
        print_lines((*lines, *(f"Written: {path}" for path in written)))


def _written(old: Path, new: Path) -> tuple[tuple[str, ...], tuple[Sheet, ...], PaperStyle]:
    """Two plans as they were written: the page of differences alone."""
    from sequencer.differences import outline_of_json
    from sequencer.papers.compare_sheet import compare_sheet, difference_lines, stamp_of_json
    from sequencer.papers.model import PLAIN_STYLE
    from sequencer.papers.plan_json import read_plan

    before, after = (read_plan(path.read_text(encoding="utf-8"), str(path)) for path in (old, new))
    outlines = outline_of_json(before), outline_of_json(after)
    page = compare_sheet(*outlines, stamp_of_json(before), stamp_of_json(after))
    return difference_lines(*outlines), (page,), PLAIN_STYLE


def _planned(
    old: Path, new: Path, old_shop: Path | None, shop: Path | None, seconds: float, stop: Callable[[], bool]
) -> tuple[tuple[str, ...], tuple[Sheet, ...], PaperStyle]:
    """Two part files, planned: the page of differences and all sheets with changed rows marked."""
    from sequencer.differences import outline_of
    from sequencer.papers.compare_sheet import compare_sheet, difference_lines
    from sequencer.papers.header import stamp_of
    from sequencer.papers.localise import localised, style_of
    from sequencer.papers.marked import marked_sheets
    from sequencer.papers.write import make_sheets
    from sequencer.plan import make_plan

    before, after = (
        make_plan(*read_both(part, house), seconds=seconds, stop=stop)
        for part, house in ((old, old_shop), (new, shop))
    )
    outlines = outline_of(before), outline_of(after)
    page = compare_sheet(*outlines, stamp_of(before), stamp_of(after))
    style = style_of(after)
    marked = marked_sheets(make_sheets(before), make_sheets(after))
    sheets = tuple(localised(sheet, style.wording) for sheet in (page, *marked))
    return difference_lines(*outlines), sheets, style
