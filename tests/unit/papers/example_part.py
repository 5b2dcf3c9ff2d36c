"""An invented gear part for the sheets: a double-helical wheel with a spur gear on top."""

from __future__ import annotations

from typing import Any

from sequencer.part import Part

CLASS_7 = {"year": 2013, "class": 7}

FEATURES: list[dict[str, Any]] = [
    {"name": "lower_face", "kind": "face", "side": "lower", "z": "0 mm", "roughness": "1.6 um"},
    {"name": "lower_bolts", "kind": "bolt_circle", "on": "lower_face", "count": 8, "diameter": "20 mm",
     "thread_pitch": "2.5 mm", "depth": "50 mm", "circle_diameter": "460 mm", "use": "lifting",
     "title": "Lower bolt-down threads"},
    {"name": "rim", "kind": "turned_diameter", "diameter": "560 mm", "z_from": "0 mm", "z_to": "10 mm"},
    {"name": "bore", "kind": "bore", "diameter": "160 mm", "z_from": "0 mm", "z_to": "362 mm",
     "tolerance": "H7", "roughness": "0.8 um", "title": "Datum bore"},
    {"name": "wheel", "kind": "double_helical_gear", "teeth": 84, "module": "7 mm", "helix_angle": "22 deg",
     "lower": {"z_from": "10 mm", "z_to": "105 mm", "hand": "left"},
     "upper": {"z_from": "185 mm", "z_to": "280 mm", "hand": "right"},
     "apex_tolerance": "0.05 mm", "flank_class": CLASS_7, "datums": ["A", "B"],
     "title": "Double-helical gear", "note": "Both halves from one angular zero."},
    {"name": "gap", "kind": "apex_groove", "gear": "wheel", "diameter": "610 mm", "z_from": "105 mm",
     "z_to": "185 mm", "title": "Apex groove"},
    {"name": "spur", "kind": "external_gear", "teeth": 76, "module": "5 mm", "z_from": "302 mm",
     "z_to": "362 mm", "flank_class": CLASS_7, "datums": ["A", "B"], "title": "Upper spur gear"},
    {"name": "spur_groove", "kind": "run_out_groove", "gear": "spur", "diameter": "352 mm",
     "z_from": "280 mm", "z_to": "302 mm", "title": "Run-out groove of the spur gear"},
    {"name": "upper_face", "kind": "face", "side": "upper", "z": "362 mm"},
    {"name": "keyway", "kind": "keyway", "on": "bore", "width": "36 mm", "depth": "9 mm",
     "z_from": "120 mm", "z_to": "280 mm", "tolerance": "±0.04 mm", "datums": ["A", "C"]},
]  # fmt: skip

CLAMPINGS: list[dict[str, Any]] = [
    {"name": "I", "up": "lower", "hold": "outside jaws", "on": "blank", "rests_on": "blank",
     "z_from": "310 mm", "z_to": "368 mm"},
    {"name": "II", "up": "upper", "hold": "bolts", "on": "lower_bolts", "rests_on": "lower_face",
     "riser": "90 mm"},
]  # fmt: skip


def example_part(units: str = "mm") -> Part:
    """The part of the example plan.

    Parameters
    ----------
    units
        Unit of length on its sheets.
    """
    return Part.model_validate(
        {
            "name": "Winch wheel",
            "drawing": "WW-77",
            "revision": "C",
            "author": "Planning",
            "lot": 3,
            "due": "2027-06-30",
            "order_date": "2027-04-01",
            "units": units,
            "material": "42CrMo4+QT",
            "condition": "quenched and tempered, 900 to 1100 MPa",
            "blank": {
                "form": "forging",
                "diameter": "665 mm",
                "bore": "130 mm",
                "z_from": "-6 mm",
                "z_to": "370 mm",
            },
            "datums": {"A": "bore", "B": "lower_face", "C": "wheel"},
            "features": FEATURES,
            "clampings": CLAMPINGS,
        }
    )
