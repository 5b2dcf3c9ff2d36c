"""Tool lists: round trips with values as written, column maps, and every bad row at once."""

from __future__ import annotations

import csv
import io
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sequencer.errors import BadFile
from sequencer.files import read_shop
from sequencer.files.tool_lists import (
    ColumnMap,
    export_table,
    import_tools,
    merge_into,
    read_column_map,
    read_table,
    table_bytes,
)
from sequencer.files.tool_lists.keys import head_and_unit, symbol_of_key, symbols_of
from sequencer.shop.tools import Drill

PARTS = Path(__file__).parents[3] / "parts"
PLAIN = {
    "title": "Drill",
    "body_diameter": "50 mm",
    "functional_length": "200 mm",
    "overall_length": "280 mm",
    "mass": "2.5 kg",
}


def written(tools):
    return [tool.model_dump(mode="json", exclude_unset=True) for tool in tools]


def listed(tmp_path, text, name="list.csv", **mapping):
    """Write a list and read its tools."""
    path = tmp_path / name
    path.write_text(text, encoding="utf-8")
    read = ColumnMap.model_validate(mapping)
    return import_tools(read_table(path, read), read)


@pytest.mark.parametrize("name", ["tools.csv", "tools.xlsx"])
@pytest.mark.parametrize("symbols", [True, False])
def test_all_tools_of_the_example_shop_come_back_as_written(tmp_path, name, symbols):
    """Every value with its unit and figures, both forms, both kinds of heads."""
    tools = read_shop(PARTS / "shop.yaml").tools
    path = tmp_path / name
    path.write_bytes(table_bytes(path, export_table(tools, symbols=symbols)))
    assert written(import_tools(read_table(path, ColumnMap()), ColumnMap())) == written(tools)


def test_the_same_tools_give_the_same_workbook():
    """Byte for byte."""
    rows = export_table(read_shop(PARTS / "shop.yaml").tools)
    assert table_bytes(Path("a.xlsx"), rows) == table_bytes(Path("b.xlsx"), rows)


numbers = st.decimals(min_value="0.5", max_value="90", places=4, allow_nan=False).map(str)
titles = st.text(st.characters(codec="utf-8", exclude_categories=["C", "Z"]), min_size=1, max_size=30)


@given(
    st.lists(st.tuples(titles, numbers, st.sampled_from(["mm", "in", "cm"])), min_size=1, max_size=4),
    st.sampled_from(["t.csv", "t.xlsx"]),
)
@settings(deadline=None, derandomize=True, max_examples=40)
def test_odd_words_and_numbers_come_back_as_written(tmp_path_factory, rows, name):
    """Quotes, equals signs, signs of other scripts; numbers keep their figures and their unit."""
    tools = [
        Drill.model_validate(
            {"name": f"T{at}", "kind": "drill", **PLAIN, "title": title, "diameter": f"{size} {unit}",
             "depth": "90 mm", "body_diameter": "2500 mm"}
        )
        for at, (title, size, unit) in enumerate(rows)
    ]  # fmt: skip
    path = tmp_path_factory.mktemp("list") / name
    path.write_bytes(table_bytes(path, export_table(tools)))
    assert written(import_tools(read_table(path, ColumnMap()), ColumnMap())) == written(tools)


def test_symbols_follow_the_kind():
    """LU is the depth of a drill and the reach of an end mill; DC is a diameter (ISO 13399 symbols)."""
    assert symbols_of("drill")["LU"] == "depth"
    assert symbols_of("end mill")["LU"] == "reach"
    assert symbols_of("end mill")["NOF"] == "teeth"
    assert (symbol_of_key("body_diameter"), symbol_of_key("depth")) == ("BD", "depth")


@pytest.mark.parametrize(
    ("head", "parts"),
    [
        ("DC [mm]", ("DC", "mm")),
        ("LF (in)", ("LF", "in")),
        ("WT, kg", ("WT", "kg")),
        ("name", ("name", None)),
    ],
)
def test_heads_may_carry_their_unit(head, parts):
    """Three ways in which shops write them."""
    assert head_and_unit(head) == parts


MAP = """\
delimiter: ";"
decimal: comma
units: {mass: lb, time: min}
columns:
  "No.": name
  Art: kind
  Dia: {key: DC, unit: in}
  "Use length": {key: LU, unit: in}
ignore: [Shelf]
words:
  kind: {Bohrer: drill, Fraeser: end mill}
defaults: {material: HSS, title: "from the list"}
"""

LIST = """\
No.;Art;Dia;Use length;BD [mm];LF [mm];OAL [mm];WT;teeth;life;Shelf
T901;Bohrer;0,5;3,25;50;200;280;5,5;;25;A1
T902;Fraeser;3/4 in;2;50;200,5;280;5,5;4;30 s;A2
"""


def test_a_column_map_gives_keys_units_words_and_defaults(tmp_path):
    """Inch and millimetre, decimal comma, own words; what the list writes with a unit keeps it."""
    (tmp_path / "map.yaml").write_text(MAP)
    mapping = read_column_map(tmp_path / "map.yaml")
    (tmp_path / "list.csv").write_text(LIST)
    drill, mill = import_tools(read_table(tmp_path / "list.csv", mapping), mapping)
    assert (drill.kind, drill.diameter.text, float(drill.diameter)) == ("drill", "0.5 in", 12.7)
    assert (drill.depth.text, drill.mass.text, drill.life.text) == ("3.25 in", "5.5 lb", "25 min")
    assert (mill.diameter.text, mill.reach.text, mill.functional_length.text) == (
        "3/4 in",
        "2 in",
        "200.5 mm",
    )
    assert (mill.teeth, mill.life.text, mill.material, mill.title) == (4, "30 s", "HSS", "from the list")


def test_every_bad_row_is_told_at_once(tmp_path):
    """Each with row, column, what, limit or remedy."""
    head = "name,kind,title,DC,LU,BD,LF,OAL,WT,teeth\n"
    good = "T1,drill,Good,12 mm,90 mm,50 mm,200 mm,280 mm,2.5 kg,\n"
    bad = [
        "T2,dril,No such kind,12 mm,90 mm,50 mm,200 mm,280 mm,2.5 kg,\n",
        "T3,drill,No unit,12,90 mm,50 mm,200 mm,280 mm,2.5 kg,\n",
        "T4,drill,Too short,12 mm,90 mm,50 mm,300 mm,280 mm,2.5 kg,\n",
        "T5,drill,No depth,12 mm,,50 mm,200 mm,280 mm,2.5 kg,\n",
        "T6,drill,Teeth of a drill,12 mm,90 mm,50 mm,200 mm,280 mm,2.5 kg,4\n",
        "T1,drill,Twice,12 mm,90 mm,50 mm,200 mm,280 mm,2.5 kg,\n",
        "9,drill,No name,-1 mm,90 mm,50 mm,200 mm,280 mm,2.5 kg,\n",
    ]
    with pytest.raises(BadFile, match="no kind of tool") as caught:
        listed(tmp_path, head + good + "".join(bad))
    text = str(caught.value)
    for says in (
        "row 3, column 'kind': 'dril' is no kind of tool (other words go under words of the column map). Did",
        "row 4, column 'DC': '12' has no unit",
        "row 5, column 'OAL': overall_length 280 mm is below functional_length 300 mm",
        "row 6, column 'LU': depth is missing",
        "row 7, column 'teeth': '4': a drill has no teeth",
        "row 8: name 'T1' is used twice (row 2 has it)",
        "row 9, column 'name'",
        "row 9, column 'DC': '-1 mm' must be above 0",
    ):
        assert says in text, text


@pytest.mark.parametrize(
    ("text", "mapping", "match"),
    [
        ("name,kind,Colour\nT1,drill,red\n", {}, "nothing says what column 'Colour' is"),
        ("name,kind\nT1,drill\n", {"ignore": ["Shelf"]}, "there is no column 'Shelf' of the map"),
        ("name,name\nT1,T2\n", {}, "head 'name' stands twice"),
        ("name,kind\n", {}, "it lists no tools"),
        ("\n", {}, "there are no heads of columns"),
        ("name\n", {"head_row": 4}, "it has no row 4 with heads"),
        ('name,kind\n"T1,drill\n', {}, "this is no CSV"),
    ],
)
def test_lists_that_cannot_be_read(tmp_path, text, mapping, match):
    """Faults of the list as a whole."""
    with pytest.raises(BadFile, match=match):
        listed(tmp_path, text, **mapping)


def test_workbooks_are_read_by_sheet_with_rows_as_shown(tmp_path):
    """Numbers of cells, a sheet by name, heads in row 3."""
    book = openpyxl.Workbook()
    page = book.create_sheet("Cutters")
    page.append(["Our cutters"])
    page.append([])
    page.append(["name", "kind", "title", "DC [mm]", "LU [mm]", "BD [mm]", "LF [mm]", "OAL [mm]", "WT [kg]"])
    page.append(["T1", "drill", "One", 12.5, 90, 50, 200, 280, 2.5])
    page.append(["T2", "drill", "Two", "x", 90, 50, 200, 280, 2.5])
    path = tmp_path / "tools.xlsx"
    book.save(path)
    mapping = ColumnMap(sheet="Cutters", head_row=3)
    with pytest.raises(BadFile, match=r"row 5, column 'DC \[mm\]': 'x' is not a length"):
        import_tools(read_table(path, mapping), mapping)
    with pytest.raises(BadFile, match="there is no sheet 'Drills'"):
        read_table(path, ColumnMap(sheet="Drills"))
    (tmp_path / "no.xlsx").write_text("no workbook")
    with pytest.raises(BadFile, match="this is no workbook"):
        read_table(tmp_path / "no.xlsx", ColumnMap())


@pytest.mark.parametrize(
    ("text", "match"),
    [
        ("columns: {Dia: {key: DCC}}", r"map\.yaml:1:11: columns\.Dia: there is no key 'DCC'"),
        ("units: {length: kg}", "'kg' is no unit of length"),
        ("units: {size: mm}", "there is no dimension 'size'"),
        ("columns: {Dia: DC}\nignore: [Dia]", "'Dia' is ignored as well"),
        ("defaults: {colour: red}", "there is no key 'colour'"),
        ("colums: {}", "colums"),
    ],
)
def test_faults_of_a_column_map_have_their_place(tmp_path, text, match):
    """As in part and shop files."""
    (tmp_path / "map.yaml").write_text(text + "\n")
    with pytest.raises(BadFile, match=match):
        read_column_map(tmp_path / "map.yaml")


def drill(name, **more):
    values = {"name": name, "kind": "drill", **PLAIN, "diameter": "12 mm", "depth": "90 mm", **more}
    return Drill.model_validate(values)


def test_new_tools_stand_behind_the_others_and_all_else_stays():
    """Two lines more; every other line is as it was, comments included."""
    text = (PARTS / "shop.yaml").read_text(encoding="utf-8")
    merged = merge_into(text, "shop.yaml", [drill("T901"), drill("T902", title='A "fine" one: #2')])
    assert (merged.added, merged.replaced, merged.same) == (("T901", "T902"), (), ())
    before, after = text.splitlines(), merged.text.splitlines()
    assert len(after) == len(before) + 2
    assert [line for line in after if "T901" not in line and "T902" not in line] == before


def test_a_tool_of_the_same_name_is_replaced_only_when_asked():
    """The message says what differs; nothing else changes when it is replaced."""
    text = (PARTS / "shop.yaml").read_text(encoding="utf-8")
    with pytest.raises(BadFile, match=r"tool T16: there is another tool of that name: title .*--replace"):
        merge_into(text, "shop.yaml", [drill("T16")])
    merged = merge_into(text, "shop.yaml", [drill("T16")], replace=True)
    assert merged.replaced == ("T16",)
    before, after = text.splitlines(), merged.text.splitlines()
    assert len(before) == len(after)
    assert sum(a != b for a, b in zip(after, before, strict=True)) == 1
    again = merge_into(merged.text, "shop.yaml", [drill("T16")])
    assert (again.same, again.text) == (("T16",), merged.text)


def test_tools_in_brackets_are_not_rewritten():
    """The list must stand one tool below the other."""
    text = (PARTS / "shop.yaml").read_text(encoding="utf-8")
    head, _, tail = text.partition("\ntools:\n")
    lines = [line.strip()[2:] for line in tail.split("\nconditions:")[0].splitlines() if "- {" in line]
    rest = "conditions:" + tail.split("\nconditions:")[1]
    flow = f"{head}\ntools: [{', '.join(lines)}]\n{rest}"
    with pytest.raises(BadFile, match="its tools are not written one below the other"):
        merge_into(flow, "shop.yaml", [drill("T901")])


def test_the_commands_import_and_export(tmp_path):
    """Out to a list, one row added, in again; files are never overwritten unasked."""
    from typer.testing import CliRunner

    from sequencer.cli import app

    shop, file, run = tmp_path / "shop.yaml", tmp_path / "tools.csv", CliRunner()
    shop.write_bytes((PARTS / "shop.yaml").read_bytes())
    made = run.invoke(app, ["tools", "export", str(file), "--shop", str(shop)])
    assert (made.exit_code, "66 tools written" in made.output) == (0, True)
    again = run.invoke(app, ["tools", "export", str(file), "--shop", str(shop)])
    assert (again.exit_code, "there is a file of that name already" in again.output) == (2, True)
    rows = list(csv.reader(io.StringIO(file.read_text(encoding="utf-8"))))
    new = list(next(row for row in rows if row[0] == "T16"))
    new[0] = "T901"
    with file.open("a", encoding="utf-8", newline="") as out:
        csv.writer(out).writerow(new)
    checked = run.invoke(app, ["tools", "import", str(file), "--into", str(shop), "--check"])
    assert "would be 1 added" in checked.output
    assert shop.read_bytes() == (PARTS / "shop.yaml").read_bytes()
    done = run.invoke(app, ["tools", "import", str(file), "--into", str(shop)])
    assert (done.exit_code, "1 added, 0 replaced, 66 there just so" in done.output) == (0, True)
    assert [tool.name for tool in read_shop(shop).tools][-1] == "T901"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["shop.yaml", "tools.csv"]


def test_dates_formulas_and_cells_without_a_head_are_told(tmp_path):
    """A number that a spreadsheet made a date of, a formula without a value, one separator too many."""
    import datetime

    from openpyxl import Workbook

    book = Workbook()
    page = book.worksheets[0]
    page.append(
        ["name", "kind", "title", "DC [mm]", "depth [mm]", "BD [mm]", "LF [mm]", "OAL [mm]", "WT [kg]"]
    )
    page.append(["D1", "drill", "Drill", datetime.datetime(2026, 9, 5), 80, 50, 200, 280, 2.5])
    page.append([None] * 9)
    page.append(["D2", "drill", "Drill", "=9+0.5", 80, 50, 200, 280, 2.5])
    page.append(["D3", "drill", "Drill", 9.5, 80, 50, 200, 280, 2.5, "spare"])
    book.save(tmp_path / "list.xlsx")
    with pytest.raises(BadFile, match="under no head") as caught:
        import_tools(read_table(tmp_path / "list.xlsx", ColumnMap()), ColumnMap())
    told = [str(fault) for fault in caught.value.faults]
    assert len(told) == 3
    assert "row 2, column 'DC [mm]': 'the date 2026-09-05' is not a length" in told[0]
    assert "row 4, column 'DC [mm]': '=9+0.5" in told[1]
    assert "row 5, cell 10: 'spare' stands under no head" in told[2]
