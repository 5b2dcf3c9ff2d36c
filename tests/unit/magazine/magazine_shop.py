"""A shop with only what the magazine needs to know, an order, and an independent checker of pocket plans."""

from __future__ import annotations

import math

from sequencer.magazine import Pocket
from sequencer.operations import Action, Alternative, Fact, Mode, Operation, Stage
from sequencer.sequencing import Sequence, Step
from sequencer.shop import Limits, Magazine, Rates, Shop
from sequencer.shop.machine import Times
from sequencer.shop.tools import CounterboreTool
from sequencer.units import parse


def tool(name, diameter=60.0, mass=3.0, length=250.0, **more):
    return {
        "name": name,
        "kind": "counterbore",
        "title": f"Tool {name}",
        "diameter": "20 mm",
        "depth": "40 mm",
        "body_diameter": f"{diameter} mm",
        "functional_length": "180 mm",
        "overall_length": f"{length} mm",
        "mass": f"{mass} kg",
        **more,
    }


def magazine(**more):
    return {
        "pockets": 10,
        "pitch": "130 mm",
        "diameter_full": "125 mm",
        "diameter_free": "280 mm",
        "length": "500 mm",
        "tool_mass": "25 kg",
        "heavy_from": "12 kg",
        "tilting_moment": "40 N m",
        "total_mass": "300 kg",
        **more,
    }


class _Machine:
    """A machine that knows only how long a tool change takes."""

    def __init__(self) -> None:
        minutes = {name: parse("1 min", "time") for name in Times.model_fields}
        minutes |= {"chip_to_chip": parse("15 s", "time"), "heavy_tool_change": parse("30 s", "time")}
        minutes |= {"manual_tool_change": parse("6 min", "time")}
        self.times = Times.model_construct(**minutes)


def shop(tools, **more) -> Shop:
    """A shop with only what the magazine needs to know."""
    return Shop.model_construct(
        tools=tuple(CounterboreTool.model_validate(each) for each in tools),
        magazine=Magazine.model_validate(magazine(**more)),
        limits=Limits(),
        machine=_Machine(),
        rates=Rates(machine_hour=120.0, setup_hour=80.0, inspection_hour=70.0),
    )


def sequence(*uses, teeth=()) -> Sequence:
    """An order that only says which tool cuts how long, in which visit; `teeth` finish gears."""
    steps = []
    for index, (name, minutes, *visit) in enumerate(uses):
        where = visit[0] if visit else 1
        way = Alternative("counterboring", name, "I" * where, Mode.MILLING, minutes)
        operation = Operation(f"f{index}/finish", f"f{index}", Stage.FINISH, Action.COUNTERBORE, "", (way,))
        steps.append(Step(10 * (index + 1), operation, way, where, 0.0, (), ()))
    for feature, name, minutes, metres, stage in teeth:
        facts = (Fact("length of teeth cut", metres, "m"),) if metres else ()
        way = Alternative("hobbing", name, "I", Mode.GEAR, minutes, facts)
        word = f"{feature}/{stage}{len(steps)}"
        operation = Operation(word, feature, stage, Action.CUT_TEETH, "", (way,))
        steps.append(Step(10 * (len(steps) + 1), operation, way, 1, 0.0, (), ()))
    return Sequence(tuple(steps), "", (), True, "", (), ())


def chord(steps: int, limits: Magazine) -> float:
    """Distance of two pockets of a ring, worked out from corners of a polygon or from two strands."""
    pitch = float(limits.pitch)
    if limits.form == "drum":
        turn = 2 * math.pi / limits.pockets
        radius = pitch / 2 / math.sin(math.pi / limits.pockets)
        return math.dist((radius, 0.0), (radius * math.cos(steps * turn), radius * math.sin(steps * turn)))
    return steps * pitch


def clashes(pockets: tuple[Pocket, ...], house: Shop) -> list[str]:
    """What is wrong with a pocket plan, pair by pair, from positions alone."""
    limits, known, wrong = house.magazine, house.tool_by_name, []
    count = len(pockets)
    columns = -(-count // limits.rows)
    filled = [pocket for pocket in pockets if pocket.tool]
    for at, one in enumerate(filled):
        for other in filled[at + 1 :]:
            first, second = known[one.tool], known[other.tool]
            apart = other.number - one.number
            if limits.form == "rack":
                here, there = divmod(one.number - 1, columns), divmod(other.number - 1, columns)
                up = (there[0] - here[0]) * float(limits.row_pitch or 0)
                distance = math.hypot(up, (there[1] - here[1]) * float(limits.pitch))
                beside = here[0] == there[0] and abs(here[1] - there[1]) == 1
            else:
                steps = min(apart, count - apart)
                distance, beside = chord(steps, limits), steps == 1
            need = first.body_diameter / 2 + second.body_diameter / 2 + limits.clearance
            if distance < need - 1e-6:
                wrong.append(f"{one.number} and {other.number}: {distance:.1f} < {need:.1f}")
            if beside and max(first.body_diameter, second.body_diameter) > limits.diameter_full:
                wrong.append(f"{one.number} and {other.number}: a wide tool beside another")
    for narrow in limits.narrow_pockets:
        for pocket in filled:
            if pocket.number == narrow.pocket and known[pocket.tool].body_diameter > narrow.diameter:
                wrong.append(f"pocket {narrow.pocket} is too narrow")
    return wrong
