"""Parts with tolerances between surfaces, on the example shop; all invented."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from sequencer.files import read_part_and_shop
from sequencer.operations.context import Context
from sequencer.part import Part
from sequencer.part.section import make_section
from sequencer.shop import Shop
from sequencer.tolerancing import Kind, TolerancedRelation, relations_of

PARTS = Path(__file__).parents[3] / "parts"


@cache
def example_shop() -> Shop:
    """Read the example shop."""
    return read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")[1]


def cylinder(
    name: str, kind: str, z_from: float, z_to: float, diameter: float, **keys: Any
) -> dict[str, Any]:
    """Describe a cylinder."""
    ends = {"z_from": f"{z_from} mm", "z_to": f"{z_to} mm", "diameter": f"{diameter} mm"}
    return {"name": name, "kind": kind} | ends | keys


def face(name: str, side: str, z: float, **keys: Any) -> dict[str, Any]:
    """Describe a face."""
    return {"name": name, "kind": "face", "side": side, "z": f"{z} mm"} | keys


def tolerance(characteristic: str, value: float, *to: str) -> dict[str, Any]:
    """Describe a geometric tolerance, its value in mm."""
    return {"characteristic": characteristic, "value": f"{value} mm", "to": list(to)}


def guide_ring(runout: float, *, third: bool = True, **keys: Any) -> Part:
    """Make a ring with a seat below and one above; only clamping III reaches both.

    Clamping I grips the raw blank and reaches the lower seat, II grips the foot and reaches the upper one.
    By hand: two clampings without a tolerance between the seats, three if both must be turned in III, since
    III grips the pocket, which only II reaches, and II grips the foot, which only I (or III) reaches.
    """
    jaws = {"hold": "outside jaws"}
    clampings = [
        {"name": "I", "up": "lower", "on": "blank", "rests_on": "blank", "z_from": "74 mm", "z_to": "124 mm"}
        | jaws,
        {
            "name": "II",
            "up": "upper",
            "on": "foot",
            "rests_on": "lower_face",
            "z_from": "0 mm",
            "z_to": "28 mm",
        }
        | jaws,
    ]
    if third:
        inside = {"hold": "inside jaws", "on": "pocket", "rests_on": "upper_face"}
        clampings.append({"name": "III", "up": "lower", "z_from": "75 mm", "z_to": "120 mm"} | inside)
    features = [
        face("lower_face", "lower", 0),
        cylinder("foot", "turned_diameter", 0, 30, 280),
        cylinder("lower_seat", "turned_diameter", 30, 60, 300, tolerance="h7"),
        face("step_face", "lower", 60),
        cylinder("upper_seat", "turned_diameter", 60, 120, 400, tolerance="h7",
                 geometric=[tolerance("runout", runout, "A")]),
        face("upper_face", "upper", 120),
        cylinder("bore", "bore", 0, 60, 120),
        cylinder("pocket", "bore", 60, 120, 250),
    ]  # fmt: skip
    blank = {"form": "bar", "diameter": "410 mm", "bore": "100 mm", "z_from": "-4 mm", "z_to": "124 mm"}
    usual = {"name": "Guide ring", "drawing": "GR-3301", "material": "C45+N", "blank": blank}
    return Part.model_validate(
        usual | {"datums": {"A": "lower_seat"}, "features": features, "clampings": clampings} | keys
    )


def context_of(part: Part, shop: Shop | None = None) -> Context:
    """Give what tolerances need of a part on a shop."""
    return Context(part, shop or example_shop(), make_section(part), ())


def shipped(name: str) -> Context:
    """Give the context of a shipped part."""
    return context_of(read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml")[0])


def relation_of(context: Context, feature: str, kind: Kind, half: str = "") -> TolerancedRelation:
    """Find one relation."""
    found = [r for r in relations_of(context) if (r.feature, r.kind, r.half) == (feature, kind, half)]
    assert len(found) == 1, [r.words for r in relations_of(context)]
    return found[0]
