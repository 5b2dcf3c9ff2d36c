"""Set-ups of the shipped parts: what is held, reached and finished, and how it is held."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import pytest

from sequencer.files import read_part_and_shop
from sequencer.gears.tolerances import flank_tolerances
from sequencer.operations import BENCH
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.part import Clamping, Part
from sequencer.part.section import make_section
from sequencer.plan import Plan, make_plan
from sequencer.setups import SetUp, set_up_findings
from sequencer.setups.cautions import mass_class

PARTS = Path(__file__).parents[3] / "parts"
NAMES = ("first_wheel", "telescope_ring", "press_sleeve")


@lru_cache
def planned(name: str) -> Plan:
    return make_plan(*read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml"))


@pytest.mark.parametrize("name", NAMES)
def test_one_set_up_a_visit(name: str) -> None:
    plan = planned(name)
    visits = [(clamping, steps) for clamping, steps in plan.sequence.visits if clamping != BENCH]
    assert [set_up.name for set_up in plan.set_ups] == [clamping for clamping, _ in visits]
    for set_up, (_, steps) in zip(plan.set_ups, visits, strict=True):
        assert set_up.operations == tuple(step.operation.name for step in steps)


@pytest.mark.parametrize("name", NAMES)
def test_each_visit_takes_over_what_the_last_one_left(name: str) -> None:
    """From the blank to the finished part; teeth, holes and keyways all cut at the end."""
    plan = planned(name)
    first, last = plan.set_ups[0], plan.set_ups[-1]
    assert first.before.mass == pytest.approx(plan.section.stock_mass(7.85))
    assert last.after.mass == pytest.approx(plan.section.mass(7.85), rel=1e-6)
    for one, other in zip(plan.set_ups[:-1], plan.set_ups[1:], strict=True):
        assert one.after.drawing == other.before.drawing
        assert one.after.mass == pytest.approx(other.before.mass)
    assert all(set_up.before.mass >= set_up.after.mass for set_up in plan.set_ups)


@pytest.mark.parametrize("name", NAMES)
def test_every_feature_is_finished_once_and_seen_or_hidden(name: str) -> None:
    plan = planned(name)
    finished = [feature for set_up in plan.set_ups for feature in set_up.finished]
    assert sorted(finished) == sorted({f.name for f in plan.part.features} & set(finished))
    for set_up in plan.set_ups:
        seen = {note.name for note in set_up.reached}
        hidden = {note.name for note in set_up.hidden}
        assert seen | hidden == set(plan.part.by_name)
        assert not seen & hidden
        assert set(set_up.cut) <= seen
        assert all(note.reason for note in (*set_up.reached, *set_up.hidden))


@pytest.mark.parametrize("name", NAMES)
def test_the_outline_stands_on_the_riser(name: str) -> None:
    for set_up in planned(name).set_ups:
        for state in (set_up.before, set_up.after):
            heights = [z for outline in state.standing for z, _ in outline]
            assert min(heights) == pytest.approx(set_up.free_height, abs=1e-6)
            assert min(heights) < state.centre < max(heights)


def test_turned_over_shows_the_drawing_upside_down() -> None:
    first = planned("first_wheel").set_ups[0]
    assert first.clamping.clamping.up == "lower"
    (drawing,), (standing,) = first.before.drawing, first.before.standing
    assert [94 - z for z, _ in drawing] == pytest.approx([height for height, _ in standing])


def ring_set_ups() -> tuple[SetUp, ...]:
    return planned("telescope_ring").set_ups


def test_bolts_press_no_ring_out_of_round() -> None:
    first, second = ring_set_ups()
    assert first.ovality is not None
    assert first.ovality.jaws == 4
    assert second.ovality is None


def test_holding_by_hand() -> None:
    """VDI 3106 with the shop's numbers: 160 kN, 26 kg m, safety 1.5, friction 0.15 on 824 mm."""
    rough = ring_set_ups()[0].rough
    lost = 26 * (3.141592653589793 * rough.rpm / 30) ** 2
    assert rough.lost == pytest.approx(lost)
    assert rough.at_speed == pytest.approx(160_000 / 1.5 - lost)
    assert rough.torque_held == pytest.approx(rough.at_speed * 0.15 * 0.412 / 1.5)
    assert rough.holds


def test_teeth_of_a_later_clamping_limit_the_wobble() -> None:
    """A third of the helix slope tolerance of the closest teeth, over the diameter of the seat."""
    target = next(t for t in ring_set_ups()[1].targets if t.what == "wobble of the face")
    slope = flank_tolerances("ISO 1328-1", 2013, 7, 800, 5, 62).rounded.helix_slope
    assert target.limit <= slope / 3 * 810 / 62 + 1e-6


def test_runout_target_is_a_third_of_the_runout_of_the_teeth() -> None:
    second = planned("first_wheel").set_ups[1]
    target = next(t for t in second.targets if t.what == "runout of the diameter")
    runout = flank_tolerances("ISO 1328-1", 2013, 8, 360, 6, 70).rounded.runout
    assert target.name == "bore"
    assert target.limit == pytest.approx(runout / 3)


def test_the_keyway_unbalances_the_wheel() -> None:
    after = planned("first_wheel").set_ups[-1].after
    assert after.unbalance_cause == "keyway"
    assert after.unbalance == pytest.approx(20 * 5.4 * 90 * 7.85e-6 * (45 + 2.7))


def test_things_on_the_table() -> None:
    first, second = ring_set_ups()
    assert [thing.name for thing in first.things] == ["table", "jaws"]
    assert [thing.name for thing in second.things] == ["table", "riser", "bolts"]
    jaws = first.things[1]
    assert (jaws.z_from, jaws.z_to, jaws.r_from) == (0, 30, 412)


def test_lifting_and_checks() -> None:
    first, second = ring_set_ups()
    assert (first.lifting.mass_class, first.lifting.turned_over) == ("crane", False)
    assert second.lifting.turned_over
    assert any("turning device" in caution for caution in second.lifting.cautions)
    assert [mass_class(mass) for mass in (10, 30, 60)] == ["by hand", "with a lifting aid", "crane"]
    assert "check the clamping force again" in " ".join(first.checks)


def test_wheel_and_ring_are_held_well() -> None:
    for name in ("first_wheel", "telescope_ring"):
        assert set_up_findings(planned(name).set_ups) == ()


def test_a_tall_sleeve_on_a_short_grip_may_tip() -> None:
    """300 mm tall, gripped over 20 mm of diameter 140: moments by hand."""
    second = planned("press_sleeve").set_ups[1]
    moment = 0.15 * 110_000 * 0.140 / 3.141592653589793 + second.before.mass * 9.80665 * 0.070
    assert second.tipping.moment == pytest.approx(moment)
    assert second.tipping.force == pytest.approx(moment * 1000 / 1.5 / second.tipping.height)
    assert second.tipping.needed > second.tipping.allowed
    found = [f for f in set_up_findings((second,)) if "may tip the part" in f.what]
    assert [f.where for f in found] == ["clamping II"]


@pytest.mark.parametrize(("bore", "free"), [("60 mm", True), ("30 mm", False), ("0 mm", False)])
def test_straps_on_the_rim_need_a_bore_for_the_second_set(bore: str, free: bool) -> None:
    part = Part.model_validate(
        {
            "name": "Disc",
            "drawing": "D-1",
            "material": "C45+N",
            "blank": {"form": "bar", "diameter": "300 mm", "bore": bore, "z_from": 0, "z_to": "52 mm"},
            "features": [
                {"name": "top", "kind": "face", "side": "upper", "z": "50 mm"},
                {
                    "name": "rim",
                    "kind": "turned_diameter",
                    "diameter": "290 mm",
                    "z_from": 0,
                    "z_to": "50 mm",
                },
            ],
        }
    )
    shop = planned("first_wheel").shop
    plate = Clamping.model_validate(
        {"name": "I", "up": "upper", "hold": "face plate", "on": "blank", "rests_on": "blank"}
    )
    standing = Standing(part, shop, make_section(part), plate)
    for name in ("top", "rim"):
        answer = reach_of(standing, part.by_name[name])
        assert answer.reachable is free
        assert free or "the straps stand on the rim" in answer.reason


def test_a_table_that_bears_no_unbalance_warns() -> None:
    part, shop = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
    given = shop.model_dump(mode="json", by_alias=True)
    given["machine"]["table"]["unbalance_limit"] = "0.001 kg m"
    plan = make_plan(part, type(shop).model_validate(given))
    found = [f for f in plan.findings if "unbalance is" in f.what]
    assert found
    assert "balance it with a counterweight" in found[0].remedy


def test_a_semi_finished_part_is_indicated_on_its_own_surfaces() -> None:
    """Before hardening only the grinding stock is left: that is true enough, and no longer the raw blank."""
    second, third = planned("press_sleeve").set_ups[1:]
    for set_up in (second, third):
        assert "blank" not in [target.name for target in set_up.targets]
        assert all(target.limit >= 1 for target in set_up.targets)


def test_set_ups_indicate_what_the_datum_table_says() -> None:
    plan = planned("bridge_wheel")
    for set_up, datums in zip(plan.set_ups, plan.datums.setups, strict=True):
        aimed = [(each.feature, each.limit.value) for each in datums.targets if each.limit is not None]
        assert [(target.name, target.limit) for target in set_up.targets] == aimed
        axis = "the raw outside" if datums.axis.feature == "blank" else datums.axis.feature
        assert set_up.zero.axis.startswith(axis)
