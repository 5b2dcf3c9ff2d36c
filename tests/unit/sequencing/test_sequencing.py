"""Dependencies become integers, and the engine's answer becomes steps with times, reasons and proof."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from sequencer.errors import NoPlan, ProofBroken, SequencerError
from sequencer.files import read_part_and_shop
from sequencer.operations import BENCH, Action, Alternative, Mode, Operation, OperationList, Rejection, Stage
from sequencer.operations.operation import FittedClamping
from sequencer.ordering.result import LevelValue, Result
from sequencer.papers.why_text import why_lines
from sequencer.part import Clamping
from sequencer.precedence import Dependency, Relation, Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.sequencing import explain_pair, make_sequence
from sequencer.sequencing.integers import in_words, make_problem
from sequencer.sequencing.order import OBJECTIVES, verify
from sequencer.sequencing.times import to_minutes, to_units, tool_change_minutes
from sequencer.sequencing.worthwhile import worthwhile

PARTS = Path(__file__).parents[3] / "parts"
PART, SHOP = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
#: Tools of the example shop: two light ones and a heavy one (12 kg and more).
LIGHT, OTHER, HEAVY = "T01", "T02", "T03"


def way(tool: str = LIGHT, clamping: str = "I", minutes: float = 1.0, mode: Mode = Mode.TURNING, **more):
    return Alternative("turning", tool, clamping, mode, minutes, **more)


def op(name: str, *ways: Alternative, action: Action = Action.TURN, **more) -> Operation:
    feature = name.split("/")[0]
    return Operation(name, feature, Stage.FINISH, action, name, ways or (way(),), **more)


def opening(clamping: str, minutes: float = 30.0) -> Operation:
    return op(f"{clamping}/clamp", way("", clamping, minutes, Mode.REST), action=Action.CLAMP, opening=True)


def fitted(name: str, up: str = "upper") -> FittedClamping:
    clamping = Clamping.model_validate(
        {"name": name, "up": up, "hold": "bolts", "on": "blank", "rests_on": "blank"}
    )
    return FittedClamping(clamping, SHOP.clamping_means[0], (), False, 100.0, "", 100.0)


def listing(*operations: Operation) -> OperationList:
    names = dict.fromkeys(each.clamping for one in operations for each in one.alternatives)
    clampings = tuple(fitted(name) for name in names if name != BENCH)
    openings = tuple(opening(clamping.name) for clamping in clampings)
    return OperationList(PART, SHOP, clampings, (*openings, *operations))


def before(first: str, second: str, **more) -> Dependency:
    return Dependency(Relation.BEFORE, first, second, rule="R99", reason="for the test", **more)


def order_of(operations: OperationList, *dependencies: Dependency, **more) -> list[str]:
    sequence = make_sequence(operations, DependencyGraph(operations, dependencies), **more)
    return [step.operation.name for step in sequence.steps]


def test_times_are_counted_in_hundredths_of_a_minute():
    """0.016 min is 2 hundredths; back it is 0.02 min."""
    assert to_units(0.016) == 2
    assert to_minutes(to_units(0.016)) == 0.02


def test_heavy_tools_change_slower_and_tools_by_hand_slowest():
    """T01 weighs 6.5 kg, T03 14 kg; heavy begins at 12 kg in the example shop: 15 s and 30 s."""
    operations = listing(op("a/finish"))
    assert tool_change_minutes(operations, LIGHT) == pytest.approx(0.25)
    assert tool_change_minutes(operations, HEAVY) == pytest.approx(0.5)


def test_a_clamping_visit_begins_with_its_opening_steps():
    """They are placed, numbered in tens, and their time is part of the clock."""
    operations = listing(op("a/finish"), op("b/finish", way(clamping="II")))
    sequence = make_sequence(operations, DependencyGraph(operations, (before("a/finish", "b/finish"),)))
    names = [step.operation.name for step in sequence.steps]
    assert names == ["I/clamp", "a/finish", "II/clamp", "b/finish"]
    assert [step.number for step in sequence.steps] == [10, 20, 30, 40]
    assert sequence.clampings == 2
    # 30 + 1 + 30 + 1 min and two positionings of 5 s (0.08 min); the tool stays
    assert sequence.minutes == pytest.approx(62.16)
    # the first clamping is part of setting up
    assert sequence.levels[-1].value == pytest.approx(32.16)


def test_a_slow_alternative_is_set_aside():
    """T02 in the same clamping loses 60 min; changes there and back cost 2 x 0.25 + 2 x 0.33 min."""
    operations = listing(op("a/finish", way(OTHER, minutes=70), way(LIGHT, minutes=10)))
    assert worthwhile(operations.by_name["a/finish"], operations) == (1,)
    sequence = make_sequence(operations, DependencyGraph(operations, ()))
    assert sequence.by_operation["a/finish"].alternative.tool == LIGHT


def test_a_slightly_slower_alternative_saves_a_tool_change():
    """T02 loses 0.1 min on b but saves a change of 0.25 min, since a has no other tool."""
    operations = listing(op("a/finish", way(OTHER)), op("b/finish", way(LIGHT), way(OTHER, minutes=1.1)))
    sequence = make_sequence(operations, DependencyGraph(operations, ()))
    assert sequence.count("tool change") == 0
    assert sequence.by_operation["b/finish"].alternative.tool == OTHER


def test_work_of_this_shop_is_not_sent_out():
    """An alternative with time away is kept only where there is no other."""
    operations = listing(op("a/hard", way("", BENCH, 0.0, Mode.REST, lead_time=7200.0), way(minutes=30)))
    assert worthwhile(operations.by_name["a/hard"], operations) == (1,)


def test_what_is_sent_out_by_one_method_in_a_row_goes_in_one_trip():
    """Grinding of 5 and 7 days in a row takes 7; hardening of 8 days is another trip."""
    day = 1440.0
    ways = {
        "a/harden": Alternative("heat treat", "", BENCH, Mode.REST, 20.0, lead_time=8 * day),
        "b/grind": Alternative("grinding", "", BENCH, Mode.REST, 20.0, lead_time=5 * day),
        "c/grind": Alternative("grinding", "", BENCH, Mode.REST, 20.0, lead_time=7 * day),
    }
    operations = listing(*(op(name, way) for name, way in ways.items()))
    dependencies = (before("a/harden", "b/grind"), before("b/grind", "c/grind"))
    sequence = make_sequence(operations, DependencyGraph(operations, dependencies))
    assert sequence.time_away == pytest.approx(15 * day)


RELATIONS = {
    "immediately after": (
        Dependency(Relation.IMMEDIATELY_AFTER, "a/finish", "c/finish"),
        lambda order: order.index("c/finish") == order.index("a/finish") + 1,
    ),
    "not between": (
        Dependency(Relation.NOT_BETWEEN, "a/finish", "c/finish", "b/finish"),
        lambda order: (
            order.index("b/finish") not in range(*sorted(map(order.index, ("a/finish", "c/finish"))))
        ),
    ),
    "never next": (
        Dependency(Relation.NEVER_NEXT, "a/finish", "b/finish"),
        lambda order: order.index("b/finish") != order.index("a/finish") + 1,
    ),
    "before": (
        before("c/finish", "a/finish"),
        lambda order: order.index("c/finish") < order.index("a/finish"),
    ),
}


@pytest.mark.parametrize("relation", RELATIONS)
def test_each_relation_binds_the_order(relation):
    """One relation among three operations that are free otherwise."""
    dependency, holds = RELATIONS[relation]
    operations = listing(*(op(f"{name}/finish") for name in "abc"))
    assert holds(order_of(operations, dependency))


@pytest.mark.parametrize("relation", [Relation.SAME_CLAMPING, Relation.NOT_SAME_CLAMPING, Relation.SAME_ZERO])
def test_relations_of_clampings_bind_the_choice(relation):
    """A only in I; b in I or, quicker, in II; c only in II, so that both clampings are visited anyway."""
    operations = listing(
        op("a/finish"),
        op("b/finish", way(minutes=2.0), way(clamping="II")),
        op("c/finish", way(clamping="II")),
    )
    graph = DependencyGraph(operations, (Dependency(relation, "a/finish", "b/finish"),))
    chosen = make_sequence(operations, graph).by_operation["b/finish"].alternative.clamping
    assert chosen == ("II" if relation is Relation.NOT_SAME_CLAMPING else "I")


def test_minimum_wait_idles_only_as_long_as_needed():
    """B waits 20 min after a; c of 5 min, with its positioning, is done meanwhile."""
    operations = listing(op("a/finish"), op("b/finish"), op("c/finish", way(minutes=5.0)))
    dependency = Dependency(
        Relation.MINIMUM_WAIT, "a/finish", "b/finish", minutes=20.0, rule="R19", reason="heat"
    )
    sequence = make_sequence(operations, DependencyGraph(operations, (dependency,)))
    steps = sequence.by_operation
    assert [step.operation.name for step in sequence.steps[1:]] == ["a/finish", "c/finish", "b/finish"]
    waiting = [change for change in steps["b/finish"].changes if change.name == "waiting"]
    assert waiting[0].minutes == pytest.approx(20 - 5.08)
    assert waiting[0].reason == "R19: heat"
    assert sequence.levels[-1].value == pytest.approx(sequence.minutes - 30.0)


@pytest.mark.parametrize("relation", [Relation.OPENS, Relation.CLOSES])
def test_opening_and_closing_bind_only_in_their_clamping(relation):
    """B may be done in I at any time; in II only after (before) a, which is done in II."""
    operations = listing(
        op("a/finish", way(clamping="II")),
        op("b/finish", way(clamping="II", minutes=1.0), way(minutes=50.0)),
        op("c/finish"),
    )
    order = order_of(operations, Dependency(relation, "a/finish", "b/finish", clamping="II"))
    later = order.index("b/finish") > order.index("a/finish")
    assert later is (relation is Relation.OPENS)


def test_a_broken_should_costs_its_penalty_and_is_listed():
    """The should wants b before a, the must a before b."""
    operations = listing(op("a/finish"), op("b/finish"))
    should = before("b/finish", "a/finish", strength=Strength.SHOULD, penalty=7.0)
    graph = DependencyGraph(operations, (before("a/finish", "b/finish"), should))
    sequence = make_sequence(operations, graph)
    assert sequence.broken == (should,)
    assert sequence.levels[-1].value == pytest.approx(sequence.minutes - 30.0 + 7.0)


def test_because_names_the_nearest_reasons():
    """C waits for both; b stands directly before it and comes first."""
    operations = listing(*(op(f"{name}/finish") for name in "abc"))
    graph = DependencyGraph(
        operations,
        (before("a/finish", "b/finish"), before("a/finish", "c/finish"), before("b/finish", "c/finish")),
    )
    because = make_sequence(operations, graph).by_operation["c/finish"].because
    assert [each.first for each in because] == ["b/finish", "a/finish"]


def test_contradicting_musts_are_told_as_the_smallest_set():
    """A is in I, b in II: they cannot share a clamping. The other dependency has no part in it."""
    operations = listing(op("a/finish"), op("b/finish", way(clamping="II")), op("c/finish"))
    graph = DependencyGraph(
        operations,
        (
            Dependency(Relation.SAME_CLAMPING, "a/finish", "b/finish", rule="R3", reason="datum"),
            before("a/finish", "c/finish"),
        ),
    )
    with pytest.raises(NoPlan, match="no order can satisfy all musts") as caught:
        make_sequence(operations, graph)
    assert caught.value.conflicts == ("R3: a/finish and b/finish in the same clamping: datum",)


def test_an_operation_without_a_way_says_what_was_tried():
    """Ways that failed in a clamping come first; operations that hang on it are named with it."""
    rejected = (
        Rejection("hobbing", "T45", "", "module 7 mm, the teeth have 4 mm"),
        Rejection("hobbing", "T47", "I", "needs 75 mm, has 40 mm", "widen the groove"),
        *(Rejection("drilling", f"T{number}", "", "wrong") for number in range(10, 16)),
    )
    gaps = (
        Operation("a/finish", "a", Stage.FINISH, Action.CUT_TEETH, "Cut teeth", (), rejected),
        Operation("a/measure", "a", Stage.MEASURE, Action.MEASURE, "Measure teeth", ()),
    )
    operations = listing(*gaps, op("b/finish"))
    with pytest.raises(NoPlan, match="2 operations cannot be done in this shop") as caught:
        make_sequence(operations, DependencyGraph(operations, ()))
    (told,) = caught.value.conflicts
    assert told.split("\n      ") == [
        "a/finish:",
        "hobbing T47 in I: needs 75 mm, has 40 mm. Widen the groove.",
        "hobbing T45: module 7 mm, the teeth have 4 mm.",
        "drilling T10: wrong.",
        "drilling T11: wrong.",
        "drilling T12: wrong.",
        "and 3 more ways that fail",
        "so neither can a/measure be done",
    ]


def test_an_order_that_breaks_a_must_is_a_fault_of_the_program():
    """The independent check refuses it whatever the engine says."""
    operations = listing(op("a/finish"), op("b/finish"))
    integers = make_problem(operations, DependencyGraph(operations, (before("a/finish", "b/finish"),)))
    levels = (LevelValue("clampings", 0, 0, True), LevelValue("time", 216, 216, True))
    wrong = Result((1, 0), (0, 0), levels, "proven", (), 0, 0.0)
    with pytest.raises(ProofBroken, match="the order breaks R99: a/finish before b/finish: for the test"):
        verify(integers, wrong, OBJECTIVES["clampings"][1])


def test_a_wrong_cost_is_a_fault_of_the_program():
    """The replay adds up the time itself."""
    operations = listing(op("a/finish"))
    integers = make_problem(operations, DependencyGraph(operations, ()))
    levels = (LevelValue("clampings", 0, 0, True), LevelValue("time", 1, 1, True))
    wrong = Result((0,), (0,), levels, "proven", (), 0, 0.0)
    with pytest.raises(ProofBroken, match=r"the engine says \(0, 1\), the replay gives \(0, 108\)"):
        verify(integers, wrong, OBJECTIVES["clampings"][1])


def test_stopping_keeps_the_best_order_so_far():
    """A search that is stopped at once still gives an order, or says that it has none."""
    operations = listing(
        *(op(f"f{index}/finish", way((LIGHT, OTHER, HEAVY)[index % 3])) for index in range(9))
    )
    sequence = make_sequence(operations, DependencyGraph(operations, ()), stop=lambda: False)
    assert sequence.proven


@pytest.mark.parametrize("relation", Relation)
def test_every_relation_can_be_said_in_words(relation):
    """Each sentence names the rule, the operations and the reason."""
    dependency = Dependency(
        relation, "a/finish", "b/finish", "c/finish", "II", rule="R1", reason="because", minutes=5.0
    )
    words = in_words(dependency)
    assert words.startswith("R1: ")
    assert words.endswith(": because")
    assert "a/finish" in words


def test_why_gives_the_chain_and_the_price_of_the_other_way_round():
    """B before a breaks one must; the order then costs the same."""
    operations = listing(op("a/finish"), op("b/finish"))
    graph = DependencyGraph(operations, (before("a/finish", "b/finish", source="a book"),))
    sequence = make_sequence(operations, graph)
    answer = explain_pair(operations, graph, sequence, "b/finish", "a/finish")
    assert why_lines(answer) == (
        "a/finish stands before b/finish because:",
        "  R99: a/finish before b/finish: for the test (must) [a book]",
        "b/finish before a/finish would break 1 must(s):",
        "  R99: a/finish before b/finish: for the test",
        "Even with these musts dropped, the best order the other way round costs the same.",
    )


def test_why_says_when_only_cost_decides():
    """With b before a the tool goes from T01 to T02 and back: one change more."""
    operations = listing(op("a/finish"), op("b/finish", way(OTHER)), op("c/finish"))
    graph = DependencyGraph(operations, (before("c/finish", "b/finish"),))
    sequence = make_sequence(operations, graph)
    answer = explain_pair(operations, graph, sequence, "a/finish", "b/finish")
    lines = why_lines(answer)
    assert lines[0] == "a/finish stands before b/finish in this plan; no rule asks for it."
    assert lines[2] == "b/finish before a/finish would break no must."
    # one more change to T01: 0.25 min
    assert lines[-1] == "The best order the other way round has: minutes and penalties 3.5 -> 3.7."
    assert answer.extra_minutes == pytest.approx(0.25)


def test_unknown_operation_is_refused_with_near_misses():
    """The feature alone lists its operations; a misspelling lists the nearest."""
    operations = listing(op("bore/finish"), op("bore/rough"), op("face/finish"))
    graph = DependencyGraph(operations, ())
    sequence = make_sequence(operations, graph)
    with pytest.raises(SequencerError, match=r"(?i)did you mean bore/finish"):
        explain_pair(operations, graph, sequence, "bore/finsh", "face/finish")
    with pytest.raises(SequencerError, match=r"(?i)did you mean bore/.*, bore/"):
        explain_pair(operations, graph, sequence, "bore", "face/finish")
    with pytest.raises(SequencerError, match="named twice"):
        explain_pair(operations, graph, sequence, "bore/finish", "bore/finish")


def test_why_counts_only_what_holds_in_this_plan():
    """A dependency of clamping II is no reason for an operation that the plan does in I."""
    operations = listing(
        op("a/finish", way(clamping="II")),
        op("b/finish", way(clamping="II", minutes=40.0), way(minutes=1.0)),
        op("c/finish"),
    )
    only_in_two = Dependency(
        Relation.CLOSES, "a/finish", "b/finish", clamping="II", rule="R39", reason="grip"
    )
    graph = DependencyGraph(operations, (only_in_two, before("c/finish", "a/finish")))
    sequence = make_sequence(operations, graph)
    assert sequence.by_operation["b/finish"].alternative.clamping == "I"
    answer = explain_pair(operations, graph, sequence, "b/finish", "a/finish")
    assert answer.chain == ()


def test_why_says_that_opening_steps_stand_at_the_beginning():
    """Nothing can be asked to stand before the clamping of its own clamping."""
    operations = listing(op("a/finish"), op("b/finish", way(clamping="II")))
    opened = Dependency(Relation.OPENS, "II/clamp", clamping="II", rule="R18", reason="clamped first")
    graph = DependencyGraph(operations, (opened,))
    sequence = make_sequence(operations, graph)
    answer = explain_pair(operations, graph, sequence, "II/clamp", "b/finish")
    assert answer.swapped is None
    assert why_lines(answer)[-1] == "  II/clamp opens its clamping: it always stands at the beginning"


def _turning(*operations: Operation) -> OperationList:
    """Clamping I with the upper side up, II with the lower one, 120 min each as for this list."""
    listed = listing(*operations)
    operations = (opening("I", 120), opening("II", 120), *operations)
    ups = {"I": "upper", "II": "lower"}
    clampings = tuple(fitted(each.name, ups[each.name]) for each in listed.clampings)
    return replace(listed, clampings=clampings, operations=operations)


def _opening_minutes(operations: OperationList, *names: str) -> list[float]:
    chain = tuple(before(one, other) for one, other in pairwise(names))
    sequence = make_sequence(operations, DependencyGraph(operations, chain))
    assert [step.operation.name for step in sequence.steps if not step.operation.opening] == list(names)
    return [step.alternative.minutes for step in sequence.steps if step.operation.opening]


def test_a_part_that_comes_back_from_the_bench_is_not_turned_over():
    """II counts turning over from I; back from the bench on the same side it is released and lifted."""
    bench = op("c/harden", Alternative("heat treat", "", BENCH, Mode.REST, 5.0))
    operations = _turning(
        op("a/finish"), op("b/rough", way(clamping="II")), bench, op("d/hard", way(clamping="II"))
    )
    times = SHOP.machine.times
    back = 120 - float(times.turn_over) + float(times.release)
    assert _opening_minutes(operations, "a/finish", "b/rough", "c/harden", "d/hard") == [120, 120, back]


def test_a_part_that_comes_back_with_the_other_side_up_is_turned_over():
    """From II over the bench to I: the first clamping of the list counts no turning over by itself."""
    bench = op("c/harden", Alternative("heat treat", "", BENCH, Mode.REST, 5.0))
    operations = _turning(op("a/finish"), op("b/rough", way(clamping="II")), bench, op("d/hard"))
    turned = 120 + float(SHOP.machine.times.turn_over)
    assert _opening_minutes(operations, "a/finish", "b/rough", "c/harden", "d/hard") == [120, 120, turned]


def test_going_back_to_the_first_clamping_turns_the_part_over_again():
    operations = _turning(op("a/rough"), op("b/rough", way(clamping="II")), op("c/finish"))
    turned = 120 + float(SHOP.machine.times.turn_over)
    assert _opening_minutes(operations, "a/rough", "b/rough", "c/finish") == [120, 120, turned]


def test_the_time_of_the_steps_is_the_time_that_was_minimised():
    """All opening steps but those of the first clamping are part of the minutes of the proof."""
    bench = op("c/harden", Alternative("heat treat", "", BENCH, Mode.REST, 5.0))
    operations = _turning(op("a/finish"), op("b/rough", way(clamping="II")), bench, op("d/hard"))
    names = ("a/finish", "b/rough", "c/harden", "d/hard")
    chain = tuple(before(one, other) for one, other in pairwise(names))
    sequence = make_sequence(operations, DependencyGraph(operations, chain))
    assert sequence.levels[-1].value == pytest.approx(sequence.minutes - 120)
