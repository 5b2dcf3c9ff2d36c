"""Paths of keys in part and shop values, and setting the value that stands there."""

from __future__ import annotations

import copy
import re
from typing import Any, Final

from sequencer.errors import SequencerError
from sequencer.part.fault import did_you_mean
from sequencer.units import parse

ROOTS: Final = ("part", "shop")
_INDEX: Final = re.compile(r"\[?(\d+)\]?$")
_WORD: Final = re.compile(r"[^.\[\]]+|\[\d+\]")
#: Keys that say where something lies on the axis.
_ON_AXIS: Final = ("z", "z_from", "z_to")
_ALIKE: Final = 1e-6


def changed(values: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """Give part and shop values with some keys set; the values given stay as they are.

    Parameters
    ----------
    values
        "part" and "shop" as plain values.
    changes
        Paths and values, set in this order.

    Raises
    ------
    SequencerError
        When a path leads nowhere.
    """
    made = copy.deepcopy(values)
    for path, value in changes.items():
        _set(made, path, copy.deepcopy(value))
    return made


def _set(values: dict[str, Any], path: str, value: Any) -> None:
    words = _WORD.findall(path)
    if words[0] not in ROOTS or len(words) < 2:
        raise _lost(
            path, f"it does not begin with {' or '.join(ROOTS)} and a key", "write part.lot, for example"
        )
    here: Any = values
    for at, word in enumerate(words[:-1]):
        here = _step(here, word, path, words[:at])
    last = words[-1]
    if isinstance(here, dict):
        if last == "width" and last not in here and words[0] == "part" and "z_to" in here:
            _widen(values["part"], here, value, path)
        else:
            here[last] = value
    elif isinstance(here, list):
        here[_position(here, last, path, words[:-1])] = value
    else:
        raise _lost(
            path, f"{'.'.join(words[:-1])} is a single value and has no keys", "name a key further up"
        )


def _step(here: Any, word: str, path: str, before: list[str]) -> Any:
    if isinstance(here, dict):
        if word not in here and before and not (before == ["part"] or before == ["shop"]):
            raise _lost(
                path, f"{'.'.join(before)} has no key {word!r}", did_you_mean(word, here, "keys there")
            )
        return here.setdefault(word, {})
    if isinstance(here, list):
        return here[_position(here, word, path, before)]
    raise _lost(path, f"{'.'.join(before)} is a single value and has no keys", "name a key further up")


def _position(items: list[Any], word: str, path: str, before: list[str]) -> int:
    names = [item.get("name") for item in items if isinstance(item, dict)]
    if word in names:
        return next(
            at for at, item in enumerate(items) if isinstance(item, dict) and item.get("name") == word
        )
    match = _INDEX.match(word)
    if match and int(match[1]) < len(items):
        return int(match[1])
    where = ".".join(before)
    if match:
        raise _lost(
            path, f"{where} has {len(items)} entries, none is number {match[1]}", "the first one is 0"
        )
    known = [name for name in names if isinstance(name, str)]
    raise _lost(path, f"{where} has no entry called {word!r}", did_you_mean(word, known, "entries"))


def _lost(path: str, what: str, remedy: str) -> SequencerError:
    return SequencerError(what, where=f"key {path}", remedy=remedy)


def _widen(part: dict[str, Any], feature: dict[str, Any], width: Any, path: str) -> None:
    """Make a feature wider or narrower from its lower end; all that lies above its upper end moves along."""
    try:
        lower, upper = (float(parse(feature[key], "length")) for key in ("z_from", "z_to"))
        wanted = float(parse(width, "length"))
    except (ValueError, KeyError) as error:
        raise _lost(path, f"no width can be set: {error}", 'write a length, such as "26 mm"') from None
    if wanted <= 0:
        raise _lost(path, f"a width of {width} is none", "write a length above 0")
    _shift(part, upper, lower + wanted - upper)


def _shift(value: Any, above: float, by: float) -> None:
    """Move everything that lies at or above a height."""
    if isinstance(value, list):
        for item in value:
            _shift(item, above, by)
    elif isinstance(value, dict):
        for key, inner in value.items():
            if key not in _ON_AXIS:
                _shift(inner, above, by)
                continue
            try:
                height = float(parse(inner, "length"))
            except ValueError:
                continue
            if height >= above - _ALIKE:
                value[key] = f"{height + by:.9g} mm"
