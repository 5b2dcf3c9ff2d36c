"""The graphs of all shipped parts: what every gear-shop planner would look for.

Common practice, no source, unless a rule's source says otherwise.
"""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from sequencer.files.load import read_part_and_shop
from sequencer.operations import Action, Stage
from sequencer.operations.make import make_operations
from sequencer.part.toothed import DoubleHelicalGear
from sequencer.precedence.context import RuleContext
from sequencer.precedence.dependency import Strength
from sequencer.precedence.graph import DependencyGraph
from sequencer.precedence.make import make_graph

PARTS = Path(__file__).parents[3] / "parts"
NAMES = sorted(path.name for path in PARTS.glob("*.yaml") if path.name != "shop.yaml")


@pytest.fixture(scope="module", params=NAMES)
def made(request: pytest.FixtureRequest) -> DependencyGraph:
    """Make the graph of a shipped part on the example shop."""
    part, shop = read_part_and_shop(PARTS / request.param, PARTS / "shop.yaml")
    return make_graph(make_operations(part, shop))


def test_every_dependency_names_operations_and_says_why(made: DependencyGraph) -> None:
    names = set(made.operations.by_name)
    for each in made.dependencies:
        assert {name for name in (each.first, each.second, each.third) if name} <= names
        assert each.rule
        assert each.reason
        assert each.source
        assert (each.penalty > 0) is (each.strength is Strength.SHOULD)
        assert each.clamping in ("", *(clamping.name for clamping in made.operations.clampings))


def test_the_graph_is_dense_but_not_absurd(made: DependencyGraph) -> None:
    """Some hundreds of dependencies for sixty operations."""
    operations = len(made.operations.operations)
    assert operations < len(made.dependencies) < 8 * operations


def test_receipt_comes_first_and_acceptance_last(made: DependencyGraph) -> None:
    for operation in made.operations.operations:
        if operation.name != "part/receive":
            assert made.leads("part/receive", operation.name)
        if operation.name != "part/inspect":
            assert made.leads(operation.name, "part/inspect")


def test_teeth_follow_their_blank_and_precede_deburring_and_measuring(made: DependencyGraph) -> None:
    context = RuleContext(made.operations)
    for gear in context.toothed:
        blank = [op for op in context.blank(gear) if op.hard is not True]
        assert blank
        for tooth in context.last_teeth(gear.name):
            assert made.leads(blank[-1].name, tooth.name)
            for deburring in context.deburring(gear.name):
                assert made.leads(tooth.name, deburring.name)
                for check in context.measuring(gear.name):
                    assert made.leads(deburring.name, check.name)


def test_grooves_for_run_out_are_finished_before_their_teeth(made: DependencyGraph) -> None:
    context = RuleContext(made.operations)
    for groove in made.operations.part.of_kind("apex_groove", "run_out_groove"):
        for done in context.done(groove.name):
            for tooth in context.first_teeth(getattr(groove, "gear", "")):
                assert made.leads(done.name, tooth.name)


def test_each_clamping_is_opened_by_what_it_rests_on(made: DependencyGraph) -> None:
    context = RuleContext(made.operations)
    for fitted in made.operations.clampings:
        if fitted.clamping.rests_on in made.operations.part.by_name:
            seat = context.done(fitted.clamping.rests_on)[-1]
            only_here = [op for op in made.operations.operations if op.clampings == (fitted.name,)]
            assert only_here
            assert all(made.leads(seat.name, op.name) for op in only_here if op.name != seat.name)


def test_roughing_in_a_soaked_clamping_precedes_its_close_teeth(made: DependencyGraph) -> None:
    """The spline or gear finished before the soak is a classic slip."""
    for soak in made.operations.operations:
        if soak.action is not Action.SOAK:
            continue
        for tooth in made.operations.operations:
            soft = tooth.action is Action.CUT_TEETH and tooth.stage is Stage.FINISH
            if soft and made.possible[tooth.name] == (soak.feature,):
                assert made.leads(soak.name, tooth.name), (soak.name, tooth.name)


def test_both_helices_share_a_zero_or_a_warning_says_what_follows(made: DependencyGraph) -> None:
    for gear in made.operations.part.features:
        if isinstance(gear, DoubleHelicalGear):
            bound = [each for each in made.musts if each.rule == "R9"]
            assert bound or any(f.subject == "rule R9" for f in made.findings)


def test_hardening_stands_between_soft_and_hard_work(made: DependencyGraph) -> None:
    treatments = [op for op in made.operations.operations if op.action is Action.HEAT_TREAT]
    for treatment in treatments:
        for operation in made.operations.operations:
            if operation.cuts and operation.hard is False:
                assert made.leads(operation.name, treatment.name)
            if operation.cuts and operation.hard is True:
                assert made.leads(treatment.name, operation.name)


def test_the_reduction_is_small_and_says_the_same(made: DependencyGraph) -> None:
    reduced = made.reduced()
    assert len(reduced) <= len(made.certain)
    thin = DependencyGraph(made.operations, reduced)
    for operation in made.operations.by_name:
        assert thin.reach.below[thin.reach.index[operation]] == made.reach.below[made.reach.index[operation]]


def test_the_critical_chain_is_a_chain(made: DependencyGraph) -> None:
    chain = made.critical_chain()
    assert len(chain.operations) > 5
    assert all(made.leads(first, second) for first, second in pairwise(chain.operations))
