"""The table of a study: as CSV, as Parquet where pyarrow is there, and side by side for the screen."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path
from typing import Any, Final

from sequencer.differences import differences, outline_from_dict
from sequencer.errors import SequencerError
from sequencer.studies.read import written
from sequencer.studies.run import StudyResult
from sequencer.units import shown

#: Columns behind the changed keys: heading and key of the row.
MEASURES: Final = (
    ("status", "status"),
    ("clampings", "clampings"),
    ("tool changes", "tool_changes"),
    ("mode changes", "mode_changes"),
    ("minutes on the machine", "machine_minutes"),
    ("lot hours", "lot_hours"),
    ("pockets", "pockets"),
    ("flank classes", "classes"),
    ("methods", "methods"),
    ("cost of a piece", "cost"),
    ("currency", "currency"),
    ("lead time in days", "lead_days"),
    ("errors", "errors"),
    ("warnings", "warnings"),
    ("proven", "proven"),
    ("make or buy", "make_or_buy"),
)

#: Variants that the screen shows in full; of more the cheapest, quickest and least clamped are named.
MOST_SHOWN: Final = 24


def table_rows(result: StudyResult) -> tuple[tuple[str, ...], list[tuple[Any, ...]]]:
    """Give headings and rows of the table.

    Parameters
    ----------
    result
        The study with its rows.
    """
    keys = result.ready.keys
    headings = ("number", "variant", *keys, *(name for name, _ in MEASURES), "what changed", "message")
    base = result.base
    rows = []
    for row in result.rows:
        values = [written(row["changes"][key]) if key in row["changes"] else "" for key in keys]
        measured = [row.get(key, "") for _, key in MEASURES]
        told = changes_in_words(result, row) if base is not None else ""
        rows.append((row["number"], row["name"], *values, *measured, told, row["message"]))
    return headings, rows


def changes_in_words(result: StudyResult, row: dict[str, Any]) -> str:
    """Say what a variant does differently from the part as it is.

    Parameters
    ----------
    result
        The study.
    row
        Row of the variant.
    """
    base = result.base
    if base is None or row["status"] != "planned" or row["number"] == 0:
        return ""
    found = differences(base, outline_from_dict(row["outline"]))
    return "; ".join(str(each) for each in found) or "nothing"


def csv_text(result: StudyResult) -> str:
    """Give the table as CSV: comma, decimal point, one line a variant.

    Parameters
    ----------
    result
        The study with its rows.
    """
    headings, rows = table_rows(result)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(headings)
    for row in rows:
        writer.writerow([_cell(value) for value in row])
    return out.getvalue()


def json_text(result: StudyResult) -> str:
    """Give the table as JSON: a list with one group of keys a variant, null where a cell is empty.

    Parameters
    ----------
    result
        The study with its rows.
    """
    headings, rows = table_rows(result)
    made = [dict(zip(headings, map(_typed, row), strict=True)) for row in rows]
    return json.dumps(made, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _cell(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return shown(value, 3)
    text = str(value)
    # A spreadsheet would take such a text for a formula.
    return f"'{text}" if text[:1] in "=+-@" and text else text


def write_parquet(result: StudyResult, path: Path) -> None:
    """Write the table as Parquet.

    Parameters
    ----------
    result
        The study with its rows.
    path
        The file.

    Raises
    ------
    SequencerError
        When the extra is not installed, or it cannot be written.
    """
    try:
        import pyarrow
        import pyarrow.parquet
    except ImportError:
        raise SequencerError(
            "the package pyarrow is not installed",
            where="--parquet",
            remedy="install it with: pip install 'sequencer[tables]'",
        ) from None
    headings, rows = table_rows(result)
    columns = {name: [_typed(row[at]) for row in rows] for at, name in enumerate(headings)}
    try:
        pyarrow.parquet.write_table(pyarrow.table(columns), path)
    except OSError as error:
        raise SequencerError(f"it cannot be written: {error}", where=str(path)) from None


def _typed(value: Any) -> Any:
    return None if value == "" else value


def study_lines(result: StudyResult) -> tuple[str, ...]:
    """Give the study for the screen: variants side by side, then what each does differently.

    Parameters
    ----------
    result
        The study with its rows.
    """
    planned = [row for row in result.rows if row["status"] == "planned"]
    lines = [_head(result, len(planned))]
    shown_rows = result.rows if len(result.rows) <= MOST_SHOWN else _best(result)
    lines += _side_by_side(shown_rows)
    for row in shown_rows:
        told = _cut(row["message"]) if row["status"] != "planned" else changes_in_words(result, row)
        if told:
            lines.append(f"{row['number']} {row['name']}: {told}")
    if len(shown_rows) < len(result.rows):
        lines.append(f"Shown are the best by cost, time and clampings of {len(result.rows)} variants.")
    return tuple(lines)


#: Signs of a message that the screen shows; the table has all of it.
_MESSAGE: Final = 300


def _cut(message: str) -> str:
    return message if len(message) <= _MESSAGE else f"{message[:_MESSAGE].rstrip()} ... (more in the table)"


def _head(result: StudyResult, planned: int) -> str:
    total, done = len(result.ready.cases), len(result.rows)
    text = f"{result.ready.study.name}: {done} of {total} variants, {planned} planned"
    for status, words in (
        ("no plan", "without a plan"),
        ("refused", "refused"),
        ("program fault", "with a fault of this program"),
    ):
        count = sum(1 for row in result.rows if row["status"] == status)
        text += f", {count} {words}" if count else ""
    return text


def _best(result: StudyResult) -> tuple[dict[str, Any], ...]:
    planned = [row for row in result.rows if row["status"] == "planned"]
    chosen: dict[int, dict[str, Any]] = {row["number"]: row for row in result.rows if row["number"] == 0}
    for keys in (("cost",), ("machine_minutes",), ("clampings", "tool_changes")):
        ranked = sorted(planned, key=lambda row: (*(row[key] for key in keys), row["number"]))
        chosen |= {row["number"]: row for row in ranked[:5]}
    return tuple(chosen[number] for number in sorted(chosen))


_SCREEN: Final = (
    ("", "number"),
    ("variant", "name"),
    ("clampings", "clampings"),
    ("tool ch.", "tool_changes"),
    ("min", "machine_minutes"),
    ("pockets", "pockets"),
    ("cost", "cost"),
    ("days", "lead_days"),
    ("proven", "proven"),
)
_WIDEST: Final = 48


def _side_by_side(rows: tuple[dict[str, Any], ...]) -> list[str]:
    cells = [[heading for heading, _ in _SCREEN]]
    for row in rows:
        values = [row.get(key, row["status"] if key == "clampings" else "") for _, key in _SCREEN]
        cells.append([_short(value) for value in values])
    widths = [max(len(line[at]) for line in cells) for at in range(len(_SCREEN))]
    return [
        "  ".join(
            text.ljust(widths[at]) if at == 1 else text.rjust(widths[at]) for at, text in enumerate(line)
        ).rstrip()
        for line in cells
    ]


def _short(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = shown(value, 1) if isinstance(value, float) else str(value)
    return text if len(text) <= _WIDEST else text[: _WIDEST - 3] + "..."
