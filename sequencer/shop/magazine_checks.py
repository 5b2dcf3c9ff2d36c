"""Checks of the magazine: gaps, pockets and options that fit each other."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.part.fault import Fault
from sequencer.shop.magazine import Magazine
from sequencer.units import shown


def magazine_faults(magazine: Magazine) -> Iterator[Fault]:
    """Check gaps between strands and rows, narrow pockets and options.

    Source: derived

    Parameters
    ----------
    magazine
        The magazine.
    """
    need = magazine.diameter_full + magazine.clearance
    for key in ("strand_gap", "row_pitch"):
        gap = getattr(magazine, key)
        if gap is not None and gap < need - 1e-6:
            what = f"tools of diameter_full {magazine.diameter_full} touch those across {key} {gap}"
            limit = f"diameter_full and clearance {shown(need)} mm"
            yield Fault(("magazine", key), what, limit, f"correct {key} or diameter_full")
    if magazine.strand_gap is not None and magazine.strand_gap < magazine.pitch:
        what = f"strand_gap {magazine.strand_gap} is below pitch {magazine.pitch}"
        yield Fault(("magazine", "strand_gap"), what, "", "exchange or correct them")
    yield from _narrow(magazine)
    for at, option in enumerate(magazine.options):
        if option.pockets <= magazine.pockets:
            what = f"option {option.name!r} has {option.pockets} pockets, not more than now"
            limit = f"above {magazine.pockets}"
            yield Fault(("magazine", "options", at, "pockets"), what, limit, "name bigger magazines only")


def _narrow(magazine: Magazine) -> Iterator[Fault]:
    first: dict[int, int] = {}
    for at, narrow in enumerate(magazine.narrow_pockets):
        path = ("magazine", "narrow_pockets", at, "pocket")
        if narrow.pocket > magazine.pockets:
            limit = f"pockets 1 to {magazine.pockets}"
            yield Fault(path, f"there is no pocket {narrow.pocket}", limit, "correct the number")
        if narrow.pocket in first:
            limit = f"narrow_pockets[{first[narrow.pocket]}] has it already"
            yield Fault(path, f"pocket {narrow.pocket} is listed twice", limit, "keep one of the two")
        first.setdefault(narrow.pocket, at)
    closed = sum(1 for each in magazine.narrow_pockets if not each.diameter > 0)
    if closed + magazine.empty_for_exchange >= magazine.pockets:
        what = f"{closed} closed pockets and {magazine.empty_for_exchange} kept empty leave none for tools"
        yield Fault(("magazine", "narrow_pockets"), what, f"{magazine.pockets} pockets", "take some out")
