"""Rules on roughing, heat, thin walls and clampings."""

from __future__ import annotations

import sys
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
    listed,
    op,
    part,
    spoken,
    step,
    usual_operations,
    wheel,
    without,
    zone,
)

from sequencer.errors import Severity
from sequencer.operations import Action, Stage
from sequencer.part import Part
from sequencer.precedence.graph import DependencyGraph

RELIEF = {"kind": "stress relief"}
FORGED = {"form": "forging", "diameter": "700 mm", "z_from": "-5 mm", "z_to": "105 mm"}


def test_roughing_comes_before_the_soak_and_close_finishing_after_it() -> None:
    made = wheel()
    said = demands(spoken("R12", listed(made, usual_operations(made, steps="II/soak"))))
    assert {"II: bore/rough > II/soak", "II: II/soak > bore/finish", "II: II/soak > teeth/finish"} <= said


def test_loose_finishing_need_not_wait_for_the_soak() -> None:
    made = wheel(zone("hub", "turned_diameter", 100, 130, 200))
    said = demands(spoken("R12", listed(made, usual_operations(made, steps="II/soak"))))
    assert "II: hub/rough > II/soak" in said
    assert not any("hub/finish" in each for each in said)


def test_without_a_soak_roughing_is_wished_before_close_finishing() -> None:
    said = demands(spoken("R12", listed(wheel())))
    assert "upper_face/rough > bore/finish?" in said
    assert not any(each.startswith("bore/finish") for each in said)


def test_roughing_in_another_clamping_is_no_matter_of_this_one() -> None:
    """The lower face is finished in I; roughing that is done only in II does not meet it."""
    assert not any("lower_face/finish" in each for each in demands(spoken("R12", listed(wheel()))))


def test_a_close_groove_that_roughing_needs_is_not_held_back(double_wheel: Part) -> None:
    """Helices are roughed through the finished groove (R6), so the groove cannot wait for the soak."""
    close = double_wheel.model_copy(update={"datums": {**double_wheel.datums, "D": "gap"}})
    graph = graph_of(close, usual_operations(close, steps="II/soak"))
    assert graph.cycle() is None
    assert graph.leads("gap/finish", "wheel/rough_lower")
    assert graph.leads("wheel/rough_lower", "II/soak")
    assert graph.leads("II/soak", "wheel/finish_lower")


def test_a_heavy_drill_located_from_a_finished_bore_counts_as_finishing() -> None:
    """The drill must follow the finished datum (R2), so it cannot come before the soak; no loop arises."""
    place = {"characteristic": "position", "value": "0.1 mm", "to": ["A"]}
    made = wheel(holes("bolts", "upper_face", 200, 60, datums=["A"], geometric=[place]))
    operations = changed(usual_operations(made, steps="II/soak"), "bolts/drill", heavy=True)
    graph = graph_of(made, operations)
    assert graph.leads("II/soak", "bore/finish")
    assert graph.leads("bore/finish", "bolts/drill")


def test_roughing_of_a_stressed_blank_binds_to_stress_relief() -> None:
    made = wheel(blank=FORGED, heat_treatment=RELIEF)
    said = demands(spoken("R13", listed(made)))
    assert {"bore/rough > part/heat_treat", "part/heat_treat > bore/finish"} <= said


def test_roughing_of_a_calm_blank_only_wishes_for_it() -> None:
    said = demands(spoken("R13", listed(wheel(heat_treatment=RELIEF))))
    assert {"bore/rough > part/heat_treat?", "part/heat_treat > bore/finish?"} <= said


def test_a_seat_that_must_be_finished_before_stress_relief_is_noted() -> None:
    """Clamping II rests on the finished lower face, and roughing in II precedes stress relief."""
    made = wheel(blank=FORGED, heat_treatment=RELIEF)
    found = spoken("R13", listed(made), "R40").findings
    assert [f.where for f in found] == ["lower_face"]
    assert "comes before stress relief, since upper_face/rough needs it done" in found[0].what


@pytest.mark.parametrize(("blank", "reported"), [(FORGED, True), (None, False)], ids=["forged", "bar"])
def test_a_stressed_blank_without_stress_relief_is_reported(
    blank: dict[str, str] | None, reported: bool
) -> None:
    made = wheel(**({} if blank is None else {"blank": blank}))
    findings = spoken("R13", listed(made)).findings
    assert any("high residual stress" in f.what for f in findings) is reported


@pytest.mark.parametrize(("module", "said"), [(10, True), (5, False)], ids=["coarse", "fine"])
def test_coarse_teeth_are_gashed_before_their_datum_bore_is_finished(module: float, said: bool) -> None:
    made = part(
        face("upper_face", "upper", 100),
        zone("bore", "bore", 0, 100, 90, tolerance="H7"),
        gear("teeth", 0, 100, 50, module, datums=["A"]),
        datums={"A": "bore"},
    )
    assert ("teeth/rough > bore/finish?" in demands(spoken("R14", listed(made)))) is said


def test_coarse_teeth_are_gashed_before_stress_relief() -> None:
    made = part(gear("teeth", 0, 100, 50, 10), heat_treatment=RELIEF)
    assert demands(spoken("R14", listed(made))) == {"teeth/rough > part/heat_treat?"}


def test_finishing_waits_for_the_release_and_roughing_precedes_it() -> None:
    made = wheel()
    said = demands(spoken("R15", listed(made, usual_operations(made, steps="II/soak II/release"))))
    assert {"II/soak > II/release", "II: bore/rough > II/release", "II: II/release > teeth/finish"} <= said


def test_roughing_in_another_clamping_may_follow_the_release() -> None:
    """What can be done in I or II is bound to the release of II only while it is done in II."""
    made = wheel()
    operations = usual_operations(made, {"bore": "I II"}, steps="II/release")
    graph = graph_of(made, operations)
    assert "II: bore/rough > II/release" in {in_short(each) for each in graph.dependencies}
    assert not graph.leads("bore/rough", "II/release") or graph.possible["bore/rough"] == ("II",)


def thin_ring(**keys: object) -> Part:
    """Make a ring with a wall of 20 mm on 500 mm."""
    return part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 60),
        zone("bore", "bore", 0, 60, 460, tolerance="H7"),
        zone("rim", "turned_diameter", 0, 60, 500, tolerance="h7"),
        **keys,
    )


def test_a_thin_ring_in_jaws_without_a_release_is_reported() -> None:
    jaws = clamping("II", "upper", on="rim", rests_on="lower_face", z_from="0 mm", z_to="20 mm")
    made = thin_ring(clampings=[clamping("I", "lower"), jaws])
    found = spoken("R15", listed(made)).findings
    assert any("roughed and finished without being released" in f.what for f in found)
    released = listed(made, usual_operations(made, steps="II/release"))
    assert not spoken("R15", released).findings


def test_thin_walls_wait_for_other_heavy_cuts() -> None:
    made = part(
        face("lower_face", "lower", 0),
        zone("bore", "bore", 0, 100, 90),
        zone("hub", "turned_diameter", 0, 60, 300),
        zone("sleeve", "turned_diameter", 60, 100, 100),
    )
    said = demands(spoken("R16", listed(made)))
    assert "hub/rough > sleeve/finish?" in said
    assert not any("> hub/finish" in each for each in said)


def test_thick_parts_have_no_thin_walls() -> None:
    assert not demands(spoken("R16", listed(wheel())))


def test_a_probing_step_stands_between_roughing_and_close_finishing() -> None:
    made = wheel()
    operations = usual_operations(made, steps="II/soak II/probe")
    said = demands(spoken("R19", listed(made, operations)))
    assert {"II/soak > II/probe", "II: bore/rough > II/probe", "II: II/probe > bore/finish"} <= said


@pytest.mark.parametrize(("minutes", "noted"), [(45.0, True), (5.0, False)], ids=["long", "short"])
def test_long_roughing_without_probing_is_noted(minutes: float, noted: bool) -> None:
    """60 min of roughing in one clamping; common practice, no source."""
    made = wheel()
    operations = usual_operations(made)
    for name in ("bore/rough", "teeth/rough"):
        first = next(each for each in operations if each.name == name).alternatives[0]
        longer = type(first)(first.method, first.tool, first.clamping, first.mode, minutes)
        operations = changed(operations, name, alternatives=(longer,))
    assert bool(spoken("R19", listed(made, operations)).findings) is noted


def bevel_part() -> Part:
    """Make a hub with bevel teeth above it."""
    return part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 120),
        zone("bore", "bore", 0, 120, 60, tolerance="H7"),
        zone("hub", "turned_diameter", 0, 60, 300),
        {
            "name": "bevel", "kind": "bevel_gear", "apex": "upper", "teeth": 40, "module": "6 mm",
            "mate_teeth": 40, "face_width": "40 mm", "z_from": "60 mm", "z_to": "100 mm",
            "mounting_distance": "200 mm", "mounting_face": "lower_face", "datums": ["A"],
        },
        datums={"A": "bore"},
    )  # fmt: skip


@pytest.mark.parametrize(("method", "said"), [("end-mill milling", True), ("shaping", False)])
def test_bevel_teeth_by_end_mill_come_after_heavy_cuts(method: str, said: bool) -> None:
    made = bevel_part()
    cut = op("bevel/finish", Action.CUT_TEETH, Stage.FINISH, method=method)
    operations = changed(usual_operations(made), "bevel/finish", alternatives=cut.alternatives)
    assert ("hub/rough > bevel/finish?" in demands(spoken("R32", listed(made, operations)))) is said


# -- clampings -------------------------------------------------------------------------------------


def test_a_thin_ring_in_few_hard_jaws_is_reported() -> None:
    jaws = clamping("II", "upper", on="rim", rests_on="lower_face", z_from="0 mm", z_to="20 mm")
    made = thin_ring(clampings=[clamping("I", "lower"), jaws])
    found = spoken("R17", listed(made, means={"II": "hard_jaws", "I": "soft_jaws"})).findings
    assert [f.where for f in found] == ["II"]
    assert "is finished in 3 hard jaws" in found[0].what
    assert not spoken("R17", listed(made, means={"II": "soft_jaws"})).findings


def test_a_thick_part_may_be_held_in_three_jaws() -> None:
    assert not spoken("R17", listed(wheel(), means={"II": "hard_jaws", "I": "hard_jaws"})).findings


def test_each_clamping_is_opened_by_indicating() -> None:
    assert demands(spoken("R18", listed(wheel()))) == {
        "I/clamp > I/indicate",
        "I: I/indicate > all",
        "II/clamp > II/indicate",
        "II: II/indicate > all",
    }


def test_indicating_opens_the_work_but_not_the_clamping_itself() -> None:
    graph = graph_of(wheel())
    assert graph.leads("II/indicate", "bore/rough")
    assert not graph.leads("II/indicate", "II/clamp")


def test_a_clamping_without_indicating_is_reported() -> None:
    made = wheel()
    operations = without(usual_operations(made), "II/indicate")
    found = spoken("R18", listed(made, operations)).findings
    assert [f.where for f in found] == ["II"]


def test_a_clamping_is_opened_by_what_it_grips() -> None:
    jaws = clamping(
        "II", "upper", hold="inside jaws", on="bore", rests_on="lower_face", z_to="40 mm", z_from="0 mm"
    )
    made = wheel(clampings=[clamping("I", "lower"), jaws])
    operations = usual_operations(made, {"bore": "I"})
    assert "II: bore/finish > all" in demands(spoken("R39", listed(made, operations)))


def test_a_clamping_is_opened_by_the_threads_it_is_bolted_through() -> None:
    made = wheel(
        holes("bolts", "lower_face", 300, 20, thread_pitch="2.5 mm", use="clamping"),
        clampings=[
            clamping("I", "lower"),
            clamping("II", "upper", hold="bolts", on="bolts", rests_on="lower_face", z_from=None, z_to=None),
        ],
    )
    operations = usual_operations(made, {"bolts": "I"})
    assert "II: bolts/tap > all" in demands(spoken("R39", listed(made, operations)))


def test_the_raw_surface_under_the_jaws_closes_its_clamping_when_it_is_turned() -> None:
    said = demands(spoken("R39", listed(wheel())))
    assert "I: all > teeth/blank_rough" in said
    assert "I: all > upper_face/rough" in said


def test_a_raw_band_that_no_feature_turns_stays_usable() -> None:
    """The band from 60 to 100 mm stays raw: only the raw face that the part stands on is lost."""
    made = part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 100),
        zone("rim", "turned_diameter", 0, 50, 400),
    )
    assert "I: all > rim/rough" not in demands(spoken("R39", listed(made)))


def test_a_gripped_surface_that_is_turned_away_later_closes_its_clamping() -> None:
    """A spigot of 300 mm is gripped in II and turned down to 250 mm in III."""
    jaws = {"hold": "outside jaws", "z_from": "0 mm", "z_to": "20 mm"}
    made = part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 100),
        zone("spigot", "turned_diameter", 0, 30, 300),
        zone("neck", "turned_diameter", 0, 40, 250),
        clampings=[
            clamping("I", "lower"),
            clamping("II", "upper", on="spigot", rests_on="lower_face", **jaws),
            clamping("III", "lower", hold="face plate", on="upper_face", rests_on="upper_face"),
        ],
    )
    operations = usual_operations(made, {"spigot": "I", "neck": "III"})
    assert "II: all > neck/rough" in demands(spoken("R39", listed(made, operations)))


def test_a_surface_that_is_made_only_in_its_own_clamping_is_an_error() -> None:
    jaws = clamping("II", "upper", on="rim", rests_on="lower_face", z_from="0 mm", z_to="20 mm")
    made = thin_ring(clampings=[clamping("I", "lower"), jaws])
    found = spoken("R39", listed(made)).findings
    assert [f.severity for f in found] == [Severity.ERROR]
    assert "grips rim, which no earlier clamping makes" in found[0].what


def test_hard_jaws_on_a_finished_surface_are_reported() -> None:
    jaws = clamping("II", "upper", on="rim", rests_on="lower_face", z_from="0 mm", z_to="20 mm")
    made = thin_ring(clampings=[clamping("I", "lower"), jaws])
    operations = usual_operations(made, {"rim": "I"})
    found = spoken("R39", listed(made, operations, means={"II": "hard_jaws"})).findings
    assert "hard jaws of hard_jaws grip finished rim" in found[0].what
    assert not spoken("R39", listed(made, operations)).findings


def test_the_seat_of_a_clamping_opens_it() -> None:
    assert demands(spoken("R40", listed(wheel()))) == {"II: lower_face/finish > all"}


def test_a_clamping_on_the_raw_blank_has_no_seat() -> None:
    made = part(face("lower_face", "lower", 0), clampings=[clamping("I", "lower")])
    assert not demands(spoken("R40", listed(made)))


def test_a_seat_without_flatness_is_noted_and_one_that_tilts_teeth_is_a_warning() -> None:
    """Source: helix slope b w / D, derived; 100 mm x 60 um / 492 mm = 12.2 um for a tolerance of 14 um."""
    plain = part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 100),
        gear("teeth", 0, 100, 80, 6),
    )
    assert [f.severity for f in spoken("R40", listed(plain)).findings] == [Severity.NOTE]
    flat = [{"characteristic": "flatness", "value": "0.06 mm"}]
    tilted = part(
        face("lower_face", "lower", 0, geometric=flat),
        face("upper_face", "upper", 100),
        gear("teeth", 0, 100, 80, 6),
    )
    found = spoken("R40", listed(tilted)).findings
    assert [f.severity for f in found] == [Severity.WARNING]
    assert "60 um over 492 mm tilts its teeth by 12.2 um" in found[0].what


def test_two_supports_are_too_few() -> None:
    found = spoken("R40", listed(wheel(), means={"II": "two_bolts"})).findings
    assert any("at 2 points" in f.what for f in found)


def test_steps_of_a_clamping_are_named_after_it() -> None:
    assert step("II/soak").feature == "II"


FLAT = {
    "name": "flats", "kind": "flat", "on": "rim", "distance": "190 mm", "count": 4,
    "z_from": "0 mm", "z_to": "15 mm",
}  # fmt: skip


def gripped_rim(flats: str, *, low: float = 0, third: bool = True) -> tuple[Part, DependencyGraph]:
    """A ring gripped in II on its rim from `low` to 20 mm above; flats on the rim are milled in `flats`."""
    band = {"z_from": f"{low} mm", "z_to": f"{low + 20} mm"}
    more = clamping("III", "upper", hold="face plate", on="lower_face", rests_on="lower_face")
    plate = [more | {"z_from": None, "z_to": None}] if third else []
    made = part(
        face("lower_face", "lower", 0),
        face("upper_face", "upper", 100),
        zone("rim", "turned_diameter", 0, 50, 400),
        FLAT,
        clampings=[
            clamping("I", "lower"),
            clamping("II", "upper", on="rim", rests_on="lower_face", **band),
            *plate,
        ],
    )
    return made, graph_of(made, usual_operations(made, {"rim": "I", "flats": flats}))


def test_flats_in_the_gripped_band_wait_for_a_later_clamping_that_reaches_them() -> None:
    _, graph = gripped_rim("I III")
    assert "II: all > flats/finish" in {in_short(each) for each in graph.dependencies}
    assert graph.possible["flats/finish"] == ("III",)
    assert not [f for f in graph.findings if "grips rim" in f.what]


def test_flats_in_the_gripped_band_that_no_later_clamping_reaches_are_a_warning() -> None:
    _, graph = gripped_rim("I", third=False)
    found = [f for f in graph.findings if f.subject == "rule R39" and f.severity is Severity.WARNING]
    assert [f.what.split(":")[0] for f in found] == [
        "II grips rim at z 0 to 20 mm, where flats (z 0 to 15 mm) is already cut"
    ]
    assert found[0].limit == "R39 wants flats/finish after all work in clamping II: only I reaches it"


def test_flats_beside_the_gripped_band_are_free() -> None:
    _, graph = gripped_rim("I III", low=15)
    assert graph.possible["flats/finish"] == ("I", "III")
    assert not [f for f in graph.findings if "grips rim" in f.what]


def test_flats_that_other_musts_need_early_are_a_warning() -> None:
    """The planner wants the flats before the upper face, which is turned in II."""
    made, _ = gripped_rim("I III")
    order = made.order.model_copy(update={"before": (("flats/finish", "upper_face/rough"),)})
    made = made.model_copy(update={"order": order})
    graph = graph_of(made, usual_operations(made, {"rim": "I", "flats": "I III"}))
    found = [f for f in graph.findings if f.subject == "rule R39" and f.severity is Severity.WARNING]
    assert "R39 wants flats/finish after all work in clamping II: " in found[0].limit


def test_a_keyway_in_a_bore_that_is_gripped_inside_is_a_note() -> None:
    """Jaws are set beside a single slot."""
    ends = {"z_from": "0 mm", "z_to": "100 mm", "width": "20 mm", "depth": "6 mm"}
    jaws = clamping(
        "II", "upper", hold="inside jaws", on="bore", rests_on="lower_face", z_from="0 mm", z_to="40 mm"
    )
    made = wheel(
        {"name": "key", "kind": "keyway", "on": "bore"} | ends, clampings=[clamping("I", "lower"), jaws]
    )
    found = spoken("R39", listed(made, usual_operations(made, {"bore": "I", "key": "I"}))).findings
    assert [f.severity for f in found if "where key" in f.what] == [Severity.NOTE]
