"""The half-section as DXF reads back with the sizes of the part."""

from __future__ import annotations

import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from sequencer.errors import SequencerError
from sequencer.files import read_part
from sequencer.part.section import make_section
from sequencer.pictures.half_section_dxf import LAYERS, half_section_dxf

ezdxf = pytest.importorskip("ezdxf")


def _drawn(path: Path) -> bytes:
    part = read_part(path)
    return half_section_dxf(SimpleNamespace(part=part, section=make_section(part)))


@pytest.mark.parametrize(
    ("name", "unit", "per_unit"),
    [("bridge_wheel", 4, 1.0), ("mill_ring_inch", 1, 25.4), ("press_sleeve", 4, 1.0)],
)
def test_it_reads_back_in_true_size_and_in_the_unit_of_the_part(
    parts_folder: Path, tmp_path: Path, name: str, unit: int, per_unit: float
) -> None:
    from ezdxf import bbox

    path = parts_folder / f"{name}.yaml"
    section = make_section(read_part(path))
    (tmp_path / "drawn.dxf").write_bytes(_drawn(path))
    drawing = ezdxf.readfile(tmp_path / "drawn.dxf")
    assert drawing.units == unit
    assert drawing.audit().errors == []
    assert {layer for layer, _, _ in LAYERS} <= {layer.dxf.name for layer in drawing.layers}
    box = bbox.extents(drawing.modelspace().query('*[layer=="OUTLINE"]'))
    points = [point for outline in section.outline() for point in outline]
    assert box.extmax.x == pytest.approx(max(r for _, r in points) / per_unit)
    assert (box.extmin.y, box.extmax.y) == pytest.approx((section.z_from / per_unit, section.z_to / per_unit))
    words = " ".join(text.dxf.text for text in drawing.modelspace().query("TEXT"))
    assert all(feature.shown.split()[0] in words for feature in read_part(path).features)


def test_the_same_part_gives_the_same_bytes(parts_folder: Path) -> None:
    assert _drawn(parts_folder / "press_sleeve.yaml") == _drawn(parts_folder / "press_sleeve.yaml")


def test_without_the_library_it_says_how_to_install_it(
    parts_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "ezdxf._options", None)
    with pytest.raises(SequencerError, match=r"library for DXF is not installed.*sequencer\[dxf\]"):
        _drawn(parts_folder / "press_sleeve.yaml")
