"""Values by symbol, and the lines that are made from them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from sequencer.datasheet.formulas import FORMULAS
from sequencer.datasheet.symbols import GIVEN
from sequencer.operations.operation import Fact

#: Units of all symbols.
UNITS: Final[dict[str, str]] = {
    **{formula.symbol: formula.unit for formula in FORMULAS.values()},
    **{symbol: meant.unit for symbol, meant in GIVEN.items()},
}


@dataclass(frozen=True)
class Values:
    """Values by symbol.

    Parameters
    ----------
    by_symbol
        The values, in the units of the symbols.
    straight
        Whether the teeth are straight: their formulas have no helix.
    """

    by_symbol: Mapping[str, float]
    straight: bool = False

    def fact(self, key: str, name: str = "", *, estimate: bool = False) -> Fact:
        """Give a number with its formula.

        Parameters
        ----------
        key
            Key of the formula.
        name
            Another name for it; empty for that of the formula.
        estimate
            Whether it rests on something assumed.
        """
        made = FORMULAS[key].fact(self.by_symbol, UNITS, straight=self.straight, estimate=estimate)
        if not name:
            return made
        return Fact(name, made.value, made.unit, made.formula, made.source, made.estimate)

    def facts(self, keys: Iterable[str]) -> tuple[Fact, ...]:
        """Give several numbers.

        Parameters
        ----------
        keys
            Keys of the formulas, in the order of the sheet.
        """
        return tuple(self.fact(key) for key in keys)

    def given(self, symbol: str, name: str, source: str, *, estimate: bool = False) -> Fact:
        """Give a number that nothing was computed for.

        Parameters
        ----------
        symbol
            Its symbol.
        name
            What it is.
        source
            Who gave it.
        estimate
            Whether it was assumed.
        """
        return Fact(name, self.by_symbol[symbol], UNITS[symbol], "", source, estimate)

    def and_more(self, more: Mapping[str, float]) -> Values:
        """Give these values with more of them.

        Parameters
        ----------
        more
            Further values by symbol; they win.
        """
        return Values({**self.by_symbol, **more}, self.straight)
