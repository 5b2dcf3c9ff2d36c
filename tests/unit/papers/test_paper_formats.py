"""PDF, workbook, page and JSON: same bytes, readable again, nothing fetched from outside."""

from __future__ import annotations

import json
import re
import zipfile
from dataclasses import replace
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path

import jsonschema
import openpyxl
import pytest
from example_plan import example_plan

from sequencer.errors import SequencerError
from sequencer.papers.html_page import sheets_html
from sequencer.papers.model import Amount, Column, Row, Section, Sheet, Stamp, Table
from sequencer.papers.plan_json import plan_dict, plan_text, read_plan
from sequencer.papers.typst_pdf import picture_pdf, sheets_pdf
from sequencer.papers.workbook import sheets_xlsx
from sequencer.papers.write import make_sheets
from sequencer.pictures.half_section import half_section
from sequencer.plan import Plan

SCHEMA = Path(__file__).parents[3] / "docs" / "plan.schema.json"


def _one_table(*rows: Row, title: str = "T") -> tuple[Sheet, ...]:
    columns = (Column("Words"), Column("Own", "min", number=True), *(Column(f"C{i}") for i in range(4)))
    table = Table(title, columns, rows)
    return (Sheet("Odd sheet", Stamp("P & Q <b>", "D[1]", "*", ""), (), (Section("S", tables=(table,)),)),)


ODD = Row(("=1+1 <script>alert(1)</script> #panic() *x* [y] $z$ \\n", 1.25, "&amp;", "'", '"', None))


def test_the_pdf_has_the_same_bytes_twice(sheets: tuple[Sheet, ...]) -> None:
    made = sheets_pdf(sheets)
    assert made.startswith(b"%PDF-")
    assert made == sheets_pdf(make_sheets_again(sheets))


def make_sheets_again(sheets: tuple[Sheet, ...]) -> tuple[Sheet, ...]:
    """Make the sheets a second time from a second plan."""
    figures = tuple(figure for section in sheets[0].sections for figure in section.figures)
    return make_sheets(example_plan(), figures)


def test_the_pdf_embeds_the_shipped_font_only(sheets: tuple[Sheet, ...]) -> None:
    fonts = set(re.findall(rb"/FontName\s*/([^\s/]+)", _uncompressed(sheets_pdf(sheets))))
    assert fonts
    assert all(b"Arimo" in font for font in fonts), fonts


def _uncompressed(pdf: bytes) -> bytes:
    """Join the plain objects and the object streams of a PDF."""
    import zlib

    parts = [pdf]
    for match in re.finditer(rb"stream\r?\n", pdf):
        try:
            parts.append(zlib.decompressobj().decompress(pdf[match.end() :]))
        except zlib.error:
            continue
    return b"\n".join(parts)


def test_markup_in_names_stays_words() -> None:
    """Data never becomes markup: a name with the signs of every format is set as it is."""
    assert sheets_pdf(_one_table(ODD)).startswith(b"%PDF-")
    page = sheets_html(_one_table(ODD))
    assert page.count("<script") == 1
    assert "=1+1 &lt;script&gt;" in page
    book = openpyxl.load_workbook(BytesIO(sheets_xlsx(_one_table(ODD))))
    cell = book.worksheets[1]["A2"]
    assert cell.value == ODD.cells[0]
    assert cell.data_type == "s"


def test_a_picture_becomes_a_page_of_its_size(plan: Plan) -> None:
    made = picture_pdf(half_section(plan), "Half-section")
    assert made.startswith(b"%PDF-")
    assert made == picture_pdf(half_section(plan), "Half-section")


def test_the_workbook_has_the_same_bytes_twice(sheets: tuple[Sheet, ...]) -> None:
    made = sheets_xlsx(sheets)
    assert made == sheets_xlsx(make_sheets_again(sheets))
    with zipfile.ZipFile(BytesIO(made)) as files:
        assert {entry.date_time for entry in files.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        assert files.testzip() is None
        core = files.read("docProps/core.xml").decode()
    assert set(re.findall(r"\d{4}-\d\d-\d\dT[\d:]+Z", core)) == {"1980-01-01T00:00:00Z"}


def test_the_workbook_reads_back_as_numbers(sheets: tuple[Sheet, ...], plan: Plan) -> None:
    book = openpyxl.load_workbook(BytesIO(sheets_xlsx(sheets)))
    page = book["Route steps"]
    heads = [cell.value for cell in page[1]]
    own = heads.index("Own [min]")
    operation = heads.index("Operation")
    step = heads.index("Step")
    rows = [row for row in page.iter_rows(min_row=2) if row[step].value is not None]
    assert [row[step].value for row in rows] == [each.number for each in plan.sequence.steps]
    for row, each in zip(rows, plan.sequence.steps, strict=True):
        assert row[operation].value == each.operation.title
        assert row[own].value == pytest.approx(each.alternative.minutes)
        assert row[own].number_format == "0.0"


def test_the_workbook_is_ready_to_print(sheets: tuple[Sheet, ...]) -> None:
    book = openpyxl.load_workbook(BytesIO(sheets_xlsx(sheets)))
    assert book.sheetnames[0] == "Route sheet"
    for page in book.worksheets:
        assert page.page_setup.orientation == "landscape"
        assert page.sheet_properties.pageSetUpPr.fitToPage
        assert page.page_setup.fitToHeight == 0
        assert page.print_area
        assert "WW-77" in page.oddFooter.left.text
        assert page.oddFooter.right.text == "Page &P of &N"
    for name in ("Route steps", "Tool tools in the order of thei"):
        page = book[name]
        assert page.freeze_panes == "A2"
        assert page.print_title_rows == "$1:$1"


def test_amounts_keep_their_own_format() -> None:
    table = Table(
        "Totals", (Column("What"), Column("Value", number=True)), (Row(("Minutes", Amount(12.34, "min"))),)
    )
    sheet = Sheet("Totals", Stamp("P", "D", "A", ""), (), (Section("S", tables=(table,)),))
    page = openpyxl.load_workbook(BytesIO(sheets_xlsx((sheet,)))).worksheets[0]
    cell = next(c for row in page.iter_rows() for c in row if c.value == 12.34)
    assert cell.number_format == "0.0"


class _Reader(HTMLParser):
    """Checks nesting and collects what a page refers to."""

    VOID = frozenset({"meta", "col", "br", "img", "link", "input", "hr"})

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.unscoped = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        found = dict(attrs)
        self.tags.append((tag, found))
        if tag == "th" and found.get("scope") not in ("col", "row"):
            self.unscoped += 1
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.fixture(scope="module")
def page(sheets: tuple[Sheet, ...]) -> _Reader:
    """The page of the example plan, parsed."""
    reader = _Reader()
    reader.feed(sheets_html(sheets))
    reader.close()
    return reader


def test_the_page_is_well_formed(page: _Reader) -> None:
    assert page.open == []
    ids = [attrs["id"] for _, attrs in page.tags if "id" in attrs]
    assert len(ids) == len(set(ids))


def test_what_the_script_lights_up_stands_in_tables_and_pictures(page: _Reader) -> None:
    """Every key of a picture belongs to a row; what needs the script is hidden until it runs."""
    keyed = [(tag, attrs["data-keys"].split()) for tag, attrs in page.tags if "data-keys" in attrs]
    rows = {key for tag, keys in keyed if tag == "tr" for key in keys}
    pictures = {key for tag, keys in keyed if tag != "tr" for key in keys}
    assert {key for key in pictures if key.startswith("step-")} <= rows
    assert [attrs for _, attrs in page.tags if attrs.get("id") == "finder" and "hidden" in attrs]


def test_the_page_needs_no_network_and_no_script(page: _Reader, sheets: tuple[Sheet, ...]) -> None:
    assert all(not attrs for tag, attrs in page.tags if tag == "script")
    assert not {"link", "iframe", "object", "embed", "img"} & {tag for tag, _ in page.tags}
    for tag, attrs in page.tags:
        for name, value in attrs.items():
            if name in ("href", "xlink:href", "src", "srcset", "action"):
                assert (value or "").startswith("#"), (tag, name, value)
            assert not name.startswith("on"), (tag, name)
    text = sheets_html(sheets)
    assert "@import" not in text
    assert not [each for each in re.findall(r"url\(([^)]*)\)", text) if not each.startswith("#")]


def test_tables_of_the_page_have_scopes_and_captions(page: _Reader) -> None:
    assert page.unscoped == 0
    tags = [tag for tag, _ in page.tags]
    assert tags.count("caption") == tags.count("table") > 5


def test_pictures_of_the_page_have_words(page: _Reader) -> None:
    figures = [attrs for tag, attrs in page.tags if tag == "figure"]
    assert figures
    assert all(attrs.get("aria-label") for attrs in figures)


def test_the_json_follows_its_schema(plan: Plan) -> None:
    schema = json.loads(SCHEMA.read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.validate(json.loads(plan_text(plan)), schema)


def test_the_json_reads_back_whole(plan: Plan) -> None:
    read = read_plan(plan_text(plan))
    assert read == plan_dict(plan)
    assert read["part"]["features"][3]["diameter"] == "160 mm"
    assert [step["number"] for step in read["sequence"]["steps"]] == [s.number for s in plan.sequence.steps]
    assert read["operations"][23]["rejected"][1]["remedy"] == "widen spur_groove to 37 mm"
    assert read["findings"][0]["severity"] == "error"


def test_a_bound_without_limit_is_null(plan: Plan) -> None:
    levels = (replace(plan.sequence.levels[0], bound=float("-inf"), proven=False), *plan.sequence.levels[1:])
    open_plan = replace(plan, sequence=replace(plan.sequence, levels=levels))
    assert read_plan(plan_text(open_plan))["sequence"]["levels"][0]["bound"] is None


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "this is no JSON: .* in line 1"),
        ("[]", "this JSON is not a plan"),
        ('{"schema": "sequencer plan", "version": 7}', "version 7 .*reads version 1"),
    ],
)
def test_other_json_is_refused(text: str, words: str) -> None:
    with pytest.raises(SequencerError, match=words):
        read_plan(text, "old/plan.json")
