"""The starter: its questions, its refusals, and part files that load."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import Severity
from sequencer.files import part_from_text, read_part_and_shop, read_shop, starter
from sequencer.files.starter import Answers, Question
from sequencer.operations.make import make_operations
from sequencer.part.section import make_section


def _answers(**given_answers: str) -> Answers:
    """Answer by name, the rest by default."""
    answers: Answers = {}
    while (question := starter.next_question(answers)) is not None:
        answers = starter.answered(answers, given_answers.get(question.key, ""))
    assert set(given_answers) <= set(answers), set(given_answers) - set(answers)
    return answers


def test_the_template_loads_and_the_example_shop_knows_its_material(
    tmp_path: Path, parts_folder: Path
) -> None:
    path = tmp_path / "part.yaml"
    path.write_text(starter.template(), encoding="utf-8")
    part, _ = read_part_and_shop(path, parts_folder / "shop.yaml")
    assert [feature.kind for feature in part.features] == [
        "face",
        "face",
        "bore",
        "external_gear",
        "run_out_groove",
        "turned_diameter",
        "bolt_circle",
        "chamfer",
    ]
    assert [clamping.name for clamping in part.clampings] == ["I", "II"]
    assert make_section(part).bare == ()


def test_each_key_is_explained_where_it_appears_first() -> None:
    text = starter.template()
    rows = [row for row in text.split("\n") if ": " in row and not row.strip().startswith("#")]
    explained = {row.split(":")[0].strip(" -") for row in rows if "  # " in row}
    keys = {row.split(":")[0].strip(" -") for row in rows} - {"A", "B", "kind"}
    assert keys == explained
    assert text.count("# Finished diameter.") == 1


def test_every_question_has_a_reason_and_a_default() -> None:
    asked = starter.questions()
    assert 15 <= len(asked) <= 25
    for question in asked:
        assert question.text
        assert question.why.endswith(".")
        assert question.read("") == question.read(question.default)


def test_everything_at_once() -> None:
    answers = _answers(
        name='Wheel: "big" #1',
        drawing="007",
        diameter="36 in",
        height="500 mm",
        raw_bore="150 mm",
        bore="160 mm",
        outside_count="2",
        kind_1="double-helical gear",
        module_1="8 mm",
        teeth_1="100",
        width_1="100 mm",
        kind_2="external gear",
        helix_2="15 deg",
        hand_2="left",
        module_2="NDP 5",
        teeth_2="90",
        inside="spline",
        reference_diameter="180 mm",
        threads="M16",
    )
    part = part_from_text(starter.write_part(answers))
    assert part.name == 'Wheel: "big" #1'
    assert part.drawing == "007"
    assert part.units == "in"
    kinds = [feature.kind for feature in part.features]
    assert kinds.count("run_out_groove") == 3
    assert {"double_helical_gear", "apex_groove", "external_gear", "spline", "bolt_circle"} <= set(kinds)
    section = make_section(part)
    assert section.bare == ()
    below, _ = section.neighbours("gear_2")
    assert below is not None
    assert below.feature == "groove_1"


def test_internal_gear_without_teeth_outside() -> None:
    part = part_from_text(
        starter.write_part(_answers(outside_count="0", inside="internal gear", threads="none"))
    )
    assert [feature.name for feature in part.features if feature.kind == "internal_gear"] == ["inner_gear"]
    assert part.clampings[1].hold == "inside jaws"


@pytest.mark.parametrize(
    ("before", "written", "words"),
    [
        ({}, "x" * 81, "81 characters are too long; at most 80"),
        ({}, "a\x07b", "holds signs that cannot be printed"),
        ({"form": ...}, "forgin", "'forgin' is no choice; did you mean 'forging'?"),
        ({"form": ...}, "cheese", "'cheese' is no choice; choose one of: bar, ring, forging, casting, "
        "plate, weldment."),
        ({"lot": ...}, "many", "'many' is not a whole number; type one such as 4"),
        ({"lot": ...}, "0", "0 is too little; at least 1"),
        ({"diameter": ...}, "420", "'420' has no unit"),
        ({"diameter": ...}, "5 m", "5000 mm is too much; at most 3000 mm"),
        ({"bore": ...}, "400 mm", "400 mm is too much; at most 360 mm"),
        ({"helix_1": ...}, "50 deg", "50 deg is too much; at most 45 deg"),
        ({"helix_1": ...}, "20", "'20' has no unit"),
        ({"module_1": ...}, "8", "a module is written \"8 mm\""),
        ({"module_1": ...}, "20 mm", "20 mm is too much; at most 14 mm"),
        ({"helix_1": "20 deg", "module_1": ...}, "DP 5", "'DP 5' does not say in which section; type "
        "\"NDP 5\""),
        ({"teeth_1": ...}, "80", "80 is too much; at most 58"),
        ({"teeth_1": ...}, "5", "5 is too little; at least 27"),
        ({"width_1": ...}, "200 mm", "200 mm is too much; at most 140 mm"),
        ({"rest_diameter": ...}, "100 mm", "100 mm is too little; at least 146 mm"),
        ({"threads": ...}, "M11", "'M11' is no choice"),
        ({"circle": ...}, "120 mm", "120 mm is too little"),
        ({"count": ...}, "100", "100 is too much; at most"),
    ],
)  # fmt: skip
def test_bad_answers_are_refused_with_a_sentence(before: dict[str, object], written: str, words: str) -> None:
    answers: Answers = {}
    while (question := starter.next_question(answers)) is not None and before.get(question.key) is not ...:
        if not before:
            break
        answers = starter.answered(answers, str(before.get(question.key, "")))
    with pytest.raises(ValueError, match=re.escape(words)) as caught:
        starter.answered(answers, written)
    assert str(caught.value).endswith((".", "?"))


PLANNED = {
    "template": {},
    "helical": {"helix_1": "15 deg", "module_1": "5 mm"},
    "double-helical": {"diameter": "700 mm", "height": "320 mm", "kind_1": "double-helical gear"},
    "two gears": {"height": "260 mm", "raw_bore": "100 mm", "outside_count": "2"},
    "spline": {"height": "240 mm", "raw_bore": "140 mm", "bore": "160 mm", "inside": "spline"},
    "internal gear": {"diameter": "800 mm", "raw_bore": "560 mm", "bore": "600 mm", "inside": "internal "
    "gear"},
    "internal gear alone": {"diameter": "800 mm", "raw_bore": "560 mm", "bore": "600 mm",
    "outside_count": "0",
                            "inside": "internal gear", "height": "200 mm"},
    "no teeth": {"outside_count": "0"},
    "inches": {"diameter": "20 in", "raw_bore": "5 in", "height": "8 in", "bore": "6 in"},
    "inside jaws": {"threads": "none"},
    "small threads": {"threads": "M8"},
    "large threads": {"threads": "M20"},
}  # fmt: skip


@pytest.mark.parametrize("name", PLANNED)
def test_the_example_shop_has_a_way_for_everything(parts_folder: Path, name: str) -> None:
    part = part_from_text(starter.write_part(_answers(**PLANNED[name])))
    operations = make_operations(part, read_shop(parts_folder / "shop.yaml"))
    assert [str(finding) for finding in operations.findings if finding.severity is Severity.ERROR] == []
    assert all(operation.alternatives for operation in operations.operations)


def test_the_proposed_gear_can_be_hobbed_over_the_proposed_riser(parts_folder: Path) -> None:
    operations = make_operations(part_from_text(starter.template()), read_shop(parts_folder / "shop.yaml"))
    rough = operations.by_name["gear_1/rough"]
    assert any(way.method == "hobbing" and way.clamping == "II" for way in rough.alternatives)


def test_the_conversation_tells_what_was_wrong_and_asks_again() -> None:
    heard: list[str] = []

    def ask(question: Question, complaint: str) -> str:
        if complaint:
            heard.append(f"{question.key}: {complaint}")
            return ""
        return "0" if question.key == "lot" else ""

    assert starter.interview(ask) == starter.template()
    assert heard == ["lot: 0 is too little; at least 1."]


def test_open_and_finished_conversations() -> None:
    with pytest.raises(ValueError, match="The question 'drawing' is still open"):
        starter.write_part({"name": "x"})
    with pytest.raises(ValueError, match="All questions are answered"):
        starter.answered(_answers(), "x")


@settings(deadline=None, derandomize=True, max_examples=120)
@given(st.data())
def test_whatever_is_answered_the_file_loads(data: st.DataObject) -> None:
    """Defaults, bounds and anything between them give a part without a fault."""
    answers: Answers = {}
    while (question := starter.next_question(answers)) is not None:
        answers = starter.answered(answers, data.draw(_any_answer(question), label=question.key))
    part = part_from_text(starter.write_part(answers))
    assert make_section(part).bare == ()


def _any_answer(question: Question) -> st.SearchStrategy[str]:
    if question.kind == "choice":
        return st.sampled_from(question.choices)
    if question.kind == "text":
        return st.text(st.characters(categories=("L", "N", "P", "S")), max_size=question.longest)
    least = question.least if question.least is not None else 0.0
    most = min(question.most if question.most is not None else 1e4, least + 1000)
    unit = {"count": "", "angle": " deg"}.get(question.kind, " mm")
    if question.kind == "count":
        return st.one_of(st.just(""), st.integers(int(least), int(most)).map(str))
    rounded = st.floats(least, most).map(lambda value: f"{min(max(round(value, 2), least), most)!r}{unit}")
    return st.one_of(st.just(""), st.just(f"{least!r}{unit}"), st.just(f"{most!r}{unit}"), rounded)
