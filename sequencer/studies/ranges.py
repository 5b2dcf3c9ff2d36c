"""The values that a key takes: listed, or from a range of numbers or quantities."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal, InvalidOperation
from typing import Any

from sequencer.part.fault import Fault
from sequencer.studies.study import Vary

#: More variants than this are a slip.
MOST_VARIANTS = 100_000


def values_of(vary: Vary) -> tuple[Any, ...]:
    """Give the values of a key in order; the faults of `range_faults` must be mended before.

    Parameters
    ----------
    vary
        The key with its values or range.
    """
    if vary.values:
        return tuple(vary.values)
    first, unit = _split(vary.first)
    last, _ = _split(vary.last)
    if vary.count is not None:
        return tuple(
            _joined(first + (last - first) * at / (vary.count - 1), unit) for at in range(vary.count)
        )
    step, _ = _split(vary.step)
    count = int((last - first) / step) + 1
    return tuple(_joined(first + step * at, unit) for at in range(count))


def range_faults(vary: Vary) -> Iterator[Fault]:
    """Check that a key has values or a range, and that the range leads somewhere.

    Parameters
    ----------
    vary
        The key with its values or range.
    """
    given = [name for name in ("first", "last", "step", "count") if getattr(vary, name) is not None]
    if vary.values:
        if given:
            yield Fault(("values",), "values and a range are given both", "", "keep one of the two")
        return
    if not {"first", "last"} <= set(given) or ("step" in given) == ("count" in given):
        yield Fault(
            (),
            f"{vary.key} has neither values nor a whole range",
            "",
            "write values, or from, to and step or count",
        )
        return
    units = []
    for key, value in (("from", vary.first), ("to", vary.last), ("step", vary.step)):
        if value is None:
            continue
        try:
            units.append(_split(value)[1])
        except ValueError as error:
            yield Fault((key,), str(error), "", "write a number, or a number and its unit")
    if len(units) < len(given) - ("count" in given):
        return
    if len(set(units)) > 1:
        yield Fault(("from",), f"the range mixes units: {', '.join(units)}", "", "use one unit")
        return
    first, last = _split(vary.first)[0], _split(vary.last)[0]
    if vary.step is not None:
        step = _split(vary.step)[0]
        if step == 0 or (last - first) / step < 0:
            yield Fault(
                ("step",), f"a step of {vary.step} never reaches {vary.last}", "", "turn its sign round"
            )
        elif (last - first) / step > MOST_VARIANTS:
            yield Fault(
                ("step",), "the range has too many values", f"at most {MOST_VARIANTS}", "use a larger step"
            )


def _split(written: Any) -> tuple[Decimal, str]:
    """Number and unit of a value; exact, so that ranges end where they should."""
    if isinstance(written, bool) or not isinstance(written, int | float | str):
        raise ValueError(f"{written!r} is no number")
    text = str(written).strip()
    number, _, unit = text.partition(" ")
    try:
        value = Decimal(number)
    except InvalidOperation:
        raise ValueError(f"{text!r} is no number") from None
    if not value.is_finite():
        raise ValueError(f"{text!r} is no number")
    return value, unit.strip()


def _joined(value: Decimal, unit: str) -> Any:
    """Write a value of a range as the file would: plain numbers stay numbers."""
    tidy = value.quantize(Decimal("1e-9")).normalize()
    if unit:
        return f"{tidy:f} {unit}"
    return int(tidy) if tidy == tidy.to_integral_value() else float(tidy)
