"""Sheets and pictures as PDF, set with the fonts of this package; the same input gives the same bytes."""

from __future__ import annotations

import json
from importlib import resources
from pathlib import Path
from typing import Any, Final, Literal

from sequencer.errors import SequencerError
from sequencer.papers.model import PLAIN_STYLE, PaperStyle, Section, Sheet, Table

#: Words that the pages themselves bring.
_WORDS: Final = {
    "estimate": "estimate",
    "caution": "Caution",
    "drawing": "Drawing",
    "revision": "revision",
    "plan_of": "plan of",
    "page": "Page",
    "of": "of",
    "reduced": "Printed reduced: measure by the bar.",
}
_PAPERS: Final = {"A4": "a4", "A3": "a3", "Letter": "us-letter"}


def sheets_pdf(sheets: tuple[Sheet, ...], style: PaperStyle = PLAIN_STYLE) -> bytes:
    """Set all sheets as one PDF.

    Parameters
    ----------
    sheets
        The sheets, all of one plan.
    style
        Wording and size of the paper.
    """
    stamp = sheets[0].stamp
    book = {
        "title": f"{stamp.drawing} {stamp.part}: {', '.join(sheet.title.lower() for sheet in sheets)}",
        "stamp": {
            "part": stamp.part,
            "drawing": stamp.drawing,
            "revision": stamp.revision,
            "date": stamp.date,
        },
        "language": style.wording.language,
        "paper": _PAPERS[style.paper],
        "words": {name: style.wording.words(words) for name, words in _WORDS.items()},
        "sheets": [_sheet(sheet) for sheet in sheets],
    }
    return _compile("sheets.typ", {"book": json.dumps(book, ensure_ascii=False)})


def picture_pdf(svg: str, title: str) -> bytes:
    """Set one picture as a PDF page of its own size.

    Parameters
    ----------
    svg
        The picture.
    title
        What it shows.
    """
    return _compile("picture.typ", {"svg": svg, "title": title})


def picture_png(svg: str) -> bytes:
    """Draw one picture as PNG, 200 points to the inch.

    Parameters
    ----------
    svg
        The picture.
    """
    return _compile("picture.typ", {"svg": svg, "title": ""}, "png")


def _compile(template: str, inputs: dict[str, str], form: Literal["pdf", "png"] = "pdf") -> bytes:
    import typst

    folder = resources.files("sequencer.papers")
    with resources.as_file(folder) as place:
        path = Path(place)
        try:
            made = typst.compile(
                path / template,
                root=path,
                font_paths=[path / "fonts"],
                ignore_system_fonts=True,
                sys_inputs=inputs,
                format=form,
                ppi=200,
                timestamp=0,
            )
        except typst.TypstError as error:
            raise SequencerError(
                f"the page could not be set: {error.message}",
                where=template,
                remedy="report it with the part file; the XLSX, HTML and JSON papers do not need this step",
            ) from error
    return bytes(made)


def _sheet(sheet: Sheet) -> dict[str, Any]:
    return {
        "title": sheet.title,
        "entries": [vars(entry) for entry in sheet.entries],
        "sections": [_section(section) for section in sheet.sections],
    }


def _section(section: Section) -> dict[str, Any]:
    narrow = all(len(table.columns) <= 4 for table in section.tables)
    return {
        "title": section.title,
        "entries": [vars(entry) for entry in section.entries],
        "cautions": list(section.cautions),
        "paragraphs": list(section.paragraphs),
        "tables": [_table(table) for table in section.tables],
        "figures": [vars(figure) for figure in section.figures],
        "contents": [vars(entry) for entry in section.contents],
        "new_page": section.new_page,
        "beside": section.beside,
        "side_by_side": len(section.tables) > 1 and narrow,
    }


def _table(table: Table) -> dict[str, Any]:
    """Columns that stand under another become further lines of it."""
    columns = []
    for group in table.groups:
        main = table.columns[group[0]]
        columns.append(
            {
                "heading": [table.columns[index].name for index in group],
                "number": main.number,
                "share": main.share,
                "bold": main.bold,
                "unit": f"[{main.unit}]" if main.unit else "",
            }
        )
    rows = [
        {
            "cells": [list(table.lines(row, group)) for group in table.groups],
            "strong": row.strong,
            "shaded": row.shaded,
            "changed": row.changed,
        }
        for row in table.rows
    ]
    return {
        "title": table.title,
        "note": table.note,
        "slim": table.slim,
        "columns": columns,
        "rows": rows,
    }
