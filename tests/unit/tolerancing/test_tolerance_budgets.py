"""Budgets of toleranced relations: numbers by hand, and by drawing errors at random."""

from __future__ import annotations

import math
import random
import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from turned_rings import context_of, example_shop, face, guide_ring, relation_of, shipped

from sequencer.shop import Shop
from sequencer.tolerancing import (
    Budget,
    Cause,
    Kind,
    Reclamping,
    Situation,
    Verdict,
    apart_and_together,
    make_budget,
    relations_of,
)
from sequencer.tolerancing.effects import of_eccentricity, of_tilt
from sequencer.tolerancing.situation import Instrument

JAWS = next(means for means in example_shop().clamping_means if means.name == "four_jaws")
BOLTS = next(means for means in example_shop().clamping_means if means.name == "riser_bolts")


def shares(budget: Budget) -> dict[str, float]:
    """Values of the shares by name."""
    return {each.fact.name: round(each.value, 3) for each in budget.shares}


def test_runout_after_one_reclamping_by_hand() -> None:
    """Numbers: 2*10 um eccentricity; tilt 2*12 um/m*0.045 m; table 3 um; indicator 2 um."""
    context = context_of(guide_ring(0.03))
    again = (Reclamping("II", JAWS),)
    relation = relation_of(context, "upper_seat", Kind.RUNOUT)
    budget = make_budget(
        context, relation, Situation(axis=again, face=again, instrument=Instrument.INDICATOR)
    )
    assert shares(budget) == {
        "runout of the table": 3.0,
        "eccentricity": 20.0,
        "tilt": 1.08,
        str(Instrument.INDICATOR): 2.0,
    }
    assert budget.worst == pytest.approx(26.08)
    assert budget.rss == pytest.approx(math.sqrt(9 + 400 + 1.08**2 + 4))  # 20.35
    assert budget.verdict is Verdict.HOLDS
    assert "upper_seat: runout to lower_seat holds: 30 um allowed, 26.1 um at worst" in budget.sentence
    assert "20 um eccentricity in II" in budget.sentence


@pytest.mark.parametrize(
    ("runout", "verdict"),
    [(0.027, Verdict.HOLDS), (0.021, Verdict.STATISTICALLY), (0.020, Verdict.FAILS)],
)
def test_verdict_lies_between_worst_case_and_root_sum_square(runout: float, verdict: Verdict) -> None:
    """Worst case 26.08 um, root-sum-square 20.35 um."""
    context = context_of(guide_ring(runout))
    again = (Reclamping("II", JAWS),)
    situation = Situation(axis=again, face=again, instrument=Instrument.INDICATOR)
    budget = make_budget(context, relation_of(context, "upper_seat", Kind.RUNOUT), situation)
    assert budget.verdict is verdict


def test_size_takes_machine_warmth_spring_and_measuring_by_hand() -> None:
    """h7 of 400 mm is 57 um wide. Numbers for repeatability 3 um, 1 K, 20 um/m of spring, U 4 + 8 um/m."""
    context = context_of(guide_ring(0.03))
    relation = relation_of(context, "upper_seat", Kind.SIZE)
    assert relation.allowance == pytest.approx(28.5)
    budget = make_budget(context, relation, Situation(held=(("I", JAWS),)))
    assert shares(budget) == {
        "repeatability of X": 6.0,  # 2*3
        "spring of four_jaws": 4.0,  # 20 um/m*0.4 m/2
        "growth by warmth": 4.6,  # 11.5 um/(m K)*0.4 m*1 K
        str(Instrument.PROBE): 7.2,  # 4 + 8*0.4
    }
    assert budget.worst == pytest.approx(21.8)
    assert [each.fact.estimate for each in budget.shares] == [True, True, True, True]


def test_low_force_springs_less_and_stress_and_heat_come_on_top() -> None:
    """Spring 20 um/m*50/160 kN*0.4 m/2 = 1.25; stress 30 um/m*0.4/2 = 6; hardening 600 um/m*0.4 = 240."""
    context = context_of(guide_ring(0.03))
    relation = relation_of(context, "upper_seat", Kind.SIZE)
    situation = Situation(held=(("I", JAWS),), low_force=True, stressed=True, heat=("case hardening",))
    found = shares(make_budget(context, relation, situation))
    assert found["spring of four_jaws"] == 1.25
    assert found["stress that roughing sets free"] == 6.0
    assert found["case hardening"] == 240.0


def test_warm_part_grows_five_times_as_much() -> None:
    context = context_of(guide_ring(0.03))
    relation = relation_of(context, "upper_seat", Kind.SIZE)
    assert shares(make_budget(context, relation, Situation(warm=True)))["growth by warmth"] == 23.0


def test_teeth_feel_eccentricity_and_wobble_as_handbooks_say() -> None:
    """Handbook relations, from memory: F_p = 2 e/cos(alpha_t); a wobble w over 1 m tilts the helix by b w."""
    context = shipped("bridge_wheel")
    pitch = relation_of(context, "wheel", Kind.TOOTH_PITCH, "lower")
    alpha_t = math.atan(math.tan(math.radians(20)) / math.cos(math.radians(22)))
    effect = of_eccentricity(pitch, 10.0)
    assert effect is not None
    assert effect.value == pytest.approx(20 / math.cos(alpha_t))
    helix = relation_of(context, "wheel", Kind.HELIX_SLOPE, "lower")
    tilted = of_tilt(helix, 25.0)  # b = 95 mm
    assert tilted is not None
    assert tilted.value == pytest.approx(25 * 0.095)
    assert of_eccentricity(helix, 10.0) is None


def test_pitch_of_an_eccentric_gear_is_what_its_flanks_show() -> None:
    """Flanks of a gear set off by e, seen along their normal at alpha_t, spread by 2 e/cos(alpha_t)."""
    e, alpha = 10.0, math.radians(21.4)
    turns = [2 * math.pi * tooth / 400 for tooth in range(400)]
    along = [e * math.sin(turn + alpha) / math.cos(alpha) for turn in turns]
    relation = relation_of(shipped("bridge_wheel"), "wheel", Kind.TOOTH_PITCH, "lower")
    effect = of_eccentricity(relation, e)
    assert effect is not None
    assert max(along) - min(along) == pytest.approx(effect.value, rel=2e-3)


def test_apex_by_hand() -> None:
    """At r 317.1 mm and 22 deg: C 6 arcsec 9.22/0.808 = 11.41, e 10/0.808 = 12.38, zeros 2 and 2.48 um."""
    context = shipped("bridge_wheel")
    again = (Reclamping("II", BOLTS),)
    relation = relation_of(context, "wheel", Kind.APEX)
    situation = Situation(axis=again, face=again, angle=again, instrument=Instrument.TEETH)
    found = shares(make_budget(context, relation, situation))
    radius = 7 * 84 / math.cos(math.radians(22)) / 2
    tangent = 2 * math.tan(math.radians(22))
    assert found["positioning of C"] == pytest.approx(
        1000 * radius * math.radians(6 / 3600) / tangent, abs=2e-3
    )
    assert found["eccentricity"] == pytest.approx(10 / tangent, abs=1e-3)
    assert found["positioning of Z"] == 6.0
    assert found["new zero in height"] == 2.0
    assert found["new angular zero"] == pytest.approx(2 / tangent, abs=1e-3)


def test_parallelism_across_clampings_is_the_wobble_over_the_face() -> None:
    """12 um over one metre on a face of 700 mm: 8.4 um."""
    context = shipped("telescope_ring")
    relation = relation_of(context, "upper_face", Kind.PARALLELISM)
    effect = of_tilt(relation, 12.0)
    assert effect is not None
    assert effect.value == pytest.approx(12 * relation.size / 1000)


def test_values_of_the_shop_win_and_are_no_estimates() -> None:
    written = example_shop().model_dump(mode="json", exclude_unset=True, by_alias=True)
    written["accuracy"] = {
        "temperature_difference": "2 K",
        "measuring": {"probe": "1 um", "probe_per_metre": "2 um"},
    }
    written["machine"]["capability"] |= {"repeatability": "1.5 um", "z": "4 um"}
    for means in written["clamping_means"]:
        means |= {"release_distortion": "8 um", "reclamping": "5 um"}
    shop = Shop.model_validate(written)
    context = context_of(guide_ring(0.03), shop)
    means = next(one for one in shop.clamping_means if one.name == "four_jaws")
    budget = make_budget(
        context, relation_of(context, "upper_seat", Kind.SIZE), Situation(held=(("I", means),))
    )
    assert shares(budget) == {
        "repeatability of X": 3.0,
        "spring of four_jaws": 1.6,
        "growth by warmth": 9.2,
        str(Instrument.PROBE): 1.8,
    }
    assert not any(each.fact.estimate for each in budget.shares)
    spring = next(each for each in budget.shares if each.cause is Cause.RELEASE)
    assert spring.change == "shop file, key clamping_means.four_jaws.release_distortion"
    again = (Reclamping("II", means),)
    runout = make_budget(context, relation_of(context, "upper_seat", Kind.RUNOUT), Situation(axis=again))
    assert shares(runout)["eccentricity"] == 10.0


def test_every_share_says_its_formula_source_and_where_to_change_it() -> None:
    for name in ("bridge_wheel", "telescope_ring", "mill_ring_inch", "press_sleeve"):
        context = shipped(name)
        again = (Reclamping("II", JAWS),)
        situation = Situation(again, again, again, (("II", JAWS),), stressed=True, heat=("nitriding",))
        for relation in relations_of(context):
            for each in make_budget(context, relation, situation).shares:
                assert each.fact.formula, (relation.words, each)
                assert each.fact.source, (relation.words, each)
                assert each.change, (relation.words, each)
                last = each.fact.formula.split(";")[0].split("=")[-1]
                assert float(last.split()[0]) == pytest.approx(each.value, abs=0.006), each.fact


# -- drawn at random ----------------------------------------------------------------------------------


def test_root_sum_square_holds_for_errors_drawn_at_random() -> None:
    """Normal errors within their limits at three sigma: 99.73 % of parts lie within the root-sum-square."""
    context = shipped("bridge_wheel")
    again = (Reclamping("II", BOLTS),)
    relation = relation_of(context, "bolts", Kind.PHASE)
    budget = make_budget(context, relation, Situation(axis=again, face=again, angle=again))
    drawn = random.Random(4711)
    parts = 40_000
    total = [sum(drawn.gauss(0, each.value / 3) for each in budget.shares) for _ in range(parts)]
    inside = sum(abs(each) <= budget.rss for each in total) / parts
    assert inside == pytest.approx(0.9973, abs=0.001)
    ordered = sorted(abs(each) for each in total)
    assert ordered[int(0.9973 * parts)] == pytest.approx(budget.rss, rel=0.03)


def test_worst_case_is_never_exceeded_and_nearly_reached() -> None:
    context = context_of(guide_ring(0.03))
    again = (Reclamping("II", JAWS),)
    relation = relation_of(context, "upper_seat", Kind.RUNOUT)
    budget = make_budget(context, relation, Situation(axis=again, face=again))
    drawn = random.Random(4712)
    total = [abs(sum(drawn.uniform(-s.value, s.value) for s in budget.shares)) for _ in range(40_000)]
    assert max(total) <= budget.worst
    assert max(total) > 0.9 * budget.worst


def test_eccentricities_drawn_as_vectors_give_the_same_runout() -> None:
    """Runout is twice the sum of vectors of any direction; its mean square is that of the root-sum-square."""
    context = context_of(guide_ring(0.03))
    again = (Reclamping("II", JAWS), Reclamping("III", BOLTS))
    relation = relation_of(context, "upper_seat", Kind.RUNOUT)
    budget = make_budget(context, relation, Situation(axis=again))
    radial = [s.value / 2 for s in budget.shares if s.cause is not Cause.MEASURING]  # 1.5, 10, 10
    drawn = random.Random(4713)
    squares, most = [], 0.0
    for _ in range(40_000):
        turns = [drawn.uniform(0, 2 * math.pi) for _ in radial]
        x = sum(e * math.cos(turn) for e, turn in zip(radial, turns, strict=True))
        y = sum(e * math.sin(turn) for e, turn in zip(radial, turns, strict=True))
        runout = 2 * math.hypot(x, y)
        squares.append(runout**2)
        most = max(most, runout)
    without_measuring = math.sqrt(sum((2 * e) ** 2 for e in radial))
    assert math.sqrt(sum(squares) / len(squares)) == pytest.approx(without_measuring, rel=0.01)
    assert most <= budget.worst


# -- what the drawing says -----------------------------------------------------------------------------


def test_relations_of_a_shipped_part() -> None:
    words = [relation.words for relation in relations_of(shipped("bridge_wheel"))]
    assert words[:4] == [
        "lower_face: flatness",
        "lower_spigot: size",
        "wheel: runout to bore",
        "lower half of wheel: total cumulative pitch to bore and lower_face",
    ]
    assert "wheel: apex" in words
    assert "bolts: phase to wheel" in words
    assert not any("runout of the teeth" in each for each in words)  # the drawing gives its own


def test_height_of_a_face_counts_from_its_datum_face() -> None:
    part = guide_ring(
        0.03,
        datums={"A": "lower_seat", "B": "step_face"},
        features=[
            *(
                each
                for each in guide_ring(0.03).model_dump(mode="json", exclude_unset=True)["features"]
                if each["name"] != "upper_face"
            ),
            face("upper_face", "upper", 120, datums=["B"], tolerance="±0.03 mm"),
        ],
    )
    relation = relation_of(context_of(part), "upper_face", Kind.HEIGHT)
    assert (relation.other, relation.lever, relation.allowance) == ("step_face", 60.0, 30.0)


@pytest.mark.parametrize(
    ("runout", "needed"), [(0.05, False), (0.021, False), (0.02, True), (0.0037, True), (0.003, False)]
)
def test_one_clamping_is_needed_only_where_it_helps(runout: float, needed: bool) -> None:
    """Apart 20.3 um root-sum-square, together 3.6 um: below that one clamping does not help either."""
    context = context_of(guide_ring(runout))
    from sequencer.operations import make_operations

    clampings = make_operations(context.part, context.shop).clampings
    relation = relation_of(context, "upper_seat", Kind.RUNOUT)
    found = apart_and_together(context, relation, "lower_seat", clampings)
    assert found is not None
    assert found.needs_one_clamping is needed
