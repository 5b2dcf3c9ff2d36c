"""Tables of text from CSV files and workbooks, with the place of each cell, and back."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from sequencer.errors import BadFile
from sequencer.files.source import LARGEST_FILE, read_text, refuse
from sequencer.files.timeless import timeless
from sequencer.files.tool_lists.column_map import ColumnMap

_DELIMITERS: Final = {"tab": "\t"}


@dataclass(frozen=True)
class Table:
    """Rows of a tool list.

    Parameters
    ----------
    name
        What messages call the list.
    heads
        Heads of the columns, empty ones included.
    rows
        Number of each row in the file, and its cells as text.
    """

    name: str
    heads: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]


def read_table(path: Path, mapping: ColumnMap) -> Table:
    """Read a CSV file or a workbook.

    Parameters
    ----------
    path
        The file; a workbook ends in .xlsx.
    mapping
        Delimiter, sheet and row of the heads.

    Raises
    ------
    BadFile
        When it cannot be read, has no heads, or one head twice.
    """
    listed = _workbook(path, mapping) if path.suffix.lower() == ".xlsx" else _csv(path, mapping)
    if len(listed) < mapping.head_row:
        raise refuse(str(path), f"it has no row {mapping.head_row} with heads", "", "correct head_row")
    heads = tuple(listed[mapping.head_row - 1][1])
    if not any(heads):
        where = f"{path}: row {listed[mapping.head_row - 1][0]}"
        raise refuse(where, "there are no heads of columns", "", "correct head_row in the column map")
    faults: list[BadFile] = []
    for at, head in enumerate(heads):
        if head and head in heads[:at]:
            where = f"{path}: row {listed[mapping.head_row - 1][0]}, column {at + 1}"
            faults.append(refuse(where, f"head {head!r} stands twice", "", "rename one of the two"))
    if faults:
        raise BadFile(tuple(fault for each in faults for fault in each.faults))
    rows = [
        (number, tuple(cells)) for number, cells in listed[mapping.head_row :] if any(each for each in cells)
    ]
    return Table(str(path), heads, tuple(rows))


def _csv(path: Path, mapping: ColumnMap) -> list[tuple[int, list[str]]]:
    text = read_text(path)
    delimiter = _DELIMITERS.get(mapping.delimiter, mapping.delimiter)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    listed: list[tuple[int, list[str]]] = []
    begun = 1
    try:
        for cells in reader:
            listed.append((begun, [cell.strip() for cell in cells]))
            begun = reader.line_num + 1
    except csv.Error as error:
        raise refuse(f"{path}: row {begun}", f"this is no CSV: {error}", "", "check the quotes") from None
    return listed


def _workbook(path: Path, mapping: ColumnMap) -> list[tuple[int, list[str]]]:
    from openpyxl import load_workbook

    if not path.is_file():
        raise refuse(str(path), "it cannot be read: there is no such file", "", "check the name")
    if path.stat().st_size > LARGEST_FILE * 10:
        raise refuse(str(path), "it is too large for a tool list", f"{LARGEST_FILE / 1e5:g} MB", "check it")
    try:
        content = path.read_bytes()
        book = load_workbook(io.BytesIO(content), data_only=True)
        formulas = load_workbook(io.BytesIO(content))
    except Exception as error:
        what = f"this is no workbook: {type(error).__name__}"
        raise refuse(str(path), what, "XLSX", "save it as .xlsx, or as .csv") from None
    if mapping.sheet is not None and mapping.sheet not in book.sheetnames:
        limit = f"sheets: {', '.join(book.sheetnames)}"
        raise refuse(
            str(path), f"there is no sheet {mapping.sheet!r}", limit, "correct sheet in the column map"
        )
    page = book[mapping.sheet] if mapping.sheet is not None else book.worksheets[0]
    pairs = zip(
        page.iter_rows(values_only=True), formulas[page.title].iter_rows(values_only=True), strict=True
    )
    return [(number, _cells(*pair)) for number, pair in enumerate(pairs, start=1)]


def _cells(values: Sequence[Any], formulas: Sequence[Any]) -> list[str]:
    """Take the text of a formula that no spreadsheet has worked out, so that it is refused, not left out."""
    return [
        _cell(formula if value is None else value) for value, formula in zip(values, formulas, strict=True)
    ]


def _cell(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value).strip()


def table_bytes(path: Path, rows: Sequence[Sequence[str]], delimiter: str = ",") -> bytes:
    """Write rows of text as CSV, or as a workbook if the name ends in .xlsx.

    Parameters
    ----------
    path
        Name of the file that is to be written.
    rows
        Rows of text, the heads first.
    delimiter
        What stands between two values of a CSV file.
    """
    if path.suffix.lower() == ".xlsx":
        return _workbook_bytes(rows)
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=delimiter, lineterminator="\n").writerows(rows)
    return text.getvalue().encode("utf-8")


def _workbook_bytes(rows: Sequence[Sequence[str]]) -> bytes:
    from openpyxl import Workbook

    book = Workbook()
    page = book.worksheets[0]
    page.title = "Tools"
    for at, row in enumerate(rows, start=1):
        for column, value in enumerate(row, start=1):
            cell = page.cell(at, column)
            cell.value = value
            cell.data_type = "s"
    page.freeze_panes = "B2"
    content = io.BytesIO()
    book.save(content)
    return timeless(content.getvalue())
