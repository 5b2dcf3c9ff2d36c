"""The time bar shows every minute of the plan once, and its words keep clear of each other."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from example_plan import example_plan

from sequencer.pictures import ink
from sequencer.pictures.lettering import text_width
from sequencer.pictures.time_bar import LOOKS, WIDTH, segments, time_bar
from sequencer.plan import Plan

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def plan() -> Plan:
    return example_plan()


def test_the_segments_hold_all_minutes_and_follow_each_other(plan: Plan) -> None:
    made = [each for _, steps in plan.sequence.visits for each in segments(steps)]
    assert sum(each.end - each.start for each in made) == pytest.approx(plan.sequence.minutes)
    for before, after in pairwise(made):
        assert after.start == pytest.approx(before.end)


def test_words_keep_clear_of_each_other_and_stay_on_the_paper(plan: Plan) -> None:
    boxes = []
    for text in ET.fromstring(time_bar(plan)).iter(f"{SVG}text"):
        size, x, y = (float(text.attrib[name]) for name in ("font-size", "x", "y"))
        wide = text_width(text.text or "", size, bold=text.attrib["font-weight"] == "bold")
        left = x - {"start": 0.0, "middle": wide / 2, "end": wide}[text.attrib["text-anchor"]]
        boxes.append((left, left + wide, y - 0.75 * size, y + 0.2 * size, text.text))
    assert all(left >= 0 and right <= WIDTH for left, right, _, _, _ in boxes)
    for index, one in enumerate(boxes):
        for other in boxes[index + 1 :]:
            apart = one[1] <= other[0] or other[1] <= one[0] or one[3] <= other[2] or other[3] <= one[2]
            assert apart, (one, other)


def test_the_kinds_differ_in_shade_or_hatching() -> None:
    looks = list(LOOKS.values())
    assert len(set(looks)) == len(looks)
    assert ink.contrast(LOOKS["gear-synchronised"][0], LOOKS["milling"][0]) > 4.5
