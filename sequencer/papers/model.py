"""One neutral model of all sheets: what stands on them, before any renderer."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sequencer.language import PLAIN, Wording
from sequencer.pictures.rounding import number_words


@dataclass(frozen=True)
class Amount:
    """A number in a column of mixed units; the row says which unit.

    Parameters
    ----------
    value
        The number.
    unit
        Its unit, for rounding.
    """

    value: float
    unit: str


#: What a cell holds: words, a number that the column's unit explains, or nothing.
Cell = str | float | int | Amount | None


@dataclass(frozen=True)
class Entry:
    """A line of a header: what it is and its words.

    Parameters
    ----------
    name
        What it is.
    words
        Its value, with the unit.
    estimate
        True if the planner did not give it and it was assumed.
    changed
        True if another plan, compared with this one, has it otherwise.
    """

    name: str
    words: str
    estimate: bool = False
    changed: bool = False


@dataclass(frozen=True)
class Column:
    """A column of a table.

    Parameters
    ----------
    name
        Heading.
    unit
        Unit of its numbers; it stands in the heading, never in the cells.
    number
        True if it holds numbers.
    share
        Width on paper, relative to the other columns.
    under
        True if it is printed under the column before it where paper is narrow.
    bold
        True if it is what the eye looks for first.
    comma
        True if its numbers have a decimal comma.
    """

    name: str
    unit: str = ""
    number: bool = False
    share: float = 1.0
    under: bool = False
    bold: bool = False
    comma: bool = False

    @property
    def heading(self) -> str:
        """Heading with the unit."""
        return f"{self.name} [{self.unit}]" if self.unit else self.name

    def words(self, cell: Cell) -> str:
        """Write a cell as it is printed.

        Parameters
        ----------
        cell
            What the cell holds.
        """
        if cell is None:
            return ""
        if isinstance(cell, str):
            return cell
        number = cell if isinstance(cell, Amount) else Amount(cell, self.unit)
        words = number_words(number.value, number.unit)
        return words.replace(".", ",") if self.comma else words


@dataclass(frozen=True)
class Row:
    """A row of a table.

    Parameters
    ----------
    cells
        One cell a column.
    strong
        True for totals and errors: shaded and bold.
    shaded
        True for what was chosen: shaded.
    keys
        What it is about, as pictures name it: `step_key` and `feature_key`.
    changed
        True if another plan, compared with this one, has it otherwise or not at all.
    """

    cells: tuple[Cell, ...]
    strong: bool = False
    shaded: bool = False
    keys: tuple[str, ...] = ()
    changed: bool = False


@dataclass(frozen=True)
class Table:
    """A table whose heading is repeated on each page.

    Parameters
    ----------
    title
        What it shows.
    columns, rows
        Headings and contents.
    note
        A line under it; empty if none.
    slim
        True if two of it have room beside each other on paper.
    """

    title: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    note: str = ""
    slim: bool = False

    @property
    def groups(self) -> tuple[tuple[int, ...], ...]:
        """Places of the columns that stand in one column on paper: the first, then those under it."""
        groups: list[list[int]] = []
        for index, column in enumerate(self.columns):
            if column.under and groups:
                groups[-1].append(index)
            else:
                groups.append([index])
        return tuple(tuple(group) for group in groups)

    def lines(self, row: Row, group: tuple[int, ...]) -> tuple[str, ...]:
        """Give the lines of one cell on paper; empty ones are left out.

        Parameters
        ----------
        row
            A row of the table.
        group
            One of `groups`.
        """
        words = (self.columns[index].words(row.cells[index]) for index in group)
        return tuple(line for line in words if line) or ("",)


@dataclass(frozen=True)
class Figure:
    """A picture.

    Parameters
    ----------
    title
        What it shows.
    svg
        The picture.
    words
        What it shows, for someone who cannot see it.
    scaled
        True if it has a bar of length by which it is measured.
    """

    title: str
    svg: str
    words: str
    scaled: bool = False


@dataclass(frozen=True)
class Section:
    """A part of a sheet under one heading.

    Parameters
    ----------
    title
        Heading; empty for none.
    entries
        Lines of its header.
    cautions
        What can hurt people or the part.
    paragraphs
        Sentences.
    tables, figures
        Tables and pictures.
    contents
        Titles of the sheets that follow, each with what it is for.
    new_page
        True if it begins on a page of its own.
    beside
        True if its picture stands on the left and its cautions and tables on the right, where paper is wide.
    """

    title: str
    entries: tuple[Entry, ...] = ()
    cautions: tuple[str, ...] = ()
    paragraphs: tuple[str, ...] = ()
    tables: tuple[Table, ...] = ()
    figures: tuple[Figure, ...] = ()
    contents: tuple[Entry, ...] = ()
    new_page: bool = False
    beside: bool = False


@dataclass(frozen=True)
class PaperStyle:
    """How sheets are printed.

    Parameters
    ----------
    wording
        Language, decimal sign and unit of length.
    paper
        Size of the paper: A4, A3 or Letter.
    """

    wording: Wording = PLAIN
    paper: str = "A4"


#: English on A4.
PLAIN_STYLE: Final = PaperStyle()


@dataclass(frozen=True)
class Stamp:
    """What stands on every page.

    Parameters
    ----------
    part, drawing, revision
        Name, drawing number and revision of the part.
    date
        Date of the order as the planner gave it; empty if not given.
    """

    part: str
    drawing: str
    revision: str
    date: str


@dataclass(frozen=True)
class Sheet:
    """One sheet.

    Parameters
    ----------
    title
        What it is, such as "Route sheet".
    stamp
        What stands on every page.
    entries
        Lines of its header.
    sections
        Its parts.
    """

    title: str
    stamp: Stamp
    entries: tuple[Entry, ...]
    sections: tuple[Section, ...]
