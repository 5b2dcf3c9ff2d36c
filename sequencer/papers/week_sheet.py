"""The sheet of a week: order of parts, loading of the magazine, pallets, findings; also as text and JSON."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any, Final

from sequencer.papers.cautions import LAST_WORD
from sequencer.papers.model import Column, Entry, Row, Section, Sheet, Stamp, Table
from sequencer.rotation.week import unit_words
from sequencer.units import shown

if TYPE_CHECKING:
    from sequencer.rotation import LotTime, Week, WeekPart

SCHEMA: Final = "sequencer week"
VERSION: Final = 1


def week_sheet(week: Week) -> Sheet:
    """Make the sheet of a week.

    Parameters
    ----------
    week
        The week.
    """
    rotation = week.rotation
    entries = (
        Entry("Begins", rotation.start.isoformat()),
        Entry("Order", week.sentence),
        Entry("Tool exchanges", f"{week.exchanges} after the first filling"),
        Entry("All tools together", f"{week.union} pockets"),
        Entry("Stay all the time", ", ".join(map(unit_words, week.staying)) or "none"),
    )
    sections = (
        Section("Parts", tables=(_parts(week),)),
        Section(
            "Loading of the magazine",
            tables=tuple(_loading(part) for part in week.parts),
            cautions=(
                "Heavy tools are loaded with a lifting aid; edges are sharp.",
                "Check number, length and wear of each tool before it goes in.",
                LAST_WORD,
            ),
        ),
        Section(
            "Pallets",
            paragraphs=(
                "With one pallet the table waits during each set-up; with two the next piece is set up while "
                "one is cut. One operator; the lot goes through one clamping after the other.",
            ),
            tables=(_pallets(week),),
        ),
        Section("Findings", tables=(_findings(week),)),
    )
    stamp = Stamp(rotation.name, "-", "-", rotation.start.isoformat())
    return Sheet("Week", stamp, entries, sections)


def _parts(week: Week) -> Table:
    return Table(
        "Parts in their order",
        (
            Column("No.", number=True, share=0.5),
            Column("Part", share=2.4, bold=True),
            Column("Lot", number=True, share=0.6),
            Column("Begins", share=1.1),
            Column("Ready", share=1.1),
            Column("Due", share=1.1),
            Column("Late", "d", number=True, share=0.7),
            Column("Lot on the machine", "min", number=True, share=1.1),
            Column("Put in", number=True, share=0.8),
            Column("Pockets", number=True, share=0.8),
        ),
        tuple(_part_row(number, part) for number, part in enumerate(week.parts, start=1)),
    )


def _part_row(number: int, part: WeekPart) -> Row:
    return Row(
        (
            number,
            part.plan.part.name,
            part.plan.part.lot,
            part.begins.isoformat(),
            part.ready.isoformat(),
            part.due.isoformat() if part.due else None,
            part.days_late or None,
            part.here.minutes,
            len(part.loading.put_in),
            part.loading.needed,
        ),
        strong=part.days_late > 0,
    )


def _loading(part: WeekPart) -> Table:
    loading, known = part.loading, part.plan.shop.tool_by_name
    before = dict.fromkeys(loading.stay, "stays") | dict.fromkeys(loading.put_in, "put in")
    before |= dict.fromkeys(loading.moved, "moves")
    rows = [
        Row((unit_words(unit), known[unit[0]].title, before.get(unit, "resident"), pocket))
        for unit, pocket in sorted(loading.pockets.items(), key=lambda pair: pair[1])
    ]
    rows += [Row((unit_words(unit), known[unit[0]].title, "taken out", None)) for unit in loading.out]
    columns = (
        Column("Tool", share=0.8),
        Column("Words", share=3.0),
        Column("Before this part", share=1.1),
        Column("Pocket", number=True, share=0.7),
    )
    return Table(f"Before {part.plan.part.name}", columns, tuple(rows), slim=True)


def _pallets(week: Week) -> Table:
    return Table(
        "Lots with one pallet and more, clamped by hand and hydraulically",
        (
            Column("Part", share=2.2),
            Column("Pallets", number=True, share=0.8),
            Column("Clamped", share=1.2),
            Column("Lot", "min", number=True),
            Column("Machine idle", "min", number=True),
            Column("Operator needed", "min", number=True),
            Column("Longest alone", "min", number=True),
            Column("Remark", share=1.6),
        ),
        tuple(_pallet_row(part, each) for part in week.parts for each in part.compared),
    )


def _pallet_row(part: WeekPart, each: LotTime) -> Row:
    here = (each.pallets, each.actuation) == (part.here.pallets, part.here.actuation)
    remark = "as the shop is" if here else ("hydraulic times are an estimate" if each.estimate else None)
    cells = (each.pallets, each.actuation, each.minutes, each.idle, each.presence, each.alone, remark)
    return Row((part.plan.part.name, *cells), shaded=here)


def _findings(week: Week) -> Table:
    return Table(
        "Findings",
        (
            Column("Severity", share=0.8),
            Column("Where", share=1.4),
            Column("What", share=4.0),
            Column("Limit", share=1.6),
            Column("Remedy", share=2.6),
        ),
        tuple(
            Row((str(f.severity), f.where, f.what, f.limit, f.remedy), strong=f.severity == "error")
            for f in week.findings
        ),
    )


def week_lines(week: Week) -> tuple[str, ...]:
    """Write a week as lines of text.

    Parameters
    ----------
    week
        The week.
    """
    rotation = week.rotation
    lines = [f"{rotation.name}, {len(week.parts)} parts, from {rotation.start}"]
    for number, part in enumerate(week.parts, start=1):
        due = f", due {part.due}" if part.due else ""
        late = f", {part.days_late} d late" if part.days_late else ""
        lines.append(
            f"{number}. {part.plan.part.name}, lot {part.plan.part.lot}: {part.begins} to {part.ready}{due}"
            f"{late}; {shown(part.here.minutes, 1)} min on the machine"
        )
        loading = part.loading
        lines.append(f"   in:   {', '.join(map(unit_words, loading.put_in)) or 'none'}")
        lines.append(f"   out:  {', '.join(map(unit_words, loading.out)) or 'none'}")
        lines.append(f"   stay: {', '.join(map(unit_words, loading.stay)) or 'none'}")
    lines.append(f"Stay all the time: {', '.join(map(unit_words, week.staying)) or 'none'}")
    lines.append(f"Tool exchanges: {week.exchanges} after the first filling; all tools: {week.union} pockets")
    lines.append(f"Proof: {week.sentence}.")
    lines += [_pallet_line(part, each) for part in week.parts for each in part.compared]
    lines += [str(finding) for finding in week.findings]
    return tuple(lines)


def _pallet_line(part: WeekPart, each: LotTime) -> str:
    pallets = "1 pallet" if each.pallets == 1 else f"{each.pallets} pallets"
    return (
        f"{part.plan.part.name}, {pallets}, {each.actuation}: lot {shown(each.minutes, 1)} min, idle "
        f"{shown(each.idle, 1)} min, operator {shown(each.presence, 1)} min, alone up to "
        f"{shown(each.alone, 1)} min{' (estimate)' if each.estimate else ''}"
    )


def week_json(week: Week) -> str:
    """Write a week as JSON text.

    Parameters
    ----------
    week
        The week.
    """
    made: dict[str, Any] = {
        "schema": SCHEMA,
        "version": VERSION,
        "name": week.rotation.name,
        "start": week.rotation.start.isoformat(),
        "order": [part.plan.part.name for part in week.parts],
        "loads": week.loads,
        "bound": week.bound,
        "proven": week.proven,
        "exchanges": week.exchanges,
        "pockets_for_all": week.union,
        "staying": [unit_words(unit) for unit in week.staying],
        "parts": [_part_dict(part) for part in week.parts],
        "findings": [
            {
                "severity": str(f.severity),
                "where": f.where,
                "what": f.what,
                "limit": f.limit,
                "remedy": f.remedy,
            }
            for f in week.findings
        ],
    }
    return json.dumps(made, ensure_ascii=False, indent=1, allow_nan=False) + "\n"


def _part_dict(part: WeekPart) -> dict[str, Any]:
    loading = part.loading
    return {
        "name": part.plan.part.name,
        "drawing": part.plan.part.drawing,
        "lot": part.plan.part.lot,
        "start": part.start,
        "end": part.end,
        "begins": part.begins.isoformat(),
        "ready": part.ready.isoformat(),
        "due": part.due.isoformat() if part.due else None,
        "days_late": part.days_late,
        "put_in": [unit_words(unit) for unit in loading.put_in],
        "out": [unit_words(unit) for unit in loading.out],
        "stay": [unit_words(unit) for unit in loading.stay],
        "moved": [unit_words(unit) for unit in loading.moved],
        "needed": loading.needed,
        "pockets": [
            {"pocket": pocket, "tool": unit_words(unit)}
            for unit, pocket in sorted(loading.pockets.items(), key=lambda pair: pair[1])
        ],
        "lot_times": [
            {
                "pallets": each.pallets,
                "clamped": each.actuation,
                "minutes": each.minutes,
                "idle": each.idle,
                "operator": each.presence,
                "alone": each.alone,
                "estimate": each.estimate,
            }
            for each in part.compared
        ],
    }


def week_papers(week: Week) -> dict[str, bytes]:
    """Make the papers of a week by file name.

    Parameters
    ----------
    week
        The week.
    """
    from sequencer.papers.html_page import sheets_html
    from sequencer.papers.typst_pdf import sheets_pdf
    from sequencer.papers.workbook import sheets_xlsx

    sheets = (week_sheet(week),)
    return {
        "week.pdf": sheets_pdf(sheets),
        "week.xlsx": sheets_xlsx(sheets),
        "week.html": sheets_html(sheets).encode(),
        "week.json": week_json(week).encode(),
    }
