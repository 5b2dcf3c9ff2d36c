"""The dependency diagram by features: all steps of a feature in one visit are one box."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape
from typing import TYPE_CHECKING

import graphviz

from sequencer.pictures import ink
from sequencer.pictures.arrows import Arrow, make_arrows
from sequencer.pictures.dependency_diagram import SIZE, SMALL, WIDE, dressed, new_graph
from sequencer.pictures.dot import render_dot
from sequencer.pictures.keys import feature_key
from sequencer.pictures.lettering import wrapped
from sequencer.pictures.rounding import number_words

if TYPE_CHECKING:
    from sequencer.plan import Plan
    from sequencer.sequencing import Sequence, Step


@dataclass(frozen=True)
class Box:
    """Steps of one feature in one visit.

    Parameters
    ----------
    lane
        Place of the visit, from 0.
    feature
        Name of the feature, of the clamping, or of the part.
    steps
        Its steps in order.
    """

    lane: int
    feature: str
    steps: tuple[Step, ...]


def boxes_of(sequence: Sequence, part: str) -> tuple[tuple[Box, ...], tuple[int, ...]]:
    """Give the boxes in the order of their first steps, and the box of each step by its place.

    Parameters
    ----------
    sequence
        The order.
    part
        Name of the part, for work on the whole of it.
    """
    steps: dict[tuple[int, str, int], list[Step]] = {}
    keys: list[tuple[int, str, int]] = []
    runs = 0
    for lane, (name, listed) in enumerate(sequence.visits):
        for step in listed:
            feature = step.operation.feature or part
            # What opens and what closes a visit are boxes of their own, or all arrows would run both ways.
            own = feature in (name, part)
            if own and not (keys and keys[-1][:2] == (lane, feature)):
                runs += 1
            keys.append((lane, feature, runs if own else 0))
            steps.setdefault(keys[-1], []).append(step)
    places = {key: place for place, key in enumerate(steps)}
    boxes = tuple(Box(lane, feature, tuple(listed)) for (lane, feature, _), listed in steps.items())
    return boxes, tuple(places[key] for key in keys)


def feature_arrows(arrows: tuple[Arrow, ...], box_of: tuple[int, ...]) -> tuple[Arrow, ...]:
    """Give the arrows between boxes: those of their steps together, without those inside a box.

    An arrow that points back to an earlier box is kept and marked as such by its places.

    Parameters
    ----------
    arrows
        Arrows between steps.
    box_of
        Box of each step.
    """
    found: dict[tuple[int, int, bool], list[Arrow]] = {}
    for each in arrows:
        first, second = box_of[each.first], box_of[each.second]
        if first != second:
            found.setdefault((first, second, each.broken), []).append(each)
    return tuple(
        Arrow(
            first,
            second,
            tuple(dict.fromkeys(rule for each in listed for rule in each.rules)),
            any(each.must for each in listed),
            broken=broken,
        )
        for (first, second, broken), listed in sorted(found.items())
    )


def feature_diagram(plan: Plan, program: str | None = None) -> str:
    """Draw the dependency diagram by features as SVG.

    Parameters
    ----------
    plan
        The plan.
    program
        A `dot` program to use instead of the shipped renderer.
    """
    return dressed(render_dot(feature_dot(plan), "svg", program).decode())


def feature_dot(plan: Plan) -> str:
    """Write the dependency diagram by features as DOT text.

    Parameters
    ----------
    plan
        The plan.
    """
    sequence = plan.sequence
    heading = f"{plan.part.name}   drawing {plan.part.drawing}   revision {plan.part.revision}, by features"
    key = "Box: steps of a feature in one visit. Arrow: rules that demand it. Solid: must. Dashed: should."
    graph = new_graph(f"{heading}\\l{key}\\l\\l")
    boxes, box_of = boxes_of(sequence, plan.part.name)
    for lane, (name, steps) in enumerate(sequence.visits):
        with graph.subgraph(name=f"cluster_{lane}") as cluster:
            words = f"Clamping {name}, visit {steps[0].visit}" if steps[0].visit else "Bench"
            cluster.attr(
                label=words, fontname="Helvetica-Bold", fontsize="15", labeljust="l", style="filled",
                fillcolor=ink.LIGHT if steps[0].visit else ink.PAPER, color=ink.FAINT, margin="12",
            )  # fmt: skip
            for place, box in enumerate(boxes):
                if box.lane == lane:
                    cluster.node(
                        f"b{place}", label=_label(box), id=feature_key(box.feature), margin="0.1,0.06"
                    )
    for arrow in feature_arrows(make_arrows(sequence, plan.graph.dependencies), box_of):
        _add(graph, arrow)
    return str(graph.source)


def _label(box: Box) -> str:
    name = [f"<B>{escape(words)}</B>" for words in wrapped(box.feature, SIZE, WIDE, bold=True)]
    steps = ", ".join(f"{step.number} {step.operation.name.rpartition('/')[2]}" for step in box.steps)
    minutes = number_words(sum(step.alternative.minutes for step in box.steps), "min")
    rows = [*wrapped(steps, SMALL, WIDE), f"{minutes} min"]
    small = [f'<FONT POINT-SIZE="{SMALL}">{escape(words)}</FONT>' for words in rows]
    return f"<{'<BR/>'.join([*name, *small])}>"


def _add(graph: graphviz.Digraph, arrow: Arrow) -> None:
    style = "dotted" if arrow.broken else "solid" if arrow.must else "dashed"
    back = {"constraint": "false"} if arrow.first > arrow.second else {}
    graph.edge(
        f"b{arrow.first}", f"b{arrow.second}", label=f" {', '.join(arrow.rules)} ", style=style, **back
    )
