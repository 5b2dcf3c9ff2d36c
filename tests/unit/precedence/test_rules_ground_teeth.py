"""Teeth that are cut with stock and ground outside: cut, deburr, harden where asked, grind, measure.

Common practice, no source.
"""

from __future__ import annotations

import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import changed, demands, graph_of, listed, op, spoken, usual_operations, wheel

from sequencer.operations import BENCH, Action, Operation, Stage, operation
from sequencer.part import Part
from sequencer.precedence import Relation

KEY = {
    "name": "key", "kind": "keyway", "on": "bore", "z_from": "0 mm", "z_to": "100 mm",
    "width": "20 mm", "depth": "6 mm",
}  # fmt: skip


@pytest.fixture(params=[False, True], ids=["sent out", "sent out as a cut"], autouse=True)
def _sent_out_counts(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is sent out may count as a cut of the operation or not; the rules see it as one either way."""
    sent = {Action.SEND_OUT} if request.param else set()
    cutting = operation._CUTTING - {Action.SEND_OUT} | sent
    monkeypatch.setattr(operation, "_CUTTING", frozenset(cutting))


@pytest.fixture(params=["no sides", "sides"])
def flags(request: pytest.FixtureRequest) -> bool:
    """Whether the operations say on which side of the hardening they lie."""
    return bool(request.param == "sides")


def treated(kind: str, **keys: Any) -> Part:
    """Make a wheel with this heat treatment; its datum bore is reached in II with the teeth."""
    heat = {"heat_treatment": {"kind": kind}} if kind else {}
    return wheel(KEY, **heat, **keys)


def ground(made: Part, *, soft: bool | None = None, late: bool | None = None) -> list[Operation]:
    """Operations of a wheel whose teeth are ground outside and measured when they are back."""
    found = usual_operations(made, {"teeth/measure": BENCH})
    for name in ("teeth/rough", "teeth/finish", "teeth/deburr"):
        found = changed(found, name, hard=soft)
    found = changed(found, "teeth/measure", hard=late)
    place = next(i for i, each in enumerate(found) if each.name == "teeth/finish")
    grind = op("teeth/grind", Action.SEND_OUT, Stage.HARD, BENCH, tool="", hard=late)
    return [*found[: place + 1], grind, *found[place + 1 :]]


def route(made: Part, operations: list[Operation], *names: str) -> None:
    """Check that each of these must come before the next."""
    graph = graph_of(made, operations)
    for earlier, later in pairwise(names):
        assert graph.leads(earlier, later), (earlier, later)


def test_teeth_are_cut_deburred_ground_and_measured() -> None:
    made = treated("")
    route(made, ground(made), "teeth/rough", "teeth/finish", "teeth/deburr", "teeth/grind", "teeth/measure")
    assert not graph_of(made, ground(made)).leads("teeth/grind", "key/finish")
    assert "teeth/finish > key/finish?" in demands(spoken("R28", listed(made, ground(made))))


def test_nitrided_teeth_are_ground_before(flags: bool) -> None:
    made = treated("nitriding")
    operations = ground(made, soft=False, late=False) if flags else ground(made)
    names = ("teeth/finish", "teeth/deburr", "teeth/grind", "part/heat_treat", "part/inspect")
    route(made, operations, *names)


def test_induction_hardened_teeth_are_ground_after_hardening_and_bore(flags: bool) -> None:
    made = treated("induction hardening")
    operations = ground(made, soft=False, late=True) if flags else ground(made)
    names = ("bore/rough", "teeth/finish", "teeth/deburr", "part/heat_treat", "bore/finish", "teeth/grind")
    route(made, operations, *names, "teeth/measure")
    assert not [f for f in graph_of(made, operations).findings if "which moves it" in f.what]


def test_a_bore_out_of_reach_of_the_teeth_is_finished_before_hardening_with_a_warning() -> None:
    made = treated("induction hardening")
    operations = [
        replace(each, alternatives=op(each.name, where="I").alternatives) if each.feature == "bore" else each
        for each in ground(made)
    ]
    graph = graph_of(made, operations)
    found = [f for f in graph.findings if f.subject == "rule R44" and "which moves it" in f.what]
    assert [f.severity for f in found] == ["warning"]
    assert "R44 wants part/heat_treat before bore/finish" in found[0].limit
    assert graph.leads("bore/finish", "part/heat_treat")


def test_a_bore_that_soft_finished_teeth_need_is_reported() -> None:
    """Without grinding the teeth need the finished bore (R2), which hardening then moves."""
    made = treated("induction hardening")
    graph = graph_of(made)
    assert graph.leads("bore/finish", "teeth/finish")
    found = [f for f in graph.findings if f.subject == "rule R44" and "which moves it" in f.what]
    assert "(R2)" in found[0].limit


def shaped(made: Part, back_to: str) -> list[Operation]:
    """Operations of a wheel whose teeth are shaped outside, then deburred and measured, as is the bore."""
    found = usual_operations(made, {"teeth/deburr": back_to, "teeth/measure": back_to}, "II/wash")
    sent = op("teeth/finish", Action.SEND_OUT, Stage.FINISH, BENCH, tool="")
    found = [sent if each.name == sent.name else each for each in found if each.name != "teeth/rough"]
    return [*found, op("bore/measure", Action.MEASURE, Stage.MEASURE)]


def test_nothing_is_measured_before_the_one_washing_of_a_clamping_that_is_visited_twice() -> None:
    made = wheel()
    graph = graph_of(made, shaped(made, "II"))
    route(made, shaped(made, "II"), "bore/finish", "teeth/finish", "teeth/deburr", "II/wash", "bore/measure")
    found = [f for f in graph.findings if f.subject == "rule R36"]
    assert [f.what for f in found] == [
        "bore is measured after unclamping: an error found then can hardly be corrected"
    ]
    assert "list it once more as a further one, with its own washing" in found[0].remedy


def test_in_a_single_visit_the_bore_is_measured_before_it_is_unclamped() -> None:
    made = wheel()
    graph = graph_of(made, shaped(made, BENCH))
    assert not [f for f in graph.findings if f.subject == "rule R36"]
    bound = {(each.first, each.second) for each in graph.musts if each.relation is Relation.SAME_CLAMPING}
    assert ("bore/finish", "bore/measure") in bound
    assert graph.leads("II/wash", "bore/measure")


def test_shaped_teeth_are_deburred_when_they_are_back() -> None:
    made = wheel()
    operations = [each for each in usual_operations(made) if each.name != "teeth/rough"]
    sent = op("teeth/finish", Action.SEND_OUT, Stage.FINISH, BENCH, tool="")
    route(
        made,
        changed(operations, "teeth/finish", action=sent.action, alternatives=sent.alternatives),
        *("teeth/blank_finish", "teeth/finish", "teeth/deburr", "teeth/measure"),
    )
