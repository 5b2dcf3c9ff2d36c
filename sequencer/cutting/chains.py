"""Chains of tolerances: worst case and root-sum-square."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sequencer.cutting._ranges import finite, not_negative
from sequencer.errors import OutOfRange
from sequencer.units import Mm


@dataclass(frozen=True)
class Link:
    """One link of a chain.

    Parameters
    ----------
    nominal
        Nominal size [mm].
    tolerance
        Half of the tolerance zone: the size is nominal plus or minus this [mm].
    sense
        How the result changes with the link: usually +1 or -1 [-].
    """

    nominal: Mm
    tolerance: Mm
    sense: float = 1.0

    def __post_init__(self) -> None:
        finite("chain link", nominal=self.nominal, sense=self.sense)
        not_negative("chain link", tolerance=self.tolerance)


def closing_size(links: tuple[Link, ...]) -> Mm:
    """Nominal size that a chain closes with, the signed sum of its links.

    Source: tolerance chart practice; common to all handbooks, from memory.

    Parameters
    ----------
    links
        Links of the chain [mm].

    Raises
    ------
    OutOfRange
        When the chain has no link.
    """
    _check(links)
    return math.fsum(link.sense * link.nominal for link in links)


def worst_case(links: tuple[Link, ...]) -> Mm:
    """Tolerance of the closing size when all links lie at their limits, sum |c t|.

    Source: tolerance chart practice; common to all handbooks, from memory.

    Parameters
    ----------
    links
        Links of the chain [mm].

    Raises
    ------
    OutOfRange
        When the chain has no link.
    """
    _check(links)
    return math.fsum(abs(link.sense) * link.tolerance for link in links)


def root_sum_square(links: tuple[Link, ...]) -> Mm:
    """Tolerance of the closing size when the links vary independently, sqrt(sum (c t)^2).

    Source: statistics of independent sizes; common to all handbooks, from memory.

    Parameters
    ----------
    links
        Links of the chain [mm].

    Raises
    ------
    OutOfRange
        When the chain has no link.
    """
    _check(links)
    return math.sqrt(math.fsum((link.sense * link.tolerance) ** 2 for link in links))


def stock_range(links: tuple[Link, ...]) -> tuple[Mm, Mm]:
    """Least and greatest stock that a cut meets, closing size minus and plus the worst case.

    Source: tolerance chart practice; common to all handbooks, from memory.

    Parameters
    ----------
    links
        Links of the chain that closes with the stock [mm].

    Raises
    ------
    OutOfRange
        When the chain has no link.
    """
    size, spread = closing_size(links), worst_case(links)
    return size - spread, size + spread


def _check(links: tuple[Link, ...]) -> None:
    if not links:
        raise OutOfRange(
            "the chain has no link", where="tolerance chain", limit="one or more", remedy="Give its links"
        )
