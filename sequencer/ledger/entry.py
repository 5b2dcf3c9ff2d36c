"""The ledger: each toleranced relation with the chain that made it and what uses it up."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.errors import Finding
from sequencer.ledger.transfer import StockStage, Transfer
from sequencer.tolerancing import Budget, Cause, Verdict
from sequencer.units import Micrometre


@dataclass(frozen=True)
class ChainLink:
    """One surface of the chain of a relation.

    Parameters
    ----------
    surface
        The surface; "blank" for raw skin.
    role
        What it does: "toleranced", "datum", or what shows or carries it on the way.
    operation
        Operation that makes it; empty for raw skin.
    step
        Number of that step; 0 for raw skin.
    clamping
        Where it is made.
    visit
        Clamping visit in which it is made; 0 on the bench or for raw skin.
    """

    surface: str
    role: str
    operation: str
    step: int
    clamping: str
    visit: int


@dataclass(frozen=True)
class LedgerEntry:
    """A toleranced relation in this order.

    Parameters
    ----------
    budget
        The relation with its shares.
    chain
        Surfaces and clampings from the toleranced surface to its datums.
    """

    budget: Budget
    chain: tuple[ChainLink, ...]

    @property
    def name(self) -> str:
        """Words of the relation."""
        return self.budget.relation.words

    @property
    def feature(self) -> str:
        """Feature that carries the tolerance."""
        return self.budget.relation.feature

    @property
    def allowance(self) -> Micrometre:
        """Allowance [um]."""
        return self.budget.relation.allowance

    @property
    def verdict(self) -> Verdict:
        """Whether it holds."""
        return self.budget.verdict

    @property
    def clampings(self) -> tuple[str, ...]:
        """Clampings in which its surfaces are made, in the order of the chain."""
        made = (
            link.clamping for link in self.chain if link.role in ("toleranced", "datum") and link.clamping
        )
        return tuple(dict.fromkeys(made))

    @property
    def crosses(self) -> bool:
        """Whether it crosses clampings."""
        return any(each.cause is Cause.RECLAMPING for each in self.budget.shares)

    @property
    def sentence(self) -> str:
        """The whole entry in words: budget, then the chain."""
        chain = ", ".join(
            f"{link.surface} {link.role}"
            + (f" ({link.operation}, {link.clamping})" if link.operation else "")
            for link in self.chain
        )
        return f"{self.budget.sentence}. Chain: {chain}."


@dataclass(frozen=True)
class Ledger:
    """How the tolerances of a part are used up.

    Parameters
    ----------
    entries
        One for each toleranced relation, in file order.
    transfers
        Process dimensions of faces that are cut in another clamping than their datum.
    stock
        Stock that each stage of each surface meets and leaves.
    findings
        What does not hold.
    """

    entries: tuple[LedgerEntry, ...]
    transfers: tuple[Transfer, ...]
    stock: tuple[StockStage, ...]
    findings: tuple[Finding, ...]

    def of(self, feature: str) -> tuple[LedgerEntry, ...]:
        """Entries of one feature.

        Parameters
        ----------
        feature
            Its name.
        """
        return tuple(each for each in self.entries if each.feature == feature)
