"""The command line: arguments, exit codes, files; the only place that prints."""

from __future__ import annotations

from sequencer.cli.app import app
from sequencer.cli.teeth import gear

__all__ = ["app", "main"]

app.command()(gear)


def main() -> None:
    """Run the command line."""
    app()
