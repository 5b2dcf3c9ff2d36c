"""A week from files: faults with their places, tools wanted by two parts, tools away, what stays."""

from __future__ import annotations

import datetime
import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from sequencer.errors import BadFile
from sequencer.files import read_part_and_shop, read_rotation
from sequencer.papers.week_sheet import week_json, week_lines, week_papers
from sequencer.plan import Plan, make_plan
from sequencer.rotation import make_week
from sequencer.rotation.findings import machine_blocks
from sequencer.rotation.make import tools_of
from sequencer.shop.rotation import Rotation

PARTS = Path(__file__).parents[3] / "parts"
START = datetime.date(2027, 4, 5)


@cache
def plan_of(name: str) -> Plan:
    part, shop = read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml")
    return make_plan(part, shop)


def week(plans, **more):
    """A week of some plans, all on the shop of the first."""
    shop = plans[0].shop
    entries = [{"file": f"{plan.part.drawing}.yaml"} for plan in plans]
    words = {"name": "Week 14", "shop": "shop.yaml", "start": "2027-04-05", "parts": entries, **more}
    rotation = Rotation.model_validate_json(json.dumps(words))
    return make_week(rotation, plans, shop)


def twin(plan: Plan, name: str, **more) -> Plan:
    """The same part under another name."""
    return replace(plan, part=plan.part.model_copy(update={"name": name, **more}))


def in_shop(plan: Plan, tool: str, **more) -> Plan:
    """The same plan, with another number or lead time of a tool in the shop."""
    tools = tuple(t.model_copy(update=more) if t.name == tool else t for t in plan.shop.tools)
    shop = plan.shop.model_copy(update={"tools": tools})
    shop.__dict__.pop("tool_by_name", None)  # the copy keeps what was looked up in the original
    return replace(plan, shop=shop)


def hob_of(plan: Plan) -> str:
    """The hob that cuts the teeth of the first wheel."""
    return next(use.tool for use in plan.magazine.uses if plan.shop.tool_by_name[use.tool].kind == "hob")


def worn(plan: Plan, tool: str, share: float) -> Plan:
    """The same plan, in which one part wears off so much of a tool."""
    uses = tuple(replace(use, share=share) if use.tool == tool else use for use in plan.magazine.uses)
    return replace(plan, magazine=replace(plan.magazine, uses=uses))


def words(made) -> str:
    return "\n".join(str(finding) for finding in made.findings)


def test_two_parts_want_one_cutter_whose_life_is_enough():
    """The hob serves one after the other: a note names both parts."""
    plan = plan_of("first_wheel")
    made = week([plan, twin(plan, "Second wheel")])
    assert f"note: tool {hob_of(plan)}: 2 parts want it one after the other" in words(made)
    assert "Second wheel from" in words(made)
    assert made.exchanges == 0
    assert made.proven


def test_two_parts_want_one_cutter_that_is_worn_after_the_first():
    """Each wears off 0.2 lives a piece, 4 and 4 pieces: 1.6 lives, one hob owned, sharpening unknown."""
    plan = plan_of("first_wheel")
    hob = hob_of(plan)
    plans = [in_shop(worn(twin(plan, name, lot=4), hob, 0.2), hob, owned=1) for name in ("One", "Two")]
    text = words(week(plans))
    assert f"warning: tool {hob}: 2 parts want it and wear out" in text
    assert "sharpen between the parts: say how long with regrind_time" in text


def test_lives_of_two_real_plans_are_added_up():
    """The hob lasts for either lot, not for both; the share worn off comes from the plan."""
    part, shop = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
    one = make_plan(part, shop)
    hob = hob_of(one)
    use = next(each for each in one.magazine.uses if each.tool == hob)
    metres = sum(
        fact.value
        for step in one.sequence.steps
        if step.alternative.tool == hob
        for fact in step.alternative.facts
        if fact.name == "length of teeth cut"
    )
    usable = shop.limits.life_use * float(shop.tool_by_name[hob].life_length) / 1000
    assert use.share == pytest.approx(metres / usable, abs=1e-6)
    lot = int(0.75 / use.share)
    assert lot * use.share <= 1 < 2 * lot * use.share
    plans = [
        in_shop(make_plan(part.model_copy(update={"name": n, "lot": lot}), shop), hob, owned=1) for n in "AB"
    ]
    assert f"warning: tool {hob}: 2 parts want it and wear out 2 together" in words(week(plans))


def test_there_is_no_time_to_sharpen_between_two_parts():
    """Sharpening takes 5 d, the parts follow each other at once."""
    from sequencer.units import parse

    plan = plan_of("first_wheel")
    hob = hob_of(plan)
    plans = [
        in_shop(worn(twin(plan, n, lot=4), hob, 0.2), hob, owned=1, regrind_time=parse("5 d", "time"))
        for n in ("One", "Two")
    ]
    assert f"error: tool {hob}: 2 parts want it" in words(week(plans))
    assert "sharpening takes 5 d" in words(week(plans))


@pytest.mark.parametrize(("why", "says"), [("booked", "is booked twice"), ("regrind", "is away")])
def test_a_tool_that_is_not_there_is_an_error(why, says):
    """The only hob is gone during the week."""
    plan = plan_of("first_wheel")
    hob = hob_of(plan)
    owned = plan.shop.tool_by_name[hob].owned
    away = [{"tool": hob, "number": owned, "leaves": "2027-04-01", "back": "2027-05-01", "why": why}]
    text = words(week([plan], away=away))
    assert f"error: tool {hob}: it {says}: {plan.part.name} needs it from 2027-04-05" in text


def test_a_tool_that_is_back_before_the_part_begins_is_no_finding():
    """It comes back on the day on which the part is begun."""
    plan = plan_of("first_wheel")
    hob = hob_of(plan)
    away = [{"tool": hob, "number": 1, "leaves": "2027-04-01", "back": "2027-04-05", "why": "regrind"}]
    assert f"tool {hob}" not in words(week([plan], away=away))


def test_a_tool_on_order_comes_after_the_due_date():
    """None owned, 30 d of lead time, due in four days."""
    from sequencer.units import parse

    plan = plan_of("first_wheel")
    hob = hob_of(plan)
    changed = in_shop(twin(plan, "Urgent", due=datetime.date(2027, 4, 9)), hob, owned=0,
                      lead_time=parse("30 d", "time"))  # fmt: skip
    assert f"error: tool {hob}: the shop owns none; ordered on 2027-04-05 it is there on 2027-05-05" in words(
        week([changed])
    )


def test_a_part_that_cannot_be_ready_in_time_is_late():
    """Forty pieces in one day."""
    plan = twin(plan_of("first_wheel"), "Big lot", lot=40, due=START)
    made = week([plan])
    assert made.parts[0].days_late > 0
    assert "d after its due date" in words(made)


def test_a_magazine_for_one_part_at_a_time_exchanges_tools():
    """Room for the larger need of the two only: what stays keeps its pocket, the rest is exchanged."""
    first, ring = plan_of("first_wheel"), plan_of("telescope_ring")
    pockets = max(first.magazine.needed, ring.magazine.needed)
    magazine = first.shop.magazine.resized(pockets)
    shop = first.shop.model_copy(update={"magazine": magazine})
    made = week([replace(first, shop=shop), replace(ring, shop=shop)])
    union = tools_of(first) | tools_of(ring)
    assert made.union > pockets
    assert made.loads >= len(union)
    assert 0 < made.exchanges < len(union)
    before, after = (part.loading for part in made.parts)
    staying = set(after.stay) - set(after.moved)
    assert staying
    assert all(before.pockets[unit] == after.pockets[unit] for unit in staying)
    assert len(set(after.pockets.values())) == len(after.pockets)
    assert set(tools_of(made.parts[1].plan)) <= set(after.pockets)


def test_papers_have_the_same_bytes_twice():
    """Sheet, workbook, page and JSON; the lines name each part."""
    plan = plan_of("first_wheel")
    made = week([plan, twin(plan, "Second wheel")])
    assert week_papers(made) == week_papers(week([plan, twin(plan, "Second wheel")]))
    read = json.loads(week_json(made))
    assert read["order"] == [part.plan.part.name for part in made.parts]
    assert read["proven"] is True
    assert any("Second wheel, lot" in line for line in week_lines(made))
    assert sum("2 pallets, hydraulic" in line for line in week_lines(made)) == 2


FAULTS = [
    ("parts: [{file: none.yaml}]", r"week\.yaml:4:\d+: parts\[0\]\.file: there is no part file 'none\.yaml'"),
    ("parts: [{file: first_wheel.yaml, lot: 0}]", r"week\.yaml:4:\d+: parts\[0\]\.lot"),
    ("parts: [{file: first_wheel.yaml}, {file: first_wheel.yaml}]", r"'first_wheel\.yaml' is listed twice"),
    ("parts: [{file: first_wheel.yaml}]\nloaded: [T999]", r"week\.yaml:5:\d+: loaded\[0\]: there is no tool"),
    ("parts: [{file: first_wheel.yaml}]\nloaded: [T01]", "'T01' is a resident"),
    (
        "parts: [{file: first_wheel.yaml}]\naway: [{tool: T45, number: 9, leaves: 2027-04-01, "
        "back: 2027-04-02, why: booked}]",
        "9 of T45 are away",
    ),
    (
        "parts: [{file: first_wheel.yaml}]\naway: [{tool: T45, leaves: 2027-04-03, back: 2027-04-02, "
        "why: booked}]",
        "leaves 2027-04-03 must be before back 2027-04-02",
    ),
    ("parts: [{file: first_wheel.yaml}]\npart: x", "part"),
]


@pytest.mark.parametrize(("text", "match"), FAULTS)
def test_faults_of_a_rotation_file_have_their_place(tmp_path, text, match):
    """Line, column and remedy, as in part and shop files."""
    for name in ("first_wheel.yaml", "shop.yaml"):
        (tmp_path / name).write_bytes((PARTS / name).read_bytes())
    file = tmp_path / "week.yaml"
    file.write_text(f"name: Week 14\nshop: shop.yaml\nstart: 2027-04-05\n{text}\n")
    with pytest.raises(BadFile, match=match):
        read_rotation(file)


def test_faults_of_all_files_come_at_once(tmp_path):
    """A fault of the rotation file and one of a part file."""
    (tmp_path / "shop.yaml").write_bytes((PARTS / "shop.yaml").read_bytes())
    text = (PARTS / "first_wheel.yaml").read_text().replace("material:", "materiel:", 1)
    (tmp_path / "first_wheel.yaml").write_text(text)
    file = tmp_path / "week.yaml"
    file.write_text(
        "name: W\nshop: shop.yaml\nstart: 2027-04-05\nparts: [{file: first_wheel.yaml}]\nloaded: [T999]\n"
    )
    with pytest.raises(BadFile, match=r"(?s)there is no tool 'T999'.*materiel"):
        read_rotation(file)


def test_the_shipped_week_reads():
    """Three parts with lots and due dates of the rotation."""
    read = read_rotation(PARTS / "weeks" / "week_14.yaml")
    assert [part.lot for part in read.parts] == [4, 2, 1]
    assert read.parts[0].due == datetime.date(2027, 4, 9)


def test_a_part_that_goes_away_leaves_the_machine_free():
    """The sleeve is hardened between its clampings: times before and after, and who fits in between."""
    sleeve, wheel = plan_of("press_sleeve"), plan_of("first_wheel")
    blocks = machine_blocks(sleeve)
    assert len(blocks) > 1
    assert all(minutes > 0 for minutes, _ in blocks)
    on_machine = sum(step.minutes for step in sleeve.sequence.steps if step.visit)
    assert sum(minutes for minutes, _ in blocks) == pytest.approx(on_machine)
    assert sum(away for _, away in blocks) == pytest.approx(sleeve.sequence.time_away)
    text = words(week([sleeve, wheel], order="as listed"))
    assert "here they count in one block; meanwhile others can be made: " + wheel.part.name in text
    assert len(machine_blocks(wheel)) == 1
    assert "in one block" not in words(week([wheel]))
