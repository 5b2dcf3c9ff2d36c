"""Cutters that fail for the same plain reason, such as another module, put together into one rejection."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from sequencer.operations.operation import Rejection
from sequencer.operations.teeth.trial import Outcome, Plain

#: Tools next to each other in the shop file from which on a range is written.
RANGE_FROM: Final = 3


def merged(outcomes: Iterable[Outcome], order: Sequence[str], wish: str | None) -> tuple[Outcome, ...]:
    """Put the plain rejections of one method together; one alone and that of a wished tool stay as they are.

    Source: derived

    Parameters
    ----------
    outcomes
        What came out of trying the cutters of one method.
    order
        Names of these cutters in the order of the shop file.
    wish
        Tool that the part file asks for.
    """
    listed = tuple(outcomes)
    plain = [one for one in listed if _is_plain(one, wish)]
    names = _names(plain)
    if len(names) < 2:
        return listed
    joined, rest = _joined(plain, order), [one for one in listed if not _is_plain(one, wish)]
    return (*rest, Outcome(rejection=joined))


def _is_plain(outcome: Outcome, wish: str | None) -> bool:
    return outcome.plain is not None and outcome.rejection is not None and outcome.rejection.tool != wish


def _names(plain: Iterable[Outcome]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.rejection.tool for one in plain if one.rejection is not None))


def _joined(plain: Sequence[Outcome], order: Sequence[str]) -> Rejection:
    groups: dict[tuple[str, str], list[tuple[str, Plain]]] = {}
    for one in plain:
        assert one.plain is not None
        assert one.rejection is not None
        groups.setdefault((one.plain.what, one.plain.against), []).append((one.rejection.tool, one.plain))
    sentences = []
    for (what, against), members in groups.items():
        names = tool_words((name for name, _ in members), order)
        values = _values(dict.fromkeys(one.has for _, one in members))
        sentences.append(f"{names}: {what} {values}; {against}")
    first = plain[0].rejection
    assert first is not None
    remedies = (one.rejection.remedy for one in plain if one.rejection is not None and one.rejection.remedy)
    names = tool_words(_names(plain), order)
    return Rejection(first.method, names, "", f"{'. '.join(sentences)}.", next(remedies, ""))


def tool_words(names: Iterable[str], order: Sequence[str]) -> str:
    """Give names of tools in short: "T45 to T54, T60".

    Source: derived

    Parameters
    ----------
    names
        Names of the tools.
    order
        Names of all tools of their kind in the order of the shop file.
    """
    places = sorted({order.index(name) for name in names})
    runs: list[list[int]] = []
    for place in places:
        if runs and place == runs[-1][-1] + 1:
            runs[-1].append(place)
        else:
            runs.append([place])
    words: list[str] = []
    for run in runs:
        if len(run) >= RANGE_FROM:
            words.append(f"{order[run[0]]} to {order[run[-1]]}")
        else:
            words += [order[place] for place in run]
    return ", ".join(words)


def _values(values: Iterable[str]) -> str:
    """Write a common unit once: "7, 6, 5 mm and NDP 5"."""
    listed = tuple(values)
    for unit in (" mm", " deg"):
        numbers = [value.removesuffix(unit) for value in listed if value.endswith(unit)]
        others = [value for value in listed if not value.endswith(unit)]
        if numbers:
            return " and ".join((f"{', '.join(numbers)}{unit}", *others))
    return " or ".join(listed)
