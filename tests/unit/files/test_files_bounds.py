"""Values that no part and no shop has, and signs that nobody sees: refused with their limit."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from sequencer.errors import BadFile
from sequencer.files import part_from_text, shop_from_text
from sequencer.files.introductions import PART_EXAMPLE, SHOP_EXAMPLE
from sequencer.files.tree import is_hidden
from sequencer.part.quantities import BOUNDS, Dimension
from sequencer.units import UNITS, parse

PART_CASES = [
    ("bell and colour in a name", "name: Winch wheel", 'name: "Winch\\x07\\x1b[31mwheel"',
     "w.yaml:2:7: the text holds the control character U+0007 (letters, digits and signs that can be "
     "printed). Take it out."),
    ("mark of direction", "name: Winch wheel", 'name: "Winch\\u202ewheel"',
     "w.yaml:2:7: the text holds the control character U+202E"),
    ("control character in a key", "drawing: WW-7", '"draw\\x85ing": WW-7',
     "w.yaml:3:1: the text holds the control character U+0085"),
    ("full-width digits", "diameter: 90 mm", "diameter: ９０ mm",
     "(bore) diameter: '９０ mm' holds the digit '９'; numbers are written with the digits 0 to 9."),
    ("Arabic digits", "diameter: 90 mm", "diameter: ٩٠ mm", "'٩٠ mm' holds the digit '٩'"),
    ("digits of a tolerance", "tolerance: H7", "tolerance: H７", "'H７' holds the digit '７'"),
    ("digits of a deviation", "tolerance: H7", "tolerance: ±٠.٠١ mm", "'±٠.٠١ mm' holds the digit '٠'"),
    ("digits of a module", "module: 5 mm", "module: DP ４", "'DP ４' holds the digit '４'"),
    ("endless number", "diameter: 90 mm", f"diameter: {'9' * 70} mm", "is too long to be a length"),
    ("length", "diameter: 90 mm", "diameter: 1e300 mm",
     "w.yaml:15:5: features[2] (bore) diameter: '1e300 mm' is too much (at most 100 m). Check the number and "
     "its unit."),
    ("length below 0", "z: 0 mm}", "z: -1e9 mm}", "z: '-1e9 mm' is too much (at most 100 m)"),
    ("tiny length", "diameter: 90 mm", "diameter: 1e-9 mm", "'1e-9 mm' is too little (at least 0.001 um)"),
    ("module", "module: 5 mm", "module: 1 m",
     "module: '1 m' is a module of 1000 mm (0.05 mm to 500 mm). Check the number and its unit."),
    ("slow cutting", "    module: 5 mm", "    module: 5 mm\n    conditions: {cutting_speed: 1e-9 m/min}",
     "conditions.cutting_speed: '1e-9 m/min' is too little (at least 0.1 m/min)"),
    ("quick cutting", "    module: 5 mm", "    module: 5 mm\n    conditions: {cutting_speed: 9000 m/min}",
     "conditions.cutting_speed: '9000 m/min' is too much (at most 5000 m/min)"),
    ("feed", "    module: 5 mm", "    module: 5 mm\n    conditions: {feed: 60 mm}",
     "conditions.feed: '60 mm' is too much (at most 50 mm)"),
    ("tiny feed", "    module: 5 mm", "    module: 5 mm\n    conditions: {feed_per_tooth: 1e-200 mm}",
     "conditions.feed_per_tooth: '1e-200 mm' is too little (at least 0.001 mm)"),
    ("depth of a pass", "    module: 5 mm", "    module: 5 mm\n    conditions: {depth: 1 m}",
     "conditions.depth: '1 m' is too much (at most 200 mm)"),
    ("mass", "z_from: -5 mm,", "mass: 1e9 kg, z_from: -5 mm,",
     "blank.mass: '1e9 kg' is too much (at most 1000 t)"),
    ("time", "lot: 3", "heat_treatment: {kind: nitriding, duration: 1e9 d}",
     "heat_treatment.duration: '1e9 d' is too much (at most 3650 d)"),
    ("case depth", "lot: 3", "heat_treatment: {kind: case hardening, case_depth: 1 m}",
     "heat_treatment.case_depth: '1 m' is too much (at most 10 mm)"),
    ("wide zone", "    datums: [A, B]", "    geometric: [{characteristic: runout, value: 1 m, to: [A]}]",
     "geometric[0].value: '1 m' is too much (at most 10 mm)"),
    ("narrow zone", "    datums: [A, B]",
     "    geometric: [{characteristic: runout, value: 1e-9 mm, to: [A]}]",
     "geometric[0].value: '1e-9 mm' is too little (at least 0.1 um)"),
    ("pieces a year", "lot: 3", "per_year: 99999999", "per_year: 99999999 must be at most 10000000."),
]  # fmt: skip

SHOP_CASES = [
    ("kc11", r"kc11: \S+ MPa", "kc11: 1 MPa", "kc11: '1 MPa' is too little (at least 100 MPa)"),
    ("life", r"functional_length:", "life: 0 min, functional_length:", "life: '0 min' must be above 0 min."),
    ("speed of cutting", r"cutting_speed: \"?\d+ m/min\"?", "cutting_speed: 1e6 m/min",
     "cutting_speed: '1e6 m/min' is too much (at most 5000 m/min)"),
    ("general tolerance", r"\Aname:", "general_tolerance: 1 m\nname:",
     "general_tolerance: '1 m' is too much (at most 10 mm)"),
    ("speed of the table", r"speed: \"?\d+ rpm\"?", "speed: 1e9 rpm",
     "'1e9 rpm' is too much (at most 1000000 rpm)"),
    ("penalty", r"\Aname:",
     "rules: {changes: [{rule: R7, action: should, owner: J. Marten, date: 2027-01-04, reason: measured so, "
     "penalty: 1000 d}]}\nname:", "penalty: '1000 d' is too much (at most 100 d)"),
]  # fmt: skip


def _refused(read: Callable[[str, str], object], text: str, words: str) -> None:
    with pytest.raises(BadFile, match=re.escape(words)):
        read(text, "w.yaml")


@pytest.mark.parametrize(
    ("old", "new", "words"), [case[1:] for case in PART_CASES], ids=[case[0] for case in PART_CASES]
)
def test_part_beyond_all_bounds(old: str, new: str, words: str) -> None:
    assert old in PART_EXAMPLE
    _refused(part_from_text, PART_EXAMPLE.replace(old, new, 1), words)


@pytest.mark.parametrize(
    ("old", "new", "words"), [case[1:] for case in SHOP_CASES], ids=[case[0] for case in SHOP_CASES]
)
def test_shop_beyond_all_bounds(old: str, new: str, words: str) -> None:
    head, example = SHOP_EXAMPLE.split("\nname:", 1)
    assert "#" in head
    text, count = re.subn(old, lambda _: new, "name:" + example, count=1)
    assert count == 1
    _refused(shop_from_text, text, words)


def test_every_dimension_has_bounds() -> None:
    assert BOUNDS.keys() == UNITS.keys()
    for name, bounds in BOUNDS.items():
        assert 0 <= parse(bounds.least, name) < parse(bounds.most, name)
        assert Dimension(name).read(bounds.most) == parse(bounds.most, name)


def test_signs_that_a_text_may_hold() -> None:
    assert not any(is_hidden(sign) for sign in "aZ9 ä°±Ø→漢\n\t")
    assert all(is_hidden(sign) for sign in "\x00\x07\x1b\x7f\x9b\u2028\u2029\u200f\u2066\ud800")


def test_lines_of_a_note_stay() -> None:
    text = PART_EXAMPLE.replace("    tolerance: H7", '    tolerance: H7\n    note: "first\\nsecond"')
    assert part_from_text(text).by_name["bore"].note == "first\nsecond"
