"""What the planner must know of the operations: features without a way, wishes, stock, estimates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from sequencer.errors import Finding, Severity
from sequencer.operations.context import Context
from sequencer.operations.facts import mm
from sequencer.operations.hole_position import position_findings
from sequencer.operations.operation import BENCH, Operation, Rejection, Stage
from sequencer.operations.stock import NO_STOCK, surface_of
from sequencer.operations.turning import CLAMP_AGAIN
from sequencer.part import AnyFeature
from sequencer.part.turned import Bore, Face, Taper, TurnedDiameter

#: Words by which conditions say that they come from the shop's table.
STARTING_VALUES: Final = "starting values"

#: Ways that an error lists; the rest is in the table of methods.
LISTED: Final = 8


def operation_findings(context: Context, made: Sequence[Operation]) -> tuple[Finding, ...]:
    """Give errors for operations without a way, warnings for missing stock, notes for estimates.

    Parameters
    ----------
    context
        Part and shop.
    made
        Operations of all features.
    """
    return (
        *_without_a_way(context, made),
        *_without_stock(context),
        *_by_hand(made),
        *_not_clamped_again(made),
        *position_findings(context, made),
        *_estimates(made),
    )


def _without_a_way(context: Context, made: Iterable[Operation]) -> Iterator[Finding]:
    for operation in made:
        if operation.alternatives:
            continue
        feature = context.part.by_name[operation.feature]
        wish = _wish(context, feature)
        tries = _tries(operation.rejected)
        tried = "; ".join(tries[:LISTED])
        more = len(tries) - LISTED
        rest = f"; and {more} more ways, see the table of methods" if more > 0 else ""
        yield Finding(
            Severity.ERROR,
            operation.name,
            f"{wish}no way to do it: {tried or 'no tool of this kind in the shop'}{rest}",
            "",
            _remedy(feature, operation.rejected),
            "method",
        )


def _wish(context: Context, feature: AnyFeature) -> str:
    words = []
    if feature.tool is not None:
        tool = context.shop.tool_by_name.get(feature.tool)
        title = f"{tool.kind}, {tool.title}" if tool is not None else "not in the shop file"
        words.append(f"tool {feature.tool} ({title})")
    if feature.method is not None:
        words.append(feature.method)
    if feature.clamping is not None:
        words.append(f"clamping {feature.clamping}")
    return f"the planner asks for {' and '.join(words)}; " if words else ""


def _tries(rejected: Sequence[Rejection]) -> tuple[str, ...]:
    """One sentence for all tools that fail for the same reason."""
    tools: dict[tuple[str, str, str], list[str]] = {}
    for each in rejected:
        tools.setdefault((each.method, each.clamping, each.sentence.rstrip(".")), []).append(each.tool)
    return tuple(
        f"{method}{' ' if any(names) else ''}{', '.join(name for name in names if name)}"
        f"{f' in {clamping}' if clamping else ''}: {sentence}"
        for (method, clamping, sentence), names in tools.items()
    )


def _remedy(feature: AnyFeature, rejected: Sequence[Rejection]) -> str:
    """Nearest remedy: of a wish the tool's own, else of the first tool that has one, else a clamping."""
    if any(rejection.sentence.startswith("works, but the planner") for rejection in rejected):
        return "Drop the wish, or change the shop so that it works"
    wished = [each for each in rejected if feature.tool is not None and each.tool == feature.tool]
    nearest = _remedy_of_tools((*wished, *rejected))
    if nearest:
        return nearest
    if any(each.remedy == CLAMP_AGAIN for each in rejected):
        return CLAMP_AGAIN
    if any(not each.tool for each in rejected):
        return "Add a clamping in which it is free"
    return "Add a tool that makes it"


def _remedy_of_tools(rejected: Iterable[Rejection]) -> str:
    for each in rejected:
        if each.tool and each.remedy:
            return f"Nearest remedy: {each.remedy[:1].lower()}{each.remedy[1:]}"
    return ""


def _without_stock(context: Context) -> Iterator[Finding]:
    for feature in context.part.features:
        if isinstance(feature, Face | TurnedDiameter | Bore | Taper):
            surface = surface_of(context, feature)
            if surface.stock < NO_STOCK and surface.raw_outer > 0:
                yield Finding(
                    Severity.WARNING,
                    feature.name,
                    f"the blank leaves {mm(surface.stock)} to cut; one light cut is planned",
                    f"at least {mm(NO_STOCK)}",
                    "Check the size of the blank",
                    "stock",
                )


def _by_hand(made: Iterable[Operation]) -> Iterator[Finding]:
    """Warn of what no probe of the shop measures, with what stops the probes."""
    for operation in made:
        ways = operation.alternatives
        by_hand = bool(ways) and all(way.method.endswith("by hand") for way in ways)
        if operation.stage is Stage.MEASURE and by_hand and operation.rejected:
            yield Finding(
                Severity.WARNING,
                operation.name,
                f"measured by hand: {'; '.join(_tries(operation.rejected)[:LISTED])}",
                "",
                _remedy_of_tools(operation.rejected) or "Measure it on the independent instrument as well",
                "measuring",
            )


def _not_clamped_again(made: Iterable[Operation]) -> Iterator[Finding]:
    """Warn of hard finishing that is sent out only because no clamping is left after hardening."""
    for operation in made:
        wanting = [each for each in operation.rejected if each.remedy == CLAMP_AGAIN]
        if wanting and operation.clampings == (BENCH,):
            yield Finding(
                Severity.WARNING,
                operation.name,
                f"sent out: {'; '.join(each.sentence for each in wanting)}",
                "",
                CLAMP_AGAIN,
                "clamping",
            )


def _estimates(made: Iterable[Operation]) -> Iterator[Finding]:
    """One note a method: which operations use starting values of the shop's table."""
    used: dict[str, list[str]] = {}
    for operation in made:
        for alternative in operation.alternatives:
            for fact in alternative.facts:
                if fact.estimate and STARTING_VALUES in fact.source:
                    names = used.setdefault(alternative.method, [])
                    if operation.name not in names:
                        names.append(operation.name)
    for method, names in used.items():
        first = ", ".join(names[:4])
        rest = f" and {len(names) - 4} more" if len(names) > 4 else ""
        yield Finding(
            Severity.NOTE,
            method,
            f"cutting speed and feed are starting values of the shop file for {first}{rest}",
            "an estimate",
            "Give speed and feed of the tool in the shop file, or conditions of the feature in the part file",
            "estimate",
        )
