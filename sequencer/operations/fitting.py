"""Clampings fitted to the means of a shop: mass, table speed and reach of each."""

from __future__ import annotations

from sequencer.errors import Finding, Severity
from sequencer.operations.means import choose_means, table_findings
from sequencer.operations.operation import FittedClamping, Reach
from sequencer.operations.reach import reach_of
from sequencer.operations.standing import Standing
from sequencer.operations.table_speed import fastest
from sequencer.part import AnyFeature, Clamping, Part
from sequencer.part.section import Section
from sequencer.part.stages import Made, StageBody
from sequencer.shop import Shop

STEEL_DENSITY = 7.85

Fitted = tuple[tuple[FittedClamping, ...], tuple[Finding, ...]]


def fit(
    part: Part, shop: Shop, section: Section, clampings: tuple[Clamping, ...], *, proposed: bool
) -> Fitted:
    """Fit clampings to the means of a shop; one that nothing holds is left out and gives an error.

    Parameters
    ----------
    part, shop, section
        Part, shop and half-section.
    clampings
        The clampings, in order.
    proposed
        True if the planner did not give them.
    """
    findings: list[Finding] = []
    reaches = [_reaches(Standing(part, shop, section, clamping), part) for clamping in clampings]
    fitted: list[FittedClamping] = []
    for index, clamping in enumerate(clampings):
        body = _body_of(part, section, reaches, index)
        one, found = fit_one(Standing(part, shop, section, clamping), reaches[index], body, proposed)
        findings += found
        if one is not None:
            fitted.append(one)
    return tuple(fitted), tuple(findings)


def _reaches(standing: Standing, part: Part) -> tuple[Reach, ...]:
    return tuple(reach_of(standing, feature) for feature in part.features)


def fit_one(
    standing: Standing, reach: tuple[Reach, ...], body: StageBody, proposed: bool
) -> tuple[FittedClamping | None, tuple[Finding, ...]]:
    """Fit one clamping to the means of a shop; None if nothing holds it.

    Parameters
    ----------
    standing
        The part in the clamping.
    reach
        One answer a feature.
    body
        The part as it is clamped.
    proposed
        True if the planner did not give it.
    """
    missing = _unknown_names(standing.part, standing.clamping)
    if missing:
        return None, missing
    means, findings = choose_means(standing)
    if means is None:
        return None, findings
    density = density_in(standing.part, standing.shop)
    mass, inertia = body.mass(density), body.inertia(density)
    findings += table_findings(standing, means, mass, inertia)
    cap = fastest(standing, means, mass)
    fitted = FittedClamping(standing.clamping, means, reach, proposed, cap.rpm, cap.reason, mass, inertia)
    return fitted, findings


def _unknown_names(part: Part, clamping: Clamping) -> tuple[Finding, ...]:
    known = {*part.by_name, "blank"}
    return tuple(
        Finding(
            Severity.ERROR,
            f"clamping {clamping.name}",
            f"{key} names {name}, which is no feature of the part",
            "",
            "name a feature, or blank for the raw surface",
            "clamping",
        )
        for key, name in (("on", clamping.on), ("rests_on", clamping.rests_on))
        if name not in known
    )


def _body_of(part: Part, section: Section, reaches: list[tuple[Reach, ...]], index: int) -> StageBody:
    """The part at the start of a clamping at its heaviest: with only what earlier clampings surely made."""
    return StageBody(section, {feature.name: Made() for feature in _surely_done(part, reaches, index)})


def density_in(part: Part, shop: Shop) -> float:
    """Density of the part's material, that of steel if the shop does not know it [kg/dm3].

    Source: shop file; for steel from memory of handbooks

    Parameters
    ----------
    part, shop
        Part and shop.
    """
    return next((m.density for m in shop.materials if m.name == part.material), STEEL_DENSITY)


def _surely_done(part: Part, reaches: list[tuple[Reach, ...]], index: int) -> list[AnyFeature]:
    later = {answer.feature for answers in reaches[index:] for answer in answers if answer.reachable}
    earlier = {answer.feature for answers in reaches[:index] for answer in answers if answer.reachable}
    return [feature for feature in part.features if feature.name in earlier - later]
