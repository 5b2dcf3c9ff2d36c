"""The text of a file, or the reason why it cannot be read."""

from __future__ import annotations

import stat
from pathlib import Path
from typing import Final

from sequencer.errors import BadFile, Finding, Severity

#: Part and shop files are written by people; more than this is some other file [bytes].
LARGEST_FILE: Final = 2_000_000

_UTF_16: Final = (b"\xff\xfe", b"\xfe\xff")


def refuse(where: str, what: str, limit: str = "", remedy: str = "") -> BadFile:
    """Make the error for a file with a single fault.

    Parameters
    ----------
    where, what, limit, remedy
        The four answers of the message.
    """
    return BadFile((Finding(Severity.ERROR, where, what, limit, remedy, "file"),))


def read_text(path: Path) -> str:
    """Read a file as UTF-8 text; a byte order mark is left out.

    Parameters
    ----------
    path
        The file.

    Raises
    ------
    BadFile
        When it is missing, no file, unreadable, too large or no UTF-8 text.
    """
    raw = _read_bytes(path)
    if raw.startswith(_UTF_16):
        raise refuse(str(path), "it is saved as UTF-16", "UTF-8 text", "save it as UTF-8 in the editor")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        byte, at = raw[error.start], _place(raw, error.start)
        raise refuse(
            f"{path}:{at}",
            f"byte 0x{byte:02x} is not UTF-8 text",
            "UTF-8 text",
            "save it as UTF-8 in the editor, or check that it is a part or shop file",
        ) from None
    if "\x00" in text:
        raise refuse(str(path), "it is not a text file", "UTF-8 text", "name a part or shop file")
    return text


def _read_bytes(path: Path) -> bytes:
    where = str(path)
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise refuse(where, "it cannot be read: it is a folder", remedy="name a file in it")
        if not stat.S_ISREG(mode):
            raise refuse(where, "it cannot be read: it is no regular file", remedy="name a file on the disk")
        with path.open("rb") as file:
            raw = file.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        raise refuse(where, "it cannot be read: there is no such file", remedy=_near(path)) from None
    except BadFile:
        raise
    except (OSError, ValueError) as error:
        reason = (getattr(error, "strerror", None) or str(error)).lower()
        raise refuse(where, f"it cannot be read: {reason}", remedy="check the name and its rights") from None
    if len(raw) > LARGEST_FILE:
        raise refuse(
            where,
            "it is too large for a part or shop file",
            f"at most {LARGEST_FILE / 1e6:g} MB",
            "check that it is the right file",
        )
    return raw


def _near(path: Path) -> str:
    """Name files beside a missing one whose names look alike."""
    from difflib import get_close_matches

    try:
        beside = sorted(entry.name for entry in path.parent.iterdir() if entry.suffix in (".yaml", ".yml"))
    except OSError:
        return "check the path"
    close = get_close_matches(path.name, beside, n=1, cutoff=0.75)
    return f"did you mean {path.parent / close[0]}?" if close else "check the name"


def _place(raw: bytes, offset: int) -> str:
    before = raw[:offset]
    line = before.count(b"\n") + 1
    column = len(before[before.rfind(b"\n") + 1 :].decode("utf-8", errors="replace")) + 1
    return f"{line}:{column}"
