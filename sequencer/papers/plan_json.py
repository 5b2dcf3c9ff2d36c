"""A whole plan as JSON for other programs; `docs/plan.schema.json` describes it."""

from __future__ import annotations

import json
from dataclasses import asdict, fields, is_dataclass, replace
from enum import Enum
from math import isfinite
from typing import TYPE_CHECKING, Any, Final

from sequencer.errors import SequencerError
from sequencer.papers.costing_json import costing_dict
from sequencer.papers.ledger_json import datums_dict, inspection_dict, ledger_dict
from sequencer.sequencing import free_moves

if TYPE_CHECKING:
    from sequencer.operations import FittedClamping, Operation
    from sequencer.plan import Plan
    from sequencer.sequencing import Sequence, Step
    from sequencer.setups import SetUp

SCHEMA: Final = "sequencer plan"
VERSION: Final = 1


def plan_text(plan: Plan) -> str:
    """Write a plan as JSON text.

    Parameters
    ----------
    plan
        The plan.
    """
    return json.dumps(plan_dict(plan), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def costing_text(plan: Plan) -> str:
    """Give time and money alone as JSON text, the same as under `costing` in plan.json, with their findings.

    Parameters
    ----------
    plan
        The plan.
    """
    findings = [asdict(each) for each in plan.costing.findings]
    made = {"part": plan.part.name, "lot": plan.part.lot, **costing_dict(plan.costing), "findings": findings}
    return json.dumps(_plain(made), ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def plan_dict(plan: Plan) -> dict[str, Any]:
    """Give a plan as plain values: the part as written, all else in mm, deg, min, kg, rpm.

    Parameters
    ----------
    plan
        The plan.
    """
    return {
        "schema": SCHEMA,
        "version": VERSION,
        "part": plan.part.model_dump(mode="json", exclude_unset=True, by_alias=True),
        "shop": {"name": plan.shop.name, "machine": plan.shop.machine.name},
        "clampings": [_clamping(each) for each in plan.operations.clampings],
        "operations": [_operation(each) for each in plan.operations.operations],
        "dependencies": _plain([asdict(each) for each in plan.graph.dependencies]),
        "sequence": _sequence(plan.sequence),
        "free_to_move": _plain(
            [asdict(each) for each in free_moves(plan.operations, plan.graph, plan.sequence)]
        ),
        "least_clampings": _plain(plan.least),
        "set_ups": [_set_up(each) for each in plan.set_ups],
        "magazine": {
            "needed": plan.magazine.needed,
            "available": plan.magazine.available,
            "by_hand": list(plan.magazine.by_hand),
            "pockets": _plain([asdict(each) for each in plan.magazine.pockets]),
            "uses": _plain([asdict(each) for each in plan.magazine.uses]),
            "bound": plan.magazine.bound,
            "mass": _plain(plan.magazine.mass),
            "imbalance": _plain(plan.magazine.imbalance),
            "imbalance_bound": _plain(plan.magazine.imbalance_bound),
            "stops": _plain([asdict(each) for each in plan.magazine.stops]),
            "remedies": _plain([asdict(each) for each in plan.magazine.remedies]),
        },
        "costing": _plain(costing_dict(plan.costing)),
        "datums": _plain(datums_dict(plan.datums)),
        "ledger": _plain(ledger_dict(plan.ledger)),
        "inspection": _plain(inspection_dict(plan.inspection)),
        "findings": _plain([asdict(each) for each in plan.findings]),
    }


def read_plan(text: str, where: str = "plan") -> dict[str, Any]:
    """Read the JSON text of a plan back to plain values.

    Parameters
    ----------
    text
        The text.
    where
        Where it comes from, for messages.

    Raises
    ------
    SequencerError
        When it is no JSON, no plan, or a plan of another version.
    """
    try:
        read = json.loads(text)
    except json.JSONDecodeError as error:
        raise SequencerError(
            f"this is no JSON: {error.msg} in line {error.lineno}, column {error.colno}",
            where=where,
            remedy="give the plan.json that was written beside the route sheet",
        ) from error
    if not isinstance(read, dict) or read.get("schema") != SCHEMA:
        raise SequencerError(
            "this JSON is not a plan",
            where=where,
            limit=f'its key "schema" must be "{SCHEMA}"',
            remedy="give the plan.json that was written beside the route sheet",
        )
    if read.get("version") != VERSION:
        raise SequencerError(
            f"this plan has version {read.get('version')!r}",
            where=where,
            limit=f"this program reads version {VERSION}",
            remedy="plan the part again",
        )
    return read


def _plain(value: Any) -> Any:
    """Turn enums into words, tuples into lists, and a number without limit into null.

    Twelve figures are kept: the last ones of a sum differ from one version of Python to another.
    """
    if isinstance(value, Enum):
        return str(value.value)
    if is_dataclass(value) and not isinstance(value, type):
        return {field.name: _plain(getattr(value, field.name)) for field in fields(value)}
    if isinstance(value, dict):
        return {key: _plain(each) for key, each in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(each) for each in value]
    if isinstance(value, float):
        return float(f"{value:.12g}") if isfinite(value) else None
    return value


def _clamping(fitted: FittedClamping) -> dict[str, Any]:
    made: dict[str, Any] = {
        **fitted.clamping.model_dump(mode="json", exclude_unset=True),
        "means": fitted.means.name,
        "proposed": fitted.proposed,
        "table_speed": fitted.table_speed,
        "speed_reason": fitted.speed_reason,
        "mass": fitted.mass,
        "reach": [asdict(each) for each in fitted.reach],
    }
    plain: dict[str, Any] = _plain(made)
    return plain


def _set_up(set_up: SetUp) -> dict[str, Any]:
    made: dict[str, Any] = {field.name: getattr(set_up, field.name) for field in fields(set_up)}
    plain: dict[str, Any] = _plain({**made, "clamping": set_up.name})
    return plain


def _operation(operation: Operation) -> dict[str, Any]:
    ways = tuple(replace(each, run_out=()) for each in operation.alternatives)
    plain: dict[str, Any] = _plain(asdict(replace(operation, alternatives=ways)))
    for way in plain["alternatives"]:
        del way["run_out"]
    return plain


def _sequence(sequence: Sequence) -> dict[str, Any]:
    return {
        "objective": sequence.objective,
        "proven": sequence.proven,
        "sentence": sequence.sentence,
        "minutes": sequence.minutes,
        "levels": _plain([asdict(each) for each in sequence.levels]),
        "steps": [_step(each) for each in sequence.steps],
        "broken": _plain([asdict(each) for each in sequence.broken]),
        "ignored": list(sequence.ignored),
    }


def _step(step: Step) -> dict[str, Any]:
    how = step.alternative
    plain: dict[str, Any] = _plain(
        {
            "number": step.number,
            "operation": step.operation.name,
            "visit": step.visit,
            "clamping": how.clamping,
            "method": how.method,
            "tool": how.tool,
            "mode": how.mode,
            "start": step.start,
            "change_minutes": step.change_minutes,
            "own_minutes": how.minutes,
            "lead_time": how.lead_time,
            "changes": [asdict(each) for each in step.changes],
            "because": [asdict(each) for each in step.because],
        }
    )
    return plain
