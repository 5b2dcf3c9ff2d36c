"""What the shop and the planner add: changed rules, own rules, wishes for the order."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import (
    graph_of,
    holes,
    house,
    in_short,
    usual_operations,
    wheel,
)

from sequencer.errors import NoPlan, SequencerError
from sequencer.operations import BENCH
from sequencer.part import Part
from sequencer.precedence.dependency import Relation, Strength
from sequencer.precedence.graph import DependencyGraph

KEY = {
    "name": "key", "kind": "keyway", "on": "bore", "z_from": "0 mm", "z_to": "100 mm",
    "width": "20 mm", "depth": "6 mm",
}  # fmt: skip


def shorts(graph: DependencyGraph) -> set[str]:
    """All dependencies in short."""
    return {in_short(each) for each in graph.dependencies}


def test_a_rule_switched_off_gives_nothing_and_says_so() -> None:
    made = wheel(KEY)
    assert any(each.rule == "R22" for each in graph_of(made).dependencies)
    graph = graph_of(made, on=house({"rule": "R22", "action": "off"}))
    assert not any(each.rule == "R22" for each in graph.dependencies)
    found = [f for f in graph.findings if f.where == "R22"]
    assert found[0].what == "is switched off in this shop (R. Vogel, 2027-02-01: proven on this machine)"


def test_a_must_made_a_should_costs_its_penalty() -> None:
    shop = house({"rule": "R33", "action": "should", "penalty": "25 min"})
    graph = graph_of(wheel(), usual_operations(wheel()), on=shop)
    made = [each for each in graph.dependencies if each.rule == "R33"]
    assert {in_short(each) for each in made} == {
        "teeth/finish > teeth/deburr?",
        "teeth/deburr > teeth/measure?",
    }
    assert {each.penalty for each in made} == {25.0}
    assert any("leaves out 1 of kind 'same clamping'" in f.what for f in graph.findings)


def test_a_softened_opening_becomes_a_should_for_what_it_surely_holds() -> None:
    graph = graph_of(wheel(), on=house({"rule": "R40", "action": "should"}))
    made = [each for each in graph.dependencies if each.rule == "R40"]
    assert all(each.relation is Relation.BEFORE and each.strength is Strength.SHOULD for each in made)
    assert all(each.penalty == 15.0 for each in made)
    assert not any(in_short(each) == "II: lower_face/finish > all" and each.rule == "R40" for each in made)


def test_a_penalty_of_a_should_can_be_changed() -> None:
    shop = house({"rule": "R28", "action": "should", "penalty": "90 min"})
    made = [each for each in graph_of(wheel(KEY), on=shop).dependencies if each.rule == "R28"]
    assert [each.penalty for each in made] == [90.0]


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ([{"rule": "R77", "action": "off"}], "no rule is called R77"),
        ([{"rule": "R0", "action": "off"}], "R0 cannot be changed"),
        ([{"rule": "R9", "action": "off"}, {"rule": "R9", "action": "should"}], "R9 is changed twice"),
    ],
    ids=["unknown", "fixed", "twice"],
)
def test_impossible_changes_are_refused(changes: list[dict[str, str]], words: str) -> None:
    with pytest.raises(SequencerError, match=words):
        graph_of(wheel(), on=house(*changes))


def own(relation: str, **keys: str) -> dict[str, str]:
    """An own rule between bolts and key."""
    return {"name": "H1", "relation": relation, "first": "bolts", "second": "key", **keys}


@pytest.mark.parametrize(
    ("relation", "short"),
    [
        ("before", "bolts/tap > key/finish"),
        ("same clamping", "bolts/tap ~ key/finish"),
        ("immediately after", "bolts/tap >> key/finish"),
        ("not same clamping", "bolts/tap !~ key/finish"),
        ("same zero", "bolts/tap = key/finish"),
    ],
)
def test_own_rules_hold_between_the_last_and_the_first_cut(relation: str, short: str) -> None:
    made = wheel(holes("bolts", "upper_face", 200, 20, thread_pitch="2.5 mm"), KEY)
    graph = graph_of(made, on=house(own=[own(relation)]))
    mine = [each for each in graph.dependencies if each.rule == "H1"]
    assert [in_short(each) for each in mine] == [short]
    assert mine[0].source == "house rule of R. Vogel, 2027-02-01"
    assert mine[0].reason == "proven on this machine"


def test_an_own_should_costs_its_penalty() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 20), KEY)
    graph = graph_of(made, on=house(own=[own("before", strength="should", penalty="7 min")]))
    mine = [each for each in graph.dependencies if each.rule == "H1"]
    assert [(in_short(each), each.penalty) for each in mine] == [("bolts/drill > key/finish?", 7.0)]


def test_an_own_should_that_is_no_order_is_not_weighed() -> None:
    made = wheel(holes("bolts", "upper_face", 200, 20), KEY)
    graph = graph_of(made, on=house(own=[own("same clamping", strength="should")]))
    assert not any(each.rule == "H1" for each in graph.dependencies)
    assert any("'same clamping' as a should is not weighed" in f.what for f in graph.findings)


def test_an_own_rule_for_other_parts_is_left_aside() -> None:
    graph = graph_of(wheel(KEY), on=house(own=[own("before")]))
    assert [f.what for f in graph.findings if f.where == "H1"] == [
        "does not apply: the part has no feature 'bolts'"
    ]
    other = graph_of(wheel(), on=house(own=[own("before")]))
    assert not any(f.where == "H1" for f in other.findings)


def test_own_rules_of_double_helical_gears_hold_for_both_halves(double_wheel: Part) -> None:
    shop = house(own=[{"name": "H2", "relation": "before", "first": "wheel", "second": "upper_face"}])
    with pytest.raises(NoPlan, match="is a loop") as caught:
        graph_of(double_wheel, on=shop)
    assert any("H2: proven on this machine" in line for line in caught.value.conflicts)


# -- wishes of the part file -----------------------------------------------------------------------


def test_wishes_of_the_part_file_become_demands() -> None:
    order = {
        "before": [("bore/finish", "upper_face/finish")],
        "never_next": [("bore/rough", "bore/finish")],
        "same_clamping": [("bore/finish", "upper_face/finish")],
    }
    found = [each for each in graph_of(wheel(order=order)).dependencies if each.rule == "part file"]
    assert {in_short(each) for each in found} == {
        "bore/finish > upper_face/finish",
        "bore/rough !> bore/finish",
        "bore/finish ~ upper_face/finish",
    }


def test_a_wish_for_an_unknown_operation_names_near_ones() -> None:
    made = wheel(order={"before": [("bore/finnish", "upper_face/finish")]})
    with pytest.raises(
        SequencerError, match=r"order.before\[0\]: no operation is called 'bore/finnish'.*bore/finish"
    ):
        graph_of(made)


def test_a_wish_against_the_trade_is_a_loop_in_words() -> None:
    made = wheel(order={"before": [("bore/finish", "bore/rough")]})
    with pytest.raises(NoPlan, match="bore/rough -> bore/finish -> bore/rough is a loop") as caught:
        graph_of(made)
    assert '"bore/finish" must come before "bore/rough" (part file: the planner demands it).' in (
        caught.value.conflicts
    )


def test_a_wish_for_one_clamping_that_none_reaches_is_refused() -> None:
    made = wheel(order={"same_clamping": [("lower_face/finish", "upper_face/finish")]})
    with pytest.raises(NoPlan, match="must share a clamping, and none reaches both") as caught:
        graph_of(made)
    assert "lower_face/finish can be done in I" in caught.value.conflicts


def test_one_clamping_with_work_elsewhere_between_is_refused() -> None:
    """Bore and face in one visit, with stress relief between them, cannot be."""
    order = {
        "before": [("bore/finish", "part/heat_treat"), ("part/heat_treat", "upper_face/finish")],
        "same_clamping": [("bore/finish", "upper_face/finish")],
    }
    made = wheel(order=order, heat_treatment={"kind": "stress relief"})
    with pytest.raises(
        NoPlan, match="must share a clamping, and part/heat_treat comes between in bench"
    ) as caught:
        graph_of(made)
    assert len(caught.value.conflicts) == 3


def test_wishes_win_over_musts_that_give_way() -> None:
    """The planner binds the bore to the lower face in I; the teeth of II then only warn."""
    made = wheel(order={"same_clamping": [("bore/finish", "lower_face/finish")]})
    graph = graph_of(made, usual_operations(made, {"bore": "I II"}))
    assert graph.possible["bore/finish"] == ("I",)
    assert "bore/finish ~ teeth/finish" not in shorts(graph)
    assert any(f.subject == "rule R3" and "different clampings" in f.what for f in graph.findings)


def test_an_operation_without_alternatives_does_not_stop_the_rules() -> None:
    """What cannot be made is an error of the operations; rules speak of the rest."""
    made = wheel()
    operations = [
        each if each.name != "teeth/deburr" else type(each)(
            each.name, each.feature, each.stage, each.action, each.title, ()
        )
        for each in usual_operations(made)
    ]  # fmt: skip
    graph = graph_of(made, operations)
    assert "bore/rough > bore/finish" in shorts(graph)
    assert not any("teeth/deburr" in f.limit for f in graph.findings)


def test_bench_work_is_bound_to_no_clamping() -> None:
    made = wheel()
    graph = graph_of(made, usual_operations(made, {"teeth/measure": BENCH}))
    assert "teeth/finish ~ teeth/measure" not in shorts(graph)
    assert graph.leads("teeth/finish", "teeth/measure")
