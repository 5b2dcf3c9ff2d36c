"""Rules on deburring, measuring, hardening, sent-out work and tools."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import (
    CLASS_7,
    changed,
    demands,
    gear,
    graph_of,
    holes,
    listed,
    op,
    spoken,
    usual_operations,
    wheel,
    without,
    zone,
)

from sequencer.errors import NoPlan
from sequencer.operations import BENCH, Action, Stage
from sequencer.part import Part
from sequencer.precedence.register import RULE_BY_ID
from sequencer.precedence.rule import Kept

KEY = {
    "name": "key", "kind": "keyway", "on": "bore", "z_from": "0 mm", "z_to": "100 mm",
    "width": "20 mm", "depth": "6 mm",
}  # fmt: skip


def hardened(*more: dict[str, object], kind: str = "case hardening", **keys: object) -> Part:
    """Make the wheel with a heat treatment."""
    return wheel(*more, heat_treatment={"kind": kind}, **keys)


def test_teeth_are_deburred_after_cutting_and_before_measuring() -> None:
    said = demands(spoken("R33", listed(wheel())))
    assert said == {
        "teeth/finish > teeth/deburr",
        "teeth/finish ~ teeth/deburr",
        "teeth/deburr > teeth/measure",
    }


def test_teeth_are_deburred_before_hardening() -> None:
    assert "teeth/deburr > part/heat_treat" in demands(spoken("R33", listed(hardened())))


def test_teeth_without_deburring_are_reported() -> None:
    made = wheel()
    operations = without(usual_operations(made), "teeth/deburr")
    assert "no operation deburrs its teeth" in spoken("R33", listed(made, operations)).findings[0].what


def test_deburring_elsewhere_is_a_warning() -> None:
    made = wheel()
    graph = graph_of(made, usual_operations(made, {"teeth/deburr": BENCH}))
    found = [f for f in graph.findings if f.subject == "rule R33"]
    assert "handled with sharp burr" in found[0].what
    assert graph.leads("teeth/finish", "teeth/deburr")


def test_a_feature_is_measured_after_its_finish_and_after_washing() -> None:
    made = wheel()
    said = demands(spoken("R36", listed(made, usual_operations(made, steps="II/wash"))))
    assert {
        "teeth/finish > teeth/measure",
        "teeth/finish ~ teeth/measure",
        "II: II/wash > teeth/measure",
        "II: teeth/deburr > II/wash",
        "II: teeth/finish > II/wash",
    } <= said


def test_a_clamping_is_measured_after_what_is_cut_in_it() -> None:
    made = wheel()
    measure = op("II/measure", Action.MEASURE, Stage.MEASURE, tool="")
    said = demands(spoken("R36", listed(made, [*usual_operations(made), measure])))
    assert {"II: bore/finish > II/measure", "II: teeth/deburr > II/measure"} <= said


def test_what_is_not_measured_is_free() -> None:
    made = wheel()
    operations = without(usual_operations(made), "teeth/measure")
    assert not demands(spoken("R36", listed(made, operations)))


def test_acceptance_comes_after_all_work() -> None:
    graph = graph_of(hardened(datums={"A": "bore", "B": "upper_face"}))
    for each in graph.operations.operations:
        if each.name != "part/inspect":
            assert graph.leads(each.name, "part/inspect"), each.name


def test_work_on_the_machine_or_the_bench_also_comes_before_acceptance() -> None:
    made = wheel()
    graph = graph_of(made, usual_operations(made, {"teeth/measure": "II bench", "bore/finish": "I II bench"}))
    for name in ("teeth/measure", "bore/finish"):
        assert graph.leads("part/receive", name)
        assert graph.leads(name, "part/inspect")


def test_without_an_inspection_nothing_is_last() -> None:
    made = wheel()
    operations = without(usual_operations(made), "part/inspect")
    assert not demands(spoken("R37", listed(made, operations)))


def test_the_teeth_of_the_best_class_come_last() -> None:
    made = wheel(gear("fine", 100, 140, 40, 5, flank_class={"year": 2013, "class": 6}))
    said = demands(spoken("R38", listed(made), "R0", "R1"))
    assert "bore/finish > fine/finish?" in said
    assert "teeth/finish > fine/finish?" in said
    assert not any(each.endswith("> teeth/finish?") for each in said)


def test_what_other_rules_put_after_the_teeth_is_left_there() -> None:
    """The keyway is wished after the teeth (R28), so it is not wished before them as well."""
    made = wheel(KEY)
    assert "key/finish > teeth/finish?" not in demands(spoken("R38", listed(made), "R28"))
    assert "key/finish > teeth/finish?" in demands(spoken("R38", listed(made)))


def test_a_stop_is_noted_before_roughed_teeth_are_finished() -> None:
    assert "stop before teeth/finish and before unclamping" in spoken("R52", listed(wheel())).findings[0].what
    made = wheel()
    once = without(usual_operations(made), "teeth/rough")
    assert not spoken("R52", listed(made, once)).findings


# -- hardening -------------------------------------------------------------------------------------


def test_case_hardening_splits_soft_from_hard_work() -> None:
    said = demands(spoken("R41", listed(hardened())))
    assert {
        "bore/semi > part/heat_treat",
        "part/heat_treat > bore/hard",
        "teeth/finish > part/heat_treat",
        "part/heat_treat > teeth/grind",
        "bore/hard > teeth/grind",
    } <= said


def test_roughing_without_a_side_is_done_soft() -> None:
    assert "upper_face/rough > part/heat_treat" in demands(spoken("R41", listed(hardened())))


def test_a_part_without_hardening_has_no_sides() -> None:
    assert not demands(spoken("R41", listed(wheel())))


def test_a_datum_that_is_not_made_anew_is_reported() -> None:
    made = hardened(datums={})
    teeth = next(f for f in made.features if f.name == "teeth")
    assert teeth.datums
    kept = hardened()
    operations = without(usual_operations(kept), "bore/hard", "lower_face/hard")
    found = spoken("R41", listed(kept, operations)).findings
    assert "its datum bore is not made anew after hardening" in found[0].what


def test_close_keyways_are_wished_after_hardening_and_others_masked() -> None:
    close = hardened(KEY | {"phase": {"to": "teeth", "tolerance": "0.1 mm"}})
    assert demands(spoken("R42", listed(close))) == {"part/heat_treat > key/finish?"}
    loose = spoken("R42", listed(hardened(KEY)))
    assert not demands(loose)
    assert "Mask it against carbon" in loose.findings[0].remedy
    assert not spoken("R42", listed(wheel(KEY))).findings


def test_everything_is_finished_before_nitriding() -> None:
    said = demands(spoken("R43", listed(hardened(kind="nitriding"))))
    assert {"teeth/finish > part/heat_treat?", "bore/finish > part/heat_treat?"} <= said
    assert not demands(spoken("R43", listed(wheel())))


def test_cutting_a_nitrided_layer_is_reported() -> None:
    made = hardened(kind="nitriding")
    operations = changed(usual_operations(made), "bore/finish", hard=True)
    result = spoken("R43", listed(made, operations))
    assert "part/heat_treat > bore/finish" in demands(result)
    assert any("cuts into the nitrided layer" in f.what for f in result.findings)


def test_induction_hardening_comes_between_teeth_and_bore() -> None:
    result = spoken("R44", listed(hardened(kind="induction hardening")))
    assert demands(result) == {"teeth/finish > part/heat_treat?", "part/heat_treat > bore/finish"}
    assert "Check hardness at both ends" in result.findings[0].remedy
    assert not demands(spoken("R44", listed(hardened())))


def test_a_tempered_blank_needs_no_heat_treatment() -> None:
    made = wheel(material="42CrMo4+QT")
    assert "no heat treatment splits the route" in spoken("R45", listed(made)).findings[0].what
    operations = changed(usual_operations(made), "bore/finish", hard=True)
    found = spoken("R45", listed(made, operations)).findings
    assert "bore/finish planned as hard finishing" in found[0].what
    assert not spoken("R45", listed(wheel())).findings


def test_stock_is_centred_before_hard_finishing_in_the_shop() -> None:
    made = hardened()
    skive = op("teeth/skive", Action.CUT_TEETH, Stage.HARD, hard=True)
    probe = op("teeth/probe", Action.PROBE, Stage.PREPARE, hard=True)
    without_probe = [*usual_operations(made), skive]
    assert (
        "no step centres the stock before teeth/skive"
        in spoken("R46", listed(made, without_probe)).findings[0].what
    )
    result = spoken("R46", listed(made, [*without_probe, probe]))
    assert {"teeth/probe > teeth/skive", "part/heat_treat > teeth/probe"} <= demands(result)
    assert not result.findings


def test_teeth_are_finished_where_they_were_roughed() -> None:
    assert demands(spoken("R46", listed(wheel()))) == {"teeth/rough ~ teeth/finish"}
    made = wheel()
    once = without(usual_operations(made), "teeth/rough")
    assert not demands(spoken("R46", listed(made, once)))


def test_coarse_teeth_gashed_before_stress_relief_are_left_free() -> None:
    made = wheel(heat_treatment={"kind": "stress relief"}, teeth={"module": "8 mm", "teeth": 60})
    result = spoken("R46", listed(made))
    assert not demands(result)
    assert "is gashed before stress relief and finished after it" in result.findings[0].what


def test_teeth_roughed_before_stress_relief_are_found_again_by_probing() -> None:
    """Stress relief takes the part off the table between roughing and finishing."""
    made = wheel(
        heat_treatment={"kind": "stress relief"},
        blank={"form": "forging", "diameter": "700 mm", "z_from": "-5 mm", "z_to": "105 mm"},
    )
    made = made.model_copy(
        update={"order": made.order.model_copy(update={"before": (("teeth/rough", "part/heat_treat"),)})}
    )
    graph = graph_of(made)
    found = [f for f in graph.findings if f.subject == "rule R46"]
    assert "Probe both flanks of a gap of teeth" in found[0].remedy
    assert "part/heat_treat, which is done elsewhere, comes between" in found[0].limit


def test_work_sent_out_leaves_with_finished_datums_and_without_burr() -> None:
    result = spoken("R50", listed(hardened()))
    assert demands(result) == {
        "bore/hard > teeth/grind",
        "lower_face/hard > teeth/grind",
        "teeth/deburr > teeth/grind",
    }
    assert "check datum and size when it is back" in result.findings[0].remedy
    assert not spoken("R50", listed(wheel())).findings


def test_a_hard_surface_reached_only_on_the_raw_blank_is_a_loop_in_words() -> None:
    """The lower face is made hard in I, whose jaws grip what is turned away before hardening."""
    with pytest.raises(NoPlan, match="part/heat_treat -> lower_face/hard") as caught:
        graph_of(hardened())
    assert any("R39: turning teeth takes away the raw surface" in line for line in caught.value.conflicts)
    assert caught.value.remedy == (
        "lower_face/hard comes after part/heat_treat, when I would have to be entered again (the raw surface "
        "that I grips is turned away by then): list a further clamping, such as the holding of II once more, "
        "that grips a turned surface and reaches lower_face"
    )


def test_a_loop_without_hardening_names_no_further_clamping() -> None:
    made = wheel()
    order = made.order.model_copy(update={"before": (("teeth/finish", "bore/rough"),)})
    made = made.model_copy(update={"order": order})
    with pytest.raises(NoPlan, match="is a loop") as caught:
        graph_of(made)
    assert caught.value.remedy == "Drop or soften one of these rules, or change a datum or a clamping"


def test_the_whole_route_of_a_case_hardened_wheel() -> None:
    """Soft cutting, deburring, hardening, bore, flanks, measuring (common practice, no source)."""
    graph = graph_of(hardened(datums={"A": "bore", "B": "upper_face"}))
    route = ("teeth/rough", "teeth/finish", "teeth/deburr", "part/heat_treat", "bore/hard", "teeth/grind")
    for earlier, later in zip(route, (*route[1:], "teeth/measure"), strict=True):
        assert graph.leads(earlier, later), (earlier, later)


# -- tools -----------------------------------------------------------------------------------------


def test_same_tool_neighbours_are_kept_by_the_objective() -> None:
    """The rule gives no arrow: the register says by what it is kept, and a note says so for the part."""
    assert RULE_BY_ID["R48"].kept is Kept.OBJECTIVE
    result = spoken("R48", listed(wheel()))
    assert not demands(result)
    assert result.findings[0].limit.startswith("kept by the objective")
    one = [each for each in usual_operations(wheel()) if each.name == "bore/finish"]
    assert not spoken("R48", listed(wheel(), one)).findings


@pytest.mark.parametrize(
    ("tool", "words"),
    [
        ("T1", ""),
        ("T2", "T2 mass 30 kg, the magazine takes 25 kg"),
        ("T3", "T3 is marked so in the shop file"),
    ],
    ids=["in the magazine", "too heavy", "by hand"],
)
def test_tools_beyond_the_magazine_are_noted(tool: str, words: str) -> None:
    made = wheel()
    other = op("bore/finish", tool=tool)
    operations = changed(usual_operations(made), "bore/finish", alternatives=other.alternatives)
    found = spoken("R49", listed(made, operations)).findings
    assert [f.what for f in found] == ([f"its tool is loaded by hand: {words}"] if words else [])


def test_the_class_of_the_test_gears_is_seven() -> None:
    assert CLASS_7["class"] == 7
    assert holes("a", "b", 1, 2)["count"] == 8
    assert zone("a", "bore", 0, 1, 2)["kind"] == "bore"
