"""The command line as people use it: exit codes, streams, interruption, places that cannot be written."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PARTS = ROOT / "parts"
GOOD = (PARTS / "first_wheel.yaml").read_text(encoding="utf-8")
ENVIRONMENT = {**os.environ, "PYTHONPATH": str(ROOT), "NO_COLOR": "1"}


def run(folder: Path, *arguments: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    """Run the command line in a folder."""
    return subprocess.run(
        [sys.executable, "-m", "sequencer", *arguments],
        cwd=folder,
        capture_output=True,
        timeout=120,
        check=False,
        env={**ENVIRONMENT, **environment},
    )


@pytest.fixture
def desk(tmp_path):
    """A folder with the newcomers' part and the shop."""
    (tmp_path / "part.yaml").write_text(GOOD, encoding="utf-8")
    (tmp_path / "shop.yaml").write_bytes((PARTS / "shop.yaml").read_bytes())
    return tmp_path


def test_plan_writes_its_papers_and_says_where(desk):
    """Exit code 0, all papers in out/PART."""
    answer = run(desk, "plan", "part.yaml")
    assert answer.returncode == 0, answer.stderr
    names = {path.name for path in (desk / "out" / "part").iterdir()}
    assert {"route-sheet.pdf", "route-sheet.xlsx", "route-sheet.html", "plan.json"} <= names
    assert answer.stdout.decode().splitlines()[-1].startswith(f"Papers in {Path('out') / 'part'}: ")


def test_json_is_the_plan_file_whatever_the_terminal_takes(desk):
    """UTF-8 on an ASCII terminal too; the same bytes as plan.json."""
    text = GOOD.replace("name: Conveyor wheel", "name: Förderrad")
    (desk / "part.yaml").write_text(text, encoding="utf-8")
    answer = run(desk, "plan", "part.yaml", "--json", PYTHONIOENCODING="ascii")
    assert answer.returncode == 0, answer.stderr
    assert json.loads(answer.stdout)["part"]["name"] == "Förderrad"
    assert answer.stdout == (desk / "out" / "part" / "plan.json").read_bytes()


def test_letters_that_a_terminal_cannot_show_do_not_stop_the_summary(desk):
    """A terminal of ASCII gets its summary all the same."""
    text = GOOD.replace("name: Conveyor wheel", "name: Förderrad")
    (desk / "part.yaml").write_text(text, encoding="utf-8")
    answer = run(desk, "plan", "part.yaml", PYTHONIOENCODING="ascii")
    assert answer.returncode == 0
    assert b"rderrad, drawing CV-1040" in answer.stdout
    assert b"Traceback" not in answer.stderr


@pytest.mark.parametrize("command", ["plan", "diagram"])
def test_papers_that_cannot_be_written_are_one_line_and_exit_2(desk, command):
    """The folder named is a file."""
    (desk / "papers").write_text("mine", encoding="utf-8")
    answer = run(desk, command, "part.yaml", "--out", "papers")
    assert answer.returncode == 2
    assert b"Traceback" not in answer.stderr
    assert b"papers" in answer.stderr
    assert answer.stdout == b""
    assert (desk / "papers").read_text(encoding="utf-8") == "mine"


def test_a_full_disk_behind_the_output_is_one_line(desk):
    """Writing the summary fails; no traceback."""
    with Path("/dev/full").open("wb") as full:
        answer = subprocess.run(
            [sys.executable, "-m", "sequencer", "check", "part.yaml"],
            cwd=desk,
            stdout=full,
            stderr=subprocess.PIPE,
            env=ENVIRONMENT,
            check=False,
            timeout=120,
        )
    assert answer.returncode == 2
    assert answer.stderr.startswith(b"The output cannot be written")


def test_a_reader_that_leaves_early_is_no_error(desk):
    """Like `sequencer check part.yaml | true`."""
    process = subprocess.Popen(
        [sys.executable, "-m", "sequencer", "check", "part.yaml"],
        cwd=desk,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=ENVIRONMENT,
    )
    process.stdout.close()
    stderr = process.stderr.read()
    process.stderr.close()
    assert process.wait(timeout=60) == 0
    assert stderr == b""


def test_a_search_that_is_cut_short_still_gives_a_plan(desk):
    """A tenth of a second, then the first order all the same, with bound and gap or proof."""
    answer = run(desk, "plan", str(PARTS / "bridge_wheel.yaml"), "--shop", "shop.yaml", "--seconds", "0.1")
    assert answer.returncode == 0, answer.stderr
    assert b"Proof: " in answer.stdout


def test_an_interrupt_keeps_the_best_order_and_writes_the_papers(desk):
    """One Ctrl-C during the run."""
    process = subprocess.Popen(
        [sys.executable, "-m", "sequencer", "plan", str(PARTS / "bridge_wheel.yaml"), "--shop", "shop.yaml"],
        cwd=desk,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=ENVIRONMENT,
    )
    time.sleep(2.5)
    process.send_signal(signal.SIGINT)
    stdout, stderr = process.communicate(timeout=120)
    assert process.returncode == 0, stderr
    assert b"Papers in " in stdout


def test_a_clamping_that_is_not_needed_is_not_used(desk):
    """A copy of clamping I under another name: two clampings are still enough, and the plan says so."""
    held = "hold: outside jaws, on: blank, rests_on: blank, z_from: 60 mm, z_to: 94 mm"
    extra = f"  - {{name: III, up: lower, {held}}}\n"
    (desk / "part.yaml").write_text(GOOD + extra, encoding="utf-8")
    answer = run(desk, "plan", "part.yaml", "--json")
    assert answer.returncode == 0, answer.stderr
    plan = json.loads(answer.stdout)
    assert {step["clamping"] for step in plan["sequence"]["steps"]} == {"bench", "I", "II"}
    assert "is not used" in json.dumps(plan["findings"])


def test_a_shop_that_cannot_hold_the_part_is_told_before_planning(desk):
    """No outside jaws in the shop: `check` and `plan` name the clamping and the remedy; exit code 1."""
    shop = (desk / "shop.yaml").read_text(encoding="utf-8").splitlines()
    kept = [line for line in shop if "hold: outside jaws" not in line]
    (desk / "shop.yaml").write_text("\n".join(kept), encoding="utf-8")
    for command in ("check", "plan"):
        answer = run(desk, command, "part.yaml")
        assert answer.returncode in (1, 2)
        assert b"outside jaws" in answer.stderr
        assert answer.stdout == b""
    assert not (desk / "out").exists()


def test_the_starter_writes_a_template_without_a_terminal_and_overwrites_nothing(desk):
    """The template plans as it stands."""
    answer = run(desk, "new", "mine.yaml")
    assert answer.returncode == 0, answer.stderr
    again = run(desk, "new", "mine.yaml")
    assert again.returncode == 2
    assert b"never overwritten" in again.stderr
    planned = run(desk, "plan", "mine.yaml")
    assert planned.returncode == 0, planned.stderr
    assert b"Proven optimal" in planned.stdout
