"""YAML text as a tree of values that know their line and column.

The rules are the core schema of YAML 1.2: `on` and `yes` are no booleans, `010` is ten, dates stay text.
Anchors, aliases and merge keys work within limits; tags, a second document, empty values, endless numbers and
keys written twice are faults.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from math import inf
from typing import Final
from unicodedata import category

import yaml

from sequencer.files.marks import BadText, Mark, TextFault
from sequencer.files.syntax import syntax_fault

#: Deeper nesting than this is no part and no shop.
DEEPEST: Final = 40
#: Values of a file, those that aliases repeat counted again.
MOST_VALUES: Final = 100_000
#: A longer number is a slip of the keyboard.
LONGEST_NUMBER: Final = 40

#: Marks that turn the direction of letters round (Unicode, bidirectional controls).
_DIRECTION: Final = "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_INTEGER = re.compile(r"[-+]?[0-9]+")
_BASED = re.compile(r"0o[0-7]+|0x[0-9a-fA-F]+")
_FLOAT = re.compile(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?")
_ENDLESS = re.compile(r"[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)")
_NULL = ("", "~", "null", "Null", "NULL")
_BOOLEAN: Final = {"true": True, "True": True, "TRUE": True, "false": False, "False": False, "FALSE": False}

Plain = str | int | float | bool | None | list["Plain"] | dict[str, "Plain"]


@dataclass
class Value:
    """One value of the file; open while its end has not been read.

    Parameters
    ----------
    mark
        Where it begins.
    plain
        What it says; lists and groups of keys are in `items` and `keys`.
    """

    mark: Mark
    plain: str | int | float | bool | None = None


@dataclass
class Listed(Value):
    """A list.

    Parameters
    ----------
    items
        Its values.
    """

    items: list[Value] = field(default_factory=list)


@dataclass
class Keyed(Value):
    """A group of keys.

    Parameters
    ----------
    keys
        Each key with its mark and its value.
    merged
        What << names: groups whose keys are taken over where this one has none of that name.
    """

    keys: dict[str, tuple[Mark, Value]] = field(default_factory=dict)
    merged: list[tuple[Mark, Value]] = field(default_factory=list)


@dataclass(frozen=True)
class Document:
    """What a file says.

    Parameters
    ----------
    root
        The outermost value; None if the file says nothing.
    faults
        Faults after which it could be read on.
    """

    root: Value | None
    faults: tuple[TextFault, ...]

    def place(self, path: tuple[str | int, ...]) -> tuple[Mark, Mark]:
        """Give the marks of the key and of the value at a path; of the nearest value above where it ends.

        Parameters
        ----------
        path
            Keys and positions from the outermost value.
        """
        value = self.root
        key = at = value.mark if value is not None else Mark(1, 1)
        for step in path:
            if isinstance(value, Keyed) and step in value.keys:
                key, value = value.keys[str(step)]
            elif isinstance(value, Listed) and isinstance(step, int) and step < len(value.items):
                value = value.items[step]
                key = value.mark
            else:
                break
            at = value.mark
        return key, at


def is_hidden(sign: str) -> bool:
    """Say whether a sign of a text cannot be printed: controls, separators of lines, marks of direction.

    Parameters
    ----------
    sign
        One character.
    """
    if sign in "\n\t":
        return False
    return category(sign) in ("Cc", "Cs", "Zl", "Zp") or sign in _DIRECTION


def plain(value: Value) -> Plain:
    """Give a value without its marks.

    Parameters
    ----------
    value
        A value of a document.
    """
    if isinstance(value, Keyed):
        return {key: plain(inner) for key, (_, inner) in value.keys.items()}
    if isinstance(value, Listed):
        return [plain(inner) for inner in value.items]
    return value.plain


def read_tree(text: str) -> Document:
    """Read YAML text.

    Parameters
    ----------
    text
        The text of the file.

    Raises
    ------
    BadText
        When the text is no YAML or breaks a limit, so that nothing after it can be understood.
    """
    reader = _Reader(text)
    root = reader.read()
    return Document(root, tuple(reader.faults))


class _Reader:
    """Builds the tree from the events of the parser, without recursion."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.faults: list[TextFault] = []
        self.root: Value | None = None
        self.open: list[Value] = []
        self.key: list[tuple[Mark, str] | None] = []
        self.began: list[tuple[str | None, int]] = []
        self.anchors: dict[str, tuple[Value, int]] = {}
        self.count = 0

    def read(self) -> Value | None:
        documents = 0
        try:
            for event in yaml.parse(self.text, Loader=_LOADER):
                if isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    if documents > 1:
                        raise _stop(event, "a second document begins here", "one document", "take it out")
                else:
                    self._take(event)
        except yaml.YAMLError as error:
            raise BadText(syntax_fault(error, self.text)) from None
        return self.root

    def _take(self, event: yaml.Event) -> None:
        if isinstance(event, yaml.ScalarEvent):
            self._scalar(event)
        elif isinstance(event, yaml.AliasEvent):
            self._alias(event)
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            self._begin(event)
        elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            self._end()

    def _scalar(self, event: yaml.ScalarEvent) -> None:
        _refuse_tag(event)
        if self.open and isinstance(self.open[-1], Keyed) and self.key[-1] is None:
            self._signs(event)
            self.key[-1] = (_mark(event), event.value)
            return
        self._signs(event)
        value = Value(_mark(event))
        plainly = event.style in (None, "")
        value.plain = self._resolved(event.value, value.mark) if plainly else event.value
        self._remember(event.anchor, value, 1)
        self._place(value, event, 1)

    def _signs(self, event: yaml.ScalarEvent) -> None:
        """Signs that no one sees would steer the screen or turn the letters of a sheet round."""
        sign = next((sign for sign in event.value if is_hidden(sign)), None)
        if sign is not None:
            what = f"the text holds the control character U+{ord(sign):04X}"
            limit = "letters, digits and signs that can be printed"
            self.faults.append(TextFault(_mark(event), what, limit, "take it out"))

    def _resolved(self, text: str, mark: Mark) -> str | int | float | bool | None:
        """Read an unquoted word as the core schema does; what is no usable value becomes a fault."""
        if text in _NULL:
            if self.open:
                what = "nothing is written here"
                self.faults.append(TextFault(mark, what, remedy="write a value, or take the key out"))
            return None
        if text in _BOOLEAN:
            return _BOOLEAN[text]
        integer, based = _INTEGER.fullmatch(text), _BASED.fullmatch(text)
        if not (integer or based or _FLOAT.fullmatch(text) or _ENDLESS.fullmatch(text)):
            return text
        number: int | float = inf
        if len(text) <= LONGEST_NUMBER and not _ENDLESS.fullmatch(text):
            number = int(text, 10 if integer else 0) if integer or based else float(text)
        if not -1e300 < number < 1e300:
            shown = text if len(text) <= LONGEST_NUMBER else text[:12] + "..."
            limit = f"at most {LONGEST_NUMBER} figures and no infinity"
            self.faults.append(TextFault(mark, f"{shown} is no usable number", limit, "correct the number"))
            return None
        return number

    def _alias(self, event: yaml.AliasEvent) -> None:
        known = self.anchors.get(event.anchor or "")
        if known is None:
            remedy = f"write &{event.anchor} at a value further up"
            raise _stop(event, f"alias *{event.anchor} has no finished anchor above it", remedy=remedy)
        self._place(known[0], event, known[1])

    def _begin(self, event: yaml.MappingStartEvent | yaml.SequenceStartEvent) -> None:
        _refuse_tag(event)
        if len(self.open) >= DEEPEST:
            limit = f"at most {DEEPEST} levels"
            raise _stop(
                event, "the values are nested too deep", limit, "check the brackets and the indentation"
            )
        mark = _mark(event)
        value = Keyed(mark) if isinstance(event, yaml.MappingStartEvent) else Listed(mark)
        self._place(value, event, 1)
        self.open.append(value)
        self.key.append(None)
        self.began.append((event.anchor, self.count))

    def _end(self) -> None:
        value = self.open.pop()
        self.key.pop()
        anchor, before = self.began.pop()
        if isinstance(value, Keyed):
            for mark, named in value.merged:
                self._merge(value, mark, named)
        self._remember(anchor, value, self.count - before + 1)

    def _remember(self, anchor: str | None, value: Value, size: int) -> None:
        if anchor is not None:
            self.anchors[anchor] = (value, size)

    def _place(self, value: Value, event: yaml.NodeEvent, size: int) -> None:
        """Put a value into the list or the group of keys that is open."""
        self.count += size
        if self.count > MOST_VALUES:
            what = "the file says too much, values repeated by aliases counted"
            limit = f"at most {MOST_VALUES} values"
            raise _stop(event, what, limit, "check that it is a part or shop file")
        if not self.open:
            self.root = value
            return
        around, key = self.open[-1], self.key[-1]
        if isinstance(around, Listed):
            around.items.append(value)
        elif isinstance(around, Keyed) and key is None:
            raise _stop(event, "a key is one word here, no list and no group", remedy="write key: value")
        elif isinstance(around, Keyed) and key is not None:
            self.key[-1] = None
            self._put(around, *key, value)

    def _put(self, around: Keyed, mark: Mark, name: str, value: Value) -> None:
        if name == "<<":
            around.merged.append((mark, value))
        elif name in around.keys:
            first = around.keys[name][0].line
            fault = TextFault(
                mark, f"{name!r} is written twice", f"first in line {first}", "keep one of the two"
            )
            self.faults.append(fault)
        else:
            around.keys[name] = (mark, value)

    def _merge(self, around: Keyed, mark: Mark, value: Value) -> None:
        """Take keys over, once the list that << may name is complete."""
        groups = value.items if isinstance(value, Listed) else [value]
        for group in groups:
            if isinstance(group, Keyed):
                for name, held in group.keys.items():
                    around.keys.setdefault(name, held)
            else:
                what, remedy = "<< takes over groups of keys, this is none", "name an alias such as *tool"
                self.faults.append(TextFault(mark, what, remedy=remedy))


def _mark(event: yaml.Event) -> Mark:
    at = event.start_mark
    return Mark(at.line + 1, at.column + 1) if at is not None else Mark(1, 1)


def _stop(event: yaml.Event, what: str, limit: str = "", remedy: str = "") -> BadText:
    return BadText(TextFault(_mark(event), what, limit, remedy))


def _refuse_tag(event: yaml.ScalarEvent | yaml.MappingStartEvent | yaml.SequenceStartEvent) -> None:
    if event.tag not in (None, "!"):
        raise _stop(event, f"tag {event.tag!r} is not used in these files", remedy="take the tag out")
