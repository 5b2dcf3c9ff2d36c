"""Orders given by hand: rules broken, cost beside the best, and what is free to move."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from sequencer.cli.app import app
from sequencer.errors import BadFile, SequencerError
from sequencer.files import read_part_and_shop
from sequencer.files.order_file import read_order
from sequencer.papers.order_text import free_lines, judged_lines, order_lines, place_lines
from sequencer.plan import Plan, make_plan
from sequencer.sequencing import free_moves, judge_order

PARTS = Path(__file__).parents[3] / "parts"


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(*read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml"))


@pytest.fixture(scope="module")
def stages(plan: Plan):
    return plan.operations, plan.graph, plan.sequence


def written(plan: Plan, folder: Path, *swaps: tuple[str, str]) -> tuple[tuple[str, str], ...]:
    text = "\n".join(order_lines(plan))
    for one, other in swaps:
        text = text.replace(f"\n{one}\n", "\n?\n").replace(f"\n{other}\n", f"\n{one}\n")
        text = text.replace("\n?\n", f"\n{other}\n")
    file = folder / "order.txt"
    file.write_text(text, encoding="utf-8")
    return tuple((step.operation, step.clamping) for step in read_order(file))


def test_the_best_order_given_back_costs_the_same(plan, stages, tmp_path):
    judged = judge_order(*stages, written(plan, tmp_path))
    assert judged.allowed
    assert judged.shoulds == ()
    assert judged.extra_minutes == pytest.approx(0.0)
    assert [step.operation.name for step in judged.sequence.steps] == [
        step.operation.name for step in plan.sequence.steps
    ]
    assert "breaks no must" in judged_lines("order.txt", judged)[0]


def test_finishing_before_roughing_breaks_a_must(plan, stages, tmp_path):
    judged = judge_order(*stages, written(plan, tmp_path, ("bore/rough", "bore/finish")))
    assert not judged.allowed
    assert any("bore/rough before bore/finish" in each for each in judged.broken)


def test_a_detour_over_another_tool_costs_its_changes(plan, stages, tmp_path):
    """The chamfer tool between two cuts of the finishing bar: no must is broken, minutes are lost."""
    judged = judge_order(
        *stages, written(plan, tmp_path, ("bore_chamfers/finish_lower", "lower_face/finish"))
    )
    assert not judged.broken
    assert judged.extra_minutes > 0
    assert "more)" in judged_lines("order.txt", judged)[-1]


def test_work_in_a_clamping_that_does_not_reach_it_is_told(plan, stages, tmp_path):
    judged = judge_order(*stages, written(plan, tmp_path, ("hub/rough", "keyway/finish")))
    assert any(each.startswith("hub/rough is not done in I but in II") for each in judged.elsewhere)


@pytest.mark.parametrize(
    ("given", "message"),
    [
        ((("bore/rouhg", ""),), "no operation is called 'bore/rouhg'.*Did you mean bore/rough"),
        ((("bore/rough", ""),), "operations are missing: part/receive"),
        ((("bore/rough", "IX"),), "the plan has no clamping 'IX'"),
    ],
)
def test_other_orders_are_refused(stages, given, message):
    with pytest.raises(SequencerError, match=message):
        judge_order(*stages, given)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("a/finish\na/finish\n", "line 2: a/finish stands here and in line 1"),
        ("[I\na/finish\n", "line 1: the bracket of '\\[I' is not closed"),
        ("# nothing\n", "no operation stands in it"),
    ],
)
def test_bad_order_files_are_refused(tmp_path, text, message):
    file = tmp_path / "order.txt"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadFile, match=message):
        read_order(file)


def test_a_missing_order_file_is_told(tmp_path):
    with pytest.raises(BadFile, match="No such file"):
        read_order(tmp_path / "none.txt")


def test_moving_what_is_free_costs_nothing(plan, stages, tmp_path):
    free = free_moves(*stages)
    move = next(each for each in free if each.operation == "keyway/finish")
    assert (move.after, move.before) == ("bore_chamfers/finish_lower", "I/wash")
    given = list(written(plan, tmp_path))
    cut = given.pop(next(at for at, (name, _) in enumerate(given) if name == "keyway/finish"))
    given.insert(1 + next(at for at, (name, _) in enumerate(given) if name == move.after), cut)
    judged = judge_order(*stages, given)
    assert judged.allowed
    assert judged.extra_minutes == pytest.approx(0.0)


def test_the_place_of_one_operation_in_words(plan, stages):
    lines = place_lines(plan.sequence, free_moves(*stages), "keyway/finish")
    assert lines[0].startswith("keyway/finish is step ")
    assert "may stand anywhere after bore_chamfers/finish_lower" in lines[-1]
    assert "breaks a rule or costs" in place_lines(plan.sequence, (), "bore/rough")[-1]
    assert "always stands at the beginning" in place_lines(plan.sequence, (), "II/clamp")[-1]
    assert free_lines(()) == (
        "No operation can be moved alone without breaking a rule or costing a change or time.",
    )


def test_the_command_prints_an_order_and_judges_it_when_given_back(plan, tmp_path):
    """An order that breaks a must ends with exit code 1, as an impossible plan does."""
    part = str(PARTS / "first_wheel.yaml")
    printed = CliRunner().invoke(app, ["order", part])
    assert printed.exit_code == 0
    assert printed.stdout.splitlines() == list(order_lines(plan))
    file = tmp_path / "order.txt"
    file.write_text(
        printed.stdout.replace("bore/finish\n", "").replace("bore/rough", "bore/finish\nbore/rough")
    )
    judged = CliRunner().invoke(app, ["order", part, str(file)])
    assert judged.exit_code == 1
    assert "bore/rough before bore/finish" in judged.stdout


def test_the_command_tells_what_is_free_to_move_of_one_operation_and_of_all():
    part = str(PARTS / "first_wheel.yaml")
    one = CliRunner().invoke(app, ["why", part, "keyway/finish"])
    every = CliRunner().invoke(app, ["why", part])
    assert "keyway/finish may stand anywhere after" in one.stdout
    assert "keyway/finish may stand anywhere after" in every.stdout
    assert CliRunner().invoke(app, ["why", part, "keyway/finnish"]).exit_code == 2
