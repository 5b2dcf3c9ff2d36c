"""Marks on the sheets of a plan what differs from another plan: changed rows, and rows that are gone."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Final

from sequencer.papers.model import Column, Entry, Row, Section, Sheet, Table

#: Columns that number or add up: they move with every step put in, so they change no row by themselves.
_MOVING: Final = frozenset(
    {
        "Step",
        "Steps",
        "Sum",
        "No.",
        "Before step",
        "Characteristics",
        "Relations",
        "Why not earlier",
        "Stands before steps",
        "Change",
    }
)


def marked_sheets(before: tuple[Sheet, ...], after: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    """Give the sheets on which something is changed, changed rows marked and rows that are gone listed.

    Parameters
    ----------
    before
        Sheets of the plan that is compared with.
    after
        Sheets of the plan that is told about.
    """
    old = {sheet.title: sheet for sheet in before}
    found = []
    for sheet in after:
        marked = _sheet(old.get(sheet.title), sheet)
        if marked is not None:
            found.append(marked)
    return tuple(found)


def _sheet(old: Sheet | None, new: Sheet) -> Sheet | None:
    rows, entries = _rows_of(old), _entries_of(old)
    sections = tuple(_section(each, rows, entries) for each in new.sections)
    changed = any(row.changed for each in sections for table in each.tables for row in table.rows)
    known = _rows_of(new)
    gone = tuple(
        Row((title, words)) for title, listed in rows.items() for words in _missing(listed, known, title)
    )
    heads = tuple(_entry(entry, entries) for entry in new.entries)
    told = any(entry.changed for entry in (*heads, *(e for s in sections for e in s.entries)))
    if not (changed or gone or told):
        return None
    if gone:
        columns = (Column("Table", share=1.6), Column("Row as it was", share=8.0))
        sections = (*sections, Section("No longer there, or changed", tables=(Table("", columns, gone),)))
    return replace(new, entries=heads, sections=sections)


def _missing(listed: Counter[str], known: dict[str, Counter[str]], title: str) -> list[str]:
    return list((listed - known.get(title, Counter())).elements())


def _entries_of(sheet: Sheet | None) -> set[tuple[str, str]]:
    if sheet is None:
        return set()
    entries = (*sheet.entries, *(entry for each in sheet.sections for entry in each.entries))
    return {(entry.name, entry.words) for entry in entries}


def _rows_of(sheet: Sheet | None) -> dict[str, Counter[str]]:
    found: dict[str, Counter[str]] = {}
    for section in sheet.sections if sheet is not None else ():
        for table in section.tables:
            listed = found.setdefault(_title(section, table), Counter())
            listed.update(_words(table, row) for row in table.rows)
    return found


def _title(section: Section, table: Table) -> str:
    return ": ".join(dict.fromkeys(words for words in (section.title, table.title) if words))


def _words(table: Table, row: Row) -> str:
    words = (
        column.words(cell)
        for column, cell in zip(table.columns, row.cells, strict=True)
        if column.name not in _MOVING
    )
    return " | ".join(each for each in words if each)


def _section(section: Section, old: dict[str, Counter[str]], entries: set[tuple[str, str]]) -> Section:
    tables = tuple(_table(section, table, old) for table in section.tables)
    heads = tuple(_entry(entry, entries) for entry in section.entries)
    return replace(section, tables=tables, entries=heads)


def _entry(entry: Entry, old: set[tuple[str, str]]) -> Entry:
    return entry if (entry.name, entry.words) in old else replace(entry, changed=True)


def _table(section: Section, table: Table, old: dict[str, Counter[str]]) -> Table:
    left = Counter(old.get(_title(section, table), Counter()))
    rows = []
    for row in table.rows:
        words = _words(table, row)
        same = left[words] > 0
        left[words] -= 1
        rows.append(row if same else replace(row, changed=True))
    return replace(table, rows=tuple(rows))
