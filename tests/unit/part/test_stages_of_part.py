"""The part while it is made: outline, mass, centre, inertia and unbalance, against numbers by hand."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from sequencer.part import Part
from sequencer.part.ring_section import ring_section
from sequencer.part.section import Section, make_section
from sequencer.part.stages import Made, StageBody

RING: dict[str, Any] = {
    "name": "Ring",
    "drawing": "R-1",
    "material": "C45+N",
    "blank": {"form": "ring", "diameter": "400 mm", "bore": "200 mm", "z_from": "-5 mm", "z_to": "105 mm"},
    "features": [
        {"name": "low", "kind": "face", "side": "lower", "z": 0},
        {"name": "top", "kind": "face", "side": "upper", "z": "100 mm"},
        {"name": "bore", "kind": "bore", "diameter": "220 mm", "z_from": 0, "z_to": "100 mm"},
        {
            "name": "neck",
            "kind": "turned_diameter",
            "diameter": "360 mm",
            "z_from": "60 mm",
            "z_to": "100 mm",
        },
        {
            "name": "key",
            "kind": "keyway",
            "on": "bore",
            "width": "40 mm",
            "depth": "10 mm",
            "z_from": 0,
            "z_to": "100 mm",
            "angle": "90 deg",
        },
        {
            "name": "holes",
            "kind": "bolt_circle",
            "on": "top",
            "circle_diameter": "300 mm",
            "count": 4,
            "diameter": "20 mm",
            "depth": "50 mm",
        },
        {
            "name": "flat",
            "kind": "flat",
            "on": "neck",
            "distance": "170 mm",
            "z_from": "60 mm",
            "z_to": "100 mm",
        },
    ],
}


@pytest.fixture(scope="module")
def ring() -> Section:
    return make_section(Part.model_validate(RING))


def test_the_blank(ring: Section) -> None:
    body = StageBody(ring, {})
    assert body.solid.volume == pytest.approx(pi / 4 * (400**2 - 200**2) * 110)
    assert body.solid.centre == pytest.approx(50)
    mass = body.solid.mass(7.85)
    assert body.solid.inertia(7.85) == pytest.approx(mass * (0.4**2 + 0.2**2) / 8)


def test_everything_cut_is_the_finished_part(ring: Section) -> None:
    body = StageBody(ring, {feature.name: Made() for feature in ring.part.features})
    assert body.solid == ring.body
    assert body.outline == ring.outline()


def test_a_face_and_a_rough_bore(ring: Section) -> None:
    """The bore goes through the stock on the upper face, 0.5 mm of stock stays on it."""
    body = StageBody(ring, {"low": Made(), "bore": Made(0.5)})
    assert (body.z_from, body.z_to) == (0, 105)
    assert body.solid.volume == pytest.approx(pi / 4 * (400**2 - 219**2) * 105)
    assert body.outline == (((0, 200), (105, 200), (105, 109.5), (0, 109.5), (0, 200)),)


def test_unbalance_of_a_keyway(ring: Section) -> None:
    """Missing on one side, so heavy on the other: 40 x 10 x 100 mm at radius 115 mm."""
    found = StageBody(ring, {"bore": Made(), "key": Made()}).unbalance(7.85)
    assert found.amount == pytest.approx(40 * 10 * 100 * 7.85e-6 * 115)
    assert found.angle == pytest.approx(270)
    assert found.cause == "key"
    assert found.mass_at(150) == pytest.approx(found.amount / 150)
    assert found.force(300) == pytest.approx(found.amount / 1000 * (10 * pi) ** 2)


def test_unbalance_of_one_flat_against_strips(ring: Section) -> None:
    """Self-made pin: moment of a segment, summed over thin strips; against its chord cubed over 12."""
    found = StageBody(ring, {"neck": Made(), "flat": Made()}).unbalance(7.85)
    steps = 20_000
    width = 10 / steps
    total = 0.0
    for i in range(steps):
        x = 170 + (i + 0.5) * width
        total += 2 * (180**2 - x**2) ** 0.5 * width * x
    assert found.amount == pytest.approx(total * 40 * 7.85e-6, rel=1e-3)


def test_holes_all_round_balance(ring: Section) -> None:
    assert StageBody(ring, {"holes": Made()}).unbalance(7.85).amount == 0


def test_bending_section_of_a_plain_ring(ring: Section) -> None:
    found = ring_section(StageBody(ring, {}))
    assert found is not None
    assert (found.radius, found.area, found.thickness) == pytest.approx((150, 100 * 110, 100))
    assert found.second_moment == pytest.approx(110 * 100**3 / 12)


def test_a_solid_part_does_not_bend_as_a_ring() -> None:
    solid = {**RING, "blank": {**RING["blank"], "form": "bar", "bore": 0}}
    assert ring_section(StageBody(make_section(Part.model_validate(solid)), {})) is None
