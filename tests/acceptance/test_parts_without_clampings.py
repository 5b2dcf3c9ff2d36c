"""Small parts whose planner gives no clampings: each is planned, proven, with the holding of a gear shop."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sequencer.errors import Severity
from sequencer.files import read_part_and_shop
from sequencer.operations import BENCH
from sequencer.plan import Plan, make_plan

SHOP = Path(__file__).parents[2] / "parts" / "shop.yaml"

PARTS = {
    "spur wheel": """
material: 42CrMo4+QT
blank: {form: bar, diameter: 330 mm, z_from: -3 mm, z_to: 83 mm}
datums: {A: bore, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 80 mm}
  - {name: bore, kind: bore, diameter: 90 mm, z_from: 0 mm, z_to: 80 mm, tolerance: H7}
  - {name: teeth, kind: external_gear, teeth: 62, module: 5 mm, z_from: 0 mm, z_to: 80 mm,
     flank_class: {year: 2013, class: 8}, datums: [A, B]}
  - {name: keyway, kind: keyway, on: bore, width: 25 mm, depth: 5.4 mm, z_from: 0 mm, z_to: 80 mm}
  - {name: edges, kind: chamfer, on: bore, edge: both, size: 2 mm}
""",
    "internal ring": """
material: 42CrMo4+QT
blank: {form: ring, diameter: 630 mm, bore: 480 mm, z_from: -4 mm, z_to: 94 mm}
datums: {A: seat, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 90 mm}
  - {name: seat, kind: turned_diameter, diameter: 620 mm, z_from: 0 mm, z_to: 90 mm, tolerance: h7}
  - {name: teeth, kind: internal_gear, teeth: 125, module: 4 mm, z_from: 0 mm, z_to: 90 mm,
     flank_class: {year: 2013, class: 8}, datums: [A, B]}
  - {name: holes, kind: bolt_circle, on: upper_face, circle_diameter: 575 mm, count: 12,
     diameter: 14 mm}
""",
    "sleeve": """
material: 42CrMo4+QT
blank: {form: ring, diameter: 260 mm, bore: 90 mm, z_from: -4 mm, z_to: 304 mm}
datums: {A: bore, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 300 mm}
  - {name: bore, kind: bore, diameter: 110 mm, z_from: 0 mm, z_to: 300 mm, tolerance: H7,
     roughness: 0.8 um}
  - {name: neck, kind: turned_diameter, diameter: 180 mm, z_from: 0 mm, z_to: 120 mm, tolerance: k6}
  - {name: collar, kind: turned_diameter, diameter: 250 mm, z_from: 120 mm, z_to: 160 mm}
  - {name: journal, kind: turned_diameter, diameter: 170 mm, z_from: 160 mm, z_to: 300 mm,
     tolerance: h6, geometric: [{characteristic: runout, value: 0.02 mm, to: [A]}]}
  - {name: ring_groove, kind: groove, z_from: 250 mm, z_to: 256 mm, diameter: 160 mm}
""",
    "double helical": """
material: 42CrMo4+QT
blank: {form: forging, diameter: 580 mm, bore: 140 mm, z_from: -5 mm, z_to: 265 mm}
datums: {A: bore, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 260 mm}
  - {name: bore, kind: bore, diameter: 160 mm, z_from: 0 mm, z_to: 260 mm, tolerance: H7,
     roughness: 0.8 um}
  - {name: teeth, kind: double_helical_gear, teeth: 76, module: 6 mm, helix_angle: 25 deg,
     lower: {z_from: 0 mm, z_to: 80 mm, hand: left}, upper: {z_from: 180 mm, z_to: 260 mm,
     hand: right}, apex_tolerance: 0.05 mm, flank_class: {year: 2013, class: 8}, datums: [A, B]}
  - {name: apex, kind: apex_groove, gear: teeth, z_from: 80 mm, z_to: 180 mm, diameter: 480 mm}
""",
    "case hardened": """
material: 18CrNiMo7-6
heat_treatment: {kind: case hardening, case_depth: 1.2 mm}
blank: {form: bar, diameter: 270 mm, z_from: -3 mm, z_to: 93 mm}
datums: {A: bore, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 90 mm}
  - {name: bore, kind: bore, diameter: 100 mm, z_from: 0 mm, z_to: 90 mm, tolerance: H6}
  - {name: teeth, kind: external_gear, teeth: 60, module: 4 mm, z_from: 0 mm, z_to: 60 mm,
     flank_class: {year: 2013, class: 6}, datums: [A, B]}
  - {name: hub, kind: turned_diameter, diameter: 160 mm, z_from: 60 mm, z_to: 90 mm}
""",
    "one clamping": """
material: C45+N
blank: {form: bar, diameter: 300 mm, z_from: 0 mm, z_to: 123 mm}
features:
  - {name: upper_face, kind: face, side: upper, z: 120 mm}
  - {name: hub, kind: turned_diameter, diameter: 200 mm, z_from: 60 mm, z_to: 120 mm, tolerance: h7}
  - {name: holes, kind: bolt_circle, on: upper_face, circle_diameter: 150 mm, count: 6,
     diameter: 14 mm, depth: 40 mm}
""",
    "hub wheel": """
material: 34CrNiMo6+QT
blank: {form: forging, diameter: 720 mm, bore: 110 mm, z_from: -6 mm, z_to: 206 mm}
datums: {A: bore, B: hub_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: rim_face, kind: face, side: upper, z: 140 mm}
  - {name: hub_face, kind: face, side: upper, z: 200 mm}
  - {name: bore, kind: bore, diameter: 130 mm, z_from: 0 mm, z_to: 200 mm, tolerance: H7,
     roughness: 0.8 um}
  - {name: teeth, kind: external_gear, teeth: 98, module: 7 mm, helix_angle: 8 deg, hand: left,
     z_from: 0 mm, z_to: 140 mm, flank_class: {year: 2013, class: 7}, datums: [A, B]}
  - {name: hub, kind: turned_diameter, diameter: 240 mm, z_from: 140 mm, z_to: 200 mm}
  - {name: pocket, kind: face_groove, on: rim_face, side: upper, outer_diameter: 560 mm,
     inner_diameter: 300 mm, depth: 30 mm}
  - {name: lift, kind: bolt_circle, on: rim_face, circle_diameter: 620 mm, count: 3, diameter: 20 mm,
     depth: 45 mm, thread_pitch: 2.5 mm, thread_depth: 35 mm}
""",
    "nitrided ring": """
material: 34CrNiMo6+QT
heat_treatment: {kind: nitriding}
blank: {form: ring, diameter: 460 mm, bore: 280 mm, z_from: -3 mm, z_to: 73 mm}
datums: {A: bore, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 70 mm}
  - {name: bore, kind: bore, diameter: 300 mm, z_from: 0 mm, z_to: 70 mm, tolerance: H7}
  - {name: teeth, kind: external_gear, teeth: 110, module: 4 mm, z_from: 0 mm, z_to: 70 mm,
     flank_class: {year: 2013, class: 8}, datums: [A, B]}
""",
    "small bore": """
material: C45+N
blank: {form: bar, diameter: 210 mm, z_from: -3 mm, z_to: 63 mm}
datums: {A: bore, B: lower_face}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 60 mm}
  - {name: bore, kind: bore, diameter: 65 mm, z_from: 0 mm, z_to: 60 mm, tolerance: H7}
  - {name: teeth, kind: external_gear, teeth: 48, module: 4 mm, z_from: 0 mm, z_to: 60 mm,
     flank_class: {year: 2013, class: 8}, datums: [A, B]}
""",
}

#: How the part is held, and the method of its teeth; common practice, no source.
EXPECTED: dict[str, tuple[tuple[str, ...], dict[str, str]]] = {
    "spur wheel": (("outside jaws on blank", "inside jaws on bore"), {"teeth/finish": "hobbing"}),
    "internal ring": (("inside jaws on blank", "outside jaws on seat"), {"teeth/finish": "power skiving"}),
    # 20 um of runout between journal and bore hold only in one clamping, which cannot grip the bore
    "sleeve": (("outside jaws on blank", "outside jaws on neck"), {}),
    "double helical": (
        ("outside jaws on blank", "inside jaws on bore"),
        {"teeth/finish_lower": "hobbing", "teeth/finish_upper": "hobbing"},
    ),
    "case hardened": (
        ("outside jaws on blank", "inside jaws on bore", "outside jaws on hub"),
        {"teeth/finish": "hobbing"},
    ),
    "one clamping": (("outside jaws on blank",), {}),
    "hub wheel": (("outside jaws on blank", "inside jaws on bore"), {"teeth/finish": "hobbing"}),
    "nitrided ring": (("outside jaws on blank", "inside jaws on bore"), {"teeth/finish": "hobbing"}),
    "small bore": (("outside jaws on blank", "face plate on upper_face"), {"teeth/finish": "hobbing"}),
}


def planned(name: str, folder: Path) -> Plan:
    """Plan a part on the example shop."""
    file = folder / "part.yaml"
    file.write_text(f"name: {name}\ndrawing: NC-1\n{PARTS[name]}", encoding="utf-8")
    return make_plan(*read_part_and_shop(file, SHOP), seconds=60)


@pytest.mark.parametrize("name", PARTS)
def test_a_part_without_clampings_is_planned(name: str, tmp_path: Path) -> None:
    """No error, a proof, the clampings and methods that a gear shop would take."""
    plan = planned(name, tmp_path)
    assert plan.sequence.proven
    assert [finding for finding in plan.findings if finding.severity is Severity.ERROR] == []
    held = tuple(f"{each.clamping.hold} on {each.clamping.on}" for each in plan.operations.clampings)
    assert held == EXPECTED[name][0]
    assert all(each.proposed for each in plan.operations.clampings)
    visited = [clamping for clamping, _ in plan.sequence.visits if clamping != BENCH]
    assert visited == [each.name for each in plan.operations.clampings]
    steps = plan.sequence.by_operation
    if "bore/drill" in steps:
        assert steps["bore/drill"].number < steps["bore/rough"].number, "a solid blank is drilled open first"
    assert {each: steps[each].alternative.method for each in EXPECTED[name][1]} == EXPECTED[name][1]


def test_the_note_says_how_the_part_is_held(tmp_path: Path) -> None:
    """Each clamping with its side, its grip and its riser."""
    note = next(each for each in planned("spur wheel", tmp_path).findings if each.where == "clampings")
    assert note.severity is Severity.NOTE
    assert re.fullmatch(
        "the part file gives no clampings; proposed: I lower side up, outside jaws on the blank, standing on "
        "its raw face; II upper side up, inside jaws on bore, standing on lower_face and a riser of .* mm",
        note.what,
    )
