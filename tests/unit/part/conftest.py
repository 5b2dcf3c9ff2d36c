"""One part with nearly every kind of feature, and edits of its document."""

from __future__ import annotations

import copy
from collections.abc import Callable
from typing import Any

import pytest

from sequencer.part import Part
from sequencer.part.references import Fault, check_references

Document = dict[str, Any]
Edit = tuple[str, Any]

FLANKS = {"year": 2013, "class": 7}

WHEEL: Document = {
    "name": "Test wheel",
    "drawing": "TW-1",
    "material": "42CrMo4+QT",
    "order_date": "2027-01-04",
    "due": "2027-03-31",
    "blank": {
        "form": "forging",
        "diameter": "930 mm",
        "bore": "180 mm",
        "z_from": "-8 mm",
        "z_to": "448 mm",
    },
    "datums": {"A": "bore", "B": "lower_face", "C": "wheel"},
    "features": [
        {"name": "lower_face", "kind": "face", "side": "lower", "z": 0},
        {"name": "upper_face", "kind": "face", "side": "upper", "z": "440 mm"},
        {"name": "shoulder_face", "kind": "face", "side": "upper", "z": "330 mm"},
        {
            "name": "bore",
            "kind": "bore",
            "z_from": 0,
            "z_to": "440 mm",
            "diameter": "200 mm",
            "tolerance": "H7",
            "roughness": "1.6 um",
        },
        {
            "name": "wheel",
            "kind": "double_helical_gear",
            "teeth": 104,
            "module": "8 mm",
            "helix_angle": "20 deg",
            "lower": {"z_from": 0, "z_to": "120 mm", "hand": "right"},
            "upper": {"z_from": "210 mm", "z_to": "330 mm", "hand": "left"},
            "apex_tolerance": "0.05 mm",
            "flank_class": FLANKS,
            "datums": ["A", "B"],
            "geometric": [{"characteristic": "runout", "value": "0.04 mm", "to": ["A"]}],
        },
        {
            "name": "apex",
            "kind": "apex_groove",
            "gear": "wheel",
            "z_from": "120 mm",
            "z_to": "210 mm",
            "diameter": "864 mm",
        },
        {
            "name": "spur_groove",
            "kind": "run_out_groove",
            "gear": "spur",
            "z_from": "330 mm",
            "z_to": "355 mm",
            "diameter": "462 mm",
        },
        {
            "name": "spur",
            "kind": "external_gear",
            "teeth": 80,
            "module": "6 mm",
            "z_from": "355 mm",
            "z_to": "425 mm",
            "flank_class": FLANKS,
        },
        {
            "name": "hub",
            "kind": "turned_diameter",
            "z_from": "425 mm",
            "z_to": "440 mm",
            "diameter": "460 mm",
            "tolerance": "h7",
        },
        {
            "name": "spline",
            "kind": "spline",
            "place": "inside",
            "standard": "DIN 5480",
            "teeth": 58,
            "module": "4 mm",
            "reference_diameter": "240 mm",
            "z_from": "380 mm",
            "z_to": "440 mm",
            "datums": ["A"],
        },
        {
            "name": "spline_groove",
            "kind": "run_out_groove",
            "gear": "spline",
            "place": "inside",
            "z_from": "365 mm",
            "z_to": "380 mm",
            "diameter": "244 mm",
        },
        {
            "name": "oil_groove",
            "kind": "groove",
            "place": "inside",
            "z_from": "200 mm",
            "z_to": "212 mm",
            "diameter": "208 mm",
            "on": "bore",
        },
        {
            "name": "web_groove",
            "kind": "face_groove",
            "on": "shoulder_face",
            "side": "upper",
            "outer_diameter": "700 mm",
            "inner_diameter": "620 mm",
            "depth": "60 mm",
        },
        {
            "name": "bolts",
            "kind": "bolt_circle",
            "on": "lower_face",
            "circle_diameter": "560 mm",
            "count": 12,
            "diameter": "20 mm",
            "depth": "50 mm",
            "thread_pitch": "2.5 mm",
            "thread_depth": "40 mm",
            "phase": {"to": "wheel", "tolerance": "0.1 mm"},
            "use": "clamping",
        },
        {
            "name": "keyway",
            "kind": "keyway",
            "on": "bore",
            "width": "45 mm",
            "depth": "10 mm",
            "z_from": 0,
            "z_to": "100 mm",
        },
        {
            "name": "flat",
            "kind": "flat",
            "on": "hub",
            "distance": "225 mm",
            "z_from": "430 mm",
            "z_to": "440 mm",
        },
        {
            "name": "pocket",
            "kind": "pocket",
            "on": "shoulder_face",
            "width": "30 mm",
            "length": "60 mm",
            "depth": "20 mm",
            "corner_radius": "8 mm",
            "circle_diameter": "780 mm",
            "count": 6,
        },
        {
            "name": "oil_holes",
            "kind": "bolt_circle",
            "direction": "radial",
            "on": "apex",
            "z": "160 mm",
            "count": 4,
            "diameter": "10 mm",
            "depth": "60 mm",
        },
        {"name": "bore_chamfer", "kind": "chamfer", "on": "bore", "edge": "lower", "size": "3 mm"},
        {"name": "hub_radius", "kind": "radius", "on": "hub", "edge": "upper", "size": "2 mm"},
        {"name": "mark", "kind": "marking", "on": "shoulder_face", "text": "TW-1", "height": "8 mm"},
    ],
    "clampings": [
        {
            "name": "I",
            "up": "lower",
            "hold": "outside jaws",
            "on": "blank",
            "rests_on": "blank",
            "z_from": "380 mm",
            "z_to": "448 mm",
        },
        {"name": "II", "up": "upper", "hold": "bolts", "on": "bolts", "rests_on": "lower_face"},
    ],
}

SHAFT: Document = {
    "name": "Test shaft",
    "drawing": "TS-1",
    "material": "42CrMo4+QT",
    "blank": {"form": "bar", "diameter": "200 mm", "z_from": "-3 mm", "z_to": "303 mm"},
    "features": [
        {"name": "low", "kind": "face", "side": "lower", "z": 0},
        {"name": "high", "kind": "face", "side": "upper", "z": "300 mm"},
        {
            "name": "thread",
            "kind": "thread",
            "on": "neck",
            "z_from": 0,
            "z_to": "40 mm",
            "diameter": "100 mm",
            "pitch": "3 mm",
        },
        {"name": "neck", "kind": "turned_diameter", "z_from": 0, "z_to": "60 mm", "diameter": "100 mm"},
        {
            "name": "cone",
            "kind": "taper",
            "z_from": "60 mm",
            "z_to": "100 mm",
            "lower_diameter": "110 mm",
            "upper_diameter": "150 mm",
        },
        {
            "name": "body",
            "kind": "turned_diameter",
            "z_from": "100 mm",
            "z_to": "200 mm",
            "diameter": "180 mm",
        },
        {"name": "ring_groove", "kind": "groove", "z_from": "140 mm", "z_to": "150 mm", "diameter": "170 mm"},
        {
            "name": "spline_out",
            "kind": "spline",
            "place": "outside",
            "standard": "ISO 4156",
            "teeth": 40,
            "module": "4 mm",
            "z_from": "200 mm",
            "z_to": "240 mm",
        },
        {
            "name": "bevel",
            "kind": "bevel_gear",
            "apex": "upper",
            "teeth": 24,
            "mate_teeth": 48,
            "module": "6 mm",
            "face_width": "50 mm",
            "z_from": "240 mm",
            "z_to": "300 mm",
            "mounting_distance": "400 mm",
            "mounting_face": "low",
        },
    ],
    "clampings": [],
}


def edited(document: Document, *edits: Edit) -> Document:
    """Copy a document and change values: "features.bore.diameter" finds list entries by their name.

    A value of `...` takes the key or the entry out; "features.+" adds an entry.
    """
    copied = copy.deepcopy(document)
    for path, value in edits:
        *steps, last = path.split(".")
        here: Any = copied
        for step in steps:
            here = _step(here, step)
        if value is ...:
            if isinstance(here, list):
                here.remove(_step(here, last))
            else:
                del here[last]
        elif last == "+":
            here.append(value)
        elif isinstance(here, list):
            here[int(last)] = value
        else:
            here[last] = value
    return copied


def _step(here: Any, step: str) -> Any:
    if isinstance(here, list):
        return here[int(step)] if step.isdigit() else next(e for e in here if e.get("name") == step)
    return here[step]


def path_in(document: Document, path: str) -> tuple[str | int, ...]:
    """Turn "features.bore.diameter" into the path with positions."""
    here: Any = document
    found: list[str | int] = []
    for step in path.split("."):
        if isinstance(here, list):
            at = int(step) if step.isdigit() else [e.get("name") for e in here].index(step)
            found.append(at)
            here = here[at]
        else:
            found.append(step)
            here = here.get(step) if isinstance(here, dict) else None
    return tuple(found)


@pytest.fixture(scope="session")
def wheel() -> Document:
    """Document of a wheel with nearly every kind of feature."""
    return copy.deepcopy(WHEEL)


@pytest.fixture(scope="session")
def shaft() -> Document:
    """Document of a solid shaft with the kinds that the wheel has not."""
    return copy.deepcopy(SHAFT)


@pytest.fixture(scope="session")
def faults_of() -> Callable[..., tuple[Document, tuple[Fault, ...]]]:
    """Edit a document and check it."""

    def check(document: Document, *edits: Edit) -> tuple[Document, tuple[Fault, ...]]:
        changed = edited(document, *edits)
        return changed, check_references(Part.model_validate(changed))

    return check


@pytest.fixture(scope="session")
def place() -> Callable[[Document, str], tuple[str | int, ...]]:
    """Turn a dotted path into one with positions."""
    return path_in


@pytest.fixture(scope="session")
def change() -> Callable[..., Document]:
    """Copy a document and change values."""
    return edited
