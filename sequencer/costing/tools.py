"""What tools cost: lives used by one piece, price of a life, tools that must be bought."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sequencer.magazine import MagazineTable
from sequencer.operations import Alternative, Fact
from sequencer.shop import AnyTool, Shop
from sequencer.units import shown


@dataclass(frozen=True)
class ToolCost:
    """What one tool costs.

    Parameters
    ----------
    tool
        Name of the tool.
    lives
        Lives of an edge that one piece uses up.
    life
        Price of one life: the share of the tool and of its renewals.
    bought
        Tools that must be bought before the first piece.
    price
        Price of one tool; 0 if not priced.
    uses
        Lives of one tool until it is scrap.
    """

    tool: str
    lives: Fact
    life: Fact
    bought: int
    price: float
    uses: int

    @property
    def per_piece(self) -> float:
        """What one piece wears off."""
        return self.lives.value * self.life.value

    def sets(self, pieces: float) -> int:
        """Tools that must be bought for a number of pieces: none if the shop owns it.

        Parameters
        ----------
        pieces
            Pieces.
        """
        if not self.bought:
            return 0
        return max(self.bought, math.ceil(round(pieces * self.lives.value / self.uses, 9)))


def life_price(price: float, uses: int, renewal: float) -> float:
    """Price of one life of a tool that is renewed between its lives: (P + (u - 1) R)/u.

    Source: common practice, no source (the price of a cutting edge of a reground tool)

    Parameters
    ----------
    price
        Price of a new tool.
    uses
        Lives until it is scrap.
    renewal
        Price of a renewal: resharpening, or a fresh edge of an insert.
    """
    return (price + (uses - 1) * renewal) / uses


def lives_of(way: Alternative, tool: AnyTool, share: float) -> Fact:
    """Lives that one use of a tool takes, by minutes or by length of teeth.

    Parameters
    ----------
    way
        The alternative that uses it.
    tool
        The tool.
    share
        Share of a life that is planned.
    """
    if tool.life is not None and tool.life > 0:
        life = share * float(tool.life)
        lives = way.minutes / life
        words = f"t/(k T) = {shown(way.minutes, 2)}/({shown(share, 2)}*{tool.life.text}) = {shown(lives, 4)}"
        return Fact("lives", lives, "", words, "shop file, life of the tool")
    metres = next((fact.value for fact in way.facts if fact.name == "length of teeth cut"), None)
    if tool.life_length is not None and metres is not None:
        lives = metres / (share * float(tool.life_length) / 1000)
        words = (
            f"L/(k Lp) = {shown(metres, 2)} m/({shown(share, 2)}*{tool.life_length.text}) = {shown(lives, 4)}"
        )
        return Fact("lives", lives, "", words, "shop file, life of the tool")
    return Fact("lives", 0.0, "", "no life given: nothing is worn off", "shop file", True)


def tool_cost(
    name: str, ways: tuple[Alternative, ...], shop: Shop, loaded: int, life: float = 1.0
) -> ToolCost:
    """Give what a tool costs that some steps of one piece use.

    Parameters
    ----------
    name
        Name of the tool.
    ways
        The alternatives that use it.
    shop
        The shop.
    loaded
        Equal tools that are needed at once.
    life
        Factor on its life.
    """
    tool = shop.tool_by_name[name]
    each = [lives_of(way, tool, shop.limits.life_use * life) for way in ways]
    lives = math.fsum(fact.value for fact in each)
    words = (
        each[0].formula
        if len(each) == 1
        else f"{' + '.join(shown(f.value, 4) for f in each)} = {shown(lives, 4)}"
    )
    guess = any(fact.estimate for fact in each)
    bought = max(loaded, 1) if tool.owned == 0 else 0
    price = 0.0 if bought else tool.price
    value = life_price(price, tool.uses, tool.renewal_price)
    note = "bought for this part, its price counts once; " if bought else ""
    formula = (
        f"{note}(P + (u - 1) R)/u = ({shown(price, 2)} + {tool.uses - 1}*{shown(tool.renewal_price, 2)})/"
        f"{tool.uses} = {shown(value, 2)}"
    )
    return ToolCost(
        name,
        Fact("lives", lives, "", words, each[0].source, guess),
        Fact("price of a life", value, shop.rates.currency, formula, "shop file, tools", _guessed(tool)),
        bought,
        tool.price,
        tool.uses,
    )


def _guessed(tool: AnyTool) -> bool:
    """Whether the price of a life rests on what the shop file does not say."""
    return tool.price == 0 or "uses" not in tool.model_fields_set


def loaded_of(magazine: MagazineTable, name: str) -> int:
    """Equal tools that the magazine holds of one; 1 for a tool that it does not know.

    Parameters
    ----------
    magazine
        The magazine.
    name
        Name of the tool.
    """
    return next((use.loaded for use in magazine.uses if use.tool == name), 1)
