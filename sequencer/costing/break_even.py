"""The lot at which making and buying cost the same."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.units import shown


@dataclass(frozen=True)
class BreakEven:
    """From which lot, or up to which, making is cheaper.

    Parameters
    ----------
    pieces
        Q*; None where one of the two is always cheaper.
    above
        True if making is cheaper above Q*.
    words
        What holds, with the numbers.
    """

    pieces: float | None
    above: bool
    words: str


def break_even(fixed_make: float, piece_make: float, fixed_buy: float, piece_buy: float) -> BreakEven:
    """Give the lot at which making and buying cost the same: Q* = (Fm - Fb)/(vb - vm).

    Source: break-even analysis of two alternatives, M. P. Groover, Fundamentals of Modern Manufacturing (from
    memory)

    Parameters
    ----------
    fixed_make, fixed_buy
        Cost that does not depend on the number of pieces.
    piece_make, piece_buy
        Cost of each further piece.
    """
    fixed, piece = fixed_make - fixed_buy, piece_buy - piece_make
    numbers = (
        f"Q* = (Fm - Fb)/(vb - vm) = ({shown(fixed_make, 2)} - {shown(fixed_buy, 2)})/"
        f"({shown(piece_buy, 2)} - {shown(piece_make, 2)})"
    )
    if fixed == 0 and piece == 0:
        return BreakEven(None, True, "both cost the same for every lot")
    if piece == 0 or fixed / piece <= 0:
        making = piece > 0 or (piece == 0 and fixed < 0)
        words = f"no break-even: {'making' if making else 'buying'} is cheaper for every lot; {numbers}"
        return BreakEven(None, making, words)
    pieces = fixed / piece
    side = "from" if piece > 0 else "below"
    return BreakEven(pieces, piece > 0, f"{numbers} = {shown(pieces, 2)}; making is cheaper {side} that lot")
