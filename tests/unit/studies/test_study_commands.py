"""The commands cost, whatif and study, as a planner calls them."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sequencer.cli import app
from sequencer.studies import read_study

ROOT = Path(__file__).parents[3]
PART = str(ROOT / "parts" / "first_wheel.yaml")


def _run(*words: str) -> tuple[int, str]:
    answer = CliRunner().invoke(app, list(words))
    return answer.exit_code, answer.output


def test_cost_prints_every_part_of_the_costing() -> None:
    code, said = _run("cost", PART)
    assert code == 0
    for heading in (
        "Time of one piece",
        "Account of making it here",
        "Value at risk",
        "Make or buy, teeth",
        "Make or buy, whole part",
        "Other ways to cut the teeth",
        "What drives cost of one piece",
        "Recommendation",
        "Beside money",
    ):
        assert heading in said
    assert re.search(r"machine, per piece: [\d.]+\* EUR  \[t r/60 = [\d.]+ min\*135/60 = [\d.]+ EUR\]", said)


def test_what_if_lays_variants_beside_the_part_as_it_is(tmp_path: Path) -> None:
    out = tmp_path / "out"
    code, said = _run("whatif", PART, "--vary", "part.lot=1,2", "--workers", "1", "--out", str(out))
    assert code == 0
    assert "What if: first_wheel: 3 of 3 variants, 3 planned" in said
    assert (out / "table.csv").read_text(encoding="utf-8").startswith("number,variant,part.lot,status,")


def test_json_says_what_the_screen_says(tmp_path: Path) -> None:
    """Cost and the table of a what if for other programs."""
    code, said = _run("cost", PART, "--json")
    made = json.loads(said)
    assert (code, made["part"], made["lot"]) == (0, "Conveyor wheel", 6)
    options = ("--vary", "part.lot=1", "--workers", "1", "--out", str(tmp_path), "--json")
    code, said = _run("whatif", PART, *options)
    rows = json.loads(said)
    assert (code, [row["part.lot"] for row in rows]) == (0, [None, "1"])
    assert rows[0]["cost of a piece"] == pytest.approx(made["account"]["total"]["value"])


def test_what_if_needs_something_to_vary(tmp_path: Path) -> None:
    code, said = _run("whatif", PART, "--out", str(tmp_path))
    assert code == 2
    assert "nothing is varied" in said


def test_a_wrong_key_is_refused_before_anything_is_planned(tmp_path: Path) -> None:
    code, said = _run("whatif", PART, "--set", "part.features.toth.module=4 mm", "--out", str(tmp_path / "o"))
    assert code == 2
    assert "Did you mean 'teeth'?" in said
    assert not (tmp_path / "o").exists()


def test_parquet_without_its_extra_is_told_or_written(tmp_path: Path) -> None:
    options = ("--vary", "part.lot=2", "--workers", "1", "--parquet", "--out", str(tmp_path))
    code, said = _run("whatif", PART, *options)
    try:
        import pyarrow  # noqa: F401
    except ImportError:
        assert code == 2
        assert "pip install 'sequencer[tables]'" in said
    else:
        assert code == 0
        assert (tmp_path / "table.parquet").exists()


def test_the_shipped_study_and_that_of_the_page_are_read(tmp_path: Path) -> None:
    assert len(read_study(ROOT / "parts" / "studies" / "bridge_study.yaml").cases) == 10
    page = (ROOT / "docs" / "studies.md").read_text(encoding="utf-8")
    (block,) = re.findall(r"^```yaml\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    for name in ("bridge_wheel.yaml", "shop.yaml"):
        (tmp_path / name).write_bytes((ROOT / "parts" / name).read_bytes())
    (tmp_path / "page.yaml").write_text(block, encoding="utf-8")
    names = [case.name for case in read_study(tmp_path / "page.yaml").cases]
    assert len(names) == 10
    assert "features.apex.width=80 mm" in names


@pytest.mark.parametrize("folder", ["gone", "gone/deeper"])
def test_a_study_file_that_is_not_there(tmp_path: Path, folder: str) -> None:
    code, said = _run("study", str(tmp_path / folder / "study.yaml"))
    assert code == 2
    assert "there is no such file" in said
