"""Ledger and datums as lines and as JSON, of a shipped part."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sequencer.cli import app

PARTS = Path(__file__).parents[3] / "parts"


def asked(*words: str) -> str:
    """What a command prints."""
    answer = CliRunner().invoke(app, [*words, str(PARTS / "first_wheel.yaml"), "--seconds", "3"])
    assert answer.exit_code == 0, answer.output
    return answer.stdout


def test_the_ledger_shows_shares_with_formulas_and_verdict() -> None:
    """An eccentricity of 10 um enters runout twice: 20 um."""
    text = asked("ledger")
    assert "teeth: runout of the teeth to bore and lower_face holds: 70 um allowed" in text
    assert "  20 um re-clamping: eccentricity by bore in II  [2 e = 2*10 um = 20 um]" in text


def test_the_datums_show_limits() -> None:
    text = asked("datums")
    assert "axis: bore (A) to 23.3 um" in text
    assert "[TIR = 0.333*70 um/1 = 23.3 um]" in text


@pytest.mark.parametrize(("command", "key"), [("ledger", "relations"), ("datums", "set_ups")])
def test_both_are_written_as_json(command: str, key: str) -> None:
    assert json.loads(asked(command, "--json"))[key]
