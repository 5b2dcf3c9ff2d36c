"""Datums from clamping to clamping, and the ledger: how each tolerance is used up in this order."""

from sequencer.ledger.datum import Datum, DatumTable, DatumUse, SetupDatums, Target, Truth
from sequencer.ledger.entry import ChainLink, Ledger, LedgerEntry
from sequencer.ledger.make import make_ledger
from sequencer.ledger.make_datums import make_datums
from sequencer.ledger.transfer import StockStage, Transfer

__all__ = [
    "ChainLink",
    "Datum",
    "DatumTable",
    "DatumUse",
    "Ledger",
    "LedgerEntry",
    "SetupDatums",
    "StockStage",
    "Target",
    "Transfer",
    "Truth",
    "make_datums",
    "make_ledger",
]
