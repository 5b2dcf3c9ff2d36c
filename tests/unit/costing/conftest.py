"""Plans of shipped parts for the tests of time and money."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.files import read_part_and_shop
from sequencer.plan import Plan, make_plan

PARTS = Path(__file__).parents[3] / "parts"


@pytest.fixture(scope="session")
def bridge() -> Plan:
    """A wheel with three tooth systems and quotations."""
    part, shop = read_part_and_shop(PARTS / "bridge_wheel.yaml", PARTS / "shop.yaml")
    return make_plan(part, shop)


@pytest.fixture(scope="session")
def sleeve() -> Plan:
    """A case-hardened sleeve whose grinding is sent out and not quoted."""
    part, shop = read_part_and_shop(PARTS / "press_sleeve.yaml", PARTS / "shop.yaml")
    return make_plan(part, shop)
