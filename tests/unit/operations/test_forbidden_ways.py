"""House rules forbid methods and tools, in general or for one feature."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.files import read_part_and_shop
from sequencer.operations import OperationList, make_operations
from sequencer.shop import Forbidden, HouseRules

PARTS = Path(__file__).parents[3] / "parts"


def _operations(*forbidden: Forbidden) -> OperationList:
    part, shop = read_part_and_shop(PARTS / "first_wheel.yaml", PARTS / "shop.yaml")
    return make_operations(part, shop.model_copy(update={"rules": HouseRules(forbid=forbidden)}))


def test_a_forbidden_method_becomes_a_rejection_with_its_reason():
    """No alternative uses it, and each of its ways says the rule."""
    operations = _operations(Forbidden(method="hobbing", reason="the hob spindle is under repair"))
    ways = [way.method for operation in operations.operations for way in operation.alternatives]
    assert "hobbing" not in ways
    sentences = [way.sentence for each in operations.operations for way in each.rejected]
    assert any("forbid hobbing: the hob spindle is under repair" in sentence for sentence in sentences)


def test_a_forbidden_tool_is_used_by_no_operation():
    """A general tool is forbidden everywhere."""
    free = _operations()
    tool = next(way.tool for way in free.by_name["bore/finish"].alternatives)
    operations = _operations(Forbidden(tool=tool))
    assert tool not in [way.tool for each in operations.operations for way in each.alternatives]


def test_what_is_forbidden_for_one_feature_stays_for_the_others():
    """The bore loses its method, other features keep theirs."""
    operations = _operations(Forbidden(method="boring", feature="bore"))
    assert all(way.method != "boring" for way in operations.by_name["bore/finish"].alternatives)


def test_a_rule_that_forbids_nothing_is_refused():
    """Neither method nor tool."""
    with pytest.raises(ValueError, match="name what is forbidden"):
        Forbidden(feature="bore")
