"""Options and fixtures that all tests share."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the folder of published instances be named; they are not part of the repository."""
    parser.addoption("--benchmarks", default=None, help="folder with the published ordering instances")


@pytest.fixture(scope="session")
def benchmarks(request: pytest.FixtureRequest) -> Path | None:
    """Folder of published instances, or None if it was not named."""
    folder = request.config.getoption("--benchmarks")
    return Path(folder) if folder else None


@pytest.fixture(scope="session")
def parts_folder() -> Path:
    """Folder of the shipped parts."""
    return ROOT / "parts"
