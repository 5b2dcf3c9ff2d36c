"""Sheets as one HTML page: no network, readable without its script, for screen readers and printers."""

from __future__ import annotations

from html import escape
from importlib import resources
from typing import Final

from sequencer.language import Wording
from sequencer.papers.model import PLAIN_STYLE, Entry, Figure, PaperStyle, Row, Section, Sheet, Table


def sheets_html(sheets: tuple[Sheet, ...], style: PaperStyle = PLAIN_STYLE) -> str:
    """Write all sheets as one page.

    Parameters
    ----------
    sheets
        The sheets, all of one plan.
    style
        Wording and size of the paper.
    """
    wording = style.wording
    stamp = sheets[0].stamp
    look = resources.files("sequencer.papers").joinpath("page.css").read_text(encoding="utf-8")
    script = resources.files("sequencer.papers").joinpath("page.js").read_text(encoding="utf-8")
    drawing, revision = wording.words("drawing"), wording.words("revision")
    title = f"{stamp.part}, {drawing} {stamp.drawing}, {revision} {stamp.revision}"
    links = "".join(
        f'<li><a href="#{_anchor(sheet.title)}">{escape(sheet.title)}</a></li>' for sheet in sheets
    )
    date = f", {wording.words('plan of')} {stamp.date}" if stamp.date else ""
    return "\n".join(
        (
            "<!DOCTYPE html>",
            f'<html lang="{wording.language}">',
            "<head>",
            '<meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"<title>{escape(title)}</title>",
            f"<style>\n{look.replace('A4', style.paper)}</style>",
            "</head>",
            "<body>",
            f"<header><p>{escape(title + date)}</p></header>",
            f'<nav aria-label="{escape(wording.words("Sheets"))}"><ul>{links}</ul></nav>',
            _finder(wording),
            "<main>",
            *(_sheet(sheet, wording) for sheet in sheets),
            "</main>",
            f"<footer><p>{escape(wording.words('Drawing'))} {escape(stamp.drawing)}, {escape(revision)} "
            f"{escape(stamp.revision)}{escape(date)}</p></footer>",
            f"<script>\n{script}</script>",
            "</body>",
            "</html>",
            "",
        )
    )


def _finder(wording: Wording) -> str:
    """Search box; it shows when the script runs."""
    return (
        f'<p id="finder" role="search" hidden><label>{escape(wording.words("Search in all rows"))} '
        '<input id="search" type="search" autocomplete="off"></label>'
        '<span id="found" role="status" aria-live="polite"></span></p>'
    )


def _anchor(title: str) -> str:
    return "".join(letter if letter.isalnum() else "-" for letter in title.lower())


def _sheet(sheet: Sheet, wording: Wording) -> str:
    place = _anchor(sheet.title)
    return "\n".join(
        (
            f'<article id="{place}" aria-labelledby="{place}-title">',
            f'<h1 id="{place}-title">{escape(sheet.title)}</h1>',
            _entries(sheet.entries, wording),
            *(_section(section, wording) for section in sheet.sections),
            "</article>",
        )
    )


def _entries(entries: tuple[Entry, ...], wording: Wording) -> str:
    if not entries:
        return ""
    estimate = f" <small>({escape(wording.words('estimate'))})</small>"
    pairs = "".join(
        f"<div{_CHANGED if entry.changed else ''}><dt>{escape(entry.name)}</dt><dd>{escape(entry.words)}"
        f"{estimate if entry.estimate else ''}</dd></div>"
        for entry in entries
    )
    return f"<dl>{pairs}</dl>"


#: Class of what another plan has otherwise.
_CHANGED: Final = ' class="changed"'


def _section(section: Section, wording: Wording) -> str:
    parts = ["<section>"]
    if section.title:
        parts.append(f"<h2>{escape(section.title)}</h2>")
    parts.append(_entries(section.entries, wording))
    if section.contents:
        lines = "".join(
            f'<li><a href="#{_anchor(each.name)}">{escape(each.name)}</a> {escape(each.words)}</li>'
            for each in section.contents
        )
        parts.append(f"<ol>{lines}</ol>")
    parts += [f"<p>{escape(words)}</p>" for words in section.paragraphs]
    if section.cautions:
        cautions = "".join(f"<li>{escape(words)}</li>" for words in section.cautions)
        title = escape(wording.words("Caution"))
        parts.append(f'<div class="caution" role="note"><strong>{title}</strong><ul>{cautions}</ul></div>')
    parts += [_table(table, section.title) for table in section.tables]
    parts += [_figure(figure) for figure in section.figures]
    return "\n".join((*(part for part in parts if part), "</section>"))


def _table(table: Table, section: str) -> str:
    heads = "".join(_head(table, group) for group in table.groups)
    total = sum(table.columns[group[0]].share for group in table.groups)
    widths = "".join(
        f'<col style="width:{table.columns[group[0]].share / total:.1%}">' for group in table.groups
    )
    rows = "\n".join(_row(table, row) for row in table.rows)
    caption = (
        f"<caption>{escape(table.title)}</caption>"
        if table.title
        else f'<caption class="unseen">{escape(section)}</caption>'
    )
    note = f'<p class="note">{escape(table.note)}</p>' if table.note else ""
    kind = "wide narrow" if len(table.groups) <= 4 else "wide"
    return (
        f'<div class="{kind}" tabindex="0"><table>{caption}<colgroup>{widths}</colgroup>'
        f"<thead><tr>{heads}</tr></thead>\n<tbody>\n{rows}\n</tbody></table></div>{note}"
    )


def _head(table: Table, group: tuple[int, ...]) -> str:
    column = table.columns[group[0]]
    unit = f" <span>[{escape(column.unit)}]</span>" if column.unit else ""
    under = "".join(f" <span>{escape(table.columns[index].name)}</span>" for index in group[1:])
    return f'<th scope="col"{_number(column.number)}>{escape(column.name)}{unit}{under}</th>'


def _number(number: bool) -> str:
    return ' class="number"' if number else ""


def _row(table: Table, row: Row) -> str:
    cells = []
    for place, group in enumerate(table.groups):
        column = table.columns[group[0]]
        lines = table.lines(row, group)
        words = escape(lines[0])
        if column.bold and words:
            words = f"<b>{words}</b>"
        words += "".join(f" <span>{escape(line)}</span>" for line in lines[1:])
        tag = ("th", ' scope="row"') if place == 0 else ("td", "")
        cells.append(f"<{tag[0]}{tag[1]}{_number(column.number)}>{words}</{tag[0]}>")
    kinds = ["strong"] if row.strong else ["shaded"] if row.shaded else []
    kinds += ["changed"] if row.changed else []
    kind = f' class="{" ".join(kinds)}"' if kinds else ""
    keys = f' data-keys="{escape(" ".join(row.keys))}"' if row.keys else ""
    return f"<tr{kind}{keys}>{''.join(cells)}</tr>"


def _figure(figure: Figure) -> str:
    start = figure.svg.index("<svg")
    picture = figure.svg[start:]
    return (
        f'<figure role="img" aria-label="{escape(figure.words)}">'
        f'<div class="wide" tabindex="0">{picture}</div>'
        f"<figcaption>{escape(figure.title)}</figcaption></figure>"
    )
