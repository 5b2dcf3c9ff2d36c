"""Paths of keys, ranges, and what is wrong with a study file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import BadFile, SequencerError
from sequencer.studies import Vary, read_study
from sequencer.studies.keypath import changed
from sequencer.studies.options import scalar, study_of
from sequencer.studies.ranges import values_of

PARTS = Path(__file__).parents[3] / "parts"
VALUES = {
    "part": {
        "lot": 4,
        "blank": {"z_from": "-5 mm", "z_to": "110 mm"},
        "features": [
            {"name": "rim", "z_from": "0 mm", "z_to": "30 mm"},
            {"name": "gap", "z_from": "30 mm", "z_to": "40 mm"},
            {"name": "wheel", "lower": {"z_from": "0 mm", "z_to": "30 mm"}, "upper": {"z_from": "40 mm"}},
            {"name": "top", "z": "4 in"},
        ],
        "clampings": [{"name": "I", "z_from": "60 mm", "z_to": "100 mm"}],
    },
    "shop": {"tools": [{"name": "T01", "owned": 1}, {"name": "T02", "owned": 2}]},
}


def test_keys_are_set_by_name_and_by_number_and_the_base_stays() -> None:
    made = changed(VALUES, {"part.lot": 9, "shop.tools.T02.owned": 0, "shop.tools[0].owned": 3})
    assert made["part"]["lot"] == 9
    assert [tool["owned"] for tool in made["shop"]["tools"]] == [3, 0]
    assert VALUES["part"]["lot"] == 4


def test_a_group_that_is_not_written_yet_is_begun() -> None:
    assert changed(VALUES, {"part.money.series": 12})["part"]["money"] == {"series": 12}


def test_a_wider_groove_moves_all_that_lies_above() -> None:
    part = changed(VALUES, {"part.features.gap.width": "26 mm"})["part"]
    rim, gap, wheel, top = part["features"]
    assert (rim["z_to"], gap["z_from"], gap["z_to"]) == ("30 mm", "30 mm", "56 mm")
    assert wheel["lower"] == {"z_from": "0 mm", "z_to": "30 mm"}
    assert wheel["upper"]["z_from"] == "56 mm"
    assert top["z"] == "117.6 mm"
    assert (part["blank"]["z_from"], part["blank"]["z_to"]) == ("-5 mm", "126 mm")
    assert part["clampings"][0]["z_to"] == "116 mm"


@pytest.mark.parametrize(
    ("path", "said"),
    [
        ("lot", "does not begin with part or shop"),
        ("part.features.gapp.z_to", "no entry called 'gapp'. Did you mean 'gap'"),
        ("part.features[9].z_to", "has 4 entries, none is number 9"),
        ("part.lot.size", "part.lot is a single value"),
        ("part.features.gap.datum.x", "has no key 'datum'"),
    ],
)
def test_a_path_that_leads_nowhere_is_told(path: str, said: str) -> None:
    with pytest.raises(SequencerError, match=said.replace("[", r"\[")):
        changed(VALUES, {path: 1})


def _vary(**keys: object) -> Vary:
    return Vary.model_validate({"key": "part.lot"} | keys)


def test_ranges_end_where_they_should() -> None:
    assert values_of(_vary(**{"from": 100, "to": 160, "step": 20})) == (100, 120, 140, 160)
    assert values_of(_vary(**{"from": "0.1 mm", "to": "0.3 mm", "step": "0.1 mm"})) == (
        "0.1 mm",
        "0.2 mm",
        "0.3 mm",
    )
    assert values_of(_vary(**{"from": 1, "to": 0, "count": 3})) == (1, 0.5, 0)


@settings(deadline=None, derandomize=True)
@given(st.integers(-50, 50), st.integers(1, 9), st.integers(0, 40))
def test_a_range_holds_as_many_values_as_steps_fit(first: int, step: int, steps: int) -> None:
    last = first + step * steps
    made = values_of(_vary(**{"from": first / 10, "to": last / 10, "step": step / 10}))
    assert len(made) == steps + 1
    assert made[-1] == pytest.approx(last / 10)


def _refused(tmp_path: Path, text: str) -> str:
    for name in ("first_wheel.yaml", "shop.yaml"):
        (tmp_path / name).write_text((PARTS / name).read_text(encoding="utf-8"), encoding="utf-8")
    file = tmp_path / "study.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(BadFile, match=r"study\.yaml") as caught:
        read_study(file)
    return str(caught.value)


def test_every_fault_of_a_study_comes_with_its_line(tmp_path: Path) -> None:
    said = _refused(
        tmp_path,
        """name: Faults
part: first_wheel.yaml
colour: red
combine: all
vary:
  - {key: part.lot}
""",
    )
    assert "study.yaml:3:1: colour: unknown key" in said
    assert "study.yaml:4:1: combine" in said


def test_ranges_and_keys_are_checked_with_their_lines(tmp_path: Path) -> None:
    head = "name: Faults\npart: first_wheel.yaml\nvary:\n"
    said = _refused(
        tmp_path,
        head
        + "  - {key: part.lot}\n  - {key: part.lot, from: 1, to: 9, step: -1}\n"
        + "  - {key: part.lot, from: 1 mm, to: 9 in, step: 1 mm}\n"
        + "  - {key: part.lot, values: [1], count: 3}\n",
    )
    assert "study.yaml:4:5: vary[0]: part.lot has neither values nor a whole range" in said
    assert "study.yaml:5:37: vary[1].step: a step of -1 never reaches 9" in said
    assert "study.yaml:6:21: vary[2].from: the range mixes units: mm, in, mm" in said
    assert "study.yaml:7:21: vary[3].values: values and a range are given both" in said
    said = _refused(tmp_path, head + "  - {key: part.features.toth.module, values: [5 mm]}\n")
    assert "study.yaml:4:6: vary[0].key" in said
    assert "part.features has no entry called 'toth'. Did you mean 'teeth'" in said


def test_a_study_without_anything_varied_is_refused(tmp_path: Path) -> None:
    assert "nothing is varied" in _refused(tmp_path, "name: Nothing\npart: first_wheel.yaml\n")


def test_options_become_a_study() -> None:
    made = study_of(
        Path("a.yaml"),
        Path("shop.yaml"),
        ["part.lot=1,4", "shop.rates.machine_hour=100..120/10"],
        ["part.blank.form=bar"],
        ["teeth:hobbing", "T33"],
        "clampings",
        5.0,
    )
    assert [values_of(vary) for vary in made.vary] == [(1, 4), (100, 110, 120)]
    (variant,) = made.variants
    assert variant.set == {"part.blank.form": "bar"}
    assert [(way.method, way.tool, way.feature) for way in variant.forbid] == [
        ("hobbing", None, "teeth"),
        (None, "T33", None),
    ]


@pytest.mark.parametrize(
    ("text", "value"),
    [("4", 4), ("-1.5", -1.5), ("true", True), ("26 mm", "26 mm"), ("1e3x", "1e3x"), ('["a", 1]', ["a", 1])],
)
def test_words_of_the_command_line_are_read_as_in_a_file(text: str, value: object) -> None:
    assert scalar(text) == value


def test_an_option_without_a_value_is_refused() -> None:
    with pytest.raises(SequencerError, match=r"'part\.lot' is no KEY=VALUE"):
        study_of(Path("a"), Path("b"), ["part.lot"], [], [], "clampings", 5.0)
    with pytest.raises(SequencerError, match="'9!' is neither a method nor a tool"):
        study_of(Path("a"), Path("b"), [], [], ["9!"], "clampings", 5.0)


def test_a_list_that_is_no_json_is_refused() -> None:
    with pytest.raises(SequencerError, match=r"'\[hobbing' is no list or group of keys"):
        scalar("[hobbing")


def test_faults_of_ranges_come_with_those_of_keys(tmp_path: Path) -> None:
    """A key that is not known does not hide a range that never ends."""
    file = tmp_path / "study.yaml"
    file.write_text(
        "name: x\npart: p.yaml\nshop: s.yaml\ncombin: product\n"
        "vary:\n  - {key: part.lot, from: 3, to: 1, step: 1}\n  - {key: part.lot, values: []}\n",
        encoding="utf-8",
    )
    with pytest.raises(BadFile, match="combin: unknown key") as caught:
        read_study(file)
    told = "\n".join(str(fault) for fault in caught.value.faults)
    assert "study.yaml:6" in told
    assert "a step of 1 never reaches 1" in told
    assert "study.yaml:7" in told
