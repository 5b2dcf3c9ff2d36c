"""The commands about accuracy: the ledger of tolerances, and the datums."""

from __future__ import annotations

from typing import Annotated

import typer

from sequencer.cli.answering import PartFile, ShopFile, answering, print_lines, print_text, read_both
from sequencer.cli.app import Seconds, interruptible

AsJson = Annotated[bool, typer.Option("--json", help="Print it as JSON.")]


def ledger(part: PartFile, shop: ShopFile = None, as_json: AsJson = False, seconds: Seconds = 20.0) -> None:
    """Say how each tolerance is used up: shares with formulas, verdict, process dimensions."""
    with answering(), interruptible() as stop:
        read, house = read_both(part, shop)
        from sequencer.papers.ledger_text import ledger_json, ledger_text
        from sequencer.plan import make_plan

        made = make_plan(read, house, seconds=seconds, stop=stop)
        if as_json:
            print_text(ledger_json(made))
        else:
            print_lines(ledger_text(made))


def datums(part: PartFile, shop: ShopFile = None, as_json: AsJson = False, seconds: Seconds = 20.0) -> None:
    """Say who makes each datum, where it is used, and what each clamping indicates to which limit."""
    with answering(), interruptible() as stop:
        read, house = read_both(part, shop)
        from sequencer.papers.ledger_text import datums_json, datums_text
        from sequencer.plan import make_plan

        made = make_plan(read, house, seconds=seconds, stop=stop)
        if as_json:
            print_text(datums_json(made))
        else:
            print_lines(datums_text(made))
