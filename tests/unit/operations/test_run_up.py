"""The table's run-up and braking stand in the time of every cut that turns it."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from sequencer.files import read_part_and_shop
from sequencer.operations import Mode, make_operations
from sequencer.operations.grip import table_rpm

PARTS = Path(__file__).parents[3] / "parts"


def test_turning_holds_the_run_up_of_the_table_and_milling_does_not() -> None:
    """J w/M up to the knee P/M, beyond it J (w^2 - wk^2)/(2 P), twice (physics)."""
    part, shop = read_part_and_shop(PARTS / "bridge_wheel.yaml", PARTS / "shop.yaml")
    made = make_operations(part, shop)
    torque, power = float(shop.machine.table.torque), 1000 * float(shop.machine.table.power)
    seen = 0
    for operation in made.operations:
        for way in operation.alternatives:
            facts = [fact for fact in way.facts if fact.name == "run-up and braking of the table"]
            turns = table_rpm(way) if way.clamping in made.clamping_by_name else 0.0
            assert len(facts) == (turns > 0)
            if not facts:
                continue
            inertia = made.clamping_by_name[way.clamping].inertia
            speed = 2 * math.pi * turns / 60
            knee = min(speed, power / torque)
            seconds = inertia * knee / torque + inertia * (speed**2 - knee**2) / (2 * power)
            assert facts[0].value == pytest.approx(2 * seconds / 60)
            assert way.minutes > facts[0].value
            seen += way.mode is Mode.TURNING
    assert seen > 20
