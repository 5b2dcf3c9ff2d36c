"""Rules on double-helical gears and on room for the cutter."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import (
    changed,
    clamping,
    demands,
    face,
    gear,
    graph_of,
    holes,
    in_short,
    internal,
    listed,
    op,
    part,
    spoken,
    step,
    usual_operations,
    wheel,
    zone,
)

from sequencer.errors import Severity
from sequencer.operations import Action, Fact, Stage
from sequencer.part import Clamping, Part


def test_the_apex_groove_is_finished_before_either_helix_is_roughed(double_wheel: Part) -> None:
    assert demands(spoken("R6", listed(double_wheel))) == {
        "gap/finish > wheel/rough_lower",
        "gap/finish > wheel/rough_upper",
    }
    assert not demands(spoken("R6", listed(wheel())))


def test_both_helices_are_finished_from_one_zero(double_wheel: Part) -> None:
    assert demands(spoken("R9", listed(double_wheel))) == {"wheel/finish_lower = wheel/finish_upper"}
    assert not demands(spoken("R9", listed(wheel())))


def test_no_probing_comes_between_the_helices(double_wheel: Part) -> None:
    operations = [*usual_operations(double_wheel), step("II/probe")]
    said = demands(spoken("R9", listed(double_wheel, operations)))
    assert "II/probe not in wheel/finish_lower .. wheel/finish_upper" in said


def test_helices_without_a_common_clamping_become_a_warning_with_the_apex_error(double_wheel: Part) -> None:
    """Source: apex shift r dphi / (2 tan beta), derived; 6 arcsec at half the root diameter, plus 10 um."""
    turned = clamping("III", "lower", hold="face plate", on="upper_face", rests_on="upper_face")
    made = double_wheel.model_copy(update={"clampings": (*double_wheel.clampings, Clamping(**turned))})
    graph = graph_of(made, usual_operations(made, {"wheel/finish_lower": "III"}))
    found = [f for f in graph.findings if f.subject == "rule R9"]
    assert len(found) == 1
    assert found[0].severity is Severity.WARNING
    assert "shifts the apex by about 20 um (10 um from the angle, 10 um from the height)" in found[0].what
    assert "50 um are allowed" in found[0].what


def test_both_helices_are_roughed_before_one_is_finished(double_wheel: Part) -> None:
    assert demands(spoken("R10", listed(double_wheel))) == {
        "wheel/rough_upper > wheel/finish_lower?",
        "wheel/rough_lower > wheel/finish_upper?",
    }
    assert not demands(spoken("R10", listed(wheel())))


def test_the_apex_is_checked_after_both_finishes_in_their_clamping(double_wheel: Part) -> None:
    assert demands(spoken("R11", listed(double_wheel))) == {
        "wheel/finish_lower > wheel/apex_check",
        "wheel/finish_upper > wheel/apex_check",
        "wheel/finish_lower ~ wheel/apex_check",
        "wheel/finish_upper ~ wheel/apex_check",
        "wheel/apex_check > wheel/deburr?",
    }
    assert not demands(spoken("R11", listed(wheel())))


def test_an_apex_check_on_the_bench_is_a_warning(double_wheel: Part) -> None:
    graph = graph_of(double_wheel, usual_operations(double_wheel, {"wheel/apex_check": "bench"}))
    found = [f.what for f in graph.findings if f.subject == "rule R11"]
    assert "an apex error found after unclamping cannot be corrected" in found


def test_what_is_timed_to_the_apex_waits_for_its_check(double_wheel: Part) -> None:
    timed = holes("bolts", "upper_face", 200, 14, phase={"to": "wheel", "tolerance": "0.1 mm"})
    features = [f.model_dump(mode="json", exclude_unset=True) for f in double_wheel.features]
    made = part(*features, timed, datums={"A": "bore", "B": "lower_face"})
    assert "wheel/apex_check > bolts/drill" in demands(spoken("R11", listed(made)))


def test_the_whole_order_of_a_double_helical_gear(double_wheel: Part) -> None:
    """Groove, roughing, finishing, apex check, deburring, measuring: the usual route (common practice)."""
    graph = graph_of(double_wheel)
    for half in ("lower", "upper"):
        assert graph.leads("gap/finish", f"wheel/finish_{half}")
        assert graph.leads(f"wheel/rough_{half}", f"wheel/finish_{half}")
        assert graph.leads(f"wheel/finish_{half}", "wheel/apex_check")
        assert graph.leads(f"wheel/finish_{half}", "wheel/deburr")
    assert graph.leads("wheel/deburr", "wheel/measure")


def stepped(groove: str = "run_out_groove", diameter: float = 280.0) -> Part:
    """Make a gear beside a larger shoulder with a groove between them."""
    keys = {"gear": "teeth"} if groove == "run_out_groove" else {}
    return part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 140),
        zone("shoulder", "turned_diameter", 0, 40, 400),
        zone("relief", groove, 40, 60, diameter, **keys),
        gear("teeth", 60, 140, 60, 5),
    )


@pytest.mark.parametrize("groove", ["run_out_groove", "groove"])
def test_a_groove_at_the_end_of_teeth_comes_before_them(groove: str) -> None:
    """A groove made for the gear counts, and so does any groove that touches its end."""
    assert "relief/finish > teeth/rough" in demands(spoken("R7", listed(stepped(groove))))


def test_a_larger_neighbour_is_turned_before_the_teeth() -> None:
    assert "shoulder/rough > teeth/rough" in demands(spoken("R7", listed(stepped())))


def test_a_neighbour_out_of_reach_does_not_hold_up_the_teeth() -> None:
    made = stepped()
    said = demands(spoken("R7", listed(made, usual_operations(made, {"shoulder": "I"}))))
    assert not any("shoulder" in each for each in said)


def test_a_free_gear_needs_no_groove() -> None:
    assert not demands(spoken("R7", listed(wheel())))


@pytest.mark.parametrize(("need", "noted"), [(19.5, True), (15.0, False)], ids=["tight", "free"])
def test_a_tight_run_out_is_noted(need: float, noted: bool) -> None:
    """5 % of a room of 20 mm are 1 mm; common practice, no source."""
    made = stepped()
    facts = (Fact("run-out needed below", need, "mm"), Fact("run-out room below", 20.0, "mm"))
    hob = replace(op("teeth/finish").alternatives[0], method="hobbing", facts=facts)
    operations = changed(usual_operations(made), "teeth/finish", alternatives=(hob,))
    found = [f.what for f in spoken("R7", listed(made, operations)).findings]
    assert found == (["T1 needs 19.5 of 20 mm of run-out below"] if noted else [])


@pytest.mark.parametrize(
    ("diameter", "severity"),
    [(286.0, None), (287.2, Severity.WARNING), (290.0, Severity.ERROR)],
    ids=["deep", "shallow", "above the root"],
)
def test_a_groove_reaches_below_the_root(diameter: float, severity: Severity | None) -> None:
    """Root diameter 5 (60 - 2.5) = 287.5 mm; the shop wants 0.3 mm a side below it."""
    findings = spoken("R8", listed(stepped(diameter=diameter))).findings
    assert [f.severity for f in findings] == ([] if severity is None else [severity])


def test_an_internal_groove_reaches_outside_the_root() -> None:
    """Root diameter of the internal gear 4 (100 + 2.5) = 410 mm."""

    def ring(diameter: float) -> Part:
        return part(
            face("lower_face", "lower", 0),
            face("upper_face", "upper", 100),
            zone("lip", "bore", 0, 30, 360),
            zone("relief", "run_out_groove", 30, 50, diameter, gear="teeth", place="inside"),
            internal("teeth", 50, 100, 100, 4),
        )

    assert not spoken("R8", listed(ring(411))).findings
    shallow = spoken("R8", listed(ring(404))).findings
    assert "stands 3 mm above the root of teeth" in shallow[0].what


def test_a_face_groove_in_the_tooth_zone_is_run_out() -> None:
    """Teeth reach from 465 to 492 mm; a groove from 460 to 485 mm lies in their zone."""
    made = wheel(face_groove("relief", 460, 485))
    assert demands(spoken("R35", listed(made))) == {"relief/finish > teeth/rough"}


def test_a_face_groove_below_the_teeth_comes_after_deburring() -> None:
    made = wheel(face_groove("seal", 430, 455))
    assert demands(spoken("R35", listed(made))) == {"teeth/deburr > seal/finish"}


def test_a_face_groove_far_from_the_teeth_is_free() -> None:
    assert not demands(spoken("R35", listed(wheel(face_groove("seal", 200, 240)))))


def face_groove(name: str, inner: float, outer: float) -> dict[str, object]:
    """Describe a face groove in the upper face."""
    return {
        "name": name, "kind": "face_groove", "on": "upper_face", "side": "upper", "depth": "8 mm",
        "inner_diameter": f"{inner} mm", "outer_diameter": f"{outer} mm",
    }  # fmt: skip


def test_a_seal_groove_of_another_clamping_only_warns() -> None:
    """The groove is made in I, before the teeth of II: the wish gives way."""
    made = wheel(face_groove("seal", 430, 455))
    graph = graph_of(made, usual_operations(made, {"seal": "I", "upper_face": "I"}))
    assert "teeth/deburr > seal/finish" not in {in_short(each) for each in graph.dependencies}
    assert any("burr of teeth may lie in seal" in f.what for f in graph.findings)


def test_a_second_cut_of_the_groove_is_what_counts() -> None:
    made = stepped()
    more = op("relief/widen", Action.GROOVE, Stage.FINISH)
    operations = usual_operations(made)
    place = [each.name for each in operations].index("relief/finish") + 1
    operations.insert(place, more)
    assert "relief/widen > teeth/rough" in demands(spoken("R7", listed(made, operations)))


def test_stock_on_a_small_hub_beside_the_teeth_is_taken_off_first() -> None:
    """The hub ends far below the root, but its blank stands in the way of the cutter until it is turned."""
    made = wheel(zone("hub", "turned_diameter", 100, 130, 200), face("top", "upper", 130))
    assert "hub/rough > teeth/rough" in demands(spoken("R7", listed(made)))


def test_stock_far_from_the_teeth_is_no_matter() -> None:
    """Ten modules of 6 mm are 60 mm; the neck begins 100 mm above the teeth."""
    made = wheel(
        zone("hub", "turned_diameter", 100, 200, 200),
        zone("neck", "turned_diameter", 200, 230, 150),
        face("top", "upper", 230),
    )
    assert not any("neck" in each for each in demands(spoken("R7", listed(made))))
