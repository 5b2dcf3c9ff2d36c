"""What stands on the sheets: compared with stored text, and rule by rule."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from example_plan import example_plan
from sheet_text import sheet_text

from sequencer.operations import Action, Stage
from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import masses
from sequencer.papers.model import Amount, Cell, Column, Sheet, Table
from sequencer.papers.route_sheet import route_sheet
from sequencer.papers.write import make_sheets
from sequencer.plan import Plan
from sequencer.units import Quantity

GOLDEN = Path(__file__).parents[2] / "golden"
NAMES = (
    "route_sheet",
    "tool_list",
    "method_sheet",
    "gear_sheet",
    "findings_sheet",
    "inspection_sheet",
    "ledger_sheet",
    "datum_sheet",
    "time_sheet",
    "cost_sheet",
    "review_sheet",
    "sources_sheet",
)


def _columns(table: Table, name: str) -> tuple[Cell, ...]:
    place = [column.name for column in table.columns].index(name)
    return tuple(row.cells[place] for row in table.rows)


def _step_tables(sheet: Sheet) -> list[Table]:
    return [
        t
        for s in sheet.sections
        for t in s.tables
        if [c.name for c in t.columns][:2] == ["Step", "Operation"]
    ]


@pytest.mark.parametrize(("place", "name"), list(enumerate(NAMES)))
def test_sheets_read_as_stored(sheets: tuple[Sheet, ...], place: int, name: str) -> None:
    """A stored sheet changes only in a commit that says why."""
    assert sheet_text(sheets[place]) == (GOLDEN / f"{name}.txt").read_text(encoding="utf-8")


def test_steps_stand_once_and_in_order(sheets: tuple[Sheet, ...], plan: Plan) -> None:
    tables = _step_tables(sheets[0])[: len(plan.sequence.visits)]
    numbers = [cell for table in tables for cell in _columns(table, "Step") if cell is not None]
    assert numbers == [step.number for step in plan.sequence.steps]


def test_the_sum_of_minutes_is_that_of_the_plan(sheets: tuple[Sheet, ...], plan: Plan) -> None:
    last = _step_tables(sheets[0])[len(plan.sequence.visits) - 1]
    total = _columns(last, "Sum")[-1]
    assert isinstance(total, float)
    assert total == pytest.approx(plan.sequence.minutes)


def test_units_stand_in_headings_never_in_number_cells(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        for section in sheet.sections:
            for table in section.tables:
                for column in table.columns:
                    if column.number:
                        cells = _columns(table, column.name)
                        assert not any(isinstance(cell, str) for cell in cells), (table.title, column.name)


def test_every_sheet_has_the_last_word(sheets: tuple[Sheet, ...]) -> None:
    """Machine limits, local codes and licensed practice come first on every sheet."""
    for sheet in sheets:
        assert any(LAST_WORD in section.cautions for section in sheet.sections), sheet.title
    assert "local codes" in LAST_WORD
    assert "licensed or authorised" in LAST_WORD
    assert "free of collisions" in LAST_WORD


@pytest.mark.parametrize(
    "words",
    [
        "Mass 986 kg as received, 683 kg finished",
        "Lower bolt-down threads",
        "45 degrees",
        "Nobody on the table",
        "hot and sharp",
        "tooth edges cut",
        "Guards and doors closed",
    ],
)
def test_the_route_sheet_shows_the_cautions(sheets: tuple[Sheet, ...], words: str) -> None:
    """Common practice, no source: what a route sheet for a heavy part warns of."""
    text = " ".join(caution for section in sheets[0].sections for caution in section.cautions)
    assert words in text


def test_each_clamping_shows_speed_cap_and_jaw_force(sheets: tuple[Sheet, ...]) -> None:
    blocks = {s.title: " ".join(s.cautions) for s in sheets[0].sections if s.title.startswith("Clamping")}
    assert list(blocks) == ["Clamping I, visit 1 of 2", "Clamping II, visit 2 of 2"]
    first, second = blocks.values()
    assert "never above 212 rpm" in first
    assert "160 kN over all 4 jaws, 50 kN for finishing. Check it again after the first roughing cut" in first
    assert "never above 320 rpm" in second
    assert "bolts tightened crosswise" in second


def test_a_part_without_lifting_points_says_so(plan: Plan) -> None:
    bolts = plan.part.by_name["lower_bolts"].model_copy(update={"use": ""})
    features = tuple(bolts if each.name == "lower_bolts" else each for each in plan.part.features)
    bare = replace(plan, part=plan.part.model_copy(update={"features": features}))
    text = " ".join(caution for section in route_sheet(bare).sections for caution in section.cautions)
    assert "names no lifting points" in text


def test_a_weighed_blank_is_shown_as_written(plan: Plan) -> None:
    """Given masses win, in the planner's own words; computed ones are marked as estimates."""
    blank = plan.part.blank.model_copy(update={"mass": Quantity(1000.0, "2205 lb")})
    weighed = replace(plan, part=plan.part.model_copy(update={"blank": blank}))
    assert masses(weighed)[0].words == "2205 lb"
    assert not masses(weighed)[0].estimate
    assert masses(plan)[0].estimate


def test_no_date_is_taken_from_the_clock(plan: Plan) -> None:
    undated = replace(plan, part=plan.part.model_copy(update={"order_date": None}))
    sheet = route_sheet(undated)
    assert sheet.stamp.date == ""
    assert "Date" not in [entry.name for entry in sheet.entries]


def test_inch_parts_show_feeds_in_inches_and_given_sizes_as_written() -> None:
    """0.5 mm a revolution are 0.0197 in; 150 m/min are 492 ft/min."""
    table = _step_tables(make_sheets(example_plan("in"))[0])[1]
    speed, feed = (next(c for c in table.columns if c.name == name) for name in ("vc", "f"))
    assert (speed.unit, feed.unit) == ("ft/min", "in")
    row = next(row for row in table.rows if row.cells[1] == "Rough turn the lower face")
    words = {c.name: c.words(cell) for c, cell in zip(table.columns, row.cells, strict=True)}
    assert (words["vc"], words["f"]) == ("492", "0.0197")
    assert words["Feature"] == "lower_face: z 0 mm, Ra 1.6 um"


def test_holds_and_estimates_are_marked(sheets: tuple[Sheet, ...]) -> None:
    marks: dict[Cell, Cell] = {}
    for table in _step_tables(sheets[0])[:4]:
        marks.update(zip(_columns(table, "Operation"), _columns(table, "Mark"), strict=True))
    assert marks["Check the apex at four places"] == "HOLD"
    assert marks["Indicate the blank"] == "MEASURE"
    assert marks["Rough bore"] == "E"
    assert marks["Slot the keyway"] is None


def test_every_estimate_of_a_step_is_listed(sheets: tuple[Sheet, ...], plan: Plan) -> None:
    listed = next(s for s in sheets[4].sections if s.title == "Estimates").tables[0]
    steps = {number for cell in _columns(listed, "Steps") if cell for number in str(cell).split(", ")}
    assert steps == {
        str(step.number)
        for step in plan.sequence.steps
        if any(fact.estimate for fact in step.alternative.facts)
    }


def test_every_rejection_of_a_tooth_system_is_on_the_method_sheet(
    sheets: tuple[Sheet, ...], plan: Plan
) -> None:
    sentences = [cell for s in sheets[2].sections for t in s.tables if t.title == "Methods"
                 for cell in _columns(t, "Why")]  # fmt: skip
    for operation in plan.operations.operations:
        if operation.action is Action.CUT_TEETH:
            for rejection in operation.rejected:
                assert rejection.sentence in sentences


def test_a_part_without_teeth_has_a_method_sheet_that_says_so(plan: Plan) -> None:
    operations = tuple(o for o in plan.operations.operations if o.action is not Action.CUT_TEETH)
    toothless = replace(plan, operations=replace(plan.operations, operations=operations))
    assert make_sheets(toothless)[2].sections[0].paragraphs == ("The part has no tooth systems.",)


def test_a_remark_stands_at_the_finish_of_its_feature(sheets: tuple[Sheet, ...], plan: Plan) -> None:
    remarks = {}
    for table in _step_tables(sheets[0])[:4]:
        remarks.update(zip(_columns(table, "Operation"), _columns(table, "Remark"), strict=True))
    assert remarks["Finish hob the lower half"] == "Both halves from one angular zero."
    assert remarks["Rough hob the lower half"] is None
    assert any(step.operation.stage is Stage.FINISH for step in plan.sequence.steps)


def test_columns_write_numbers_by_their_unit() -> None:
    assert Column("Own", "min", number=True).words(12.345) == "12.3"
    assert Column("f", "mm", number=True).words(0.25) == "0.25"
    assert Column("Words").words("plain") == "plain"
    assert Column("Own", "min").words(None) == ""


def test_work_away_from_the_shop_shows_its_days(plan: Plan) -> None:
    """7200 min are five days: in the remark, in the mark and in the totals."""
    last = plan.sequence.steps[-1]
    away = replace(last, alternative=replace(last.alternative, lead_time=7200.0))
    steps = (*plan.sequence.steps[:-1], away)
    sheet = route_sheet(replace(plan, sequence=replace(plan.sequence, steps=steps)))
    table = _step_tables(sheet)[3]
    row = dict(zip([column.name for column in table.columns], table.rows[0].cells, strict=True))
    assert row["Remark"] == "away 5.0 d"
    assert row["Mark"] == "HOLD SENT OUT"
    totals = {row.cells[0]: row.cells[1] for row in sheet.sections[0].tables[0].rows}
    assert totals["Days away from the shop, one after the other"] == Amount(5.0, "d")
