"""Which tools to take along so that every operation finds one and the magazine holds them."""

from __future__ import annotations

from dataclasses import replace

from sequencer.ordering.model import Model, bits

#: Choices looked at before the best set found so far is taken.
CHOICE_LIMIT = 50_000


def lightest_tools(model: Model) -> tuple[int, int, bool]:
    """Find a set of tools of least weight that leaves every operation an alternative.

    Parameters
    ----------
    model
        The model.

    Returns
    -------
    tuple
        The set as a mask, its weight, and whether it is surely the lightest.
    """
    needs = sorted(
        {sum({1 << way.tool for way in ways}) for ways in model.ways if all(way.tool >= 0 for way in ways)},
        key=lambda mask: (mask.bit_count(), mask),
    )
    return _Choice(model.tool_weight, needs).run()


class _Choice:
    """Branch and bound: take one tool of the first operation that has none yet."""

    def __init__(self, weights: tuple[int, ...], needs: list[int]) -> None:
        self._weights = weights
        self._needs = needs
        self._best = (0, 1 << 62)
        self._seen = 0

    def run(self) -> tuple[int, int, bool]:
        self._branch(0, 0, 0)
        return (*self._best, self._seen <= CHOICE_LIMIT)

    def _branch(self, taken: int, barred: int, weight: int) -> None:
        self._seen += 1
        if weight >= self._best[1] or (self._seen > CHOICE_LIMIT and self._best[0]):
            return
        open_needs = [need & ~barred for need in self._needs if not need & taken]
        if not open_needs:
            self._best = (taken, weight)
            return
        if not all(open_needs) or weight + self._still(open_needs) >= self._best[1]:
            return
        first = min(open_needs, key=lambda need: (need.bit_count(), need))
        useful = {tool: sum(need >> tool & 1 for need in open_needs) for tool in bits(first)}
        for tool in sorted(useful, key=lambda tool: (self._weights[tool] / useful[tool], tool)):
            self._branch(taken | 1 << tool, barred, weight + self._weights[tool])
            barred |= 1 << tool

    def _still(self, open_needs: list[int]) -> int:
        """Least weight that operations without a tool in common must add."""
        total = covered = 0
        for need in sorted(open_needs, key=lambda need: (need.bit_count(), need)):
            if not need & covered:
                covered |= need
                total += min(self._weights[tool] for tool in bits(need))
        return total


def with_tools(model: Model, tools: int) -> Model:
    """Leave only the alternatives whose tools are taken along.

    Parameters
    ----------
    model
        The model.
    tools
        Mask of the tools.
    """
    ways = tuple(tuple(way for way in of_op if way.tool < 0 or tools >> way.tool & 1) for of_op in model.ways)
    return replace(model, ways=ways)
