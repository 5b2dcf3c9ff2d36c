"""Both halves of a double-helical gear get one method in each stage."""

from __future__ import annotations

from tooth_floor import DISC, HOB, MILL, context, double_wheel, fitted, operations, shop, tool

from sequencer.operations.operation import Alternative, Mode
from sequencer.operations.teeth import tooth_operations
from sequencer.operations.teeth.halves import one_method
from sequencer.operations.teeth.methods import Verdicts


def _way(method: str, minutes: float, clamping: str = "II") -> Alternative:
    return Alternative(method, method[0].upper(), clamping, Mode.GEAR, minutes)


def _half(*ways: Alternative) -> Verdicts:
    return Verdicts(tuple(sorted(ways, key=lambda way: way.minutes)), (), False)


def _methods(verdicts: Verdicts) -> set[tuple[str, str]]:
    return {(way.method, way.clamping) for way in verdicts.alternatives}


def test_the_least_sum_decides_not_the_quickest_half() -> None:
    """Disc 10 + 90 against hob 40 + 40: a disc is quickest for one half, the hob for both."""
    lower = _half(_way("disc milling", 10), _way("hobbing", 40))
    upper = _half(_way("disc milling", 90), _way("hobbing", 40))
    found = one_method((lower, upper))
    assert [_methods(one) for one in found] == [{("hobbing", "II")}] * 2
    (aside,) = found[0].rejected
    assert aside.sentence == (
        "Works, but slower in sum than hobbing: both halves take 100 min instead of 80 min, "
        "and both are cut by one method."
    )


def test_a_method_for_one_half_only_is_set_aside() -> None:
    lower = _half(_way("disc milling", 10), _way("hobbing", 40))
    found = one_method((lower, _half(_way("hobbing", 40))))
    assert _methods(found[0]) == {("hobbing", "II")}
    assert found[0].rejected[0].sentence.startswith("Works for this half only; hobbing cuts both halves")


def test_a_clamping_without_a_common_method_is_left_for_one_that_has_it() -> None:
    lower = _half(_way("hobbing", 40, "I"), _way("end-mill milling", 200, "II"))
    found = one_method((lower, _half(_way("end-mill milling", 200, "II"))))
    assert _methods(found[0]) == {("end-mill milling", "II")}
    assert "no method cuts both halves in this clamping" in found[0].rejected[0].sentence


def test_all_ways_stay_where_no_method_cuts_both_halves() -> None:
    found = (_half(_way("hobbing", 40)), _half(_way("end-mill milling", 200)))
    assert one_method(found) == found


def test_teeth_of_one_run_keep_every_method() -> None:
    found = (_half(_way("hobbing", 40), _way("disc milling", 60)),)
    assert one_method(found) == found


def test_a_disc_that_roughs_one_half_does_not_part_the_halves() -> None:
    """Over a low riser the disc of 260 mm clears the table below the upper half alone, hobs below both."""
    disc = tool("D1", DISC, outside_diameter="260 mm", stage=["rough"], life=None)
    floor = shop(tool("H1", HOB), tool("H2", HOB, hand="left"), disc, tool("E4", MILL))
    made = double_wheel(gap=200)
    listed = tooth_operations(context(made, floor, fitted(made, riser=110)), made.by_name["wheel"])  # type: ignore[arg-type]
    by_word = {one.name.split("/")[1]: one for one in listed}
    for stage in ("rough", "finish"):
        lower, upper = by_word[f"{stage}_lower"], by_word[f"{stage}_upper"]
        assert {way.method for way in lower.alternatives} == {"hobbing"}
        assert {way.method for way in upper.alternatives} == {"hobbing"}
    aside = next(one for one in by_word["rough_upper"].rejected if one.tool == "D1")
    assert aside.sentence.startswith("Works for this half only; hobbing cuts both halves")


def test_the_slower_method_stays_in_the_table_with_its_minutes() -> None:
    floor = shop(tool("H1", HOB), tool("H2", HOB, hand="left"), tool("E4", MILL))
    found = operations(double_wheel(gap=200), floor, "wheel", riser=200)
    aside = next(one for one in found["finish_lower"].rejected if one.tool == "E4")
    assert "slower in sum than hobbing" in aside.sentence
