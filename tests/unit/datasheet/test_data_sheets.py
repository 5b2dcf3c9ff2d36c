"""Data sheets against stored text, and rule by rule."""

from __future__ import annotations

import json
from math import cos, radians
from pathlib import Path

import jsonschema
import pytest
from drawn_teeth import (
    ALL,
    ANSI_HUB,
    COMMON,
    DIN_HUB,
    DOUBLE,
    EXTERNAL,
    INCH,
    INTERNAL,
    ISO_SHAFT,
    SPIRAL_BEVEL,
    STRAIGHT_BEVEL,
    UNDERCUT,
    sheet_of,
    value,
    words_of,
)

from sequencer.datasheet import part_data_sheet
from sequencer.errors import BadFile
from sequencer.files import part_from_text, read_part, read_part_and_shop
from sequencer.operations import make_operations
from sequencer.papers.gear_sheet import gear_json, gear_lines

ROOT = Path(__file__).parents[3]
GOLDEN = ROOT / "tests" / "golden"
STORED = ("external", "internal", "double", "inch", "din_hub", "iso_shaft", "straight_bevel", "spiral_bevel")


@pytest.mark.parametrize("name", STORED)
def test_sheet_reads_as_stored(name: str) -> None:
    """A stored sheet changes only in a commit that says why."""
    text = "\n".join(gear_lines(sheet_of(ALL[name]))) + "\n"
    assert text == (GOLDEN / f"gear_{name}.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", ALL)
def test_json_fits_its_schema(name: str) -> None:
    schema = json.loads((ROOT / "docs" / "gear.schema.json").read_text(encoding="utf-8"))
    jsonschema.validate(json.loads(gear_json(sheet_of(ALL[name]))), schema)


def test_json_holds_every_number_in_millimetres() -> None:
    """The unit of the printed sheet does not change the values."""
    read = json.loads(gear_json(sheet_of(INCH)))
    lines = [line for section in read["sections"] for line in section["lines"]]
    width = next(line for line in lines if line["name"] == "face width")
    assert (width["value"], width["unit"], read["units"]) == (63.5, "mm", "in")


def test_sheet_of_a_part_is_that_of_the_same_options() -> None:
    """bridge_wheel's pinion: part file and options give the same numbers."""
    part = read_part(ROOT / "parts" / "bridge_wheel.yaml")
    from_part = part_data_sheet(part, part.by_name["pinion"])
    from_options = sheet_of(
        {
            "teeth": "76",
            "module": "5 mm",
            "face_width": "56 mm",
            "flank_class": "ISO 1328-1:2013 class 7",
            "thickness_upper": "-0.10 mm",
            "thickness_lower": "-0.17 mm",
        }
    )
    assert [fact.value for fact in from_part.facts] == [fact.value for fact in from_options.facts]


def test_inch_sheet_shows_inches_and_computes_millimetres() -> None:
    lines = gear_lines(sheet_of(INCH))
    at = next(i for i, line in enumerate(lines) if line.startswith("  reference diameter:"))
    assert lines[at].split(":")[1].strip() == "10 in"
    assert "= 254 mm" in lines[at + 1]


def test_angles_are_shown_to_the_second() -> None:
    assert any("22.5 deg (22°30'00\")" in line for line in gear_lines(sheet_of(INCH)))


def test_each_helix_has_its_own_tolerances() -> None:
    """A narrower upper half has smaller helix tolerances; pitch and profile stay."""
    text = (ROOT / "parts" / "bridge_wheel.yaml").read_text(encoding="utf-8")
    part = part_from_text(
        text.replace("upper: {z_from: 185 mm, z_to: 280 mm", "upper: {z_from: 185 mm, z_to: 240 mm")
    )
    sheet = part_data_sheet(part, part.by_name["wheel"])
    lower, upper = (
        {line.name: line.value for line in section.facts}
        for section in sheet.sections
        if section.name.startswith("Flank tolerances")
    )
    assert upper["total helix"] < lower["total helix"]
    assert upper["total cumulative pitch"] == lower["total cumulative pitch"]
    assert value(sheet, "apex, allowed shift along the axis") == 0.05


def test_undercut_is_said_and_searched() -> None:
    sheet = sheet_of(UNDERCUT)
    assert words_of(sheet, "undercut").startswith("undercut: profile shift 0 is below 0.4736")
    assert words_of(sheet_of(EXTERNAL), "undercut").startswith("none: profile shift 0.3 is at least")


def test_thin_tips_are_named() -> None:
    assert words_of(sheet_of(UNDERCUT, teeth="12", profile_shift="0.7"), "tip").startswith("thin:")


def test_without_allowances_sizes_are_nominal() -> None:
    plain = {key: text for key, text in EXTERNAL.items() if not key.startswith("thickness")}
    sheet = sheet_of(plain)
    assert words_of(sheet, "tooth thickness").startswith("no allowances given")
    assert not [fact for fact in sheet.facts if "limit" in fact.name]


def test_without_class_there_are_no_tolerances() -> None:
    plain = {key: text for key, text in EXTERNAL.items() if key != "flank_class"}
    sheet = sheet_of(plain)
    assert words_of(sheet, "class of flank tolerances") == "none given: no flank tolerances"
    assert not [section for section in sheet.sections if section.name.startswith("Flank")]


def test_class_outside_the_scope_is_a_reason_not_an_error() -> None:
    sheet = sheet_of(EXTERNAL, flank_class="ISO 1328-1:2013 class 12")
    assert "allowed: a whole number from 1 to 11" in words_of(sheet, "flank tolerances")


def test_short_helical_face_is_measured_over_balls() -> None:
    assert "measure over balls" in words_of(
        sheet_of(EXTERNAL, helix_angle="35 deg", face_width="8 mm"), "span"
    )


def test_choices_of_the_drawing_win() -> None:
    sheet = sheet_of(EXTERNAL, teeth_spanned="7", ball_diameter="7 mm")
    assert (value(sheet, "teeth spanned"), value(sheet, "ball diameter")) == (7.0, 7.0)
    assert value(sheet, "span, nominal") > value(sheet_of(EXTERNAL), "span, nominal")


def test_what_was_not_given_is_marked() -> None:
    facts = {fact.name: fact for fact in sheet_of(EXTERNAL).facts}
    assert facts["normal pressure angle"].estimate
    assert not facts["profile shift"].estimate
    facts = {fact.name: fact for fact in sheet_of(EXTERNAL, pressure_angle="20 deg").facts}
    assert not facts["normal pressure angle"].estimate


def test_pair_with_both_shift_and_distance_tells_backlash() -> None:
    """x1 + x2 = 0.2 leaves no backlash at one distance; closer the teeth jam, wider they have play."""
    tight = sheet_of(EXTERNAL)
    distance = value(tight, "centre distance without backlash")

    def said(change: float) -> str:
        return words_of(sheet_of(EXTERNAL, centre_distance=f"{distance + change:.9f} mm"), "backlash")

    assert said(0.0) == "none before allowances"
    assert said(-0.2).startswith("the teeth jam before allowances")
    assert "short of the one without backlash" in said(0.2)


def test_mate_shift_follows_from_the_centre_distance() -> None:
    distance = value(sheet_of(EXTERNAL), "centre distance without backlash")
    words = {key: text for key, text in EXTERNAL.items() if key != "mate_shift"}
    sheet = sheet_of(words, centre_distance=f"{distance:.9f} mm")
    assert value(sheet, "profile shift of the mate") == pytest.approx(-0.1, abs=1e-6)


def test_pinion_of_nearly_as_many_teeth_jams_in_the_internal_gear() -> None:
    """Trochoid and trimming interference appear as the difference of teeth shrinks."""
    words = {key: text for key, text in INTERNAL.items() if key != "centre_distance"}
    near = sheet_of(words, mate_teeth="78")
    far = sheet_of(words, mate_teeth="30")
    assert words_of(near, "trochoid interference").startswith("yes")
    assert words_of(far, "trochoid interference").startswith("none")
    assert words_of(near, "trimming interference").startswith("yes")


def test_undercut_mate_interferes_at_its_root() -> None:
    sheet = sheet_of(
        EXTERNAL, mate_teeth="200", teeth="12", profile_shift="0", mate_shift="0", helix_angle="3 deg"
    )
    assert words_of(sheet, "interference at the root of gear 1").startswith("yes")


def test_impossible_pair_is_refused_with_its_option() -> None:
    with pytest.raises(BadFile, match="number of teeth of the mate is 90"):
        sheet_of(INTERNAL, mate_teeth="90")
    with pytest.raises(BadFile, match="centre distance is 80 mm"):
        sheet_of(EXTERNAL, centre_distance="80 mm")


def test_spline_limits_by_class_and_fit() -> None:
    """ISO 4156 class 5f has limits; a class that is not computed says so."""
    sheet = sheet_of(ISO_SHAFT)
    assert words_of(sheet, "class and fit") == "5f"
    upper, lower = (value(sheet, f"measurement over pins, {end} limit") for end in ("upper", "lower"))
    assert lower < upper < value(sheet, "measurement over pins, basic size")
    assert words_of(sheet_of(DIN_HUB), "limits").startswith("of 9H: not computed; take deviation and ")
    plain = {key: text for key, text in ISO_SHAFT.items() if key != "tolerance_class"}
    assert "basic sizes" in words_of(sheet_of(plain), "limits")


def test_spline_limits_from_the_numbers_of_the_drawing() -> None:
    """They win over a class, and the measurement over pins follows from them."""
    sheet = sheet_of(ALL["din_shaft_limits"])
    assert words_of(sheet, "class and fit") == "8f"
    basic = value(sheet, "tooth thickness, basic")
    assert value(sheet, "effective tooth thickness, upper limit") == pytest.approx(basic - 0.032)
    assert value(sheet, "actual tooth thickness, lower limit") == pytest.approx(basic - 0.032 - 0.063)
    upper, lower = (value(sheet, f"measurement over pins, {end} limit") for end in ("upper", "lower"))
    assert lower < upper < value(sheet, "measurement over pins, basic size")


def test_a_backlash_thins_the_teeth() -> None:
    """The shares of both gears and the way of counting it come out of the sheet."""
    sheet = sheet_of(ALL["by_backlash"])
    mine, other = (
        value(sheet, "tooth thickness allowance, upper"),
        value(sheet, "upper allowance left to the mate"),
    )
    assert -(mine + other) * cos(radians(20)) == pytest.approx(0.2)
    assert mine / other == pytest.approx(0.4 / 0.6)
    around = sheet_of(ALL["around"])
    assert value(around, "least normal backlash") < 0.2
    report = sheet_of(
        ALL["recommended"], module="1 mm", centre_distance="25.6 mm", thickness_tolerance="0.03 mm"
    )
    assert "a rule of thumb here" in words_of(report, "recommended backlash")


def test_a_gear_in_a_ring_knows_its_mate() -> None:
    """The pair reads the same from the external gear as from the internal one."""
    inside = sheet_of(ALL["in_a_ring"])
    shift = value(inside, "profile shift of the mate")
    ring = sheet_of(
        COMMON, kind="internal_gear", teeth="62", module="4 mm", profile_shift=f"{shift:.9f}",
        tip_diameter="242.4 mm", mate_teeth="21", mate_shift="0.3", centre_distance="83 mm",
    )  # fmt: skip
    for name in (
        "working pressure angle", "transverse contact ratio", "tip clearance of gear 1",
        "tip clearance of gear 2", "start of active profile, gear 1", "margin against trochoid interference",
        "margin against trimming interference",
    ):  # fmt: skip
        assert value(inside, name) == pytest.approx(value(ring, name), rel=1e-6), name
    assert words_of(inside, "numbering") == "gear 1 is this gear, gear 2 the mate, an internal gear"


def test_spline_with_class_of_flanks_has_tolerances() -> None:
    sheet = sheet_of(DIN_HUB, flank_class="ISO 1328-1:2013 class 9")
    assert value(sheet, "total cumulative pitch") > 0


def test_pin_that_does_not_fit_is_a_reason() -> None:
    assert words_of(sheet_of(ANSI_HUB, ball_diameter="12 mm"), "measurement over pins").startswith("none: ")


def test_bevel_blank_closes() -> None:
    """Apex to crown and crown to back add up to the mounting distance."""
    for words in (STRAIGHT_BEVEL, SPIRAL_BEVEL):
        sheet = sheet_of(words)
        total = value(sheet, "cone apex to crown") + value(sheet, "crown to mounting face")
        assert total == pytest.approx(120.0)


def test_methods_carry_every_number() -> None:
    """With a shop, each way that passes stands with all its facts, and the failing ones with their reason."""
    part, shop = read_part_and_shop(ROOT / "parts" / "first_wheel.yaml", ROOT / "parts" / "shop.yaml")
    operations = make_operations(part, shop)
    sheet = part_data_sheet(part, part.by_name["teeth"], operations)
    methods = [section for section in sheet.sections if section.name.startswith("Method:")]
    alternatives = [
        way
        for operation in operations.by_feature["teeth"]
        if operation.action.value in ("cut teeth", "send out")
        for way in operation.alternatives
    ]
    assert sorted(len(section.facts) for section in methods) == sorted(len(way.facts) for way in alternatives)
    assert sheet.sections[-1].name == "Methods that fail"


def test_double_helical_sheet_needs_its_gap() -> None:
    words = {key: text for key, text in DOUBLE.items() if key != "gap"}
    with pytest.raises(BadFile, match="--gap: missing"):
        sheet_of(words)


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ("mate_teeth: 30, centre_distance: 200 mm", r"teeth\) centre_distance: centre distance is 200 mm"),
        ("centre_distance: 300 mm", r"centre_distance is given without mate_teeth"),
        (
            "mate_teeth: 20, mate_shift: -2.0, profile_shift: -1.5",
            r"teeth\) mate_shift: involute of the working",
        ),
    ],
)
def test_impossible_mate_in_a_part_file_has_its_place(keys: str, words: str) -> None:
    """The key of the mate is named with line and limit."""
    text = (ROOT / "parts" / "first_wheel.yaml").read_text(encoding="utf-8")
    lines = "\n".join(f"    {key}" for key in keys.split(", "))
    with pytest.raises(BadFile, match=words):
        part_from_text(text.replace("    teeth: 60\n", f"    teeth: 60\n{lines}\n"))


def test_mate_of_a_part_file_stands_on_the_sheet() -> None:
    text = (ROOT / "parts" / "first_wheel.yaml").read_text(encoding="utf-8")
    part = part_from_text(text.replace("    teeth: 60\n", "    teeth: 60\n    mate_teeth: 20\n"))
    sheet = part_data_sheet(part, part.by_name["teeth"])
    assert value(sheet, "centre distance without backlash") == pytest.approx(240.0)
    assert next(fact for fact in sheet.facts if fact.name == "profile shift of the mate").estimate
