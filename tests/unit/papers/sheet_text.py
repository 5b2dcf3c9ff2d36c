"""Sheets as plain text, to compare them with the stored ones."""

from __future__ import annotations

from sequencer.papers.model import Entry, Section, Sheet, Table


def sheet_text(sheet: Sheet) -> str:
    """Write a sheet as text, one line an entry, a caution, a sentence or a row."""
    stamp = sheet.stamp
    lines = [f"# {sheet.title}", f"{stamp.part} | {stamp.drawing} | {stamp.revision} | {stamp.date}"]
    lines += _entries(sheet.entries)
    for section in sheet.sections:
        lines += ["", f"## {section.title}", *_section(section)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _entries(entries: tuple[Entry, ...]) -> list[str]:
    return [f"{each.name}: {each.words}{' (estimate)' if each.estimate else ''}" for each in entries]


def _section(section: Section) -> list[str]:
    lines = ["(new page)"] if section.new_page else []
    lines += _entries(section.entries)
    lines += [f"! {words}" for words in section.cautions]
    lines += section.paragraphs
    for table in section.tables:
        lines += _table(table)
    return lines + [f"[picture: {figure.title}: {figure.words}]" for figure in section.figures]


def _table(table: Table) -> list[str]:
    lines = [f"### {table.title}", " | ".join(column.heading for column in table.columns)]
    for row in table.rows:
        words = [column.words(cell) for column, cell in zip(table.columns, row.cells, strict=True)]
        lines.append(("= " if row.strong else "> " if row.shaded else "") + " | ".join(words))
    return [*lines, table.note] if table.note else lines
