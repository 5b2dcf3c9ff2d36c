"""Parts whose least number of clampings is known by hand: one, two, three, and what would save one."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from sequencer.errors import Severity
from sequencer.files import read_part_and_shop
from sequencer.operations.covering import Covering, Wanted
from sequencer.operations.layouts import Holder
from sequencer.part import Part
from sequencer.part.section import make_section
from sequencer.plan import Plan, make_plan
from sequencer.setups import least_findings
from sequencer.shop import Shop

SHOP = Path(__file__).parents[3] / "parts" / "shop.yaml"

GEAR = "flank_class: {year: 2013, class: 8}"

#: A ring from a sawn ring with teeth all over its height: both faces are turned, so two clampings.
BORED_RING = f"""
material: 42CrMo4+QT
blank: {{form: ring, diameter: 420 mm, bore: 230 mm, z_from: -3 mm, z_to: 63 mm}}
datums: {{A: bore, B: lower_face}}
features:
  - {{name: lower_face, kind: face, side: lower, z: 0 mm}}
  - {{name: upper_face, kind: face, side: upper, z: 60 mm}}
  - {{name: bore, kind: bore, diameter: 240 mm, z_from: 0 mm, z_to: 60 mm, tolerance: H7}}
  - {{name: teeth, kind: external_gear, teeth: 80, module: 5 mm, z_from: 0 mm, z_to: 60 mm,
     {GEAR}, datums: [A, B]}}
"""

#: A collar without teeth, light enough to be parted off.
COLLAR = """
material: 42CrMo4+QT
blank: {form: ring, diameter: 310 mm, bore: 200 mm, z_from: -3 mm, z_to: 63 mm}
datums: {A: bore, B: upper_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 60 mm}
  - {name: bore, kind: bore, diameter: 210 mm, z_from: 0 mm, z_to: 60 mm, tolerance: H7}
  - {name: outside, kind: turned_diameter, diameter: 300 mm, z_from: 0 mm, z_to: 60 mm}
"""

#: The lower face stays raw: everything else is reached with the upper side up.
ONE_RAW_FACE = f"""
material: 42CrMo4+QT
blank: {{form: ring, diameter: 420 mm, bore: 200 mm, z_from: 0 mm, z_to: 123 mm}}
datums: {{A: bore, B: upper_face}}
features:
  - {{name: upper_face, kind: face, side: upper, z: 120 mm}}
  - {{name: bore, kind: bore, diameter: 220 mm, z_from: 0 mm, z_to: 120 mm, tolerance: H7}}
  - {{name: neck, kind: turned_diameter, diameter: 302 mm, z_from: 20 mm, z_to: 80 mm}}
  - {{name: teeth, kind: external_gear, teeth: 64, module: 5 mm, z_from: 80 mm, z_to: 120 mm,
     {GEAR}, datums: [A, B]}}
"""

#: Shoulders on both sides, and bore and faces again after hardening: two soft clampings and one hard.
HARDENED = f"""
material: 18CrNiMo7-6
heat_treatment: {{kind: case hardening, case_depth: 1 mm}}
blank: {{form: bar, diameter: 270 mm, z_from: -3 mm, z_to: 123 mm}}
datums: {{A: bore, B: upper_face}}
features:
  - {{name: lower_face, kind: face, side: lower, z: 0 mm}}
  - {{name: upper_face, kind: face, side: upper, z: 120 mm}}
  - {{name: bore, kind: bore, diameter: 100 mm, z_from: 0 mm, z_to: 120 mm, tolerance: H6}}
  - {{name: low_neck, kind: turned_diameter, diameter: 160 mm, z_from: 0 mm, z_to: 30 mm}}
  - {{name: teeth, kind: external_gear, teeth: 60, module: 4 mm, z_from: 30 mm, z_to: 90 mm,
     {GEAR}, datums: [A, B]}}
  - {{name: high_neck, kind: turned_diameter, diameter: 160 mm, z_from: 90 mm, z_to: 120 mm}}
"""

#: Bore and lower face stay raw, teeth down to the lower face: held in the raw bore on a riser that the hob
#: runs out above, one clamping does; without such a riser the part is turned over.
ON_A_RISER = f"""
material: 42CrMo4+QT
blank: {{form: ring, diameter: 420 mm, bore: 200 mm, z_from: 0 mm, z_to: 123 mm}}
features:
  - {{name: upper_face, kind: face, side: upper, z: 120 mm}}
  - {{name: hub, kind: turned_diameter, diameter: 300 mm, z_from: 60 mm, z_to: 120 mm}}
  - {{name: teeth, kind: external_gear, teeth: 80, module: 5 mm, z_from: 0 mm, z_to: 60 mm, {GEAR}}}
"""


def shop_with(*, methods: list[str] | None = None, risers: dict[str, list[str]] | None = None) -> Shop:
    """The shipped shop with other gear methods, or other risers by the way to hold."""
    given: dict[str, Any] = yaml.safe_load(SHOP.read_text(encoding="utf-8"))
    if methods is not None:
        given["machine"]["gear_methods"] = methods
    for means in given["clamping_means"]:
        if risers is not None:
            means["risers"] = risers.get(means["hold"], [])
    return Shop.model_validate(given)


def read(text: str) -> Part:
    return Part.model_validate({"name": "Part", "drawing": "LC-1", **yaml.safe_load(text)})


def planned(text: str, shop: Shop | None = None) -> Plan:
    return make_plan(read(text), shop or shop_with())


@pytest.mark.parametrize(
    ("text", "number"), [(ONE_RAW_FACE, 1), (BORED_RING, 2), (HARDENED, 3)], ids=["one", "two", "three"]
)
def test_the_number_known_by_hand_is_proven(text: str, number: int) -> None:
    plan = planned(text)
    assert [f for f in plan.findings if f.severity is Severity.ERROR] == []
    assert (plan.sequence.clampings, plan.least.number, plan.least.proven) == (number, number, True)
    assert len(plan.least.forced) == number - 1
    assert plan.least.fewer == ""


def test_both_faces_of_a_ring_force_the_second_clamping() -> None:
    least = planned(BORED_RING).least
    assert least.forced[0].names == ("lower_face", "upper_face")
    assert "lower_face: looks down in clamping I" in least.forced[0].reason
    assert least.sentence.startswith("2, proven over")


def test_a_small_plain_ring_may_be_parted_off() -> None:
    """The lower face is no datum and has no fine surface: extra stock to grip saves the second clamping."""
    forced = planned(COLLAR).least.forced[0]
    assert [remedy.clampings for remedy in forced.remedies] == [1]
    assert "extra stock at the lower end to grip, parted off with" in forced.remedies[0].change
    assert "never let it drop" in forced.remedies[0].change


def test_teeth_that_run_out_into_the_stub_are_not_parted_off() -> None:
    text = BORED_RING.replace("datums: {A: bore, B: lower_face}", "datums: {A: bore, B: upper_face}")
    text = text.replace("bore: 230 mm", "bore: 300 mm").replace("diameter: 240 mm", "diameter: 310 mm")
    forced = planned(text).least.forced[0]
    assert forced.remedies == ()
    assert "extra stock to part off" in forced.tried


def test_a_datum_face_is_not_parted_off() -> None:
    forced = planned(BORED_RING).least.forced[0]
    assert forced.remedies == ()
    assert any("lower_face is a datum" in words for words in forced.tried)


def test_the_riser_that_one_clamping_needs_is_found() -> None:
    plan = planned(ON_A_RISER, shop_with(methods=["hobbing"]))
    assert (plan.sequence.clampings, plan.least.number) == (1, 1)
    held = plan.operations.clampings[0].clamping
    assert (held.up, held.hold, held.on) == ("upper", "inside jaws", "blank")
    assert held.riser >= 60


def test_without_that_riser_it_is_the_remedy() -> None:
    low = {"outside jaws": ["40 mm"], "inside jaws": ["40 mm"]}
    plan = planned(ON_A_RISER, shop_with(methods=["hobbing"], risers=low))
    assert (plan.sequence.clampings, plan.least.number, plan.least.proven) == (2, 2, True)
    forced = plan.least.forced[0]
    assert "teeth" in forced.names
    riser = next(remedy for remedy in forced.remedies if "riser" in remedy.change)
    assert riser.change.endswith("for inside jaws")
    taller = shop_with(methods=["hobbing"], risers={**low, "inside jaws": ["40 mm", _height(riser.change)]})
    assert planned(ON_A_RISER, taller).sequence.clampings == 1


def _height(change: str) -> str:
    words = change.split()
    return f"{words[words.index('of') + 1]} mm"


def test_more_clampings_than_needed_are_told() -> None:
    """The planner turns the part over for nothing."""
    part = read(ONE_RAW_FACE).model_dump(mode="json", exclude_unset=True, by_alias=True)
    part["clampings"] = [
        {
            "name": "I",
            "up": "upper",
            "hold": "outside jaws",
            "on": "blank",
            "rests_on": "blank",
            "z_from": "0 mm",
            "z_to": "20 mm",
        },
        {
            "name": "II",
            "up": "lower",
            "hold": "inside jaws",
            "on": "bore",
            "rests_on": "upper_face",
            "z_from": "70 mm",
            "z_to": "120 mm",
        },
    ]
    for feature in part["features"]:
        if feature["name"] == "neck":
            feature["clamping"] = "II"
    plan = make_plan(Part.model_validate(part), shop_with())
    assert plan.sequence.clampings == 2
    assert plan.least.number == 1
    finding = least_findings(plan.least)[0]
    assert finding.severity is Severity.WARNING
    assert finding.what.startswith("2 clampings are planned, 1 would do: I upper side up")


def test_the_search_covers_every_row() -> None:
    """Against all ordered pairs by brute force, with the same candidates."""
    part, shop = read(BORED_RING), shop_with()
    covering = Covering(Holder(part, shop, make_section(part)))
    wanted = tuple(
        Wanted(op.name, op.feature, op.hard)
        for op in covering.cut_by(0).values()
        if op.cuts and any(covering.cuts(i, op.name) for i in range(len(covering.candidates)))
    )
    found = {
        tuple(c.model_dump_json(exclude={"name"}) for c in layout.clampings)
        for layout in covering.layouts(wanted, 2)
    }
    expected = set()
    for i, first in enumerate(covering.candidates):
        for j, second in enumerate(covering.candidates):
            made = {w.feature for w in wanted if covering.cuts(i, w.name)}
            if not first.first or second.first or not second.needs <= made or i == j:
                continue
            if all(covering.cuts(i, w.name) or covering.cuts(j, w.name) for w in wanted):
                expected.add(tuple(c.clamping.model_dump_json(exclude={"name"}) for c in (first, second)))
    assert found == expected
    assert found


def test_plan_json_holds_it() -> None:
    from sequencer.papers.plan_json import plan_text

    told = json.loads(plan_text(planned(BORED_RING)))["least_clampings"]
    assert (told["number"], told["planned"], told["proven"]) == (2, 2, True)
    assert told["forced"][0]["names"] == ["lower_face", "upper_face"]


def test_shipped_parts_need_what_they_are_given() -> None:
    for name, number in (("first_wheel", 2), ("telescope_ring", 2)):
        plan = make_plan(*read_part_and_shop(SHOP.parent / f"{name}.yaml", SHOP))
        assert (plan.least.number, plan.least.proven) == (number, True)
