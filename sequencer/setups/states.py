"""How far each feature is before and after each clamping visit."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

from sequencer.operations import Action, Operation, OperationList, Stage
from sequencer.operations.standing import Standing
from sequencer.part import AnyFeature
from sequencer.part.section import Outline
from sequencer.part.solid import Solid
from sequencer.part.stages import Made, StageBody
from sequencer.part.surfaces import TOOTHED, place_of
from sequencer.part.turned import Bore
from sequencer.sequencing import Sequence, Step
from sequencer.setups.setup import PartState
from sequencer.shop import Shop
from sequencer.units import Mm

#: Density where the shop does not know the material [kg/dm3]; from memory of handbooks.
_STEEL: Final = 7.85


@dataclass(frozen=True)
class Visit:
    """One clamping visit with the state of all features at both ends.

    Parameters
    ----------
    number
        Number of the visit, from 1.
    name
        Name of the clamping.
    steps
        Its steps.
    before, after
        Features that are cut so far.
    """

    number: int
    name: str
    steps: tuple[Step, ...]
    before: dict[str, Made]
    after: dict[str, Made]


def visits_of(operations: OperationList, sequence: Sequence) -> Iterator[Visit]:
    """Give the visits of an order with the state of the features at both ends.

    Parameters
    ----------
    operations
        Operations of the part.
    sequence
        Their order.
    """
    made: dict[str, Made] = {}
    halves: dict[str, set[str]] = {}
    for name, steps in sequence.visits:
        before = dict(made)
        for step in steps:
            _cut(operations, step, made, halves)
        if steps[0].visit:
            yield Visit(steps[0].visit, name, steps, before, dict(made))


def _cut(operations: OperationList, step: Step, made: dict[str, Made], halves: dict[str, set[str]]) -> None:
    operation = step.operation
    feature = operations.part.by_name.get(operation.feature)
    if feature is None or not operation.cuts or operation.action is Action.DEBURR:
        return
    if operation.action is Action.DRILL and isinstance(feature, Bore):
        made[feature.name] = Made(_left_by_drill(operations.shop, step, feature))
        return
    before = made.get(feature.name)
    left = min(_left(operations.shop, operation, feature), before.left if before else float("inf"))
    if not isinstance(feature, TOOTHED):
        made[feature.name] = Made(left)
        return
    if operation.action not in (Action.CUT_TEETH, Action.THREAD, Action.SEND_OUT):
        made[feature.name] = Made(left, toothed=bool(before and before.toothed))
        return
    done = halves.setdefault(feature.name, set())
    done.add(operation.half)
    toothed = not operation.half or {"lower", "upper"} <= done
    made[feature.name] = replace(before or Made(0.0, toothed=False), toothed=toothed)


def _left(shop: Shop, operation: Operation, feature: AnyFeature) -> Mm:
    """Stock per side that an operation leaves on its feature [mm]."""
    if operation.stage is Stage.ROUGH and operation.action in (Action.TURN, Action.GROOVE):
        places = {"outside": shop.stock.turning, "inside": shop.stock.bore}
        return float(places.get(place_of(feature) or "", shop.stock.face))
    return float(shop.stock.grinding) if operation.stage is Stage.SEMI else 0.0


def _left_by_drill(shop: Shop, step: Step, bore: Bore) -> Mm:
    tool = next((tool for tool in shop.tools if tool.name == step.alternative.tool), None)
    drilled = float(getattr(tool, "diameter", 0.0))
    return max(0.0, (float(bore.diameter) - drilled) / 2)


def density_of(operations: OperationList) -> float:
    """Density of the part's material, that of steel if the shop does not know it [kg/dm3].

    Parameters
    ----------
    operations
        Operations of the part.
    """
    shop, part = operations.shop, operations.part
    return next((material.density for material in shop.materials if material.name == part.material), _STEEL)


def state_of(standing: Standing, body: StageBody, density: float) -> PartState:
    """Give mass, centre, inertia, unbalance and outline of the part as it stands.

    Parameters
    ----------
    standing
        The part in its clamping.
    body
        The part with what is cut so far.
    density
        Density [kg/dm3].
    """
    solid: Solid = body.solid
    unbalance = body.unbalance(density)
    drawing = body.outline
    return PartState(
        drawing=drawing,
        standing=tuple(_stood(standing, outline) for outline in drawing),
        mass=body.mass(density),
        centre=standing.above_table(solid.centre),
        centre_in_drawing=solid.centre,
        inertia=body.inertia(density),
        unbalance=unbalance.amount,
        unbalance_angle=unbalance.angle,
        unbalance_cause=unbalance.cause,
    )


def _stood(standing: Standing, outline: Outline) -> Outline:
    return tuple((standing.above_table(z), r) for z, r in outline)
