"""The results file: a line a variant, each whole or not there: a study goes on where it was killed."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from pathlib import Path
from types import TracebackType
from typing import Any, Final, Self

from sequencer.errors import SequencerError

NAME: Final = "results.jsonl"
VERSION: Final = 1


class Results:
    """Rows of a study on the disk; opened by one process at a time.

    Parameters
    ----------
    folder
        Folder of the study.
    fingerprint
        What the rows must have been made from.
    anew
        Begin again, whatever the folder holds.
    replace
        Throw away rows of another study instead of refusing.
    """

    def __init__(self, folder: Path, fingerprint: str, *, anew: bool = False, replace: bool = False) -> None:
        self.path = folder / NAME
        self.fingerprint = fingerprint
        self.rows: dict[int, dict[str, Any]] = {}
        try:
            folder.mkdir(parents=True, exist_ok=True)
            self._file = os.open(self.path, os.O_RDWR | os.O_CREAT | os.O_APPEND, 0o644)
        except OSError as error:
            raise SequencerError(
                f"the results cannot be kept: {error.strerror or error}",
                where=str(self.path),
                remedy="name another folder with --out",
            ) from None
        try:
            _lock(self._file, self.path)
            self._read(anew, replace)
        except BaseException:
            os.close(self._file)
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        os.close(self._file)

    def _read(self, anew: bool, replace: bool) -> None:
        """Take over whole lines; a line that a kill cut off is taken away."""
        raw = self.path.read_bytes()
        whole = raw[: raw.rfind(b"\n") + 1]
        lines = whole.splitlines()
        head = _parsed(lines[0], self.path, 1) if lines and not anew else None
        mine = head is not None and (head.get("study"), head.get("version")) == (self.fingerprint, VERSION)
        if head is not None and not mine and not replace:
            raise SequencerError(
                "this folder holds results of another study, or part, shop or program have changed since",
                where=str(self.path),
                remedy="name another folder with --out, or throw them away with --anew",
            )
        if not mine:
            os.ftruncate(self._file, 0)
            self._write({"study": self.fingerprint, "version": VERSION})
            return
        if len(whole) < len(raw):
            os.ftruncate(self._file, len(whole))
        for at, line in enumerate(lines[1:], start=2):
            row = _parsed(line, self.path, at)
            self.rows[row["number"]] = row

    def add(self, rows: Iterable[dict[str, Any]]) -> None:
        """Keep finished variants; they are on the disk when this returns.

        Parameters
        ----------
        rows
            Their rows.
        """
        for row in rows:
            self._write(row)
            self.rows[row["number"]] = row

    def _write(self, value: dict[str, Any]) -> None:
        line = json.dumps(value, ensure_ascii=False, sort_keys=True, allow_nan=False).encode() + b"\n"
        try:
            while line:
                line = line[os.write(self._file, line) :]
            os.fsync(self._file)
        except OSError as error:
            raise SequencerError(
                f"the results cannot be kept: {error.strerror or error}",
                where=str(self.path),
                remedy="make room on the disk, then start it again: what is finished is kept",
            ) from None


def _parsed(line: bytes, path: Path, number: int) -> dict[str, Any]:
    try:
        value = json.loads(line)
    except (json.JSONDecodeError, UnicodeDecodeError):
        value = None
    if not isinstance(value, dict):
        raise SequencerError(
            f"line {number} is no result",
            where=str(path),
            remedy="throw the results away with --anew, or name another folder with --out",
        )
    return value


def _lock(file: int, path: Path) -> None:
    """Keep a second process out; the system gives the lock back even when this one is killed."""
    try:
        import fcntl
    except ImportError:
        return
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        raise SequencerError(
            "another process works on this study",
            where=str(path),
            remedy="wait for it, or name another folder with --out",
        ) from None
