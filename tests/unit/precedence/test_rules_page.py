"""The register of rules and the page made from it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))
from gear_shop_floor import house, wheel

from sequencer.files.load import shop_from_text
from sequencer.precedence.dependency import Strength
from sequencer.precedence.page import rules_page
from sequencer.precedence.register import FIXED, RULE_BY_ID, RULES
from sequencer.precedence.rule import Kept, Rule

ROOT = Path(__file__).parents[3]

_MUST_NUMBERS = (
    *(1, 2, 3, 5, 6, 7, 8, 9, 11, 13, 15, 18, 20, 23, 26, 27, 29, 30, 31, 33, 35, 36, 37, 39, 40),
    *(41, 44, 45, 46, 47, 50, 53),
)
MUSTS = tuple(f"R{number}" for number in _MUST_NUMBERS)


def test_every_rule_of_the_trade_is_there_once_in_order() -> None:
    assert [rule.id for rule in RULES] == [f"R{number}" for number in range(54)]


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.id)
def test_a_rule_says_what_it_is(rule: Rule) -> None:
    """Strengths as the trade holds them: common practice, no source."""
    assert rule.strength is (Strength.MUST if rule.id in (*MUSTS, *FIXED) else Strength.SHOULD)
    assert rule.title
    assert rule.reason.endswith(".")
    assert rule.source
    assert (rule.function.__doc__ or "").startswith(f"{rule.id}: ")


def test_shoulds_that_give_an_order_have_a_penalty() -> None:
    for rule in RULES:
        orders = rule.kept in (Kept.ORDER, Kept.BOTH) and rule.strength is Strength.SHOULD
        assert not orders or rule.penalty > 0 or rule.id in ("R4", "R19"), rule.id


def test_the_rule_on_tool_neighbours_is_kept_by_the_objective() -> None:
    assert [rule.id for rule in RULES if rule.kept is Kept.OBJECTIVE] == ["R48"]
    assert "the objective: it lowers the number of tool changes itself" in rules_page()


def test_the_kept_page_is_current() -> None:
    """Write it anew with `python -m sequencer.precedence.page > docs/rules.md`."""
    kept = (ROOT / "docs" / "rules.md").read_text(encoding="utf-8")
    assert kept == rules_page()


def test_each_rule_has_its_section_with_the_way_to_change_it() -> None:
    page = rules_page()
    for rule in RULES:
        assert f"### {rule.id} {rule.title}\n" in page
        assert (f"`{{rule: {rule.id}, action: off}}`" in page) is (rule.id not in FIXED)


def test_the_example_on_the_page_is_a_valid_shop_file() -> None:
    """The example is read as it stands, after the text of the example shop."""
    block = rules_page().split("```yaml\n")[1].split("```")[0]
    text = (ROOT / "parts" / "shop.yaml").read_text(encoding="utf-8")
    rules = shop_from_text(f"{text}\n{block}").rules
    assert [(change.rule, change.action) for change in rules.changes] == [("R38", "off"), ("R1", "should")]
    assert rules.own[0].name == "H1"


def test_the_register_finds_rules_by_name() -> None:
    assert RULE_BY_ID["R12"].title == "Heavy roughing before close finishing"
    assert house().rules.changes == ()
    assert wheel().name == "Test part"
