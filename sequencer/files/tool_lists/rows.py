"""Rows of a tool list become tools; every bad row is told with row, column, limit and remedy."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from sequencer.errors import BadFile, Finding, Severity
from sequencer.files.fields import Key, keys_of
from sequencer.files.tool_lists.column_map import ColumnMap, MappedColumn
from sequencer.files.tool_lists.keys import (
    dimension_of,
    head_and_unit,
    is_list,
    is_module,
    kinds,
    known_keys,
    plain_type,
    symbols_of,
)
from sequencer.files.tool_lists.tables import Table
from sequencer.files.wording import faults_of
from sequencer.part.fault import Fault, did_you_mean
from sequencer.part.quantities import Record
from sequencer.shop import AnyTool
from sequencer.shop.tool_checks import tool_faults


class _List(Record):
    """Tools of a list."""

    tools: tuple[AnyTool, ...]


@dataclass(frozen=True)
class _Column:
    """A column that is read.

    Parameters
    ----------
    at
        Its place in a row, from 0.
    head
        Its head as written.
    key
        Key or symbol that it holds.
    unit
        Unit of its plain numbers; None if the map does not say.
    """

    at: int
    head: str
    key: str
    unit: str | None


def import_tools(table: Table, mapping: ColumnMap) -> tuple[AnyTool, ...]:
    """Read the tools of a list.

    Parameters
    ----------
    table
        Rows of the list.
    mapping
        Which column is which key.

    Raises
    ------
    BadFile
        With every fault of every row.
    """
    columns = _columns(table, mapping)
    faults: list[Finding] = []
    tools: list[AnyTool] = []
    first: dict[str, int] = {}
    for number, cells in table.rows:
        faults += _without_head(table, number, cells)
        tool, found = _tool(table, mapping, columns, number, cells)
        faults += found
        if tool is None:
            continue
        if tool.name in first:
            what = f"name {tool.name!r} is used twice"
            faults.append(_finding(table, number, "", what, f"row {first[tool.name]} has it", "rename one"))
        first.setdefault(tool.name, number)
        tools.append(tool)
    if not table.rows:
        faults.append(_finding(table, 0, "", "it lists no tools", "", "check head_row and the sheet"))
    if faults:
        raise BadFile(tuple(faults))
    return tuple(tools)


def _without_head(table: Table, number: int, cells: tuple[str, ...]) -> Iterator[Finding]:
    """Cells under no head, such as those of a row with one separator too many."""
    for at, text in enumerate(cells):
        if text and (at >= len(table.heads) or not table.heads[at]):
            where = f"{table.name}: row {number}, cell {at + 1}"
            remedy = "empty it, give its column a head, or put quotes round a text that holds the separator"
            yield Finding(Severity.ERROR, where, f"{text!r} stands under no head", "", remedy, "file")


def _columns(table: Table, mapping: ColumnMap) -> tuple[_Column, ...]:
    """Find the key of each column; a head that nothing explains is a fault."""
    found, faults, known = [], [], known_keys()
    for head in (*mapping.columns, *mapping.ignore):
        if head not in table.heads:
            remedy = did_you_mean(head, [each for each in table.heads if each], "heads of the list")
            faults.append(_finding(table, 0, "", f"there is no column {head!r} of the map", "", remedy))
    for at, head in enumerate(table.heads):
        if not head or head in mapping.ignore:
            continue
        name, unit = head_and_unit(head)
        key = head if head in known else name
        mapped = mapping.mapped(head) or MappedColumn(key=key, unit=None if key == head else unit)
        if mapped.key not in known:
            remedy = did_you_mean(name, known, "keys and symbols") + "; or name it in the column map"
            what = f"nothing says what column {head!r} is"
            faults.append(_finding(table, 0, "", what, "", f"{remedy}, under columns or ignore"))
        found.append(_Column(at, head, mapped.key, mapped.unit))
    if faults:
        raise BadFile(tuple(faults))
    return tuple(found)


def _tool(
    table: Table, mapping: ColumnMap, columns: tuple[_Column, ...], number: int, cells: tuple[str, ...]
) -> tuple[AnyTool | None, list[Finding]]:
    """One row; the tool, or what is wrong with it."""
    kind, kind_column = _kind(mapping, columns, cells)
    if kind not in kinds():
        remedy = did_you_mean(kind, kinds(), "kinds of tools")
        what = f"{kind!r} is no kind of tool" if kind else "there is no kind"
        limit = "other words go under words of the column map"
        return None, [_finding(table, number, kind_column, what, limit, remedy)]
    keys = keys_of(kinds()[kind])
    named = {each.at: _key(each.key, kind) for each in columns}
    row, faults = _row(table, mapping, columns, number, cells, kind)
    for key, value in mapping.defaults.items():
        if _key(key, kind) in keys:
            row.setdefault(_key(key, kind), value)
    tool, wrong = _validated(row)
    for fault in wrong:
        key = str(fault.path[2]) if len(fault.path) > 2 else ""
        what = fault.what if key in row or not key else f"{key} is {fault.what}"
        filled = [each for each in columns if named[each.at] == key]
        head = next((e.head for e in filled if e.at < len(cells) and cells[e.at]), "")
        head = head or next((each.head for each in filled), "")
        faults.append(_finding(table, number, head, what, fault.limit, fault.remedy))
    return (tool if not faults else None), faults


def _key(name: str, kind: str) -> str:
    """Give the key of a kind that a key or symbol stands for; the name itself if there is none."""
    return name if name in keys_of(kinds()[kind]) else symbols_of(kind).get(name, name)


def _row(
    table: Table,
    mapping: ColumnMap,
    columns: tuple[_Column, ...],
    number: int,
    cells: tuple[str, ...],
    kind: str,
) -> tuple[dict[str, Any], list[Finding]]:
    """Give the values of a row by key, and the cells that belong to no key."""
    keys = keys_of(kinds()[kind])
    row: dict[str, Any] = {"kind": kind}
    heads: dict[str, str] = {}
    faults: list[Finding] = []
    for column in columns:
        text, key = cells[column.at] if column.at < len(cells) else "", _key(column.key, kind)
        if not text or key == "kind":
            continue
        if key not in keys:
            what, remedy = f"{text!r}: a {kind} has no {column.key}", "empty the cell, or correct the kind"
            faults.append(_finding(table, number, column.head, what, "", remedy))
        elif key in row:
            what = f"{text!r}: {key} stands in column {heads[key]!r} already"
            faults.append(_finding(table, number, column.head, what, "", "leave one of the cells empty"))
        else:
            row[key], heads[key] = _value(text, key, keys[key], column, mapping), column.head
    return row, faults


def _kind(mapping: ColumnMap, columns: tuple[_Column, ...], cells: tuple[str, ...]) -> tuple[str, str]:
    column = next((each for each in columns if each.key == "kind"), None)
    text = cells[column.at] if column is not None and column.at < len(cells) else ""
    text = text or str(mapping.defaults.get("kind", ""))
    return mapping.words.get("kind", {}).get(text, text), column.head if column is not None else ""


def _validated(row: dict[str, Any]) -> tuple[AnyTool | None, list[Fault]]:
    document = {"tools": [row]}
    try:
        tool = _List.model_validate_json(json.dumps(document), strict=True).tools[0]
    except ValidationError as error:
        return None, faults_of(_List, document, error.errors(include_url=False))
    return tool, list(tool_faults(("tools", 0), tool))


def _value(text: str, key: str, known: Key, column: _Column, mapping: ColumnMap) -> Any:
    """Give a cell as the shop file would write it; the model tells what cannot be read."""
    field = known.field
    words = mapping.words.get(key, {})
    if is_list(field):
        return [words.get(word, word) for word in (each.strip() for each in text.split(";")) if word]
    text = words.get(text, text)
    dimension = dimension_of(field)
    kind = plain_type(field)
    if dimension is not None or is_module(field):
        number = _number(text, mapping)
        if re.match(r"\d{4}-\d\d-\d\d", text):
            # Spreadsheets make dates of numbers such as 5.9; as a length it would be read as 2026 of a unit.
            return f"the date {text[:10]}"
        if number is None:
            return re.sub(r"(?<=\d),(?=\d)", ".", text) if mapping.decimal == "comma" else text
        unit = column.unit or mapping.units.get(dimension or "length")
        return number if unit is None else f"{number} {unit}"
    if kind is bool:
        return {"true": True, "yes": True, "x": True, "false": False, "no": False}.get(text.lower(), text)
    if kind in (int, float):
        number = _number(text, mapping)
        if number is None:
            return text
        return int(number) if number.lstrip("+-").isdigit() else float(number)
    return text


def _number(text: str, mapping: ColumnMap) -> str | None:
    """Give a plain number with a decimal point; None if the text is none."""
    plain = text.replace(",", ".") if mapping.decimal == "comma" and text.count(",") == 1 else text
    try:
        value = float(plain)
    except ValueError:
        return None
    return plain if value == value and abs(value) < 1e300 and not plain.lower().startswith("i") else None


def _finding(table: Table, row: int, head: str, what: str, limit: str, remedy: str) -> Finding:
    where = table.name + (f": row {row}" if row else "") + (f", column {head!r}" if head else "")
    return Finding(Severity.ERROR, where, what, limit, remedy, "file")
