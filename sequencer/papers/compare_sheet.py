"""The page that tells two plans apart: differences in words, then all steps with what changed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from sequencer.differences import differences
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.html_page import sheets_html
from sequencer.papers.model import PLAIN_STYLE, Column, Entry, PaperStyle, Row, Section, Sheet, Stamp, Table
from sequencer.papers.typst_pdf import sheets_pdf

if TYPE_CHECKING:
    from sequencer.differences import Outline, OutlineStep


def compare_sheet(before: Outline, after: Outline, old: Stamp, new: Stamp) -> Sheet:
    """Make the page that tells two plans apart.

    Parameters
    ----------
    before
        The plan that is compared with.
    after
        The plan that is told about.
    old, new
        What stands on the pages of either.
    """
    entries = (
        Entry("Before", _stamp_words(old)),
        Entry("Now", _stamp_words(new)),
    )
    found = differences(before, after)
    columns = (Column("Matter", share=1.0, bold=True), Column("What is different", share=8.0))
    told = Table("", columns, tuple(Row((each.matter, each.sentence)) for each in found))
    sections = [
        Section("Differences", tables=(told,))
        if found
        else Section("Differences", paragraphs=("Both plans do the same.",)),
        Section("Steps now", paragraphs=(_READING,), tables=(_steps(before, after),)),
    ]
    gone = _gone(before, after)
    if gone.rows:
        sections.append(Section("No longer there", tables=(gone,)))
    return Sheet("Differences", new, entries, (*sections, Section("", cautions=(LAST_WORD,))))


_READING = "Rows with a bar are new or changed."


def _stamp_words(stamp: Stamp) -> str:
    date = f", {stamp.date}" if stamp.date else ""
    return f"{stamp.part}, drawing {stamp.drawing}, revision {stamp.revision}{date}"


def _steps(before: Outline, after: Outline) -> Table:
    told = {each.subject for each in differences(before, after) if each.matter == "order"}
    rows = []
    for place, step in enumerate(after.steps, start=1):
        old = before.by_operation.get(step.operation)
        was = "new" if old is None else _was(old, step)
        if old is not None and step.operation in told:
            was = f"{was}; stood elsewhere" if was else "stood elsewhere"
        cells = (
            place,
            step.operation,
            step.method or None,
            step.tool or None,
            step.clamping,
            step.minutes,
            was or None,
        )
        rows.append(Row(cells, changed=bool(was)))
    return Table("", (*_COLUMNS, Column("Was", share=3.0)), tuple(rows))


_COLUMNS = (
    Column("Place", number=True, share=0.6),
    Column("Operation", share=2.4, bold=True),
    Column("Method", share=1.8),
    Column("Tool", share=0.9),
    Column("Clamping", share=0.9),
    Column("Own", "min", number=True, share=0.8),
)


def _was(old: OutlineStep, new: OutlineStep) -> str:
    own = Column("Own", "min")
    pairs = (
        (old.method, new.method),
        (old.tool, new.tool),
        (old.clamping, new.clamping),
        (f"{own.words(old.minutes)} min", f"{own.words(new.minutes)} min"),
    )
    return ", ".join(before or "none" for before, after in pairs if before != after)


def _gone(before: Outline, after: Outline) -> Table:
    rows = [
        Row((place, step.operation, step.method or None, step.tool or None, step.clamping, step.minutes))
        for place, step in enumerate(before.steps, start=1)
        if step.operation not in after.by_operation
    ]
    return Table("", _COLUMNS, tuple(rows))


def compared_papers(sheets: tuple[Sheet, ...], style: PaperStyle = PLAIN_STYLE) -> dict[str, bytes]:
    """Print the page of differences and the marked sheets, by file name.

    Parameters
    ----------
    sheets
        The page of differences first, then the marked sheets.
    style
        Wording and size of the paper.
    """
    return {
        "differences.pdf": sheets_pdf(sheets, style),
        "differences.html": sheets_html(sheets, style).encode(),
    }


def difference_lines(before: Outline, after: Outline) -> tuple[str, ...]:
    """Give the differences of two plans for the screen.

    Parameters
    ----------
    before
        The plan that is compared with.
    after
        The plan that is told about.
    """
    return tuple(str(each) for each in differences(before, after)) or ("Both plans do the same.",)


def stamp_of_json(values: Mapping[str, Any]) -> Stamp:
    """Give what stands on every page of a plan that was written as plan.json.

    Parameters
    ----------
    values
        What the file holds.
    """
    part = values["part"]
    names = ("name", "drawing", "revision", "order_date")
    return Stamp(*(str(part.get(name) or "") for name in names))
