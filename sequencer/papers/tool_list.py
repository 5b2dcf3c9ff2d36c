"""The tool list with the magazine table."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Final

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.header import short_entries, stamp_of
from sequencer.papers.model import Column, Entry, Figure, Row, Section, Sheet, Table
from sequencer.shop.tools import Tool
from sequencer.units import shown

if TYPE_CHECKING:
    from sequencer.magazine import Pocket, ToolUse
    from sequencer.plan import Plan
    from sequencer.shop import AnyTool


def tool_list(plan: Plan, figures: tuple[Figure, ...] = ()) -> Sheet:
    """Make the tool list of a plan.

    Parameters
    ----------
    plan
        The plan.
    figures
        Pictures of the magazine.
    """
    magazine = plan.magazine
    entries = (
        *short_entries(plan),
        Entry("Pockets needed", f"{magazine.needed} of {magazine.available}, blocked ones included"),
        Entry("Fewest pockets", "proven" if magazine.proven else f"at least {magazine.bound}"),
        Entry("Mass of the tools", _mass_words(plan)),
        Entry("Loaded by hand", ", ".join(magazine.by_hand) or "none"),
    )
    further = (
        *((_stops(plan),) if magazine.stops else ()),
        *((_remedies(plan),) if magazine.remedies else ()),
    )
    sections = (
        Section("Tools", tables=(_tools(plan),), cautions=_cautions(plan)),
        Section("Cutters", tables=(_cutters(plan),)),
        Section("Magazine", tables=(*further, _magazine(plan))),
        *(Section(figure.title, figures=(figure,), new_page=True) for figure in figures),
    )
    return Sheet("Tool list", stamp_of(plan), entries, sections)


def _mass_words(plan: Plan) -> str:
    """Mass against its limit, and how much heavier one side is than the other."""
    magazine, limits = plan.magazine, plan.shop.magazine
    allowed = f" of {limits.imbalance.text}" if limits.imbalance is not None else ""
    return (
        f"{shown(magazine.mass, 1)} kg of {limits.total_mass.text}; "
        f"one side heavier by {shown(magazine.imbalance, 1)} kg{allowed} at most"
    )


def _stops(plan: Plan) -> Table:
    return Table(
        "Planned stops for tools loaded by hand",
        (
            Column("Before step", number=True),
            Column("Clamping"),
            Column("Tools", share=2.0),
            Column("Time", "min", number=True),
            Column("Operator", share=1.6),
        ),
        tuple(
            Row(
                (
                    stop.step,
                    stop.clamping,
                    ", ".join(stop.tools),
                    stop.minutes,
                    "there after clamping" if stop.attended else "to be called",
                )
            )
            for stop in plan.magazine.stops
        ),
        slim=True,
    )


def _remedies(plan: Plan) -> Table:
    return Table(
        "Remedies, the cheapest first",
        (
            Column("What", share=5.0),
            Column("Pockets", number=True),
            Column("Of", number=True),
            Column("More time for the lot", "min", number=True, share=1.4),
            Column(f"More cost for the lot, {plan.shop.rates.currency}", number=True, share=1.4),
        ),
        tuple(
            Row((each.words, each.needed, each.available, each.minutes, round(each.money, 2)))
            for each in plan.magazine.remedies
        ),
    )


def _tools(plan: Plan) -> Table:
    return Table(
        "Tools in the order of their first use",
        (
            Column("Tool", share=0.8),
            Column("Words", share=3.0),
            Column("Steps", share=1.8),
            Column("Cuts", "min", number=True, share=0.9),
            Column("Loaded", number=True, share=0.9),
            Column("For the lot", number=True, share=0.9),
            Column("Owned", number=True, share=0.85),
            Column("Lead time", share=0.9),
            Column("BD", share=1.05),
            Column("LF", share=1.05),
            Column("OAL", share=1.05),
            Column("WT", share=1.0),
            Column("Life", share=1.0),
            Column("Why that many", share=2.8),
        ),
        tuple(_tool_row(plan, use) for use in plan.magazine.uses),
        note="Cuts: minutes of cutting for one piece. Symbols of ISO 13399: BD body diameter, LF functional "
        "length, OAL overall length, WT mass. Sizes as the shop file gives them.",
    )


def _tool_row(plan: Plan, use: ToolUse) -> Row:
    tool = plan.shop.tool_by_name.get(use.tool)
    steps = ", ".join(str(number) for number in use.steps)
    if tool is None:
        return Row((use.tool, None, steps, use.minutes, use.loaded, use.lot_edges, *([None] * 7), use.reason))
    life = tool.life or tool.life_length
    return Row(
        (
            use.tool,
            tool.title,
            steps,
            use.minutes,
            use.loaded,
            use.lot_edges,
            tool.owned,
            tool.lead_time.text if tool.lead_time > 0 else None,
            tool.body_diameter.text,
            tool.functional_length.text,
            tool.overall_length.text,
            tool.mass.text,
            life.text if life is not None else None,
            use.reason,
        )
    )


#: Fields of every tool, which stand in the table of tools.
_OF_ALL: Final = frozenset(Tool.model_fields) | {"kind"}
_SYMBOL: Final = re.compile(r"\(([A-Z]+)\)")


def _cutters(plan: Plan) -> Table:
    rows = []
    for use in plan.magazine.uses:
        tool = plan.shop.tool_by_name.get(use.tool)
        if tool is not None:
            sisters = ", ".join(f"{tool.name}.{place}" for place in range(1, use.loaded + 1))
            rows.append(Row((tool.name, sisters, tool.kind, tool.material, _sizes(tool), tool.uses, None)))
    return Table(
        "What to assemble and set",
        (
            Column("Tool", share=0.7, bold=True),
            Column("Numbers of equal tools", share=1.6),
            Column("Kind", share=1.1),
            Column("Material", share=0.8),
            Column("Sizes", share=5.6),
            Column("Lives", number=True, share=0.6),
            Column("LF and DC as set", share=1.4),
        ),
        tuple(rows),
        note="Symbols of ISO 13399 where it has one. Equal tools: the first, then its sisters. Lives until "
        "scrap, resharpening counted.",
    )


def _sizes(tool: AnyTool) -> str:
    """Sizes of one kind of tool: by the symbol of its description, else by name."""
    words = []
    for name, field in type(tool).model_fields.items():
        value = getattr(tool, name)
        if name in _OF_ALL or value is None or value == ():
            continue
        found = _SYMBOL.search(field.description or "")
        shown_value = ", ".join(map(str, value)) if isinstance(value, tuple) else str(value)
        words.append(f"{found[1] if found else name.replace('_', ' ')} {shown_value}")
    return "; ".join(words)


def _magazine(plan: Plan) -> Table:
    used = [each for each in plan.magazine.pockets if each.tool or each.blocked_by or each.remark]
    free = max(0, plan.magazine.available - len(used))
    return Table(
        "Pockets",
        (
            Column("Pocket", number=True, share=0.9),
            Column("Tool", share=0.9),
            Column("Words", share=3.4),
            Column("Sister", share=1.1),
            Column("Kept empty for", share=1.6),
            Column("Remark", share=1.2),
        ),
        tuple(_pocket_row(plan, pocket) for pocket in used),
        note=f"{free} pockets stay free.",
        slim=True,
    )


def _pocket_row(plan: Plan, pocket: Pocket) -> Row:
    tool = plan.shop.tool_by_name.get(pocket.tool)
    return Row(
        (
            pocket.number,
            pocket.tool or None,
            tool.title if tool is not None else None,
            f"sister {pocket.sister}" if pocket.tool and pocket.sister else None,
            ", ".join(pocket.blocked_by) or None,
            "resident" if pocket.resident else pocket.remark or None,
        )
    )


def _cautions(plan: Plan) -> tuple[str, ...]:
    cautions = ["Cutters and inserts are sharp: protect edges and hands when you carry and load them."]
    heavy = [
        f"{use.tool} ({tool.mass})"
        for use in plan.magazine.uses
        if (tool := plan.shop.tool_by_name.get(use.tool)) is not None
        and tool.mass >= plan.shop.magazine.heavy_from
    ]
    if heavy:
        cautions.append(f"Heavy tools, loaded with a lifting aid: {', '.join(heavy)}.")
    return (*cautions, LAST_WORD)
