"""The column map: which column of a tool list is which key of a tool, and in which unit."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Literal

from pydantic import Field

from sequencer.files.load import read_model
from sequencer.files.tool_lists.keys import known_keys
from sequencer.part.fault import Fault, did_you_mean
from sequencer.part.quantities import Record
from sequencer.units import UNITS


class MappedColumn(Record):
    """What a column holds."""

    key: str = Field(description="Key of a tool, as in the shop file, or its ISO 13399 symbol.")
    unit: str | None = Field(default=None, description="Unit of its plain numbers.")


class ColumnMap(Record):
    """How a tool list of the shop is read; every key may be left out."""

    sheet: str | None = Field(default=None, description="Sheet of a workbook; its first one if left out.")
    head_row: int = Field(default=1, ge=1, le=1000, description="Row with the heads of the columns.")
    delimiter: Literal[",", ";", "tab", "|"] = Field(
        default=",", description="What stands between two values of a CSV file."
    )
    decimal: Literal["point", "comma"] = Field(default="point", description="Decimal sign of the numbers.")
    units: dict[str, str] = Field(
        default_factory=dict, description="Unit of plain numbers by dimension, such as length: in."
    )
    columns: dict[str, str | MappedColumn] = Field(
        default_factory=dict,
        description="Head of a column and its key; heads that are keys or symbols may be left out.",
    )
    ignore: tuple[str, ...] = Field(default=(), description="Heads of columns that are not read.")
    words: dict[str, dict[str, str]] = Field(
        default_factory=dict, description="By key: a word of the list and the word of the shop file for it."
    )
    defaults: dict[str, str | int | float | bool | tuple[str, ...]] = Field(
        default_factory=dict,
        description="By key: the value where the list has no such column or an empty cell.",
    )

    def mapped(self, head: str) -> MappedColumn | None:
        """Give what the map says about a head; None if nothing.

        Parameters
        ----------
        head
            Head of a column.
        """
        found = self.columns.get(head)
        return MappedColumn(key=found) if isinstance(found, str) else found


def read_column_map(path: Path) -> ColumnMap:
    """Read a column map.

    Parameters
    ----------
    path
        The YAML file.

    Raises
    ------
    BadFile
        With every fault of the file, in the order of its lines.
    """
    return read_model(path, ColumnMap, _faults)[1]


def _faults(mapping: ColumnMap) -> Iterator[Fault]:
    known = known_keys()
    units = {unit for each in UNITS.values() for unit in each}
    for dimension, unit in mapping.units.items():
        path = ("units", dimension)
        if dimension not in UNITS:
            remedy = did_you_mean(dimension, UNITS, "dimensions")
            yield Fault(path, f"there is no dimension {dimension!r}", "", remedy)
        elif unit not in UNITS[dimension]:
            limit = f"units of {dimension}: {', '.join(UNITS[dimension])}"
            yield Fault(path, f"{unit!r} is no unit of {dimension}", limit, "correct the unit")
    for head in mapping.columns:
        column = mapping.mapped(head)
        if column is not None and column.key not in known:
            remedy = did_you_mean(column.key, known, "keys of tools and their symbols")
            yield Fault(("columns", head), f"there is no key {column.key!r}", "", remedy)
        if column is not None and column.unit is not None and column.unit not in units:
            yield Fault(
                ("columns", head), f"unknown unit {column.unit!r}", "", "see docs/shop-file.md, units"
            )
        if head in mapping.ignore:
            yield Fault(("columns", head), f"{head!r} is ignored as well", "", "take it out of one place")
    for group in ("words", "defaults"):
        for key in getattr(mapping, group):
            if key not in known:
                remedy = did_you_mean(key, known, "keys of tools")
                yield Fault((group, key), f"there is no key {key!r}", "", remedy)
