"""Tool lists as CSV and XLSX: into a shop file and out of one."""

from sequencer.files.tool_lists.column_map import ColumnMap, read_column_map
from sequencer.files.tool_lists.export import export_table
from sequencer.files.tool_lists.into_shop import Merged, merge_into
from sequencer.files.tool_lists.rows import import_tools
from sequencer.files.tool_lists.tables import read_table, table_bytes

__all__ = [
    "ColumnMap",
    "Merged",
    "export_table",
    "import_tools",
    "merge_into",
    "read_column_map",
    "read_table",
    "table_bytes",
]
