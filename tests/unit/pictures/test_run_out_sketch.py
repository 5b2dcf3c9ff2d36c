"""Run-out sketches: each chosen cutter at both ends, true to scale, with the numbers of the method."""

from __future__ import annotations

from pathlib import Path

import pytest
from clear_words import check_words
from planned_parts import planned

from sequencer.pictures.half_section_layout import SCALES
from sequencer.pictures.run_out_layout import make_window
from sequencer.pictures.run_out_sketch import cuts_of, room_words, run_out_sketch, run_out_sketches

PARTS = ("bridge_wheel", "telescope_ring", "mill_ring_inch")


@pytest.mark.parametrize("name", PARTS)
def test_needs_and_has_stand_at_each_end_with_the_neighbour(parts_folder: Path, name: str) -> None:
    plan = planned(parts_folder, name)
    words = [each.text for each in check_words(run_out_sketch(plan))]
    cuts = cuts_of(plan)
    assert {cut.feature for cut in cuts} == {
        step.operation.feature for step in plan.sequence.steps if step.alternative.run_out
    }
    for cut in cuts:
        assert [each.side for each in cut.way.run_out] == ["below", "above"]
        for each in cut.way.run_out:
            assert f"needs {room_words(each.needed, plan.part.units)}" in words
            if each.kind:
                assert f"has {room_words(each.has, plan.part.units)}" in words
    whole = " ".join(words)
    assert "limited by" in whole
    assert ("mm" in whole) == (plan.part.units == "mm")


def test_the_numbers_are_those_of_the_facts(parts_folder: Path) -> None:
    for cut in cuts_of(planned(parts_folder, "bridge_wheel")):
        facts = {fact.name: fact.value for fact in cut.way.facts}
        for each in cut.way.run_out:
            assert facts[f"run-out needed {each.side}"] == each.needed
            if each.kind:
                assert facts[f"run-out room {each.side}"] == each.has


@pytest.mark.parametrize("name", PARTS)
def test_the_cutter_ends_where_its_reach_says(parts_folder: Path, name: str) -> None:
    """Its nearest point lies reach and overrun beyond the teeth, never past the room needed."""
    plan = planned(parts_folder, name)
    for cut in cuts_of(plan):
        extent = plan.section.extent(cut.feature)
        for each in cut.way.run_out:
            tip = (extent.inner if each.setting.internal else extent.outer) / 2
            window = make_window(each, tip)
            assert window.scale in SCALES
            beyond = window.way * window.touch[1]
            assert beyond == pytest.approx(each.reach + each.overrun, abs=0.4)
            assert beyond <= each.needed + 1e-6
            assert window.shadow


def test_one_sketch_a_tooth_system(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    drawn = run_out_sketches(plan)
    assert list(drawn) == ["wheel", "spline", "pinion"]
    for each in drawn.values():
        check_words(each)


def test_the_same_plan_gives_the_same_bytes(parts_folder: Path) -> None:
    plan = planned(parts_folder, "telescope_ring")
    assert run_out_sketch(plan) == run_out_sketch(plan)
