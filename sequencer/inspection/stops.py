"""Stop points: before the first finish of teeth and before the part is let go."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.inspection.plan import Check, StopPoint
from sequencer.operations import Action, Stage
from sequencer.sequencing import Sequence, Step


def stop_points(sequence: Sequence, checks: tuple[Check, ...]) -> tuple[StopPoint, ...]:
    """Give the points at which the work stops while it can still be corrected.

    Source: common practice, no source: before the first finishing cut of teeth, before hardening, before the
    part is let go

    Parameters
    ----------
    sequence
        The order.
    checks
        What is measured.
    """
    found = [*_before_teeth(sequence, checks), *_before_release(sequence, checks)]
    return tuple(sorted(found, key=lambda stop: stop.before))


def _before_teeth(sequence: Sequence, checks: tuple[Check, ...]) -> Iterator[StopPoint]:
    """Datums, blank and set-up are looked at before the first finish of each tooth system."""
    seen: dict[str, None] = {}
    for step in sequence.steps:
        operation = step.operation
        finish = operation.action is Action.CUT_TEETH and operation.stage in (Stage.FINISH, Stage.HARD)
        if not finish or operation.feature in seen:
            continue
        seen[operation.feature] = None
        numbers = tuple(check.number for check in checks if check.made_by == operation.name)
        reason = (
            f"last chance before {operation.feature} is finished: axis and face run true, blank and stock on "
            "the flanks are right, cutter and offsets are proven"
        )
        yield StopPoint(step.number, operation.name, step.alternative.clamping, reason, _each(numbers))


def _before_release(sequence: Sequence, checks: tuple[Check, ...]) -> Iterator[StopPoint]:
    """What was cut in a visit and can be measured is proven before the next visit begins."""
    for step, following in _ends(sequence):
        clamping = step.alternative.clamping
        here = (check.number for check in checks if check.correctable and check.clamping == clamping)
        numbers = _each(tuple(here))
        if numbers:
            where = following.operation.name if following is not None else "the part is let go"
            reason = f"last chance in {clamping}: all its characteristics are accepted before {where}"
            before = following.number if following is not None else step.number
            yield StopPoint(before, where, clamping, reason, numbers)


def _ends(sequence: Sequence) -> Iterator[tuple[Step, Step | None]]:
    steps = sequence.steps
    for place, step in enumerate(steps):
        following = steps[place + 1] if place + 1 < len(steps) else None
        if step.visit and (following is None or following.visit != step.visit):
            yield step, following


def _each(numbers: tuple[int, ...]) -> tuple[int, ...]:
    return tuple(dict.fromkeys(numbers))
