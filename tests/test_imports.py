"""The command line starts quickly: heavy libraries are imported when they are used."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]

HEAVY = (
    "networkx",
    "numpy",
    "numba",
    "openpyxl",
    "typst",
    "graphviz",
    "graphviz_pure",
    "drawsvg",
    "ortools",
    "pandas",
    "pydantic",
)


def loaded_after(code: str) -> set[str]:
    """Modules that a fresh interpreter holds after some code."""
    script = f"import sys\n{code}\nprint('\\n'.join(sys.modules))"
    answer = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True, timeout=60, cwd=ROOT
    )
    return set(answer.stdout.split("\n"))


HELP = """
from sequencer.cli import app
try:
    app({words}, standalone_mode=False)
except SystemExit:
    pass
"""


def test_help_imports_no_heavy_library():
    """--help needs neither models nor solver nor drawing."""
    assert not loaded_after(HELP.format(words=["--help"])) & set(HEAVY)


@pytest.mark.parametrize("command", ["gear", "cut"])
def test_help_of_a_command_imports_none_of_our_rooms(command):
    """What the library of the command line loads for itself does not count."""
    loaded = loaded_after(HELP.format(words=[command, "--help"]))
    assert not loaded & (set(HEAVY) - {"pydantic"})
    assert not {name for name in loaded if name.startswith(("sequencer.gears", "sequencer.part"))}


def test_checking_a_file_imports_no_solver_and_no_drawing():
    """`check` needs the models only."""
    code = "from sequencer.files import read_part, read_shop\nread_part('parts/first_wheel.yaml')"
    assert not loaded_after(code) & (set(HEAVY) - {"pydantic"})


@pytest.mark.parametrize("name", __import__("sequencer").__all__)
def test_every_name_of_the_interface_can_be_had(name):
    """The lazy imports name real things."""
    import sequencer

    assert getattr(sequencer, name).__name__ == name


def test_unknown_name_is_refused_as_usual():
    """A misspelt name raises AttributeError with the name."""
    import sequencer

    with pytest.raises(AttributeError, match="no attribute 'make_plans'"):
        sequencer.make_plans  # noqa: B018
