"""DOT text to SVG or PNG: the shipped renderer, or a `dot` program that the planner names."""

from __future__ import annotations

import shutil
import subprocess
import sysconfig
from pathlib import Path
from typing import Final, Literal

from sequencer.errors import SequencerError

#: Program that the package graphviz-pure installs.
SHIPPED: Final = "graphviz-pure"
_SECONDS: Final = 120.0


def render_dot(source: str, form: Literal["svg", "png"], program: str | None = None) -> bytes:
    """Render a graph.

    A renderer may end with status 1 after it has written the whole picture (it lost the course of an edge);
    that picture is taken.

    Parameters
    ----------
    source
        DOT text.
    form
        "svg" or "png".
    program
        Name or path of a `dot` program to use instead of the shipped one.

    Raises
    ------
    SequencerError
        When the program is missing or gives no picture.
    """
    command = [_program(program), "-Kdot", f"-T{form}"]
    try:
        done = subprocess.run(
            command, input=source.encode(), capture_output=True, timeout=_SECONDS, check=False
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        raise SequencerError(
            f"{command[0]} did not draw the diagram: {error}",
            where="dependency diagram",
            remedy="name another dot program, or take the DOT text",
        ) from error
    if not done.stdout.rstrip().endswith(b"</svg>" if form == "svg" else b"IEND\xaeB`\x82"):
        raise SequencerError(
            f"{command[0]} gave no whole picture: {_last_line(done.stderr)}",
            where="dependency diagram",
            remedy="name another dot program, or take the DOT text",
        )
    return done.stdout


def _program(program: str | None) -> str:
    if program is not None:
        found = shutil.which(program)
        if found is None:
            raise SequencerError(
                f"no program {program!r} on the path",
                where="dependency diagram",
                remedy="give its full path, or leave it out to use the shipped renderer",
            )
        return found
    beside = shutil.which(SHIPPED, path=sysconfig.get_path("scripts")) or shutil.which(SHIPPED)
    if beside is None:
        raise SequencerError(
            f"the renderer {SHIPPED} is missing",
            where="dependency diagram",
            remedy="install the package with its dependencies, or name a dot program",
        )
    return str(Path(beside))


def _last_line(output: bytes) -> str:
    lines = [line for line in output.decode(errors="replace").splitlines() if line.strip()]
    return lines[-1] if lines else "no message"
