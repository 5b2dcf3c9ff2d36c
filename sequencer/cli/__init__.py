"""The command line: arguments, exit codes, files; the only place that prints."""

from __future__ import annotations

from sequencer.cli.answering import forgive_letters
from sequencer.cli.app import app
from sequencer.cli.compare import compare
from sequencer.cli.studies import cost, study, whatif
from sequencer.cli.teeth import cut, gear
from sequencer.cli.tolerances import datums, ledger
from sequencer.cli.tool_lists import tools
from sequencer.cli.week import week

__all__ = ["app", "main"]

app.command()(gear)
app.command()(cut)
app.command()(cost)
app.command()(compare)
app.command()(ledger)
app.command()(datums)
app.command()(whatif)
app.command()(study)
app.command()(week)
app.add_typer(tools)


def main() -> None:
    """Run the command line."""
    forgive_letters()
    app()
