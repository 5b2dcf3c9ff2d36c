"""Papers are written whole or not at all; the summary says the same as the sheets."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.errors import SequencerError
from sequencer.papers.picture_files import Form
from sequencer.papers.summary import summary_lines
from sequencer.papers.write import write_all, write_papers, write_pictures
from sequencer.plan import Plan

SHEETS = [
    "pack.pdf",
    "route-sheet.pdf",
    "setup-sheets.pdf",
    "tool-list.pdf",
    "gear-sheets.pdf",
    "inspection-plan.pdf",
    "route-sheet.xlsx",
    "route-sheet.html",
    "plan.json",
]
PICTURES = [
    "half-section.svg",
    "storyboard.svg",
    "time-bar.svg",
    "magazine-map.svg",
    "run-out.svg",
    "tolerances.svg",
    "cost-bars.svg",
    "break-even.svg",
    "tornado.svg",
    "value-at-risk.svg",
    "dependencies.dot",
    "dependencies.svg",
    "dependencies.pdf",
    "dependencies-by-feature.svg",
]
PAPERS = SHEETS + PICTURES


def test_all_papers_are_written_twice_the_same(plan: Plan, tmp_path: Path) -> None:
    first, second = write_papers(plan, tmp_path / "a" / "b"), write_papers(plan, tmp_path / "c")
    assert [path.name for path in first] == PAPERS
    assert sorted(path.name for path in (tmp_path / "a" / "b").iterdir()) == sorted(PAPERS)
    for one, other in zip(first, second, strict=True):
        assert one.read_bytes() == other.read_bytes(), one.name


def test_pictures_alone(plan: Plan, tmp_path: Path) -> None:
    assert [path.name for path in write_pictures(plan, tmp_path)] == PICTURES


def test_pictures_come_in_other_forms_on_demand(plan: Plan, tmp_path: Path) -> None:
    written = write_pictures(plan, tmp_path, (Form.PDF, Form.PNG))
    kinds = {path.suffix: path.read_bytes()[:5] for path in written}
    assert {path.stem for path in written if path.suffix == ".png"} == {
        name[:-4] for name in PICTURES if name[-4:] == ".svg"
    }
    assert kinds[".pdf"] == b"%PDF-"
    assert kinds[".png"][1:4] == b"PNG"


def test_a_failed_write_leaves_nothing_new(tmp_path: Path) -> None:
    """The second file cannot be made, so the first keeps its old contents and no rest stays behind."""
    (tmp_path / "one.txt").write_text("old")
    with pytest.raises(SequencerError, match=r"papers could not be written.*choose another folder"):
        write_all(tmp_path, {"one.txt": b"new", "no/such/folder.txt": b"x"})
    assert (tmp_path / "one.txt").read_text() == "old"
    assert [path.name for path in tmp_path.iterdir()] == ["one.txt"]


def test_a_folder_in_the_way_is_refused_before_anything_is_renamed(tmp_path: Path) -> None:
    (tmp_path / "one.txt").write_text("old")
    (tmp_path / "two.txt").mkdir()
    with pytest.raises(SequencerError, match=r"two\.txt: the papers could not be written: there is a folder"):
        write_all(tmp_path, {"one.txt": b"new", "two.txt": b"new"})
    assert (tmp_path / "one.txt").read_text() == "old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["one.txt", "two.txt"]


def test_a_folder_that_is_a_file_is_refused(plan: Plan, tmp_path: Path) -> None:
    (tmp_path / "out").write_text("")
    with pytest.raises(SequencerError, match="out: the papers could not be written"):
        write_pictures(plan, tmp_path / "out")


def test_a_missing_dot_program_writes_nothing(plan: Plan, tmp_path: Path) -> None:
    with pytest.raises(SequencerError, match="no program 'no-such-dot' on the path"):
        write_papers(plan, tmp_path / "out", program="no-such-dot")
    assert not (tmp_path / "out").exists()


def test_the_summary_reads_as_stored(plan: Plan) -> None:
    assert summary_lines(plan) == (
        "Winch wheel, drawing WW-77, revision C, on Turn-mill 2",
        "Clampings: 2 (I, II)",
        "Least clampings: 2, proven over 6 ways to hold it and 5 rows of them with fewer clampings; number 2 "
        "is forced by lower_face",
        "Steps: 29, tool changes: 22, mode changes: 8",
        "Time per piece: 688.8 min on the machine, 798.8 min with bench work",
        "Magazine: 16 of 30 pockets, by hand: T57",
        "Proof: Clampings and tool changes are proven least; 8 mode changes are the best found, "
        "7 cannot be ruled out.",
        "Lot of 3: 42.3 h on the machine with set-up, first piece 1033.2 min, a spindle cuts 52 % of it",
        "Cost: 3262 EUR a piece in a lot of 3, without blank (not priced)",
        "Make or buy: Make here: wheel (hobbing), spur (power skiving). Not priced outside: wheel, spur, "
        "whole part; a quotation would decide.",
        "Most at risk: spur/finish, value 1974 EUR, expected loss 5.92 EUR a piece",
        "Breaks H1: keyway/finish before spur/finish",
        "Findings: 1 error, 1 warning, 5 notes",
        "error: keyway: no slotting tool is left in the magazine (1 pocket is missing). Load T57 by hand.",
        "warning: T42: the shop owns 0, the plan needs 1 (lead time 60 d, 90 d left). "
        "Order it with the release of the plan.",
    )
