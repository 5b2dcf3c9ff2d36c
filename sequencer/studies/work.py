"""One variant planned from the start; this is what the workers run."""

from __future__ import annotations

from typing import Any

from sequencer.errors import BadFile, ProofBroken, SequencerError
from sequencer.studies.keypath import changed


def plan_cases(payload: dict[str, Any]) -> list[dict[str, Any]]:
    """Plan some variants and give a row for each; plain values in and out, so that any worker can do it.

    Parameters
    ----------
    payload
        "base" with part and shop values, "aim", "seconds", and "cases": number, name and changes.
    """
    return [_row(payload, case) for case in payload["cases"]]


def _row(payload: dict[str, Any], case: dict[str, Any]) -> dict[str, Any]:
    row: dict[str, Any] = {"number": case["number"], "name": case["name"], "changes": case["changes"]}
    try:
        return row | {"status": "planned", "message": ""} | _planned(payload, case)
    except BadFile as error:
        return row | {"status": "refused", "message": _flat(str(error))}
    except ProofBroken as error:
        return row | {"status": "program fault", "message": _flat(str(error))}
    except SequencerError as error:
        return row | {"status": "no plan", "message": _flat(str(error))}
    except Exception as error:
        # One variant that trips the program must not end a night of others; it is told in its row.
        message = f"{type(error).__name__}: {error}; please report it with the study"
        return row | {"status": "program fault", "message": _flat(message)}


def _flat(text: str) -> str:
    return " ".join(text.split())


def _planned(payload: dict[str, Any], case: dict[str, Any]) -> dict[str, Any]:
    from sequencer.differences import outline_of
    from sequencer.files.load import part_and_shop_from_values
    from sequencer.plan import make_plan

    values = changed(payload["base"], case["changes"])
    part, shop = part_and_shop_from_values(values["part"], values["shop"])
    plan = make_plan(part, shop, aim=payload["aim"], seconds=payload["seconds"])
    sequence, costing = plan.sequence, plan.costing
    return {
        "proven": sequence.proven,
        "clampings": sequence.clampings,
        "tool_changes": sequence.count("tool change"),
        "mode_changes": sequence.count("mode change"),
        "machine_minutes": _figures(costing.times.machine_minutes),
        "lot_hours": _figures(costing.times.lot_minutes.value / 60),
        "pockets": plan.magazine.needed,
        "classes": _classes(plan),
        "methods": _methods(plan),
        "cost": _figures(costing.account.per_piece),
        "currency": costing.account.currency,
        "lead_days": _figures(costing.lead_days),
        "make_or_buy": costing.advice.sentence,
        "errors": sum(1 for finding in plan.weighty if finding.severity == "error"),
        "warnings": sum(1 for finding in plan.weighty if finding.severity == "warning"),
        "outline": outline_of(plan).as_dict(),
    }


def _figures(value: float) -> float:
    return float(f"{value:.12g}")


def _methods(plan: Any) -> str:
    """Method of each tooth system."""
    found: dict[str, dict[str, None]] = {}
    for step in plan.sequence.steps:
        if step.operation.action == "cut teeth":
            found.setdefault(step.operation.feature, {})[step.alternative.method] = None
    return "; ".join(f"{name}: {' + '.join(methods)}" for name, methods in found.items())


def _classes(plan: Any) -> str:
    """Flank class that is reached, and the one that is asked, of each tooth system."""
    reached: dict[str, float] = {}
    for step in plan.sequence.steps:
        for fact in step.alternative.facts:
            if fact.name == "flank class reachable":
                name = step.operation.feature
                reached[name] = max(reached.get(name, 0.0), fact.value)
    words = []
    for name, value in reached.items():
        asked = getattr(plan.part.by_name.get(name), "flank_class", None)
        words.append(f"{name}: {value:g}" + (f" (asked {asked.number})" if asked is not None else ""))
    return "; ".join(words)
