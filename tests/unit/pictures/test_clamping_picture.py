"""Clamping pictures and storyboards: words clear of each other and inside the frame, up to 60 features."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from clear_words import check_words
from many_features import many_features
from planned_parts import planned

from sequencer.part.section import make_section
from sequencer.pictures.clamping_picture import clamping_picture, storyboard

PARTS = ("bridge_wheel", "press_sleeve", "telescope_ring", "mill_ring_inch")


@pytest.mark.parametrize("name", PARTS)
def test_each_visit_of_the_shipped_parts_has_clear_words(parts_folder: Path, name: str) -> None:
    plan = planned(parts_folder, name)
    for set_up in plan.set_ups:
        drawn = clamping_picture(plan, set_up)
        words = " ".join(each.text for each in check_words(drawn))
        for feature in set_up.finished:
            assert plan.part.by_name[feature].shown.split()[0] in words
        assert drawn == clamping_picture(plan, set_up)


@pytest.mark.parametrize("name", PARTS)
def test_the_storyboard_has_a_clear_frame_for_each_visit(parts_folder: Path, name: str) -> None:
    plan = planned(parts_folder, name)
    words = [each.text for each in check_words(storyboard(plan))]
    for set_up in plan.set_ups:
        assert f"Clamping {set_up.name}, visit {set_up.visit}" in words


@pytest.mark.parametrize("long", [False, True])
def test_sixty_features_finished_in_one_clamping(parts_folder: Path, long: bool) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    part = many_features(60, long=long)
    crowded = replace(plan, part=part, section=make_section(part))
    set_up = replace(plan.set_ups[0], finished=tuple(each.name for each in part.features))
    check_words(clamping_picture(crowded, set_up))
