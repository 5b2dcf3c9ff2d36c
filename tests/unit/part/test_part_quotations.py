"""Quotations of the part file: what they may name."""

from __future__ import annotations

from pathlib import Path

import pytest

from sequencer.errors import BadFile
from sequencer.files import part_from_text, read_part

PART = Path(__file__).parents[3] / "parts" / "first_wheel.yaml"


@pytest.mark.parametrize(
    ("quote", "said"),
    [
        ("work: teeth", "quoted is teeth, but not of which feature"),
        ("work: teeth, of: bore", "'bore' is no feature with teeth. Features with teeth: teeth"),
        ("work: whole part, of: teeth", "quoted is whole part, which is of the whole part"),
        ("work: heat treatment", "a heat treatment is quoted, but the part has none"),
        ("work: painting", "painting"),
    ],
)
def test_a_quotation_that_fits_nothing_is_refused(quote: str, said: str) -> None:
    text = PART.read_text(encoding="utf-8")
    text += f"\nquotes: [{{{quote}, source: Q-1, price: 100, lead_time: 10 d}}]\n"
    with pytest.raises(BadFile, match=said):
        part_from_text(text)


def test_a_quotation_of_teeth_is_read() -> None:
    text = PART.read_text(encoding="utf-8")
    text += "\nquotes: [{work: teeth, of: teeth, source: Q-1, price: 100, lead_time: 10 d}]\n"
    (quote,) = part_from_text(text).quotes
    assert (quote.of, quote.price, float(quote.lead_time)) == ("teeth", 100, 14400)
    assert read_part(PART).quotes == ()
