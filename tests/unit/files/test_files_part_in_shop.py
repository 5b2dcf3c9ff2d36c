"""What a part asks of a shop, told with the line of the part file; files that cannot be read."""

from __future__ import annotations

import re
from pathlib import Path
from typing import get_args

import pytest

from sequencer.errors import BadFile
from sequencer.files import read_part, read_part_and_shop
from sequencer.files.introductions import PART_EXAMPLE
from sequencer.part import AnyFeature
from sequencer.shop.part_checks import TOOL_KINDS
from sequencer.shop.tools import AnyTool

CASES = [
    ("turning tool for teeth", "teeth: 60", "teeth: 60\n    tool: T01",
     "features[3] (teeth) tool: 'T01' is of kind turning, it cannot finish a feature of kind external_gear "
     "(kinds of tools for it: hob, skiving cutter, disc cutter, end mill, slotting). Tools of the shop: T"),
    ("tool that nobody has", "teeth: 60", "teeth: 60\n    tool: T999",
     "features[3] (teeth) tool: the shop has no tool 'T999'."),
    ("band longer than all jaws", "z_from: 65 mm, z_to: 105 mm", "z_from: -5 mm, z_to: 105 mm",
     ":33:89: clampings[0] (I) z_to: the jaws cover 110 mm, no outside jaws that hold it are as high (the "
     "highest, four_jaws, have 60 mm). Shorten the band to what the jaws cover."),
    ("riser that no means has", "riser: 90 mm", "riser: 77 mm",
     ":41:5: clampings[1] (II) riser: no inside jaws that hold it have a riser of 77 mm (risers: "),
]  # fmt: skip


@pytest.mark.parametrize(("old", "new", "words"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_part_that_the_shop_cannot_serve(
    tmp_path: Path, parts_folder: Path, old: str, new: str, words: str
) -> None:
    assert old in PART_EXAMPLE
    path = tmp_path / "w.yaml"
    path.write_text(PART_EXAMPLE.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(BadFile, match=re.escape(words)):
        read_part_and_shop(path, parts_folder / "shop.yaml")


def test_means_that_hold_another_diameter_are_left_to_planning(tmp_path: Path, parts_folder: Path) -> None:
    text = PART_EXAMPLE.replace("diameter: 330 mm", "diameter: 5000 mm").replace("z_from: 65", "z_from: -5")
    path = tmp_path / "w.yaml"
    path.write_text(text.replace("bore: 70 mm, ", "bore: 70 mm, stress: low, "), encoding="utf-8")
    part, _ = read_part_and_shop(path, parts_folder / "shop.yaml")
    assert str(part.clampings[0].z_from) == "-5 mm"


def test_every_kind_of_feature_has_kinds_of_tools() -> None:
    kinds = {kind for f in get_args(get_args(AnyFeature)[0]) for kind in get_args(_kind(f))}
    tools = {kind for tool in get_args(get_args(AnyTool)[0]) for kind in get_args(_kind(tool))}
    assert TOOL_KINDS.keys() == kinds
    assert {kind for row in TOOL_KINDS.values() for kind in row} <= tools


def _kind(record: type) -> object:
    return record.model_fields["kind"].annotation  # type: ignore[attr-defined]


def test_faults_of_the_part_are_told_though_the_shop_is_missing(tmp_path: Path) -> None:
    path = tmp_path / "w.yaml"
    path.write_text(PART_EXAMPLE.replace("lot: 3", "lots: 3"), encoding="utf-8")
    with pytest.raises(BadFile) as caught:
        read_part_and_shop(path, tmp_path / "shop.yaml")
    assert str(caught.value).split("\n") == [
        f"{path}:4:1: lots: unknown key. Did you mean 'lot'?",
        f"{tmp_path / 'shop.yaml'}: it cannot be read: there is no such file. Check the name.",
    ]


def test_both_files_missing(tmp_path: Path) -> None:
    with pytest.raises(BadFile, match="it cannot be read") as caught:
        read_part_and_shop(tmp_path / "a" / "w.yaml", tmp_path)
    assert [fault.what for fault in caught.value.faults] == [
        "it cannot be read: there is no such file",
        "it cannot be read: it is a folder",
    ]


@pytest.mark.parametrize("step", ["stat", "open", "iterdir"])
def test_rights_that_are_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str) -> None:
    def refused(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    path = tmp_path / ("none.yaml" if step == "iterdir" else "w.yaml")
    if step != "iterdir":
        path.write_text(PART_EXAMPLE, encoding="utf-8")
    monkeypatch.setattr(Path, step, refused)
    words = (
        "there is no such file. Check the path" if step == "iterdir" else "permission denied. Check the name"
    )
    with pytest.raises(BadFile, match=re.escape(f"{path}: it cannot be read: {words}")):
        read_part(path)
