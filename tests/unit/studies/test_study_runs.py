"""Studies run, are killed, go on, and give the same table whatever happened."""

from __future__ import annotations

import csv
import io
import json
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from sequencer.errors import SequencerError
from sequencer.studies import csv_text, read_study, run_study, study_lines

ROOT = Path(__file__).parents[3]
PARTS = ROOT / "parts"
STUDY = """\
name: Small study
part: first_wheel.yaml
vary:
  - {key: part.lot, values: [1, 6, 20]}
  - {key: shop.rates.machine_hour, from: 100, to: 140, step: 40}
variants:
  - {name: not hobbed, forbid: [{method: hobbing}]}
  - {name: no gear method, set: {shop.machine.gear_methods: []}}
  - {name: no teeth, set: {part.features.teeth.teeth: 2}}
"""


@pytest.fixture
def study_file(tmp_path: Path) -> Path:
    """A small study beside its part and shop."""
    for name in ("first_wheel.yaml", "shop.yaml"):
        (tmp_path / name).write_text((PARTS / name).read_text(encoding="utf-8"), encoding="utf-8")
    file = tmp_path / "small.yaml"
    file.write_text(STUDY, encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> tuple[str, str]:
    """Table and results of the study, run in one go in this process."""
    folder = tmp_path_factory.mktemp("whole")
    for name in ("first_wheel.yaml", "shop.yaml"):
        (folder / name).write_text((PARTS / name).read_text(encoding="utf-8"), encoding="utf-8")
    (folder / "small.yaml").write_text(STUDY, encoding="utf-8")
    result = run_study(read_study(folder / "small.yaml"), folder / "out", workers=1)
    return csv_text(result), (folder / "out" / "results.jsonl").read_text(encoding="utf-8")


def _rows(table: str) -> dict[str, dict[str, str]]:
    return {row["variant"]: row for row in csv.DictReader(io.StringIO(table))}


def test_the_table_lays_all_variants_side_by_side(whole: tuple[str, str]) -> None:
    rows = _rows(whole[0])
    assert len(rows) == 10
    assert next(iter(rows)) == "as it is"
    assert rows["lot=6, rates.machine_hour=140"]["part.lot"] == "6"
    dear, cheap = (float(rows[f"lot=6, rates.machine_hour={rate}"]["cost of a piece"]) for rate in (140, 100))
    minutes = float(rows["as it is"]["minutes on the machine"])
    first = 1 + 0.4 / 6
    assert dear - cheap == pytest.approx(40 / 60 * minutes * first, rel=0.02)


def test_every_variant_says_what_changed(whole: tuple[str, str]) -> None:
    rows = _rows(whole[0])
    milled = rows["not hobbed"]
    assert milled["status"] == "planned"
    assert "teeth/finish: end-mill milling with T33 instead of hobbing with T47" in milled["what changed"]
    assert rows["as it is"]["what changed"] == ""


def test_what_cannot_be_planned_says_why(whole: tuple[str, str]) -> None:
    rows = _rows(whole[0])
    assert rows["no gear method"]["status"] == "no plan"
    assert "its gear methods are none" in rows["no gear method"]["message"]
    assert rows["no teeth"]["status"] == "refused"
    assert "(teeth) teeth: " in rows["no teeth"]["message"]


def test_two_workers_give_the_same_bytes(study_file: Path, whole: tuple[str, str]) -> None:
    result = run_study(read_study(study_file), study_file.parent / "out", workers=2)
    assert csv_text(result) == whole[0]
    assert study_lines(result)[0] == "Small study: 10 of 10 variants, 8 planned, 1 without a plan, 1 refused"


@pytest.mark.parametrize("cut", [0, 1, 200, 4000])
def test_a_file_that_a_kill_cut_off_goes_on_to_the_same_bytes(
    study_file: Path, whole: tuple[str, str], cut: int
) -> None:
    """Whatever byte the last write reached: whole lines are kept, a broken one is planned again."""
    folder = study_file.parent / "out"
    folder.mkdir()
    ready = read_study(study_file)
    kept = whole[1].encode()
    head = kept.index(b"\n") + 1
    (folder / "results.jsonl").write_bytes(kept[: len(kept) - cut] if cut else kept[:head])
    result = run_study(ready, folder, workers=1)
    assert csv_text(result) == whole[0]
    lines = (folder / "results.jsonl").read_text(encoding="utf-8").splitlines()
    assert sorted(json.loads(line)["number"] for line in lines[1:]) == list(range(10))


def test_a_study_that_is_killed_goes_on_to_the_same_table(study_file: Path, whole: tuple[str, str]) -> None:
    """Kill -9 in the middle, with two workers; the workers end too."""
    folder = study_file.parent / "out"
    command = [sys.executable, "-m", "sequencer", "study", str(study_file), "--out", str(folder)]
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    started = subprocess.Popen([*command, "--workers", "2"], env=environment, stdout=subprocess.DEVNULL)
    results, patience = folder / "results.jsonl", time.monotonic() + 60
    while time.monotonic() < patience:
        if results.exists() and results.read_bytes().count(b"\n") >= 3:
            break
        time.sleep(0.02)
    os.kill(started.pid, signal.SIGKILL)
    started.wait()
    assert results.read_bytes().count(b"\n") >= 3
    done = subprocess.run([*command, "--workers", "1"], env=environment, capture_output=True, check=True)
    assert (folder / "table.csv").read_text(encoding="utf-8") == whole[0]
    assert b"10 of 10 variants" in done.stdout


def test_a_stop_keeps_what_is_finished(study_file: Path, whole: tuple[str, str]) -> None:
    folder, done = study_file.parent / "out", list[int]()
    ready = read_study(study_file)
    part = run_study(
        ready,
        folder,
        workers=1,
        on_done=lambda n, _: done.append(n),
        stop=lambda: bool(done) and done[-1] >= 3,
    )
    assert not part.whole
    assert [row["number"] for row in part.rows] == [0, 1, 2]
    assert csv_text(run_study(ready, folder, workers=1)) == whole[0]


def test_a_variant_may_name_another_shop(study_file: Path) -> None:
    """The other machine is dearer by 45 an hour and has no other difference."""
    shop = (study_file.parent / "shop.yaml").read_text(encoding="utf-8")
    assert "machine_hour: 135," in shop
    dear = shop.replace("machine_hour: 135,", "machine_hour: 180,", 1)
    (study_file.parent / "dear.yaml").write_text(dear, encoding="utf-8")
    head = "name: Two shops\npart: first_wheel.yaml\n"
    study_file.write_text(head + "variants: [{name: other machine, shop: dear.yaml}]\n", encoding="utf-8")
    result = run_study(read_study(study_file), study_file.parent / "out", workers=1)
    as_it_is, other = result.rows
    assert other["cost"] > as_it_is["cost"]
    assert other["machine_minutes"] == as_it_is["machine_minutes"]


def test_results_of_another_study_are_refused_unless_thrown_away(study_file: Path) -> None:
    folder = study_file.parent / "out"
    run_study(read_study(study_file), folder, workers=1, stop=lambda: True)
    study_file.write_text(STUDY.replace("[1, 6, 20]", "[1, 7]"), encoding="utf-8")
    changed = read_study(study_file)
    with pytest.raises(SequencerError, match=r"results of another study.*--anew"):
        run_study(changed, folder, workers=1, stop=lambda: True)
    assert run_study(changed, folder, workers=1, anew=True, stop=lambda: True).rows == ()


def test_two_processes_do_not_write_one_file(study_file: Path) -> None:
    from sequencer.studies.results import Results

    pytest.importorskip("fcntl")
    ready = read_study(study_file)
    with (
        Results(study_file.parent / "out", ready.fingerprint),
        pytest.raises(SequencerError, match="another process works on this study"),
    ):
        Results(study_file.parent / "out", ready.fingerprint)


def test_a_line_that_is_no_result_is_told(study_file: Path) -> None:
    folder = study_file.parent / "out"
    ready = read_study(study_file)
    run_study(ready, folder, workers=1, stop=lambda: True)
    with (folder / "results.jsonl").open("a", encoding="utf-8") as file:
        file.write("scribble\n")
    with pytest.raises(SequencerError, match="line 2 is no result"):
        run_study(ready, folder, workers=1)


def test_a_cluster_gives_the_same_bytes(study_file: Path, whole: tuple[str, str]) -> None:
    """Scheduler and worker on this machine, joined by address."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None
    ) as here:
        result = run_study(read_study(study_file), study_file.parent / "out", cluster=here.scheduler_address)
    assert csv_text(result) == whole[0]


def test_a_cluster_that_is_not_there_is_told(study_file: Path) -> None:
    with pytest.raises(
        SequencerError, match=r"--cluster: (the package distributed is not|no scheduler answers)"
    ):
        run_study(read_study(study_file), study_file.parent / "out", cluster="tcp://127.0.0.1:9")


def test_a_variant_that_trips_the_program_is_a_row(monkeypatch: pytest.MonkeyPatch) -> None:
    from sequencer.studies import work

    def trip(_payload: object, _case: object) -> dict[str, object]:
        raise ZeroDivisionError("float division by zero")

    monkeypatch.setattr(work, "_planned", trip)
    (row,) = work.plan_cases({"cases": [{"number": 4, "name": "odd", "changes": {}}]})
    assert row["status"] == "program fault"
    assert row["message"] == "ZeroDivisionError: float division by zero; please report it with the study"


def test_errors_and_warnings_are_those_of_all_findings() -> None:
    """A row counts them without asking what forces each clamping; the count is the same."""
    from sequencer.files import read_part_and_shop
    from sequencer.plan import make_plan

    parts = Path(__file__).parents[3] / "parts"
    plan = make_plan(*read_part_and_shop(parts / "first_wheel.yaml", parts / "shop.yaml"))
    assert plan.weighty
    assert plan.weighty == tuple(each for each in plan.findings if each.severity != "note")
