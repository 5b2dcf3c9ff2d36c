"""A small invented shop for the sheets."""

from __future__ import annotations

from typing import Any

from sequencer.shop import Shop

_BODY = {"body_diameter": "60 mm", "functional_length": "180 mm", "overall_length": "260 mm", "mass": "6 kg"}


def _tool(name: str, kind: str, title: str, **more: Any) -> dict[str, Any]:
    return {"name": name, "kind": kind, "title": title, **_BODY, **more}


TOOLS = [
    _tool("T01", "turning", "Rough turning, 80 deg insert", use=["outside", "face"], stage=["rough"],
          corner_radius="1.6 mm", depth="8 mm", life="18 min", owned=3, price=180.0),
    _tool("T02", "turning", "Finish turning, 55 deg insert", use=["outside", "face"], stage=["finish"],
          corner_radius="0.8 mm", depth="3 mm", life="25 min", owned=2, price=180.0),
    _tool("T03", "turning", "Boring bar, bores from 80", use=["inside"], stage=["rough", "finish"],
          corner_radius="0.8 mm", depth="5 mm", least_bore="80 mm", reach="400 mm", life="18 min"),
    _tool("T08", "grooving", "Grooving blade 8 wide, outside", use=["outside"], width="8 mm", depth="60 mm",
          life="15 min", owned=2),
    _tool("T15", "drill", "Carbide drill 17.5", diameter="17.5 mm", depth="130 mm", life="25 min"),
    _tool("T26", "tap", "Tap M20", diameter="20 mm", pitch="2.5 mm", depth="70 mm", material="HSS-PM"),
    _tool("T41", "hob", "Hob module 7, one start, right hand", module="7 mm", outside_diameter="130 mm",
          length="160 mm", gashes=12, hand="right", material="HSS-PM", life_length="18 m",
          lead_time="60 d", price=1450.0, body_diameter="130 mm", mass="17.5 kg"),
    _tool("T42", "hob", "Hob module 7, one start, left hand", module="7 mm", outside_diameter="130 mm",
          length="160 mm", gashes=12, hand="left", material="HSS-PM", life_length="18 m", owned=0,
          lead_time="60 d", price=1450.0, body_diameter="130 mm", mass="17.5 kg"),
    _tool("T45", "skiving cutter", "Skiving cutter module 5, 36 teeth", module="5 mm", teeth=36,
          outside_diameter="190 mm", thickness="25 mm", neck_diameter="90 mm", neck_length="60 mm",
          holder_diameter="110 mm", made_for="external", body_diameter="190 mm", mass="14 kg"),
    _tool("T50", "end mill", "End mill 16 for teeth", diameter="16 mm", teeth=4, reach="60 mm"),
    _tool("T55", "chamfer mill", "Chamfer mill for tooth ends", diameter="12 mm", teeth=4, reach="60 mm"),
    _tool("T57", "slotting", "Slotting blade 36", width="36 mm", least_bore="120 mm", reach="300 mm"),
    _tool("T63", "probe", "Touch probe", ball_diameter="6 mm", reach="200 mm", material="none"),
    _tool("T64", "nozzle", "Wash nozzle", material="none"),
]  # fmt: skip


def example_shop() -> Shop:
    """The shop of the example plan."""
    minute = {"chip_to_chip": "15 s", "heavy_tool_change": "30 s", "manual_tool_change": "6 min",
              "mode_change": "20 s", "positioning": "5 s", "rapid": "24 m/min", "index": "3 s",
              "synchronise": "1 min", "clamp": "35 min", "indicate": "15 min", "turn_over": "45 min",
              "release": "12 min", "probe": "1 min", "measure_tooth_system": "12 min",
              "apex_check": "6 min", "wash": "4 min", "soak": "60 min", "receive": "20 min",
              "independent_check": "90 min"}  # fmt: skip
    table = {"load": "5 t", "swing": "1600 mm", "height": "1150 mm", "power": "55 kW",
             "torque": "9000 N m", "speed": "400 rpm", "synchronous_speed": "320 rpm"}  # fmt: skip
    spindle = {"speed": "8000 rpm", "power": "37 kW", "torque": "420 N m", "tilt_from": "-30 deg",
               "tilt_to": "120 deg", "reach_inside": "420 mm", "head_diameter": "380 mm"}  # fmt: skip
    capability = {"linear": "6 um", "angular": "6 arcsec", "spindle_runout": "3 um",
                  "reclamping": "10 um", "reclamping_tilt": "12 um"}  # fmt: skip
    magazine = {"pockets": 30, "pitch": "130 mm", "diameter_full": "125 mm", "diameter_free": "280 mm",
                "length": "560 mm", "tool_mass": "28 kg", "heavy_from": "12 kg",
                "tilting_moment": "55 N m", "total_mass": "620 kg", "residents": ["T63", "T64"]}  # fmt: skip
    means = [
        {"name": "four_jaws", "hold": "outside jaws", "diameter_from": "150 mm", "diameter_to": "1500 mm",
         "force": "160 kN", "finishing_force": "50 kN", "jaw_moment": "26 kg m", "mass": "180 kg"},
        {"name": "riser_bolts", "hold": "bolts", "diameter_from": "100 mm", "diameter_to": "1400 mm",
         "count": 8, "force": "240 kN", "mass": "150 kg", "risers": ["60 mm", "90 mm"]},
    ]  # fmt: skip
    return Shop.model_validate(
        {
            "name": "Quay Lane works",
            "machine": {
                "name": "Turn-mill 2",
                "table": table,
                "spindle": spindle,
                "times": minute,
                "capability": capability,
                "gear_methods": ["hobbing", "power skiving", "end-mill milling"],
            },
            "magazine": magazine,
            "clamping_means": means,
            "tools": TOOLS,
            "materials": [
                {"name": "42CrMo4+QT", "group": "quenched and tempered steel", "kc11": "2000 MPa", "mc": 0.25}
            ],
            "conditions": [
                {"method": "turning", "tool_material": "carbide", "group": "quenched and tempered steel",
                 "stage": "rough", "cutting_speed": "150 m/min", "feed": "0.5 mm"}
            ],
            "rates": {"machine_hour": 135.0, "setup_hour": 80.0, "inspection_hour": 75.0},
        }
    )  # fmt: skip
