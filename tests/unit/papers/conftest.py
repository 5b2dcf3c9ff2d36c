"""The example plan for all tests of the papers."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from sequencer.papers.model import Sheet
    from sequencer.plan import Plan

sys.path.insert(0, str(Path(__file__).parent))


@pytest.fixture(scope="session")
def plan() -> Plan:
    """The example plan in millimetres."""
    from example_plan import example_plan

    return example_plan()


@pytest.fixture(scope="session")
def sheets(plan: Plan) -> tuple[Sheet, ...]:
    """All sheets of the example plan, with its half-section."""
    from sequencer.papers.model import Figure
    from sequencer.papers.write import make_sheets
    from sequencer.pictures.half_section import half_section

    return make_sheets(plan, (Figure("Half-section", half_section(plan), "Half-section of the wheel"),))
