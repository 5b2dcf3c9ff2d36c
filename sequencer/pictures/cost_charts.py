"""Break-even line, tornado and value-at-risk curve of a plan."""

from __future__ import annotations

from itertools import pairwise
from math import ceil, log10
from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.pictures import ink
from sequencer.pictures.charts import across, fill_box, money, ticks
from sequencer.pictures.columns import spread
from sequencer.pictures.drawing import HEAD, SIZE, SMALL, Canvas, box, line, paper, shape, write
from sequencer.pictures.keys import feature_key, step_key
from sequencer.pictures.lettering import text_width, wrapped

if TYPE_CHECKING:
    from sequencer.costing import Choice, Tornado
    from sequencer.plan import Plan

MARGIN: Final = 4.0
#: One panel of the break-even line: its size, and the room left and right of the chart [mm].
PANEL: Final = (90.0, 72.0)
LEFT: Final = 14.0
RIGHT: Final = 20.0
#: Width of the tornado and of the value-at-risk curve.
WIDTH: Final = 180.0
_NAMES: Final = 52.0


def break_even_line(plan: Plan) -> str:
    """Draw cost of a piece over the lot, made and bought, a panel for each quotation, this lot marked.

    Parameters
    ----------
    plan
        The plan.
    """
    choices = [choice for choice in plan.costing.choices if choice.buy is not None and choice.curve]
    account = plan.costing.account
    rows = max(ceil(len(choices) / 2), 1)
    tall = PANEL[1] if choices else 8.0
    width = 2 * MARGIN + 2 * PANEL[0]
    drawing = paper(width, 12.0 + rows * tall + 4.0, f"Break-even of {plan.part.name}", "even")
    write(drawing, f"Cost of a piece over the lot, {account.currency}", (MARGIN, 6.0), size=HEAD, bold=True)
    if not choices:
        write(drawing, "No quotation in the part file, so nothing to compare with.", (MARGIN, 14.0))
    for place, choice in enumerate(choices):
        row, column = divmod(place, 2)
        group = svg.Group(
            transform=f"translate({MARGIN + column * PANEL[0]:.3f},{10.0 + row * PANEL[1]:.3f})",
            data_keys=feature_key(choice.subject),
        )
        drawing.append(group)
        _draw_lines(group, choice, account.lot)
    return str(drawing.as_svg())


def _draw_lines(group: svg.Group, choice: Choice, lot: float) -> None:
    chart = (PANEL[0] - LEFT - RIGHT, PANEL[1] - 26.0)
    top = 12.0
    lots = [each for each, _, _ in choice.curve]
    most = max(cost for _, make, buy in choice.curve for cost in (make, buy)) * 1.05
    wide = log10(max(lots) / min(lots)) or 1.0

    def x(pieces: float) -> float:
        return LEFT + chart[0] * log10(max(pieces, min(lots)) / min(lots)) / wide

    def y(cost: float) -> float:
        return top + chart[1] * (1 - cost / most)

    assert choice.buy is not None
    heads = wrapped(f"{choice.subject}: {_even_words(choice)}", SIZE, PANEL[0] - 4.0, bold=True)[:2]
    for place, words in enumerate(heads):
        write(group, words, (0.0, 3.0 + 3.4 * place), bold=True)
    here = f"made {money(choice.make.per_piece)}, bought {money(choice.buy.per_piece)}"
    write(group, f"this lot of {lot:g}: {here}", (0.0, 3.0 + 3.4 * len(heads)), size=SMALL)
    scale = tuple((y(each), money(each)) for each in ticks(0.0, most, chart[1]))
    across(group, (LEFT, LEFT + chart[0]), scale)
    low = top + chart[1]
    free = LEFT - 10.0
    for each in lots:
        words = str(each)
        line(group, (x(each), low), (x(each), low + 1.0), width=0.15)
        if x(each) - text_width(words, SMALL) / 2 > free + 1.5:
            write(group, words, (x(each), low + 4.0), size=SMALL, anchor="middle")
            free = x(each) + text_width(words, SMALL) / 2
    write(group, "pieces in a lot", (LEFT + chart[0], low + 8.0), size=SMALL, anchor="end", shade=ink.QUIET)
    if choice.break_even is not None and min(lots) <= choice.break_even.value <= max(lots):
        even = x(choice.break_even.value)
        line(group, (even, top), (even, low), width=0.25, dash="2 1", shade=ink.QUIET)
    line(group, (x(lot), top), (x(lot), low), width=0.5)
    ends = []
    for place, (name, account, dash) in enumerate(
        (("made", choice.make, ""), ("bought", choice.buy, "1.6 1"))
    ):
        points = tuple((x(pieces), y(costs[place])) for pieces, *costs in choice.curve)
        shape(group, points, closed=False, width=0.55, dash=dash)
        group.append(
            svg.Circle(round(x(lot), 3), round(y(account.per_piece), 3), 0.9, fill=ink.PAPER, stroke=ink.INK,
                       stroke_width=0.4)
        )  # fmt: skip
        ends.append((points[-1][1], name, points[-1]))
    ends.sort()
    middles = spread(tuple(each[0] for each in ends), (SIZE * 1.2,) * len(ends), 0.6)
    for (_, words, point), middle in zip(ends, middles, strict=True):
        text = LEFT + chart[0] + 4.0
        line(group, point, (text - 0.6, middle), width=0.15, shade=ink.QUIET)
        write(group, words, (text, middle + SIZE * 0.35))


def _even_words(choice: Choice) -> str:
    if choice.break_even is None:
        return f"{'making' if choice.saved >= 0 else 'buying'} is cheaper for every lot"
    side = "from" if " from that lot" in choice.break_even_words else "below"
    pieces = choice.break_even.value
    return f"making is cheaper {side} {ceil(pieces) if side == 'from' else pieces:.4g} pieces"


def tornado(plan: Plan) -> str:
    """Draw the five strongest drivers of the cost of a piece and of each choice that has a quotation.

    Parameters
    ----------
    plan
        The plan.
    """
    panels = [each for each in plan.costing.tornadoes if each.drivers]
    heights = [15.0 + 7.0 * len(each.drivers) for each in panels]
    drawing = paper(WIDTH, 12.0 + sum(heights) + 6.0, f"Drivers of the cost of {plan.part.name}", "tornado")
    currency = plan.costing.account.currency
    write(drawing, f"What moves the answer, {currency} a piece", (MARGIN, 6.0), size=HEAD, bold=True)
    write(drawing, "Each assumption changed alone; bar from its low (white) to its high (grey) value.",
          (MARGIN, 10.2), size=SMALL, shade=ink.QUIET)  # fmt: skip
    y = 12.0
    for each, tall in zip(panels, heights, strict=True):
        _draw_tornado(drawing, each, y)
        y += tall
    return str(drawing.as_svg())


def _draw_tornado(canvas: Canvas, panel: Tornado, top: float) -> None:
    ends = [value for driver in panel.drivers for value in (driver.at_low, driver.at_high)]
    low, high = min([*ends, panel.now]), max([*ends, panel.now])
    sides = max(text_width(money(value), SMALL) for value in (low, high)) + 2.0
    left = MARGIN + _NAMES + sides
    wide = WIDTH - MARGIN - sides - left
    scale = wide / max(high - low, 1e-9)

    def x(value: float) -> float:
        return left + (value - low) * scale

    write(canvas, f"{panel.subject}: now {money(panel.now)}", (MARGIN, top + 5.0), bold=True)
    first = top + 8.0
    bottom = first + 7.0 * len(panel.drivers)
    for place, driver in enumerate(panel.drivers):
        y = first + 7.0 * place
        write(canvas, driver.name, (MARGIN, y + 2.4), size=SMALL, bold=True)
        write(canvas, f"{driver.low}; {driver.high}", (MARGIN, y + 5.2), size=2.1)
        bars = sorted(((driver.at_low, ink.PAPER), (driver.at_high, ink.SHADE)), key=lambda each: each[0])
        for value, fill in bars:
            one, other = sorted((x(value), x(panel.now)))
            if other - one > 0.01:
                box(canvas, (one, y + 0.4), (other - one, 4.6), fill=fill, width=0.25)
        spots = sorted((driver.at_low, driver.at_high))
        if spots[0] < panel.now - 1e-9:
            write(canvas, money(spots[0]), (x(spots[0]) - 1.0, y + 3.5), size=SMALL, anchor="end")
        if spots[1] > panel.now + 1e-9:
            write(canvas, money(spots[1]), (x(spots[1]) + 1.0, y + 3.5), size=SMALL)
        if driver.flips:
            zero = x(0.0)
            line(canvas, (zero, y), (zero, y + 5.4), width=0.5, dash="1 0.7")
    line(canvas, (x(panel.now), first - 0.8), (x(panel.now), bottom - 0.8), width=0.5)


def value_at_risk(plan: Plan) -> str:
    """Draw the value of the piece and the expected loss along the route.

    Parameters
    ----------
    plan
        The plan.
    """
    points, currency = plan.costing.risk, plan.costing.account.currency
    height = 118.0
    drawing = paper(WIDTH, height, f"Value at risk of {plan.part.name}", "risk")
    write(drawing, f"Value of the piece along the route, and loss expected at each step, {currency}",
          (MARGIN, 6.0), size=HEAD, bold=True)  # fmt: skip
    left, right = MARGIN + 14.0, WIDTH - MARGIN
    wide = (right - left) / max(len(points), 1)
    _draw_value(drawing, plan, left, wide)
    _draw_losses(drawing, plan, left, wide)
    riskiest = plan.costing.riskiest
    if riskiest is not None:
        where = f"step {riskiest.number}, {riskiest.operation}"
        stake = f"{money(riskiest.value.value)} {currency} with a chance of {100 * riskiest.chance:.2f} %"
        words = f"Most is at stake at {where}: {stake}, {riskiest.loss.value:.2f} {currency}."
        for place, text in enumerate(wrapped(words, SIZE, WIDTH - 2 * MARGIN)[:2]):
            write(drawing, text, (MARGIN, height - 6.4 + 3.6 * place))
    return str(drawing.as_svg())


def _draw_value(canvas: Canvas, plan: Plan, left: float, wide: float) -> None:
    """The value as stairs, with a line where a visit ends and its name over it."""
    points = plan.costing.risk
    top, tall = 18.0, 44.0
    most = max([point.value.value for point in points] + [1e-9]) * 1.05
    scale = tuple((top + tall * (1 - each / most), money(each)) for each in ticks(0.0, most, tall))
    across(canvas, (left, left + wide * len(points)), scale)
    corners: list[tuple[float, float]] = []
    for place, point in enumerate(points):
        y = top + tall * (1 - point.value.value / most)
        corners += [(left + place * wide, y), (left + (place + 1) * wide, y)]
    shape(canvas, (*corners, (left + wide * len(points), top + tall), (left, top + tall)), fill=ink.LIGHT,
          stroke="none")  # fmt: skip
    shape(canvas, tuple(corners), closed=False, width=0.5)
    place_of = {point.number: place for place, point in enumerate(points)}
    starts = [(name, place_of[steps[0].number]) for name, steps in plan.sequence.visits
              if steps[0].number in place_of]  # fmt: skip
    bounds = [*starts, ("", len(points))]
    for (name, start), (_, stop) in pairwise(bounds):
        x = left + start * wide
        line(canvas, (x, top - 4.0), (x, top + tall), width=0.2, dash="1 1", shade=ink.QUIET)
        if text_width(name, SMALL) + 2.0 < (stop - start) * wide:
            write(canvas, name, (x + 1.0, top - 1.6), size=SMALL)


def _draw_losses(canvas: svg.Drawing, plan: Plan, left: float, wide: float) -> None:
    """The expected loss of each step as a bar, and the numbers of the steps as far as there is room."""
    points = plan.costing.risk
    top, tall = 68.0, 28.0
    most = max([point.loss.value for point in points] + [1e-9]) * 1.05
    scale = tuple((top + tall * (1 - each / most), f"{each:.4g}") for each in ticks(0.0, most, tall))
    across(canvas, (left, left + wide * len(points)), scale)
    free = 0.0
    for place, point in enumerate(points):
        group = svg.Group(data_keys=step_key(point.number))
        canvas.append(group)
        x, high = left + place * wide, tall * point.loss.value / most
        if high > 0:
            fill_box(group, (x + wide * 0.12, top + tall - high), (wide * 0.76, high), ink.QUIET)
        words, middle = str(point.number), x + wide / 2
        if middle - text_width(words, SMALL) / 2 > free + 1.2:
            write(group, words, (middle, top + tall + 3.6), size=SMALL, anchor="middle")
            free = middle + text_width(words, SMALL) / 2
    line(canvas, (left, top + tall), (left + wide * len(points), top + tall), width=0.3)
    write(canvas, "step", (MARGIN, top + tall + 3.6), size=SMALL, shade=ink.QUIET)
