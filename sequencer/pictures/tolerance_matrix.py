"""Tolerances against clampings: where the surfaces of each relation are made, and what is used up."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.drawing import HEAD, SMALL, Canvas, box, line, paper, write
from sequencer.pictures.keys import feature_key
from sequencer.pictures.lettering import text_width, wrapped
from sequencer.tolerancing import Verdict

if TYPE_CHECKING:
    from sequencer.ledger import ChainLink, LedgerEntry
    from sequencer.plan import Plan

MARGIN: Final = 4.0
NAMES: Final = 66.0
BARS: Final = 68.0
COLUMN: Final = 26.0
NARROW: Final = 9.0
TOP: Final = 20.0
LINE: Final = 3.2
#: Length of a bar that uses the whole allowance, and longest bar [mm].
WHOLE: Final = 24.0
_MOST: Final = 1.2
_MARK: Final = 2.2
_LEGEND: Final = (
    ("toleranced", "toleranced surface"),
    ("datum", "its datum"),
    ("other", "shows or carries it on the way"),
)


@dataclass(frozen=True)
class Column:
    """A clamping visit, the bench, or raw skin.

    Parameters
    ----------
    heading
        Words over it.
    clamping
        Name of the clamping; empty for raw skin.
    visit
        Number of the visit; 0 on the bench and for raw skin.
    """

    heading: str
    clamping: str
    visit: int


def columns_of(plan: Plan) -> tuple[Column, ...]:
    """Give the columns of the matrix: visits in order, bench and raw skin where something is made there.

    Parameters
    ----------
    plan
        The plan.
    """
    links = [link for entry in plan.ledger.entries for link in entry.chain]
    made = {(link.clamping, link.visit) for link in links if link.operation}
    visits = [Column(f"{name}, visit {steps[0].visit}", name, steps[0].visit)
              for name, steps in plan.sequence.visits if steps[0].visit]  # fmt: skip
    found = dict.fromkeys(visits)
    beside = sorted({clamping for clamping, visit in made if not visit})
    found |= dict.fromkeys(Column(name, name, 0) for name in beside)
    if any(not link.operation for link in links):
        found[Column("blank", "", 0)] = None
    return tuple(found)


def tolerance_matrix(plan: Plan) -> str:
    """Draw the matrix of a plan: a row for each toleranced relation, a column for each clamping visit.

    Parameters
    ----------
    plan
        The plan.
    """
    return _matrix(plan, plan.ledger.entries, "matrix")


def tolerance_matrices(plan: Plan, height: float) -> tuple[str, ...]:
    """Draw the matrix in pieces that are no higher than a page.

    Parameters
    ----------
    plan
        The plan.
    height
        Highest piece [mm].
    """
    pages: list[list[LedgerEntry]] = [[]]
    used = TOP + 12.0
    for entry in plan.ledger.entries:
        tall = _height(entry)
        if pages[-1] and used + tall > height:
            pages.append([])
            used = TOP + 12.0
        pages[-1].append(entry)
        used += tall
    return tuple(_matrix(plan, tuple(page), f"matrix{place}-") for place, page in enumerate(pages))


def _matrix(plan: Plan, entries: tuple[LedgerEntry, ...], prefix: str) -> str:
    columns = columns_of(plan)
    wide = _column_width(columns, entries)
    width = 2 * MARGIN + NAMES + wide * len(columns) + BARS
    width = max(width, 150.0)
    height = TOP + sum(_height(entry) for entry in entries) + 12.0
    drawing = paper(width, height, f"Tolerances against clampings of {plan.part.name}", prefix)
    write(drawing, "Tolerances against clampings", (MARGIN, 6.0), size=HEAD, bold=True)
    bars = MARGIN + NAMES + wide * len(columns)
    for place, column in enumerate(columns):
        for row, words in enumerate(wrapped(column.heading, SMALL, wide - 1.5, bold=True)[:3]):
            write(drawing, words, (MARGIN + NAMES + wide * place + 1.0, TOP - 8.4 + 2.9 * row), size=SMALL,
                  bold=True)  # fmt: skip
    for row, words in enumerate(("used of the allowance", "dark: root-sum-square, light: worst case")):
        write(drawing, words, (bars + 2.0, TOP - 5.5 + 2.9 * row), size=SMALL, bold=row == 0)
    y = TOP
    line(drawing, (MARGIN, y), (width - MARGIN, y), width=0.35)
    for entry in entries:
        tall = _height(entry)
        group = svg.Group(data_keys=feature_key(entry.feature))
        drawing.append(group)
        _draw_row(group, entry, columns, (y, tall), wide)
        y += tall
        line(drawing, (MARGIN, y), (width - MARGIN, y), width=0.15, shade=ink.FAINT)
    for place in range(len(columns) + 1):
        x = MARGIN + NAMES + wide * place
        line(drawing, (x, TOP - 11.5), (x, y), width=0.15, shade=ink.FAINT)
    if entries:
        x = bars + 2.0 + WHOLE
        line(drawing, (x, TOP), (x, y), width=0.35, dash="1.2 0.8")
    else:
        write(drawing, "The part file gives no tolerance.", (MARGIN, TOP + 5.0))
    _draw_legend(drawing, y + 6.0)
    return str(drawing.as_svg())


def _column_width(columns: tuple[Column, ...], entries: tuple[LedgerEntry, ...]) -> float:
    """Room for the marks with their step numbers; of many columns for the marks alone."""
    most = max([len(_marks(entry, column)) for entry in entries for column in columns] + [1])
    wanted = max(most * 9.5 + 1.5, 16.0)
    return wanted if wanted * len(columns) <= 160.0 else max(NARROW, most * (_MARK + 1.0) + 2.0)


def _name_lines(entry: LedgerEntry) -> tuple[str, ...]:
    return wrapped(entry.name, SMALL, NAMES - 3.0)


def _height(entry: LedgerEntry) -> float:
    return max(len(_name_lines(entry)) * LINE + 2.4, 6.2)


def _marks(entry: LedgerEntry, column: Column) -> tuple[tuple[str, ChainLink], ...]:
    """Marks of a row in a column, each surface once in its most telling role."""
    ranks = {"toleranced": 0, "datum": 1}
    found: dict[str, tuple[int, str, ChainLink]] = {}
    for link in entry.chain:
        if (link.clamping if link.operation else "", link.visit) != (column.clamping, column.visit):
            continue
        kind = link.role if link.role in ranks else "other"
        rank = ranks.get(kind, 2)
        if link.surface not in found or rank < found[link.surface][0]:
            found[link.surface] = (rank, kind, link)
    ordered = sorted(found.values(), key=lambda each: (each[0], each[2].step, each[2].surface))
    return tuple((kind, link) for _, kind, link in ordered)


def _draw_row(
    group: svg.Group, entry: LedgerEntry, columns: tuple[Column, ...], at: tuple[float, float], wide: float
) -> None:
    y, tall = at
    lines = _name_lines(entry)
    first = y + (tall - LINE * len(lines)) / 2 + LINE * 0.75
    for place, words in enumerate(lines):
        write(group, words, (MARGIN, first + LINE * place), size=SMALL)
    middle = y + tall / 2
    numbered = wide >= 16.0
    for place, column in enumerate(columns):
        x = MARGIN + NAMES + wide * place + 1.2
        for kind, link in _marks(entry, column):
            _draw_mark(group, kind, (x, middle))
            if numbered and link.step:
                write(group, str(link.step), (x + _MARK + 0.6, middle + 0.75), size=2.1)
            x += 9.5 if numbered else _MARK + 1.0
    _draw_bar(group, entry, MARGIN + NAMES + wide * len(columns) + 2.0, middle)


def _draw_mark(canvas: Canvas, kind: str, at: tuple[float, float]) -> None:
    x, y = at
    half = _MARK / 2
    if kind == "other":
        canvas.append(svg.Circle(round(x + half, 3), round(y, 3), 0.55, fill=ink.INK))
        return
    fill = ink.INK if kind == "toleranced" else ink.PAPER
    box(canvas, (x, y - half), (_MARK, _MARK), fill=fill, width=0.35)


def _draw_bar(canvas: Canvas, entry: LedgerEntry, x: float, middle: float) -> None:
    """Worst case light, root-sum-square dark; a bar that runs out of the picture is cut with two strokes."""
    allowance = max(entry.allowance, 1e-9)
    worst, rss = entry.budget.worst / allowance, entry.budget.rss / allowance
    for share, tall, fill in ((worst, 3.4, ink.SHADE), (rss, 1.7, ink.QUIET)):
        box(canvas, (x, middle - tall / 2), (min(share, _MOST) * WHOLE, tall), fill=fill, width=0.2)
    if worst > _MOST:
        end = x + _MOST * WHOLE
        for shift in (-0.5, 0.3):
            line(canvas, (end + shift - 0.4, middle + 2.2), (end + shift + 0.4, middle - 2.2), width=0.3)
    verdict = {Verdict.HOLDS: "", Verdict.STATISTICALLY: " statist.", Verdict.FAILS: " fails"}[entry.verdict]
    words = f"{100 * worst:.0f} % of {entry.allowance:.4g} um{verdict}"
    write(
        canvas,
        words,
        (x + _MOST * WHOLE + 2.0, middle + 0.8),
        size=SMALL,
        bold=entry.verdict is Verdict.FAILS,
    )


def _draw_legend(drawing: svg.Drawing, y: float) -> None:
    x = MARGIN
    for kind, words in _LEGEND:
        _draw_mark(drawing, kind, (x, y - 0.9))
        write(drawing, words, (x + _MARK + 1.2, y), size=SMALL)
        x += _MARK + 1.2 + text_width(words, SMALL) + 5.0
    write(drawing, "with the step that makes it", (x, y), size=SMALL, shade=ink.QUIET)
