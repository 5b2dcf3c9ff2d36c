"""What the graph answers: chains, loops, reductions, cuts, the critical chain."""

from __future__ import annotations

import sys
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import (
    certain_pairs,
    graph_of,
    house,
    in_short,
    listed,
    moved,
    op,
    usual_operations,
    wheel,
)

from sequencer.errors import NoPlan, SequencerError
from sequencer.operations import Operation
from sequencer.precedence.dependency import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph, explain_cycle
from sequencer.precedence.make import make_graph
from sequencer.precedence.register import RULES


def graph(
    *dependencies: Dependency, places: dict[str, str] | None = None, names: str = "abcde"
) -> DependencyGraph:
    """Make a graph of operations a/x, b/x ... of 5, 10, 15 ... min, all in II unless placed elsewhere."""
    operations = [
        op(f"{letter}/x", where=(places or {}).get(letter, "II"), minutes=5.0 * (number + 1))
        for number, letter in enumerate(names)
    ]
    return DependencyGraph(listed(wheel(), operations), tuple(dependencies))


def arrow(first: str, second: str, rule: str = "R1", **keys: object) -> Dependency:
    """Make a dependency between two letters."""
    usual: dict[str, object] = {"relation": Relation.BEFORE, "reason": f"{first} first"}
    ends = {"first": f"{first}/x", "second": f"{second}/x" if second else ""}
    return Dependency(**(usual | ends | {"rule": rule} | keys))  # type: ignore[arg-type]


def wished(first: str, second: str) -> Dependency:
    """Make a should between two letters."""
    return arrow(first, second, "R9", strength=Strength.SHOULD, penalty=5.0)


# -- chains ----------------------------------------------------------------------------------------


def test_the_chain_is_the_shortest_row_of_reasons() -> None:
    made = graph(arrow("a", "b"), arrow("b", "c"), arrow("c", "d"), arrow("a", "e"), arrow("e", "d"))
    assert [in_short(link) for link in made.chain("a/x", "d/x")] == ["a/x > e/x", "e/x > d/x"]
    assert made.chain("d/x", "a/x") == ()


def test_musts_are_preferred_to_a_shorter_chain_with_shoulds() -> None:
    made = graph(arrow("a", "b"), arrow("b", "c"), wished("a", "c"), wished("c", "d"))
    assert [in_short(link) for link in made.chain("a/x", "c/x")] == ["a/x > b/x", "b/x > c/x"]
    assert [in_short(link) for link in made.chain("b/x", "d/x")] == ["b/x > c/x", "c/x > d/x?"]


def test_a_link_that_holds_only_in_a_clamping_names_it() -> None:
    opening = arrow("a", "b", relation=Relation.OPENS, clamping="II")
    made = graph(opening, places={"b": "I II"})
    assert [(in_short(link), link.clamping) for link in made.chain("a/x", "b/x")] == [("a/x > b/x", "II")]
    assert not made.leads("a/x", "b/x")


def test_followers_and_waits_are_links_too() -> None:
    following = arrow("a", "b", relation=Relation.IMMEDIATELY_AFTER)
    waiting = arrow("b", "c", relation=Relation.MINIMUM_WAIT, minutes=30.0)
    links = graph(following, waiting).chain("a/x", "c/x")
    assert [(in_short(link), link.minutes) for link in links] == [("a/x > b/x", 0.0), ("b/x > c/x", 30.0)]


def test_what_opens_a_clamping_comes_before_all_work_done_only_there() -> None:
    made = graph(arrow("a", "", relation=Relation.OPENS, clamping="II"), places={"a": "I", "c": "I II"})
    assert made.leads("a/x", "b/x")
    assert not made.leads("a/x", "c/x")


def test_what_closes_a_clamping_comes_after_all_work_done_only_there() -> None:
    made = graph(arrow("a", "", relation=Relation.CLOSES, clamping="I"), places={"b": "I", "c": "I II"})
    assert made.leads("b/x", "a/x")
    assert not made.leads("c/x", "a/x")


def test_work_of_two_clamping_is_held_if_both_are_opened_by_the_same() -> None:
    both = [arrow("a", "", relation=Relation.OPENS, clamping=name) for name in ("I", "II")]
    made = graph(*both, places={"a": "bench", "b": "I II"})
    assert made.leads("a/x", "b/x")


def test_one_clamping_narrows_what_is_possible() -> None:
    """Where b can be done in I or II and is bound to c, done in II, it must wait for what opens II."""
    bound = arrow("b", "c", relation=Relation.SAME_CLAMPING)
    opened = arrow("a", "", relation=Relation.OPENS, clamping="II")
    made = graph(bound, opened, places={"a": "I", "b": "I II"})
    assert made.possible["b/x"] == ("II",)
    assert made.leads("a/x", "b/x")


# -- other questions -------------------------------------------------------------------------------


def test_all_dependencies_between_two_operations_are_given_in_either_direction() -> None:
    apart = arrow("b", "a", "R2", relation=Relation.NOT_SAME_CLAMPING)
    opened = arrow("a", "", "R3", relation=Relation.OPENS, clamping="II")
    made = graph(arrow("a", "b"), apart, opened, arrow("a", "c"))
    assert [each.rule for each in made.between("b/x", "a/x")] == ["R1", "R2", "R3"]


def test_all_dependencies_of_an_operation_are_given() -> None:
    opened = arrow("a", "", "R3", relation=Relation.OPENS, clamping="II")
    between = arrow("d", "e", "R4", relation=Relation.NOT_BETWEEN, third="b/x")
    made = graph(arrow("a", "c"), opened, between, arrow("b", "c", "R5"))
    assert [each.rule for each in made.of("b/x")] == ["R4", "R5", "R3"]


@pytest.mark.parametrize("question", ["leads", "chain", "between", "cut"])
def test_unknown_operations_are_refused_with_near_ones(question: str) -> None:
    made = graph_of(wheel())
    with pytest.raises(SequencerError, match=r"'bore/finnish'\. Did you mean bore/finish"):
        getattr(made, question)("bore/finnish", "bore/rough")
    with pytest.raises(SequencerError, match=r"Did you mean bore/rough, bore/finish\?"):
        made.of("bore/hone")
    with pytest.raises(SequencerError, match=r"Operations are part/receive, I/clamp"):
        made.reduced(("zzz",))


def test_the_cut_drops_the_fewest_musts() -> None:
    """Two chains lead from a to d, and both end in c before d: dropping that one is enough."""
    made = graph(arrow("a", "b"), arrow("b", "c"), arrow("a", "e"), arrow("e", "c"), arrow("c", "d", "R7"))
    assert [each.rule for each in made.cut("a/x", "d/x")] == ["R7"]
    assert made.cut("d/x", "a/x") == ()


def test_the_cut_counts_an_opening_once() -> None:
    """What opens II holds b and c before d: one dependency, though two arrows."""
    opened = arrow("a", "", "R3", relation=Relation.OPENS, clamping="II")
    made = graph(opened, arrow("b", "d"), arrow("c", "d"), places={"a": "I", "d": "I II"}, names="abcd")
    assert [each.rule for each in made.cut("a/x", "d/x")] == ["R3"]
    assert all(each in made.dependencies for each in made.cut("a/x", "d/x"))


# -- loops -----------------------------------------------------------------------------------------


def test_the_shortest_loop_is_given_with_its_reasons() -> None:
    made = graph(
        arrow("a", "b"), arrow("b", "c"), arrow("c", "a"), arrow("c", "d", "R3"), arrow("d", "c", "R4")
    )
    loop = made.cycle()
    assert loop is not None
    assert [each.rule for each in loop] == ["R3", "R4"]
    assert explain_cycle(loop) == (
        '"c/x" must come before "d/x" (R3: c first).',
        '"d/x" must come before "c/x" (R4: d first).',
    )


def test_shoulds_and_conditional_arrows_make_no_loop() -> None:
    opened = arrow("b", "a", relation=Relation.OPENS, clamping="II")
    made = graph(arrow("a", "b"), wished("b", "a"), opened, places={"a": "I II"})
    assert made.cycle() is None


def test_a_loop_stops_reduction_and_critical_chain() -> None:
    made = graph(arrow("a", "b"), arrow("b", "a"))
    with pytest.raises(SequencerError, match='the musts form a loop: "a/x" must come before "b/x"'):
        made.reduced()
    with pytest.raises(SequencerError, match="the musts form a loop"):
        made.critical_chain()


# -- reduction and critical chain ------------------------------------------------------------------


def test_reduction_leaves_out_what_follows_from_others() -> None:
    made = graph(arrow("a", "b"), arrow("b", "c"), arrow("a", "c", "R5"), wished("a", "d"))
    assert [in_short(each) for each in made.reduced()] == ["a/x > b/x", "b/x > c/x"]


def test_reduction_by_an_order_takes_the_shoulds_that_it_keeps() -> None:
    made = graph(arrow("a", "b"), wished("b", "c"), wished("d", "a"), arrow("a", "c"))
    reduced = made.reduced(("a/x", "b/x", "c/x", "d/x"))
    assert [in_short(each) for each in reduced] == ["a/x > b/x", "b/x > c/x?"]


def test_the_critical_chain_adds_least_minutes_and_waits() -> None:
    """Minutes: a 5, b 10, c 15, d 20; a and c with a wait of 30 between take 50, b and d take 30."""
    waiting = arrow("a", "c", relation=Relation.MINIMUM_WAIT, minutes=30.0)
    chain = graph(waiting, arrow("b", "d"), names="abcd").critical_chain()
    assert chain.operations == ("a/x", "c/x")
    assert chain.minutes == 50.0
    assert [in_short(each) for each in chain.arrows] == ["a/x > c/x"]


def test_the_critical_chain_of_a_wheel_runs_from_receipt_to_inspection() -> None:
    chain = graph_of(wheel()).critical_chain()
    assert chain.operations[0] == "part/receive"
    assert chain.operations[-1] == "part/inspect"
    assert len(chain.arrows) == len(chain.operations) - 1
    assert chain.minutes == 5.0 * len(chain.operations)


def test_a_graph_without_operations_has_no_chain() -> None:
    assert DependencyGraph(listed(wheel(), []), ()).critical_chain().minutes == 0.0


# -- properties ------------------------------------------------------------------------------------

LETTERS = "abcdefgh"


@st.composite
def random_graphs(draw: st.DrawFn) -> DependencyGraph:
    """Draw a graph without loops: arrows and openings lead from earlier to later letters."""
    places = {letter: draw(st.sampled_from(("I", "II", "I II"))) for letter in LETTERS}
    pairs = st.tuples(st.sampled_from(LETTERS), st.sampled_from(LETTERS)).filter(
        lambda pair: pair[0] < pair[1]
    )
    kinds = st.sampled_from((Relation.BEFORE, Relation.OPENS, Relation.CLOSES, Relation.IMMEDIATELY_AFTER))
    found = []
    for (first, second), kind in draw(st.lists(st.tuples(pairs, kinds), max_size=16)):
        if kind is Relation.OPENS:
            found.append(arrow(first, second, relation=kind, clamping="II"))
        elif kind is Relation.CLOSES:
            found.append(arrow(second, first, relation=kind, clamping="I"))
        else:
            found.append(arrow(first, second, relation=kind))
    return graph(*found, places=places, names=LETTERS)


def closure(pairs: set[tuple[str, str]]) -> set[tuple[str, str]]:
    """Transitive closure by repeated joining, independent of the graph's own."""
    found = set(pairs)
    while True:
        joined = {(a, d) for a, b in found for c, d in found if b == c}
        if joined <= found:
            return found
        found |= joined


@settings(deadline=None, derandomize=True, max_examples=80)
@given(random_graphs())
def test_a_reduction_has_the_same_closure_and_no_spare_arrow(made: DependencyGraph) -> None:
    reduced = {(each.first, each.second) for each in made.reduced()}
    whole = closure(certain_pairs(made))
    assert closure(reduced) == whole
    for pair in reduced:
        assert closure(reduced - {pair}) != whole


@settings(deadline=None, derandomize=True, max_examples=80)
@given(random_graphs())
def test_a_chain_exists_exactly_where_musts_lead_and_is_one_row(made: DependencyGraph) -> None:
    whole = closure(certain_pairs(made))
    for first in made.operations.by_name:
        for second in made.operations.by_name:
            assert made.leads(first, second) is ((first, second) in whole)
            chain = made.chain(first, second)
            certain = bool(chain) and not any(link.clamping for link in chain)
            assert certain or (first, second) not in whole
            if chain:
                assert (chain[0].first, chain[-1].second) == (first, second)
                assert all(one.second == two.first for one, two in pairwise(chain))


@settings(deadline=None, derandomize=True, max_examples=60)
@given(random_graphs())
def test_a_cut_frees_its_pair(made: DependencyGraph) -> None:
    for first, second in sorted(closure(certain_pairs(made)))[:10]:
        cut = made.cut(first, second)
        kept = tuple(each for each in made.dependencies if each not in cut)
        assert cut
        assert not replace(made, dependencies=kept).leads(first, second)


CHANGEABLE = [rule.id for rule in RULES if rule.id != "R0"]
WHOLE_WHEEL = wheel(
    {"name": "key", "kind": "keyway", "on": "bore", "z_from": "0 mm", "z_to": "100 mm",
     "width": "20 mm", "depth": "6 mm", "datums": ["A"]},
    {"name": "bolts", "kind": "bolt_circle", "on": "upper_face", "circle_diameter": "300 mm", "count": 6,
     "diameter": "20 mm", "thread_pitch": "2.5 mm", "datums": ["A"],
     "phase": {"to": "teeth", "tolerance": "0.1 mm"}},
    {"name": "edge", "kind": "chamfer", "on": "bore", "edge": "lower", "size": "2 mm"},
)  # fmt: skip


@settings(deadline=None, derandomize=True, max_examples=40)
@given(
    off=st.lists(st.sampled_from(CHANGEABLE), unique=True, max_size=20),
    softened=st.lists(st.sampled_from(CHANGEABLE), unique=True, max_size=20),
    both=st.sets(st.sampled_from(("bore", "bolts", "key", "edge", "teeth")), max_size=4),
)
def test_switching_rules_off_never_makes_a_loop(off: list[str], softened: list[str], both: set[str]) -> None:
    """The wheel has an order with all rules, so it has one with fewer, wherever its features can be made."""
    operations = [
        _anywhere(each, both) for each in usual_operations(WHOLE_WHEEL, steps="II/soak II/release II/wash")
    ]
    assert make_graph(listed(WHOLE_WHEEL, operations)).cycle() is None
    changes = [{"rule": rule, "action": "off"} for rule in off]
    changes += [{"rule": rule, "action": "should"} for rule in softened if rule not in off]
    assert make_graph(listed(WHOLE_WHEEL, operations, on=house(*changes))).cycle() is None


def _anywhere(operation: Operation, features: set[str]) -> Operation:
    return moved(operation, "I II") if operation.feature in features else operation


def test_the_same_part_gives_the_same_graph() -> None:
    one, two = graph_of(WHOLE_WHEEL), graph_of(WHOLE_WHEEL)
    assert one.dependencies == two.dependencies
    assert one.findings == two.findings
    assert one.reduced() == two.reduced()


def test_no_plan_carries_the_findings_so_far() -> None:
    made = wheel(order={"before": [("teeth/finish", "teeth/rough")]})
    with pytest.raises(NoPlan, match="is a loop") as caught:
        graph_of(made)
    assert any(f.subject == "rule R52" for f in caught.value.findings)


# -- what follows ----------------------------------------------------------------------------------


def test_work_after_what_closes_a_clamping_is_done_in_another() -> None:
    """B follows a, and a closes I: b is done in II, so it waits for what opens II."""
    closing = arrow("a", "", "R39", relation=Relation.CLOSES, clamping="I")
    opening = arrow("c", "", "R40", relation=Relation.OPENS, clamping="II")
    made = graph(arrow("a", "b"), closing, opening, places={"a": "II", "b": "I II", "c": "I"}, names="abc")
    assert made.possible["b/x"] == ("II",)
    assert made.leads("c/x", "b/x")


def test_work_before_what_opens_a_clamping_is_done_in_another() -> None:
    opening = arrow("a", "", "R40", relation=Relation.OPENS, clamping="II")
    made = graph(arrow("b", "a"), opening, places={"a": "I", "b": "I II"}, names="ab")
    assert made.possible["b/x"] == ("I",)
    assert [(bar.operation, bar.clamping, bar.because.rule) for bar in made.deduction.bars] == [
        ("b/x", "II", "R40")
    ]


def test_what_is_struck_off_one_is_struck_off_those_bound_to_it() -> None:
    opening = arrow("a", "", "R40", relation=Relation.OPENS, clamping="II")
    bound = arrow("b", "c", relation=Relation.SAME_CLAMPING)
    made = graph(arrow("b", "a"), opening, bound, places={"a": "I", "b": "I II", "c": "I II"}, names="abc")
    assert made.possible["c/x"] == ("I",)


def test_an_operation_without_any_clamping_left_is_refused_with_reasons() -> None:
    """Bore and key are done together: the bore after what closes I, the key before what opens II."""
    order = {
        "before": [("upper_face/rough", "bore/finish"), ("key/finish", "lower_face/finish")],
        "same_clamping": [("bore/finish", "key/finish")],
    }
    made = wheel(
        {"name": "hub", "kind": "turned_diameter", "z_from": "100 mm", "z_to": "130 mm",
         "diameter": "200 mm"},
        {"name": "key", "kind": "keyway", "on": "hub", "z_from": "100 mm", "z_to": "130 mm", "width": "20 mm",
         "depth": "6 mm"},
        order=order,
    )  # fmt: skip
    places = {"bore/finish": "I II", "key": "I II", "hub": "I"}
    with pytest.raises(NoPlan, match="can be done in no clamping: the rules leave it none") as caught:
        graph_of(made, usual_operations(made, places))
    text = "\n".join(caught.value.conflicts)
    assert "bore/finish and key/finish are done together (part file: the planner demands it)." in text
    assert "bore/finish cannot be done in I: upper_face/rough closes that clamping (R39:" in text
    assert "key/finish cannot be done in II: lower_face/finish opens that clamping (R39:" in text


def test_a_demand_on_what_no_clamping_can_do_is_left_to_its_error() -> None:
    """A planner's wish for a deburring that has no method must not hide that error."""
    made = wheel(order={"same_clamping": [("teeth/deburr", "bore/finish")]})
    operations = [
        replace(each, alternatives=()) if each.name == "teeth/deburr" else each
        for each in usual_operations(made)
    ]
    assert graph_of(made, operations).cycle() is None
