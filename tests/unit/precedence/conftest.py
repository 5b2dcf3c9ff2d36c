"""Parts that several tests of rules share."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import double_helical, face, part, zone

from sequencer.part import Part


@pytest.fixture(scope="session")
def double_wheel() -> Part:
    """Make a double-helical wheel with its apex groove, datum bore and faces."""
    return part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 280),
        zone("bore", "bore", 0, 280, 120, tolerance="H7"),
        double_helical("wheel", datums=["A", "B"]),
        zone("gap", "apex_groove", 100, 180, 480, gear="wheel"),
        datums={"A": "bore", "B": "lower_face"},
    )
