"""Reference pages and JSON Schemas of part and shop files, written from the models.

`python -m sequencer.files.reference [FOLDER]` writes them; FOLDER is `docs` if left out.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema

from sequencer.files.described import groups_of, meaning_of, table, title_of
from sequencer.files.fields import bare_type, item_type, keys_of, records_by_kind
from sequencer.files.introductions import BEVEL_EXAMPLE, PART, PART_EXAMPLE, SHOP, SHOP_EXAMPLE
from sequencer.files.rotation_text import ROTATION, ROTATION_EXAMPLE
from sequencer.files.source import LARGEST_FILE
from sequencer.files.writing import write_text
from sequencer.part import Part
from sequencer.part.feature import Feature
from sequencer.part.quantities import BOUNDS, LONGEST_NAME
from sequencer.shop import Shop, Tool
from sequencer.shop.rotation import Rotation
from sequencer.units import UNITS

_DIALECT: Final = "https://json-schema.org/draft/2020-12/schema"


def part_page() -> str:
    """Write the reference page of the part file."""
    head = PART.format(
        example=PART_EXAMPLE, bevel=BEVEL_EXAMPLE, largest=LARGEST_FILE / 1e6, longest=LONGEST_NAME
    )
    return _page(head, Part, "features", Feature, "feature")


def shop_page() -> str:
    """Write the reference page of the shop file."""
    return _page(SHOP.format(example=SHOP_EXAMPLE), Shop, "tools", Tool, "tool")


def rotation_page() -> str:
    """Write the reference page of the rotation file."""
    lines = [
        ROTATION.format(example=ROTATION_EXAMPLE),
        "## Keys of the rotation file",
        "",
        *table(Rotation),
        "",
    ]
    lines += ["## Groups of keys", ""]
    for record in _all_groups([Rotation]):
        lines += [f"### {title_of(record)}", "", meaning_of(record), "", *table(record), ""]
    return "\n".join(lines).rstrip() + "\n"


class _AsWritten(GenerateJsonSchema):
    """Gives defaults as they are written in a file: quantities with their unit."""

    def encode_default(self, dft: Any) -> Any:
        """Give a default for the schema; see the base class."""
        return getattr(dft, "text", None) or super().encode_default(dft)


def schema_of(model: type[BaseModel]) -> dict[str, Any]:
    """Give the JSON Schema of a file, draft 2020-12.

    Parameters
    ----------
    model
        The outermost record.
    """
    return {"$schema": _DIALECT, **model.model_json_schema(by_alias=True, schema_generator=_AsWritten)}


def pages() -> dict[str, str]:
    """Give all files of the reference by their names."""
    return {
        "part-file.md": part_page(),
        "shop-file.md": shop_page(),
        "rotation-file.md": rotation_page(),
        "part.schema.json": _json(schema_of(Part)),
        "shop.schema.json": _json(schema_of(Shop)),
        "rotation.schema.json": _json(schema_of(Rotation)),
    }


def _json(schema: dict[str, Any]) -> str:
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def _page(head: str, model: type[BaseModel], choice: str, base: type[BaseModel], word: str) -> str:
    """Introduction, keys of the file, kinds of the choice, groups of keys, units."""
    kinds = records_by_kind(item_type(bare_type(keys_of(model)[choice].field.annotation)))
    lines = [head, f"## Keys of the {model.__name__.lower()} file", "", *table(model), ""]
    lines += [f"## Kinds of {word}", "", f"Every {word} has these keys:", "", *table(base), ""]
    for kind, record in kinds.items():
        lines += _kind(kind, record, frozenset(keys_of(base)))
    lines += ["## Groups of keys", ""]
    for record in _all_groups([model, base, *kinds.values()]):
        lines += [f"### {title_of(record)}", "", meaning_of(record), "", *table(record), ""]
    lines += [*_units()]
    return "\n".join(lines).rstrip() + "\n"


def _kind(kind: str, record: type[BaseModel], common: frozenset[str]) -> Iterator[str]:
    """One kind with the keys of its own; a common key is told again where the kind needs it."""
    needed = {name for name, key in keys_of(record).items() if name in common and key.field.is_required()}
    usually = {"name", "title", "body_diameter", "functional_length", "overall_length", "mass"}
    yield from (f"### {kind}", "", meaning_of(record), "", f"`kind: {kind}` and:", "")
    own = list(table(record, (common - (needed - usually)) | {"kind"}))
    if len(own) > 2:
        yield from own
    else:
        yield "no keys of its own."
    yield ""


def _all_groups(records: list[type[BaseModel]]) -> list[type[BaseModel]]:
    """Records that the keys of others hold, in the order in which they are met."""
    found: list[type[BaseModel]] = []
    queue = list(records)
    while queue:
        for group in groups_of(queue.pop(0)):
            if group not in found:
                found.append(group)
                queue.append(group)
    return found


def _units() -> Iterator[str]:
    yield from ("## Units", "", "A value beyond these bounds is a slip of the keyboard and is refused.", "")
    yield from ("| quantity | units | least but 0 | most |", "|---|---|---|---|")
    for dimension, units in UNITS.items():
        bounds = BOUNDS[dimension]
        least = "" if bounds.least.startswith("0 ") else bounds.least
        yield f"| {dimension} | {', '.join(f'`{unit}`' for unit in units)} | {least} | {bounds.most} |"


def write_pages(folder: Path) -> tuple[Path, ...]:
    """Write all files of the reference into a folder.

    Parameters
    ----------
    folder
        The folder; it must exist.

    Raises
    ------
    SequencerError
        When one cannot be written.
    """
    written = []
    for name, text in pages().items():
        write_text(folder / name, text)
        written.append(folder / name)
    return tuple(written)


if __name__ == "__main__":
    write_pages(Path(sys.argv[1] if len(sys.argv) > 1 else "docs"))
