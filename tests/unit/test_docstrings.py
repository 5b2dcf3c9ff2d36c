"""Every public function of the formula folders says its source, its parameters and their units."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

import sequencer

PACKAGE = Path(sequencer.__file__).parent
FOLDERS = ("gears", "cutting")
#: Names that stand for a number in an annotation: the built-in ones and the aliases of sequencer.units.
NUMBERS = {
    *("int", "float", "Mm", "Deg", "Kg", "Minutes", "Newton", "NewtonMetre", "Kilowatt", "Rpm"),
    *("MetrePerMinute", "Micrometre"),
}
UNIT = re.compile(r"\[[^\]]+\]")


class Documented(NamedTuple):
    """A public function or class with what its docstring should describe."""

    where: str
    docstring: str
    parameters: dict[str, str]
    needs_source: bool


def _annotation(argument: ast.arg) -> str:
    return ast.unparse(argument.annotation) if argument.annotation else ""


def _signature(function: ast.FunctionDef) -> dict[str, str]:
    arguments = function.args
    named = [*arguments.posonlyargs, *arguments.args, *arguments.kwonlyargs]
    found = {each.arg: _annotation(each) for each in named if each.arg not in ("self", "cls")}
    if arguments.vararg:
        found["*" + arguments.vararg.arg] = _annotation(arguments.vararg)
    if arguments.kwarg:
        found["**" + arguments.kwarg.arg] = _annotation(arguments.kwarg)
    return found


def _is_property(function: ast.FunctionDef) -> bool:
    return any("property" in ast.unparse(decorator) for decorator in function.decorator_list)


def _fields(definition: ast.ClassDef) -> dict[str, str]:
    """Give the fields of a dataclass or named tuple, without class variables."""
    shaped = any("dataclass" in ast.unparse(each) for each in definition.decorator_list)
    shaped = shaped or any("NamedTuple" in ast.unparse(base) for base in definition.bases)
    if not shaped:
        return {}
    return {
        each.target.id: ast.unparse(each.annotation)
        for each in definition.body
        if isinstance(each, ast.AnnAssign)
        and isinstance(each.target, ast.Name)
        and "ClassVar" not in ast.unparse(each.annotation)
        and "init=False" not in ast.unparse(each)
    }


def _documented(path: Path) -> Iterator[Documented]:
    module = path.relative_to(PACKAGE).as_posix()
    for each in ast.parse(path.read_text(encoding="utf-8")).body:
        if not isinstance(each, ast.FunctionDef | ast.ClassDef) or each.name.startswith("_"):
            continue
        where = f"{module}: {each.name}"
        if isinstance(each, ast.FunctionDef):
            yield Documented(where, ast.get_docstring(each) or "", _signature(each), True)
            continue
        yield Documented(where, ast.get_docstring(each) or "", _fields(each), False)
        for method in each.body:
            if isinstance(method, ast.FunctionDef) and not method.name.startswith("_"):
                expected = {} if _is_property(method) else _signature(method)
                yield Documented(f"{where}.{method.name}", ast.get_docstring(method) or "", expected, False)


def _files() -> list[Path]:
    return [
        path
        for folder in FOLDERS
        for path in sorted((PACKAGE / folder).rglob("*.py"))
        if not path.name.startswith("_")
    ]


def _described(docstring: str) -> dict[str, str]:
    """Give the parameters of a numpydoc docstring with their text."""
    match = re.search(r"^Parameters\n-+\n(.*?)(?=^\w[\w ]*\n-+\n|\Z)", docstring, re.M | re.S)
    if match is None:
        return {}
    found: dict[str, str] = {}
    names: list[str] = []
    for line in match[1].splitlines():
        if line and not line[0].isspace():
            names = [name.strip() for name in line.split(",")]
            found.update(dict.fromkeys(names, ""))
        else:
            for name in names:
                found[name] += line + "\n"
    return found


ALL = [each for path in _files() for each in _documented(path)]


@pytest.mark.parametrize("each", ALL, ids=lambda each: each.where)
def test_docstring_is_complete(each: Documented) -> None:
    """A summary, the source of a formula, each parameter under its own name and numbers with their unit."""
    lines = each.docstring.splitlines()
    assert lines, f"{each.where} has no docstring"
    assert lines[0].endswith("."), f"{each.where}: the first line is one sentence"
    if each.needs_source:
        assert len(lines) > 2, f"{each.where}: no source"
        assert not lines[1], f"{each.where}: no blank line behind the summary"
        assert re.match(r"Source: \S", lines[2]), f"{each.where}: the body starts with its source"
    described = _described(each.docstring)
    assert list(described) == list(each.parameters), f"{each.where}: documented parameters"
    for name, annotation in each.parameters.items():
        assert described[name].strip(), f"{each.where}: {name} is not explained"
        if NUMBERS & set(re.findall(r"\w+", annotation)):
            assert UNIT.search(described[name]), f"{each.where}: {name} has no [unit]"


def test_the_checker_sees_both_folders() -> None:
    """The test above is not empty: each folder has many documented functions."""
    for folder in FOLDERS:
        assert sum(each.where.startswith(folder) and each.needs_source for each in ALL) > 20


EXAMPLE = """Summary.

Source: derived

Parameters
----------
a, b
    Lengths [mm].
c
    Count.

Raises
------
X
    When it is wrong."""


def test_the_checker_notices_a_missing_unit() -> None:
    """The parser tells a parameter with a unit from one without, and stops at the next section."""
    described = _described(EXAMPLE)
    assert list(described) == ["a", "b", "c"]
    assert UNIT.search(described["b"])
    assert not UNIT.search(described["c"])
