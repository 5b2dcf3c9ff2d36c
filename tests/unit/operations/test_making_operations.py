"""All operations of a part: steps of clampings, order, findings, and the shipped parts."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_parts import (
    CONDITIONS,
    FROM_ABOVE,
    FROM_BELOW,
    LOWER,
    RING,
    TOOLS,
    UPPER,
    bore,
    fact,
    formula,
    named,
    outside,
    part,
    plain_ring,
    shop_with,
    small_shop,
    zone,
)

from sequencer.errors import SequencerError, Severity
from sequencer.files.load import read_part, read_shop
from sequencer.operations import BENCH, Action, Mode, Stage, make_operations
from sequencer.part import Clamping

BOTH = [FROM_BELOW, {**FROM_ABOVE, "hold": "outside jaws", "on": "blank"}]


def made_of(*features, shop=None, **keys):
    """Make the operations of a ring with more features."""
    return make_operations(plain_ring(*features, **keys), shop or small_shop())


def errors(listed):
    """Give the errors among the findings."""
    return [finding for finding in listed.findings if finding.severity is Severity.ERROR]


def test_order_of_operations():
    """Receipt, opening steps, features in file order, steps of clampings, check at the end."""
    names = [op.name for op in made_of().operations]
    assert names == [
        "part/receive", "I/clamp", "I/indicate", "II/clamp", "II/indicate", "lower_face/rough",
        "lower_face/finish", "upper_face/rough", "upper_face/finish", "bore/rough", "bore/finish",
        "rim/rough", "rim/finish", "part/inspect",
    ]  # fmt: skip
    assert [op.name for op in made_of().operations if op.opening] == names[1:5]


def test_the_same_part_gives_the_same_operations():
    """Nothing depends on chance or on the order of sets."""
    assert made_of().operations == made_of().operations


def test_times_of_clampings_by_hand():
    """Clamp 30 min; II is turned over before: 30 + 40; receipt 20, check 90."""
    listed = made_of()
    minutes = {op.name: op.alternatives[0].minutes for op in listed.operations if len(op.alternatives) == 1}
    assert minutes["I/clamp"] == 30
    assert minutes["II/clamp"] == 70
    assert minutes["II/indicate"] == 10
    assert minutes["part/receive"] == 20
    assert minutes["part/inspect"] == 90
    receive = listed.by_name["part/receive"]
    assert (receive.alternatives[0].clamping, receive.alternatives[0].mode) == (BENCH, Mode.REST)
    assert formula(listed.by_name["II/clamp"].alternatives[0], "time") == "clamp 30 + turn over 40 = 70 min"


def test_a_clamping_of_the_same_side_is_not_turned_over():
    """II and III both stand on the lower face: releasing and lifting only."""
    again = {**FROM_ABOVE, "name": "III"}
    listed = made_of(clampings=[FROM_BELOW, FROM_ABOVE, again])
    assert listed.by_name["III/clamp"].alternatives[0].minutes == 42


def test_close_features_are_measured_before_unclamping():
    """H7 is close: measured where it is finished, after a wash."""
    listed = make_operations(
        part(LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390)), small_shop()
    )
    measure = listed.by_name["bore/measure"]
    assert (measure.stage, measure.action) == (Stage.MEASURE, Action.MEASURE)
    assert measure.clampings == listed.by_name["bore/finish"].clampings == ("I",)
    assert measure.title == "Measure bore (H7)"
    assert "I/wash" in listed.by_name
    assert "II/wash" not in listed.by_name
    assert "rim/measure" not in listed.by_name


def test_what_is_only_ground_outside_is_measured_when_it_comes_back():
    """H5 is closer than the machine turns; a bore that is finished here is measured here."""
    ground = make_operations(
        part(LOWER, UPPER, bore(tolerance="H5"), outside("rim", 0, 200, 390)), small_shop()
    )
    assert ground.by_name["bore/measure"].clampings == (BENCH,)
    hardened = part(
        LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390), material="18CrNiMo7-6",
        heat_treatment={"kind": "case hardening"},
    )  # fmt: skip
    again = {
        "name": "III", "up": "lower", "hold": "outside jaws", "on": "rim", "rests_on": "upper_face",
        "z_from": "160 mm", "z_to": "200 mm",
    }  # fmt: skip
    listed = make_operations(
        hardened.model_copy(update={"clampings": (*hardened.clampings, Clamping.model_validate(again))}),
        small_shop(),
    )
    assert listed.by_name["bore/hard"].clampings == ("III", BENCH)
    assert listed.by_name["bore/measure"].clampings == ("III",)


def test_hard_finishing_wants_a_clamping_after_hardening():
    """In I the part stands on its raw face: the bore is ground outside, with a warning."""
    hardened = part(
        LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390), material="18CrNiMo7-6",
        heat_treatment={"kind": "case hardening"},
    )  # fmt: skip
    listed = make_operations(hardened, small_shop())
    assert listed.by_name["bore/hard"].clampings == (BENCH,)
    warning = next(each for each in listed.findings if each.where == "bore/hard")
    assert warning.severity is Severity.WARNING
    assert warning.what == (
        "sent out: in clamping I the part stands on the raw face that upper_face cuts away before hardening"
    )
    assert warning.remedy == (
        "List a further clamping for after hardening: the same holding again, or one on finished surfaces"
    )


def test_a_bore_too_deep_for_the_probe_is_measured_by_hand():
    """The middle of a bore of 260 mm lies 130 mm deep; the stylus of a body of 130 mm reaches 100 mm."""
    tools = [tool for tool in TOOLS if tool["kind"] != "probe"]
    probe = next(tool for tool in TOOLS if tool["kind"] == "probe") | {"body_diameter": "130 mm"}
    listed = make_operations(
        part(LOWER, {**UPPER, "z": "260 mm"}, bore(z_to=260, tolerance="H7"), outside("rim", 0, 260, 390),
             blank={**RING, "z_to": "263 mm"},
             clampings=[{**FROM_BELOW, "z_from": "220 mm", "z_to": "263 mm"}, BOTH[1]]),
        shop_with(tools=[*tools, probe]),
    )  # fmt: skip
    measure = listed.by_name["bore/measure"]
    assert [(way.method, way.clamping, way.minutes) for way in measure.alternatives] == [
        ("by hand", "I", 2), ("by hand", "II", 2),
    ]  # fmt: skip
    assert measure.alternatives[0].reason == "no probe of the shop gets at it: by hand, with a gauge"
    assert measure.rejected[0].sentence == (
        "the middle of the bore lies 130 mm below the top, the probe reaches 100 mm"
    )
    warning = next(each for each in listed.findings if each.where == "bore/measure")
    assert warning.severity is Severity.WARNING
    assert warning.what == (
        "measured by hand: probing P1: the middle of the bore lies 130 mm below the top, the probe reaches "
        "100 mm"
    )
    assert warning.remedy == "Nearest remedy: a probe with a reach of 130 mm"


def test_what_cannot_be_cut_is_not_measured():
    """The error names the cut alone; measuring would only repeat it."""
    tools = [tool for tool in TOOLS if "inside" not in tool.get("use", ())]
    listed = make_operations(
        part(LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390)), shop_with(tools=tools)
    )
    assert not listed.by_name["bore/finish"].alternatives
    assert "bore/measure" not in listed.by_name


def test_a_stressed_blank_is_released_before_close_finishing():
    """A forging moves as its skin goes: released and held with 60 kN."""
    features = (LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390))
    listed = make_operations(part(*features, blank={**RING, "form": "forging"}), small_shop())
    release = listed.by_name["I/release"]
    assert release.title == "Release in clamping I and clamp again with 60 kN"
    assert release.action is Action.RELEASE
    assert "a forging with high residual stress" in release.alternatives[0].reason


def test_a_thin_ring_is_released():
    """Wall (390 - 340)/2 = 25 over 390 is 0.064, below 0.08."""
    features = (LOWER, UPPER, bore(diameter=340, tolerance="H7"), outside("rim", 0, 200, 390))
    listed = make_operations(part(*features, blank={**RING, "bore": "320 mm"}), small_shop())
    assert (
        "thin: wall over diameter 0.064 is below 0.08" in listed.by_name["I/release"].alternatives[0].reason
    )


def test_a_stout_ring_with_loose_tolerances_is_not_released():
    """Nothing close, nothing to release for."""
    assert not {"I/release", "II/release", "I/soak"} & set(made_of().by_name)


def test_close_sizes_wait_for_temperature():
    """H6 at 120 has 22 um: dT = 22/(4*11.5e-6*120*1000) = 3.99 K, below the 5 K after roughing."""
    features = (LOWER, UPPER, bore(tolerance="H6"), outside("rim", 0, 200, 390))
    listed = make_operations(part(*features), small_shop())
    soak = listed.by_name["I/soak"].alternatives[0]
    assert fact(soak, "allowed temperature difference") == pytest.approx(22 / (4 * 11.5e-3 * 120), rel=1e-9)
    assert soak.minutes == 60
    loose = make_operations(
        part(LOWER, UPPER, bore(tolerance="H8"), outside("rim", 0, 200, 390)), small_shop()
    )
    assert "I/soak" not in loose.by_name


def test_case_hardening_is_in_the_route():
    """On the bench, five days."""
    listed = make_operations(
        plain_ring(
            material="18CrNiMo7-6",
            heat_treatment={"kind": "case hardening", "duration": "5 d", "case_depth": "1 mm"},
        ),
        small_shop(),
    )
    treat = listed.by_name["part/heat_treat"]
    # Away for five days; the shop's own work is the check when it comes back, as at receipt.
    assert treat.alternatives[0].lead_time == 5 * 1440
    assert treat.alternatives[0].minutes == 20
    assert treat.title == "Case hardening, case depth 1 mm"
    assert listed.operations[-1].name == "part/inspect"


def test_a_feature_without_a_way_is_an_error_with_what_was_tried():
    """No blade of the shop fits a groove of 2 mm: the widths tried and the nearest remedy are said."""
    listed = made_of(zone("slot", "groove", 60, 62, diameter="380 mm", on="rim"))
    (found,) = errors(listed)
    assert found.where == "slot/finish"
    assert "grooving G8: blade 8 mm is wider than the groove 2 mm" in found.what
    assert "grooving G3: blade 3 mm is wider than the groove 2 mm" in found.what
    assert found.remedy == "Nearest remedy: a blade of at most 2 mm"
    assert listed.by_name["slot/finish"].alternatives == ()


def test_an_impossible_wish_is_an_error_with_its_reason():
    """A face blade does not turn a rim."""
    listed = make_operations(part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390, tool="GF")), small_shop())
    (found,) = errors(listed)
    assert found.where == "rim/finish"
    assert found.what.startswith("the planner asks for tool GF (grooving, Face blade 6); no way to do it: ")
    assert "works, but the planner asks for tool GF" in found.what
    assert found.remedy == "Drop the wish, or change the shop so that it works"


def test_a_wish_for_an_unknown_tool_says_so():
    """The tool is not in the shop file."""
    listed = make_operations(
        part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390, tool="R99")), small_shop()
    )
    assert "the planner asks for tool R99 (not in the shop file)" in errors(listed)[0].what


def test_an_unreached_feature_names_the_clampings():
    """Both clampings leave the upper face down or under the part: turned over twice."""
    listed = make_operations(
        part(LOWER, UPPER, bore(), outside("rim", 0, 200, 390), clampings=[FROM_BELOW]), small_shop()
    )
    found = next(each for each in errors(listed) if each.where == "upper_face/finish")
    assert "turning in I: looks down in clamping I" in found.what
    assert found.remedy == "Add a clamping in which it is free"


def test_starting_values_are_named_as_estimates():
    """One note a method, with the operations that use them and where to change them."""
    notes = [finding for finding in made_of().findings if finding.severity is Severity.NOTE]
    assert [note.where for note in notes] == ["turning", "boring"]
    assert (
        "lower_face/rough, lower_face/finish, upper_face/rough, upper_face/finish and 2 more" in notes[0].what
    )
    assert notes[0].limit == "an estimate"


def test_own_values_of_a_tool_are_no_estimate():
    """Speed and feed in the shop's tool silence the note."""
    tools = [{**tool, "cutting_speed": "150 m/min", "feed": "0.2 mm"} for tool in TOOLS]
    listed = made_of(shop=shop_with(tools=tools))
    assert not [finding for finding in listed.findings if finding.subject == "estimate"]


def test_a_blank_without_stock_is_a_warning():
    """Rim 400 on a blank of 400."""
    listed = make_operations(part(LOWER, UPPER, bore(), outside("rim", 0, 200, 400)), small_shop())
    (found,) = [finding for finding in listed.findings if finding.severity is Severity.WARNING]
    assert found.where == "rim"
    assert "the blank leaves 0 mm to cut" in found.what


def test_an_unknown_material_is_refused():
    """The shop must know what it cuts."""
    with pytest.raises(SequencerError, match="material 'brass' is not in the shop file"):
        make_operations(plain_ring(material="brass"), small_shop())


def test_without_any_clamping_only_the_clamping_is_an_error():
    """No flood of errors for features when nothing holds the part."""
    held = {**FROM_BELOW, "hold": "face plate"}
    listed = make_operations(plain_ring(clampings=[held]), small_shop())
    assert [finding.where for finding in errors(listed)] == ["clamping I"]
    assert [op.name for op in listed.operations] == ["part/receive", "part/inspect"]


def test_a_shop_without_probe_and_nozzle_works_by_hand():
    """Indicating, measuring and washing are done by hand."""
    tools = [tool for tool in TOOLS if tool["kind"] not in ("probe", "nozzle")]
    listed = make_operations(
        part(LOWER, UPPER, bore(tolerance="H7"), outside("rim", 0, 200, 390)), shop_with(tools=tools)
    )
    for name in ("I/indicate", "I/wash", "bore/measure"):
        assert {each.method for each in named(listed, name).alternatives} == {"by hand"}


@pytest.mark.parametrize(
    "name", ["first_wheel", "bridge_wheel", "press_sleeve", "mill_ring_inch", "telescope_ring"]
)
def test_every_operation_of_the_shipped_parts_has_a_way(parts_folder, name):
    """Each shipped part can be made on the example shop; every way says why and how long."""
    made, shop = read_part(parts_folder / f"{name}.yaml"), read_shop(parts_folder / "shop.yaml")
    listed = make_operations(made, shop)
    assert [str(finding) for finding in errors(listed)] == []
    for operation in listed.operations:
        for alternative in operation.alternatives:
            assert alternative.minutes > 0, operation.name
            assert alternative.reason, operation.name
            assert any(each.name == "time" for each in alternative.facts), operation.name
        for rejection in operation.rejected:
            assert rejection.sentence, operation.name


sizes = st.floats(min_value=5, max_value=60, allow_nan=False)


@settings(deadline=None, derandomize=True, max_examples=40)
@given(step=sizes, wall=sizes, groove=sizes, hole=st.integers(min_value=4, max_value=30))
def test_any_sizes_give_operations_or_reasons(step, wall, groove, hole):
    """Whatever the sizes: each operation has a way, or rejections and an error that say why not."""
    listed = make_operations(
        part(
            LOWER,
            UPPER,
            bore(0, 200, 110 + wall),
            outside("rim", 0, 200 - step, 390),
            outside("hub", 200 - step, 200, 300),
            zone("slot", "groove", 40, 40 + groove, diameter=f"{390 - wall} mm", on="rim"),
            {"name": "holes", "kind": "bolt_circle", "on": "upper_face", "circle_diameter": "240 mm",
             "count": 4, "diameter": f"{hole} mm", "depth": f"{step} mm"},
        ),
        small_shop(),
    )  # fmt: skip
    without = {op.name for op in listed.operations if not op.alternatives}
    assert without == {finding.where for finding in errors(listed)}
    assert all(op.rejected for op in listed.operations if not op.alternatives)


def test_conditions_missing_for_a_whole_material_are_said_for_each_feature():
    """A table without case-hardening steel gives errors that name the rows."""
    rows = [row for row in CONDITIONS if row["group"] == "steel"]
    listed = make_operations(plain_ring(material="18CrNiMo7-6"), shop_with(conditions=rows))
    assert {finding.where for finding in errors(listed)} >= {"rim/rough", "bore/finish"}
    assert "no cutting conditions for turning, carbide, case-hardening steel, rough" in errors(listed)[0].what
