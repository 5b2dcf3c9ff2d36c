"""Rates, prices, risks and lots that an account rests on, each with whether it was given."""

from __future__ import annotations

from dataclasses import dataclass

from sequencer.operations import OperationList
from sequencer.part.section import make_section
from sequencer.shop import Risks


@dataclass(frozen=True)
class Assumptions:
    """What an account rests on; a driver is one of these changed.

    Parameters
    ----------
    currency
        Currency.
    machine_hour, setup_hour, inspection_hour, programming_hour
        Rates per hour.
    marginal_machine_hour
        Part of the machine's rate that falls away when work is sent out.
    lost_hour
        Contribution lost for each hour on a bottleneck.
    blank
        Price of a blank; None if it is not priced.
    blank_words
        Where that price comes from.
    blank_guessed, risks_guessed, effort_guessed
        Whether these are estimates of the program.
    risks
        How often steps scrap the part.
    lot, series
        Pieces of the lot and of the series.
    programmed
        True for a repeat order.
    life_factor, outside_factor, risk_factor, time_factor, effort_factor
        Factors on tool lives, prices from outside, risks, times of steps, and set-up and programming.
    """

    currency: str
    machine_hour: float
    setup_hour: float
    inspection_hour: float
    programming_hour: float
    marginal_machine_hour: float
    lost_hour: float
    blank: float | None
    blank_words: str
    blank_guessed: bool
    risks: Risks
    risks_guessed: bool
    effort_guessed: bool
    lot: float
    series: float
    programmed: bool
    life_factor: float = 1.0
    outside_factor: float = 1.0
    risk_factor: float = 1.0
    time_factor: float = 1.0
    effort_factor: float = 1.0


def assumptions_of(operations: OperationList) -> Assumptions:
    """Collect what part and shop say about money.

    Parameters
    ----------
    operations
        Operations with part and shop.
    """
    part, shop = operations.part, operations.shop
    rates = shop.rates
    blank, words, guessed = _blank(operations)
    return Assumptions(
        currency=rates.currency,
        machine_hour=rates.machine_hour,
        setup_hour=rates.setup_hour,
        inspection_hour=rates.inspection_hour,
        programming_hour=rates.programming_hour or rates.setup_hour,
        marginal_machine_hour=rates.marginal_machine_hour or rates.machine_hour,
        lost_hour=rates.lost_hour,
        blank=blank,
        blank_words=words,
        blank_guessed=guessed,
        risks=shop.risks,
        risks_guessed=not {"rough", "finish", "teeth"} <= shop.risks.model_fields_set,
        effort_guessed=not {"programming", "programming_teeth"} <= shop.effort.model_fields_set,
        lot=part.lot,
        series=max(part.money.series or part.lot, part.lot),
        programmed=part.money.programmed,
    )


def _blank(operations: OperationList) -> tuple[float | None, str, bool]:
    """Price of a blank: given, by its mass, or none."""
    part, shop = operations.part, operations.shop
    if part.money.blank is not None:
        return part.money.blank, "part file, price of one blank", False
    material = next((each for each in shop.materials if each.name == part.material), None)
    if material is None or material.price_per_kg is None:
        return None, "not priced: give money, blank in the part file or price_per_kg of the material", True
    weighed = part.blank.mass is not None
    mass = (
        float(part.blank.mass)
        if part.blank.mass is not None
        else make_section(part).stock_mass(material.density)
    )
    price = mass * material.price_per_kg
    return price, f"m p = {mass:.1f} kg*{material.price_per_kg:g} = {price:.2f}", not weighed
