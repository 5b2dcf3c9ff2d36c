"""Straight bevel pair against "Elements of Metric Gear Technology", table 8-3 (values recalled).

Module 3, 20/40 teeth, face 22 mm, shafts at 90 deg, unequal addenda. The tolerance is half a unit of the
last printed digit, twice that for values that the table chained from rounded ones.
"""

from __future__ import annotations

import pytest

from sequencer.gears import BevelPair

PAIR = BevelPair(outer_module=3.0, teeth_1=20, teeth_2=40, face_width=22.0, system="unequal addendum")

#: property, pinion, wheel, tolerance
TABLE = [
    ("pitch_cone_angle", 26.56505, 63.43495, 5e-6),
    ("addendum", 4.035, 1.965, 5e-4),
    ("dedendum", 2.529, 4.599, 5e-4),
    ("dedendum_angle", 2.15903, 3.92194, 5e-6),
    ("tip_cone_angle", 30.48699, 65.59398, 5e-6),
    ("root_cone_angle", 24.40602, 59.51301, 5e-6),
    ("tip_diameter", 67.218, 121.7575, 1e-4),
    ("apex_to_crown", 58.1955, 28.2425, 1e-4),
    ("axial_face_width", 19.0029, 9.0969, 5e-5),
    ("inner_tip_diameter", 44.8425, 81.6609, 1e-4),
]


@pytest.mark.parametrize(("name", "pinion", "wheel", "tolerance"), TABLE)
def test_straight_bevel_pair(name: str, pinion: float, wheel: float, tolerance: float) -> None:
    assert getattr(PAIR.pinion, name) == pytest.approx(pinion, abs=tolerance * (1 + 1e-9))
    assert getattr(PAIR.wheel, name) == pytest.approx(wheel, abs=tolerance * (1 + 1e-9))


def test_cone_distance_and_face_width() -> None:
    """Outer cone distance 67.08204 mm; a third of it, 22.36 mm, is the widest usual face (trade page)."""
    assert PAIR.cone_distance == pytest.approx(67.08204, abs=5e-6)
    assert PAIR.largest_face_width == pytest.approx(22.36, abs=5e-3)
    assert not PAIR.face_too_wide
