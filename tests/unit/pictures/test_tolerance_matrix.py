"""The tolerance matrix: each relation in its row, each surface under the clamping that makes it."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import replace
from functools import cached_property
from pathlib import Path

import pytest
from clear_words import SVG, check_words
from planned_parts import planned

from sequencer.ledger import Ledger
from sequencer.pictures.tolerance_matrix import columns_of, tolerance_matrices, tolerance_matrix
from sequencer.plan import Plan

PARTS = ("bridge_wheel", "press_sleeve", "telescope_ring", "mill_ring_inch")


@pytest.mark.parametrize("name", PARTS)
def test_each_relation_has_its_row_with_the_share(parts_folder: Path, name: str) -> None:
    plan = planned(parts_folder, name)
    words = [each.text for each in check_words(tolerance_matrix(plan))]
    for entry in plan.ledger.entries:
        share = f"{100 * (entry.budget.worst / entry.allowance):.0f} % of {entry.allowance:.4g} um"
        assert any(each.startswith(share) for each in words)


@pytest.mark.parametrize("name", PARTS)
def test_every_surface_that_is_made_has_a_column(parts_folder: Path, name: str) -> None:
    plan = planned(parts_folder, name)
    columns = {(column.clamping, column.visit) for column in columns_of(plan)}
    for entry in plan.ledger.entries:
        for link in entry.chain:
            assert ((link.clamping if link.operation else ""), link.visit) in columns


def test_marks_stand_for_each_surface_of_a_chain_once(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")
    legend = 2
    squares = [
        each
        for each in ET.fromstring(tolerance_matrix(plan)).iter(f"{SVG}rect")
        if each.get("width") == each.get("height") == "2.2"
    ]
    expected = sum(
        len({(link.surface, link.visit) for link in entry.chain if link.role in ("toleranced", "datum")})
        for entry in plan.ledger.entries
    )
    assert len(squares) == expected + legend


def test_many_relations_are_split_into_pages(parts_folder: Path) -> None:
    plan = planned(parts_folder, "bridge_wheel")

    class Many(Plan):
        @cached_property
        def ledger(self) -> Ledger:
            return replace(plan.ledger, entries=plan.ledger.entries * 5)

    many = Many(**{name: getattr(plan, name) for name in plan.__dataclass_fields__})
    pages = tolerance_matrices(many, 180.0)
    assert len(pages) > 2
    rows = 0
    for page in pages:
        rows += sum(" um" in each.text for each in check_words(page))
        assert float(ET.fromstring(page).attrib["viewBox"].split()[3]) <= 181.0
    assert rows == 5 * len(plan.ledger.entries)
