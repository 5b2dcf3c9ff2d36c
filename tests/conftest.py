"""Options and fixtures that all tests share."""

from __future__ import annotations

from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def pytest_addoption(parser: pytest.Parser) -> None:
    """Let the folder of published instances be named; they are not part of the repository."""
    parser.addoption("--benchmarks", default=None, help="folder with the published ordering instances")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Leave out the tests on published instances where their folder is not named, and say so."""
    if config.getoption("--benchmarks"):
        return
    left_out = [item for item in items if item.get_closest_marker("benchmarks")]
    if left_out:
        config.hook.pytest_deselected(items=left_out)
        items[:] = [item for item in items if item not in left_out]


def pytest_report_header(config: pytest.Config) -> str:
    """Say where published instances are read from."""
    folder = config.getoption("--benchmarks")
    return f"published instances: {folder or 'left out, name their folder with --benchmarks=FOLDER'}"


@pytest.fixture(scope="session")
def benchmarks(request: pytest.FixtureRequest) -> Path:
    """Folder of published instances."""
    return Path(request.config.getoption("--benchmarks"))


@pytest.fixture(scope="session")
def parts_folder() -> Path:
    """Folder of the shipped parts."""
    return ROOT / "parts"
