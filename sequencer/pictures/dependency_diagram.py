"""Dependency diagram: steps in lanes by clamping visit, arrows with the rule that demands them."""

from __future__ import annotations

import re
from html import escape
from itertools import pairwise
from typing import TYPE_CHECKING, Final

import graphviz

from sequencer.operations import Mode
from sequencer.pictures import ink
from sequencer.pictures.arrows import Arrow, longest_chain, make_arrows
from sequencer.pictures.dot import render_dot
from sequencer.pictures.keys import step_key
from sequencer.pictures.lettering import FAMILY, wrapped
from sequencer.pictures.rounding import number_words
from sequencer.precedence import Dependency
from sequencer.sequencing import Sequence, Step

if TYPE_CHECKING:
    from sequencer.plan import Plan

FONT: Final = "Helvetica"
#: Widest line of words in a box [pt], at the size below.
WIDE: Final = 132.0
SIZE: Final = 11.0
SMALL: Final = 9.5
#: Band of a box by mode: letter and ground.
BANDS: Final = {
    Mode.TURNING: ("T", ink.PAPER),
    Mode.MILLING: ("M", ink.SHADE),
    Mode.GEAR: ("G", ink.FAINT),
    Mode.REST: ("R", ink.LIGHT),
}
_KEY: Final = (
    "Arrow: the rule that demands it. Solid: must. Dashed: should. Dotted, pointing up: a should that this "
    "order breaks. Bold: the longest chain of arrows in minutes.\\l"
    "Band: T turning, M milling, G gear-synchronised, R at rest."
)


def diagram_dot(plan: Plan) -> str:
    """Write the dependency diagram of a plan as DOT text.

    Parameters
    ----------
    plan
        The plan.
    """
    heading = f"{plan.part.name}   drawing {plan.part.drawing}   revision {plan.part.revision}"
    return sequence_dot(plan.sequence, plan.graph.dependencies, heading)


def diagram_svg(plan: Plan, program: str | None = None) -> str:
    """Draw the dependency diagram of a plan as SVG.

    Parameters
    ----------
    plan
        The plan.
    program
        A `dot` program to use instead of the shipped renderer.
    """
    return dressed(render_dot(diagram_dot(plan), "svg", program).decode())


def dressed(drawn: str) -> str:
    """Give a rendered diagram the lettering of all pictures, keys, and words that lines do not cross.

    Parameters
    ----------
    drawn
        The diagram as the renderer gives it.
    """
    drawn = re.sub(r'font-family="[^"]*"', f'font-family="{FAMILY}"', drawn)
    drawn = re.sub(r'id="step(?:-|&#45;)(\d+)"', r'data-keys="step-\1"', drawn)
    drawn = re.sub(r'id="feature(?:-|&#45;)([^"]*)"', r'data-keys="feature-\1"', drawn)
    return _titles_last(drawn)


#: Words that lines may run into: they get a margin of the ground, so that lines stop around them.
_MARGIN: Final = f'<text stroke="{ink.LIGHT}" stroke-width="3.5" paint-order="stroke" '
_GROUP: Final = re.compile(r'<g id="[^"]*" class="(cluster|edge)">.*?</g>\n', re.DOTALL)


def _titles_last(drawn: str) -> str:
    """Draw the titles of the lanes and the rules of the arrows over all lines."""
    words: list[str] = []

    def without(found: re.Match[str]) -> str:
        texts = re.findall(r"<text .*?</text>\n", found[0])
        words.extend(each.replace("<text ", _MARGIN, 1) for each in texts)
        return re.sub(r"<text .*?</text>\n", "", found[0])

    bare = _GROUP.sub(without, drawn)
    end = bare.rindex("</g>")
    return f"{bare[:end]}{''.join(words)}{bare[end:]}"


def diagram_png(plan: Plan, program: str | None = None) -> bytes:
    """Draw the dependency diagram of a plan as PNG.

    Parameters
    ----------
    plan
        The plan.
    program
        A `dot` program to use instead of the shipped renderer.
    """
    return render_dot(diagram_dot(plan), "png", program)


def new_graph(label: str) -> graphviz.Digraph:
    """Give an empty diagram in the style of all diagrams.

    Parameters
    ----------
    label
        Words over the diagram, each line closed by a backslash and the letter l.
    """
    graph = graphviz.Digraph("dependencies")
    graph.attr(
        rankdir="TB", fontname=FONT, fontsize="16", fontcolor=ink.INK, labelloc="t", labeljust="l",
        label=label,
        nodesep="0.28", ranksep="0.42", newrank="true", splines="true", bgcolor=ink.PAPER, margin="0.2",
    )  # fmt: skip
    graph.attr(
        "node", shape="box", style="filled", fillcolor=ink.PAPER, color=ink.INK, fontname=FONT,
        fontsize=str(SIZE), fontcolor=ink.INK, margin="0", penwidth="1.0",
    )  # fmt: skip
    graph.attr(
        "edge", fontname=FONT, fontsize="9", fontcolor=ink.INK, color=ink.QUIET, arrowsize="0.7",
        penwidth="1.1",
    )  # fmt: skip
    return graph


def sequence_dot(sequence: Sequence, dependencies: tuple[Dependency, ...], heading: str) -> str:
    """Write the diagram of an order as DOT text.

    Parameters
    ----------
    sequence
        The order.
    dependencies
        Dependencies between its operations.
    heading
        Words over the diagram.
    """
    graph = new_graph(f"{heading}\\l{_KEY}\\l\\l")
    arrows = make_arrows(sequence, dependencies)
    chain = longest_chain(sequence, arrows)
    _add_lanes(graph, sequence, frozenset(chain))
    links = frozenset(pairwise(chain))
    for arrow in arrows:
        _add_arrow(graph, arrow, bold=(arrow.first, arrow.second) in links)
    _add_lane_order(graph, sequence, arrows)
    return str(graph.source)


def _add_lanes(graph: graphviz.Digraph, sequence: Sequence, chain: frozenset[int]) -> None:
    place = 0
    for lane, (clamping, steps) in enumerate(sequence.visits):
        with graph.subgraph(name=f"cluster_{lane}") as cluster:
            visit = steps[0].visit
            words = f"Clamping {clamping}, visit {visit}" if visit else "Bench"
            shade = ink.LIGHT if visit else ink.PAPER
            cluster.attr(
                label=words, fontname=f"{FONT}-Bold", fontsize="15", labeljust="l", style="filled",
                fillcolor=shade, color=ink.FAINT, margin="12",
            )  # fmt: skip
            for step in steps:
                width = "2.4" if place in chain else "1.0"
                cluster.node(f"s{place}", label=_box(step), id=step_key(step.number), penwidth=width)
                place += 1


def _box(step: Step) -> str:
    """Label of a box: number, words, tool and minutes, each on lines of its own."""
    words = wrapped(step.operation.title, SIZE, WIDE)
    how = step.alternative.tool or step.alternative.method
    minutes = f"{number_words(step.alternative.minutes, 'min')} min"
    last = wrapped(f"{how}, {minutes}" if how else minutes, SMALL, WIDE)
    rows = [f"<B>{step.number}</B>", *(escape(line) for line in words)]
    rows += [f'<FONT POINT-SIZE="{SMALL}">{escape(line)}</FONT>' for line in last]
    letter, ground = BANDS[step.alternative.mode]
    return (
        '<<TABLE BORDER="0" CELLBORDER="0" CELLSPACING="0" CELLPADDING="4"><TR>'
        f'<TD BGCOLOR="{ground}" SIDES="R" BORDER="1"><B>{letter}</B></TD><TD>{"<BR/>".join(rows)}</TD>'
        "</TR></TABLE>>"
    )


def _add_arrow(graph: graphviz.Digraph, arrow: Arrow, *, bold: bool) -> None:
    style = "dotted" if arrow.broken else "solid" if arrow.must else "dashed"
    words = " " + ", ".join(arrow.rules) + " "
    if arrow.broken:
        graph.edge(
            f"s{arrow.second}", f"s{arrow.first}", label=words, style=style, dir="back", penwidth="2.2",
            constraint="false",
        )  # fmt: skip
    else:
        look = {"penwidth": "3.0", "color": ink.INK} if bold else {}
        graph.edge(f"s{arrow.first}", f"s{arrow.second}", label=words, style=style, **look)


def _add_lane_order(graph: graphviz.Digraph, sequence: Sequence, arrows: tuple[Arrow, ...]) -> None:
    """Hold the lanes in the order of the visits: the last steps of one above the first steps of the next."""
    lanes: list[range] = []
    place = 0
    for _, steps in sequence.visits:
        lanes.append(range(place, place + len(steps)))
        place += len(steps)
    forward = [(arrow.first, arrow.second) for arrow in arrows if not arrow.broken]
    for lane, following in pairwise(lanes):
        between = f"between_{lane.stop}"
        graph.node(between, shape="point", style="invis", width="0", height="0")
        for last in lane:
            if not any(first == last and second in lane for first, second in forward):
                graph.edge(f"s{last}", between, style="invis")
        for first in following:
            if not any(second == first and before in following for before, second in forward):
                graph.edge(between, f"s{first}", style="invis")
