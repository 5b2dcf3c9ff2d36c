"""Gear parts of any size made from the shipped parts: their features, stages, methods and clampings repeated.

A shipped part is planned up to its integers. Whole features are left out until it is small enough, or copied
until it is large enough: a copy has the operations, alternatives and rules of its feature, and half of the
copies have tools of their own, as another diameter or module would.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from pathlib import Path

from sequencer.ordering.problem import CONSTRAINT_KINDS, Problem

PARTS = Path(__file__).parents[2] / "parts"

#: Fields whose entries begin with a clamping instead of an operation.
BY_CLAMPING = ("opens", "closes", "opens_for", "closes_for")

#: Fields whose entries end with an amount instead of an operation.
WITH_AMOUNT = ("minimum_wait", "soft_before")

FIELDS = (
    *(kind for kind in CONSTRAINT_KINDS if kind not in ("either_or", "pinned", "single_visit")),
    "soft_before",
)


def shipped_names() -> tuple[str, ...]:
    """Names of the shipped parts."""
    files = sorted(PARTS.glob("*.yaml"))
    return tuple(file.stem for file in files if "\nfeatures:" in file.read_text(encoding="utf-8"))


@cache
def shipped_problem(name: str) -> tuple[Problem, tuple[str, ...]]:
    """Give a shipped part as an ordering problem, with the feature of each operation.

    Parameters
    ----------
    name
        Name of its file.
    """
    from sequencer.files import read_part_and_shop
    from sequencer.operations import make_operations
    from sequencer.precedence.make import make_graph
    from sequencer.sequencing.integers import make_problem

    operations = make_operations(*read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml"))
    integers = make_problem(operations, make_graph(operations))
    return integers.problem, tuple(each.feature for each in integers.numbering.operations)


def repeated(name: str, size: int, seed: int = 0) -> Problem:
    """Make a part of about `size` operations from a shipped one.

    Parameters
    ----------
    name
        Name of the shipped part.
    size
        Operations wanted; features are left out or copied until it has about so many.
    seed
        Chooses the features.
    """
    problem, owner = shipped_problem(name)
    rnd = random.Random(f"{name} {size} {seed}")
    clampings = {feature for feature in owner if _belongs_to_clamping(problem, owner, feature)}
    features = [feature for feature in dict.fromkeys(owner) if feature not in clampings]
    rnd.shuffle(features)
    while problem.size > size and features:
        kept = [op for op, feature in enumerate(owner) if feature != features[-1]]
        problem, owner = _only(problem, kept), tuple(owner[op] for op in kept)
        features.pop()
    originals = {feature: [op for op, of in enumerate(owner) if of == feature] for feature in features}
    number = 0
    while problem.size < size and originals:
        feature = features[number % len(features)]
        problem = _copied(problem, originals[feature], own_tools=rnd.random() < 0.5)
        number += 1
    return problem


def _belongs_to_clamping(problem: Problem, owner: tuple[str, ...], feature: str) -> bool:
    """Whether operations of a feature need no tool at all: work on the whole part and on clampings."""
    ways = [way for op, of in enumerate(owner) if of == feature for way in problem.operations[op]]
    return all(way.tool < 0 for way in ways)


def _span(name: str, entry: tuple[int, ...]) -> tuple[int, int]:
    """First and last place of an entry that holds operations."""
    return int(name in BY_CLAMPING), len(entry) - int(name in WITH_AMOUNT)


def _only(problem: Problem, kept: list[int]) -> Problem:
    """Leave only some operations, with the constraints among them."""
    number = {op: new for new, op in enumerate(kept)}
    fields: dict[str, tuple[tuple[int, ...], ...]] = {}
    for name in FIELDS:
        entries = []
        for entry in getattr(problem, name):
            first, last = _span(name, entry)
            if all(op in number for op in entry[first:last]):
                entries.append((*entry[:first], *(number[op] for op in entry[first:last]), *entry[last:]))
        fields[name] = tuple(entries)
    stays = tuple(number[op] for op in problem.re_references if op in number)
    ways = tuple(problem.operations[op] for op in kept)
    return replace(problem, operations=ways, re_references=stays, **fields)  # type: ignore[arg-type]


def _copied(problem: Problem, members: list[int], *, own_tools: bool) -> Problem:
    """Add a copy of some operations, bound to the others as they are."""
    number = {op: problem.size + place for place, op in enumerate(members)}
    tools = sorted({way.tool for op in members for way in problem.operations[op] if way.tool >= 0})
    new = {tool: len(problem.tool_change) + place if own_tools else tool for place, tool in enumerate(tools)}
    fields: dict[str, tuple[tuple[int, ...], ...]] = {}
    for name in FIELDS:
        entries = dict.fromkeys(getattr(problem, name))
        for entry in getattr(problem, name):
            first, last = _span(name, entry)
            if any(op in number for op in entry[first:last]):
                moved = (number.get(op, op) for op in entry[first:last])
                entries[(*entry[:first], *moved, *entry[last:])] = None
        fields[name] = tuple(entries)
    ways = tuple(
        tuple(replace(way, tool=new.get(way.tool, way.tool)) for way in problem.operations[op])
        for op in members
    )
    added = tuple(problem.tool_change[tool] for tool in tools) if own_tools else ()
    return replace(
        problem,
        operations=(*problem.operations, *ways),
        tool_change=(*problem.tool_change, *added),
        re_references=(*problem.re_references, *(number[op] for op in problem.re_references if op in number)),
        **fields,  # type: ignore[arg-type]
    )
