"""Invented wheels and a small shop on which the methods of tooth cutting are tried."""

from __future__ import annotations

from typing import Any

from sequencer.operations.context import Context
from sequencer.operations.operation import Alternative, FittedClamping, Operation, Reach, Rejection
from sequencer.operations.teeth import tooth_operations
from sequencer.operations.teeth.methods import Verdicts, try_all
from sequencer.operations.teeth.share import Aim, Share
from sequencer.operations.teeth.zone import Teeth, teeth_of
from sequencer.part import Clamping, Part
from sequencer.part.section import make_section
from sequencer.shop import ClampingMeans, Shop

STEEL = "42CrMo4+QT"
BODY: dict[str, Any] = {
    "functional_length": "230 mm",
    "overall_length": "320 mm",
    "mass": "9 kg",
    "price": 1000,
}

HOB: dict[str, Any] = {
    "kind": "hob",
    "title": "hob",
    "material": "HSS-PM",
    "module": "8 mm",
    "outside_diameter": "140 mm",
    "length": "160 mm",
    "gashes": 12,
    "hand": "right",
    "quality": "AA",
    "body_diameter": "140 mm",
    "life_length": "200 m",
}
SKIVER: dict[str, Any] = {
    "kind": "skiving cutter",
    "title": "skiving cutter",
    "material": "carbide",
    "module": "8 mm",
    "teeth": 27,
    "outside_diameter": "236 mm",
    "thickness": "30 mm",
    "neck_diameter": "140 mm",
    "neck_length": "90 mm",
    "holder_diameter": "100 mm",
    "made_for": "external",
    "body_diameter": "236 mm",
    "life_length": "200 m",
}
DISC: dict[str, Any] = {
    "kind": "disc cutter",
    "title": "disc cutter",
    "module": "8 mm",
    "outside_diameter": "200 mm",
    "width": "26 mm",
    "teeth": 14,
    "stage": ["rough", "finish"],
    "body_diameter": "200 mm",
}
MILL: dict[str, Any] = {
    "kind": "end mill",
    "title": "end mill",
    "diameter": "4 mm",
    "teeth": 3,
    "corner_radius": "0.4 mm",
    "reach": "20 mm",
    "body_diameter": "30 mm",
    "life": "60 min",
    "owned": 3,
}
CHAMFER_MILL: dict[str, Any] = {
    "kind": "chamfer mill",
    "title": "chamfer mill",
    "diameter": "16 mm",
    "teeth": 4,
    "reach": "60 mm",
    "body_diameter": "50 mm",
}
PROBE: dict[str, Any] = {
    "kind": "probe",
    "title": "probe",
    "material": "none",
    "form": "scanning",
    "ball_diameter": "3 mm",
    "reach": "200 mm",
    "body_diameter": "60 mm",
}


def tool(name: str, base: dict[str, Any], **changes: Any) -> dict[str, Any]:
    """Describe a tool of the shop."""
    return {"name": name, **BODY, **base, **changes}


_SPEEDS = {
    ("hobbing", "HSS-PM"): ("90 m/min", "3 mm", None),
    ("power skiving", "carbide"): ("100 m/min", "0.3 mm", "1.2 mm"),
    ("power skiving", "CBN"): ("100 m/min", "0.08 mm", "0.05 mm"),
    ("power skiving", "HSS-PM"): ("50 m/min", "0.25 mm", "1.2 mm"),
    ("disc milling", "carbide"): ("130 m/min", "0.1 mm", None),
    ("end-mill milling", "carbide"): ("150 m/min", "0.1 mm", "2 mm"),
    ("chamfering", "carbide"): ("140 m/min", "0.1 mm", None),
}


def conditions(group: str = "quenched and tempered steel") -> list[dict[str, Any]]:
    """Give starting values of all methods."""
    rows = []
    for (method, material), (speed, feed, depth) in _SPEEDS.items():
        for stage in ("rough", "finish"):
            row: dict[str, Any] = {
                "method": method,
                "tool_material": material,
                "group": group,
                "stage": stage,
                "cutting_speed": speed,
                "feed": feed,
            }
            rows.append(row | ({"depth": depth} if depth else {}))
    return rows


_TIMES = (
    *("chip_to_chip", "heavy_tool_change", "manual_tool_change", "mode_change", "positioning", "clamp"),
    *("indicate", "turn_over", "release", "probe", "wash", "soak", "receive", "independent_check"),
)


def shop(*tools: dict[str, Any], **changes: Any) -> Shop:
    """Make a shop with these tools; `table`, `spindle`, `machine` and `limits` change parts of it."""
    times: dict[str, str] = dict.fromkeys(_TIMES, "1 min")
    table = {
        "load": "5 t",
        "swing": "1600 mm",
        "diameter": "1200 mm",
        "height": "1200 mm",
        "power": "55 kW",
        "torque": "9000 N m",
        "speed": "400 rpm",
        "synchronous_speed": "320 rpm",
    }
    spindle = {
        "speed": "8000 rpm",
        "power": "37 kW",
        "torque": "1500 N m",
        "tilt_from": "-30 deg",
        "tilt_to": "120 deg",
        "reach_inside": "420 mm",
        "head_diameter": "200 mm",
        "nose_diameter": "130 mm",
        "nose_length": "300 mm",
    }
    machine = {
        "name": "Turn-mill 1",
        "table": table | changes.get("table", {}),
        "spindle": spindle | changes.get("spindle", {}),
        "times": times
        | {
            "rapid": "24 m/min",
            "index": "3 s",
            "synchronise": "1 min",
            "measure_tooth_system": "12 min",
            "apex_check": "6 min",
        },
        "capability": {
            "linear": "6 um",
            "angular": "10 arcsec",
            "spindle_runout": "3 um",
            "reclamping": "10 um",
            "reclamping_tilt": "12 um",
        },
        "gear_methods": ["hobbing", "power skiving", "disc milling", "end-mill milling"],
    }
    return Shop.model_validate(
        {
            "name": "A shop",
            "machine": machine | changes.get("machine", {}),
            "magazine": {
                "pockets": 40,
                "pitch": "130 mm",
                "diameter_full": "125 mm",
                "diameter_free": "280 mm",
                "length": "500 mm",
                "tool_mass": "28 kg",
                "heavy_from": "12 kg",
                "tilting_moment": "55 N m",
                "total_mass": "600 kg",
            },
            "clamping_means": [
                {
                    "name": "risers",
                    "hold": "bolts",
                    "diameter_from": "100 mm",
                    "diameter_to": "1400 mm",
                    "force": "200 kN",
                    "mass": "150 kg",
                    "risers": ["60 mm", "90 mm", "120 mm"],
                }
            ],
            "tools": list(tools) or [tool("P1", PROBE)],
            "materials": [
                {"name": STEEL, "group": "quenched and tempered steel", "kc11": "2000 MPa", "mc": 0.25},
                {"name": "18CrNiMo7-6", "group": "case-hardening steel", "kc11": "1900 MPa", "mc": 0.25},
                {"name": "CuSn12", "group": "bronze", "kc11": "780 MPa", "mc": 0.17},
            ],
            "conditions": conditions() + conditions("case-hardening steel"),
            "rates": {"machine_hour": 130, "setup_hour": 80, "inspection_hour": 75},
            "limits": changes.get("limits", {}),
        }
    )


def part(*features: dict[str, Any], height: float = 330, outside: float = 920, **changes: Any) -> Part:
    """Make a part from 0 to a height with its two faces."""
    faces = [
        {"name": "lower_face", "kind": "face", "side": "lower", "z": "0 mm"},
        {"name": "upper_face", "kind": "face", "side": "upper", "z": f"{height} mm"},
    ]
    given: dict[str, Any] = {
        "name": "Wheel",
        "drawing": "W-1",
        "material": STEEL,
        "blank": {
            "form": "forging",
            "diameter": f"{outside} mm",
            "bore": "100 mm",
            "z_from": "-5 mm",
            "z_to": f"{height + 5} mm",
        },
        "features": [*faces, *features],
    }
    return Part.model_validate(given | changes)


FLANKS = {"year": 2013, "class": 7}


def double_wheel(gap: float = 90, below: float = 0, **changes: Any) -> Part:
    """Make a double-helical wheel mn 8, z 104, 20 deg, 2 x 120 wide, with an apex groove."""
    middle, end = below + 120, below + 240 + gap
    wheel: dict[str, Any] = {
        "name": "wheel",
        "kind": "double_helical_gear",
        "teeth": 104,
        "module": "8 mm",
        "helix_angle": "20 deg",
        "lower": {"z_from": f"{below} mm", "z_to": f"{middle} mm", "hand": "left"},
        "upper": {"z_from": f"{middle + gap} mm", "z_to": f"{end} mm", "hand": "right"},
        "apex_tolerance": "0.05 mm",
        "flank_class": FLANKS,
    }
    groove = {
        "name": "apex",
        "kind": "apex_groove",
        "gear": "wheel",
        "z_from": f"{middle} mm",
        "z_to": f"{middle + gap} mm",
        "diameter": "860 mm",
    }
    return part(wheel | changes, groove, height=end)


def spur(
    module: str = "6 mm", teeth: int = 80, groove: float = 25, shoulder: float = 600, **changes: Any
) -> Part:
    """Make a spur gear whose lower end looks to a larger shoulder across a groove."""
    gear: dict[str, Any] = {
        "name": "pinion",
        "kind": "external_gear",
        "teeth": teeth,
        "module": module,
        "z_from": f"{100 + groove} mm",
        "z_to": f"{170 + groove} mm",
        "flank_class": FLANKS,
    }
    rim = {
        "name": "rim",
        "kind": "turned_diameter",
        "diameter": f"{shoulder} mm",
        "z_from": "0 mm",
        "z_to": "100 mm",
    }
    run_out = {
        "name": "groove",
        "kind": "run_out_groove",
        "gear": "pinion",
        "z_from": "100 mm",
        "z_to": f"{100 + groove} mm",
        "diameter": "200 mm",
    }
    whole = {key: changes.pop(key) for key in _PART_KEYS if key in changes}
    return part(rim, run_out, gear | changes, height=170 + groove, outside=700, **whole)


_PART_KEYS = ("material", "heat_treatment", "due", "order_date", "lot")


def ring(
    teeth: int = 100, module: str = "4 mm", groove: float = 30, floor: float = 0, **changes: Any
) -> Part:
    """Make an internal gear over a groove; below the groove a bore of the diameter `floor`, or solid."""
    gear: dict[str, Any] = {
        "name": "ring",
        "kind": "internal_gear",
        "teeth": teeth,
        "module": module,
        "z_from": "120 mm",
        "z_to": "180 mm",
        "flank_class": FLANKS,
    }
    run_out = {
        "name": "groove",
        "kind": "run_out_groove",
        "gear": "ring",
        "place": "inside",
        "z_from": f"{120 - groove} mm",
        "z_to": "120 mm",
        "diameter": "430 mm",
    }
    lower = [
        {
            "name": "lower_bore",
            "kind": "bore",
            "diameter": f"{floor} mm",
            "z_from": "0 mm",
            "z_to": f"{120 - groove} mm",
        }
    ]
    blank = {
        "form": "ring",
        "diameter": "600 mm",
        "bore": f"{min(floor, 300)} mm",
        "z_from": "-5 mm",
        "z_to": "185 mm",
    }
    return part(*(lower if floor else []), gear | changes, run_out, height=180, blank=blank)


def fitted(
    made: Part, riser: float = 120, speed: float = 240, up: str = "upper", **held: Any
) -> FittedClamping:
    """Hold a part on risers with everything within reach; jaws where `hold`, `on` and a band are given."""
    clamping = {
        "name": "II",
        "up": up,
        "hold": "bolts",
        "on": "blank",
        "rests_on": "lower_face" if up == "upper" else "upper_face",
        "riser": f"{riser} mm",
    }
    means = ClampingMeans.model_validate(
        {
            "name": "risers",
            "hold": "bolts",
            "diameter_from": "100 mm",
            "diameter_to": "1400 mm",
            "force": "200 kN",
            "mass": "150 kg",
            "risers": ["60 mm", "90 mm", "120 mm"],
        }
    )
    reach = tuple(Reach(feature.name, True, "free") for feature in made.features)
    return FittedClamping(
        Clamping.model_validate(clamping | held), means, reach, False, speed, f"table {speed} rpm", 950.0
    )


def context(made: Part, floor: Shop, *clampings: FittedClamping) -> Context:
    """Put part, shop and clampings together."""
    return Context(made, floor, make_section(made), clampings or (fitted(made),))


def teeth(made: Part, name: str, half: str = "") -> Teeth:
    """Give the teeth of a feature, or of one half of it."""
    runs = teeth_of(make_section(made), made.by_name[name])  # type: ignore[arg-type]
    return next(run for run in runs if run.half == half)


def tried(
    made: Part, floor: Shop, name: str, half: str = "", share: Share = Share.WHOLE, **held: Any
) -> Verdicts:
    """Try all methods on some teeth in one clamping."""
    clamping = fitted(made, **held)
    aim = Aim(share, stock=0.3 if share is Share.ROUGH else 0.0, runs=2 if half else 1)
    return try_all(context(made, floor, clamping), teeth(made, name, half), (clamping,), aim)


def only(ways: tuple[Alternative, ...]) -> Alternative:
    """Give the one way there is."""
    assert len(ways) == 1, [way.reason for way in ways]
    return ways[0]


def refusal(verdicts: Verdicts, tool_name: str) -> Rejection:
    """Give the rejection of a tool."""
    assert not any(way.tool == tool_name for way in verdicts.alternatives)
    return next(way for way in verdicts.rejected if way.tool == tool_name)


def fact(way: Alternative | Rejection, name: str) -> float:
    """Give the value of a fact."""
    return next(one.value for one in way.facts if one.name == name)


def operations(made: Part, floor: Shop, name: str, **held: Any) -> dict[str, Operation]:
    """Give the operations of a feature by the word of their name."""
    listed = tooth_operations(context(made, floor, fitted(made, **held)), made.by_name[name])  # type: ignore[arg-type]
    return {operation.name.split("/")[1]: operation for operation in listed}
