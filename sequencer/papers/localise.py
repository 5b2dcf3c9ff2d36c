"""Writes a sheet as the shop wants it: language, decimal sign, unit of length; names stay as they are."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from sequencer.language import Wording, read_catalogue
from sequencer.papers.model import Cell, Column, Entry, Figure, PaperStyle, Row, Section, Sheet, Table

if TYPE_CHECKING:
    from sequencer.plan import Plan


def style_of(plan: Plan) -> PaperStyle:
    """Give the style of the sheets of a plan, as its shop wants them.

    Parameters
    ----------
    plan
        The plan, whose names stay as they are.
    """
    wanted = plan.shop.sheets
    catalogue = read_catalogue(wanted.language)
    wording = Wording(wanted.language, catalogue, wanted.decimal == "comma", sheet_units(plan) == "in")
    return PaperStyle(wording.keeping(_names(plan)), wanted.paper)


def sheet_units(plan: Plan) -> str:
    """Give the unit of length of the sheets, mm or in.

    Parameters
    ----------
    plan
        The plan.
    """
    wanted = plan.shop.sheets.units
    return plan.part.units if wanted == "as the part" else wanted


def _names(plan: Plan) -> set[str]:
    """Names given by the planner and the shop."""
    part, shop = plan.part, plan.shop
    names = {part.name, part.drawing, part.revision, part.author, part.material, part.condition}
    names |= {shop.name, shop.machine.name, *(means.name for means in shop.clamping_means)}
    names |= {words for feature in part.features for words in (feature.name, feature.shown, feature.note)}
    names |= {clamping.name for clamping in plan.operations.clampings}
    names |= {words for tool in shop.tools for words in (tool.name, tool.title, f"{tool.name} {tool.title}")}
    names |= {operation.name for operation in plan.operations.operations}
    return names - {""}


def localised(sheet: Sheet, wording: Wording) -> Sheet:
    """Write a sheet in another wording.

    Parameters
    ----------
    sheet
        The sheet in English.
    wording
        How words and numbers are written.
    """
    return replace(
        sheet,
        title=wording.words(sheet.title),
        entries=tuple(_entry(entry, wording) for entry in sheet.entries),
        sections=tuple(_section(section, wording) for section in sheet.sections),
    )


def _entry(entry: Entry, wording: Wording) -> Entry:
    return replace(entry, name=wording.words(entry.name), words=wording.words(entry.words))


def _section(section: Section, wording: Wording) -> Section:
    return replace(
        section,
        title=wording.words(section.title),
        entries=tuple(_entry(entry, wording) for entry in section.entries),
        contents=tuple(_entry(entry, wording) for entry in section.contents),
        cautions=tuple(wording.words(words) for words in section.cautions),
        paragraphs=tuple(wording.words(words) for words in section.paragraphs),
        tables=tuple(_table(table, wording) for table in section.tables),
        figures=tuple(_figure(figure, wording) for figure in section.figures),
    )


def _table(table: Table, wording: Wording) -> Table:
    return replace(
        table,
        title=wording.words(table.title),
        note=wording.words(table.note),
        columns=tuple(_column(column, wording) for column in table.columns),
        rows=tuple(_row(row, wording) for row in table.rows),
    )


def _column(column: Column, wording: Wording) -> Column:
    return replace(column, name=wording.words(column.name), comma=wording.comma)


def _row(row: Row, wording: Wording) -> Row:
    return replace(row, cells=tuple(_cell(cell, wording) for cell in row.cells))


def _cell(cell: Cell, wording: Wording) -> Cell:
    return wording.words(cell) if isinstance(cell, str) else cell


def _figure(figure: Figure, wording: Wording) -> Figure:
    return replace(figure, title=wording.words(figure.title), words=wording.words(figure.words))
