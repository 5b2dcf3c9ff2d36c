"""Which keys a model reads at a path of a file, and what each expects."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Key:
    """One key of a record.

    Parameters
    ----------
    name
        As it is written in the file.
    field
        What the model says about it.
    """

    name: str
    field: FieldInfo

    @property
    def meaning(self) -> str:
        """What the key means."""
        return self.field.description or ""


def keys_of(model: type[BaseModel]) -> dict[str, Key]:
    """Give the keys of a record in the order of the model.

    Parameters
    ----------
    model
        The record.
    """
    found = {}
    for name, field in model.model_fields.items():
        written = field.alias or name
        found[written] = Key(written, field)
    return found


def bare_type(annotation: Any) -> Any:
    """Take notes and "or nothing" off a type.

    Parameters
    ----------
    annotation
        Type of a field.
    """
    while True:
        if get_origin(annotation) is Annotated:
            annotation = get_args(annotation)[0]
        elif get_origin(annotation) in (Union, UnionType):
            rest = [kind for kind in get_args(annotation) if kind is not NoneType]
            if len(rest) != 1:
                return annotation
            annotation = rest[0]
        else:
            return annotation


def is_record(annotation: Any) -> bool:
    """Say whether a type is a record with keys.

    Parameters
    ----------
    annotation
        A bare type.
    """
    return isinstance(annotation, type) and issubclass(annotation, BaseModel)


def records_by_kind(annotation: Any) -> dict[str, type[BaseModel]]:
    """Give the records of a choice by kind; empty if the type is no choice.

    Parameters
    ----------
    annotation
        A bare type.
    """
    if get_origin(annotation) not in (Union, UnionType):
        return {}
    found: dict[str, type[BaseModel]] = {}
    for record in get_args(annotation):
        if is_record(record) and "kind" in record.model_fields:
            for kind in get_args(record.model_fields["kind"].annotation):
                found[str(kind)] = record
    return found


def item_type(annotation: Any) -> Any:
    """Give the type of the values of a list or of a group with free keys; None for other types.

    Parameters
    ----------
    annotation
        A bare type.
    """
    origin, inner = get_origin(annotation), get_args(annotation)
    if origin is tuple and inner:
        return bare_type(inner[0])
    if origin is dict and len(inner) == 2:
        return bare_type(inner[1])
    return None


def choices_of(annotation: Any) -> tuple[str, ...]:
    """Give the words that a key allows; empty if it is free.

    Parameters
    ----------
    annotation
        A bare type.
    """
    if get_origin(annotation) is Literal:
        return tuple(str(word) for word in get_args(annotation))
    return ()


def walk(model: type[BaseModel], document: Any, path: Path) -> Iterator[tuple[Any, Any, Key | None]]:
    """Follow a path of the file through the model.

    Yields at each step, the outermost record first: the bare type there, the value there, and the key that
    led to it.

    Parameters
    ----------
    model
        The outermost record.
    document
        The plain values of the file.
    path
        Keys and positions; it is followed as far as the model knows it.
    """
    kind: Any = model
    key: Key | None = None
    yield kind, document, key
    for step in path:
        if is_record(kind):
            key = keys_of(kind).get(str(step))
            if key is None:
                return
            kind = bare_type(key.field.annotation)
        elif item_type(kind) is not None:
            kind = item_type(kind)
        else:
            return
        document = _inside(document, step)
        chosen = records_by_kind(kind)
        if chosen:
            word = document.get("kind") if isinstance(document, dict) else None
            kind = chosen.get(word, kind) if isinstance(word, str) else kind
        yield kind, document, key


def _inside(document: Any, step: str | int) -> Any:
    if isinstance(document, dict):
        return document.get(step)
    if isinstance(document, list) and isinstance(step, int) and step < len(document):
        return document[step]
    return None
