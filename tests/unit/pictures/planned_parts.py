"""Plans of the shipped parts for the tests of pictures; each is made once."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from sequencer.files import read_part, read_shop
from sequencer.plan import Plan, make_plan


@lru_cache(maxsize=8)
def planned(folder: Path, name: str) -> Plan:
    """Plan of a shipped part on the shipped shop."""
    return make_plan(read_part(folder / f"{name}.yaml"), read_shop(folder / "shop.yaml"), seconds=5.0)
