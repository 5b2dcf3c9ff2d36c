"""What a key of a file holds, in words for the reference pages."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Union, get_args, get_origin

from annotated_types import Ge, Gt, Le, Lt, MaxLen, MinLen
from pydantic import BaseModel, WithJsonSchema
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from sequencer.files.fields import (
    Key,
    bare_type,
    choices_of,
    is_record,
    item_type,
    keys_of,
    records_by_kind,
)
from sequencer.files.wording import FORMS
from sequencer.part.quantities import Dimension, Name
from sequencer.part.tolerances import SizeTolerance
from sequencer.units import HOUSE_UNIT, Module, shown

_NAME_SCHEMA: Final = next(n.json_schema for n in get_args(Name) if isinstance(n, WithJsonSchema))


def anchor(name: str) -> str:
    """Give the anchor of a heading on a page.

    Parameters
    ----------
    name
        Words of the heading.
    """
    return re.sub(r"[^a-z0-9_ -]", "", name.lower()).replace(" ", "-")


def title_of(record: type[BaseModel]) -> str:
    """Give the heading of a record: its class name in words.

    Parameters
    ----------
    record
        The record.
    """
    words = re.sub(r"(?<=[a-z])(?=[A-Z])", " ", record.__name__)
    return words[0] + words[1:].lower()


def meaning_of(record: type[BaseModel]) -> str:
    """Give the first sentence about a record.

    Parameters
    ----------
    record
        The record.
    """
    return (record.__doc__ or "").strip().split("\n\n")[0].replace("\n", " ")


def holds(field: FieldInfo) -> str:
    """Say what is written behind a key.

    Parameters
    ----------
    field
        What the model says about the key.
    """
    return _type_words(field.annotation, list(field.metadata))


def _type_words(annotation: Any, notes: list[Any]) -> str:
    annotation, notes = _unwrapped(annotation, notes)
    dimension = next((note for note in notes if isinstance(note, Dimension)), None)
    if dimension is not None:
        return _quantity_words(dimension)
    if annotation is Module:
        return "module or diametral pitch"
    if annotation is SizeTolerance:
        return "limits of a size"
    words = choices_of(annotation)
    if words:
        return " \\| ".join(f"`{word}`" if word else "nothing" for word in words)
    if records_by_kind(annotation):
        return "group of keys by `kind`"
    if is_record(annotation):
        return f"group of keys: [{title_of(annotation)}](#{anchor(title_of(annotation))})"
    if get_origin(annotation) is dict:
        return "letters with names"
    if item_type(annotation) is not None:
        return _list_words(annotation, notes)
    return _plain_words(annotation, notes)


def _unwrapped(annotation: Any, notes: list[Any]) -> tuple[Any, list[Any]]:
    """Take notes and "or nothing" off a type, keeping the notes."""
    while True:
        if get_origin(annotation) is Annotated:
            inner = get_args(annotation)
            annotation, notes = inner[0], [*notes, *inner[1:]]
        elif get_origin(annotation) in (Union, UnionType) and NoneType in get_args(annotation):
            rest = [kind for kind in get_args(annotation) if kind is not NoneType]
            annotation = rest[0] if len(rest) == 1 else Union[tuple(rest)]  # noqa: UP007
        else:
            return annotation, notes


def _quantity_words(dimension: Dimension) -> str:
    unit = HOUSE_UNIT[dimension.name]
    text = f"{dimension.name}, such as `1 {unit}`"
    if dimension.above is not None and dimension.bounds is None:
        text += f"; above {dimension.above:g}"
    if dimension.least is not None:
        text += f"; at least {dimension.least:g}"
    if dimension.bounds is not None:
        least = "" if dimension.above is None else f"at least {dimension.bounds.least}, "
        text += f"; {least}at most {dimension.bounds.most}"
    return text


def _list_words(annotation: Any, notes: list[Any]) -> str:
    inner = get_args(annotation)
    words = _type_words(inner[0], [])
    if len(inner) == 2 and inner[1] is not Ellipsis:
        return f"pair of {words}"
    sizes = [f"at least {n.min_length}" for n in notes if isinstance(n, MinLen)]
    sizes += [f"at most {n.max_length}" for n in notes if isinstance(n, MaxLen)]
    return f"list of: {words}" + (f" ({', '.join(sizes)})" if sizes else "")


def _plain_words(annotation: Any, notes: list[Any]) -> str:
    if annotation is bool:
        return "`true` \\| `false`"
    if annotation is int:
        return "whole number" + _bounds(notes)
    if annotation is float:
        return "number" + _bounds(notes)
    if annotation is datetime.date:
        return "date, such as `2027-03-31`"
    if any(isinstance(note, WithJsonSchema) and note.json_schema == _NAME_SCHEMA for note in notes):
        return "name"
    pattern = next((note.pattern for note in notes if getattr(note, "pattern", None)), None)
    if pattern:
        return f"text: {FORMS[pattern]}"
    longest = next((note.max_length for note in notes if isinstance(note, MaxLen)), None)
    return f"text, at most {longest} characters" if longest else "text"


def plain_number(value: Any) -> str:
    """Write a bound without a power of ten.

    Parameters
    ----------
    value
        The bound.
    """
    return f"{value:.0f}" if float(value).is_integer() else f"{value:g}"


def _bounds(notes: list[Any]) -> str:
    words = []
    for note in notes:
        if isinstance(note, Gt):
            words.append(f"above {plain_number(note.gt)}")
        elif isinstance(note, Ge):
            words.append(f"at least {plain_number(note.ge)}")
        elif isinstance(note, Lt):
            words.append(f"below {plain_number(note.lt)}")
        elif isinstance(note, Le):
            words.append(f"at most {plain_number(note.le)}")
    return ", " + ", ".join(words) if words else ""


def default_of(key: Key) -> str:
    """Say what counts if a key is left out.

    Parameters
    ----------
    key
        The key.
    """
    if key.field.is_required():
        return "**needed**"
    value = key.field.get_default(call_default_factory=True, validated_data={})
    if value is None or value is PydanticUndefined or value in ("", (), {}):
        return ""
    if isinstance(value, BaseModel):
        return "its defaults"
    if isinstance(value, bool):
        return f"`{str(value).lower()}`"
    if isinstance(value, float) and not hasattr(value, "text"):
        return f"`{shown(value, 6)}`"
    if isinstance(value, tuple):
        return f"`[{', '.join(str(item) for item in value)}]`"
    return f"`{value}`"


def table(record: type[BaseModel], without: frozenset[str] = frozenset()) -> Iterator[str]:
    """Give the lines of a table of the keys of a record.

    Parameters
    ----------
    record
        The record.
    without
        Keys that are told elsewhere.
    """
    yield "| key | holds | default | meaning |"
    yield "|---|---|---|---|"
    for name, key in keys_of(record).items():
        if name not in without:
            meaning = key.meaning.replace("|", "\\|")
            yield f"| `{name}` | {holds(key.field)} | {default_of(key)} | {meaning} |"


def groups_of(record: type[BaseModel]) -> list[type[BaseModel]]:
    """Give the records that the keys of a record hold, in their order, each once; choices by kind left out.

    Parameters
    ----------
    record
        The record.
    """
    found: list[type[BaseModel]] = []
    for key in keys_of(record).values():
        kind = bare_type(key.field.annotation)
        kind = item_type(kind) or kind
        if is_record(kind) and kind not in found:
            found.append(kind)
    return found
