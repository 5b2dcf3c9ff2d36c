"""The gear data sheet: lines for the screen, JSON for programs, a sheet for print."""

from __future__ import annotations

import json
from functools import lru_cache
from math import isfinite
from typing import TYPE_CHECKING, Any, Final

from sequencer.datasheet import DataSheet, Section, Statement, Toothed, part_data_sheet
from sequencer.errors import OutOfRange
from sequencer.operations.operation import Fact
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import part_stamp, short_entries, stamp_of
from sequencer.papers.localise import sheet_units
from sequencer.papers.model import Column, Row, Sheet, Stamp, Table
from sequencer.papers.model import Section as SheetSection
from sequencer.pictures.rounding import gear_words, in_units
from sequencer.pictures.wording import size_words
from sequencer.units import MM_PER_INCH

if TYPE_CHECKING:
    from sequencer.part import Part
    from sequencer.plan import Plan

SCHEMA: Final = "sequencer gear sheet"
VERSION: Final = 1
UM_PER_INCH: Final = 1000 * MM_PER_INCH
#: Width of the names on the screen.
_NAME: Final = 44
#: Longer statements than this stand in the wide column.
_SHORT: Final = 26
_COLUMNS: Final = (
    Column("What", share=2.0),
    Column("Value with unit", share=1.5, bold=True),
    Column("Formula with its numbers", share=4.8),
    Column("Source", share=2.0),
    Column("Mark", share=0.7),
)


def gear_lines(sheet: DataSheet) -> tuple[str, ...]:
    """Write a data sheet for the screen; a formula stands under its number.

    Parameters
    ----------
    sheet
        The data sheet.
    """
    lines = [sheet.title]
    for section in sheet.sections:
        lines += ["", section.name]
        for line in section.lines:
            head, tail = _named(line.name), _tail(line.source, line.estimate)
            if isinstance(line, Statement):
                lines.append(f"{head}{line.words}{tail}")
            elif formula := line.formula:
                lines += (f"{head}{_value(line, sheet.units)}", f"      {formula}{tail}")
            else:
                lines.append(f"{head}{_value(line, sheet.units)}{tail}")
    return tuple(lines)


@lru_cache(maxsize=2048)  # ten thousand sheets have the same names and sources
def _named(name: str) -> str:
    return f"  {f'{name}:'.ljust(_NAME)} "


@lru_cache(maxsize=2048)
def _tail(source: str, estimate: bool) -> str:
    return (f"  [{source}]" if source else "") + ("  (estimate)" if estimate else "")


def _value(fact: Fact, units: str) -> str:
    words = gear_words(*in_units(fact.value, fact.unit, units))
    if units == "in" and fact.unit == "um":
        return f"{words} ({gear_words(fact.value / UM_PER_INCH, 'in')})"
    return words


def gear_json(sheet: DataSheet) -> str:
    """Write a data sheet as JSON; `docs/gear.schema.json` describes it.

    Parameters
    ----------
    sheet
        The data sheet; values stay in mm, deg and um.
    """
    made = {
        "schema": SCHEMA,
        "version": VERSION,
        "title": sheet.title,
        "units": sheet.units,
        "sections": [
            {"name": section.name, "lines": [_plain(line) for line in section.lines]}
            for section in sheet.sections
        ],
    }
    return json.dumps(made, indent=1, ensure_ascii=False, allow_nan=False) + "\n"


def _plain(line: Fact | Statement) -> dict[str, Any]:
    if isinstance(line, Statement):
        return {
            "name": line.name,
            "words": line.words,
            "source": line.source,
            "estimate": line.estimate,
        }
    return {
        "name": line.name,
        "value": line.value if isfinite(line.value) else None,
        "unit": line.unit,
        "formula": line.formula,
        "source": line.source,
        "estimate": line.estimate,
    }


def printed_sheet(sheet: DataSheet, stamp: Stamp) -> Sheet:
    """Give a data sheet to the renderers of PDF, HTML and workbook.

    Parameters
    ----------
    sheet
        The data sheet.
    stamp
        What stands on every page.
    """
    tables = tuple(_table(section, sheet.units) for section in sheet.sections)
    sections = (SheetSection("", tables=tables), SheetSection("", cautions=(LAST_WORD,)))
    return Sheet(sheet.title, stamp, (), sections)


def gear_sheet(plan: Plan) -> Sheet:
    """Make the sheet with the data of all tooth systems of a plan.

    Parameters
    ----------
    plan
        The plan.
    """
    sections = [
        _feature_section(plan, feature) for feature in plan.part.features if isinstance(feature, Toothed)
    ]
    if not sections:
        sections = [SheetSection("", paragraphs=("The part has no tooth systems.",))]
    last = SheetSection("", cautions=(LAST_WORD,))
    return Sheet("Gear data", stamp_of(plan), short_entries(plan), (*sections, last))


def _feature_section(plan: Plan, feature: Toothed) -> SheetSection:
    title = f"{feature.shown}: {size_words(feature)}"
    try:
        made = part_data_sheet(plan.part, feature)
    except OutOfRange as error:
        return SheetSection(title, paragraphs=(f"No data: {error}",))
    return SheetSection(title, tables=tuple(_table(section, sheet_units(plan)) for section in made.sections))


def _table(section: Section, units: str) -> Table:
    return Table(section.name, _COLUMNS, tuple(_row(line, units) for line in section.lines))


def _row(line: Fact | Statement, units: str) -> Row:
    mark = "estimate" if line.estimate else None
    if isinstance(line, Fact):
        return Row((line.name, _value(line, units), line.formula or None, line.source or None, mark))
    short = len(line.words) <= _SHORT
    words = (line.words, None) if short else (None, line.words)
    return Row((line.name, *words, line.source or None, mark))


def gear_papers(sheet: DataSheet, name: str, part: Part | None = None) -> dict[str, bytes]:
    """Make the files of one data sheet, by file name.

    Parameters
    ----------
    sheet
        The data sheet.
    name
        Name of the tooth system; it begins the file names.
    part
        The part that it belongs to; None for teeth from options.

    Raises
    ------
    SequencerError
        When the PDF cannot be made.
    """
    from sequencer.papers.html_page import sheets_html
    from sequencer.papers.typst_pdf import sheets_pdf
    from sequencer.papers.workbook import sheets_xlsx

    stamp = Stamp(name, "-", "-", "") if part is None else part_stamp(part)
    sheets = (printed_sheet(sheet, stamp),)
    return {
        f"{name}-data.pdf": sheets_pdf(sheets),
        f"{name}-data.xlsx": sheets_xlsx(sheets),
        f"{name}-data.html": sheets_html(sheets).encode(),
        f"{name}-data.json": gear_json(sheet).encode(),
    }
