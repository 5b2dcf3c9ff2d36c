"""The level head beside the part: its nose stands over the table, the wider head behind it further out."""

from __future__ import annotations

from small_parts import named, plain_ring, sentence_of, shop_with, way

from sequencer.operations.make import make_operations
from sequencer.shop import Shop

HOLES = {
    "name": "holes", "kind": "bolt_circle", "direction": "radial", "on": "rim", "z": "60 mm", "count": 2,
    "diameter": "14 mm", "depth": "20 mm",
}  # fmt: skip


def _floor(length: str, table: str = "1500 mm") -> Shop:
    return shop_with(
        machine__spindle__nose_diameter="160 mm",
        machine__spindle__nose_length=length,
        machine__table__diameter=table,
    )


def test_a_long_nose_drills_where_the_head_would_stand_on_the_table() -> None:
    """Z 60 on a riser of 60 mm: the head begins 175 + 200 + 400 mm out, the table reaches to 750 mm."""
    drill = named(make_operations(plain_ring(HOLES), _floor("400 mm")), "holes/drill")
    assert way(drill, "D14", "II")


def test_a_short_nose_leaves_the_head_over_the_table() -> None:
    """It begins 175 + 200 + 250 = 625 mm out, over a table that reaches to 750 mm; not over one to 600 mm."""
    drill = named(make_operations(plain_ring(HOLES), _floor("250 mm")), "holes/drill")
    assert "the level head of 300 mm needs 150 mm above the table, z 60 mm lies 120 mm" in sentence_of(
        drill, "D14", "II"
    )
    drill = named(make_operations(plain_ring(HOLES), _floor("250 mm", "1200 mm")), "holes/drill")
    assert way(drill, "D14", "II")


def test_the_nose_needs_its_own_height() -> None:
    """Z 15 lies 75 mm above the table, half the nose is 80 mm."""
    low = {**HOLES, "z": "15 mm", "diameter": "14 mm"}
    drill = named(make_operations(plain_ring(low), _floor("400 mm")), "holes/drill")
    assert "the nose of the level head of 160 mm needs 80 mm above the table, z 15 mm lies 75 mm" in (
        sentence_of(drill, "D14", "II")
    )
