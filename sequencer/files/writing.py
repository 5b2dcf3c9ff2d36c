"""Files written whole or not at all: under another name first, then renamed."""

from __future__ import annotations

import contextlib
import os
import tempfile
from pathlib import Path

from sequencer.errors import SequencerError


def write_text(path: Path, text: str) -> None:
    """Write a text file as UTF-8, lines ending as they are; an older file of that name is replaced.

    Parameters
    ----------
    path
        The file; its folder must exist.
    text
        What it is to hold.

    Raises
    ------
    SequencerError
        When it cannot be written; an older file then stays as it was.
    """
    write_bytes(path, text.encode("utf-8"))


def write_bytes(path: Path, content: bytes) -> None:
    """Write a file; an older one of that name is replaced.

    Parameters
    ----------
    path
        The file; its folder must exist.
    content
        What it is to hold.

    Raises
    ------
    SequencerError
        When it cannot be written; an older file then stays as it was.
    """
    try:
        if path.is_dir():
            raise SequencerError("it is a folder", where=str(path), remedy="name a file in it")
        _write_and_rename(path, content)
    except (OSError, ValueError) as error:
        if isinstance(error, FileNotFoundError):
            raise SequencerError(
                f"there is no folder {path.parent}", where=str(path), remedy="make the folder first"
            ) from None
        reason = getattr(error, "strerror", None) or str(error)
        raise SequencerError(
            f"it cannot be written: {reason}",
            where=str(path),
            remedy="check the name, the rights and the disk",
        ) from None


def _write_and_rename(path: Path, content: bytes) -> None:
    handle, name = tempfile.mkstemp(prefix=".", suffix=".part", dir=path.parent)
    written = Path(name)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        mode = path.stat().st_mode & 0o777 if path.exists() else 0o666 & ~_umask()
        written.chmod(mode)
        written.replace(path)
    except BaseException:
        with contextlib.suppress(OSError):
            written.unlink()
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def refuse_existing(path: Path) -> None:
    """Refuse to write over a file that somebody may have worked on.

    Parameters
    ----------
    path
        The file that is to be written.

    Raises
    ------
    SequencerError
        When there is something of that name.
    """
    if path.exists() or path.is_symlink():
        raise SequencerError(
            "there is a file of that name already",
            where=str(path),
            limit="never overwritten",
            remedy="name a new file, or move the old one away",
        )
