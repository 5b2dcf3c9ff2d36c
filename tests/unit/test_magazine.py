"""Pockets: wide tools block their neighbours, and what does not fit is said with numbers."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.magazine import make_magazine, place_tools, pockets_apart, tilting_moment
from sequencer.operations import Action, Alternative, Mode, Operation, Stage
from sequencer.sequencing import Sequence, Step
from sequencer.shop import Limits, Shop
from sequencer.shop.magazine import Magazine
from sequencer.shop.tools import CounterboreTool


def tool(name, diameter=60.0, mass=3.0, length=250.0, **more):
    return {
        "name": name,
        "kind": "counterbore",
        "title": f"Tool {name}",
        "diameter": "20 mm",
        "depth": "40 mm",
        "body_diameter": f"{diameter} mm",
        "functional_length": "180 mm",
        "overall_length": f"{length} mm",
        "mass": f"{mass} kg",
        **more,
    }


def magazine(**more):
    return {
        "pockets": 10,
        "pitch": "130 mm",
        "diameter_full": "125 mm",
        "diameter_free": "280 mm",
        "length": "500 mm",
        "tool_mass": "25 kg",
        "heavy_from": "12 kg",
        "tilting_moment": "40 N m",
        "total_mass": "300 kg",
        **more,
    }


def shop(tools, **more) -> Shop:
    """A shop with only what the magazine needs to know."""
    return Shop.model_construct(
        tools=tuple(CounterboreTool.model_validate(each) for each in tools),
        magazine=Magazine.model_validate(magazine(**more)),
        limits=Limits(),
    )


def sequence(*uses: tuple[str, float]) -> Sequence:
    """An order that only says which tool cuts how long."""
    steps = []
    for index, (name, minutes) in enumerate(uses):
        way = Alternative("counterboring", name, "I", Mode.MILLING, minutes)
        operation = Operation(f"f{index}/finish", f"f{index}", Stage.FINISH, Action.COUNTERBORE, "", (way,))
        steps.append(Step(10 * (index + 1), operation, way, 1, 0.0, (), ()))
    return Sequence(tuple(steps), "", (), True, "", (), ())


def test_small_tools_stand_side_by_side():
    """Two tools of 60 need 30 + 30 + 5 = 65 mm, less than one pitch of 130 mm."""
    assert pockets_apart(60, 60, Magazine.model_validate(magazine())) == 1


def test_wide_tool_keeps_one_pocket_free():
    """200 and 60: 100 + 30 + 5 = 135 mm, more than one pitch: two pockets apart."""
    assert pockets_apart(200, 60, Magazine.model_validate(magazine())) == 2


def test_tool_over_the_full_limit_keeps_a_pocket_free_though_the_radii_would_fit():
    """130 and 60: 65 + 30 + 5 = 100 mm would fit, but 130 is above the 125 allowed beside loaded pockets."""
    assert pockets_apart(130, 60, Magazine.model_validate(magazine())) == 2


def test_two_wide_tools_share_the_pocket_between_them():
    """Ring of A (60), B and C (200 each): A - B, B - C, C - A each keep one pocket: 6 pockets in all."""
    house = shop([tool("A"), tool("B", 200), tool("C", 200)])
    pockets = place_tools({"A": 1, "B": 1, "C": 1}, house)
    assert [pocket.tool for pocket in pockets] == ["A", "", "B", "", "C", ""]
    assert pockets[1].blocked_by == ("A", "B")
    assert pockets[3].blocked_by == ("B", "C")


@given(st.lists(st.sampled_from([50.0, 60.0, 125.0, 140.0, 200.0, 260.0]), min_size=1, max_size=6))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_no_other_arrangement_of_two_widths_needs_fewer_pockets(diameters):
    """Against all arrangements round the ring, with two widths of tools."""
    wide = max(diameters)
    sizes = [wide if diameter > 125 else 60.0 for diameter in diameters]
    house = shop([tool(f"T{index}", size) for index, size in enumerate(sizes)])
    placed = place_tools({f"T{index}": 1 for index in range(len(sizes))}, house)

    def ring(order):
        if len(order) == 1:
            return pockets_apart(order[0], order[0], house.magazine)
        pairs = zip(order, (*order[1:], order[0]), strict=True)
        return sum(pockets_apart(a, b, house.magazine) for a, b in pairs)

    assert len(placed) == min(ring(order) for order in permutations(sizes))


def test_over_capacity_says_by_how_much_and_which_tools_are_used_once():
    """Five small tools and a magazine of four pockets: one too many."""
    house = shop([tool(f"T{index}") for index in range(5)], pockets=4)
    table = make_magazine(sequence(*((f"T{index}", 2.0) for index in range(5)), ("T0", 1.0)), house, lot=1)
    assert table.needed == 5
    (finding,) = table.findings
    assert str(finding) == (
        "error: magazine: the plan needs 5 pockets, 1 more than there are (4 pockets). Tools used once: "
        "T1, T2, T3, T4; load some of them by hand at a planned stop, or split the lot by clamping."
    )


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"diameter": 300.0}, "diameter 300 mm, the magazine takes 280 mm"),
        ({"length": 520.0}, "length 520 mm, the magazine takes 500 mm"),
        ({"mass": 26.0, "centre_of_mass": "50 mm"}, "mass 26 kg, the magazine takes 25 kg"),
        # 20 kg x 9.81 m/s2 x 0.25 m = 49.05 N m, shown as 49.1
        ({"mass": 20.0, "centre_of_mass": "250 mm"}, "tilting moment 49.1 N m, the magazine takes 40 N m"),
    ],
)
def test_tool_that_does_not_fit_is_loaded_by_hand(change, words):
    """Each limit is named with both numbers, and the tool takes no pocket."""
    house = shop([tool("T1", **change)])
    table = make_magazine(sequence(("T1", 2.0)), house, lot=1)
    assert table.by_hand == ("T1",)
    assert words in str(table.findings[0])
    assert all(pocket.tool == "" for pocket in table.pockets)


def test_total_mass_is_checked():
    """Eight tools of 20 kg are 160 kg."""
    house = shop(
        [tool(f"T{index}", mass=20, centre_of_mass="90 mm") for index in range(8)], total_mass="150 kg"
    )
    table = make_magazine(sequence(*((f"T{index}", 1.0) for index in range(8))), house, lot=1)
    assert "all tools together weigh 160 kg (150 kg in total)" in str(table.findings[0])


def test_residents_take_pockets_though_the_plan_does_not_use_them():
    """A probe that always stays counts."""
    house = shop([tool("T1"), tool("T9")], residents=["T9"])
    table = make_magazine(sequence(("T1", 2.0)), house, lot=1)
    assert [(pocket.tool, pocket.resident) for pocket in table.pockets[:2]] == [("T9", True), ("T1", False)]


def test_sister_tools_follow_from_life():
    """70 min at a life of 30 min used to 80 %: 70 / 24 = 2.9, so three edges; the shop owns two tools."""
    house = shop([tool("T1", life="30 min", owned=2)])
    table = make_magazine(sequence(("T1", 70.0)), house, lot=4)
    assert (table.uses[0].edges, table.uses[0].loaded) == (3, 2)
    # the lot: 4 x 70 / 24 = 11.7
    assert table.uses[0].reason == "ceil(70 min / (0.8 x 30 min)) = 3 for one part, 12 for the lot of 4"
    assert str(table.findings[0]).startswith("warning: tool T1: one part wears out 3 of them, 2 are owned")
    assert str(table.findings[0]).endswith("Have 1 more ready before the start, and measure each anew.")
    assert [pocket.sister for pocket in table.pockets if pocket.tool == "T1"] == [0, 1]


def test_tool_that_is_not_owned_is_a_warning():
    """The plan may use it, but somebody has to buy it."""
    house = shop([tool("T1", owned=0, lead_time="21 d")])
    table = make_magazine(sequence(("T1", 5.0)), house, lot=1)
    assert str(table.findings[0]) == "warning: tool T1: the shop owns none (lead time 21 d). Order it now."


def test_tilting_moment_takes_half_the_length_where_no_centre_is_given():
    """3 kg x 9.81 x 0.09 m = 2.65 N m."""
    assert tilting_moment(CounterboreTool.model_validate(tool("T1"))) == pytest.approx(2.6487)
