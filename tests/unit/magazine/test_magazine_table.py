"""The magazine of a plan: what does not fit is said with numbers, and each remedy is planned and priced."""

from __future__ import annotations

from itertools import permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from magazine_shop import clashes, sequence, shop, tool

from sequencer.magazine import loaded_tools, make_layout, make_magazine
from sequencer.magazine.balance import imbalance, least_imbalance
from sequencer.magazine.uses import Cut, edges_needed
from sequencer.operations import Stage
from sequencer.shop.pocket_limits import tilting_moment
from sequencer.shop.tools import CounterboreTool


def one_each(count, **more):
    house = shop([tool(f"T{index}") for index in range(count)], **more)
    return make_magazine(sequence(*((f"T{index}", 2.0) for index in range(count))), house, lot=1), house


def test_one_pocket_too_few_is_an_error_with_priced_remedies():
    """Five small tools, four pockets: one too many, and loading one by hand costs 5.75 min."""
    table, _ = one_each(5, pockets=4)
    assert (table.needed, table.available, table.over, table.proven) == (5, 4, 1, True)
    (finding,) = table.findings
    # 6 min by hand less 15 s from the magazine, at 120 an hour
    assert str(finding) == (
        "error: magazine: the plan needs 5 pockets, 1 more than there are; no arrangement needs fewer "
        "(4 pockets). Cheapest first: load T0 by hand at planned stops (4 of 4 pockets, +5.8 min for the "
        "lot, 12 EUR)."
    )


def test_a_magazine_that_just_fits_has_no_finding():
    """Five tools, five pockets."""
    table, house = one_each(5, pockets=5)
    assert table.findings == ()
    assert table.remedies == ()
    assert clashes(table.pockets, house) == []


def test_remedies_are_sorted_by_cost_and_each_fits():
    """Life 10 min used to 80 %: T0 cuts 6 min a piece, so 3 edges for 4 pieces; one pocket too few."""
    options = [{"name": "long chain", "pockets": 20, "price": 9000}]
    house = shop([tool("T0", life="10 min", owned=5), *(tool(f"T{i}") for i in range(1, 4))],
                 pockets=5, options=options)  # fmt: skip
    steps = [("T0", 6.0, 1), ("T1", 2.0, 1), ("T2", 2.0, 2), ("T3", 2.0, 2)]
    table = make_magazine(sequence(*steps), house, lot=4)
    assert (table.needed, table.over) == (6, 1)
    assert [each.kind for each in table.remedies] == [
        "split of the lot",
        "clamping by clamping",
        "sister tools",
        "by hand",
        "bigger magazine",
    ]
    assert all(each.needed <= each.available for each in table.remedies)
    by_kind = {each.kind: each for each in table.remedies}
    # one part wears out one edge: two fewer are loaded, 3 min each to load
    assert by_kind["sister tools"].minutes == pytest.approx(6)
    # two pieces wear out 12 / 8 = 2 edges: one fewer is loaded
    assert "into 2 of at most 2" in by_kind["split of the lot"].words
    # T2 and T3 are loaded after the first clamping
    assert by_kind["clamping by clamping"].minutes == pytest.approx(6)
    assert by_kind["by hand"].minutes == pytest.approx(4 * 5.75)
    assert (by_kind["bigger magazine"].money, by_kind["bigger magazine"].available) == (9000, 20)


@given(st.lists(st.sampled_from([60.0, 140.0, 200.0]), min_size=4, max_size=7))
@settings(deadline=None, derandomize=True, max_examples=25)
def test_loading_by_hand_is_the_cheapest_set_of_all(diameters):
    """Against all sets of tools, each tool changed to a different number of times."""
    house = shop([tool(f"T{i}", each) for i, each in enumerate(diameters)], pockets=4)
    steps = [(f"T{i}", 1.0) for repeat in range(3) for i in range(len(diameters)) if i >= repeat]
    table = make_magazine(sequence(*steps), house, lot=1)
    changes = {f"T{i}": sum(1 for name, _ in steps if name == f"T{i}") for i in range(len(diameters))}
    names = list(changes)
    best = min(
        sum(5.75 * changes[name] for name in taken)
        for taken in ([n for at, n in enumerate(names) if mask >> at & 1] for mask in range(2 ** len(names)))
        if _fits([name for name in names if name not in taken], house)
    )
    hand = [each for each in table.remedies if each.kind == "by hand"]
    assert [each.minutes for each in hand] == ([pytest.approx(best)] if best else [])


def _fits(names, house):
    from sequencer.magazine import fewest_pockets

    return fewest_pockets(loaded_tools(dict.fromkeys(names, 1), house), house.magazine).pockets <= 4


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


def test_door_and_load_station_have_limits_of_their_own():
    """A tool of 250 mm length fits the pockets, but not through a door of 240 mm."""
    house = shop([tool("T1"), tool("T2", mass=9)], door={"length": "240 mm"}, load_station={"mass": "8 kg"})
    table = make_magazine(sequence(("T1", 2.0), ("T2", 2.0)), house, lot=1)
    assert "length 250 mm, the door takes 240 mm" in str(table.findings[0])
    assert "mass 9 kg, the load station takes 8 kg" in str(table.findings[1])


def test_overall_length_decides_the_pocket_and_functional_length_does_not():
    """LF 180 mm is below the limit of 200 mm, OAL 250 mm is above it."""
    house = shop([tool("T1")], length="200 mm")
    assert make_magazine(sequence(("T1", 2.0)), house, lot=1).by_hand == ("T1",)


def test_tools_that_touch_across_the_strands_are_parted():
    """280 and 280 need 285 mm, the strands are 270 mm apart: one goes by hand, 280 and 60 pass each other."""
    house = shop([tool("A", 280), tool("B", 280), tool("C")], strand_gap="270 mm", pockets=12)
    table = make_magazine(sequence(("A", 1.0), ("B", 1.0), ("C", 1.0)), house, lot=1)
    assert table.by_hand == ("A",)
    assert "would touch B where the strands of the chain pass: both need 285 mm" in str(table.findings[0])


def test_stops_for_tools_loaded_by_hand_are_grouped():
    """A and B follow each other in I: one stop; A again in II: another."""
    house = shop([tool("A", by_hand=True), tool("B", by_hand=True), tool("C")])
    steps = [("C", 1.0, 1), ("A", 1.0, 1), ("B", 1.0, 1), ("C", 1.0, 1), ("A", 1.0, 2)]
    table = make_magazine(sequence(*steps), house, lot=1)
    assert [(stop.step, stop.clamping, stop.tools, stop.minutes) for stop in table.stops] == [
        (20, "I", ("A", "B"), 12.0),
        (50, "II", ("A",), 6.0),
    ]
    assert "2 planned stops, 18 min a piece" in str(table.findings[-1])


def test_total_mass_is_checked_and_has_remedies():
    """Eight tools of 20 kg are 160 kg; two of them by hand leave 120 kg."""
    house = shop(
        [tool(f"T{index}", mass=20, centre_of_mass="90 mm") for index in range(8)], total_mass="150 kg"
    )
    table = make_magazine(sequence(*((f"T{index}", 1.0) for index in range(8))), house, lot=1)
    assert "all tools together weigh 160 kg, 10 kg too much (150 kg in total)" in str(table.findings[0])
    assert table.remedies[0].words == "load T0 by hand at planned stops"


def test_residents_take_pockets_though_the_plan_does_not_use_them():
    """A probe that always stays counts."""
    house = shop([tool("T1"), tool("T9")], residents=["T9"])
    table = make_magazine(sequence(("T1", 2.0)), house, lot=1)
    assert {pocket.tool: pocket.resident for pocket in table.pockets if pocket.tool} == {
        "T9": True,
        "T1": False,
    }
    assert table.needed == 2


def test_sister_tools_follow_from_life_and_lot():
    """70 min at a life of 30 min used to 80 %: 70 / 24 = 2.9, so three edges a part; the shop owns two."""
    house = shop([tool("T1", life="30 min", owned=2)])
    table = make_magazine(sequence(("T1", 70.0)), house, lot=4)
    # the lot: 4 x 70 / 24 = 11.7
    assert (table.uses[0].edges, table.uses[0].lot_edges, table.uses[0].loaded) == (3, 12, 2)
    assert table.uses[0].reason == "ceil(70 min / (0.8 x 30 min)) = 3 for one part, 12 for the lot of 4"
    assert str(table.findings[0]).startswith("warning: tool T1: one part wears out 3 of them, 2 are owned")
    assert sorted(pocket.sister for pocket in table.pockets if pocket.tool == "T1") == [0, 1]


@pytest.mark.parametrize(("policy", "loaded"), [("lot", 12), ("part", 3), ("one", 1)])
def test_the_shop_chooses_how_many_sisters_are_loaded(policy, loaded):
    """The same tool as above, all owned."""
    house = shop([tool("T1", life="30 min", owned=20)], sisters=policy, pockets=20)
    assert make_magazine(sequence(("T1", 70.0)), house, lot=4).uses[0].loaded == loaded


def test_unattended_time_counts_whole_pieces():
    """70 min a piece, 3 h without an operator: three pieces begin, 210 min / 24 min = 9 edges."""
    house = shop([tool("T1", life="30 min", owned=20)], sisters="one", pockets=20, unattended="3 h")
    use = make_magazine(sequence(("T1", 70.0)), house, lot=10).uses[0]
    assert (use.window_edges, use.loaded) == (9, 9)


def test_both_helices_of_a_pair_are_finished_with_one_edge():
    """2 x 9 m of teeth, 0.8 x 30 m = 24 m an edge: four edges for four pairs, not 4 x 18 / 24 = 3."""
    cut = [("wheel", "T1", 50.0, 9.0, Stage.FINISH), ("wheel", "T1", 50.0, 9.0, Stage.FINISH)]
    house = shop([tool("T1", life_length="30 m", owned=9)])
    use = make_magazine(sequence(teeth=cut), house, lot=4).uses[0]
    assert (use.edges, use.lot_edges, use.whole_gears, use.lasts) == (1, 4, ("wheel",), True)


def test_a_finishing_tool_that_does_not_last_a_whole_gear_is_a_warning():
    """2 x 15 m against 24 m."""
    cut = [("wheel", "T1", 50.0, 15.0, Stage.FINISH), ("wheel", "T1", 50.0, 15.0, Stage.FINISH)]
    house = shop([tool("T1", life_length="30 m", owned=9)])
    table = make_magazine(sequence(teeth=cut), house, lot=1)
    assert str(table.findings[0]).startswith("warning: tool T1: an edge does not last the whole of wheel")


def test_roughing_may_change_edges_inside_a_gear():
    """Roughing 15 m twice with 24 m an edge: 4 parts x 30 / 24 = 5."""
    cut = [("wheel", "T1", 50.0, 15.0, Stage.ROUGH), ("wheel", "T1", 50.0, 15.0, Stage.ROUGH)]
    house = shop([tool("T1", life_length="30 m", owned=9)])
    assert make_magazine(sequence(teeth=cut), house, lot=4).uses[0].lot_edges == 5


@given(st.lists(st.tuples(st.floats(0.05, 0.95), st.booleans()), min_size=1, max_size=4), st.integers(1, 12))
@settings(deadline=None, derandomize=True, max_examples=80)
def test_edges_follow_a_simulation_cut_by_cut(cuts, parts):
    """Against taking every hundredth part of every cut off the edge in the spindle."""
    made = [Cut(round(share, 2), "gear" if whole else "") for share, whole in cuts]
    edges, left = 1, 100
    for cut in made * parts:
        share = round(cut.share * 100)
        if cut.whole and share > left:
            edges, left = edges + 1, 100
        for _ in range(share):
            if left == 0:
                edges, left = edges + 1, 100
            left -= 1
    assert edges_needed(made, parts) == edges


def test_tool_that_is_not_owned_is_a_warning():
    """The plan may use it, but somebody has to buy it."""
    house = shop([tool("T1", owned=0, lead_time="21 d")])
    table = make_magazine(sequence(("T1", 5.0)), house, lot=1)
    assert str(table.findings[0]) == "warning: tool T1: the shop owns none (lead time 21 d). Order it now."


def test_tilting_moment_takes_half_the_length_where_no_centre_is_given():
    """3 kg x 9.81 x 0.09 m = 2.65 N m."""
    assert tilting_moment(CounterboreTool.model_validate(tool("T1"))) == pytest.approx(2.6487)


@pytest.mark.parametrize(
    ("masses", "ring", "kg"),
    [
        # all on one side of a ring of four; the line through pockets 1 | 3 gives 5 + 5 against 0
        ([5.0, 5.0, 0.0, 0.0], True, 10.0),
        ([5.0, 0.0, 5.0, 0.0], True, 0.0),
        ([5.0, 1.0, 2.0, 3.0], False, 1.0),
    ],
)
def test_imbalance_of_small_magazines(masses, ring, kg):
    """Worked out by hand."""
    assert imbalance(masses, ring=ring) == pytest.approx(kg)


@given(st.lists(st.integers(1, 20).map(float), min_size=2, max_size=6))
@settings(deadline=None, derandomize=True, max_examples=60)
def test_no_arrangement_is_better_balanced_than_the_bound(masses):
    """All arrangements on a ring of six pockets; the plan is near the best of them."""
    filled = [*masses, *([0.0] * (6 - len(masses)))]
    best = min(imbalance((filled[0], *rest), ring=True) for rest in permutations(filled[1:]))
    assert least_imbalance(masses, 6, ring=True) <= best + 1e-9
    house = shop([tool(f"T{i}", mass=each) for i, each in enumerate(masses)], pockets=6)
    layout = make_layout(loaded_tools({each.name: 1 for each in house.tools}, house), house.magazine)
    assert layout is not None
    assert layout.imbalance <= best + max(masses) + 1e-9
    assert clashes(layout.pockets, house) == []


def test_heavy_tools_face_each_other():
    """Two of 20 kg and two of 5 kg in eight pockets balance to nothing; the limit of 1 kg is kept."""
    masses = {"A": 20, "B": 20, "C": 5, "D": 5}
    house = shop([tool(n, mass=m, centre_of_mass="90 mm") for n, m in masses.items()], pockets=8,
                 imbalance="1 kg")  # fmt: skip
    table = make_magazine(sequence(*((name, 1.0) for name in masses)), house, lot=1)
    assert table.imbalance == pytest.approx(0)
    at = table.pocket_of
    assert (at["A"] - at["B"]) % 8 == 4


def test_what_cannot_balance_is_an_error_with_the_bound():
    """One tool of 20 kg alone: one side is 20 kg heavier in any pocket."""
    house = shop([tool("A", mass=20, centre_of_mass="90 mm")], imbalance="15 kg")
    table = make_magazine(sequence(("A", 1.0)), house, lot=1)
    assert "20 kg heavier than the other, 5 kg too much; no arrangement keeps it" in str(table.findings[0])


def test_two_remedies_together_where_one_alone_costs_more():
    """Three A for a lot of 4, and B to E once: 7 pockets, 4 there.

    By hand alone: A, changed twice a piece, 4 x 2 x 5.75 = 46 min; with one A instead of three there is one
    too many, and B by hand costs 23 min and the two exchanges of A.
    """
    house = shop([tool("A", life="10 min", owned=3), *(tool(name) for name in "BCDE")], pockets=4)
    table = make_magazine(sequence(("A", 2.5), ("B", 1), ("A", 2.5), ("C", 1), ("D", 1), ("E", 1)), house, 4)
    assert table.needed == 7
    minutes = 4 * 5.75 + 2 * float(house.effort.load_tool)
    first, alone = table.remedies
    assert first.words == (
        "load sister tools for one part only and exchange worn ones between parts, "
        "and load B by hand at planned stops"
    )
    assert (first.needed, first.available) == (4, 4)
    assert (first.minutes, first.money) == (pytest.approx(minutes), pytest.approx(minutes / 60 * 120))
    assert (alone.words, alone.minutes) == ("load A by hand at planned stops", pytest.approx(2 * 4 * 5.75))
