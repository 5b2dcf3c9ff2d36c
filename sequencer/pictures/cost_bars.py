"""Cost bars: making and buying of each tooth system and of the whole part, what they are made up of."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

import drawsvg as svg

from sequencer.costing.subjects import WHOLE_PART
from sequencer.pictures import ink
from sequencer.pictures.charts import fill_box, fills, legend, money
from sequencer.pictures.drawing import HEAD, SIZE, SMALL, line, paper, write
from sequencer.pictures.keys import feature_key
from sequencer.pictures.lettering import text_width, wrapped

if TYPE_CHECKING:
    from sequencer.costing import Account, Choice
    from sequencer.plan import Plan

WIDTH: Final = 180.0
MARGIN: Final = 4.0
LEFT: Final = 22.0
RIGHT: Final = 24.0
BAR: Final = 6.0
_LONGEST: Final = WIDTH - LEFT - RIGHT - 2 * MARGIN

#: What the lines of the accounts are gathered to: words and beginnings of their names.
GROUPS: Final[tuple[tuple[str, tuple[str, ...]], ...]] = (
    ("blank", ("blank",)),
    ("machine", ("machine", "lost contribution")),
    (
        "bought outside",
        ("price", "work outside", "set-up there", "set-up and freight", "tools there", "tools for"),
    ),
    ("tools and clamping means", ("tools", "tool ", "clamping means")),
    ("scrap and loss", ("scrap", "loss")),
    ("set-up", ("set-up", "loading", "one more clamping")),
    ("programming and proving", ("programming", "proving")),
    ("bench and inspection", ("bench", "incoming inspection")),
)
OTHER: Final = "other"


def group_of(name: str) -> str:
    """Give the group of a line of an account: the one with the longest beginning that fits.

    Parameters
    ----------
    name
        Name of the line.
    """
    fitting = [(len(each), words) for words, starts in GROUPS for each in starts if name.startswith(each)]
    return max(fitting)[1] if fitting else OTHER


def shares(account: Account) -> dict[str, float]:
    """Give what each group costs on one piece, groups in their order, nothing left out.

    Parameters
    ----------
    account
        Account of making or buying.
    """
    spread = {"piece": 1.0, "lot": account.lot, "series": account.series}
    found = dict.fromkeys([*(words for words, _ in GROUPS), OTHER], 0.0)
    for each in account.lines:
        found[group_of(each.name)] += each.amount.value / spread[each.per]
    return {words: value for words, value in found.items() if value > 0}


def cost_bars(plan: Plan) -> str:
    """Draw make and buy as stacked bars.

    Parameters
    ----------
    plan
        The plan.
    """
    choices, account = plan.costing.choices, plan.costing.account
    heads = [_head(choice) for choice in choices]
    heights = [2 * BAR + 10.0 + 3.6 * (len(lines) - 1) for lines in heads]
    top = 15.0
    height = top + sum(heights) + 18.0
    drawing = paper(WIDTH, height, f"Cost bars of {plan.part.name}", "cost")
    write(drawing, f"Make or buy, {account.currency} a piece in a lot of {account.lot:g}", (MARGIN, 6.0),
          size=HEAD, bold=True)  # fmt: skip
    note = "Tooth systems share one scale, the whole part has its own. Made: what falls away when bought."
    write(drawing, note, (MARGIN, 10.6), size=SMALL, shade=ink.QUIET)
    looks = dict(zip([*(words for words, _ in GROUPS), OTHER], fills(), strict=True))
    used: dict[str, None] = {}
    y = top
    for choice, lines, tall in zip(choices, heads, heights, strict=True):
        for place, words in enumerate(lines):
            write(drawing, words, (MARGIN, y + 3.0 + 3.6 * place), bold=place == 0)
        start = y + 3.6 * len(lines) + 1.0
        group = svg.Group(data_keys=feature_key(choice.subject))
        drawing.append(group)
        scale = _LONGEST / max(_largest(choices, choice), 1e-9)
        for row, (name, each) in enumerate((("made", choice.make), ("bought", choice.buy))):
            _draw_bar(group, name, each, (start + row * (BAR + 1.0)), scale, looks)
            used |= dict.fromkeys(shares(each) if each is not None else ())
        y += tall
    entries = tuple((words, fill) for words, (fill, _) in looks.items() if words in used)
    legend(drawing, entries, (MARGIN, height - 14.0), WIDTH - 2 * MARGIN)
    return str(drawing.as_svg())


def _head(choice: Choice) -> tuple[str, ...]:
    if choice.buy is None:
        verdict = f"no quotation; buying pays below {money(choice.flip_price.value)} a piece, all included"
    else:
        verdict = f"{choice.verdict} it: {money(abs(choice.saved))} a piece " + (
            "saved by making" if choice.saved >= 0 else "saved by buying"
        )
        reasons = (*choice.obstacles, *((choice.late,) if choice.late else ()))
        verdict += "".join(f"; {each}" for each in reasons)
    words = f"{choice.subject} ({choice.method}): {verdict}"
    return wrapped(words, SIZE, WIDTH - 2 * MARGIN, bold=True)


def _largest(choices: tuple[Choice, ...], one: Choice) -> float:
    same = [each for each in choices if (each.subject == WHOLE_PART) == (one.subject == WHOLE_PART)]
    return max(max(each.make.per_piece, each.buy.per_piece if each.buy else 0.0) for each in same)


def _draw_bar(
    group: svg.Group,
    name: str,
    account: Account | None,
    top: float,
    scale: float,
    looks: dict[str, tuple[object, str]],
) -> None:
    base = top + BAR / 2 + SIZE * 0.35
    write(group, name, (MARGIN + LEFT - 2.0, base), anchor="end")
    x = MARGIN + LEFT
    if account is None:
        line(group, (x, top), (x, top + BAR))
        write(group, "not priced", (x + 2.0, base), shade=ink.QUIET)
        return
    for words, value in shares(account).items():
        wide = value * scale
        fill, shade = looks[words]
        fill_box(group, (x, top), (wide, BAR), fill)
        amount = money(value)
        if text_width(amount, SMALL) + 1.6 < wide:
            if not shade:
                room = text_width(amount, SMALL) + 1.0
                middle = x + wide / 2
                group.append(
                    svg.Rectangle(round(middle - room / 2, 3), round(top + 1.2, 3), round(room, 3), BAR - 2.4,
                                  fill=ink.PAPER)
                )  # fmt: skip
            write(group, amount, (x + wide / 2, top + BAR / 2 + SMALL * 0.35), size=SMALL,
                  anchor="middle", shade=shade or ink.INK)  # fmt: skip
        x += wide
    write(group, money(account.per_piece), (x + 1.5, base), bold=True)
