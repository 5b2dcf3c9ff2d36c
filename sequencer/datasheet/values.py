"""Values by symbol, and the lines that are made from them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from sequencer.datasheet.formula import Formula, bracketed
from sequencer.datasheet.formulas import FORMULAS
from sequencer.datasheet.symbols import GIVEN
from sequencer.operations.operation import Fact
from sequencer.units import shown

#: Units of all symbols.
UNITS: Final[dict[str, str]] = {
    **{formula.symbol: formula.unit for formula in FORMULAS.values()},
    **{symbol: meant.unit for symbol, meant in GIVEN.items()},
}


class _Texts(dict[str, str]):
    """Texts of numbers by symbol, each written once."""

    def __init__(self, by_symbol: Mapping[str, float], known: Values | None) -> None:
        super().__init__()
        self._by_symbol, self._known = by_symbol, known

    def __missing__(self, symbol: str) -> str:
        value, known = self._by_symbol[symbol], self._known
        if known is not None and known.by_symbol.get(symbol) == value:
            text = known.texts[symbol]
        else:
            text = bracketed(value, UNITS[symbol])
        self[symbol] = text
        return text


class Computed(Fact):
    """A number with a formula that is written when somebody reads it.

    Parameters
    ----------
    formula
        Its formula.
    values
        Values by symbol.
    name
        What it is.
    estimate
        Whether it rests on something assumed.
    rounded
        The number as its standard rounds it; None for the number itself.
    """

    def __init__(
        self, formula: Formula, values: Values, name: str, *, estimate: bool, rounded: float | None = None
    ) -> None:
        exact = values.by_symbol[formula.symbol]
        own = self.__dict__  # a frozen number; its formula is not written yet
        own["name"] = name
        own["value"] = exact if rounded is None else rounded
        own["unit"] = formula.unit
        own["source"] = formula.source
        own["estimate"] = estimate
        own["_parts"] = (formula, values, rounded)

    @property
    def formula(self) -> str:
        """Symbol = expression = numbers = value."""
        text: str | None = self.__dict__.get("_text")
        if text is None:
            formula, values, rounded = self.__dict__["_parts"]
            text = str(formula.text(values.texts, straight=values.straight))
            if rounded is not None:
                text = f"{text}, rounded {shown(rounded, 1)} {formula.unit}"
            self.__dict__["_text"] = text
        return text


@dataclass(frozen=True)
class Values:
    """Values by symbol.

    Parameters
    ----------
    by_symbol
        The values, in the units of the symbols.
    straight
        Whether the teeth are straight: their formulas have no helix.
    known
        The values that these add to; None for none.
    """

    by_symbol: Mapping[str, float]
    straight: bool = False
    known: Values | None = None

    def fact(self, key: str, name: str = "", *, estimate: bool = False, rounded: float | None = None) -> Fact:
        """Give a number with its formula.

        Parameters
        ----------
        key
            Key of the formula.
        name
            Another name for it; empty for that of the formula.
        estimate
            Whether it rests on something assumed.
        rounded
            The number as its standard rounds it; None for the number itself.
        """
        formula = FORMULAS[key]
        return Computed(formula, self, name or formula.name, estimate=estimate, rounded=rounded)

    @cached_property
    def texts(self) -> Mapping[str, str]:
        """Texts of the numbers by symbol, each written once."""
        return _Texts(self.by_symbol, self.known)

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
        return Values({**self.by_symbol, **more}, self.straight, self)
