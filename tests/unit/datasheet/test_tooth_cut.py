"""`sequencer cut`: what a cutter of the shop leaves with the planned set-up, and with a mistake."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from sequencer.cli import app
from sequencer.cutting.simulation import Deviation
from sequencer.datasheet.choose import gear_cutter, tooth_system
from sequencer.datasheet.tooth_cut import CutWanted, ToothCut, cut_wanted, tooth_cuts
from sequencer.errors import BadFile, OutOfRange, SequencerError
from sequencer.files import part_from_text, read_part_and_shop, shop_from_text
from sequencer.operations import make_operations
from sequencer.papers.cut_text import cut_lines
from sequencer.pictures.deviation import draw_deviation

PARTS = Path(__file__).parents[3] / "parts"


def run(*words: str) -> Result:
    """Run the command line."""
    return CliRunner().invoke(app, ["cut", *words], env={"COLUMNS": "400"})


def cut(part: str, feature: str, tool: str, wanted: CutWanted | None = None) -> tuple[ToothCut, ...]:
    """Cut teeth of a shipped part."""
    read, shop = read_part_and_shop(PARTS / f"{part}.yaml", PARTS / "shop.yaml")
    teeth, cutter = tooth_system(read, feature), gear_cutter(shop, tool)
    return tooth_cuts(make_operations(read, shop), teeth, cutter, wanted or CutWanted())


@pytest.mark.parametrize(
    ("part", "feature", "tool", "facets"),
    [
        ("first_wheel", "teeth", "T47", 2.0),
        ("bridge_wheel", "wheel", "T45", 2.0),
        ("press_sleeve", "high_gear", "T52", 2.0),
        ("telescope_ring", "inner_teeth", "T56", 0.01),
        ("telescope_ring", "outer_teeth", "T55", 0.01),
        ("bridge_wheel", "spline", "T59", 0.01),
        ("mill_ring_inch", "inner_teeth", "T61", 0.01),
    ],
)
def test_planned_set_up_leaves_the_involute(part: str, feature: str, tool: str, facets: float) -> None:
    """Hobs of 12 gashes leave facets below 2 um, made skiving edges nothing."""
    for each in cut(part, feature, tool):
        assert each.deviation.largest < facets
        assert abs(each.worst[2]) == each.deviation.largest


def test_a_tooth_of_which_nothing_is_left_is_said_so() -> None:
    words = "nothing is left of the tooth"
    (wrong,) = cut("first_wheel", "teeth", "T47", CutWanted(mistake="sense"))
    assert any(words in note for note in wrong.notes)
    (right,) = cut("first_wheel", "teeth", "T47")
    assert not any(words in note for note in right.notes)


def test_bodies_of_a_skiving_cutter_tilted_wrongly_mill_away_straight_teeth() -> None:
    """The edge, square to the axis, is its own mirror image: the flanks alone would show no mistake."""
    (made,) = cut("bridge_wheel", "pinion", "T55", CutWanted(mistake="angle"))
    assert made.deviation.largest < 0.01
    assert any("stand 40 deg across the gap" in note for note in made.notes)


def test_both_helices_are_cut() -> None:
    lower, upper = cut("bridge_wheel", "wheel", "T45")
    assert (lower.file, upper.file) == ("cut-wheel-lower-T45", "cut-wheel-upper-T45")
    assert any("not planned with T45" in note for note in lower.notes)


@pytest.mark.parametrize("mistake", ["sense", "differential", "angle"])
@pytest.mark.parametrize(
    ("part", "feature", "tool"), [("press_sleeve", "high_gear", "T52"), ("press_sleeve", "low_gear", "T57")]
)
def test_each_mistake_ruins_the_teeth(mistake: str, part: str, feature: str, tool: str) -> None:
    """A wrong sense, differential or tilt is seen in tenths of a millimetre."""
    (made,) = cut(part, feature, tool, cut_wanted(mistake, "made", None, None))
    assert made.deviation.largest > 500
    assert any(line.startswith("MISTAKE") for line in made.settings)
    assert "cut too deep" in cut_lines(made)[-1] or "material stays" in cut_lines(made)[-1]


def test_plain_involute_edge_deviates() -> None:
    (made,) = cut("telescope_ring", "inner_teeth", "T56", CutWanted(edge="involute"))
    assert 0.5 < made.deviation.largest < 20


def test_feed_marks_add_to_the_facets() -> None:
    plain = cut("press_sleeve", "high_gear", "T52")[0].deviation.largest
    marked = cut("press_sleeve", "high_gear", "T52", CutWanted(feed_marks=True))[0].deviation.largest
    assert marked > plain + 1


def test_profile_can_be_narrowed() -> None:
    wanted = cut_wanted(None, "made", "355 mm", "365 mm")
    (made,) = cut("first_wheel", "teeth", "T47", wanted)
    assert (made.deviation.left[0][0], made.deviation.left[-1][0]) == pytest.approx((355.0, 365.0))


RING = """
name: Small ring
drawing: SR-1
material: C45+N
blank: {form: ring, diameter: 320 mm, bore: 195 mm, z_from: -3 mm, z_to: 63 mm}
features:
  - {name: lower_face, kind: face, side: lower, z: 0 mm}
  - {name: upper_face, kind: face, side: upper, z: 60 mm}
  - {name: rim, kind: turned_diameter, diameter: 310 mm, z_from: 0 mm, z_to: 60 mm}
  - {name: teeth, kind: internal_gear, teeth: 44, module: 5 mm, z_from: 0 mm, z_to: 60 mm,
     flank_class: {year: 2013, class: 8}}
"""


def test_cutter_that_cuts_a_part_of_the_profile_is_told() -> None:
    """15 teeth cannot cut the tips of 44 internal teeth near their base circle: cut is the rest."""
    text = (PARTS / "shop.yaml").read_text(encoding="utf-8")
    external = 'external", material: HSS-PM, module: "5 mm", teeth: 21, helix_angle: "20 deg"'
    assert external in text
    text = text.replace(external, external.replace("21", "15"))
    text = re.sub(
        r"(T55.*?outside_diameter: )\"[\d.]+ mm\"(.*?neck_diameter: )\"\d+ mm\"", r'\1"90 mm"\2"50 mm"', text
    )
    part, shop = part_from_text(RING), shop_from_text(text)
    (made,) = tooth_cuts(
        make_operations(part, shop), part.by_name["teeth"], shop.tool_by_name["T55"], CutWanted()
    )
    assert made.deviation.largest < 0.01
    told = next(note for note in made.notes if "compared from diameter" in note)
    assert told.startswith("the edge of the cutter turns back where it should cut this profile")
    assert made.deviation.left[0][0] > 210.5
    assert made.deviation.left[-1][0] == pytest.approx(232.5, abs=2.5)


def test_no_differential_on_straight_teeth() -> None:
    with pytest.raises(SequencerError, match="straight teeth are cut without a differential"):
        cut("first_wheel", "teeth", "T47", CutWanted(mistake="differential"))


def test_hob_does_not_reach_inside() -> None:
    with pytest.raises(OutOfRange, match="the gear is internal"):
        cut("telescope_ring", "inner_teeth", "T49")


def test_cutter_of_another_module_is_refused() -> None:
    with pytest.raises(SequencerError, match="hob T48 has module 5 mm, the teeth have 6 mm"):
        cut("first_wheel", "teeth", "T48")


def test_words_of_options_are_checked_together() -> None:
    with pytest.raises(BadFile, match="--mistake: 'sens' is not known") as told:
        cut_wanted("sens", "mad", "3", None)
    assert len(told.value.faults) == 3


def test_command_draws_and_prints(tmp_path: Path) -> None:
    answer = run(str(PARTS / "first_wheel.yaml"), "teeth", "T47", "--out", str(tmp_path))
    assert answer.exit_code == 0
    assert "largest deviation:" in answer.stdout
    drawn = (tmp_path / "cut-teeth-T47.svg").read_text(encoding="utf-8")
    words = "".join(ElementTree.fromstring(drawn).itertext())
    assert "left flank" in words
    assert "teeth cut by T47" in words


@pytest.mark.parametrize(
    ("tool", "words"),
    [("T01", "neither hob nor skiving cutter"), ("T471", "Did you mean 'T47'?")],
)
def test_other_tools_are_refused(tool: str, words: str) -> None:
    answer = run(str(PARTS / "first_wheel.yaml"), "teeth", tool)
    assert answer.exit_code == 2
    assert words in answer.stderr


def test_wrong_mistake_has_a_near_miss() -> None:
    answer = run(str(PARTS / "first_wheel.yaml"), "teeth", "T47", "--mistake", "angel")
    assert answer.exit_code == 2
    assert "Did you mean 'angle'?" in answer.stderr


def test_picture_is_black_and_white_and_the_same_twice() -> None:
    flank = tuple((100.0 + step, step - 5.0) for step in range(11))
    deviation = Deviation("gear", flank, tuple((d, -v) for d, v in flank))
    drawn = draw_deviation(deviation, "teeth cut by T1", ("a note",))
    assert drawn == draw_deviation(deviation, "teeth cut by T1", ("a note",))
    for shade in re.findall(r"#[0-9a-f]{6}", drawn):
        assert shade[1:3] == shade[3:5] == shade[5:7], shade


def test_picture_of_nothing_at_all_can_be_drawn() -> None:
    flank = tuple((100.0 + step, 0.0) for step in range(3))
    assert "0 um" in draw_deviation(Deviation("gear", flank, flank), "teeth")
