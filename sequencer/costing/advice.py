"""The recommendation: what to make and what to buy, how long it holds, and what money does not say."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.costing.choice import Choice
from sequencer.costing.subjects import WHOLE_PART
from sequencer.operations import OperationList
from sequencer.sequencing import Sequence
from sequencer.units import shown


@dataclass(frozen=True)
class Beside:
    """One line of what counts beside money.

    Parameters
    ----------
    subject
        What is decided on.
    matter
        What it is about.
    make, buy
        How making and buying stand to it.
    """

    subject: str
    matter: str
    make: str
    buy: str


@dataclass(frozen=True)
class Advice:
    """What to do.

    Parameters
    ----------
    sentence
        The recommendation.
    validity
        How long it holds.
    beside
        What counts beside money.
    """

    sentence: str
    validity: str
    beside: tuple[Beside, ...]


def advise(operations: OperationList, sequence: Sequence, choices: tuple[Choice, ...]) -> Advice:
    """Recommend what to make and what to buy.

    Parameters
    ----------
    operations
        Operations with part and shop.
    sequence
        The order.
    choices
        Make and buy of each subject.
    """
    return Advice(_sentence(choices), _validity(operations, choices), _beside(operations, sequence, choices))


def _sentence(choices: tuple[Choice, ...]) -> str:
    whole = next((choice for choice in choices if choice.subject == WHOLE_PART), None)
    systems = [choice for choice in choices if choice.subject != WHOLE_PART]
    gains = -sum(min(choice.saved, 0.0) for choice in systems if choice.verdict == "buy")
    if whole is not None and whole.verdict == "buy" and -whole.saved >= gains:
        return (
            f"Buy the whole part ({whole.quote.source if whole.quote else ''}): it saves "
            f"{shown(-whole.saved, 2)} {whole.make.currency} a piece."
        )
    here = [f"{choice.subject} ({choice.method})" for choice in systems if choice.verdict != "buy"]
    out = [
        f"{choice.subject} ({shown(-choice.saved, 2)} saved)" for choice in systems if choice.verdict == "buy"
    ]
    open_ones = [choice.subject for choice in choices if choice.verdict == "not priced"]
    text = f"Make here: {', '.join(here) or 'no teeth'}."
    if out:
        text += f" Send out: {', '.join(out)}."
    if open_ones:
        text += f" Not priced outside: {', '.join(open_ones)}; a quotation would decide."
    return text


def _validity(operations: OperationList, choices: tuple[Choice, ...]) -> str:
    dates = sorted(
        {choice.quote.valid_until for choice in choices if choice.quote and choice.quote.valid_until}
    )
    undated = sorted(
        {choice.quote.source for choice in choices if choice.quote and not choice.quote.valid_until}
    )
    lot = f"for a lot of {operations.part.lot}"
    if not dates and not undated:
        return f"Holds {lot} and the rates of the shop file; no quotation was given."
    text = f"Holds {lot}" + (f" until {dates[0]}, when the first quotation lapses" if dates else "")
    if undated:
        text += f"; without an end: {', '.join(undated)}, ask for one"
    return text + "."


def _beside(operations: OperationList, sequence: Sequence, choices: tuple[Choice, ...]) -> tuple[Beside, ...]:
    found: list[Beside] = []
    for choice in choices:
        found += _of(operations, sequence, choice)
    return tuple(found)


def _of(operations: OperationList, sequence: Sequence, choice: Choice) -> list[Beside]:
    subject, quote = choice.subject, choice.quote
    buy_days = (
        "not quoted" if choice.buy_days is None else f"{shown(choice.buy_days.value, 1)} d, transit included"
    )
    found = [
        Beside(subject, "time until the lot is ready", f"{shown(choice.make_days.value, 1)} d", buy_days),
        Beside(
            subject,
            "who holds the date",
            "this shop",
            f"the supplier{' and the carrier' if quote is None or quote.transit else ''}",
        ),
        Beside(subject, "errors are found", "while the part is clamped", "when it is back"),
    ]
    if subject == WHOLE_PART:
        found.append(Beside(subject, "know-how and load", "stays here; takes machine hours", "goes out"))
        return found
    found += _class_line(operations, choice)
    shared = _shared(operations, sequence, subject)
    if shared:
        found.append(
            Beside(
                subject,
                "tolerances to features of the same clamping",
                f"{', '.join(shared)} in one clamping",
                "crosses a clamping elsewhere",
            )
        )
    return found


def _class_line(operations: OperationList, choice: Choice) -> list[Beside]:
    feature = operations.part.by_name.get(choice.subject)
    wanted = getattr(feature, "flank_class", None)
    if wanted is None:
        return []
    ways = [way for each in operations.of(choice.subject) for way in each.alternatives]
    reached = [
        fact.value
        for way in ways
        if way.method in choice.method
        for fact in way.facts
        if fact.name == "flank class reachable"
    ]
    here = f"class {shown(max(reached), 0)} reachable (estimate)" if reached else "not stated"
    quote = choice.quote
    there = (
        "not promised"
        if quote is None or quote.flank_class is None
        else f"class {quote.flank_class} promised"
    )
    return [Beside(choice.subject, f"flank class, asked {wanted.number}", here, there)]


def _shared(operations: OperationList, sequence: Sequence, subject: str) -> list[str]:
    """Datum features of a tooth system that are finished in the same visit as its teeth."""
    part = operations.part
    feature = part.by_name[subject]
    visits = {step.operation.feature: step.visit for step in sequence.steps if step.operation.cuts}
    named = dict.fromkeys(part.datums.get(letter, letter) for letter in feature.datums)
    return [name for name in named if name != subject and visits.get(name) == visits.get(subject)]
