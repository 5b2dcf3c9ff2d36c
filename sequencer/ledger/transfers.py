"""Tolerance transfer: process dimensions for faces that are cut in another clamping than their datum."""

from __future__ import annotations

from collections.abc import Iterator

from sequencer.errors import Finding, Severity
from sequencer.ledger.bearings import Bearings
from sequencer.ledger.transfer import ProcessDimension, Transfer
from sequencer.operations import Fact
from sequencer.operations.closeness import width_of
from sequencer.part import BLANK
from sequencer.part.turned import Face
from sequencer.sequencing import Step
from sequencer.tolerancing import shop_values
from sequencer.tolerancing.listing import middle_of
from sequencer.units import shown


def transfers_of(bearings: Bearings) -> tuple[Transfer, ...]:
    """Give the dimensions of the drawing that close a chain of process dimensions.

    A face counts from its datum face, else from the lower finished face. A dimension that a clamping works to
    directly, from a face cut with it or from its seat, is no transfer.

    Source: tolerance chart practice: the closing dimension carries the sum of the working tolerances; common
    to all handbooks, from memory. What the drawing allows is dealt out as the links are hard to reach.

    Parameters
    ----------
    bearings
        The visits and what each takes its bearings from.
    """
    part = bearings.course.operations.part
    found = (_transfer(bearings, face) for face in part.features if isinstance(face, Face))
    return tuple(each for each in found if each is not None)


def datum_face(bearings: Bearings, face: Face) -> str:
    """Give the face that a face counts from; empty if it is the one that all count from.

    Source: derived

    Parameters
    ----------
    bearings
        The visits.
    face
        The face.
    """
    part = bearings.course.operations.part
    for letter in face.datums:
        name = part.datums.get(letter, letter)
        if isinstance(part.by_name.get(name), Face) and name != face.name:
            return name
    lower = bearings.course.context.section.lower_face
    return lower if lower != face.name else ""


def _transfer(bearings: Bearings, face: Face) -> Transfer | None:
    datum = datum_face(bearings, face)
    ways = tuple(_ways(bearings, face.name, datum, ())) if datum else ()
    if len(ways) < 2:
        return None
    tolerance = _tolerance(bearings, face)
    reached = sum(each.reached.value for each in ways)
    dealt = tuple(
        ProcessDimension(
            each.first, each.second, each.nominal, tolerance.value * each.reached.value / reached,
            each.reached, each.clamping, each.operation,
        )
        for each in ways
    )  # fmt: skip
    dimension = abs(middle_of(bearings.course.context, face.name) - middle_of(bearings.course.context, datum))
    made = Transfer(face.name, datum, dimension, tolerance, dealt)
    return made if made.rss <= tolerance.value else _with_finding(made)


def _with_finding(made: Transfer) -> Transfer:
    chain = " and ".join(f"{each.first} from {each.second} in {each.clamping}" for each in made.chain)
    finding = Finding(
        Severity.WARNING,
        made.face,
        f"its distance from {made.datum} closes the chain {chain}: {shown(made.rss, 1)} um root-sum-square, "
        f"{shown(made.worst, 1)} um at worst",
        f"{shown(made.tolerance.value, 1)} um allowed to either side",
        f"cut {made.face} and {made.datum} in one clamping, or stand the part on {made.datum}",
        "ledger",
    )
    return Transfer(made.face, made.datum, made.dimension, made.tolerance, made.chain, finding)


def _tolerance(bearings: Bearings, face: Face) -> Fact:
    general = 1000 * float(bearings.course.operations.shop.general_tolerance)
    if face.tolerance is None:
        return Fact("half of the general tolerance", general, "um", "", "shop file, general_tolerance")
    width = width_of(face.tolerance, abs(float(face.z)) or 1.0)
    if width is None:
        return Fact("half of the general tolerance", general, "um", "", "shop file, general_tolerance")
    formula = f"T/2 = {shown(width, 1)} um/2 = {shown(width / 2, 1)} um"
    return Fact("half of the tolerance of z", width / 2, "um", formula, "part file")


def _ways(bearings: Bearings, first: str, second: str, gone: tuple[str, ...]) -> Iterator[ProcessDimension]:
    """Process dimensions from one face to another: direct, or over the seat of the later clamping."""
    one, two = bearings.course.making(first), bearings.course.making(second)
    if one is None or two is None or not one.visit or not two.visit:
        return
    later, earlier = (first, second) if one.visit >= two.visit else (second, first)
    step = one if later == first else two
    seat = bearings.face[step.visit].feature
    if one.visit == two.visit or seat in (earlier, BLANK) or seat in gone:
        yield _dimension(bearings, later, earlier, step, anew=one.visit != two.visit)
        return
    yield _dimension(bearings, later, seat, step, anew=True)
    yield from _ways(bearings, seat, earlier, (*gone, seat))


def _dimension(bearings: Bearings, face: str, zero: str, step: Step, *, anew: bool) -> ProcessDimension:
    """A dimension takes the positioning of Z, a zero that is probed anew, and the growth of its length."""
    context = bearings.course.context
    nominal = abs(middle_of(context, face) - middle_of(context, zero))
    axis, probed = shop_values.linear_z(context.shop), shop_values.height_zero(context.shop)
    warm = shop_values.temperature_difference(context.shop, False)
    growth = context.material.expansion * nominal / 1000 * warm.value
    value = axis.value + (probed.value if anew else 0.0) + growth
    terms = [f"{shown(axis.value, 2)} Z", *([f"{shown(probed.value, 2)} new zero"] if anew else [])]
    formula = f"{' + '.join(terms)} + {shown(growth, 2)} warmth = {shown(value, 2)} um"
    estimate = axis.estimate or warm.estimate or (anew and probed.estimate)
    fact = Fact("reached", value, "um", formula, f"shop file, {axis.place}, {warm.place}", estimate)
    name, how = step.operation.name, step.alternative.clamping
    return ProcessDimension(face, zero, nominal, 0.0, fact, how, name)
