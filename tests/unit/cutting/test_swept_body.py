"""The shadow of a cutter in the half-section agrees with the room that the run-out asks for."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting.cutter_bodies import CutterBody, disc_body, end_mill_body, hob_body, skiving_body
from sequencer.cutting.run_out import Arrangement, Setting, ring_room
from sequencer.cutting.swept import swept
from sequencer.errors import OutOfRange

CASES = (
    (hob_body(120, 180), Setting(Arrangement.CROSSED, 300, 18.0)),
    (hob_body(120, 180, shift=30), Setting(Arrangement.CROSSED, 300, -24.0)),
    (disc_body(160, 20), Setting(Arrangement.CROSSED, 150, 25.0)),
    (skiving_body(150, 30, relief_angle=8), Setting(Arrangement.SKIVING, 200, 20.0, internal=True)),
    (skiving_body(150, 30, relief_angle=8), Setting(Arrangement.SKIVING, 200, 20.0)),
    (end_mill_body(20, 80, 50, 60), Setting(Arrangement.RADIAL, 200, 15.0)),
)


def _radii(low: float, high: float, count: int = 301) -> tuple[float, ...]:
    return tuple(low + (high - low) * index / (count - 1) for index in range(count))


@pytest.mark.parametrize(("body", "setting"), CASES)
@pytest.mark.parametrize("side", ["below", "above"])
@pytest.mark.parametrize("share", [0.1, 0.4, 0.9])
def test_the_highest_point_in_a_ring_is_the_reach(
    body: CutterBody, setting: Setting, side: str, share: float
) -> None:
    """Two computations that share no search: radius by radius against turn by turn."""
    root = setting.root_radius
    inner, outer = (root * (1 - 0.5 * share), root) if setting.internal else (root, root * (1 + 0.5 * share))
    shadow = swept(body, setting, _radii(inner, outer))
    here = max((each.high if side == "above" else -each.low for each in shadow), default=0.0)
    room = ring_room(body, setting, inner, outer, side, 0.0)
    assert max(here, 0.0) == pytest.approx(room.reach, abs=0.25)
    assert max(here, 0.0) <= room.reach + 1e-3


def test_a_disc_with_its_axis_along_the_work_shows_its_own_profile() -> None:
    """A cylinder beside the work, axis parallel: from root to root + diameter its shadow is its length."""
    body = skiving_body(100, 30)
    setting = Setting(Arrangement.SKIVING, 200, 0.0)
    shadow = swept(body, setting, (201.0, 250.0, 299.0))
    assert [(round(each.low, 6), round(each.high, 6)) for each in shadow] == [(0, 30)] * 3
    assert swept(body, setting, (199.0, 301.0)) == ()


@given(st.floats(50, 300), st.floats(-40, 40), st.floats(0.001, 0.3))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_a_narrow_disc_at_any_tilt_is_an_ellipse_near_the_root(
    radius: float, tilt: float, share: float
) -> None:
    """Height of the circle of a disc some way in from the root: sqrt(t (2 R - t)) cos(tilt)."""
    body = disc_body(2 * radius, 0.01)
    setting = Setting(Arrangement.CROSSED, 5000.0, tilt)
    depth = share * radius
    (found,) = swept(body, setting, (5000.0 + depth,))
    expected = math.sqrt(depth * (2 * radius - depth)) * math.cos(math.radians(tilt))
    assert found.high == pytest.approx(expected, rel=0.03, abs=0.1)


def test_radii_below_zero_are_refused() -> None:
    with pytest.raises(OutOfRange, match="radii begin at -1 mm"):
        swept(hob_body(100, 100), Setting(Arrangement.CROSSED, 100), (-1.0, 5.0))
