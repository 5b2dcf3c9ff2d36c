"""Datums, ledger, process dimensions and stock in a finished order."""

from __future__ import annotations

import math
import random
import sys
from functools import cache
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from turned_rings import PARTS, cylinder, example_shop, face, guide_ring

from sequencer.files import read_part_and_shop
from sequencer.ledger import LedgerEntry
from sequencer.part import Part
from sequencer.plan import Plan, make_plan
from sequencer.shop import Shop
from sequencer.tolerancing import Cause, Kind, Verdict


@cache
def ring(runout: float = 0.03) -> Plan:
    """Plan the guide ring."""
    return make_plan(guide_ring(runout), example_shop(), seconds=30)


@cache
def shipped_plan(name: str) -> Plan:
    """Plan a shipped part."""
    return make_plan(*read_part_and_shop(PARTS / f"{name}.yaml", PARTS / "shop.yaml"), seconds=60)


def entry(plan: Plan, feature: str, kind: Kind) -> LedgerEntry:
    """Find one entry of the ledger."""
    found = [each for each in plan.ledger.of(feature) if each.budget.relation.kind is kind]
    assert len(found) == 1
    return found[0]


def changed_shop(**keys: object) -> Shop:
    """Change the example shop."""
    written = example_shop().model_dump(mode="json", exclude_unset=True, by_alias=True)
    return Shop.model_validate(written | keys)


def test_a_runout_over_two_clampings_tells_its_chain_and_its_shares() -> None:
    """By hand: 20 um eccentricity, 3 table, 2 indicator, 1.08 tilt, spring 20 um/m*35/110*0.4 m = 2.55."""
    found = entry(ring(), "upper_seat", Kind.RUNOUT)
    budget = found.budget
    by_cause = {cause: round(budget.used_by(cause), 3) for cause in Cause if budget.used_by(cause)}
    assert by_cause == {
        Cause.MACHINE: 3.0,
        Cause.RECLAMPING: 21.08,
        Cause.RELEASE: pytest.approx(20 * 0.4 * _low_force(), abs=1e-3),
        Cause.MEASURING: 2.0,
    }
    chain = found.chain
    assert [(link.surface, link.role, link.clamping) for link in chain] == [
        ("upper_seat", "toleranced", "II"),
        ("lower_seat", "gives II its axis", "I"),
        ("lower_face", "gives II its face", "I"),
        ("lower_seat", "datum", "I"),
    ]
    assert found.crosses
    assert found.clampings == ("II", "I")
    assert "Chain: upper_seat toleranced (upper_seat/finish, II)" in found.sentence


def _low_force() -> float:
    """Share of the force with which soft jaws finish, if the ring is let go before."""
    means = {fitted.name: fitted.means for fitted in ring().operations.clampings}
    released = any(step.operation.name == "II/release" for step in ring().sequence.steps)
    held = [float(m.finishing_force or m.force) / float(m.force) for m in means.values()]
    return max(held) if released else 1.0


def test_made_together_nothing_of_reclamping_is_left() -> None:
    found = entry(ring(0.012), "upper_seat", Kind.RUNOUT)
    assert found.verdict is not Verdict.FAILS
    assert not found.crosses


def test_what_does_not_hold_is_told_with_its_largest_share() -> None:
    signed = {"owner": "R. Vogel", "date": "2027-02-01", "reason": "trued by hand afterwards"}
    shop = changed_shop(rules={"changes": [{"rule": "R53", "action": "off"} | signed]})
    plan = make_plan(guide_ring(0.012), shop, seconds=30)
    told = [f for f in plan.findings if f.subject == "ledger" and f.where == "upper_seat"]
    assert "runout to lower_seat does not hold" in told[0].what
    assert "12 um allowed" in told[0].limit
    assert "the largest share (eccentricity by lower_seat: shop file, key machine.capability.reclamping)" in (
        told[0].remedy
    )


def test_the_ledger_of_the_ring_drawn_at_random() -> None:
    """Each ring is built anew from vectors of eccentricity, tilt and table runout, and its runout is read."""
    budget = entry(ring(), "upper_seat", Kind.RUNOUT).budget
    values = {share.fact.name.split(" by ")[0]: share.value for share in budget.shares}
    drawn = random.Random(20270201)
    runouts = []
    for _ in range(30_000):
        x = y = 0.0
        for name in ("eccentricity", "tilt", "runout of the table"):
            # A vector whose length stays below half of the share in 99.73 % of the rings.
            scale = values[name] / 2 / math.sqrt(-2 * math.log(0.0027))
            x, y = x + drawn.gauss(0, scale), y + drawn.gauss(0, scale)
        runouts.append(2 * math.hypot(x, y))
    runouts.sort()
    alone = math.sqrt(sum(values[name] ** 2 for name in ("eccentricity", "tilt", "runout of the table")))
    assert runouts[int(0.9973 * len(runouts))] == pytest.approx(alone, rel=0.03)
    assert alone < budget.rss < budget.worst


@pytest.mark.parametrize(
    "name", ["first_wheel", "bridge_wheel", "telescope_ring", "press_sleeve", "mill_ring_inch"]
)
def test_shipped_parts_hold_their_drawing(name: str) -> None:
    plan = shipped_plan(name)
    assert plan.ledger.entries
    assert {e.verdict for e in plan.ledger.entries} <= {Verdict.HOLDS, Verdict.STATISTICALLY}
    assert not [f for f in plan.findings if f.subject in ("ledger", "datums", "inspection")]
    for each in plan.ledger.entries:
        assert each.chain[0].surface == each.feature
        assert each.budget.worst == pytest.approx(sum(share.value for share in each.budget.shares))


# -- datums --------------------------------------------------------------------------------------------


def test_each_visit_says_what_it_indicates_and_to_what() -> None:
    """A third of 30 um of runout: 10 um; where nothing needs more, no face is asked for less than 10 um."""
    first, second = ring().datums.setups
    assert (first.axis.feature, first.face.feature) == ("blank", "blank")
    assert second.axis.feature == "lower_seat"
    assert second.axis.letter == "A"
    assert second.axis.limit is not None
    assert second.axis.limit.value == pytest.approx(10.0)
    assert second.axis.limit.formula == "TIR = 0.333*30 um/1 = 10 um"
    assert second.axis.reason == "from upper_seat: runout to lower_seat"
    assert second.face.feature == "lower_face"
    assert second.face.letter == "P1"
    assert not second.face.direct
    assert second.face.limit is not None
    assert second.face.limit.value == 10.0


def test_a_datum_says_who_makes_it_where_it_is_used_and_what_moves_it() -> None:
    seat = next(each for each in ring().datums.datums if each.letter == "A")
    assert (seat.operation, seat.clamping, seat.process) == ("lower_seat/finish", "I", False)
    assert [use.how for use in seat.uses] == ["gives the axis", "upper_seat counts from it (runout)"]
    assert [(truth.event, truth.true) for truth in seat.truths] == [
        ("let go after I", True),
        ("put into II", False),
    ]
    assert "A is lower_seat: made by lower_seat/finish in I" in seat.sentence


def test_process_datums_never_take_a_letter_of_the_drawing() -> None:
    table = shipped_plan("bridge_wheel").datums
    letters = [each.letter for each in table.datums]
    assert letters[:4] == ["A", "B", "C", "P1"]
    assert len(set(letters)) == len(letters)
    assert next(each for each in table.datums if each.feature == "lower_rim").letter == "P2"


def test_the_angular_zero_is_kept_where_all_of_it_is_cut_in_one_visit() -> None:
    angle = shipped_plan("bridge_wheel").datums.setups[1].angle
    assert angle.reason == "C0 is set anywhere and kept until release: bolts: phase to wheel"


def timed_ring() -> Part:
    """Make a ring with a keyway cut from above and holes timed to it drilled from below."""
    holes = {
        "name": "holes", "kind": "bolt_circle", "on": "lower_face", "circle_diameter": "240 mm", "count": 6,
        "diameter": "12 mm", "depth": "20 mm", "phase": {"to": "slot", "tolerance": "0.2 mm"},
    }  # fmt: skip
    slot = {
        "name": "slot", "kind": "keyway", "on": "bore", "width": "20 mm", "depth": "6 mm", "z_from": "0 mm",
        "z_to": "100 mm",
    }  # fmt: skip
    jaws = {"hold": "outside jaws"}
    return Part.model_validate(
        {
            "name": "Timed ring",
            "drawing": "TR-1",
            "material": "C45+N",
            "blank": {"form": "bar", "diameter": "310 mm", "bore": "90 mm", "z_from": "-3 mm",
                      "z_to": "103 mm"},
            "datums": {"A": "bore"},
            "features": [
                face("lower_face", "lower", 0),
                face("upper_face", "upper", 100),
                cylinder("bore", "bore", 0, 100, 110, tolerance="H7"),
                cylinder("rim", "turned_diameter", 0, 50, 300),
                cylinder("top", "turned_diameter", 50, 100, 300),
                slot | {"clamping": "I"},
                holes | {"clamping": "II"},
            ],
            "clampings": [
                {"name": "I", "up": "upper", "on": "blank", "rests_on": "blank", "z_from": "-3 mm",
                 "z_to": "45 mm"} | jaws,
                {"name": "II", "up": "lower", "on": "top", "rests_on": "upper_face", "z_from": "52 mm",
                 "z_to": "100 mm"} | jaws,
            ],
        }
    )  # fmt: skip


def test_the_angular_zero_is_found_again_on_a_keyway() -> None:
    """A third of 200 um may go into finding it; u r/r0 = 2 um*240/r0 enters the phase."""
    plan = make_plan(timed_ring(), example_shop(), seconds=30)
    angle = plan.datums.setups[1].angle
    assert angle.feature == "slot"
    assert angle.letter.startswith("P")
    assert angle.limit is not None
    assert angle.limit.value == pytest.approx(200 / 3)
    assert "C0 is found again by probing its sides of slot" in angle.reason
    shares = {share.fact.name: share.value for share in entry(plan, "holes", Kind.PHASE).budget.shares}
    diameter = plan.section.extent("slot").outer
    assert shares["new angular zero by slot"] == pytest.approx(2 * 240 / diameter)
    assert shares["eccentricity by bore"] == 10.0


# -- process dimensions and stock ----------------------------------------------------------------------


def stepped(tolerance_of_step: str, shop: Shop | None = None) -> Plan:
    """Plan a ring whose upper step counts from the lower face but is cut while it stands on the shoulder."""
    jaws = {"hold": "outside jaws"}
    made = Part.model_validate(
        {
            "name": "Stepped ring",
            "drawing": "SR-1",
            "material": "C45+N",
            "blank": {"form": "bar", "diameter": "410 mm", "bore": "100 mm", "z_from": "-4 mm",
                      "z_to": "124 mm"},
            "datums": {"A": "foot"},
            "features": [
                face("lower_face", "lower", 0),
                cylinder("foot", "turned_diameter", 0, 50, 300),
                face("shoulder", "lower", 50),
                cylinder("rim", "turned_diameter", 50, 120, 400),
                face("upper_face", "upper", 120, tolerance=tolerance_of_step),
                cylinder("bore", "bore", 0, 120, 120),
            ],
            "clampings": [
                {"name": "I", "up": "lower", "on": "blank", "rests_on": "blank", "z_from": "74 mm",
                 "z_to": "124 mm"} | jaws,
                {"name": "II", "up": "upper", "on": "foot", "rests_on": "shoulder", "z_from": "0 mm",
                 "z_to": "45 mm"} | jaws,
            ],
        }
    )  # fmt: skip
    return make_plan(made, shop or example_shop(), seconds=30)


def test_a_dimension_over_the_seat_becomes_a_chain_of_process_dimensions() -> None:
    """Numbers: 70 mm worked to in II: 6 Z + 2 zero + 11.5e-3*70 = 8.805; 50 mm in I: 6 + 0.575 = 6.575 um."""
    (transfer,) = stepped("±0.05 mm").ledger.transfers
    assert (transfer.face, transfer.datum, transfer.dimension) == ("upper_face", "lower_face", 120.0)
    upper, lower = transfer.chain
    assert (upper.first, upper.second, upper.nominal, upper.clamping) == (
        "upper_face",
        "shoulder",
        70.0,
        "II",
    )
    assert (lower.nominal, lower.clamping) == (50.0, "I")
    assert upper.reached.value == pytest.approx(8.805)
    assert lower.reached.value == pytest.approx(6.575)
    assert transfer.worst == pytest.approx(15.38)
    assert upper.tolerance + lower.tolerance == pytest.approx(
        50.0
    )  # all that the drawing allows is dealt out
    assert upper.tolerance == pytest.approx(50 * 8.805 / 15.38)
    assert transfer.finding is None


def test_a_chain_that_the_shop_does_not_reach_is_told() -> None:
    """With 12 um of Z: 14.8 and 12.6 um, 19.4 um as root-sum-square."""
    machine = example_shop().model_dump(mode="json", exclude_unset=True, by_alias=True)["machine"]
    machine["capability"] |= {"z": "12 um"}
    plan = stepped("±0.018 mm", changed_shop(machine=machine))
    told = [f for f in plan.findings if f.subject == "ledger" and "closes the chain" in f.what]
    assert "upper_face from shoulder in II" in told[0].what
    assert told[0].limit == "18 um allowed to either side"


def test_a_seat_on_the_datum_needs_no_transfer() -> None:
    assert ring().ledger.transfers == ()


def test_stock_is_the_closing_link_of_the_stages() -> None:
    """IT12 of 300 mm is 520 um: a quarter per side 0.13; h7 52 um: 0.013; 0.5 mm less and plus 0.143 mm."""
    stock = {each.operation: each for each in ring().ledger.stock}
    seat = stock["lower_seat/finish"]
    assert (seat.nominal, seat.left) == (0.5, 0.0)
    assert seat.least == pytest.approx(0.5 - 0.13 - 0.013)
    assert seat.most == pytest.approx(0.5 + 0.13 + 0.013)
    assert seat.finding is None


def test_stock_over_a_reclamping_takes_its_eccentricity() -> None:
    """The bridge wheel's bore is roughed in I and finished in II: 10 um come on top."""
    stock = {each.operation: each for each in shipped_plan("bridge_wheel").ledger.stock}
    facts = {fact.name: fact.value for fact in stock["bore/finish"].because}
    assert sum(value for name, value in facts.items() if name.startswith("eccentricity")) >= 0.01


def test_too_little_stock_is_told_once_the_blank_is_known() -> None:
    thin = guide_ring(0.03).model_dump(mode="json", exclude_unset=True, by_alias=True)
    thin["blank"] |= {"diameter": "402 mm"}
    shop = changed_shop(accuracy={"blank_tolerance": "1.5 mm", "blank_runout": "1 mm"})
    plan = make_plan(Part.model_validate(thin), shop, seconds=30)
    told = [f for f in plan.findings if f.subject == "ledger" and "clean up" in f.limit]
    assert any(f.where == "upper_seat" and f.severity.value == "warning" for f in told)
