"""Faults of YAML syntax in plain words."""

from __future__ import annotations

from typing import Final

import yaml

from sequencer.files.marks import Mark, TextFault

_INDENT = "begin each key of a group in the same column, two spaces further right than the line above"
_QUOTE = 'put the text into "quotes"'
_SPACES = "indent with spaces"

#: Piece of the parser's message, what it means and what to do; the first that fits counts.
_WORDS: Final = (
    ("maximum nesting depth", "the values are nested too deep", "check the brackets and the indentation"),
    ("tab character", "a tab is used to indent", _SPACES),
    ("incompatible YAML document", "the version line is not known", "take the line %YAML out"),
    (
        "expected ',' or ']'",
        "a list opened with [ is not closed",
        "write ] at its end, commas between values",
    ),
    ("expected ',' or '}'", "a group opened with { is not closed", "write } at its end, commas between keys"),
    ("unexpected end of stream", "a quoted text is not closed", "write the second quote"),
    (
        "unknown escape character",
        "\\ begins an unknown sign in this text",
        "write 'single quotes' or two \\\\",
    ),
    (
        "could not find expected ':'",
        "this line has no key and colon",
        "write key: value, a space after the colon",
    ),
    ("expected '-' indicator", "a key stands where the list above goes on", _INDENT),
    (
        "did not find expected key",
        "the indentation fits no line above, or a quote or bracket is odd",
        _INDENT,
    ),
    (
        "block sequence entries are not allowed",
        "a list cannot begin behind a key",
        "begin it in the next line",
    ),
    ("did not find expected node content", "a bracket or sign stands here without a value", "take it out"),
)


def syntax_fault(error: yaml.YAMLError, text: str) -> TextFault:
    """Say what is wrong with YAML text and what to do.

    Parameters
    ----------
    error
        What the parser says.
    text
        The text of the file.
    """
    if isinstance(error, yaml.reader.ReaderError):
        mark = _mark_of(text, error.position)
        code = error.character if isinstance(error.character, int) else ord(error.character)
        what = f"character 0x{code:02x} does not belong into a text file"
        return TextFault(mark, what, remedy="delete it, or check that it is a part or shop file")
    problem = str(getattr(error, "problem", None) or error)
    at = getattr(error, "problem_mark", None)
    mark = Mark(at.line + 1, at.column + 1) if at else Mark(1, 1)
    line = _line(text, mark.line)
    indent = line[: len(line) - len(line.lstrip())]
    if "\t" in indent:
        return TextFault(Mark(mark.line, indent.index("\t") + 1), "a tab is used to indent", remedy=_SPACES)
    began = getattr(error, "context_mark", None)
    if "mapping values are not allowed" in problem:
        return _second_colon(mark, line)
    if "cannot start any token" in problem:
        sign = line[mark.column - 1 : mark.column]
        return TextFault(mark, f"a text cannot begin with {sign!r}", remedy=_QUOTE)
    for piece, what, remedy in _WORDS:
        if piece in problem:
            limit = f"it begins in line {began.line + 1}" if began and "is not closed" in what else ""
            return TextFault(mark, what, limit, remedy)
    return TextFault(mark, f"no YAML: {problem}", remedy="check the signs and the indentation of this line")


def _second_colon(mark: Mark, line: str) -> TextFault:
    if ": " in line[: mark.column - 1]:
        return TextFault(mark, "a second colon stands in this value", remedy=_QUOTE + " or begin a new line")
    return TextFault(mark, "a key is indented below a key that has a value already", remedy=_INDENT)


def _line(text: str, number: int) -> str:
    lines = text.splitlines()
    return lines[number - 1] if number <= len(lines) else ""


def _mark_of(text: str, position: int) -> Mark:
    before = text[:position]
    return Mark(before.count("\n") + 1, position - (before.rfind("\n") + 1) + 1)
