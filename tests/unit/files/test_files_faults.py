"""Faults of part files: place, words, limit and remedy, all at once and in the order of lines."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.errors import BadFile, Severity
from sequencer.files import part_from_text, read_part, read_part_and_shop, read_shop, shop_from_text
from sequencer.files.introductions import PART_EXAMPLE, SHOP_EXAMPLE
from sequencer.part import Part
from sequencer.shop import Shop


def faults_of(text: str) -> list[str]:
    with pytest.raises(BadFile) as caught:
        part_from_text(text, "w.yaml")
    return str(caught.value).split("\n")


def _changed(old: str, new: str) -> str:
    assert PART_EXAMPLE.count(old) == 1, old
    return PART_EXAMPLE.replace(old, new)


HUB = "{name: hub, kind: turned_diameter, diameter: 160 mm, z_from: 60 mm, z_to: 100 mm}"
CASES = [
    ("unknown key", "lot: 3", "lots: 3",
     "w.yaml:4:1: lots: unknown key. Did you mean 'lot'?"),
    ("unknown key without a near miss", "lot: 3", "qqq: 3",
     "w.yaml:4:1: qqq: unknown key. Keys: name, drawing, revision, author, lot"),
    ("misspelt key of a feature", "    teeth: 60", "    theeth: 60",
     "w.yaml:22:5: features[3] (teeth) theeth: unknown key. Did you mean 'teeth'?"),
    ("missing key of a feature", "    teeth: 60\n", "",
     "w.yaml:20:5: features[3] (teeth) teeth: missing. Number of teeth."),
    ("missing key of a group", "form: forging, ", "",
     "w.yaml:6:1: blank.form: missing. Form; it decides how much stress is expected in the material: bar, "
     "ring"),
    ("missing key of the part", "drawing: WW-7\n", "",
     "w.yaml:2:1: drawing: missing. Drawing number."),
    ("no whole number", "teeth: 60", "teeth: abc",
     "w.yaml:22:5: features[3] (teeth) teeth: 'abc' is not a whole number."),
    ("whole number in quotes", "teeth: 60", "teeth: '60'",
     "features[3] (teeth) teeth: '60' is text, not a whole number. Take the quotes off."),
    ("whole number with a point", "teeth: 60", "teeth: 60.0",
     "features[3] (teeth) teeth: 60.0 is not a whole number. Write 60."),
    ("half a tooth", "teeth: 60", "teeth: 60.5", "teeth: 60.5 is not a whole number."),
    ("true teeth", "teeth: 60", "teeth: true", "teeth: true is not a whole number."),
    ("too many teeth", "teeth: 60", "teeth: 6000", "teeth: 6000 must be at most 2000."),
    ("too few teeth", "teeth: 60", "teeth: 2", "teeth: 2 must be at least 3."),
    ("teeth as a list", "teeth: 60", "teeth: [60]", "teeth: a list is not a whole number."),
    ("teeth as a group", "teeth: 60", "teeth: {count: 60}", "teeth: a group of keys is not a whole number."),
    ("unknown kind", "kind: external_gear", "kind: external_ger",
     "w.yaml:21:5: features[3] (teeth) kind: unknown kind 'external_ger' (kinds: apex_groove, bevel_gear, "),
    ("unknown kind with a near miss", "kind: external_gear", "kind: external-gear", "Did you mean "
    "'external_gear'?"),
    ("no kind", "    kind: external_gear\n", "",
     "w.yaml:20:5: features[3] (teeth) kind: missing. Kinds: apex_groove, bevel_gear, bolt_circle, bore"),
    ("number as kind", "kind: external_gear", "kind: 5", "features[3] (teeth) kind: 5 is no kind."),
    ("unknown word", "edge: both", "edge: bot",
     "features[6] (bore_chamfer) edge: 'bot' is not allowed (one of upper, lower, both). Did you mean "
     "'both'?"),
    ("unknown word without a near miss", "edge: both", "edge: qqq",
     "features[6] (bore_chamfer) edge: 'qqq' is not allowed (one of upper, lower, both)."),
    ("unknown year", "year: 2013", "year: 2014",
     "features[3] (teeth) flank_class.year: 2014 is not allowed (one of 1995, 2013)."),
    ("quantity without unit", "z_to: 60 mm\n", "z_to: 60\n",
     "features[3] (teeth) z_to: '60' has no unit; a length is written with one, such as \"12.5 mm\"."),
    ("quantity of another kind", "z_to: 60 mm\n", "z_to: 60 kg\n", "z_to: 'kg' is a unit of mass, not of "
    "length"),
    ("decimal comma", "z_to: 60 mm\n", "z_to: 60,5 mm\n", "'60,5 mm' is not a length"),
    ("quantity not above 0", "diameter: 330 mm", "diameter: -330 mm",
     "w.yaml:6:24: blank.diameter: '-330 mm' must be above 0 mm."),
    ("quantity as a list", "z_to: 60 mm\n", "z_to: [60 mm]\n", "z_to: ['60 mm'] is not a length"),
    ("module without unit", "module: 5 mm", "module: 5",
     "features[3] (teeth) module: '5' has no unit; a length is written with one, such as \"12.5 mm\"; a "
     "module"),
    ("unreadable tolerance", "tolerance: H7", "tolerance: fine",
     "features[2] (bore) tolerance: 'fine' is not a tolerance; write an ISO 286 code \"H7\""),
    ("number as text", "drawing: WW-7", "drawing: 4711",
     'w.yaml:3:1: drawing: 4711 is not text. Put it into quotes: "4711".'),
    ("list as text", "drawing: WW-7", "drawing: [a]", "drawing: a list is not text."),
    ("text too long", "drawing: WW-7", "drawing: " + "x" * 50, "has 50 characters (at most 40)."),
    ("empty text", "drawing: WW-7", "drawing: ''", "drawing: '' has 0 characters (at least 1)."),
    ("no name", "name: hub", "name: 2nd hub", "'2nd hub' is not a name; a name starts with a letter"),
    ("no list", "    datums: [A, B]", "    datums: A", "features[3] (teeth) datums: 'A' is not a list. "
    "Write [A]."),
    ("no group", "blank: {form: forging, diameter: 330 mm, bore: 70 mm, z_from: -5 mm, z_to: 105 mm}",
    "blank: bar",
     "w.yaml:6:1: blank: 'bar' is not a group of keys. Write its keys below it or in braces: form, diameter"),
    ("no group of datums", "datums: {A: bore, B: lower_face}", "datums: [bore]",
     "datums: a list is not a group of keys. Write name: value below it."),
    ("feature that is a word", f"- {HUB}", "- hub",
     "features[4]: 'hub' is not a group of keys. Write keys, such as name and kind."),
    ("no date", "lot: 3", "due: 2027-02-30", "due: '2027-02-30' is not a date. Write year-month-day, such "
    "as 2027-03-31."),
    ("date as number", "lot: 3", "due: 2027", "due: 2027 is not a date."),
    ("no boolean", "    teeth: 60", "    teeth: 60\n    hard_finish: yes",
     "hard_finish: 'yes' is neither true nor false. Write true or false, without quotes."),
    ("no number", "    teeth: 60", "    teeth: 60\n    profile_shift: '0,3'",
     "profile_shift: '0,3' is not a number. Decimals are written with a point."),
    ("number in quotes", "    teeth: 60", "    teeth: 60\n    profile_shift: '0.3'",
     "profile_shift: '0.3' is text, not a number. Take the quotes off."),
    ("ends in the wrong order", "z_from: 60 mm, z_to: 100 mm}", "z_from: 100 mm, z_to: 60 mm}",
     "features[4] (hub) z_from: z_from 100 mm must be below z_to 60 mm; z runs up the axis."),
    ("own check of a record names a missing key", "hold: outside jaws, on: blank, rests_on: blank, "
    "z_from: 65 mm, ",
     "hold: outside jaws, on: blank, rests_on: blank, ",
     "clampings[0] (I): z_from and z_to are missing; with jaws they say which band the jaws cover."),
    ("spur gear with a hand", "    teeth: 60", "    teeth: 60\n    hand: right",
     "features[3] (teeth) hand: hand right: a spur gear has no hand"),
    ("helical gear without a hand", "    teeth: 60", "    teeth: 60\n    helix_angle: 20 deg",
     "features[3] (teeth) hand: missing: a helical gear is right or left hand."),
    ("diametral pitch of a helical gear", "    module: 5 mm", "    module: DP 5\n    helix_angle: 20 "
    "deg\n    hand: right",
     "features[3] (teeth) module: module 'DP 5' does not say in which section; write \"NDP 5\" (normal)"),
    ("no features", PART_EXAMPLE[PART_EXAMPLE.index("features:"):PART_EXAMPLE.index("clampings:")],
    "features: []\n",
     "features: 0 entries (at least 1)."),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "words"), [case[1:] for case in CASES], ids=[case[0] for case in CASES]
)
def test_fault_of_a_value(old: str, new: str, words: str) -> None:
    faults = faults_of(_changed(old, new))
    assert len([fault for fault in faults if words in fault]) == 1, faults


def test_examples_of_the_pages_load() -> None:
    assert isinstance(part_from_text(PART_EXAMPLE), Part)
    assert isinstance(shop_from_text(SHOP_EXAMPLE), Shop)


def test_all_faults_come_at_once_in_the_order_of_lines() -> None:
    text = PART_EXAMPLE.replace("lot: 3", "lots: 3\nlot: 0\nlot: 1").replace(
        "kind: face, side: lower", "side: lower"
    )
    text = text.replace("teeth: 60", "teeth: x").replace("on: bore, width", "on: bor, width")
    text = text.replace("hold: inside jaws", "hold: claws").replace(
        "datums: [A, B]", "datums: [A, C]\n    note:"
    )
    assert faults_of(text) == [
        "w.yaml:4:1: lots: unknown key. Did you mean 'lot'?",
        "w.yaml:5:1: lot: 0 must be at least 1.",
        "w.yaml:6:1: 'lot' is written twice (first in line 5). Keep one of the two.",
        "w.yaml:13:5: features[0] (lower_face) kind: missing. Kinds: apex_groove, bevel_gear, "
        "bolt_circle, bore, "
        "chamfer, double_helical_gear, external_gear, face, face_groove, flat, groove, internal_gear, "
        "keyway, "
        "marking, pocket, radius, run_out_groove, spline, taper, thread, turned_diameter.",
        "w.yaml:24:5: features[3] (teeth) teeth: 'x' is not a whole number.",
        "w.yaml:29:17: features[3] (teeth) datums[1]: there is no datum 'C'. Datums of this part: A, B.",
        "w.yaml:30:10: nothing is written here. Write a value, or take the key out.",
        "w.yaml:32:34: features[5] (keyway) on: there is no feature 'bor'. Did you mean 'bore'?",
        "w.yaml:39:5: clampings[1] (II) hold: 'claws' is not allowed "
        "(one of outside jaws, inside jaws, bolts, face plate).",
    ]


def test_faults_of_the_geometry_have_their_place() -> None:
    text = PART_EXAMPLE.replace("diameter: 160 mm", "diameter: 90 mm").replace("size: 2 mm", "size: 60 mm")
    assert faults_of(text) == [
        "w.yaml:28:5: features[4] (hub): no wall is left between 'hub' (90 mm) and 'bore' (90 mm) "
        "(floors of grooves and roots of teeth counted). Correct the diameters.",
        "w.yaml:29:58: features[5] (keyway) depth: depth 5 mm goes through the wall into 'hub' "
        "(floor of the keyway at 100 mm, floor or tooth root there at 90 mm). Make it less deep.",
        "w.yaml:30:63: features[6] (bore_chamfer) size: chamfer of 60 mm on both edges "
        "('bore' is 100 mm long). Make it smaller.",
    ]


def test_findings_say_where_what_limit_remedy() -> None:
    with pytest.raises(BadFile, match="edge") as caught:
        part_from_text(_changed("edge: both", "edge: bot"), "w.yaml")
    (finding,) = caught.value.faults
    assert finding.severity is Severity.ERROR
    assert finding.where == "w.yaml:30:51: features[6] (bore_chamfer) edge"
    assert finding.what == "'bot' is not allowed"
    assert finding.limit == "one of upper, lower, both"
    assert finding.remedy == "did you mean 'both'?"
    assert finding.subject == "file"


def test_fault_in_a_value_that_an_alias_repeats_points_at_the_anchor() -> None:
    text = PART_EXAMPLE.replace("flank_class: {year", "flank_class: &class {year").replace(
        "class: 8", "class: 15"
    )
    assert faults_of(text) == ["w.yaml:26:38: features[3] (teeth) flank_class.class: 15 must be at most 12."]


def test_shipped_parts_load(parts_folder: Path) -> None:
    paths = sorted(path for path in parts_folder.glob("*.yaml") if path.name != "shop.yaml")
    assert paths
    for path in paths:
        part, shop = read_part_and_shop(path, parts_folder / "shop.yaml")
        assert part == read_part(str(path))
        assert shop == read_shop(parts_folder / "shop.yaml")


def test_part_and_shop_are_read_together(tmp_path: Path) -> None:
    part, shop = tmp_path / "p.yaml", tmp_path / "s.yaml"
    part.write_text(PART_EXAMPLE, encoding="utf-8")
    shop.write_text(SHOP_EXAMPLE, encoding="utf-8")
    assert read_part_and_shop(part, shop) == (part_from_text(PART_EXAMPLE), shop_from_text(SHOP_EXAMPLE))
    changed = PART_EXAMPLE.replace("42CrMo4+QT", "42CrMo4").replace(
        "    teeth: 60", "    teeth: 60\n    tool: T2"
    )
    changed = changed.replace("    hold: inside jaws", "    hold: inside jaws\n    means: jaws")
    part.write_text(changed.replace("rests_on: blank,", "rests_on: blank, means: jawz,"), encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        read_part_and_shop(part, shop)
    assert [str(fault.where).partition(": ")[2] + ": " + fault.what for fault in caught.value.faults] == [
        "material: the shop knows no material '42CrMo4'",
        "features[3] (teeth) tool: the shop has no tool 'T2'",
        "clampings[0] (I) means: the shop has no clamping means 'jawz'",
        "clampings[1] (II) means: 'jaws' holds by outside jaws, the clamping by inside jaws",
    ]
    part.write_text(
        PART_EXAMPLE.replace("diameter: 330 mm, ", "diameter: 330 mm, mass: 154 lb, "), encoding="utf-8"
    )
    assert read_part_and_shop(part, shop)[0].blank.mass
    part.write_text(
        PART_EXAMPLE.replace("diameter: 330 mm, ", "diameter: 330 mm, mass: 154 kg, "), encoding="utf-8"
    )
    with pytest.raises(
        BadFile, match=r"blank\.mass: a mass of 154 kg does not fit .* has 71 kg\)\. Check the unit"
    ):
        read_part_and_shop(part, shop)
    part.write_text("lot: x\n", encoding="utf-8")
    shop.write_text("name: 5\n", encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        read_part_and_shop(part, shop)
    named = [fault.where for fault in caught.value.faults]
    assert {where.split(":")[0] for where in named} == {str(part), str(shop)}
    assert [where for where in named if where.startswith(str(part))] == named[:6]
