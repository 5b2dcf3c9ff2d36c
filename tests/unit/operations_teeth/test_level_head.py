"""The head when it works level: its nose over the table and beside the gear, the wider head behind it."""

from __future__ import annotations

import math
from typing import Any

import pytest
from tooth_floor import (
    DISC,
    HOB,
    MILL,
    context,
    double_wheel,
    fact,
    fitted,
    only,
    part,
    refusal,
    ring,
    shop,
    teeth,
    tool,
    tried,
)

from sequencer.operations.operation import Rejection
from sequencer.operations.teeth.standing import standing_of
from sequencer.part import Part
from sequencer.shop import Shop

HOB_6 = tool("H6", HOB, module="6 mm", outside_diameter="125 mm", functional_length="260 mm")
#: No nose given: the head itself stands behind the tool.
BARE = {"nose_diameter": None, "nose_length": None, "head_diameter": "380 mm"}
NOSE = {"nose_diameter": "160 mm", "nose_length": "250 mm", "head_diameter": "380 mm"}


def _floor(spindle: dict[str, str | None], diameter: str = "1250 mm") -> Shop:
    return shop(HOB_6, tool("E4", MILL), spindle=spindle, table={"diameter": diameter})


def _plain(**changes: Any) -> Part:
    """Make a spur gear mn 6, z 80, 70 wide, down to the lower face."""
    gear: dict[str, Any] = {
        "name": "pinion",
        "kind": "external_gear",
        "teeth": 80,
        "module": "6 mm",
        "z_from": "0 mm",
        "z_to": "70 mm",
        "flank_class": {"year": 2013, "class": 7},
    }
    return part(gear | changes, height=70, outside=500)


def _needed(failed: Rejection, name: str) -> float:
    return float(failed.sentence.split(f"behind {name} needs ")[1].split(" mm")[0])


def test_the_head_behind_a_hob_needs_room_over_the_table() -> None:
    """The lowest point of a cylinder whose axis rises by the swivel: r cos(eta) - s sin(eta), derived.

    The gauge line lies 260 mm behind the middle of the hob, less the shift that still generates both flanks:
    80 - 1.25*6/tan(20) - 6 = 53.4 mm; the head of 380 mm begins 250 mm behind it.
    """
    failed = refusal(tried(_plain(), _floor(NOSE), "pinion", riser=60), "H6")
    assert "level head (380 mm, its nose 160 mm) behind H6 needs" in failed.sentence
    assert "has 60 mm against the table under riser 60 mm" in failed.sentence
    swivel = math.radians(fact(failed, "swivel of the hob"))
    shift = 80 - 1.25 * 6 / math.tan(math.radians(20)) - 6
    lowest = 190 * math.cos(swivel) - (260 - shift + 250) * math.sin(swivel)
    margin = fact(failed, "overrun for generating") + float(_floor(NOSE).limits.hob_margin)
    assert _needed(failed, "H6") == pytest.approx(lowest + margin, abs=0.1)


def test_a_table_that_ends_before_the_head_leaves_the_nose() -> None:
    """The head begins 457 mm off the crossing point; 400 mm wide, the table lies under the nose alone."""
    wide = refusal(tried(_plain(), _floor(NOSE), "pinion", riser=120), "H6")
    assert "level head" in wide.sentence
    found = tried(_plain(), _floor(NOSE, "800 mm"), "pinion", riser=120)
    assert "hobbing" in [way.method for way in found.alternatives]


def test_a_head_without_a_nose_stands_in_the_teeth() -> None:
    """Sqrt((r + da0/2 - 190)^2 + s^2) is below the tip radius: the head of 380 mm would cut the gear."""
    made = double_wheel(gap=200)
    floor = shop(tool("H1", HOB), spindle=BARE)
    failed = refusal(tried(made, floor, "wheel", "upper", riser=300), "H1")
    assert "head (380 mm) behind H1 would stand in the teeth that it cuts" in failed.sentence
    assert "nose_diameter and nose_length of the spindle in the shop file" in failed.remedy
    passes = tried(made, shop(tool("H1", HOB), spindle=NOSE), "wheel", "upper", riser=300)
    assert only(passes.alternatives).tool == "H1"


def test_the_remedy_names_a_riser_that_exists() -> None:
    """The risers of the floor are 60, 90 and 120 mm high."""
    failed = refusal(tried(_plain(), _floor(NOSE), "pinion", riser=90), "H6")
    assert failed.remedy.startswith("A riser of at least 1")
    assert "the highest of risers is 120 mm" in failed.remedy
    short = shop(HOB_6, spindle=NOSE | {"head_diameter": "200 mm"}, table={"diameter": "1250 mm"})
    failed = refusal(tried(_plain(), short, "pinion", riser=60), "H6")
    assert failed.remedy == "Use the 90 mm risers of risers."


def test_a_disc_has_the_head_behind_it_as_well() -> None:
    """A disc of 200 mm needs less than the head of 380 mm: level, 190 mm and the margin of the house."""
    disc = tool("D6", DISC, module="6 mm", functional_length="150 mm")
    floor = shop(disc, spindle=NOSE, table={"diameter": "1250 mm"})
    made = _plain(flank_class={"year": 2013, "class": 9})
    failed = refusal(tried(made, floor, "pinion", riser=120), "D6")
    assert "level head (380 mm, its nose 160 mm) behind D6 needs" in failed.sentence
    assert _needed(failed, "D6") == pytest.approx(190 + float(floor.limits.hob_margin), abs=0.5)


def test_an_end_mill_outside_leans_so_that_its_nose_clears_the_table() -> None:
    """Level, the nose of 160 mm would stand in a table 20 mm below; leaning up, it clears it."""
    mill = tool("E4", MILL, body_diameter="6 mm")
    way = only(tried(_plain(), shop(mill, spindle=NOSE), "pinion", riser=20).alternatives)
    assert "with holder and head leaning 0 deg" not in way.reason
    level = only(tried(_plain(), shop(mill, spindle=NOSE), "pinion", riser=300).alternatives)
    assert "with holder and head leaning 0 deg" in level.reason


def test_inside_teeth_name_the_head_without_a_nose() -> None:
    """A head of 380 mm behind a short mill does not go into a ring of 400."""
    mill = tool("E2", MILL, diameter="2.4 mm", reach="11.5 mm", corner_radius="0.2 mm")
    failed = refusal(tried(ring(floor=380), shop(mill, spindle=BARE), "ring"), "E2")
    assert "or head (380 mm) of E2 would stand" in failed.sentence


@pytest.mark.parametrize(
    ("spindle", "words"),
    [
        ({"nose_length": None}, "give both or neither"),
        ({"nose_diameter": "300 mm"}, "must not be above head_diameter"),
    ],
)
def test_a_nose_that_cannot_be_is_refused(spindle: dict[str, str | None], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        shop(HOB_6, spindle=spindle)


def test_a_table_wider_than_its_swing_is_refused() -> None:
    with pytest.raises(ValueError, match="must not be above swing"):
        shop(HOB_6, table={"diameter": "1700 mm"})


def test_jaws_end_before_a_head_that_is_further_out() -> None:
    """Jaws stand 250 mm outwards of what they grip (common practice, no source), not up to the swing."""
    collar = {
        "name": "collar", "kind": "turned_diameter", "diameter": "140 mm", "z_from": "0 mm", "z_to": "60 mm",
    }  # fmt: skip
    gear = _plain(z_from="60 mm", z_to="130 mm").features[-1]
    gear = gear.model_dump(mode="json", by_alias=True, exclude_unset=True)
    made = part(collar, gear, height=130, outside=500)
    jaws = {"hold": "outside jaws", "on": "collar", "z_from": "0 mm", "z_to": "30 mm"}
    standing = standing_of(context(made, _floor(NOSE)), teeth(made, "pinion"), fitted(made, riser=0, **jaws))
    (found,) = (one for one in standing.below if one.kind == "jaws")
    assert (found.inner, found.outer, found.near) == (70, 320, 30)
