"""Files are written whole or not at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sequencer.errors import SequencerError
from sequencer.files.writing import refuse_existing, write_bytes, write_text


def test_a_new_file_is_written_as_it_is(tmp_path: Path) -> None:
    write_text(tmp_path / "a.txt", "Größe\r\n±0.05 mm\n")
    assert (tmp_path / "a.txt").read_bytes() == "Größe\r\n±0.05 mm\n".encode()
    assert [path.name for path in tmp_path.iterdir()] == ["a.txt"]


def test_a_new_file_has_the_usual_rights(tmp_path: Path) -> None:
    (tmp_path / "usual").touch()
    write_text(tmp_path / "a.txt", "")
    assert (tmp_path / "a.txt").stat().st_mode == (tmp_path / "usual").stat().st_mode


def test_an_older_file_is_replaced_and_keeps_its_rights(tmp_path: Path) -> None:
    path = tmp_path / "a.bin"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_bytes(path, b"\x00new")
    assert path.read_bytes() == b"\x00new"
    assert path.stat().st_mode & 0o777 == 0o640


def test_an_older_file_stays_if_the_new_one_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.txt"
    path.write_text("old")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(SequencerError, match=r"a\.txt: it cannot be written: No space left on device"):
        write_text(path, "new")
    assert path.read_text() == "old"
    assert [found.name for found in tmp_path.iterdir()] == ["a.txt"]


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(SequencerError, match=r"there is no folder .*no\. Make the folder first"):
        write_text(tmp_path / "no" / "a.txt", "x")


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(SequencerError, match="it is a folder"):
        write_text(tmp_path, "x")


def test_existing_files_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "a.yaml"
    refuse_existing(path)
    path.write_text("mine")
    with pytest.raises(SequencerError, match=r"there is a file of that name already \(never overwritten\)"):
        refuse_existing(path)
    (tmp_path / "link").symlink_to(tmp_path / "nothing")
    with pytest.raises(SequencerError, match="already"):
        refuse_existing(tmp_path / "link")
