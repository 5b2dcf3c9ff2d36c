"""Workbooks without the time of writing: the same content gives the same bytes."""

from __future__ import annotations

import re
import zipfile
from collections.abc import Callable, Mapping
from io import BytesIO
from typing import Final

_STAMP: Final = (1980, 1, 1, 0, 0, 0)
_CORE: Final = "docProps/core.xml"


def timeless(made: bytes, changes: Mapping[str, Callable[[bytes], bytes]] | None = None) -> bytes:
    """Write the files of a workbook again, in order of their names and without the time of writing.

    Parameters
    ----------
    made
        The workbook.
    changes
        Changes of the content of a file in it, by its name.
    """
    kept = {_CORE: _without_time, **(changes or {})}
    out = BytesIO()
    with zipfile.ZipFile(BytesIO(made)) as source, zipfile.ZipFile(out, "w") as target:
        for name in sorted(source.namelist()):
            content = source.read(name)
            if name in kept:
                content = kept[name](content)
            entry = zipfile.ZipInfo(name, _STAMP)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            target.writestr(entry, content)
    return out.getvalue()


def _without_time(content: bytes) -> bytes:
    return re.sub(rb"(<dcterms:\w+[^>]*>)[^<]*(</)", rb"\g<1>1980-01-01T00:00:00Z\g<2>", content)
