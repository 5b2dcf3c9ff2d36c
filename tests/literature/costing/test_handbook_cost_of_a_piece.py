"""Time and cost of a piece against worked examples of a handbook.

M. P. Groover, Fundamentals of Modern Manufacturing, economics of machining: a shaft of 100 mm diameter and
500 mm length is turned with feed 0.25 mm; handling 5.0 min, tool change 2.0 min, rate 30 $/h, 3 $ an edge,
Taylor C = 70 m/min, n = 0.125. All values from memory, tolerances those of the printed figures.
"""

from __future__ import annotations

import pytest

from sequencer.costing.times import batch_minutes
from sequencer.costing.tools import life_price
from sequencer.cutting import speeds, times

HANDLING, CHANGE, RATE, EDGE = 5.0, 2.0, 30.0, 3.0


@pytest.mark.parametrize(
    ("speed", "machining", "pieces", "total", "cost"),
    [(50.0, 12.57, 1, 19.57, 12.79), (42.0, 14.96, 3, 20.63, 11.32)],
)
def test_time_and_cost_of_a_turned_piece(
    speed: float, machining: float, pieces: int, total: float, cost: float
) -> None:
    """Tc = Th + Tm + Tt/np; Cc = Co Tc + Ct/np, with np whole pieces an edge."""
    rpm = speeds.spindle_rpm(100.0, speed)
    minutes = times.turning_time(500.0, 0.25, rpm, 0.0, 0.0, 1)
    assert minutes == pytest.approx(machining, abs=0.006)
    life = (70.0 / speed) ** (1 / 0.125)
    assert int(life / minutes) == pieces
    piece = HANDLING + minutes + CHANGE / pieces
    assert piece == pytest.approx(total, abs=0.006)
    money = piece * RATE / 60 + life_price(EDGE, 1, 0.0) / pieces
    assert money == pytest.approx(cost, abs=0.01)


def test_a_reground_tool_shares_its_price_over_its_lives() -> None:
    """Ct = Pt/np + Cg, the first life without a grinding (the handbook's structure, numbers made up)."""
    assert life_price(15.0, 16, 2.25) == pytest.approx((15.0 + 15 * 2.25) / 16)
    assert life_price(15.0, 1, 2.25) == pytest.approx(15.0)


def test_time_of_a_batch() -> None:
    """Tb = Tsu + Q Tc, M. P. Groover, Automation, Production Systems; numbers made up."""
    assert batch_minutes(150.0, 100, 3.0) / 100 == pytest.approx(4.5)
