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
