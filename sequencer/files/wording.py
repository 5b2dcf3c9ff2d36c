"""Faults of values in the planner's words."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from pydantic import BaseModel
from pydantic_core import ErrorDetails

from sequencer.errors import OutOfRange
from sequencer.files.fields import (
    Key,
    bare_type,
    choices_of,
    is_record,
    item_type,
    keys_of,
    records_by_kind,
    walk,
)
from sequencer.part.fault import Fault, Path, did_you_mean, near

_LONGEST_SHOWN: Final = 40
#: Forms of texts in words.
FORMS: Final = {
    r"^R[0-9]{1,2}$": "R and the number of a rule, such as R12",
    r"^H[0-9]{1,3}$": "H and a number of one to three figures, such as H1",
}


def faults_of(model: type[BaseModel], document: Any, errors: list[ErrorDetails]) -> list[Fault]:
    """Turn the errors of the model into faults with paths of the file.

    Parameters
    ----------
    model
        The outermost record.
    document
        The plain values of the file.
    errors
        What the model says.
    """
    meant = _meant(model, document, errors)
    return [
        _fault(model, document, error)
        for error in errors
        if not _follows(error) and not (error["type"] == "missing" and path_of(model, error["loc"]) in meant)
    ]


def _meant(model: type[BaseModel], document: Any, errors: list[ErrorDetails]) -> set[Path]:
    """Paths of missing keys that are there, but misspelt."""
    found: set[Path] = set()
    for error in errors:
        if error["type"] == "extra_forbidden":
            path = path_of(model, error["loc"])
            close = near(str(path[-1]), _keys_at(model, document, path[:-1]))
            if close:
                found.add((*path[:-1], close))
    return found


def _follows(error: ErrorDetails) -> bool:
    """Whether a list only counts as too short because its entries are wrong."""
    least = (error.get("ctx") or {}).get("min_length", 0)
    return error["type"] == "too_short" and isinstance(error["input"], list) and len(error["input"]) >= least


def _fault(model: type[BaseModel], document: Any, error: ErrorDetails) -> Fault:
    path = path_of(model, error["loc"])
    kind, value, key = list(walk(model, document, path))[-1]
    if error["type"] == "extra_forbidden":
        return _unknown_key(model, document, path)
    if error["type"] == "missing":
        return _missing(path, kind, key)
    if error["type"].startswith("union_tag"):
        return _kind(path, kind, value)
    inside = (error.get("ctx") or {}).get("error")
    if isinstance(inside, OutOfRange):
        return _at_key(path, value, inside)
    if error["type"] == "value_error":
        return _from_record(path, value, error["msg"].removeprefix("Value error, "))
    word = _WORDS.get(error["type"])
    if error["type"] == "json_invalid":
        what = "a text holds a character that cannot be written"
        return Fault(path, what, "", "look for \\u and \\x in quoted texts")
    if word is None:
        return Fault(path, f"{shown(error['input'])}: {error['msg'][:1].lower()}{error['msg'][1:]}")
    what, limit, remedy = word(Wrong(error["input"], error.get("ctx") or {}, kind))
    return Fault(path, what, limit, remedy)


def path_of(model: type[BaseModel], loc: tuple[str | int, ...]) -> Path:
    """Give the path of the file for a place in the model; the kind of a choice is no step of the file.

    Parameters
    ----------
    model
        The outermost record.
    loc
        The place as the model gives it.
    """
    path: list[str | int] = []
    kind: Any = model
    for step in loc:
        chosen = records_by_kind(kind)
        if step in chosen:
            kind = chosen[str(step)]
            continue
        if step == "[key]":
            continue
        path.append(step)
        if is_record(kind):
            key = keys_of(kind).get(str(step))
            kind = bare_type(key.field.annotation) if key else None
        else:
            kind = item_type(kind)
    return tuple(path)


def shown(value: Any) -> str:
    """Write a value of the file for a message.

    Parameters
    ----------
    value
        A plain value.
    """
    if isinstance(value, dict):
        return "a group of keys"
    if isinstance(value, list):
        return "a list"
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return str(value).lower()
    text = repr(value)
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 3] + "..."


def _unknown_key(model: type[BaseModel], document: Any, path: Path) -> Fault:
    known = _keys_at(model, document, path[:-1])
    return Fault(path, "unknown key", remedy=did_you_mean(str(path[-1]), known, "keys"))


def _keys_at(model: type[BaseModel], document: Any, path: Path) -> list[str]:
    record = list(walk(model, document, path))[-1][0]
    return list(keys_of(record)) if is_record(record) else []


def _missing(path: Path, kind: Any, key: Key | None) -> Fault:
    if key is None or (path and isinstance(path[-1], int)):
        return Fault(path, "missing", remedy="write it")
    words = choices_of(kind)
    meaning = key.meaning
    if words:
        meaning = f"{meaning.rstrip('.')}: {', '.join(words)}" if meaning else f"one of {', '.join(words)}"
    return Fault(path, "missing", remedy=meaning)


def _kind(path: Path, kind: Any, value: Any) -> Fault:
    known = sorted(records_by_kind(kind))
    word = value.get("kind") if isinstance(value, dict) else None
    if word is None:
        return Fault((*path, "kind"), "missing", remedy=did_you_mean("", known, "kinds"))
    at = (*path, "kind")
    if not isinstance(word, str):
        return Fault(at, f"{shown(word)} is no kind", remedy=did_you_mean("", known, "kinds"))
    remedy = did_you_mean(word, known, "kinds")
    listed = "" if remedy.startswith("kinds") else f"kinds: {', '.join(known)}"
    return Fault(at, f"unknown kind {word!r}", listed, remedy)


def _from_record(path: Path, value: Any, sentence: str) -> Fault:
    """Point at the key that a record's own check names first."""
    missing = re.match(r"([a-z_]+) is (missing.*)", sentence)
    if missing:
        return Fault((*path, missing[1]), missing[2])
    if isinstance(value, dict) and " are missing" not in sentence:
        word = next((word for word in re.findall(r"[a-z_0-9]+", sentence) if word in value), None)
        return Fault((*path, word), sentence) if word else Fault(path, sentence)
    return Fault(path, sentence)


def _at_key(path: Path, value: Any, error: OutOfRange) -> Fault:
    """Point at the first key of a group that an error of its own check names."""
    words = re.findall(r"[a-z_0-9]+", error.what) if isinstance(value, dict) else []
    key = next((word for word in words if word in value), None)
    return Fault((*path, key) if key else path, error.what, error.limit, error.remedy)


@dataclass(frozen=True)
class Wrong:
    """A value that a key does not accept.

    Parameters
    ----------
    value
        The plain value.
    context
        Bounds of the key, as the model gives them.
    kind
        Type of the key.
    """

    value: Any
    context: Mapping[str, Any]
    kind: Any

    @property
    def shown(self) -> str:
        """The value as a message writes it."""
        return shown(self.value)


#: What is wrong, which limit, what to do.
Words = tuple[str, str, str]


def _whole_number(wrong: Wrong) -> Words:
    whole = isinstance(wrong.value, float) and wrong.value.is_integer()
    remedy = f"write {wrong.value:.0f}" if whole else ""
    if isinstance(wrong.value, str) and re.fullmatch(r"[+-]?\d+", wrong.value.strip()):
        return f"{wrong.shown} is text, not a whole number", "", "take the quotes off"
    return f"{wrong.shown} is not a whole number", "", remedy


def _number(wrong: Wrong) -> Words:
    if isinstance(wrong.value, str) and re.fullmatch(r"[+-]?\d+(\.\d+)?", wrong.value.strip()):
        return f"{wrong.shown} is text, not a number", "", "take the quotes off"
    comma = "decimals are written with a point" if isinstance(wrong.value, str) and "," in wrong.value else ""
    return f"{wrong.shown} is not a number", "", comma


def _text(wrong: Wrong) -> Words:
    if isinstance(wrong.value, int | float):
        return f"{wrong.shown} is not text", "", f'put it into quotes: "{wrong.shown}"'
    return f"{wrong.shown} is not text", "", "write one word or a text in quotes"


def _boolean(wrong: Wrong) -> Words:
    return f"{wrong.shown} is neither true nor false", "", "write true or false, without quotes"


def _choice(wrong: Wrong) -> Words:
    words = choices_of(wrong.kind)
    remedy = did_you_mean(str(wrong.value), words, "write one of") if isinstance(wrong.value, str) else ""
    if remedy.startswith("write"):
        remedy = ""
    listed = ", ".join(word or '"" (nothing)' for word in words)
    return f"{wrong.shown} is not allowed", f"one of {listed}", remedy


def _list(wrong: Wrong) -> Words:
    example = (
        f"write [{wrong.value}]"
        if isinstance(wrong.value, str | int | float)
        else "begin each value with a dash"
    )
    return f"{wrong.shown} is not a list", "", example


def _group(wrong: Wrong) -> Words:
    keys = ", ".join(name for name, key in keys_of(wrong.kind).items() if key.field.is_required())
    remedy = f"write its keys below it or in braces{': ' + keys if keys else ''}"
    return f"{wrong.shown} is not a group of keys", "", remedy


def _free_group(wrong: Wrong) -> Words:
    if records_by_kind(wrong.kind):
        return f"{wrong.shown} is not a group of keys", "", "write keys, such as name and kind"
    return f"{wrong.shown} is not a group of keys", "", "write name: value below it"


def _date(wrong: Wrong) -> Words:
    return f"{wrong.shown} is not a date", "", "write year-month-day, such as 2027-03-31"


def _bound(words: str, name: str) -> Callable[[Wrong], Words]:
    def say(wrong: Wrong) -> Words:
        bound = wrong.context[name]
        text = f"{bound:.0f}" if float(bound).is_integer() else f"{bound:g}"
        return f"{wrong.shown} must be {words} {text}", "", ""

    return say


def _length(words: str, name: str) -> Callable[[Wrong], Words]:
    def say(wrong: Wrong) -> Words:
        bound = wrong.context[name]
        if isinstance(wrong.value, str):
            return f"{wrong.shown} has {len(wrong.value)} characters", f"{words} {bound}", ""
        count = len(wrong.value) if isinstance(wrong.value, list) else wrong.context.get("actual_length", 0)
        return f"{count} entries", f"{words} {bound}", ""

    return say


def _pattern(wrong: Wrong) -> Words:
    form = FORMS.get(wrong.context["pattern"], "the form that is asked")
    return f"{wrong.shown} is not {form}", "", "write it so"


_WORDS: Final[dict[str, Callable[[Wrong], Words]]] = {
    "int_type": _whole_number,
    "int_parsing": _whole_number,
    "int_from_float": _whole_number,
    "int_parsing_size": _whole_number,
    "float_type": _number,
    "float_parsing": _number,
    "finite_number": _number,
    "string_type": _text,
    "bool_type": _boolean,
    "bool_parsing": _boolean,
    "literal_error": _choice,
    "tuple_type": _list,
    "list_type": _list,
    "model_type": _group,
    "model_attributes_type": _group,
    "dict_type": _free_group,
    "date_type": _date,
    "date_parsing": _date,
    "date_from_datetime_parsing": _date,
    "date_from_datetime_inexact": _date,
    "greater_than": _bound("above", "gt"),
    "greater_than_equal": _bound("at least", "ge"),
    "less_than": _bound("below", "lt"),
    "less_than_equal": _bound("at most", "le"),
    "string_too_short": _length("at least", "min_length"),
    "string_too_long": _length("at most", "max_length"),
    "too_short": _length("at least", "min_length"),
    "too_long": _length("at most", "max_length"),
    "string_pattern_mismatch": _pattern,
}
