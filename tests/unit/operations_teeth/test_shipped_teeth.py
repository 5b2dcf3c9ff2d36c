"""Tooth systems of the shipped parts: each can be cut, and each verdict carries its numbers."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.files.load import read_part, read_shop
from sequencer.operations.make import make_operations
from sequencer.operations.operation import Action, OperationList
from sequencer.operations.teeth import method_table

PARTS = Path(__file__).parents[3] / "parts"
NAMES = sorted(path.stem for path in PARTS.glob("*.yaml") if path.stem != "shop")
TOOTHED = ("external_gear", "internal_gear", "double_helical_gear", "spline", "bevel_gear")


@pytest.fixture(scope="module", params=NAMES)
def listed(request: pytest.FixtureRequest) -> OperationList:
    """Give the operations of a shipped part on the shipped shop."""
    return make_operations(read_part(PARTS / f"{request.param}.yaml"), read_shop(PARTS / "shop.yaml"))


def test_every_tooth_system_can_be_cut(listed: OperationList) -> None:
    for feature in listed.part.of_kind(*TOOTHED):
        cuts = listed.of(feature.name, action=Action.CUT_TEETH)
        assert cuts
        for cut in cuts:
            assert cut.alternatives, [way.sentence for way in cut.rejected]


def test_room_passes_only_where_it_is_enough(listed: OperationList) -> None:
    for feature in listed.part.of_kind(*TOOTHED):
        for row in method_table(listed, feature.name).passing:
            if row.needs is not None and row.has is not None:
                assert row.needs <= row.has + 1e-6, row.sentence


def test_every_verdict_is_a_sentence(listed: OperationList) -> None:
    for feature in listed.part.of_kind(*TOOTHED):
        rows = method_table(listed, feature.name).rows
        assert any(row.verdict == "fails" for row in rows)
        for row in rows:
            assert row.sentence
            assert row.verdict != "passes" or row.sentence.endswith(".")


def test_hobbing_is_slower_on_the_table_than_skiving(listed: OperationList) -> None:
    """A hob turns the table a few times a minute, a skiving cutter tens to hundreds of times (derived)."""
    for feature in listed.part.of_kind("external_gear", "internal_gear", "double_helical_gear"):
        for cut in listed.of(feature.name, action=Action.CUT_TEETH):
            for way in cut.alternatives:
                speeds = [one.value for one in way.facts if one.name.startswith("table revolutions")]
                if way.method == "hobbing":
                    assert max(speeds) < 10
                elif way.method == "power skiving":
                    assert min(speeds) > 30
