"""The tools of a shop as a table: heads by ISO 13399 symbols, values as written."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from sequencer.files.fields import keys_of
from sequencer.files.tool_lists.keys import kinds, symbol_of_key
from sequencer.shop import AnyTool

_FIRST = ("name", "kind", "title")


def export_table(tools: Sequence[AnyTool], *, symbols: bool = True) -> tuple[tuple[str, ...], ...]:
    """Give heads and rows; reading them back gives the same tools, their values as written.

    Parameters
    ----------
    tools
        The tools.
    symbols
        Whether heads are ISO 13399 symbols where a key has one for all kinds; else keys of the shop file.
    """
    written: list[dict[str, Any]] = [
        tool.model_dump(mode="json", exclude_unset=True, by_alias=True) for tool in tools
    ]
    order = dict.fromkeys((*_FIRST, *(key for record in kinds().values() for key in keys_of(record))))
    used = [key for key in order if any(key in row for row in written)]
    heads = tuple(symbol_of_key(key) if symbols else key for key in used)
    return (heads, *(tuple(_text(row.get(key)) for key in used) for row in written))


def _text(value: Any) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return "; ".join(str(each) for each in value)
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return str(value)
