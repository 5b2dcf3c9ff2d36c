"""Names that mean something else, wishes about nothing, and keys that contradict each other."""

from __future__ import annotations

import re

import pytest

from sequencer.errors import BadFile
from sequencer.files import part_from_text, shop_from_text
from sequencer.files.introductions import PART_EXAMPLE, SHOP_EXAMPLE
from sequencer.precedence.register import RULE_BY_ID
from sequencer.shop.shop import LAST_RULE

_HUB = "  - {name: hub,"
_HOLES = (
    "  - {name: h, kind: bolt_circle, count: 4, diameter: 10 mm, depth: 10 mm, "
    "on: %s, direction: %s, circle_diameter: 125 mm, z: 80 mm}\n"
)
_DOUBLE = (
    "  - {name: d, kind: double_helical_gear, teeth: 30, module: 2 mm, helix_angle: 0 deg, "
    "lower: {z_from: 60 mm, z_to: 70 mm, hand: left}, upper: {z_from: 80 mm, z_to: 90 mm, hand: right}, "
    "apex_tolerance: 0.1 mm, flank_class: {year: 2013, class: 8}}\n"
)
_WISH = "lot: 3\norder: {before: [[%s, keyway/finish]]}"
CASES = [
    ("clamping called bench", [("name: I,", "name: bench,")],
     "w.yaml:33:6: clampings[0] (bench) name: 'bench' means work that is done beside the machine. Choose "
     "another name."),
    ("feature called part", [("name: hub,", "name: part,")],
     "(part) name: 'part' means work on the whole part, such as \"part/inspect\". Choose another name."),
    ("feature called blank", [("name: hub,", "name: blank,")],
     "(blank) name: 'blank' means the raw surface of the blank."),
    ("feature and clamping of one name", [("name: hub,", "name: I,")],
     "w.yaml:33:6: clampings[0] (I) name: a feature and a clamping are both called 'I' (operations carry the "
     "name of their feature or clamping). Give one of them another name."),
    ("clamping called as a feature", [("name: I,", "name: bore,")],
     "clampings[0] (bore) name: a feature and a clamping are both called 'bore'"),
    ("wish about nothing", [("lot: 3", _WISH % "bor/finish")],
     "w.yaml:5:19: order.before[0][0]: there is no feature or clamping 'bor'. Did you mean 'bore'?"),
    ("wish without clampings", [("lot: 3", _WISH % "bor/finish"), (PART_EXAMPLE.split("\n\n")[-1], "")],
     "w.yaml:5:19: order.before[0][0]: there is no feature or clamping 'bor'. Did you mean 'bore'?"),
    ("datum twice", [("datums: [A, B]", "datums: [A, A]")],
     "w.yaml:27:17: features[3] (teeth) datums[1]: datum 'A' is named twice. Name each datum once."),
    ("circle of phases", [("    datums: [A, B]", "    phase: {to: keyway, tolerance: 0.1 mm}"),
                          ("name: keyway,", "name: keyway, phase: {to: teeth, tolerance: 0.1 mm},")],
     "w.yaml:27:5: features[3] (teeth) phase: a circle: teeth is timed to keyway, keyway is timed to teeth. "
     "Time only one of them to the other."),
    ("two feeds", [("    datums: [A, B]", "    conditions: {feed: 1 mm, feed_per_tooth: 1 mm}")],
     "conditions.feed: feed 1 mm and feed_per_tooth 1 mm are both given (one of the two). Take one of them "
     "out."),
    ("height of axial holes", [(_HUB, _HOLES % ("upper_face", "axial") + _HUB)],
     "(h) z: z 80 mm means nothing for axial holes, which enter at their face; take it out."),
    ("circle of radial holes", [(_HUB, _HOLES % ("hub", "radial") + _HUB)],
     "(h) circle_diameter: circle_diameter 125 mm means nothing for radial holes; take it out."),
    ("unknown use", [(_HUB, (_HOLES % ("hub", "radial"))[:-2] + ", use: fun}\n" + _HUB)],
     "use: 'fun' is not allowed (one of \"\" (nothing), lifting, clamping, balance)."),
    ("double-helical spur gear", [(_HUB, _DOUBLE + _HUB)],
     "(d) helix_angle: helix_angle 0 deg: a double-helical gear has a helix angle above 0 deg."),
    ("lower deviation first", [("tolerance: H7", "tolerance: -0.02/+0.01 mm")],
     "tolerance: '-0.02/+0.01 mm' has the lower deviation first; the upper one comes first: write "
     '"+0.01/-0.02 mm".'),
    ("no dedendum", [("teeth: 60", "teeth: 60\n    dedendum: 0.01")], "dedendum: 0.01 must be at least 0.1."),
]  # fmt: skip

_CHANGE = (
    "rules: {changes: [{rule: %s, action: off, owner: J. Marten, date: 2027-01-04, reason: measured so}]}\n"
)
_OWN = (
    "rules: {own: [{name: X1, relation: before, first: a, second: b, owner: J. Marten, date: 2027-01-04, "
    "reason: measured so}]}\n"
)
SHOP_CASES = [
    ("unknown rule", _CHANGE % "R99",
     "s.yaml:1:20: rules.changes[0].rule: there is no rule 'R99' to change (R1 to R53). See docs/rules.md."),
    ("fixed rule", _CHANGE % "R0", "there is no rule 'R0' to change (R1 to R53)"),
    ("rule with a nought", _CHANGE % "R07", "there is no rule 'R07' to change (R1 to R53)"),
    ("no rule", _CHANGE % "rough", "'rough' is not R and the number of a rule, such as R12. Write it so."),
    ("own rule", _OWN, "name: 'X1' is not H and a number of one to three figures, such as H1. Write it so."),
]  # fmt: skip


@pytest.mark.parametrize(("edits", "words"), [case[1:] for case in CASES], ids=[case[0] for case in CASES])
def test_part_that_contradicts_itself(edits: list[tuple[str, str]], words: str) -> None:
    text = PART_EXAMPLE
    for old, new in edits:
        assert old in text
        text = text.replace(old, new, 1)
    with pytest.raises(BadFile, match=re.escape(words)):
        part_from_text(text, "w.yaml")


@pytest.mark.parametrize(
    ("rules", "words"), [case[1:] for case in SHOP_CASES], ids=[case[0] for case in SHOP_CASES]
)
def test_shop_that_changes_nothing(rules: str, words: str) -> None:
    with pytest.raises(BadFile, match=re.escape(words)):
        shop_from_text(rules + SHOP_EXAMPLE, "s.yaml")


def test_the_last_rule_of_the_trade() -> None:
    assert max(int(rule[1:]) for rule in RULE_BY_ID) == LAST_RULE


def test_names_of_proposed_clampings_may_be_wished() -> None:
    text = PART_EXAMPLE.replace("lot: 3", _WISH % "II/clamp")
    part = part_from_text(text.replace(PART_EXAMPLE.split("\n\n")[-1], ""))
    assert part.order.before == (("II/clamp", "keyway/finish"),)
