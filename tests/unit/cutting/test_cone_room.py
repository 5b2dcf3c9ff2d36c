"""Holder and head square to a cone against cylinders on the work axis, by sampling their surface in space."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting.cone_room import clash_beside_cone
from sequencer.errors import OutOfRange


def sampled(steps, radius, height, lean, low, high, outer):
    """Greatest depth of a dense sample of the body in the cylinder; 0 if none is there."""
    c, s = math.cos(math.radians(lean)), math.sin(math.radians(lean))
    deepest = 0.0
    for (start, size), (end, other) in pairwise(steps):
        if end <= start:
            continue
        for i in range(121):
            along = start + (end - start) * i / 120
            for turn in range(0, 360, 12):
                for j in range(13):
                    w = max(size, other) / 2 * j / 12
                    side, up = w * math.sin(math.radians(turn)), w * math.cos(math.radians(turn))
                    x, z = radius + along * c - up * s, height + along * s + up * c
                    if low < z < high:
                        deepest = max(deepest, outer - math.hypot(x, side))
    return deepest


@settings(deadline=None, derandomize=True, max_examples=25)
@given(
    lean=st.floats(-85, 85),
    radius=st.floats(60, 200),
    holder=st.floats(20, 70),
    low=st.floats(-60, 60),
    thick=st.floats(15, 80),
    outer=st.floats(40, 320),
)
def test_depth_agrees_with_a_sample_of_the_body(lean, radius, holder, low, thick, outer):
    """The sample misses the very corner by its step, so it is up to 3 mm less deep and never deeper."""
    steps = ((20.0, holder), (80.0, holder), (80.0, 2 * holder), (120.0, 2 * holder))
    found = clash_beside_cone(steps, radius, 0.0, lean, low, low + thick, outer)
    rough = sampled(steps, radius, 0.0, lean, low, low + thick, outer)
    # Where the axis passes over the work axis the nearest point of the outline is the axis itself.
    assert rough <= found + 1e-6
    if rough > 0 and found < outer:
        assert rough == pytest.approx(found, abs=4.0)


def test_level_axis_beside_a_rim():
    """A holder of 60, level, 20 behind a tip at 100: a rim of 130 within 30 mm of the axis is hit."""
    steps = ((20.0, 60.0), (200.0, 60.0))
    assert clash_beside_cone(steps, 100.0, 0.0, 0.0, -50.0, -29.0, 130.0) == pytest.approx(10.0)
    assert clash_beside_cone(steps, 100.0, 0.0, 0.0, -50.0, -30.0, 130.0) == 0.0


def test_table_below_a_downward_axis():
    """Pointing 30 deg down, 200 long: its end is 100 + 26 below the tip; over an endless table 120 below."""
    steps = ((0.0, 60.0), (200.0, 60.0))
    assert clash_beside_cone(steps, 100.0, 0.0, -30.0, -math.inf, -120.0, 500.0) > 0
    assert clash_beside_cone(steps, 100.0, 0.0, -30.0, -math.inf, -126.0, 500.0) == 0.0


def test_a_lean_beyond_the_axis_is_refused():
    with pytest.raises(OutOfRange, match="lean is 95"):
        clash_beside_cone(((0.0, 10.0), (9.0, 10.0)), 100.0, 0.0, 95.0, 0.0, 1.0, 1.0)
