"""`sequencer gear`: options alone, part files, faults in words, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from drawn_teeth import EXTERNAL, sheet_of
from typer.testing import CliRunner, Result

from sequencer.cli import app
from sequencer.papers.gear_sheet import gear_json, gear_lines

PARTS = Path(__file__).parents[3] / "parts"


def run(*words: str) -> Result:
    """Run the command line."""
    return CliRunner().invoke(app, ["gear", *words], env={"COLUMNS": "400"})


def options(words: dict[str, str]) -> list[str]:
    """Options as typed."""
    return [part for key, text in words.items() for part in (f"--{key.replace('_', '-')}", text)]


def test_options_alone_print_the_sheet() -> None:
    answer = run(*options(EXTERNAL))
    assert answer.exit_code == 0
    assert answer.stdout.splitlines() == list(gear_lines(sheet_of(EXTERNAL)))


def test_json_is_printed_alone() -> None:
    answer = run(*options(EXTERNAL), "--json")
    assert answer.stdout == gear_json(sheet_of(EXTERNAL))


def test_internal_is_an_option_of_its_own() -> None:
    answer = run("--teeth", "80", "--module", "4 mm", "--face-width", "30 mm", "--internal")
    assert "internal, spur" in answer.stdout


def test_part_with_one_tooth_system_needs_no_name() -> None:
    answer = run(str(PARTS / "first_wheel.yaml"))
    assert answer.exit_code == 0
    assert answer.stdout.startswith("Gear data of teeth\n")


def test_part_with_several_asks_for_a_name() -> None:
    answer = run(str(PARTS / "bridge_wheel.yaml"))
    assert answer.exit_code == 2
    assert "has 3 gears and splines. Name one of them: wheel, pinion, spline" in answer.stderr


def test_near_miss_of_a_name() -> None:
    answer = run(str(PARTS / "bridge_wheel.yaml"), "pinon")
    assert answer.exit_code == 2
    assert "there is no gear or spline 'pinon'. Did you mean 'pinion'?" in answer.stderr


def test_feature_without_teeth_is_refused() -> None:
    answer = run(str(PARTS / "bridge_wheel.yaml"), "bore")
    assert "'bore' is of kind bore, no gear or spline" in answer.stderr


def test_shop_adds_the_methods() -> None:
    answer = run(str(PARTS / "first_wheel.yaml"), "teeth", "--shop", str(PARTS / "shop.yaml"))
    assert answer.exit_code == 0
    assert "Method: teeth/finish by hobbing with T47" in answer.stdout
    assert "Methods that fail" in answer.stdout


def test_papers_are_written(tmp_path: Path) -> None:
    answer = run(str(PARTS / "first_wheel.yaml"), "--out", str(tmp_path))
    assert answer.exit_code == 0
    names = [f"teeth-data.{kind}" for kind in ("html", "json", "pdf", "xlsx")]
    assert sorted(path.name for path in tmp_path.iterdir()) == names
    assert json.loads((tmp_path / "teeth-data.json").read_text())["schema"] == "sequencer gear sheet"


FAULTS = [
    ({"teeth": "forty"}, "--teeth: 'forty' is not a whole number"),
    ({"module": "4"}, "--module: '4' has no unit"),
    ({"helix_angle": "50 deg"}, "--helix-angle: helix_angle 50 deg must be between 0 deg and 45 deg"),
    ({"hand": "rigth"}, "Did you mean 'right'?"),
    ({"profile_shift": "0,3"}, "--profile-shift: '0,3' is not a number. Decimals are written with a point."),
    ({"face_width": "0 mm"}, "--face-width: '0 mm' must be above 0 mm."),
    ({"flank_class": "class 7"}, "--flank-class: 'class 7' is no class of flank tolerances"),
    ({"flank_class": "ISO 1328-1:2010 class 7"}, "--flank-class: 2010 is not allowed"),
    ({"thickness_lower": "-0.01 mm"}, "must hold lower < upper <= 0"),
    ({"thickness_class": "27cd"}, "thickness_upper and thickness_class both give the tooth thickness"),
    ({"thickness_class": "31cd"}, "--thickness-class: '31cd' is no series of DIN 3967"),
    ({"backlash_share": "0.4"}, "backlash_share is given without a backlash"),
    ({"thickness_tolerance": "0.05 mm"}, "backlash (or backlash_system) and thickness_tolerance"),
    ({"mate_internal": "yes", "mate_teeth": "30"}, "number of teeth of the mate is 30"),
    ({"mate_internal": "maybe"}, "--mate-internal: "),
    ({"kind": "external"}, "--kind: 'external' is no kind of teeth"),
    ({"kind": "spline"}, "--helix-angle: a spline has none"),
    ({"units": "cm"}, "--units: 'cm' is no unit of the sheet (one of mm, in)."),
    ({"teeth_spanned": "1"}, "--teeth-spanned: '1' is not a whole number of at least 2."),
    ({"ball_diameter": "7"}, "--ball-diameter: '7' has no unit"),
    ({"tip_diameter": "100 mm"}, "gear: "),
    ({"mate_teeth": "2"}, "--mate-teeth: 2 must be at least 3."),
]


@pytest.mark.parametrize(
    ("wrong", "words"),
    FAULTS,
    ids=[next(iter(wrong)) + "=" + next(iter(wrong.values())) for wrong, _ in FAULTS],
)
def test_wrong_option_is_told_in_words(wrong: dict[str, str], words: str) -> None:
    answer = run(*options({**EXTERNAL, **wrong}))
    assert answer.exit_code == 2
    assert answer.stdout == ""
    assert words in answer.stderr


def test_all_faults_come_at_once() -> None:
    wrong = {"teeth": "x", "module": "DP", "face_width": "5", "profile_shift": "big", "flank_class": "7"}
    told = run(*options(wrong)).stderr.strip().splitlines()
    assert len(told) == 5
    assert {line.split(":")[0] for line in told} == {f"--{key.replace('_', '-')}" for key in wrong}


def test_nothing_given_says_what_is_needed() -> None:
    told = run().stderr
    assert all(f"{name}: missing" in told for name in ("--teeth", "--module", "--face-width"))


def test_part_file_and_options_do_not_go_together() -> None:
    answer = run(str(PARTS / "first_wheel.yaml"), "--teeth", "30")
    assert answer.exit_code == 2
    assert "--teeth and a part file both say what the teeth are" in answer.stderr


def test_unknown_option_has_a_near_miss() -> None:
    answer = run("--tooth", "30")
    assert answer.exit_code == 2
    assert "No such option: --tooth" in answer.stderr


@pytest.mark.parametrize("words", ["1e400", "inf", "nan", "9" * 400])
def test_numbers_beyond_measure_are_refused(words: str) -> None:
    """No number is too wild for a sentence."""
    for key in ("profile_shift", "teeth", "addendum"):
        answer = run(*options({**EXTERNAL, key: words}))
        assert answer.exit_code == 2
        assert answer.stderr.startswith(f"--{key.replace('_', '-')}")


def test_shift_of_a_mate_without_its_teeth() -> None:
    words = {key: text for key, text in EXTERNAL.items() if key != "mate_teeth"}
    assert "--mate-shift: mate_shift is given without mate_teeth" in run(*options(words)).stderr


def test_negative_values_are_taken_as_values() -> None:
    answer = run(*options({**EXTERNAL, "profile_shift": "-0.2"}))
    assert answer.exit_code == 0
    assert "profile shift:                               -0.2  [options]" in answer.stdout
