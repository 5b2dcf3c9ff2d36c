"""Keys of tools, their ISO 13399 symbols, and how a cell becomes a value of the shop file."""

from __future__ import annotations

import re
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sequencer.files.fields import bare_type, keys_of, records_by_kind
from sequencer.part.quantities import Dimension
from sequencer.shop import AnyTool
from sequencer.units import Module

#: The symbol stands in brackets in the description of a key: "Cutting diameter (DC)."
_SYMBOL: Final = re.compile(r"\(([A-Z][A-Z0-9]{1,4})\)")
#: A head with its unit: "DC [mm]", "LF (in)" or "WT, kg".
_HEAD: Final = re.compile(r"^(.*?)\s*(?:\[([^\]]+)\]|\(([^)]+)\)|,\s*([^,]+))$")


@cache
def kinds() -> dict[str, type[BaseModel]]:
    """Give the records of tools by kind."""
    return records_by_kind(bare_type(AnyTool))


@cache
def symbols_of(kind: str) -> dict[str, str]:
    """Give the ISO 13399 symbols of a kind with their keys.

    Parameters
    ----------
    kind
        Kind of tool.
    """
    found: dict[str, str] = {}
    for name, key in keys_of(kinds()[kind]).items():
        match = _SYMBOL.search(key.meaning)
        if match:
            found.setdefault(match[1], name)
    return found


@cache
def known_keys() -> tuple[str, ...]:
    """Give every key of every kind, then every symbol."""
    keys = dict.fromkeys(name for record in kinds().values() for name in keys_of(record))
    symbols = dict.fromkeys(symbol for kind in kinds() for symbol in symbols_of(kind))
    return (*keys, *symbols)


@cache
def symbol_of_key(key: str) -> str:
    """Give the symbol of a key that every kind with this key calls the same; the key itself if there is none.

    Parameters
    ----------
    key
        Key of a tool.
    """
    having = [kind for kind, record in kinds().items() if key in keys_of(record)]
    named = {next((s for s, name in symbols_of(kind).items() if name == key), key) for kind in having}
    return named.pop() if len(named) == 1 else key


def head_and_unit(head: str) -> tuple[str, str | None]:
    """Split a head such as "DC [mm]" into what it names and its unit.

    Parameters
    ----------
    head
        Head of a column.
    """
    match = _HEAD.match(head.strip())
    if match is None:
        return head.strip(), None
    return match[1].strip(), (match[2] or match[3] or match[4]).strip()


def dimension_of(field: FieldInfo) -> str | None:
    """Give the dimension of a key that holds a quantity; None for others.

    Parameters
    ----------
    field
        What the model says about the key.
    """
    for note in field.metadata:
        if isinstance(note, Dimension):
            return note.name
    return _dimension(field.annotation)


def _dimension(annotation: Any) -> str | None:
    if get_origin(annotation) is Annotated:
        return next((note.name for note in annotation.__metadata__ if isinstance(note, Dimension)), None)
    if get_origin(annotation) in (Union, UnionType):
        inner = (_dimension(each) for each in get_args(annotation) if each is not NoneType)
        return next((each for each in inner if each is not None), None)
    return None


def is_list(field: FieldInfo) -> bool:
    """Whether a key holds several words.

    Parameters
    ----------
    field
        What the model says about the key.
    """
    return get_origin(bare_type(field.annotation)) is tuple


def is_module(field: FieldInfo) -> bool:
    """Whether a key holds the size of teeth.

    Parameters
    ----------
    field
        What the model says about the key.
    """
    return bare_type(field.annotation) is Module


def plain_type(field: FieldInfo) -> Any:
    """Give int, float or bool for such a key; None for words.

    Parameters
    ----------
    field
        What the model says about the key.
    """
    kind = bare_type(field.annotation)
    return kind if kind in (int, float, bool) else None
