"""Fewest pockets: against all arrangements of small magazines, and an independent checker of each plan."""

from __future__ import annotations

from itertools import pairwise, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from magazine_shop import clashes, magazine, shop, tool

from sequencer.magazine import fewest_pockets, loaded_tools, make_layout, pockets_apart
from sequencer.magazine.room import ring_distance
from sequencer.shop import Magazine

WIDTHS = [50.0, 60.0, 125.0, 126.0, 140.0, 200.0, 260.0, 280.0]


def needed(house):
    return fewest_pockets(loaded_tools({each.name: 1 for each in house.tools}, house), house.magazine)


def arrangements(diameters, house, count):
    """Whether any arrangement of tools in so many pockets keeps all pairs apart, by trying all."""
    from sequencer.magazine import Pocket

    limits = house.magazine.resized(count)
    room = house.model_copy(update={"magazine": limits})
    names = [each.name for each in house.tools]
    first = range(1) if limits.form != "rack" and not limits.narrow_pockets else range(count)
    for start in first:
        rest = [at for at in range(count) if at != start]
        for places in permutations(rest, len(diameters) - 1):
            held = dict(zip((start, *places), names, strict=True))
            pockets = tuple(Pocket(at + 1, held.get(at, ""), 0, (), resident=False) for at in range(count))
            if not clashes(pockets, room):
                return True
    return False


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
    house = shop([tool("A"), tool("B", 200), tool("C", 200)], pockets=6)
    found = needed(house)
    assert (found.pockets, found.proven) == (6, True)
    layout = make_layout(loaded_tools({"A": 1, "B": 1, "C": 1}, house), house.magazine)
    assert layout is not None
    assert sum(1 for pocket in layout.pockets if pocket.blocked_by) == 3
    assert clashes(layout.pockets, house) == []


@given(st.lists(st.sampled_from(WIDTHS), min_size=2, max_size=7), st.sampled_from(["chain", "rack"]))
@settings(deadline=None, derandomize=True, max_examples=120)
def test_no_order_round_the_ring_or_along_the_rack_needs_fewer(diameters, form):
    """Against all orders of up to seven tools of any widths."""
    house = shop([tool(f"T{index}", each) for index, each in enumerate(diameters)], form=form)

    def length(order):
        pairs = list(pairwise(order)) + ([(order[-1], order[0])] if form == "chain" else [])
        return sum(pockets_apart(a, b, house.magazine) for a, b in pairs) + (form == "rack")

    found = needed(house)
    assert found.proven
    assert found.pockets == min(length(order) for order in permutations(diameters))


@pytest.mark.parametrize(
    ("diameters", "more"),
    [
        ([60, 200, 200, 60], {"form": "drum"}),
        ([280, 280, 60], {"form": "drum"}),
        ([260, 126, 60], {"form": "drum"}),
        ([200, 60, 60, 60], {"form": "rack", "rows": 2, "row_pitch": "140 mm"}),
        ([280, 200, 60], {"form": "rack", "rows": 2, "row_pitch": "130 mm"}),
        ([280, 60, 60, 60], {"form": "rack", "rows": 3, "row_pitch": "130 mm"}),
        ([200, 60, 60], {"narrow_pockets": [{"pocket": 2, "reason": "guide"}]}),
        ([200, 200, 60], {"narrow_pockets": [{"pocket": 1, "diameter": "100 mm", "reason": "door frame"}]}),
        (
            [60, 60, 60],
            {
                "form": "rack",
                "narrow_pockets": [{"pocket": 1, "reason": "guide"}, {"pocket": 3, "reason": "broken"}],
            },
        ),
    ],
)
def test_every_form_of_magazine_against_all_arrangements(diameters, more):
    """The number found has an arrangement and the next smaller one has none, tried one by one."""
    house = shop([tool(f"T{index}", each) for index, each in enumerate(diameters)], pockets=12, **more)
    found = needed(house)
    assert found.proven
    assert arrangements(diameters, house, found.pockets)
    assert not any(arrangements(diameters, house, each) for each in range(len(diameters), found.pockets))


def test_a_chain_that_turns_round_keeps_wide_tools_further_apart():
    """Strands 270 apart: two pockets on the bend are 270 sin(2 asin(130/270)) = 228 mm apart, not 260."""
    limits = Magazine.model_validate(magazine(strand_gap="270 mm"))
    assert ring_distance(1, limits) == pytest.approx(130)
    # sin 2a = 2 sin a cos a = 2 (130/270) sqrt(1 - (130/270)^2) = 0.84397; x 270 = 227.87
    assert ring_distance(2, limits) == pytest.approx(227.87, abs=0.01)
    assert ring_distance(9, limits) == pytest.approx(270)
    straight = Magazine.model_validate(magazine())
    assert (pockets_apart(250, 200, straight), pockets_apart(250, 200, limits)) == (2, 3)


def test_a_pocket_for_the_exchange_stays_empty():
    """Nine tools and one empty pocket fill a magazine of ten."""
    house = shop([tool(f"T{index}") for index in range(9)], empty_for_exchange=1)
    assert needed(house).pockets == 10
    layout = make_layout(loaded_tools({each.name: 1 for each in house.tools}, house), house.magazine)
    assert layout is not None
    assert [each.remark for each in layout.pockets if not each.tool] == ["kept empty for the exchange"]


@given(st.lists(st.sampled_from(WIDTHS), min_size=1, max_size=30), st.sampled_from(["chain", "drum", "rack"]))
@settings(deadline=None, derandomize=True, max_examples=40)
def test_every_pocket_plan_passes_the_independent_checker(diameters, form):
    """Larger magazines: each tool has one pocket, and no pair touches."""
    house = shop([tool(f"T{i}", each, mass=3 + i % 7) for i, each in enumerate(diameters)], form=form)
    found = needed(house)
    room = house.model_copy(update={"magazine": house.magazine.resized(found.pockets + 2)})
    layout = make_layout(loaded_tools({each.name: 1 for each in house.tools}, room), room.magazine)
    assert layout is not None
    assert sorted(each.tool for each in layout.pockets if each.tool) == sorted(t.name for t in house.tools)
    assert clashes(layout.pockets, room) == []


def test_residents_keep_their_pockets_whatever_else_is_loaded():
    """Two residents, with few and with many other tools."""
    house = shop([tool(f"T{i}", 200 if i == 3 else 60) for i in range(9)], pockets=20, residents=["T3", "T5"])

    def places(names):
        layout = make_layout(loaded_tools(dict.fromkeys(names, 1), house), house.magazine)
        assert layout is not None
        return {each.tool: each.number for each in layout.pockets if each.resident}

    assert places(["T0"]) == places([f"T{i}" for i in range(9)])
