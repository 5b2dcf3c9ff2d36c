"""Musts that give way to the clampings: taken where they can be kept, else turned into a warning."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import in_short, op

from sequencer.operations import BENCH, Operation
from sequencer.precedence.demands import Wanted, before, closes, opens, same_clamping, same_zero
from sequencer.precedence.dependency import Dependency
from sequencer.precedence.settle import Settlement


def operation(letter: str, where: str = "II") -> Operation:
    """Make an operation named after a letter."""
    return op(f"{letter}/x", where=where)


SEAT, GRIP = operation("seat", "I"), operation("grip", "I")
ONE, TWO, BOTH = operation("one", "I"), operation("two", "II"), operation("both", "I II")
FREE, AWAY = operation("free", "I II"), operation("away", BENCH)
ALL = (SEAT, GRIP, ONE, TWO, BOTH, FREE, AWAY)


def wanted(dependency: Dependency) -> Wanted:
    """Want a dependency, with a consequence."""
    return Wanted(dependency, "the error grows", "change the clamping")


def settled(*wants: Dependency, taken: tuple[Dependency, ...] = ()) -> Settlement:
    """Settle wants after what is taken already; II opens once the seat is made in I."""
    settlement = Settlement(ALL, (opens("II", SEAT, None, "II rests on the seat"), *taken))
    settlement.want(wanted(each) for each in wants)
    return settlement


def shorts(settlement: Settlement) -> list[str]:
    """Dependencies in short, without the opening of II."""
    return [in_short(each) for each in settlement.dependencies][1:]


def test_what_can_be_kept_is_taken() -> None:
    made = settled(before(ONE, TWO, "r"), same_clamping(BOTH, TWO, "r"))
    assert shorts(made) == ["one/x > two/x", "both/x ~ two/x"]
    assert made.possible["both/x"] == ("II",)
    assert not made.findings


def test_no_common_clamping_becomes_a_warning() -> None:
    made = settled(same_clamping(ONE, TWO, "r"))
    assert shorts(made) == []
    assert made.findings[0].what == "the error grows"
    assert made.findings[0].limit.endswith("one/x and two/x in one clamping: one/x in I, two/x in II")


def test_the_bench_is_no_common_clamping() -> None:
    other = operation("other", BENCH)
    made = Settlement((*ALL, other))
    made.want([wanted(same_clamping(AWAY, other, "r"))])
    assert "away/x in bench, other/x in bench" in made.findings[0].limit


def test_pairs_may_contradict_each_other_through_a_third() -> None:
    """Both goes with one in I, so it cannot go with two in II any more."""
    made = settled(same_clamping(BOTH, ONE, "r"), same_clamping(BOTH, TWO, "r"))
    assert shorts(made) == ["both/x ~ one/x"]
    assert "both/x in I, two/x in II" in made.findings[0].limit


def test_an_arrow_back_to_a_clamping_that_is_left_becomes_a_warning() -> None:
    made = settled(before(TWO, ONE, "r"))
    assert made.findings[0].limit.endswith("the part would go back to clamping I after clamping II")


def test_a_return_that_is_forced_anyway_is_no_obstacle() -> None:
    made = settled(before(TWO, GRIP, "r"), taken=(before(TWO, ONE, "firm"),))
    assert shorts(made) == ["two/x > one/x", "two/x > grip/x"]


def test_one_clamping_that_forces_a_return_becomes_a_warning() -> None:
    """Both precedes one, which is done in I; bound to two it would be done in II."""
    made = settled(same_clamping(BOTH, TWO, "r"), taken=(before(BOTH, ONE, "firm"),))
    assert "go back to clamping I after clamping II" in made.findings[0].limit
    assert made.possible["both/x"] == ("I", "II")


def test_an_arrow_against_a_clamping_becomes_a_warning_with_the_way() -> None:
    closing = closes("I", TWO, None, "two takes the grip of I away")
    made = settled(before(TWO, GRIP, "r"), taken=(closing,))
    assert "grip/x must come first, since grip/x before two/x" in made.findings[0].limit


def test_an_arrow_against_plain_arrows_is_kept_so_that_the_loop_is_told() -> None:
    made = settled(before(FREE, BOTH, "r"), taken=(before(BOTH, FREE, "firm"),))
    assert shorts(made) == ["both/x > free/x", "free/x > both/x"]


def test_work_elsewhere_between_two_forbids_one_clamping() -> None:
    taken = (before(BOTH, AWAY, "out"), before(AWAY, FREE, "back"))
    made = settled(same_zero(BOTH, FREE, "r"), taken=taken)
    assert made.findings[0].limit.endswith("away/x, which is done elsewhere, comes between")


def test_the_second_half_of_a_gear_does_not_repeat_the_warning() -> None:
    made = settled(same_clamping(ONE, TWO, "r"), same_clamping(SEAT, TWO, "r"))
    assert len(made.findings) == 1


def test_what_no_clamping_can_do_is_left_to_its_own_error() -> None:
    nowhere = operation("nowhere", "")
    made = Settlement((*ALL, nowhere))
    made.want([wanted(same_clamping(nowhere, TWO, "r")), wanted(before(nowhere, TWO, "r"))])
    assert not made.findings
    assert not made.dependencies


def test_arrows_tried_together_are_rolled_back_if_they_leave_no_clamping() -> None:
    """Each arrow alone is fine: after the closer, both is done in II; before the opener, in I; not both."""
    closer, opener = operation("closer", BENCH), operation("opener", BENCH)
    firm = (closes("I", closer, None, "I is gone"), opens("II", opener, None, "II is made ready"))
    made = Settlement((*ALL, closer, opener), firm)
    made.want([wanted(before(closer, BOTH, "r")), wanted(before(BOTH, opener, "r"))])
    assert [in_short(each) for each in made.dependencies][2:] == ["closer/x > both/x"]
    assert made.possible["both/x"] == ("II",)
    assert "opener/x before both/x" in made.findings[0].limit or "no clamping" in made.findings[0].limit


def test_an_arrow_against_one_that_is_only_drawn_is_seen() -> None:
    """Two wanted arrows and an opening make a ring: the second gives way to the first."""
    made = settled(before(TWO, AWAY, "r"), before(AWAY, SEAT, "r"))
    assert shorts(made) == ["two/x > away/x"]
    assert "seat/x must come first" in made.findings[0].limit
