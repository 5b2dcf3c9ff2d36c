"""The pack, the review page, the page for a pair and the marked sheets, by structure."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pytest
from typer.testing import CliRunner

from sequencer.cli import app
from sequencer.differences import outline_of
from sequencer.papers.compare_sheet import compare_sheet, difference_lines
from sequencer.papers.header import stamp_of
from sequencer.papers.html_page import sheets_html
from sequencer.papers.marked import marked_sheets
from sequencer.papers.model import Sheet, Table
from sequencer.papers.picture_files import picture_files
from sequencer.papers.review_sheet import QUESTIONS
from sequencer.papers.why_page import why_page, write_why
from sequencer.papers.workbook import sheets_xlsx
from sequencer.papers.write import make_pack, make_sheets
from sequencer.plan import Plan
from sequencer.sequencing import explain_pair


@pytest.fixture(scope="module")
def pack(plan: Plan) -> tuple[Sheet, ...]:
    drawn = picture_files(plan)
    return make_pack(plan, {name: made.decode() for name, made in drawn.items() if name.endswith(".svg")})


def _tables(sheet: Sheet) -> list[Table]:
    return [table for section in sheet.sections for table in section.tables]


def test_the_contents_name_every_sheet_once_with_its_purpose(pack: tuple[Sheet, ...]) -> None:
    front, *rest = pack
    contents = [entry for section in front.sections for entry in section.contents]
    assert [entry.name for entry in contents] == [sheet.title for sheet in rest]
    assert all(entry.words for entry in contents)


def test_all_sheets_carry_one_stamp(pack: tuple[Sheet, ...]) -> None:
    assert len({sheet.stamp for sheet in pack}) == 1


def test_rows_are_as_wide_as_their_tables(pack: tuple[Sheet, ...]) -> None:
    for sheet in pack:
        for table in _tables(sheet):
            assert all(len(row.cells) == len(table.columns) for row in table.rows), table.title


def test_the_review_refers_to_sheets_and_steps_that_exist(pack: tuple[Sheet, ...], plan: Plan) -> None:
    titles = {sheet.title for sheet in pack}
    assert len(QUESTIONS) == 20
    assert {question.sheet for question in QUESTIONS} <= titles
    numbers = {step.number for step in plan.sequence.steps}
    for question in QUESTIONS:
        answer = question.answer(plan)
        assert set(answer.steps) <= numbers, question.words
        assert answer.words.endswith("."), question.words


def test_answers_follow_the_plan(plan: Plan) -> None:
    """Another magazine, another answer: nothing is canned."""
    fits = next(each for each in QUESTIONS if "fit the magazine" in each.words)
    tight = replace(plan, magazine=replace(plan.magazine, available=10))
    assert "30 pockets are needed, everything fits" in fits.answer(plan).words
    assert "10 pockets are needed, 6 pockets are missing" in fits.answer(tight).words


def test_every_relation_and_every_check_stands_on_its_sheet(pack: tuple[Sheet, ...], plan: Plan) -> None:
    by_title = {sheet.title: sheet for sheet in pack}
    relations = next(t for t in _tables(by_title["Tolerance ledger"]) if t.title == "Relations")
    assert [row.cells[1] for row in relations.rows] == [entry.name for entry in plan.ledger.entries]
    checks = next(t for t in _tables(by_title["Inspection plan"]) if t.title == "Characteristics")
    assert [row.cells[0] for row in checks.rows] == [check.number for check in plan.inspection.checks]


def test_each_source_stands_once(pack: tuple[Sheet, ...]) -> None:
    sources = [
        row.cells[1] for sheet in pack if sheet.title == "Sources" for t in _tables(sheet) for row in t.rows
    ]
    assert len(sources) == len(set(sources)) > 10


def test_wide_tables_of_the_workbook_have_frozen_heads_and_print_areas(pack: tuple[Sheet, ...]) -> None:
    from openpyxl import load_workbook

    book = load_workbook(BytesIO(sheets_xlsx(pack)))
    assert all(page.print_area for page in book.worksheets)
    assert {page.freeze_panes for page in book.worksheets} == {None, "A2"}
    ledger = next(page for page in book.worksheets if "relations" in page.title.lower())
    assert isinstance(ledger["K2"].value, float | int)


def test_a_plan_compared_with_itself_changes_nothing(plan: Plan) -> None:
    sheets, outline = make_sheets(plan), outline_of(plan)
    assert marked_sheets(sheets, sheets) == ()
    assert difference_lines(outline, outline) == ("Both plans do the same.",)


def test_a_changed_row_is_marked_and_the_old_one_listed(plan: Plan) -> None:
    steps = list(plan.sequence.steps)
    at = next(place for place, step in enumerate(steps) if step.alternative.method == "hobbing")
    how = replace(steps[at].alternative, minutes=steps[at].alternative.minutes + 10)
    steps[at] = replace(steps[at], alternative=how)
    longer = replace(plan, sequence=replace(plan.sequence, steps=tuple(steps)))
    route = marked_sheets(make_sheets(plan), make_sheets(longer))[0]
    changed = [row.cells for t in _tables(route) for row in t.rows if row.changed]
    assert any(cells[1] == steps[at].operation.title for cells in changed)
    assert route.sections[-1].title == "No longer there, or changed"
    page = compare_sheet(outline_of(plan), outline_of(longer), stamp_of(plan), stamp_of(longer))
    marked = [row for row in page.sections[1].tables[0].rows if row.changed]
    assert [row.cells[1] for row in marked] == [steps[at].operation.name]
    assert '<tr class="changed"' in sheets_html((page,))


def test_the_page_for_a_pair_says_what_a_swap_breaks_and_costs(plan: Plan, tmp_path: Path) -> None:
    answer = explain_pair(
        plan.operations, plan.graph, plan.sequence, "bore/finish", "wheel/finish_lower", seconds=2.0
    )
    page = why_page(plan, answer)
    titles = [table.title for table in _tables(page)]
    assert titles[:2] == ["Shortest chain of reasons", "Musts that would be broken"]
    written = write_why(plan, answer, tmp_path)
    assert [path.name for path in written] == ["why-bore-finish-before-wheel-finish-lower.pdf"]
    assert written[0].read_bytes().startswith(b"%PDF-")


def test_compare_refuses_a_plan_against_a_part(tmp_path: Path) -> None:
    made = CliRunner().invoke(app, ["compare", str(tmp_path / "a.json"), str(tmp_path / "b.yaml")])
    assert made.exit_code == 2
    assert "cannot be compared with a plan" in made.output
