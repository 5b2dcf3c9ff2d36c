"""Broken files through the command line: a clear error with its place, exit code 2, and no output written."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

PARTS = Path(__file__).parents[2] / "parts"
GOOD = (PARTS / "first_wheel.yaml").read_text(encoding="utf-8")


def run(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the command line in a folder."""
    return subprocess.run(
        [sys.executable, "-m", "sequencer", *arguments],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
        env={**os.environ, "PYTHONPATH": str(PARTS.parent), "NO_COLOR": "1"},
    )


def changed(old: str, new: str) -> bytes:
    """The newcomers' part with one thing changed."""
    assert old in GOOD
    return GOOD.replace(old, new).encode()


CASES = {
    "wrong unit": (changed("diameter: 90 mm", "diameter: 90 kg"), ["'kg' is a unit of mass"]),
    "no unit": (changed("diameter: 90 mm", "diameter: 90"), ["has no unit"]),
    "misspelt key": (changed("flank_class:", "flank_clas:"), ["flank_clas", "Did you mean", "flank_class"]),
    "misspelt kind": (changed("kind: keyway", "kind: keyweg"), ["keyweg", "keyway"]),
    "unknown feature": (
        changed("    on: web_face\n    side", "    on: web_fase\n    side"),
        ["web_fase", "web_face"],
    ),
    "circular datum": (
        changed(
            "kind: face, side: lower, z: 0 mm, roughness: 1.6 um}",
            "kind: face, side: lower, z: 0 mm, datums: [A]}",
        ).replace(b"    kind: bore\n", b"    kind: bore\n    datums: [B]\n"),
        ["a circle", "bore", "lower_face"],
    ),
    "impossible groove": (
        changed("outer_diameter: 320 mm", "outer_diameter: 420 mm"),
        ["web_groove", "420 mm"],
    ),
    "missing gear data": (changed("    teeth: 60\n", ""), ["teeth"]),
    "empty file": (b"", ["empty"]),
    "only comments": (b"# nothing\n", ["only comments"]),
    "not a mapping": (b"- 1\n- 2\n", ["begin with keys"]),
    "binary file": (bytes(range(256)) * 40, ["text"]),
    "10 MB file": (b"# a comment\n" * 900_000, ["MB"]),
    "bad syntax": (b"name: [1, 2\nfeatures: {\n", ["part.yaml:"]),
}


@pytest.mark.parametrize("case", CASES)
def test_broken_file_gives_a_clear_error_and_nothing_else(tmp_path, case):
    """Words that a planner needs are there; no traceback, no papers."""
    content, words = CASES[case]
    (tmp_path / "part.yaml").write_bytes(content)
    answer = run(tmp_path, "plan", "part.yaml", "--shop", str(PARTS / "shop.yaml"), "--out", "papers")
    assert answer.returncode == 2, answer.stderr
    assert answer.stdout == ""
    assert "Traceback" not in answer.stderr
    assert "part.yaml" in answer.stderr
    for word in words:
        assert word in answer.stderr
    assert sorted(path.name for path in tmp_path.iterdir()) == ["part.yaml"]


def test_all_faults_come_at_once_in_the_order_of_their_lines(tmp_path):
    """Three faults, three lines, each with line and column."""
    text = (
        GOOD.replace("lot: 6", "lot: six")
        .replace("width: 20 mm", "width: 20")
        .replace("count: 6", "counts: 6")
    )
    (tmp_path / "part.yaml").write_text(text, encoding="utf-8")
    answer = run(tmp_path, "check", "part.yaml", "--shop", str(PARTS / "shop.yaml"))
    assert answer.returncode == 2
    places = [line.split(":")[1:3] for line in answer.stderr.splitlines() if line.startswith("part.yaml:")]
    numbers = [int(line) for line, _ in places]
    assert len(numbers) >= 3
    assert numbers == sorted(numbers)


def test_faults_of_part_and_shop_come_together(tmp_path):
    """Both files are read before the program leaves."""
    (tmp_path / "part.yaml").write_bytes(changed("lot: 6", "lot: six"))
    (tmp_path / "shop.yaml").write_text("name: x\n", encoding="utf-8")
    answer = run(tmp_path, "check", "part.yaml")
    assert answer.returncode == 2
    assert "part.yaml:" in answer.stderr
    assert "shop.yaml:" in answer.stderr


def test_missing_files_are_named(tmp_path):
    """Neither part nor shop: the part is named; with a part but no shop, the option is named."""
    answer = run(tmp_path, "plan", "nothing.yaml", "--shop", str(PARTS / "shop.yaml"))
    assert answer.returncode == 2
    assert "nothing.yaml" in answer.stderr
    (tmp_path / "part.yaml").write_text(GOOD, encoding="utf-8")
    answer = run(tmp_path, "plan", "part.yaml")
    assert answer.returncode == 2
    assert "--shop FILE" in answer.stderr
