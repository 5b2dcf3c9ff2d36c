"""Puts tools into the text of a shop file; everything else in it stays as it was written."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from sequencer.errors import BadFile, Finding, Severity
from sequencer.files.load import shop_from_text
from sequencer.files.source import refuse
from sequencer.files.tree import Keyed, Listed, read_tree
from sequencer.shop import AnyTool


@dataclass(frozen=True)
class Merged:
    """A shop file with tools put in.

    Parameters
    ----------
    text
        Its new text.
    added, replaced, same
        Names of tools that are new, that took the place of others, and that were there just so.
    """

    text: str
    added: tuple[str, ...]
    replaced: tuple[str, ...]
    same: tuple[str, ...]


def merge_into(text: str, name: str, tools: Sequence[AnyTool], *, replace: bool = False) -> Merged:
    """Put tools into a shop file.

    Parameters
    ----------
    text
        Text of the shop file.
    name
        What messages call it.
    tools
        The tools.
    replace
        Whether tools of the same name are replaced.

    Raises
    ------
    BadFile
        When the shop file is bad before or after, a tool of the same name differs and is not to be replaced,
        or its tools are not written one below the other.
    """
    shop = shop_from_text(text, name)
    there = {tool.name: _written(tool) for tool in shop.tools}
    same = [tool.name for tool in tools if there.get(tool.name) == _written(tool)]
    changed = [tool for tool in tools if tool.name in there and tool.name not in same]
    new = [tool for tool in tools if tool.name not in there]
    if changed and not replace:
        raise BadFile(tuple(_taken(name, tool, there[tool.name]) for tool in changed))
    made = _edited(text, name, {tool.name: tool for tool in changed}, new)
    after = {tool.name: _written(tool) for tool in shop_from_text(made, name).tools}
    wanted = there | {tool.name: _written(tool) for tool in tools}
    if after != wanted:
        raise refuse(name, "the tools could not be put in without touching others", "", "add them by hand")
    return Merged(made, tuple(t.name for t in new), tuple(t.name for t in changed), tuple(same))


def _written(tool: AnyTool) -> dict[str, Any]:
    written: dict[str, Any] = tool.model_dump(mode="json", exclude_unset=True, by_alias=True)
    return written


def _taken(name: str, tool: AnyTool, there: dict[str, Any]) -> Finding:
    given = _written(tool)
    keys = [key for key in dict.fromkeys((*there, *given)) if there.get(key) != given.get(key)]
    shown = "; ".join(
        f"{key} {there.get(key, 'not given')} -> {given.get(key, 'not given')}" for key in keys[:4]
    )
    more = f" and {len(keys) - 4} more" if len(keys) > 4 else ""
    return Finding(
        Severity.ERROR,
        f"{name}: tool {tool.name}",
        f"there is another tool of that name: {shown}{more}",
        "never overwritten unasked",
        "give it another name, or replace it with --replace",
        "file",
    )


def _edited(text: str, name: str, changed: dict[str, AnyTool], new: Sequence[AnyTool]) -> str:
    root = read_tree(text).root
    lines = text.splitlines(keepends=True)
    listed = root.keys["tools"][1] if isinstance(root, Keyed) and "tools" in root.keys else None
    if not isinstance(root, Keyed) or not isinstance(listed, Listed) or not listed.items:
        raise refuse(name, "it has no list of tools", "", "begin with a shop file that has one tool")
    starts = [item.mark.line - 1 for item in listed.items]
    dash = re.match(r"^(\s*)- ", lines[starts[0]])
    if dash is None or any(not re.match(r"^\s*- ", lines[start]) for start in starts):
        what = "its tools are not written one below the other"
        raise refuse(f"{name}:{listed.mark}", what, "each behind a -", "write them as a list with -")
    following = [mark.line - 1 for mark, _ in root.keys.values() if mark.line - 1 > starts[-1]]
    ends = [*starts[1:], min(following, default=len(lines))]
    made = list(lines)
    last = _last_line(lines, starts[-1], ends[-1])
    if made[last] and not made[last].endswith("\n"):
        made[last] += "\n"
    made[last + 1 : last + 1] = [_line(tool, dash[1]) for tool in new]
    for item, start, end in reversed(list(zip(listed.items, starts, ends, strict=True))):
        called = item.keys["name"][1].plain if isinstance(item, Keyed) and "name" in item.keys else None
        if isinstance(called, str) and called in changed:
            made[start : _last_line(lines, start, end) + 1] = [_line(changed[called], dash[1])]
    return "".join(made)


def _last_line(lines: list[str], start: int, end: int) -> int:
    """Last line of an entry; comments and empty lines behind it belong to what follows."""
    last = end - 1
    while last > start and (not lines[last].strip() or lines[last].lstrip().startswith("#")):
        last -= 1
    return last


def _line(tool: AnyTool, indent: str) -> str:
    """Write a tool on one line, texts in quotes."""
    pairs = ", ".join(f"{key}: {_value(value)}" for key, value in _written(tool).items())
    return f"{indent}- {{{pairs}}}\n"


def _value(value: Any) -> str:
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return json.dumps(value, ensure_ascii=False)
