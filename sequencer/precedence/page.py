"""The page that lists all rules, made from the register."""

from __future__ import annotations

from typing import Final

from sequencer.precedence.dependency import Strength
from sequencer.precedence.house import USUAL_PENALTY
from sequencer.precedence.register import FIXED, RULES
from sequencer.precedence.rule import Rule
from sequencer.units import shown

_HEAD: Final = """\
# Rules of the trade

This page is made from the register of rules; a test holds it to that.

A **must** binds. A **should** costs penalty minutes when an order breaks it, and the plan says so. Most rules
give arrows between operations; some give findings instead, where there is nothing to put in order. A must
between two operations that the clampings make impossible becomes a warning with its consequence, where that
can be lived with.

## Changing a rule

The shop file changes rules, each change signed with owner, date and reason:

```yaml
rules:
  changes:
    - {rule: R38, action: off, owner: R. Vogel, date: 2027-02-01, reason: teeth are ground afterwards}
    - {rule: R1, action: should, owner: R. Vogel, date: 2027-02-01, reason: blanks are turned, penalty: 5 min}
  own:
    - {name: H1, relation: before, first: bore, second: keyway, owner: R. Vogel, date: 2027-02-01,
       reason: the bore is honed first}
```

`off` drops the rule. `should` makes its musts shoulds; what is no order between two operations (one clamping,
one zero, opening a clamping) is then left out, since only an order can be weighed, and a note says so.
`penalty` sets the minutes of a broken should, also of a rule that is a should already; without it the penalty
of the rule counts, or PENALTY min. Own rules hold between the last cut of the first feature and the first cut
of the second. R0 cannot be changed.

## All rules
"""


def rules_page() -> str:
    """Write the page of rules: what each says, why, by what it is kept, and how to change it."""
    head = _HEAD.replace("PENALTY", shown(USUAL_PENALTY))
    return head + "".join(_section(rule) for rule in RULES)


def _section(rule: Rule) -> str:
    lines = [
        f"### {rule.id} {rule.title}",
        "",
        f"- **Strength:** {rule.strength.value}{_penalty(rule)}",
        f"- **Says:** {_says(rule)}",
        f"- **Why:** {rule.reason}",
        f"- **Kept by:** {rule.kept.value}",
        f"- **Source:** {rule.source}",
        f"- **Change:** {_change(rule)}",
    ]
    return "\n" + "\n".join(lines) + "\n"


def _penalty(rule: Rule) -> str:
    if rule.strength is Strength.SHOULD and rule.penalty:
        return f"; {shown(rule.penalty)} min when broken"
    return f"; its shoulds cost {shown(rule.penalty)} min" if rule.penalty else ""


def _says(rule: Rule) -> str:
    """First line of the rule's own words, without its number."""
    words = (rule.function.__doc__ or "").strip().split("\n")[0]
    said = words.split(": ", 1)[-1]
    return said[0].upper() + said[1:]


def _change(rule: Rule) -> str:
    if rule.id in FIXED:
        return "none: it holds by the meaning of its words"
    if rule.strength is Strength.MUST:
        return f"`{{rule: {rule.id}, action: off}}` or `{{rule: {rule.id}, action: should}}`"
    return f"`{{rule: {rule.id}, action: off}}`"


if __name__ == "__main__":
    import sys

    sys.stdout.write(rules_page())
