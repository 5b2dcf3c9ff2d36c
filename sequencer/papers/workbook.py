"""Sheets as an XLSX workbook: real numbers with formats, frozen heads, ready to print."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING, Any, Final

from sequencer.files.timeless import timeless
from sequencer.language import Wording
from sequencer.papers.model import (
    PLAIN_STYLE,
    Amount,
    Cell,
    Column,
    Entry,
    PaperStyle,
    Row,
    Section,
    Sheet,
    Table,
)
from sequencer.pictures.lettering import wrapped
from sequencer.pictures.rounding import places

if TYPE_CHECKING:
    from openpyxl import Workbook
    from openpyxl.styles import Alignment, Font
    from openpyxl.worksheet.worksheet import Worksheet

_INK: Final = "FF111111"
_QUIET: Final = "FF4D4D4D"
_SHADE: Final = "FFE4E4E4"
_LIGHT: Final = "FFF0F0F0"
_RULE: Final = "FF969696"
#: Time stamp of all files in the workbook; the first that a ZIP file can hold.
#: Least width of a column of share 1 and width of a printed page, in digits; width of a digit [pt].
_WIDTH: Final = 7.6
_PAGE: Final = 140.0
_DIGIT: Final = 5.3
#: Widths of the columns of a page of words.
_WORDS: Final = (34.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0, 22.0)
#: Size of the lettering [pt].
_SIZE: Final = 10.0
_LETTERS: Final = 31
#: Numbers of the sizes of paper in a workbook.
_PAPERS: Final = {"A4": 9, "A3": 8, "Letter": 1}


def sheets_xlsx(sheets: tuple[Sheet, ...], style: PaperStyle = PLAIN_STYLE) -> bytes:
    """Write all sheets as one workbook.

    Parameters
    ----------
    sheets
        The sheets, all of one plan.
    style
        Wording and size of the paper.
    """
    from openpyxl import Workbook

    book = Workbook()
    for existing in book.worksheets:
        book.remove(existing)
    stamp = sheets[0].stamp
    book.properties.title = f"{stamp.part}, drawing {stamp.drawing}, revision {stamp.revision}"
    book.properties.creator = "sequencer"
    for sheet in sheets:
        _write_sheet(book, sheet, style)
    made = BytesIO()
    book.save(made)
    return timeless(made.getvalue(), {"xl/styles.xml": _usual_fonts})


def _usual_fonts(content: bytes) -> bytes:
    return re.sub(rb"<font>.*?</font>", _usual_font, content, count=1, flags=re.DOTALL)


def _usual_font(font: re.Match[bytes]) -> bytes:
    """Make the first font that of the cells: column widths count its digits."""
    plain = re.sub(rb"<scheme[^>]*/>", b"", font[0])
    return plain.replace(b'"Calibri"', b'"Arial"').replace(b'sz val="11"', b'sz val="10"')


def _write_sheet(book: Workbook, sheet: Sheet, style: PaperStyle) -> None:
    """Write the words of a sheet on one page, and each of its wide tables on a page of its own."""
    page = _page(book, sheet.title, sheet, style)
    row = _write_title(page, sheet, style.wording)
    for section in sheet.sections:
        row = _write_words(page, section, row, style.wording)
        for table in section.tables:
            if len(table.columns) <= 4:
                row = _write_table(page, table, row, _WORDS) + 1
    page.print_area = f"A1:H{max(row, 2)}"
    for letter, width in zip("ABCDEFGH", _WORDS, strict=True):
        page.column_dimensions[letter].width = width
    for name, columns, rows in _wide_tables(sheet, style.wording):
        _write_page(book, sheet, name, Table(name, columns, rows), style)


def _wide_tables(sheet: Sheet, wording: Wording) -> list[tuple[str, tuple[Column, ...], tuple[Row, ...]]]:
    """Wide tables; those with equal headings are joined, the heading of their section before each row."""
    joined: dict[tuple[Column, ...], list[tuple[Section, Table]]] = {}
    for section in sheet.sections:
        for table in section.tables:
            if len(table.columns) > 4:
                joined.setdefault(table.columns, []).append((section, table))
    found: list[tuple[str, tuple[Column, ...], tuple[Row, ...]]] = []
    for columns, listed in joined.items():
        if len(listed) == 1:
            section, table = listed[0]
            found.append((table.title or section.title, columns, table.rows))
            continue
        name = listed[0][1].title or wording.words("Steps")
        part = Column(wording.words("Part of the sheet"), share=2.4)
        rows = [_with_section(section.title, row) for section, table in listed for row in table.rows]
        found.append((name, (part, *columns), tuple(rows)))
    return found


def _with_section(title: str, row: Row) -> Row:
    return replace(row, cells=(title, *row.cells))


def _page(book: Workbook, title: str, sheet: Sheet, style: PaperStyle) -> Worksheet:
    from openpyxl.worksheet.properties import PageSetupProperties

    name = re.sub(r"[\[\]:*?/\\]", " ", title)[:_LETTERS].strip() or "Sheet"
    taken = {page.title.lower() for page in book.worksheets}
    number, wanted = 2, name
    while name.lower() in taken:
        name = f"{wanted[: _LETTERS - 3]} {number}"
        number += 1
    page: Worksheet = book.create_sheet(name)
    page.sheet_view.showGridLines = False
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = _PAPERS[style.paper]
    page.page_setup.fitToWidth = 1
    page.page_setup.fitToHeight = 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.page_margins.left = page.page_margins.right = 0.45
    stamp = sheet.stamp
    date = f", {stamp.date}" if stamp.date else ""
    header, footer = page.oddHeader, page.oddFooter
    if header is not None and footer is not None:
        header.left.text = _plain(f"{sheet.title}: {stamp.part}")
        drawing, revision, page_word, of = map(style.wording.words, ("Drawing", "revision", "Page", "of"))
        footer.left.text = _plain(f"{drawing} {stamp.drawing}, {revision} {stamp.revision}{date}")
        footer.right.text = f"{page_word} &P {of} &N"
    return page


def _plain(text: str) -> str:
    """An ampersand starts a code in a header; two of them print one."""
    return text.replace("&", "&&")


def _put(page: Worksheet, row: int, column: int, value: Cell, **style: Any) -> None:
    cell = page.cell(row, column)
    if isinstance(value, Amount):
        cell.number_format = _format(value.value, value.unit)
        cell.value = value.value
    elif isinstance(value, str):
        cell.value = value
        cell.data_type = "s"
    else:
        cell.value = value
    cell.font = _font(style.get("size", _SIZE), style.get("bold", False), style.get("color", _INK))
    cell.alignment = _alignment(style.get("wrap", False), style.get("right", False))


@cache
def _font(size: float, bold: bool, color: str) -> Font:
    """One object for all cells that look the same: making them takes most of the time."""
    from openpyxl.styles import Font

    return Font(name="Arial", size=size, bold=bold, color=color)


@cache
def _alignment(wrap: bool, right: bool) -> Alignment:
    from openpyxl.styles import Alignment

    return Alignment(
        vertical="top",
        wrap_text=wrap,
        horizontal="right" if right else None,
        indent=1 if right else 0,
    )


def _format(value: float, unit: str) -> str:
    count = places(value, unit)
    if unit in ("", "mm", "in"):
        return "General"
    return "0" if count == 0 else f"0.{'0' * count}"


def _write_title(page: Worksheet, sheet: Sheet, wording: Wording) -> int:
    _put(page, 1, 1, f"{sheet.title}: {sheet.stamp.part}", size=16, bold=True)
    return _write_entries(page, sheet.entries, 3, wording) + 1


def _write_entries(page: Worksheet, entries: tuple[Entry, ...], row: int, wording: Wording) -> int:
    mark = f" ({wording.words('estimate')})"
    for entry in entries:
        _put(page, row, 1, entry.name, color=_QUIET)
        _put(page, row, 2, entry.words + mark if entry.estimate else entry.words)
        row += 1
    return row


def _write_words(page: Worksheet, section: Section, row: int, wording: Wording) -> int:
    warning = wording.words("Caution").upper()
    narrow = any(len(table.columns) <= 4 for table in section.tables)
    if not (section.entries or section.contents or section.cautions or section.paragraphs or narrow):
        return row
    if section.title:
        _put(page, row, 1, section.title, size=12, bold=True)
        row += 1
    row = _write_entries(page, section.entries, row, wording)
    for entry in section.contents:
        _put(page, row, 1, entry.name, bold=True)
        _put(page, row, 2, entry.words)
        row += 1
    lines = [*section.paragraphs, *(f"{warning}: {caution}" for caution in section.cautions)]
    for line in lines:
        page.merge_cells(start_row=row, start_column=1, end_row=row, end_column=8)
        _put(page, row, 1, line, wrap=True, bold=line.startswith(f"{warning}: "))
        page.row_dimensions[row].height = _height(line, sum(_WORDS))
        row += 1
    return row + 1


def _write_page(book: Workbook, sheet: Sheet, title: str, table: Table, style: PaperStyle) -> None:
    from openpyxl.utils import get_column_letter

    page = _page(book, f"{_short(sheet.title)} {title}".strip().capitalize(), sheet, style)
    unit = max(_WIDTH, _PAGE / sum(each.share for each in table.columns))
    widths = tuple(max(unit * each.share, len(each.heading) * 0.55 + 5) for each in table.columns)
    end = _write_table(page, Table("", table.columns, table.rows), 1, widths)
    last = get_column_letter(len(table.columns))
    page.freeze_panes = "A2"
    page.print_title_rows = "1:1"
    page.print_area = f"A1:{last}{max(end - 1, 1)}"
    page.auto_filter.ref = f"A1:{last}{max(end - 1, 1)}"
    for index, width in enumerate(widths, start=1):
        page.column_dimensions[get_column_letter(index)].width = round(width, 1)


def _short(title: str) -> str:
    return title.split(" ")[0]


def _height(words: str, width: float) -> float:
    """Height of a row that shows all lines of a text [pt]."""
    lines = wrapped(words, _SIZE, width * _DIGIT - 6.0)
    return 13.0 * max(len(lines), 1) + 2.0


def _write_table(page: Worksheet, table: Table, row: int, widths: tuple[float, ...]) -> int:
    from openpyxl.styles import Border, PatternFill, Side

    if table.title:
        _put(page, row, 1, table.title, bold=True)
        row += 1
    line = Border(bottom=Side(style="thin", color=_RULE))
    for index, column in enumerate(table.columns, start=1):
        _put(page, row, index, column.heading, bold=True, wrap=True, right=column.number)
        page.cell(row, index).fill = PatternFill("solid", fgColor=_SHADE)
        page.cell(row, index).border = line
    page.row_dimensions[row].height = max(map(_height, (each.heading for each in table.columns), widths))
    for each in table.rows:
        row += 1
        for index, (column, cell) in enumerate(zip(table.columns, each.cells, strict=True), start=1):
            bold = each.strong or (column.bold and not column.under)
            _put(page, row, index, cell, bold=bold, wrap=True, right=column.number)
            target = page.cell(row, index)
            if isinstance(cell, float):
                target.number_format = _format(cell, column.unit)
            target.border = line
            if each.strong or each.shaded:
                target.fill = PatternFill("solid", fgColor=_LIGHT)
        words = [column.words(cell) for column, cell in zip(table.columns, each.cells, strict=True)]
        page.row_dimensions[row].height = max(map(_height, words, widths))
    return row + 1
