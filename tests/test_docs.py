"""Documents are run: console blocks print what they show, Python blocks run, links lead somewhere."""

from __future__ import annotations

import contextlib
import io
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
PAGES = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md"))]
BLOCK = re.compile(r"^```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def blocks(language: str) -> list[tuple[str, str]]:
    """Name and text of each block of a language in all pages."""
    found = []
    for page in PAGES:
        for match in BLOCK.finditer(page.read_text(encoding="utf-8")):
            if match[1] == language:
                line = page.read_text(encoding="utf-8")[: match.start()].count("\n") + 1
                found.append((f"{page.name}:{line}", match[2]))
    return found


@pytest.fixture
def shop_floor(tmp_path, monkeypatch):
    """An empty folder in which parts/ can be seen, as in a fresh clone."""
    (tmp_path / "parts").symlink_to(ROOT / "parts")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def commands_shown(text: str) -> list[tuple[str, str]]:
    """Commands of a console block, each with the output that it shows."""
    pairs: list[tuple[str, list[str]]] = []
    for line in text.splitlines():
        if line.startswith("$ "):
            pairs.append((line[2:], []))
        else:
            pairs[-1][1].append(line)
    return [(command, "\n".join(output).strip()) for command, output in pairs]


@pytest.mark.parametrize(("where", "text"), blocks("console"), ids=[name for name, _ in blocks("console")])
def test_console_block_prints_what_it_shows(shop_floor, where, text):
    """Each `$ sequencer ...` line is run; an ellipsis line stands for anything."""
    for command, shown in commands_shown(text):
        assert command.startswith("sequencer "), f"{where}: only the program's own commands are shown"
        answer = subprocess.run(
            [sys.executable, "-m", *command.split()],
            capture_output=True,
            text=True,
            cwd=shop_floor,
            env={**os.environ, "PYTHONPATH": str(ROOT), "NO_COLOR": "1", "COLUMNS": "200"},
            timeout=120,
            check=False,
        )
        printed = (answer.stdout + answer.stderr).strip()
        pattern = ".*".join(re.escape(piece) for piece in re.split(r"^\.\.\.$", shown, flags=re.MULTILINE))
        assert re.fullmatch(pattern, printed, re.DOTALL), f"{where}: $ {command}\n{printed}"


@pytest.mark.parametrize(("where", "text"), blocks("python"), ids=[name for name, _ in blocks("python")])
def test_python_block_prints_what_its_comments_say(shop_floor, where, text):
    """Lines `# -> words` at the end of a block are what it prints."""
    code = "\n".join(line for line in text.splitlines() if not line.startswith("# -> "))
    shown = [line.removeprefix("# -> ") for line in text.splitlines() if line.startswith("# -> ")]
    printed = io.StringIO()
    with contextlib.redirect_stdout(printed):
        exec(compile(code, where, "exec"), {"__name__": "__docs__"})
    assert printed.getvalue().splitlines() == shown


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_lead_somewhere(page):
    """Relative links name files that exist."""
    for target in re.findall(r"\]\(([^)#]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
        if "://" not in target:
            assert (page.parent / target).exists(), f"{page.name}: {target}"


def test_continuous_integration_runs_the_readme_lines():
    """The two lines of the README stand in .ci/run letter by letter, but for its options."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8").replace("--quiet ", "")
    lines = [line.strip() for line in readme.splitlines() if line.startswith("    python3 -m venv")]
    assert len(lines) == 2
    for line in lines:
        assert line in script
