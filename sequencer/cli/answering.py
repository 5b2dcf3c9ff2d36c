"""What all commands share: files in, lines out, errors as a message on stderr with an exit code."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, NoReturn

import typer

from sequencer.errors import NoPlan, ProofBroken, SequencerError

if TYPE_CHECKING:
    from sequencer.part import Part
    from sequencer.shop import Shop

PLANNED, NO_PLAN, BAD_INPUT = 0, 1, 2

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
    from sequencer.files import read_part_and_shop

    house = shop_beside(part, shop)
    if shop is None and not house.exists():
        raise SequencerError(
            f"there is no {house}", where="shop file", remedy="name the shop file with --shop FILE"
        )
    return read_part_and_shop(part, house)


@contextmanager
def answering() -> Iterator[None]:
    """Turn errors into a message on stderr and an exit code."""
    try:
        yield
    except NoPlan as error:
        for finding in error.findings:
            if finding.severity == "warning":
                complain(str(finding))
        leave(f"No plan: {error}", NO_PLAN)
    except ProofBroken as error:
        leave(str(error), NO_PLAN)
    except SequencerError as error:
        leave(str(error), BAD_INPUT)


def leave(message: str, code: int) -> NoReturn:
    """Complain and leave with an exit code."""
    complain(message)
    raise typer.Exit(code)


def complain(message: str) -> None:
    """Write a message on stderr."""
    typer.echo(message, err=True)


def print_lines(lines: tuple[str, ...]) -> None:
    """Write lines on stdout."""
    from rich.console import Console

    console = Console(highlight=False)
    for line in lines:
        console.print(line, soft_wrap=True, markup=False)
