"""What all commands share: files in, lines out, errors as a message on stderr with an exit code."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from sequencer.errors import BadFile, Finding, NoPlan, ProofBroken, SequencerError, Severity

if TYPE_CHECKING:
    from sequencer.part import Part
    from sequencer.shop import Shop

PLANNED, NO_PLAN, BAD_INPUT, STOPPED = 0, 1, 2, 130

PartFile = Annotated[Path, typer.Argument(metavar="PART", help="Part file.")]
ShopFile = Annotated[
    Path | None,
    typer.Option("--shop", metavar="FILE", help="Shop file; shop.yaml beside the part file if left out."),
]
OutFolder = Annotated[
    Path | None,
    typer.Option("--out", metavar="FOLDER", help="Folder for the papers; out/PART if left out."),
]


def shop_beside(part: Path, shop: Path | None) -> Path:
    """Give the shop file: as named, or shop.yaml beside the part file."""
    return shop or part.parent / "shop.yaml"


def read_both(part: Path, shop: Path | None) -> tuple[Part, Shop]:
    """Read both files; the faults of both are told together."""
    from sequencer.files import read_part, read_part_and_shop

    house = shop_beside(part, shop)
    if shop is not None or os.path.exists(house):
        return read_part_and_shop(part, house)
    missing = Finding(
        Severity.ERROR, "shop file", f"there is no {house}", remedy="name the shop file with --shop FILE"
    )
    try:
        read_part(part)
    except BadFile as error:
        raise BadFile((*error.faults, missing)) from None
    raise BadFile((missing,))


@contextmanager
def answering() -> Iterator[None]:
    """Turn errors into a message on stderr and an exit code."""
    try:
        yield
    except (NoPlan, ProofBroken) as error:
        leave(f"No plan: {error}", NO_PLAN)
    except SequencerError as error:
        leave(str(error), BAD_INPUT)
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        leave(f"The output cannot be written: {error.strerror or error}.", BAD_INPUT)
    except KeyboardInterrupt:
        leave("Stopped; nothing was written.", STOPPED)


def leave(message: str, code: int) -> NoReturn:
    """Complain and leave with an exit code."""
    complain(message)
    raise typer.Exit(code)


def complain(message: str) -> None:
    """Write a message on stderr."""
    typer.echo(message, err=True)


def print_lines(lines: tuple[str, ...]) -> None:
    """Write lines on stdout; letters that the terminal cannot show are written as their numbers."""
    for line in lines:
        typer.echo(line)
    sys.stdout.flush()


def print_text(text: str) -> None:
    """Write text for other programs on stdout, as UTF-8 whatever the terminal takes."""
    sys.stdout.flush()
    sys.stdout.buffer.write(text.encode("utf-8"))
    sys.stdout.buffer.flush()


def forgive_letters() -> None:
    """Let messages pass that hold letters which the terminal cannot show."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")
