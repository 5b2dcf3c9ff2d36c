"""The commands that compare: studies, what if, and time and money of one plan."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from sequencer.cli.answering import (
    STOPPED,
    PartFile,
    ShopFile,
    answering,
    complain,
    print_lines,
    print_text,
    read_both,
    shop_beside,
)
from sequencer.cli.app import Aiming, Seconds, interruptible

if TYPE_CHECKING:
    from sequencer.studies import ReadStudy, StudyResult

Workers = Annotated[
    int, typer.Option("--workers", min=0, max=1024, help="Processes on this machine; 0 for one a core.")
]
Cluster = Annotated[
    str,
    typer.Option("--cluster", metavar="ADDRESS", help="Plan on a cluster, such as tcp://10.0.0.5:8786."),
]
Anew = Annotated[bool, typer.Option("--anew", help="Throw away what the folder holds and begin again.")]
AsJson = Annotated[bool, typer.Option("--json", help="Print the rows of the table as JSON.")]
Parquet = Annotated[bool, typer.Option("--parquet", help="Write the table as Parquet too.")]
Out = Annotated[
    Path | None,
    typer.Option("--out", metavar="FOLDER", help="Folder for results and table; out/NAME if left out."),
]


def study(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="Study file.")],
    out: Out = None,
    as_json: AsJson = False,
    workers: Workers = 0,
    cluster: Cluster = "",
    anew: Anew = False,
    parquet: Parquet = False,
) -> None:
    """Plan every variant of a study file and lay them side by side; goes on where it was stopped."""
    with answering():
        from sequencer.studies import read_study

        folder = out or Path("out") / file.stem
        _study(read_study(file), folder, workers, cluster, anew, parquet, as_json=as_json)


def whatif(
    part: PartFile,
    shop: ShopFile = None,
    vary: Annotated[
        list[str] | None,
        typer.Option(
            "--vary", metavar="KEY=VALUES", help="part.lot=1,4,8 or shop.rates.machine_hour=100..160/20."
        ),
    ] = None,
    change: Annotated[
        list[str] | None,
        typer.Option("--set", metavar="KEY=VALUE", help="One variant with all keys that are set so."),
    ] = None,
    forbid: Annotated[
        list[str] | None,
        typer.Option(
            "--forbid", metavar="WAY", help="One variant without a method, a tool, or FEATURE:METHOD."
        ),
    ] = None,
    out: Out = None,
    as_json: AsJson = False,
    workers: Workers = 0,
    cluster: Cluster = "",
    anew: Anew = False,
    parquet: Parquet = False,
    aim: Aiming = "clampings",
    seconds: Seconds = 20.0,
) -> None:
    """Plan a part otherwise and lay it beside the part as it is: other keys, ranges, without a method."""
    with answering():
        from sequencer.studies import study_from_options
        from sequencer.studies.options import study_of

        house = shop_beside(part, shop)
        read_both(part, shop)
        asked = study_of(part, house, vary or [], change or [], forbid or [], aim, seconds)
        folder = out or Path("out") / f"{part.stem}-whatif"
        ready = study_from_options(asked, Path())
        _study(ready, folder, workers, cluster, anew, parquet, as_json=as_json, replace=out is None)


def cost(
    part: PartFile,
    shop: ShopFile = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print time and money as JSON.")] = False,
    aim: Aiming = "clampings",
    seconds: Seconds = 20.0,
) -> None:
    """Say what a part costs and why: times, account, value at risk, make or buy, what drives it."""
    with answering(), interruptible() as stop:
        read, house = read_both(part, shop)
        from sequencer.plan import make_plan

        made = make_plan(read, house, aim=aim, seconds=seconds, stop=stop)
        if as_json:
            from sequencer.papers.plan_json import costing_text

            print_text(costing_text(made))
            return
        from sequencer.papers.cost_text import cost_text

        print_lines(cost_text(made))


def _study(
    ready: ReadStudy,
    folder: Path,
    workers: int,
    cluster: str,
    anew: bool,
    parquet: bool,
    *,
    as_json: bool,
    replace: bool = False,
) -> None:
    from sequencer.studies import run_study

    with interruptible() as stop, _progress(len(ready.cases)) as show:
        result = run_study(
            ready,
            folder,
            workers=workers,
            cluster=cluster,
            anew=anew,
            replace=replace,
            on_done=show,
            stop=stop,
        )
    names = _written(result, folder, parquet)
    from sequencer.studies.table import json_text, study_lines

    if as_json:
        print_text(json_text(result))
    else:
        print_lines((*study_lines(result), f"Table in {folder}: {', '.join(names)}"))
    if not result.whole:
        complain(
            f"Stopped after {len(result.rows)} of {len(ready.cases)} variants; the same command goes on."
        )
        raise typer.Exit(STOPPED)


def _written(result: StudyResult, folder: Path, parquet: bool) -> tuple[str, ...]:
    from sequencer.files.writing import write_text
    from sequencer.studies.table import csv_text, write_parquet

    write_text(folder / "table.csv", csv_text(result))
    if not parquet:
        return ("table.csv",)
    write_parquet(result, folder / "table.parquet")
    return ("table.csv", "table.parquet")


@contextmanager
def _progress(total: int) -> Iterator[Callable[[int, int], None] | None]:
    """Show how far the study is; nothing where stderr is no terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns: tuple[Any, ...] = (
        TextColumn("variants"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeRemainingColumn(),
        TextColumn("Ctrl-C keeps what is finished"),
    )
    with Progress(*columns, console=Console(stderr=True)) as bar:
        line = bar.add_task("variants", total=total)
        yield lambda done, _total: bar.update(line, completed=done)
