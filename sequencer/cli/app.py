"""The commands that plan, check, explain, draw, and write a first part file."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Annotated, Literal

import typer

from sequencer.cli.answering import (
    NO_PLAN,
    OutFolder,
    PartFile,
    ShopFile,
    answering,
    print_lines,
    print_text,
    read_both,
    shop_beside,
)
from sequencer.papers.picture_files import Form

if TYPE_CHECKING:
    from sequencer.files.starter import Question
    from sequencer.ordering.result import Progress
    from sequencer.plan import Plan

app = typer.Typer(
    name="sequencer",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    help=(
        "Plans how a heavy gear part is made complete in few clampings on a vertical turn-mill: "
        "methods, order, tools and papers, each with its reason."
    ),
)

Aim = Literal["clampings", "changes", "minutes"]
Aiming = Annotated[
    Aim,
    typer.Option(
        "--aim",
        help="Least clampings, then minutes; or clampings, tool and mode changes, then minutes; or minutes.",
    ),
]
Seconds = Annotated[
    float, typer.Option("--seconds", min=0.1, help="Longest search for the order; the best so far is kept.")
]


@app.command()
def plan(
    part: PartFile,
    shop: ShopFile = None,
    out: OutFolder = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the whole plan as JSON.")] = False,
    aim: Aiming = "clampings",
    seconds: Seconds = 20.0,
    language: Annotated[
        str | None, typer.Option("--language", help="Language of the sheets: en, de.")
    ] = None,
    paper: Annotated[
        Literal["A4", "A3", "Letter"] | None, typer.Option("--paper", help="Paper of the sheets.")
    ] = None,
    units: Annotated[
        Literal["mm", "in"] | None, typer.Option("--units", help="Unit of computed lengths on the sheets.")
    ] = None,
) -> None:
    """Plan a part: choose methods and order, and write route sheet, tool list and diagrams."""
    with answering(), interruptible() as stop:
        style = {"language": language, "paper": paper, "units": units}
        made = _planned(part, shop, seconds, stop, aim, style)
        from sequencer.papers.plan_json import plan_text
        from sequencer.papers.summary import summary_lines
        from sequencer.papers.write import write_papers

        folder = out or Path("out") / part.stem
        written = write_papers(made, folder)
        if as_json:
            print_text(plan_text(made))
            return
        names = ", ".join(path.name for path in written)
        print_lines((*summary_lines(made), f"Papers in {folder}: {names}"))


@app.command()
def check(part: PartFile, shop: ShopFile = None) -> None:
    """Check a part file and its shop file, and that this shop can hold and cut the part, without planning."""
    with answering():
        read, house = read_both(part, shop)
        from sequencer.operations import make_operations
        from sequencer.sequencing import refuse_errors

        operations = make_operations(read, house)
        refuse_errors(operations)
        print_lines(
            (
                f"{part}: {len(read.features)} features, {len(read.clampings)} clampings, no fault found.",
                f"{shop_beside(part, shop)}: {len(house.tools)} tools, no fault found.",
            )
        )


@app.command()
def why(
    part: PartFile,
    first: Annotated[
        str, typer.Argument(metavar="[A]", help='Operation, such as "bore/finish"; all if left out.')
    ] = "",
    second: Annotated[str, typer.Argument(metavar="[B]", help="Another operation.")] = "",
    shop: ShopFile = None,
    seconds: Seconds = 20.0,
    out: Annotated[
        Path | None,
        typer.Option("--out", metavar="FOLDER", help="Write the answer for A and B as a page too."),
    ] = None,
) -> None:
    """Say why A stands before B and what a swap breaks and costs; or what keeps A, or all, from moving."""
    with answering(), interruptible() as stop:
        made = _planned(part, shop, seconds, stop)
        from sequencer.papers.order_text import free_lines, place_lines
        from sequencer.papers.why_text import why_lines
        from sequencer.sequencing import explain_pair, free_moves
        from sequencer.sequencing.why import unknown_operation

        stages = (made.operations, made.graph, made.sequence)
        if second:
            answer = explain_pair(*stages, first, second, seconds=seconds, stop=stop)
            print_lines(why_lines(answer))
            if out is not None:
                from sequencer.papers.why_page import write_why

                print_lines(tuple(f"Page: {path}" for path in write_why(made, answer, out)))
        elif not first:
            print_lines(free_lines(free_moves(*stages)))
        elif first in made.sequence.by_operation:
            print_lines(place_lines(made.sequence, free_moves(*stages), first))
        else:
            raise unknown_operation(first, tuple(made.sequence.by_operation))


@app.command()
def order(
    part: PartFile,
    file: Annotated[
        Path | None, typer.Argument(metavar="[FILE]", help="Order file: one operation a line.")
    ] = None,
    shop: ShopFile = None,
    aim: Aiming = "clampings",
    seconds: Seconds = 20.0,
) -> None:
    """Print the best order for editing; with FILE, say what that order breaks and costs beside the best."""
    with answering(), interruptible() as stop:
        given: tuple[tuple[str, str], ...] = ()
        if file is not None:
            from sequencer.files.order_file import read_order

            given = tuple((step.operation, step.clamping) for step in read_order(file))
        made = _planned(part, shop, seconds, stop, aim)
        from sequencer.papers.order_text import judged_lines, order_lines
        from sequencer.sequencing import judge_order

        if file is None:
            print_lines(order_lines(made))
            return
        judged = judge_order(made.operations, made.graph, made.sequence, given, aim=aim)
        print_lines(judged_lines(str(file), judged))
        if not judged.allowed:
            raise typer.Exit(NO_PLAN)


@app.command()
def diagram(
    part: PartFile,
    shop: ShopFile = None,
    out: OutFolder = None,
    seconds: Seconds = 20.0,
    form: Annotated[
        list[Form] | None, typer.Option("--form", help="Form beside SVG: pdf, png, dxf (half-section).")
    ] = None,
    tiles: Annotated[
        Literal["A4", "A3", "Letter"] | None,
        typer.Option("--tiles", help="Dependency diagram as a poster of pages of this paper too."),
    ] = None,
) -> None:
    """Draw the pictures only."""
    with answering(), interruptible() as stop:
        made = _planned(part, shop, seconds, stop)
        from sequencer.papers.write import write_pictures

        folder = out or Path("out") / part.stem
        print_lines(
            tuple(str(path) for path in write_pictures(made, folder, tuple(form or ()), tiles=tiles or ""))
        )


@app.command()
def new(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Part file to write.")] = Path("part.yaml"),
) -> None:
    """Ask what the drawing says and write a part file; without a terminal, write a template."""
    from sequencer.files import starter
    from sequencer.files.writing import write_text

    with answering():
        starter.refuse_existing(file)
        text = _asked() if sys.stdin.isatty() else starter.template()
        write_text(file, text)
        print_lines((f"{file} written. Next: sequencer plan {file} --shop SHOP",))


def _asked() -> str:
    from sequencer.files import starter

    try:
        return starter.interview(_ask)
    except typer.Abort:
        raise KeyboardInterrupt from None


def _ask(question: Question, complaint: str) -> str:
    """Show a question with its reason, and what was wrong with the answer before."""
    if complaint:
        typer.echo(f"  {complaint}")
    else:
        typer.echo(f"\n{question.text}\n  {question.why}")
    choices = f" ({', '.join(question.choices)})" if question.choices else ""
    answer: str = typer.prompt(f"  Answer{choices}", default=question.default)
    return answer


def _planned(
    part: Path,
    shop: Path | None,
    seconds: float,
    stop: Callable[[], bool],
    aim: Aim = "clampings",
    style: dict[str, str | None] | None = None,
) -> Plan:
    """Read and plan with progress; a style given here goes before that of the shop."""
    read, house = read_both(part, shop)
    given = {name: wanted for name, wanted in (style or {}).items() if wanted is not None}
    if given:
        from sequencer.language import read_catalogue

        read_catalogue(given.get("language", "en"))
        house = house.model_copy(update={"sheets": house.sheets.model_copy(update=given)})
    from sequencer.plan import make_plan

    with _progress() as show:
        return make_plan(read, house, aim=aim, seconds=seconds, on_progress=show, stop=stop)


@contextmanager
def interruptible() -> Iterator[Callable[[], bool]]:
    """Let the first Ctrl-C end the search with the best so far, and the second one leave."""
    asked = False

    def note(_signal: int, _frame: FrameType | None) -> None:
        nonlocal asked
        if asked:
            raise KeyboardInterrupt
        asked = True

    before = signal.signal(signal.SIGINT, note)
    try:
        yield lambda: asked
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def _progress() -> Iterator[Callable[[Progress], None] | None]:
    """Show the search on the terminal; nothing where stderr is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.status import Status

    with Status("planning", console=Console(stderr=True)) as status:

        def show(progress: Progress) -> None:
            found = "an order is found" if progress.values else "no order yet"
            status.update(f"{progress.phase}, {progress.seconds:.0f} s, {found}; Ctrl-C keeps the best")

        yield show
