"""Tells whether a model is a plain chain, and what its steps cost; needs nothing compiled."""

from __future__ import annotations

from sequencer.ordering.model import Model, Way


def is_chain(model: Model) -> bool:
    """Tell whether nothing but the neighbours and arrows matters.

    Parameters
    ----------
    model
        The model.
    """
    singles = all(len(ways) == 1 for ways in model.ways)
    alone = (*model.forbidden, *model.apart, *model.between, *model.soft, model.single_visit)
    linked = (*model.together, *model.zero_pairs, *model.waits, *model.pinned)
    bound = any(op >= 0 for op in (*model.follower, *model.leader))
    return singles and not any(alone) and not linked and not bound and _whole(model)


def _whole(model: Model) -> bool:
    """Whether every operation needs a tool, a mode and, if ways between places count, a place."""
    travels = bool(model.positioning or model.home)
    return all(
        way.tool >= 0 and way.mode >= 0 and (way.place >= 0 or not travels)
        for ways in model.ways
        for way in ways
    )


def between(model: Model, way: Way, then: Way) -> int:
    """Cost from an alternative to the next, its own cost left out.

    Parameters
    ----------
    model
        The model.
    way, then
        The alternatives.
    """
    cost = model.clamping_cost[way.clamping][then.clamping] + model.mode_cost[way.mode][then.mode]
    away = way.tool != then.tool or way.clamping != then.clamping
    if way.tool != then.tool:
        cost += model.tool_cost[then.tool]
    if away:
        return cost + (model.home[way.place] + model.home[then.place] if model.home else 0)
    return cost + (model.positioning[way.place][then.place] if model.positioning else 0)
