"""A small shop with round numbers, and small parts, for the tests of operations."""

from __future__ import annotations

from functools import lru_cache
from typing import Any

from sequencer.operations import Alternative, Operation, OperationList
from sequencer.operations.clampings import fit_clampings
from sequencer.operations.context import Context
from sequencer.operations.standing import Standing
from sequencer.part import Part
from sequencer.part.section import make_section
from sequencer.shop import Shop

Json = dict[str, Any]

_ONE_MINUTE = (
    *("chip_to_chip", "heavy_tool_change", "manual_tool_change", "mode_change", "synchronise", "probe"),
    *("measure_tooth_system", "apex_check"),
)

MACHINE: Json = {
    "name": "Turn-mill",
    "table": {
        "load": "4 t",
        "swing": "1500 mm",
        "height": "1000 mm",
        "power": "50 kW",
        "torque": "8000 N m",
        "speed": "400 rpm",
        "synchronous_speed": "300 rpm",
        "speed_at_mass": [{"mass": "500 kg", "speed": "400 rpm"}, {"mass": "4 t", "speed": "200 rpm"}],
    },
    "spindle": {
        "speed": "8000 rpm",
        "power": "30 kW",
        "torque": "400 N m",
        "tilt_from": "-30 deg",
        "tilt_to": "120 deg",
        "reach_inside": "300 mm",
        "head_diameter": "300 mm",
    },
    "times": dict.fromkeys(_ONE_MINUTE, "1 min")
    | {
        "positioning": "0.1 min",
        "index": "0.05 min",
        "rapid": "20 m/min",
        "clamp": "30 min",
        "indicate": "10 min",
        "turn_over": "40 min",
        "release": "12 min",
        "wash": "5 min",
        "soak": "60 min",
        "receive": "20 min",
        "independent_check": "90 min",
    },
    "capability": {
        "linear": "5 um",
        "angular": "5 arcsec",
        "spindle_runout": "3 um",
        "reclamping": "10 um",
        "reclamping_tilt": "10 um",
    },
    "gear_methods": ["hobbing", "power skiving", "end-mill milling"],
}

MAGAZINE: Json = {
    "pockets": 60,
    "pitch": "130 mm",
    "diameter_full": "125 mm",
    "diameter_free": "280 mm",
    "length": "600 mm",
    "tool_mass": "30 kg",
    "heavy_from": "12 kg",
    "tilting_moment": "60 N m",
    "total_mass": "600 kg",
}

MEANS: list[Json] = [
    {
        "name": "hard_jaws",
        "hold": "outside jaws",
        "diameter_from": "100 mm",
        "diameter_to": "1200 mm",
        "height": "60 mm",
        "force": "180 kN",
        "finishing_force": "60 kN",
        "jaw_moment": "20 kg m",
        "mass": "150 kg",
        "risers": ["40 mm", "60 mm"],
    },
    {
        "name": "soft_jaws",
        "hold": "outside jaws",
        "diameter_from": "100 mm",
        "diameter_to": "1000 mm",
        "height": "50 mm",
        "soft": True,
        "force": "120 kN",
        "finishing_force": "60 kN",
        "jaw_moment": "20 kg m",
        "mass": "150 kg",
        "risers": ["40 mm", "60 mm"],
    },
    {
        "name": "inside_jaws",
        "hold": "inside jaws",
        "diameter_from": "80 mm",
        "diameter_to": "900 mm",
        "height": "50 mm",
        "soft": True,
        "force": "120 kN",
        "jaw_moment": "15 kg m",
        "mass": "150 kg",
        "risers": ["60 mm", "90 mm"],
    },
    {
        "name": "bolts",
        "hold": "bolts",
        "diameter_from": "100 mm",
        "diameter_to": "1000 mm",
        "soft": True,
        "force": "200 kN",
        "mass": "150 kg",
        "risers": ["60 mm", "90 mm"],
    },
]

_BODY = {
    "body_diameter": "60 mm",
    "functional_length": "200 mm",
    "overall_length": "280 mm",
    "mass": "5 kg",
}


def tool(name: str, kind: str, title: str, **keys: Any) -> Json:
    """Write a tool of the shop file."""
    return {"name": name, "kind": kind, "title": title, **_BODY, **keys}


def mill(name: str, diameter: int, reach: int, *use: str, body: int = 50) -> Json:
    """Write an end mill with four teeth."""
    keys = {"diameter": f"{diameter} mm", "teeth": 4, "reach": f"{reach} mm", "use": list(use)}
    return tool(name, "end mill", f"End mill {diameter}", body_diameter=f"{body} mm", **keys)


TOOLS: list[Json] = [
    tool("R1", "turning", "Rough turning", use=["outside", "face"], stage=["rough"], corner_radius="1.2 mm",
         depth="6 mm"),
    tool("F1", "turning", "Finish turning", use=["outside", "face"], stage=["finish"],
         corner_radius="0.8 mm", depth="2 mm"),
    tool("C1", "turning", "Hard turning", material="CBN", use=["outside", "face"], stage=["finish"],
         corner_radius="0.8 mm", depth="0.4 mm"),
    tool("B1", "turning", "Thin boring bar", use=["inside"], stage=["rough", "finish"],
         corner_radius="0.4 mm", depth="2 mm", least_bore="50 mm", reach="150 mm", body_diameter="40 mm"),
    tool("B2", "turning", "Thick boring bar", use=["inside", "face"], stage=["rough", "finish"],
         corner_radius="0.4 mm", depth="4 mm", least_bore="90 mm", reach="300 mm"),
    tool("C2", "turning", "Hard boring", material="CBN", use=["inside"], stage=["finish"],
         corner_radius="0.4 mm", depth="0.4 mm", least_bore="90 mm", reach="300 mm"),
    tool("G8", "grooving", "Blade 8", use=["outside"], width="8 mm", depth="40 mm"),
    tool("G3", "grooving", "Blade 3", use=["outside"], width="3 mm", depth="10 mm"),
    tool("GI", "grooving", "Inside blade 5", use=["inside"], width="5 mm", depth="15 mm", least_bore="80 mm",
         reach="250 mm"),
    tool("GF", "grooving", "Face blade 6", use=["face"], width="6 mm", depth="30 mm",
         face_diameter_from="100 mm", face_diameter_to="400 mm"),
    tool("TH", "threading", "Outside threading", use=["outside"], pitch_from="1 mm", pitch_to="4 mm"),
    tool("TI", "threading", "Inside threading", use=["inside"], pitch_from="1 mm", pitch_to="3 mm",
         least_bore="60 mm", reach="200 mm"),
    tool("D60", "drill", "Insert drill 60", diameter="60 mm", depth="250 mm", point_angle="180 deg"),
    tool("D17", "drill", "Drill 17.5", diameter="17.5 mm", depth="120 mm", body_diameter="50 mm"),
    tool("D14", "drill", "Drill 14", diameter="14 mm", depth="100 mm", body_diameter="50 mm"),
    tool("M20", "tap", "Tap M20", material="HSS", diameter="20 mm", pitch="2.5 mm", depth="60 mm",
         body_diameter="50 mm"),
    tool("A12", "reamer", "Reamer 12 H7", diameter="12 mm", depth="80 mm", grade=7, body_diameter="50 mm"),
    tool("K26", "counterbore", "Counterbore 26", diameter="26 mm", depth="40 mm", body_diameter="50 mm"),
    mill("E6", 6, 25, "milling"),
    mill("E10", 10, 50, "milling", "thread"),
    mill("E20", 20, 90, "milling"),
    mill("E40", 40, 120, "milling", "turn-milling"),
    tool("CM", "chamfer mill", "Chamfer mill 16", diameter="16 mm", teeth=4, reach="60 mm"),
    tool("S20", "slotting", "Slotting bar 20", material="HSS", width="20 mm", least_bore="80 mm",
         reach="250 mm"),
    tool("N1", "engraving", "Engraving mill", body_diameter="50 mm"),
    tool("P1", "probe", "Touch probe", material="none", ball_diameter="6 mm", reach="100 mm",
         body_diameter="50 mm"),
    tool("W1", "nozzle", "Wash nozzle", material="none", body_diameter="50 mm"),
]  # fmt: skip


def row(
    method: str,
    stage: str,
    speed: int,
    feed: float,
    depth: float | None = None,
    material: str = "carbide",
    group: str = "steel",
) -> Json:
    """Write a row of the table of conditions."""
    made: Json = {
        "method": method,
        "tool_material": material,
        "group": group,
        "stage": stage,
        "cutting_speed": f"{speed} m/min",
        "feed": f"{feed} mm",
    }
    return made | ({"depth": f"{depth} mm"} if depth is not None else {})


CONDITIONS: list[Json] = [
    made
    for group in ("steel", "case-hardening steel")
    for made in (
        row("turning", "rough", 200, 0.4, 4, group=group),
        row("turning", "finish", 250, 0.2, 0.5, group=group),
        row("turning", "finish", 150, 0.1, 0.25, "CBN", group),
        row("boring", "rough", 160, 0.25, 2, group=group),
        row("boring", "finish", 200, 0.15, 0.5, group=group),
        row("grooving", "rough", 120, 0.2, group=group),
        row("grooving", "finish", 150, 0.1, group=group),
        row("threading", "finish", 120, 1, 0.2, group=group),
        row("thread milling", "finish", 120, 0.08, group=group),
        row("drilling", "rough", 80, 0.2, group=group),
        row("tapping", "finish", 12, 1, material="HSS", group=group),
        row("reaming", "finish", 50, 0.5, group=group),
        row("counterboring", "finish", 100, 0.15, group=group),
        row("milling", "rough", 150, 0.1, 2, group=group),
        row("turn-milling", "rough", 160, 0.15, 3, group=group),
        row("turn-milling", "finish", 160, 0.1, 1, group=group),
        row("slotting", "finish", 12, 0.1, material="HSS", group=group),
        row("engraving", "finish", 80, 0.03, group=group),
        row("chamfering", "finish", 150, 0.1, group=group),
    )
]

SHOP: Json = {
    "name": "Test shop",
    "machine": MACHINE,
    "magazine": MAGAZINE,
    "clamping_means": MEANS,
    "tools": TOOLS,
    "materials": [
        {"name": "C45", "group": "steel", "kc11": "1600 MPa", "mc": 0.25},
        {"name": "18CrNiMo7-6", "group": "case-hardening steel", "kc11": "1600 MPa", "mc": 0.25},
    ],
    "conditions": CONDITIONS,
    "rates": {"machine_hour": 100, "setup_hour": 70, "inspection_hour": 60},
}


@lru_cache
def small_shop() -> Shop:
    """Give the small shop."""
    return Shop.model_validate(SHOP)


def shop_with(**changes: Any) -> Shop:
    """Give the small shop with changed keys; a dotted key such as machine__table__power goes down."""
    plain = small_shop().model_dump(by_alias=True, mode="json")
    for key, value in changes.items():
        *path, last = key.split("__")
        place = plain
        for step in path:
            place = place[step]
        place[last] = value
    return Shop.model_validate(plain)


RING: Json = {"form": "ring", "diameter": "400 mm", "bore": "100 mm", "z_from": "-3 mm", "z_to": "203 mm"}
FROM_BELOW: Json = {
    "name": "I",
    "up": "lower",
    "hold": "outside jaws",
    "on": "blank",
    "rests_on": "blank",
    "z_from": "160 mm",
    "z_to": "203 mm",
}
FROM_ABOVE: Json = {
    "name": "II",
    "up": "upper",
    "hold": "inside jaws",
    "on": "bore",
    "rests_on": "lower_face",
    "z_from": "0 mm",
    "z_to": "40 mm",
    "riser": "60 mm",
}

LOWER: Json = {"name": "lower_face", "kind": "face", "side": "lower", "z": "0 mm"}
UPPER: Json = {"name": "upper_face", "kind": "face", "side": "upper", "z": "200 mm"}


def zone(name: str, kind: str, z_from: float, z_to: float, **keys: Any) -> Json:
    """Write a feature that spans a length."""
    return {"name": name, "kind": kind, "z_from": f"{z_from} mm", "z_to": f"{z_to} mm", **keys}


def bore(z_from: float = 0, z_to: float = 200, diameter: float = 120, **keys: Any) -> Json:
    """Write a bore called bore."""
    return zone("bore", "bore", z_from, z_to, diameter=f"{diameter} mm", **keys)


def outside(name: str, z_from: float, z_to: float, diameter: float, **keys: Any) -> Json:
    """Write a turned diameter."""
    return zone(name, "turned_diameter", z_from, z_to, diameter=f"{diameter} mm", **keys)


def part(*features: Json, **keys: Any) -> Part:
    """Make a part of 400 mm outside and 200 mm height held in I and II, with changed keys."""
    written: Json = {
        "name": "Test part",
        "drawing": "T-1",
        "material": "C45",
        "blank": RING,
        "features": list(features),
        "clampings": [FROM_BELOW, FROM_ABOVE],
        **keys,
    }
    return Part.model_validate(written)


def plain_ring(*more: Json, **keys: Any) -> Part:
    """Make a ring with faces, bore 120 and rim 390, and more features."""
    return part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390), *more, **keys)


def context_of(made: Part, shop: Shop | None = None) -> Context:
    """Give the context of a part on a shop."""
    floor = shop if shop is not None else small_shop()
    section = make_section(made)
    return Context(made, floor, section, fit_clampings(made, floor, section)[0])


def standing_of(made: Part, clamping: str, shop: Shop | None = None) -> Standing:
    """Give a part as it stands in one of its clampings."""
    held = next(each for each in made.clampings if each.name == clamping)
    return Standing(made, shop if shop is not None else small_shop(), make_section(made), held)


def way(operation: Operation, tool_name: str, clamping: str) -> Alternative:
    """Give the alternative with a tool in a clamping."""
    found = [a for a in operation.alternatives if (a.tool, a.clamping) == (tool_name, clamping)]
    assert found, f"{operation.name} has no {tool_name} in {clamping}: {operation.alternatives}"
    return found[0]


def sentence_of(operation: Operation, tool_name: str, clamping: str | None = None) -> str:
    """Give the sentence and remedy that reject a tool."""
    found = [
        f"{r.sentence} -> {r.remedy}"
        for r in operation.rejected
        if r.tool == tool_name and clamping in (None, r.clamping)
    ]
    assert found, f"{operation.name} does not reject {tool_name}: {operation.rejected}"
    return found[0]


def fact(alternative: Alternative, name: str) -> float:
    """Give the value of a fact."""
    return next(each.value for each in alternative.facts if each.name == name)


def formula(alternative: Alternative, name: str) -> str:
    """Give the formula of a fact."""
    return next(each.formula for each in alternative.facts if each.name == name)


def named(listed: OperationList | tuple[Operation, ...], name: str) -> Operation:
    """Give an operation by its name."""
    operations = listed.operations if isinstance(listed, OperationList) else listed
    return next(operation for operation in operations if operation.name == name)
