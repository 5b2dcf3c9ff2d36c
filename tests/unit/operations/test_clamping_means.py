"""Clampings: the means that holds them, limits of the table, mass, speed, and what is proposed."""

from __future__ import annotations

import math
import re

import pytest
from small_parts import (
    FROM_ABOVE,
    FROM_BELOW,
    LOWER,
    MEANS,
    RING,
    UPPER,
    bore,
    outside,
    part,
    plain_ring,
    shop_with,
    small_shop,
    zone,
)

from sequencer.errors import Severity
from sequencer.operations.clampings import fit_clampings
from sequencer.part.section import make_section


def fitted(made, shop=None):
    """Fit the clampings of a part."""
    return fit_clampings(made, shop or small_shop(), make_section(made))


def errors(findings):
    """Give the errors as text."""
    return [str(finding) for finding in findings if finding.severity is Severity.ERROR]


def test_the_first_means_that_fits_is_taken():
    """Hard jaws on the raw blank, soft inside jaws in the finished bore."""
    clampings, findings = fitted(plain_ring())
    assert [clamping.means.name for clamping in clampings] == ["hard_jaws", "inside_jaws"]
    assert not errors(findings)
    assert not clampings[0].proposed


def test_soft_jaws_are_taken_on_a_finished_surface():
    """Hard jaws come first in the file, but mark a finished surface."""
    held = {**FROM_ABOVE, "hold": "outside jaws", "on": "rim"}
    clampings, _ = fitted(plain_ring(clampings=[FROM_BELOW, held]))
    assert clampings[1].means.name == "soft_jaws"


BAD_HOLDS = [
    ({"means": "hard_jaws", "hold": "outside jaws", "on": "rim"},
     "hard_jaws has hard jaws on the finished surface rim .finished surfaces need soft jaws"),
    ({"z_to": "55 mm"}, "the band z 0 mm to 55 mm is 55 mm long, the jaws of inside_jaws are 50 mm high"),
    ({"riser": "75 mm"}, "inside_jaws has no riser of 75 mm .risers: 60 mm, 90 mm"),
    ({"hold": "face plate"}, "the shop has no face plate"),
    ({"means": "magnet"}, "means magnet is not in the shop file. Use one of hard_jaws|use one of hard_jaws"),
    ({"on": "rime"}, "on names rime, which is no feature of the part"),
]  # fmt: skip


@pytest.mark.parametrize(("keys", "words"), BAD_HOLDS)
def test_what_speaks_against_a_hold_is_said(keys, words):
    """Each fault has its numbers, its limit and a remedy."""
    _, findings = fitted(plain_ring(clampings=[FROM_BELOW, {**FROM_ABOVE, **keys}]))
    found = errors(findings)
    assert any(re.search(words, text) for text in found), found
    assert all(finding.where == "clamping II" for finding in findings if finding.severity is Severity.ERROR)


def test_a_diameter_outside_the_range_of_all_jaws_is_said():
    """Bore 60 is below the 80 mm of the inside jaws."""
    made = part(LOWER, UPPER, bore(diameter=60), blank={**RING, "bore": "40 mm"})
    clampings, findings = fitted(made)
    assert [clamping.name for clamping in clampings] == ["I"]
    assert "inside_jaws does not hold diameter 60 mm (80 mm to 900 mm)" in errors(findings)[0]


TABLE_LIMITS = [
    ({"machine__table__load": "150 kg"}, "table load 150 kg"),
    ({"machine__table__swing": "390 mm"}, "the blank is 400 mm across (swing 390 mm"),
    # 206 mm of blank on a riser of 60 mm in clamping II.
    (
        {"machine__table__height": "250 mm"},
        "on a riser of 60 mm is 266 mm high (height above the table 250 mm)",
    ),
    ({"machine__table__inertia_limit": 2.0}, "moment of inertia, integral of r^2 dm over the section"),
]


@pytest.mark.parametrize(("keys", "words"), TABLE_LIMITS)
def test_limits_of_the_table_are_checked(keys, words):
    """Load, swing, height and inertia give errors with both numbers."""
    _, findings = fitted(plain_ring(), shop_with(**keys))
    assert any(words in text for text in errors(findings)), errors(findings)


def test_a_band_high_above_the_seat_is_a_warning():
    """Jaws 60 mm high do not reach a band that ends 100 mm above the face the part stands on."""
    held = {**FROM_ABOVE, "z_from": "60 mm", "z_to": "100 mm"}
    _, findings = fitted(plain_ring(clampings=[FROM_BELOW, held]))
    warning = next(finding for finding in findings if finding.severity is Severity.WARNING)
    assert "ends 100 mm above the face that the part stands on" in warning.what


def test_mass_is_the_blank_less_what_only_earlier_clampings_take():
    """In I the whole blank; in II the layer under the lower face and the bore are gone.

    Blank: pi/4 (400^2 - 100^2) * 206 * 7.85e-6 = 190.51 kg. The rim is reached in II too and stays.
    II: pi/4 (400^2 - 120^2) * 203 mm3 = 182.23 kg: the bore goes on through the stock on the upper face.
    """
    (first, second), _ = fitted(plain_ring())
    density, quarter = 7.85e-6, math.pi / 4
    blank = quarter * (400**2 - 100**2) * 206 * density
    later = quarter * (400**2 - 120**2) * 203 * density
    assert first.mass == pytest.approx(blank, rel=1e-9)
    assert second.mass == pytest.approx(later, rel=1e-9)


def test_a_weighed_blank_scales_the_mass():
    """A blank of twice the computed mass gives twice the mass as clamped."""
    computed = fitted(plain_ring())[0][1].mass
    heavy = 2 * math.pi / 4 * (400**2 - 100**2) * 206 * 7.85e-6
    (_, second), _ = fitted(plain_ring(blank={**RING, "mass": f"{heavy!r} kg"}))
    assert second.mass == pytest.approx(2 * computed, rel=1e-9)


def test_outside_jaws_cap_the_speed():
    """VDI 3106: n = 30/pi sqrt((F0/Ssp - Sz F)/sum(m r)), F from the rough cut at the grip diameter.

    Rough cut: kc = 1600 * 0.4^-0.25 = 2011.9 N/mm2, Fc = 2011.9 * 4 * 0.4 = 3219 N at diameter 400 gripped at
    400: jaw force 3219/0.15 = 21460 N. n = 30/pi sqrt((180000/1.5 - 1.5*21460)/60) = 365 rpm with 60 kg m.
    """
    means = [{**MEANS[0], "jaw_moment": "60 kg m"}, *MEANS[1:]]
    (first, _), _ = fitted(plain_ring(), shop_with(clamping_means=means))
    force = 1600 * 0.4**-0.25 * 4 * 0.4 / 0.15
    assert first.table_speed == pytest.approx(30 / math.pi * math.sqrt((120000 - 1.5 * force) / 60), rel=1e-9)
    assert first.table_speed == pytest.approx(365, abs=1)
    assert "jaws hard_jaws: n = 30/pi sqrt((F0/Ssp - Sz F)/sum(m r))" in first.speed_reason


def test_the_speed_at_mass_curve_caps_the_speed():
    """182 kg of part and 400 kg of means lie beyond the point of 500 kg."""
    means = [*MEANS[:2], {**MEANS[2], "mass": "400 kg"}, MEANS[3]]
    (_, second), _ = fitted(plain_ring(), shop_with(clamping_means=means))
    assert second.table_speed == 200
    assert second.speed_reason == ("table 200 rpm up to 4 t; part at most 182 kg + means 400 kg = 582 kg")


CLAMP_HOLES = {
    "name": "clamps", "kind": "bolt_circle", "on": "lower_face", "circle_diameter": "280 mm", "count": 8,
    "diameter": "20 mm", "thread_pitch": "2.5 mm", "depth": "50 mm", "thread_depth": "40 mm",
    "use": "clamping",
}  # fmt: skip
TEETH = zone(
    "teeth", "external_gear", 0, 200, teeth=95, module="4 mm", flank_class={"year": 2013, "class": 8}
)


def proposal(*features):
    """Give the two proposed clampings and the note."""
    clampings, findings = fitted(part(*features, clampings=[]))
    assert not errors(findings)
    return clampings, findings[0]


def test_bolts_through_clamping_threads_are_proposed_first():
    """Bolted from below, bore and teeth are both free."""
    (first, second), note = proposal(LOWER, UPPER, bore(), TEETH, CLAMP_HOLES)
    assert (first.clamping.up, first.clamping.hold, first.clamping.on) == ("lower", "outside jaws", "blank")
    assert (second.clamping.hold, second.clamping.on, second.clamping.rests_on) == (
        "bolts", "clamps", "lower_face",
    )  # fmt: skip
    assert first.proposed
    assert second.proposed
    assert note.severity is Severity.NOTE
    assert "the part file gives no clampings; proposed: I lower side up" in note.what
    # Teeth down to the lower face: 12 modules of run-out and 10 mm want 58 mm of air; a riser of 60 is there.
    assert second.clamping.riser == 60


def test_inside_jaws_are_proposed_where_teeth_cover_the_outside():
    """Without clamping threads the bore is gripped, so that the teeth are free."""
    (_, second), _ = proposal(LOWER, UPPER, bore(), TEETH)
    assert (second.clamping.hold, second.clamping.on) == ("inside jaws", "bore")
    assert second.reach_by_feature["teeth"].reachable


def test_outside_jaws_are_proposed_for_a_part_without_bore():
    """A solid part with a lower spigot is gripped on it."""
    (_, second), _ = proposal(LOWER, UPPER, outside("spigot", 0, 60, 300), outside("rim", 60, 200, 390))
    assert (second.clamping.hold, second.clamping.on) == ("outside jaws", "spigot")
    assert second.means.soft


def test_a_riser_is_proposed_where_the_level_head_needs_it():
    """Radial holes at z 100 lie 100 mm above the bottom, the head of 300 mm needs 150 mm: a riser of 60 mm.

    It stands in the clamping where they are drilled; the other one needs none.
    """
    cross = {
        "name": "cross", "kind": "bolt_circle", "direction": "radial", "on": "rim", "z": "100 mm", "count": 2,
        "diameter": "14 mm", "depth": "20 mm",
    }  # fmt: skip
    (first, second), _ = proposal(LOWER, UPPER, bore(), outside("rim", 0, 200, 390), cross)
    assert first.clamping.riser == 0
    assert second.clamping.riser == 60


def test_every_feature_is_reached_by_what_is_proposed():
    """The proposal leaves nothing unreached where two clampings are enough."""
    clampings, _ = proposal(LOWER, UPPER, bore(), TEETH, CLAMP_HOLES)
    for name in ("lower_face", "upper_face", "bore", "teeth", "clamps"):
        assert any(clamping.reach_by_feature[name].reachable for clamping in clampings), name
