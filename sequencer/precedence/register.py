"""All rules of the trade, in the order of their numbers."""

from __future__ import annotations

from typing import Final

from sequencer.precedence.rule import Rule
from sequencer.precedence.rules import (
    clamping,
    datums,
    double_helical,
    finishing_and_measuring,
    hardening,
    holes_and_keyways,
    holes_in_use,
    internal_and_bevel,
    roughing_and_heat,
    run_out,
    stages_and_blanks,
    thin_walls,
    tolerances,
    tools,
)

_SUBJECTS: Final = (
    stages_and_blanks,
    datums,
    double_helical,
    run_out,
    roughing_and_heat,
    clamping,
    holes_and_keyways,
    holes_in_use,
    internal_and_bevel,
    finishing_and_measuring,
    hardening,
    thin_walls,
    tolerances,
    tools,
)

#: Every rule of the trade.
RULES: Final[tuple[Rule, ...]] = tuple(
    sorted((rule for subject in _SUBJECTS for rule in subject.RULES), key=lambda rule: rule.number)
)

#: Rules by their short name.
RULE_BY_ID: Final[dict[str, Rule]] = {rule.id: rule for rule in RULES}

#: Rules that hold by the meaning of the words and cannot be switched off.
FIXED: Final = ("R0",)
