"""The commands that bring tool lists into a shop file and out of it."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from sequencer.cli.answering import answering, print_lines

tools = typer.Typer(
    name="tools", no_args_is_help=True, help="Bring a shop's tool list into a shop file, or out of it."
)

Replace = Annotated[bool, typer.Option("--replace", help="Replace what has the same name.")]


@tools.command("import")
def import_list(
    listed: Annotated[Path, typer.Argument(metavar="LIST", help="Tool list, .csv or .xlsx.")],
    into: Annotated[Path, typer.Option("--into", metavar="SHOP", help="Shop file that gets the tools.")],
    columns: Annotated[
        Path | None,
        typer.Option("--columns", metavar="MAP", help="Column map (YAML); left out if heads say all."),
    ] = None,
    check: Annotated[bool, typer.Option("--check", help="Only say what would be done.")] = False,
    replace: Replace = False,
) -> None:
    """Put the tools of a list into a shop file; nothing is written if a single row is bad."""
    with answering():
        from sequencer.files.source import read_text
        from sequencer.files.tool_lists import (
            ColumnMap,
            import_tools,
            merge_into,
            read_column_map,
            read_table,
        )
        from sequencer.files.writing import write_text

        mapping = read_column_map(columns) if columns is not None else ColumnMap()
        found = import_tools(read_table(listed, mapping), mapping)
        merged = merge_into(read_text(into), str(into), found, replace=replace)
        counts = (
            f"{len(merged.added)} added",
            f"{len(merged.replaced)} replaced",
            f"{len(merged.same)} there just so",
        )
        changed = bool(merged.added or merged.replaced)
        if changed and not check:
            write_text(into, merged.text)
        done = "would be " if check else ""
        lines = [f"{listed}: {len(found)} tools, {done}{', '.join(counts)}."]
        lines += [f"added: {', '.join(merged.added)}"] if merged.added else []
        lines += [f"replaced: {', '.join(merged.replaced)}"] if merged.replaced else []
        lines.append(f"{into} {'written' if changed and not check else 'left as it was'}.")
        print_lines(tuple(lines))


@tools.command("export")
def export_list(
    to: Annotated[Path, typer.Argument(metavar="LIST", help="File to write, .csv or .xlsx.")],
    shop: Annotated[Path, typer.Option("--shop", metavar="SHOP", help="Shop file.")] = Path("shop.yaml"),
    keys: Annotated[
        bool, typer.Option("--keys", help="Heads as keys of the shop file, no ISO 13399 symbols.")
    ] = False,
    replace: Replace = False,
) -> None:
    """Write the tools of a shop as a list; read back, it gives the same tools."""
    with answering():
        from sequencer.files import read_shop
        from sequencer.files.tool_lists import export_table, table_bytes
        from sequencer.files.writing import refuse_existing, write_bytes

        if not replace:
            refuse_existing(to)
        house = read_shop(shop)
        write_bytes(to, table_bytes(to, export_table(house.tools, symbols=not keys)))
        print_lines((f"{to}: {len(house.tools)} tools written.",))
