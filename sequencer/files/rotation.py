"""Rotation files: the parts of a week, read with all their part files and the shop file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from sequencer.errors import BadFile, Finding
from sequencer.files.load import findings_of, read_model, read_part_and_shop, read_shop
from sequencer.part import Part
from sequencer.part.fault import Fault, did_you_mean
from sequencer.shop import Shop
from sequencer.shop.pocket_limits import goes_by_hand
from sequencer.shop.rotation import Rotation


@dataclass(frozen=True)
class RotationFiles:
    """A rotation file with what it names.

    Parameters
    ----------
    rotation
        The file itself.
    parts
        Its parts with lot and due date of the rotation, in the order of the file.
    shop
        The shop.
    """

    rotation: Rotation
    parts: tuple[Part, ...]
    shop: Shop


def read_rotation(path: FilePath | str) -> RotationFiles:
    """Read a rotation file, its part files and its shop file.

    Parameters
    ----------
    path
        The file.

    Raises
    ------
    BadFile
        With every fault of all files, those of the rotation file first, each with its place.
    """
    file = FilePath(path)
    document, rotation = read_model(file, Rotation, _listed_twice)
    faults: list[Finding] = []
    house_file = file.parent / rotation.shop
    try:
        house = read_shop(house_file)
    except BadFile as error:
        raise BadFile((*_missing(file, document, rotation), *error.faults)) from None
    faults += findings_of(str(file), document, _in_shop(rotation, house))
    faults += _missing(file, document, rotation)
    parts = []
    for entry in rotation.parts:
        part_file = file.parent / entry.file
        if not part_file.is_file():
            continue
        try:
            part, _ = read_part_and_shop(part_file, house_file)
        except BadFile as error:
            faults += error.faults
            continue
        changed = {key: value for key, value in (("lot", entry.lot), ("due", entry.due)) if value is not None}
        parts.append(part.model_copy(update=changed))
    if not faults:
        faults += findings_of(str(file), document, _same_name(parts))
    if faults:
        raise BadFile(tuple(dict.fromkeys(faults)))
    return RotationFiles(rotation, tuple(parts), house)


def _missing(file: FilePath, document: Any, rotation: Rotation) -> tuple[Finding, ...]:
    faults = [
        Fault(("parts", at, "file"), f"there is no part file {entry.file!r}", "", "check the name and folder")
        for at, entry in enumerate(rotation.parts)
        if not (file.parent / entry.file).is_file()
    ]
    return findings_of(str(file), document, faults)


def _listed_twice(rotation: Rotation) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for at, entry in enumerate(rotation.parts):
        if entry.file in first:
            limit = f"parts[{first[entry.file]}] has it already"
            remedy = "join the lots, or copy the part file under another name"
            yield Fault(("parts", at, "file"), f"{entry.file!r} is listed twice", limit, remedy)
        first.setdefault(entry.file, at)
    for at, name in enumerate(rotation.loaded):
        if name in rotation.loaded[:at]:
            yield Fault(("loaded", at), f"{name!r} is listed twice", "", "take one out")


def _in_shop(rotation: Rotation, shop: Shop) -> Iterator[Fault]:
    known = shop.tool_by_name
    for at, name in enumerate(rotation.loaded):
        if name not in known:
            yield Fault(("loaded", at), f"there is no tool {name!r}", "", did_you_mean(name, known, "tools"))
        elif goes_by_hand(known[name], shop.magazine):
            yield Fault(("loaded", at), f"{name!r} is loaded by hand", "never in the magazine", "take it out")
        elif name in shop.magazine.residents:
            yield Fault(("loaded", at), f"{name!r} is a resident", "always loaded", "take it out")
    for at, away in enumerate(rotation.away):
        if away.tool not in known:
            remedy = did_you_mean(away.tool, known, "tools")
            yield Fault(("away", at, "tool"), f"there is no tool {away.tool!r}", "", remedy)
        elif away.number > known[away.tool].owned:
            what = f"{away.number} of {away.tool} are away"
            limit = f"{known[away.tool].owned} are owned"
            yield Fault(("away", at, "number"), what, limit, "correct the number, here or in the shop file")


def _same_name(parts: list[Part]) -> Iterator[Fault]:
    first: dict[str, int] = {}
    for at, part in enumerate(parts):
        if part.name in first:
            what = f"its part is called {part.name!r}, as that of parts[{first[part.name]}]"
            yield Fault(("parts", at, "file"), what, "", "give each part a name of its own")
        first.setdefault(part.name, at)
