"""The half-section: diameters, zones, neighbours, outlines and mass."""

from __future__ import annotations

from itertools import pairwise
from math import cos, pi, radians
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.cutting import mass as bodies
from sequencer.part import Part
from sequencer.part.section import Bare, Extent, Neighbour, Outline, Section, make_section

TIP = 8 * 104 / cos(radians(20)) + 16
ROOT = 8 * 104 / cos(radians(20)) - 20


@pytest.fixture(scope="module")
def section(wheel: dict[str, Any]) -> Section:
    return make_section(Part.model_validate(wheel))


@pytest.fixture(scope="module")
def of_shaft(shaft: dict[str, Any]) -> Section:
    return make_section(Part.model_validate(shaft))


def test_ends_and_their_faces(section: Section) -> None:
    assert (section.z_from, section.z_to) == (0.0, 440.0)
    assert (section.lower_face, section.upper_face) == ("lower_face", "upper_face")


@pytest.mark.parametrize(
    ("z", "outer", "inner"),
    [
        (60, TIP, 200),
        (160, 864, 200),
        (120, TIP, 200),
        (205, 864, 208),
        (340, 462, 200),
        (400, 492, 232),
        (370, 492, 244),
        (430, 460, 232),
        (-1, 0, 0),
        (441, 0, 0),
    ],
)
def test_diameters(section: Section, z: float, outer: float, inner: float) -> None:
    assert section.outer_diameter(z) == pytest.approx(outer)
    assert section.inner_diameter(z) == pytest.approx(inner)


@pytest.mark.parametrize(
    ("name", "extent"),
    [
        ("wheel", (0, 330, ROOT, TIP)),
        ("apex", (120, 210, 864, TIP)),
        ("spur", (355, 425, 465, 492)),
        ("spur_groove", (330, 355, 462, 492)),
        ("spline", (380, 440, 232, 240)),
        ("spline_groove", (365, 380, 232, 244)),
        ("oil_groove", (200, 212, 200, 208)),
        ("bore", (0, 440, 200, 200)),
        ("hub", (425, 440, 460, 460)),
        ("lower_face", (0, 0, 200, TIP)),
        ("upper_face", (440, 440, 232, 460)),
        ("shoulder_face", (330, 330, 462, TIP)),
        ("web_groove", (270, 330, 620, 700)),
        ("bolts", (0, 50, 540, 580)),
        ("oil_holes", (155, 165, 744, 864)),
        ("keyway", (0, 100, 200, 220)),
        ("flat", (430, 440, 450, 460)),
        ("pocket", (310, 330, 720, 840)),
        ("bore_chamfer", (0, 3, 200, 206)),
        ("hub_radius", (438, 440, 456, 460)),
        ("mark", (330, 330, 462, TIP)),
    ],
)
def test_extents(section: Section, name: str, extent: tuple[float, ...]) -> None:
    found = section.extent(name)
    assert (found.z_from, found.z_to, found.inner, found.outer) == pytest.approx(extent)


def test_extent_of_an_unknown_feature(section: Section) -> None:
    with pytest.raises(KeyError, match="nothing"):
        section.extent("nothing")


def test_halves_of_a_double_helical_gear_are_neighbours(section: Section) -> None:
    below, above = section.neighbours("wheel", half="lower")
    assert below is None
    assert above is not None
    assert (above.feature, above.gap) == ("wheel", 90.0)
    assert above.diameter == pytest.approx(TIP)
    below, above = section.neighbours("wheel", half="upper")
    assert below is not None
    assert (below.feature, below.gap, above) == ("wheel", 90.0, None)


def test_whole_double_helical_gear_is_free_at_both_ends(section: Section) -> None:
    assert section.neighbours("wheel") == (None, None)


def test_neighbours_of_an_outside_gear(section: Section) -> None:
    below, above = section.neighbours("spur")
    assert below is not None
    assert (below.feature, below.gap, above) == ("wheel", 25.0, None)


def test_neighbours_of_an_inside_spline(section: Section) -> None:
    assert section.neighbours("spline") == (Neighbour("bore", 200.0, 15.0), None)


def test_a_blind_bore_ends_at_solid_material(shaft: dict[str, Any], change: Any) -> None:
    blind = {"name": "hole", "kind": "internal_gear", "teeth": 20, "module": "4 mm", "z_from": 0}
    document = change(
        shaft, ("features.+", {**blind, "z_to": "30 mm", "flank_class": {"year": 2013, "class": 7}})
    )
    section = make_section(Part.model_validate(document))
    assert section.neighbours("hole") == (None, Neighbour("blank", 0.0, 0.0))


def test_a_cone_stands_proud_where_it_crosses_the_root(shaft: dict[str, Any], change: Any) -> None:
    spline = {"name": "teeth", "kind": "spline", "place": "outside", "standard": "ISO 4156", "teeth": 32}
    document = change(
        shaft,
        ("features.+", {**spline, "module": "4 mm", "z_from": 0, "z_to": "60 mm"}),
        ("features.neck", ...),
        ("features.thread", ...),
    )
    section = make_section(Part.model_validate(document))
    root = section.extent("teeth").inner
    _, above = section.neighbours("teeth")
    assert above is not None
    assert above.feature == "cone"
    assert above.gap == pytest.approx(40 * (root - 110) / 40)
    assert above.diameter == pytest.approx(150)
    below, rest = section.obstacles("teeth")
    assert below == ()
    assert [found.feature for found in rest] == ["cone", "body", "ring_groove", "body", "spline_out", "bevel"]


def test_bare_stretches_stay_as_on_the_blank(wheel: dict[str, Any], change: Any) -> None:
    document = change(
        wheel, ("features.hub", ...), ("features.bore.z_from", "100 mm"), ("features.flat", ...)
    )
    section = make_section(Part.model_validate(document))
    assert section.bare == (Bare("outside", 425.0, 440.0), Bare("inside", 0.0, 100.0))
    assert section.outer_diameter(430) == 930.0
    assert section.inner_diameter(50) == 180.0


def test_nothing_is_bare_where_all_is_described(section: Section, of_shaft: Section) -> None:
    assert section.bare == ()
    assert of_shaft.bare == ()


def test_teeth_replace_the_cylinder_that_carries_them(wheel: dict[str, Any], change: Any) -> None:
    rim = {"name": "rim", "kind": "turned_diameter", "z_from": 0, "z_to": "330 mm", "diameter": "880 mm"}
    loose = make_section(Part.model_validate(change(wheel, ("features.+", rim))))
    carried = make_section(
        Part.model_validate(change(wheel, ("features.+", rim), ("features.wheel.on", "rim")))
    )
    assert loose.outer_diameter(60) == pytest.approx(880)
    assert carried.outer_diameter(60) == pytest.approx(TIP)


def test_without_faces_the_blank_ends_the_part(shaft: dict[str, Any], change: Any) -> None:
    section = make_section(Part.model_validate(change(shaft, ("features.low", ...), ("features.high", ...))))
    assert (section.z_from, section.z_to, section.lower_face, section.upper_face) == (-3.0, 303.0, "", "")


def test_rounded_ends_leave_no_gap(wheel: dict[str, Any], change: Any) -> None:
    section = make_section(Part.model_validate(change(wheel, ("features.apex.z_from", "120.01 mm"))))
    assert section.bare == ()
    _, above = section.neighbours("wheel", half="lower")
    assert above is not None
    assert above.gap == pytest.approx(90)


def test_bevel_teeth_are_a_cone(of_shaft: Section) -> None:
    heel, toe = of_shaft.outer_diameter(240.001), of_shaft.outer_diameter(299.999)
    cone = 26.565
    assert heel == pytest.approx(6 * 24 + 2 * 6 * cos(radians(cone)), abs=0.01)
    assert toe < heel


def _area_moment(outline: Outline) -> float:
    """Volume of revolution by the rule of Pappus and Guldin: 2 pi times the area moment about the axis."""
    return (
        abs(sum((z1 - z2) * (r1 * r1 + r1 * r2 + r2 * r2) for (z1, r1), (z2, r2) in pairwise(outline)))
        * pi
        / 3
    )


def _plain(shaft: dict[str, Any], change: Any) -> Section:
    toothed = [(f"features.{name}", ...) for name in ("thread", "spline_out", "bevel")]
    document = change(
        shaft,
        *toothed,
        ("features.body.z_to", "300 mm"),
        (
            "features.+",
            {"name": "hole", "kind": "bore", "z_from": "50 mm", "z_to": "300 mm", "diameter": "40 mm"},
        ),
        (
            "features.+",
            {
                "name": "ring",
                "kind": "face_groove",
                "on": "high",
                "side": "upper",
                "outer_diameter": "120 mm",
                "inner_diameter": "80 mm",
                "depth": "30 mm",
            },
        ),
    )
    return make_section(Part.model_validate(document))


def test_mass_of_a_turned_shaft(shaft: dict[str, Any], change: Any) -> None:
    """Against volumes of cylinders, cones and rings from the cutting formulas."""
    section = _plain(shaft, change)
    volume = (
        bodies.cylinder_volume(100, 60)
        + bodies.cone_volume(110, 150, 40)
        + bodies.cylinder_volume(180, 190)
        + bodies.cylinder_volume(170, 10)
        - bodies.cylinder_volume(40, 250)
        - bodies.ring_volume(120, 80, 30)
    )
    assert section.mass(7.85) == pytest.approx(volume * 7.85e-6)
    assert section.stock_mass(7.85) == pytest.approx(bodies.cylinder_volume(200, 306) * 7.85e-6)
    assert len(section.outline()) == 1
    assert _area_moment(section.outline()[0]) == pytest.approx(volume)
    assert _area_moment(section.stock_outline()[0]) == pytest.approx(bodies.cylinder_volume(200, 306))


def test_inertia_and_centre_of_a_turned_shaft(shaft: dict[str, Any], change: Any) -> None:
    """Against thin discs."""
    section = _plain(shaft, change)
    discs = 30000
    height = 300 / discs
    mass = moment = inertia = 0.0
    for i in range(discs):
        z = (i + 0.5) * height
        r, hole = section.outer_diameter(z) / 2, section.inner_diameter(z) / 2
        area, polar = r**2 - hole**2, r**4 - hole**4
        if z > 270:
            area, polar = area - (60**2 - 40**2), polar - (60**4 - 40**4)
        mass += pi * area * height
        moment += pi * area * height * z
        inertia += pi / 2 * polar * height
    assert section.body.volume == pytest.approx(mass, rel=1e-6)
    assert section.body.centre == pytest.approx(moment / mass, rel=1e-6)
    assert section.body.inertia(7.85) == pytest.approx(inertia * 7.85e-12, rel=1e-6)


def test_teeth_count_at_their_mean_diameter_and_holes_are_taken_off(
    wheel: dict[str, Any], change: Any
) -> None:
    names = ("oil_groove", "web_groove", "keyway", "pocket", "oil_holes", "spline", "spline_groove", "bolts")
    bare = change(wheel, *((f"features.{name}", ...) for name in names))
    bolts = {
        "name": "bolts",
        "kind": "bolt_circle",
        "on": "lower_face",
        "circle_diameter": "560 mm",
        "count": 12,
    }
    drilled = change(bare, ("features.+", {**bolts, "diameter": "20 mm"}))
    volume = (
        bodies.ring_volume((TIP + ROOT) / 2, 200, 240)
        + bodies.ring_volume(864, 200, 90)
        + bodies.ring_volume(462, 200, 25)
        + bodies.ring_volume((492 + 465) / 2, 200, 70)
        + bodies.ring_volume(460, 200, 15)
    )
    solid, holed = (make_section(Part.model_validate(document)) for document in (bare, drilled))
    assert solid.mass(7.85) == pytest.approx(volume * 7.85e-6)
    assert solid.body.volume - holed.body.volume == pytest.approx(12 * bodies.cylinder_volume(20, 330))


def test_outline_of_the_wheel_is_closed_and_shows_the_face_groove(section: Section) -> None:
    (outline,) = section.outline()
    assert outline[0] == outline[-1]
    assert (270.0, 350.0) in outline
    assert (270.0, 310.0) in outline
    assert all(r >= 0 and 0 <= z <= 440 for z, r in outline)


def test_stock_outline_of_a_ring(section: Section) -> None:
    assert section.stock_outline() == (
        ((-8.0, 465.0), (448.0, 465.0), (448.0, 90.0), (-8.0, 90.0), (-8.0, 465.0)),
    )


def test_weakest_ring_counts_roots_grooves_and_face_grooves(section: Section, of_shaft: Section) -> None:
    assert section.wall_ratio() == pytest.approx((465 - 244) / 2 / 465)
    assert of_shaft.wall_ratio() == pytest.approx(0.5)


def test_a_face_groove_takes_its_width_from_the_ring(wheel: dict[str, Any], change: Any) -> None:
    wide = change(
        wheel,
        ("features.web_groove.inner_diameter", "480 mm"),
        ("features.web_groove.outer_diameter", "840 mm"),
    )
    section = make_section(Part.model_validate(wide))
    assert section.wall_ratio() == pytest.approx(((ROOT - 200) / 2 - 180) / ROOT)


_STEP = st.tuples(st.integers(1, 50), st.integers(60, 400), st.integers(0, 50))


@settings(deadline=None, derandomize=True, max_examples=60)
@given(st.lists(_STEP, min_size=1, max_size=8))
def test_any_stepped_ring(steps: list[tuple[int, int, int]]) -> None:
    """Mass, outline and diameters of random steps agree with each other."""
    features: list[dict[str, Any]] = []
    z, volume = 0, 0.0
    for i, (length, outer, inner) in enumerate(steps):
        ends = {"z_from": f"{z} mm", "z_to": f"{z + length} mm"}
        features.append({"name": f"d{i}", "kind": "turned_diameter", "diameter": f"{outer} mm", **ends})
        if inner:
            features.append({"name": f"b{i}", "kind": "bore", "diameter": f"{inner} mm", **ends})
        volume += pi / 4 * (outer**2 - inner**2) * length
        z += length
    features += [{"name": "l", "kind": "face", "side": "lower", "z": 0}]
    features += [{"name": "u", "kind": "face", "side": "upper", "z": f"{z} mm"}]
    blank = {"form": "bar", "diameter": "400 mm", "z_from": "-1 mm", "z_to": f"{z + 1} mm"}
    part = Part.model_validate(
        {"name": "x", "drawing": "x", "material": "x", "blank": blank, "features": tuple(features)}
    )
    section = make_section(part)
    assert section.body.volume == pytest.approx(volume)
    assert _area_moment(section.outline()[0]) == pytest.approx(volume)
    assert section.bare == ()
    middle = steps[0][0] / 2
    assert section.extent("d0") == Extent(0.0, float(steps[0][0]), float(steps[0][1]), float(steps[0][1]))
    assert (section.outer_diameter(middle), section.inner_diameter(middle)) == (steps[0][1], steps[0][2])
