"""Invented parts with any number of features, for pictures."""

from __future__ import annotations

from typing import Any

from sequencer.part import Part

LONG = "a_very_long_feature_name_that_fills_all_the_sixty_letters_of"


def many_features(count: int, *, diameter: float = 600.0, height: float = 400.0, long: bool = False) -> Part:
    """A stepped ring with `count` features: faces, steps, grooves, bores, inside grooves and holes.

    Parameters
    ----------
    count
        Number of features, at least 3.
    diameter, height
        Outside diameter and height [mm].
    long
        Whether names have sixty letters.
    """

    def name(word: str) -> str:
        return f"{word}_{LONG}"[:60] if long else word

    bore = diameter * 0.4
    features: list[dict[str, Any]] = [
        {"name": name("lower_face"), "kind": "face", "side": "lower", "z": "0 mm"},
        {"name": name("upper_face"), "kind": "face", "side": "upper", "z": f"{height:.6g} mm"},
        {
            "name": name("bore"),
            "kind": "bore",
            "diameter": f"{bore:.6g} mm",
            "z_from": "0 mm",
            "z_to": f"{height:.6g} mm",
            "tolerance": "H7",
        },
    ]
    steps = max(count - 3, 0)
    pitch = height / max(steps, 1)
    for index in range(steps):
        low, high = index * pitch, (index + 0.6) * pitch
        span = {"z_from": f"{low:.6g} mm", "z_to": f"{high:.6g} mm"}
        kinds: tuple[dict[str, Any], ...] = (
            {"kind": "turned_diameter", "diameter": f"{diameter - index * diameter / 200:.6g} mm", **span},
            {"kind": "groove", "place": "outside", "diameter": f"{diameter * 0.8:.6g} mm", **span},
            {"kind": "groove", "place": "inside", "diameter": f"{bore * 1.1:.6g} mm", **span},
            {
                "kind": "bolt_circle",
                "on": name("upper_face" if index % 8 else "lower_face"),
                "count": 6,
                "diameter": f"{diameter / 100:.6g} mm",
                "circle_diameter": f"{bore * 1.2 + index * diameter / 300:.6g} mm",
                "depth": f"{height / 8:.6g} mm",
            },
        )
        features.append({"name": name(f"f{index}"), **kinds[index % 4]})
    return Part.model_validate(
        {
            "name": "Invented ring",
            "drawing": "IR-1",
            "material": "C45+N",
            "blank": {
                "form": "ring",
                "diameter": f"{diameter * 1.02:.6g} mm",
                "bore": f"{bore * 0.95:.6g} mm",
                "z_from": f"{-height * 0.02:.6g} mm",
                "z_to": f"{height * 1.02:.6g} mm",
            },
            "datums": {"A": name("bore"), "B": name("lower_face")},
            "features": features,
        }
    )


def every_kind() -> Part:
    """A part with every kind of feature at least once, on both sides, inside and outside."""
    flank = {"flank_class": {"year": 2013, "class": 8}}
    features: list[dict[str, Any]] = [
        {"name": "lower_face", "kind": "face", "side": "lower", "z": "0 mm"},
        {"name": "upper_face", "kind": "face", "side": "upper", "z": "400 mm"},
        {"name": "web_face", "kind": "face", "side": "upper", "z": "250 mm"},
        {"name": "inner_face", "kind": "face", "side": "upper", "z": "120 mm"},
        {"name": "bore", "kind": "bore", "diameter": "120 mm", "z_from": "0 mm", "z_to": "120 mm"},
        {"name": "upper_bore", "kind": "bore", "diameter": "200 mm", "z_from": "120 mm", "z_to": "300 mm"},
        {"name": "ring", "kind": "internal_gear", "teeth": 62, "module": "4 mm", "z_from": "300 mm",
         "z_to": "400 mm", **flank},
        {"name": "ring_exit", "kind": "run_out_groove", "gear": "ring", "place": "inside",
         "diameter": "262 mm", "z_from": "285 mm", "z_to": "300 mm"},
        {"name": "neck", "kind": "turned_diameter", "diameter": "330 mm", "z_from": "330 mm",
         "z_to": "400 mm"},
        {"name": "cone", "kind": "taper", "lower_diameter": "360 mm", "upper_diameter": "330 mm",
         "z_from": "300 mm", "z_to": "330 mm"},
        {"name": "thread", "kind": "thread", "diameter": "360 mm", "pitch": "4 mm", "z_from": "260 mm",
         "z_to": "300 mm", "hand": "left"},
        {"name": "relief", "kind": "groove", "place": "outside", "diameter": "340 mm", "z_from": "250 mm",
         "z_to": "260 mm"},
        {"name": "rim", "kind": "turned_diameter", "diameter": "600 mm", "z_from": "150 mm",
         "z_to": "250 mm"},
        {"name": "spline", "kind": "spline", "place": "outside", "standard": "DIN 5480", "teeth": 78,
         "module": "5 mm", "reference_diameter": "400 mm", "z_from": "20 mm", "z_to": "90 mm"},
        {"name": "seat", "kind": "turned_diameter", "diameter": "420 mm", "z_from": "100 mm",
         "z_to": "150 mm"},
        {"name": "web_groove", "kind": "face_groove", "on": "web_face", "side": "upper",
         "outer_diameter": "520 mm", "inner_diameter": "460 mm", "depth": "40 mm"},
        {"name": "keyway", "kind": "keyway", "on": "bore", "width": "32 mm", "depth": "8 mm",
         "z_from": "0 mm", "z_to": "120 mm"},
        {"name": "bolts", "kind": "bolt_circle", "on": "lower_face", "count": 8, "diameter": "20 mm",
         "circle_diameter": "280 mm", "depth": "60 mm",
         "counterbore": {"diameter": "32 mm", "depth": "20 mm"}},
        {"name": "through", "kind": "bolt_circle", "on": "web_face", "count": 6, "diameter": "16 mm",
         "circle_diameter": "560 mm", "ream": "H7"},
        {"name": "oil_holes", "kind": "bolt_circle", "direction": "radial", "on": "rim", "count": 4,
         "diameter": "12 mm", "z": "200 mm", "depth": "50 mm"},
        {"name": "flats", "kind": "flat", "on": "seat", "distance": "200 mm", "count": 2, "z_from": "110 mm",
         "z_to": "140 mm"},
        {"name": "windows", "kind": "pocket", "on": "web_face", "width": "30 mm", "length": "60 mm",
         "depth": "15 mm", "corner_radius": "8 mm", "circle_diameter": "420 mm", "count": 6},
        {"name": "mark", "kind": "marking", "on": "web_face", "text": "EK-1"},
        {"name": "edge", "kind": "chamfer", "on": "rim", "edge": "both", "size": "3 mm"},
        {"name": "corner", "kind": "radius", "on": "seat", "edge": "lower", "size": "2 mm"},
    ]  # fmt: skip
    blank = {"form": "forging", "diameter": "620 mm", "bore": "100 mm", "z_from": "-5 mm", "z_to": "405 mm"}
    return Part.model_validate(
        {
            "name": "Every kind",
            "drawing": "EK-1",
            "material": "C45+N",
            "blank": blank,
            "datums": {"A": "bore", "B": "lower_face", "C": "keyway"},
            "features": features,
        }
    )


def bevel_wheel() -> Part:
    """A bevel gear whose cone apex lies above it."""
    return Part.model_validate(
        {
            "name": "Bevel wheel",
            "drawing": "BW-1",
            "material": "C45+N",
            "blank": {"form": "forging", "diameter": "420 mm", "bore": "80 mm", "z_from": "-5 mm",
                      "z_to": "105 mm"},
            "features": [
                {"name": "back_face", "kind": "face", "side": "lower", "z": "0 mm"},
                {"name": "front_face", "kind": "face", "side": "upper", "z": "100 mm"},
                {"name": "bore", "kind": "bore", "diameter": "100 mm", "z_from": "0 mm", "z_to": "100 mm"},
                {"name": "crown", "kind": "bevel_gear", "apex": "upper", "teeth": 40, "module": "10 mm",
                 "mate_teeth": 20, "face_width": "60 mm", "mounting_distance": "160 mm",
                 "mounting_face": "back_face", "z_from": "40 mm", "z_to": "95 mm"},
            ],
        }
    )  # fmt: skip
