"""Shops that contradict themselves: each fault says where, what, which limit and what to do."""

from __future__ import annotations

import copy
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pydantic import ValidationError

from sequencer.files import read_shop
from sequencer.files.introductions import SHOP_EXAMPLE
from sequencer.files.tree import plain, read_tree
from sequencer.shop import Shop
from sequencer.shop.references import check_shop

OWN = {"name": "H1", "relation": "before", "first": "bore", "second": "teeth", "owner": "J. Marten"}
OWN |= {"date": "2027-01-04", "reason": "measured so"}
CHANGE = {"rule": "R7", "action": "off", "owner": "J. Marten", "date": "2027-01-04", "reason": "measured so"}
SKIVING = {
    "name": "T30", "kind": "skiving cutter", "title": "Skiving cutter", "module": "4 mm", "teeth": 40,
    "helix_angle": "20 deg", "hand": "right", "outside_diameter": "180 mm", "thickness": "30 mm",
    "neck_diameter": "100 mm", "neck_length": "80 mm", "holder_diameter": "80 mm", "made_for": "internal",
    "body_diameter": "180 mm", "functional_length": "200 mm", "overall_length": "300 mm", "mass": "8 kg",
}  # fmt: skip
BODY = {"body_diameter": "60 mm", "functional_length": "200 mm", "overall_length": "300 mm", "mass": "5 kg"}


@pytest.fixture(scope="module")
def shop() -> dict[str, Any]:
    root = read_tree(SHOP_EXAMPLE).root
    assert root is not None
    values = plain(root)
    assert isinstance(values, dict)
    return dict(values)


def _changed(shop: dict[str, Any], *edits: tuple[str, Any]) -> dict[str, Any]:
    document = copy.deepcopy(shop)
    for path, value in edits:
        *steps, last = path.split(".")
        here: Any = document
        for step in steps:
            here = here[int(step)] if isinstance(here, list) else here.setdefault(step, {})
        if last == "+":
            here.append(value)
        elif value is ...:
            del here[last]
        elif isinstance(here, list):
            here[int(last)] = value
        else:
            here[last] = value
    return document


CASES = [
    ("two tools of one name", [("tools.1.name", "T01")], "tools.1.name",
     "name 'T01' is used twice; tools[0] has it already; give each its own name"),
    ("two means of one name", [("clamping_means.+", {"name": "jaws", "hold": "bolts", "diameter_from": "1 mm",
                                "diameter_to": "2 mm", "force": "1 N", "mass": "1 kg"})],
     "clamping_means.1.name", "name 'jaws' is used twice"),
    ("two materials of one name", [("materials.+", {"name": "42CrMo4+QT", "group": "steel", "kc11": "1000 "
    "MPa", "mc": 0.2})],
     "materials.1.name", "name '42CrMo4+QT' is used twice"),
    ("unknown resident", [("magazine.residents.0", "T9")], "magazine.residents.0",
     "there is no tool 'T9'; did you mean 'T90'?"),
    ("resident loaded by hand", [("tools.2.by_hand", True)], "magazine.residents.0",
     "'T90' is loaded by hand; never in the magazine"),
    ("resident twice", [("magazine.residents.+", "T90")], "magazine.residents.1", "'T90' is listed twice"),
    ("tools touch in the magazine", [("magazine.diameter_full", "126 mm")], "magazine.diameter_full",
     "tools of diameter_full 126 mm in neighbouring pockets touch; pitch less clearance 125 mm"),
    ("heavy tools heavier than any", [("magazine.heavy_from", "30 kg")], "magazine.heavy_from",
     "heavy_from 30 kg is above tool_mass 25 kg"),
    ("one tool heavier than all", [("magazine.total_mass", "20 kg")], "magazine.tool_mass",
     "tool_mass 25 kg is above total_mass 20 kg"),
    ("coupled faster than free", [("machine.table.synchronous_speed", "500 rpm")],
    "machine.table.synchronous_speed",
     "synchronous_speed 500 rpm is above the highest speed; speed 400 rpm"),
    ("loaded faster than empty", [("machine.table.speed_at_mass.0.speed", "500 rpm")],
     "machine.table.speed_at_mass.0.speed", "speed 500 rpm is above that of the empty table"),
    ("faster with more mass", [("machine.table.speed_at_mass.1.speed", "380 rpm")],
     "machine.table.speed_at_mass.1.speed", "speed 380 rpm rises with the mass; 350 rpm with less mass"),
    ("speed above the load", [("machine.table.load", "1 t")], "machine.table.speed_at_mass.1.mass",
     "mass 2 t is above the load of the table; load 1 t"),
    ("tilt exchanged", [("machine.spindle.tilt_from", "120 deg")], "machine.spindle.tilt_from",
     "tilt_from 120 deg is not below tilt_to 110 deg; exchange or correct them"),
    ("gear work above the load", [("machine.gear_machining_mass", "3 t")], "machine.gear_machining_mass",
     "gear_machining_mass 3 t is above the load of the table"),
    ("clamping diameters exchanged", [("clamping_means.0.diameter_from", "950 mm")],
    "clamping_means.0.diameter_from",
     "diameter_from 950 mm is not below diameter_to 900 mm"),
    ("finishing held harder", [("clamping_means.0.finishing_force", "130 kN")],
    "clamping_means.0.finishing_force",
     "finishing_force 130 kN is above force 120 kN"),
    ("means heavier than the table bears", [("clamping_means.0.mass", "3 t")], "clamping_means.0.mass",
     "mass 3 t is above the load of the table"),
    ("unknown method", [("conditions.0.method", "turnin")], "conditions.0.method",
     "unknown method 'turnin'; did you mean 'turning'?"),
    ("unknown group", [("conditions.0.group", "cheese")], "conditions.0.group",
     "no material of the shop is in group 'cheese'; groups of the materials: quenched and tempered steel"),
    ("conditions twice", [("conditions.1", {"method": "turning", "tool_material": "carbide", "stage": "rough",
                           "group": "quenched and tempered steel", "cutting_speed": "1 m/min", "feed": "1 "
                           "mm"})],
     "conditions.1", "turning, carbide, quenched and tempered steel, rough stands in the table twice"),
    ("crossed axes exchanged", [("limits.crossed_axes_from", "40 deg")], "limits.crossed_axes_from",
     "crossed axes from 40 deg to 30 deg; above 0 deg, rising, below 90 deg"),
    ("own rule about one feature", [("rules.own", [{**OWN, "second": "bore"}])], "rules.own.0.second",
     "first and second are both 'bore'"),
    ("two own rules of one name", [("rules.own", [OWN, OWN])], "rules.own.1.name", "name 'H1' is used twice"),
    ("one rule changed twice", [("rules.changes", [CHANGE, CHANGE])], "rules.changes.1.rule", "name 'R7' "
    "is used twice"),
    ("tool shorter than its reach", [("tools.0.overall_length", "100 mm")], "tools.0.overall_length",
     "overall_length 100 mm is below functional_length 180 mm"),
    ("body smaller than the cutter", [("tools.1.body_diameter", "80 mm")], "tools.1.body_diameter",
     "body_diameter 80 mm is below the cutting diameter 110 mm"),
    ("bore that an inside tool enters", [("tools.0.use", ["inside"])], "tools.0.least_bore",
     "least_bore is missing: a tool for use inside needs it"),
    ("reach of an inside tool", [("tools.0.use", ["inside"]), ("tools.0.least_bore", "80 mm")],
    "tools.0.reach",
     "reach is missing: a tool for use inside needs it"),
    ("face grooving blade without a diameter",
     [("tools.+", {**BODY, "name": "T8", "kind": "grooving", "title": "x", "use": ["face"], "width": "4 "
     "mm", "depth": "9 mm"})],
     "tools.3.face_diameter_from", "face_diameter_from is missing: a curved blade fits"),
    ("threading pitches exchanged",
     [("tools.+", {**BODY, "name": "T8", "kind": "threading", "title": "x", "use": ["outside"],
     "pitch_from": "4 mm",
                   "pitch_to": "1 mm"})], "tools.3.pitch_from", "pitch_from 4 mm is above pitch_to 1 mm"),
    ("coarse tap",
     [("tools.+", {**BODY, "name": "T8", "kind": "tap", "title": "x", "diameter": "12 mm", "pitch": "5 "
     "mm", "depth": "30 mm"})],
     "tools.3.pitch", "pitch 5 mm of a tap of 12 mm; at most a third of the diameter"),
    ("corner radius of an end mill",
     [("tools.+", {**BODY, "name": "T8", "kind": "end mill", "title": "x", "diameter": "12 mm", "teeth": 4,
                   "reach": "30 mm", "corner_radius": "7 mm"})],
     "tools.3.corner_radius", "corner_radius 7 mm of an end mill of 12 mm; at most half the diameter"),
    ("pressure angle of a hob", [("tools.1.pressure_angle", "5 deg")], "tools.1.pressure_angle",
     "pressure_angle 5 deg; 10 deg to 45 deg"),
    ("teeth of a skiving cutter exchanged", [("tools.+", {**SKIVING, "least_teeth": 90, "most_teeth": 50})],
     "tools.3.least_teeth", "least_teeth 90 is above most_teeth 50; exchange or correct them"),
    ("neck wider than the cutter", [("tools.+", {**SKIVING, "neck_diameter": "190 mm"})],
    "tools.3.neck_diameter",
     "neck_diameter 190 mm is above outside_diameter 180 mm"),
    ("helical cutter without a hand", [("tools.+", {k: v for k, v in SKIVING.items() if k != "hand"})],
    "tools.3.hand",
     "helix_angle 20 deg and hand not given do not go together; a helical cutter has a hand"),
    ("straight cutter with a hand", [("tools.+", {**SKIVING, "helix_angle": "0 deg",
    "outside_diameter": "170 mm"})],
     "tools.3.hand", "helix_angle 0 deg and hand right do not go together"),
    ("helix of a cutter", [("tools.+", {**SKIVING, "helix_angle": "50 deg"})], "tools.3.helix_angle",
     "helix_angle 50 deg; 0 deg to 45 deg"),
    ("teeth that do not fit their diameter", [("tools.+", {**SKIVING, "teeth": 30})],
    "tools.3.outside_diameter",
     "outside_diameter 180 mm does not fit 30 teeth of 4 mm; pitch diameter 127.701 mm"),
    ("form cutter for no gear",
     [("tools.+", {**BODY, "name": "T8", "kind": "disc cutter", "title": "x", "module": "4 mm",
     "width": "20 mm",
                   "outside_diameter": "60 mm", "teeth": 12, "stage": ["rough"], "least_teeth": 80,
                   "most_teeth": 20})],
     "tools.3.least_teeth", "least_teeth 80 is above most_teeth 20"),
]  # fmt: skip


def _path(where: str) -> tuple[str | int, ...]:
    return tuple(int(step) if step.isdigit() else step for step in where.split("."))


@pytest.mark.parametrize(
    ("edits", "where", "words"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_fault_of_a_shop(shop: dict[str, Any], edits: list[Any], where: str, words: str) -> None:
    faults = check_shop(Shop.model_validate(_changed(shop, *edits)))
    said = [(f.path, "; ".join(w for w in (f.what, f.limit, f.remedy) if w)) for f in faults]
    assert [text for path, text in said if path == _path(where) and words in text], said


def test_right_shops_have_no_fault(shop: dict[str, Any], parts_folder: Path) -> None:
    assert check_shop(Shop.model_validate(shop)) == ()
    assert check_shop(read_shop(parts_folder / "shop.yaml")) == ()
    assert check_shop(Shop.model_validate(_changed(shop, ("tools.+", SKIVING)))) == ()


def test_more_residents_than_pockets(shop: dict[str, Any]) -> None:
    tools = [{**shop["tools"][2], "name": f"P{i}"} for i in range(5)]
    document = _changed(
        shop, ("magazine.pockets", 4), ("magazine.residents", [tool["name"] for tool in tools])
    )
    document["tools"] += tools
    faults = check_shop(Shop.model_validate(document))
    assert [(fault.path, fault.what) for fault in faults] == [
        (("magazine", "residents"), "5 residents in 4 pockets")
    ]


def test_all_faults_come_at_once(shop: dict[str, Any]) -> None:
    document = _changed(
        shop, ("magazine.residents.0", "T9"), ("tools.0.overall_length", "1 mm"), ("conditions.0.group", "x")
    )
    assert [fault.path[0] for fault in check_shop(Shop.model_validate(document))] == [
        "magazine",
        "tools",
        "conditions",
    ]


def _leaves(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    if isinstance(value, dict):
        return [leaf for key, inner in value.items() for leaf in _leaves(inner, (*path, key))]
    if isinstance(value, list):
        return [leaf for at, inner in enumerate(value) for leaf in _leaves(inner, (*path, at))]
    return [path]


_VALUES = st.sampled_from(
    [
        "0 mm",
        "1 mm",
        "5000 mm",
        "1 kg",
        "9 t",
        "0 deg",
        "90 deg",
        "1 rpm",
        "T01",
        "T90",
        "turning",
        "x",
        1,
        200,
        0.5,
    ]
)


@settings(deadline=None, derandomize=True, max_examples=150)
@given(st.data())
def test_any_slips_give_faults_only(shop: dict[str, Any], data: st.DataObject) -> None:
    document = copy.deepcopy(shop)
    for path in data.draw(st.lists(st.sampled_from(_leaves(document)), min_size=1, max_size=5, unique=True)):
        here: Any = document
        for step in path[:-1]:
            here = here[step]
        here[path[-1]] = data.draw(_VALUES)
    try:
        read = Shop.model_validate(document)
    except ValidationError:
        return
    assert all(fault.what and fault.path for fault in check_shop(read))
