"""The least number of clampings of a part on this shop: proof, what forces each, what would avoid it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import Final

from sequencer.errors import Finding, NoPlan, SequencerError, Severity
from sequencer.operations import BENCH, OperationList, make_operations
from sequencer.operations.covering import Covering, Wanted
from sequencer.operations.layouts import Holder, Layout
from sequencer.operations.proposal import on_low_risers
from sequencer.part import Part
from sequencer.part.section import make_section
from sequencer.precedence.make import make_graph
from sequencer.precedence.together import bound_to_one_clamping
from sequencer.sequencing import Sequence, make_sequence, refuse_errors
from sequencer.setups.forcing import Forced, forced_by
from sequencer.setups.holds import layout_words
from sequencer.setups.remedies import remedies_of

#: Rows of fewer clampings that are planned in full before the search gives up.
_PLANNED: Final = 12

#: Time to look for an order in each of them [s].
_SECONDS: Final = 3.0


@dataclass(frozen=True)
class LeastClampings:
    """How few clampings the part needs on this shop.

    Parameters
    ----------
    number
        Least number that is known to do.
    planned
        Number of this plan.
    proven
        True if no row of fewer candidates makes what this plan makes on the machine.
    proven_over
        What the proof covers, in words.
    candidates
        Ways to hold the part that were considered.
    rows
        Rows of fewer clampings that were examined.
    forced
        For each clamping after the first: the features that force it and what would avoid it.
    fewer
        Clampings that would do with fewer than planned, in words; empty if the plan has the least.
    """

    number: int
    planned: int
    proven: bool
    proven_over: str
    candidates: int
    rows: int
    forced: tuple[Forced, ...]
    fewer: str

    @property
    def sentence(self) -> str:
        """The number with its proof, and what forces each further clamping, in one line."""
        proof = "proven" if self.proven else "not proven"
        forced = "; ".join(f"number {each.clamping} is forced by {_list(each.names)}" for each in self.forced)
        return f"{self.number}, {proof} over {self.proven_over}" + (f"; {forced}" if forced else "")


def least_clampings(operations: OperationList, sequence: Sequence, *, reasons: bool = True) -> LeastClampings:
    """Prove how few clampings cut what a plan cuts on the machine, and say what forces each.

    Every row of fewer clampings out of all candidates is examined: ways to hold the raw blank (jaws outside
    and inside, face plate) with either side up, then ways to hold what was made (bolts in circles for
    clamping, jaws on each bore and each diameter, raw bands that are never cut, face plate), each band long
    and short, on the highest riser that fits, which leaves most room; and the planner's own.

    Source: derived; exhaustive search, first by reach alone, which admits at least as much as all methods
    with all tools do, then by these

    Parameters
    ----------
    operations
        Operations of the plan.
    sequence
        Its order.
    reasons
        Whether to say what forces each clamping and what would avoid it, which takes most of the time.
    """
    part = _free(operations.part)
    given = tuple(fitted.clamping for fitted in operations.clampings)
    together = bound_to_one_clamping(operations)
    covering = Covering(Holder(part, operations.shop, make_section(part)), given, together)
    wanted = wanted_of(operations, sequence, covering)
    planned = sequence.clampings
    number, proven, fewer = planned, True, ""
    refusals: dict[int, str] = {}
    for count in range(1, planned):
        trial = _planned(part, operations, covering.layouts(wanted, count))
        if trial.layout is not None:
            number, fewer = count, layout_words(part, trial.layout)
            break
        proven, refusals[count] = proven and trial.complete, trial.refusal
    rows = covering.tried.sequences
    forced = tuple(
        forced_by(
            covering,
            wanted,
            clamping,
            lambda core, n: remedies_of(covering, wanted, core, n),
            refusals.get(clamping - 1, ""),
        )
        for clamping in range(2, number + 1)
        if wanted and reasons
    )
    words = f"{len(covering.candidates)} ways to hold it and {rows} rows of them with fewer clampings"
    if number == 1:
        words = "all numbers: there is no fewer than one"
    return LeastClampings(number, planned, proven, words, len(covering.candidates), rows, forced, fewer)


#: Rows of one length of which the simplest are tried, and how many of these are planned.
_SORTED: Final = 400
_TRIED: Final = 8

#: Most clampings of a row that is tried.
_LONGEST: Final = 4


def other_rows(operations: OperationList, most: int = _LONGEST) -> Iterator[Layout]:
    """Give further ways to hold a part whose planner gives no clampings, the shortest rows first.

    For parts whose first proposal cannot be put into an order, and where fewer clampings than proposed would
    do; simple rows come first: without face plates, with long grips, with low risers.

    Parameters
    ----------
    operations
        Operations in the clampings that were proposed.
    most
        Most clampings of a row.
    """
    part, shop = operations.part, operations.shop
    together = bound_to_one_clamping(operations)
    covering = Covering(Holder(_free(part), shop, make_section(part)), together=together)
    known = covering.cut_by(0).keys() if covering.candidates else ()
    wanted = tuple(
        Wanted(op.name, op.feature, op.hard)
        for op in operations.operations
        if op.name in known and op.cuts and op.clampings and BENCH not in op.clampings
    )
    for count in range(1, most + 1):
        rows = list(islice(covering.layouts(wanted, count), _SORTED))
        for row in sorted(rows, key=_plainness)[:_TRIED]:
            # Holes that are bolted through may need the room below them earlier than the merit sees.
            yield from dict.fromkeys((on_low_risers(covering.holder, row), row))


def _plainness(layout: Layout) -> tuple[int, float]:
    plates = sum(clamping.hold == "face plate" for clamping in layout.clampings)
    ends = [(c.z_from, c.z_to) for c in layout.clampings if c.z_from is not None and c.z_to is not None]
    return plates, -min((float(high) - float(low) for low, high in ends), default=0.0)


def _free(part: Part) -> Part:
    """The part without the planner's clampings, and without wishes that name them."""
    features = tuple(f.model_copy(update={"clamping": None}) for f in part.features)
    return part.model_copy(update={"clampings": (), "features": features})


def wanted_of(operations: OperationList, sequence: Sequence, covering: Covering) -> tuple[Wanted, ...]:
    """Give what a plan cuts on the machine, as far as the features themselves ask for it.

    Parameters
    ----------
    operations
        Operations of the plan.
    sequence
        Its order.
    covering
        The candidates; what none of them cuts by itself is left out, so that the proof stays sound.
    """
    cut = {
        step.operation.name: step.operation
        for step in sequence.steps
        if step.visit and step.operation.cuts and step.operation.feature in operations.part.by_name
    }
    indices = range(len(covering.candidates))
    return tuple(
        Wanted(op.name, op.feature, op.hard)
        for op in cut.values()
        if any(covering.cuts(index, op.name) for index in indices)
    )


@dataclass(frozen=True)
class _Trial:
    """What planning rows that could do gave: the one that works, or whether all were tried, and why not."""

    layout: Layout | None
    complete: bool
    refusal: str


def _planned(part: Part, operations: OperationList, layouts: Iterator[Layout]) -> _Trial:
    refusal = ""
    for place, layout in enumerate(layouts):
        if place == _PLANNED:
            return _Trial(None, False, refusal)
        said = refused(part, operations, layout)
        if not said:
            return _Trial(layout, True, "")
        refusal = refusal or said
    return _Trial(None, True, refusal)


def refused(part: Part, operations: OperationList, layout: Layout) -> str:
    """Why a part cannot be planned in clampings, with no more visits than these; empty if it can.

    Parameters
    ----------
    part
        The part without clampings.
    operations
        Operations of its plan, for the shop.
    layout
        The clampings.
    """
    try:
        made = make_operations(part.model_copy(update={"clampings": layout.clampings}), operations.shop)
        refuse_errors(made)
        found = make_sequence(made, make_graph(made), seconds=_SECONDS)
    except NoPlan as error:
        lines = "\n".join(error.conflicts).splitlines() or [str(error)]
        return " ".join(line.strip() for line in lines[:2])
    except SequencerError as error:
        return str(error)
    fits = found.clampings <= len(layout.clampings)
    return "" if fits else f"its order needs {found.clampings} visits"


def least_findings(least: LeastClampings) -> tuple[Finding, ...]:
    """Give what the planner must know about the number of clampings.

    Parameters
    ----------
    least
        The number with its proof.
    """
    found: list[Finding] = []
    if least.fewer:
        found.append(
            Finding(
                Severity.WARNING,
                "clampings",
                f"{least.planned} clampings are planned, {least.number} would do: {least.fewer}",
                least.proven_over,
                "write these clampings into the part file, or leave its clampings out",
                "clampings",
            )
        )
    found += [_of(forced, least) for forced in least.forced]
    return tuple(found)


def _of(forced: Forced, least: LeastClampings) -> Finding:
    """Tell what forces a clamping, with the cheapest change that avoids it."""
    proof = "" if least.proven else "not proven: not every row was planned in full; "
    best = next(iter(forced.remedies), None)
    remedy = (
        f"to do with {forced.clamping - 1}: {best.change}; {best.how}"
        if best is not None
        else f"tried in vain: {', '.join(forced.tried)}"
    )
    return Finding(
        Severity.NOTE,
        "clampings",
        f"clamping number {forced.clamping} is forced by {_list(forced.names)}: {forced.reason}",
        f"{proof}least number over {least.proven_over}",
        remedy,
        "clampings",
    )


def _list(names: Iterable[str]) -> str:
    listed = list(names)
    return listed[0] if len(listed) == 1 else f"{', '.join(listed[:-1])} and {listed[-1]}"
