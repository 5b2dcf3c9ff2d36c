"""Reference pages and schemas: as the models say, kept up to date, and true."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from sequencer.errors import SequencerError, Severity
from sequencer.files import part_from_text, read_shop, shop_from_text, starter
from sequencer.files.fields import keys_of, records_by_kind, walk
from sequencer.files.introductions import BEVEL_EXAMPLE, PART_EXAMPLE, SHOP_EXAMPLE
from sequencer.files.reference import pages, part_page, schema_of, shop_page, write_pages
from sequencer.files.tree import plain, read_tree
from sequencer.operations.make import make_operations
from sequencer.part import AnyFeature, Part
from sequencer.part.toothed import BevelGear
from sequencer.shop import AnyTool, Shop
from sequencer.units import UNITS


@pytest.mark.parametrize(
    "name",
    [
        "part-file.md",
        "shop-file.md",
        "rotation-file.md",
        "part.schema.json",
        "shop.schema.json",
        "rotation.schema.json",
    ],
)
def test_kept_pages_are_as_generated(name: str, parts_folder: Path) -> None:
    kept = (parts_folder.parent / "docs" / name).read_text(encoding="utf-8")
    assert kept == pages()[name], "run: python -m sequencer.files.reference"


def test_pages_are_written_into_a_folder(tmp_path: Path) -> None:
    written = write_pages(tmp_path)
    assert [path.name for path in written] == [
        "part-file.md",
        "shop-file.md",
        "rotation-file.md",
        "part.schema.json",
        "shop.schema.json",
        "rotation.schema.json",
    ]
    assert {path.name: path.read_text(encoding="utf-8") for path in written} == pages()
    with pytest.raises(SequencerError, match="there is no folder"):
        write_pages(tmp_path / "no")


@pytest.mark.parametrize(("page", "choice"), [(part_page(), AnyFeature), (shop_page(), AnyTool)])
def test_every_kind_and_key_is_listed(page: str, choice: Any) -> None:
    from sequencer.files.fields import bare_type

    for kind, record in records_by_kind(bare_type(choice)).items():
        section = page.split(f"### {kind}\n")[1].split("\n### ")[0]
        assert f"`kind: {kind}`" in section
        common = page.split("## Kinds of")[1].split("\n### ")[0]
        for name, key in keys_of(record).items():
            assert name == "kind" or f"| `{name}` |" in section + common, (kind, name)
            assert key.meaning or name == "kind", (kind, name)


@pytest.mark.parametrize("page", [part_page(), shop_page()])
def test_links_on_a_page_lead_somewhere(page: str) -> None:
    anchors = {re.sub(r"[^a-z0-9_ -]", "", line.lstrip("# ").lower()).replace(" ", "-")
               for line in page.split("\n") if line.startswith("#")}  # fmt: skip
    targets = re.findall(r"\]\(#([^)]*)\)", page)
    assert targets
    assert set(targets) <= anchors
    headings = [line for line in page.split("\n") if line.startswith("### ")]
    assert len(headings) == len(set(headings))


def test_examples_on_the_pages_are_those_that_load() -> None:
    for page, examples in ((part_page(), [PART_EXAMPLE, BEVEL_EXAMPLE]), (shop_page(), [SHOP_EXAMPLE])):
        assert re.findall(r"```yaml\n(.*?)```", page, re.DOTALL) == examples
    part_from_text(PART_EXAMPLE)
    shop_from_text(SHOP_EXAMPLE)


def test_all_units_are_listed() -> None:
    rows = part_page().split("## Units\n")[1]
    for dimension, units in UNITS.items():
        assert f"| {dimension} | {', '.join(f'`{unit}`' for unit in units)} |" in rows


def test_defaults_and_needs() -> None:
    page = part_page()
    assert "| `teeth` | whole number, at least 3, at most 2000 | **needed** | Number of teeth. |" in page
    assert "| `angle` | angle, such as `1 deg` | `45 deg` | Angle to the axis. |" in page
    assert "| `diameter` | length, such as `1 mm`; above 0 | **needed** | Outside diameter. |" in page
    assert "| `hand` | `right` \\| `left` | `right` | Hand of the thread. |" in page
    assert "| `to` | list of: name |  | Datums that it refers to; none for form tolerances. |" in page
    assert "| `before` | list of: pair of text |  |" in page
    assert "| `class` | whole number, at least 0, at most 12 | **needed** |" in page


def _validator(model: Any) -> Any:
    return jsonschema.Draft202012Validator(schema_of(model))


@pytest.mark.parametrize("model", [Part, Shop])
def test_schemas_are_schemas(model: Any) -> None:
    """Against the metaschema of JSON Schema draft 2020-12."""
    schema = schema_of(model)
    assert schema["$schema"] == "https://json-schema.org/draft/2020-12/schema"
    jsonschema.Draft202012Validator.check_schema(schema)


def _values(text: str) -> Any:
    root = read_tree(text).root
    assert root is not None
    return plain(root)


def test_schemas_accept_what_loads(parts_folder: Path) -> None:
    texts = [PART_EXAMPLE, starter.template()]
    texts += [
        path.read_text("utf-8") for path in sorted(parts_folder.glob("*.yaml")) if path.name != "shop.yaml"
    ]
    for text in texts:
        assert [error.message for error in _validator(Part).iter_errors(_values(text))] == []
    for text in (SHOP_EXAMPLE, (parts_folder / "shop.yaml").read_text("utf-8")):
        assert [error.message for error in _validator(Shop).iter_errors(_values(text))] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [("teeth: 60", "teeth: sixty"), ("teeth: 60", "theeth: 60"), ("edge: both", "edge: bot"), ("lot: "
    "3\n", "lot: 0\n"),
     ("    module: 5 mm\n", ""), ("kind: external_gear", "kind: gear"), ("name: hub", "name: 2hub")],
)  # fmt: skip
def test_schemas_refuse_slips(old: str, new: str) -> None:
    assert list(_validator(Part).iter_errors(_values(PART_EXAMPLE.replace(old, new))))


def test_defaults_in_a_schema_are_as_they_are_written() -> None:
    schema = json.loads(pages()["part.schema.json"])
    assert schema["$defs"]["Chamfer"]["properties"]["angle"]["default"] == "45 deg"
    assert schema["$defs"]["Blank"]["properties"]["bore"]["default"] == "0"


def test_a_path_is_followed_through_the_models() -> None:
    document = _values(PART_EXAMPLE)
    steps = list(walk(Part, document, ("features", 3, "flank_class", "class")))
    assert [getattr(kind, "__name__", "") for kind, _, _ in steps][2:] == [
        "ExternalGear",
        "FlankClass",
        "int",
    ]
    assert steps[-1][1] == 8
    assert list(walk(Part, document, ("nothing", 0)))[-1][0] is Part


def test_the_example_part_plans_with_the_example_shop(parts_folder: Path) -> None:
    operations = make_operations(part_from_text(PART_EXAMPLE), read_shop(parts_folder / "shop.yaml"))
    assert [str(finding) for finding in operations.findings if finding.severity is Severity.ERROR] == []
    assert all(operation.alternatives for operation in operations.operations)


def test_the_bevel_example_loads_beside_the_faces_of_the_small_part() -> None:
    """Its lines stand in the page and make a part together with head, faces and bore of the small part."""
    assert BEVEL_EXAMPLE in part_page()
    head, features = PART_EXAMPLE.split("features:\n", 1)
    head = head.replace("datums: {A: bore, B: lower_face}\n", "")
    faces = "".join(line + "\n" for line in features.splitlines() if "kind: face" in line)
    head = head.replace("330 mm", "430 mm").replace("105 mm", "135 mm")
    text = head + BEVEL_EXAMPLE + faces.replace("100 mm", "130 mm")
    bevel = part_from_text(text).by_name["bevel"]
    assert isinstance(bevel, BevelGear)
    assert bevel.mate_teeth == 20


def test_the_page_names_the_limits_that_trip_people() -> None:
    """Longest name, height of jaws, a clamping after hardening."""
    page = " ".join(part_page().split())
    assert "at most 60 characters" in page
    assert "never longer than the jaws of the shop are high" in page
    assert "list the same holding again, as III" in page
