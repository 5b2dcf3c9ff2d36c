"""Part and shop files: everything that is wrong with one comes at once, each fault with its place."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable
from pathlib import Path as FilePath
from typing import Any, Final, TypeVar

from pydantic import ValidationError

from sequencer.errors import BadFile, Finding, Severity
from sequencer.files.marks import BadText, Mark, TextFault
from sequencer.files.source import read_text, refuse
from sequencer.files.tree import Document, Keyed, Plain, plain, read_tree
from sequencer.files.wording import faults_of
from sequencer.part import Part
from sequencer.part.fault import Fault, Path
from sequencer.part.quantities import Record
from sequencer.part.references import check_names, check_references
from sequencer.shop import Shop
from sequencer.shop.references import check_part_in_shop, check_shop

Model = TypeVar("Model", bound=Record)


def read_part(path: FilePath | str) -> Part:
    """Read a part file.

    Parameters
    ----------
    path
        The file.

    Raises
    ------
    BadFile
        With every fault of the file, in the order of its lines.
    """
    return _read(FilePath(path), Part, check_names, check_references)


def read_shop(path: FilePath | str) -> Shop:
    """Read a shop file.

    Parameters
    ----------
    path
        The file.

    Raises
    ------
    BadFile
        With every fault of the file, in the order of its lines.
    """
    return _read(FilePath(path), Shop, None, check_shop)


def part_from_text(text: str, name: str = "part") -> Part:
    """Read the text of a part file.

    Parameters
    ----------
    text
        YAML text.
    name
        What messages call the text.

    Raises
    ------
    BadFile
        With every fault of the text, in the order of its lines.
    """
    return _from_text(text, name, Part, check_names, check_references)


def shop_from_text(text: str, name: str = "shop") -> Shop:
    """Read the text of a shop file.

    Parameters
    ----------
    text
        YAML text.
    name
        What messages call the text.

    Raises
    ------
    BadFile
        With every fault of the text, in the order of its lines.
    """
    return _from_text(text, name, Shop, None, check_shop)


def read_part_and_shop(part: FilePath | str, shop: FilePath | str) -> tuple[Part, Shop]:
    """Read both files, and check what the part names in the shop: material, tools, clamping means.

    Parameters
    ----------
    part, shop
        The files.

    Raises
    ------
    BadFile
        With every fault of both files, those of the part first.
    """
    findings: list[Finding] = []
    made: Part | None = None
    house: Shop | None = None
    document: Document | None = None
    try:
        document, made = _read_with_document(FilePath(part), Part, check_names, check_references)
    except BadFile as error:
        findings += error.faults
    try:
        house = read_shop(shop)
    except BadFile as error:
        findings += error.faults
    if made is None or house is None or document is None:
        raise BadFile(tuple(findings))
    faults = check_part_in_shop(made, house)
    if faults:
        raise BadFile(_findings(str(part), document, _values(document), faults))
    return made, house


def read_model(
    path: FilePath | str, model: type[Model], check: Callable[[Model], Iterable[Fault]]
) -> tuple[Document, Model]:
    """Read a file of another kind, such as a study, with its document for later faults.

    Parameters
    ----------
    path
        The file.
    model
        Its record.
    check
        Checks beyond single values.

    Raises
    ------
    BadFile
        With every fault of the file, in the order of its lines.
    """
    return _read_with_document(FilePath(path), model, None, check)


def values_of_file(path: FilePath | str) -> dict[str, Any]:
    """Give the plain values of a file that has been read without a fault.

    Parameters
    ----------
    path
        The file.
    """
    values = _values(read_tree(read_text(FilePath(path))))
    return dict(values) if isinstance(values, dict) else {}


def part_and_shop_from_values(part: dict[str, Any], shop: dict[str, Any]) -> tuple[Part, Shop]:
    """Make part and shop from plain values, as a file would hold them, with all checks.

    Parameters
    ----------
    part, shop
        Plain values.

    Raises
    ------
    BadFile
        With every fault of both; instead of a line each names its key.
    """
    findings: list[Finding] = []
    made, faults = _model(Part, part)
    faults = list(check_references(made)) if made is not None else [*faults, *check_names(part)]
    findings += _spoken("part", part, faults)
    house, wrong = _model(Shop, shop)
    findings += _spoken("shop", shop, list(check_shop(house)) if house is not None else wrong)
    if made is not None and house is not None and not findings:
        findings += _spoken("part", part, list(check_part_in_shop(made, house)))
    if made is None or house is None or findings:
        raise BadFile(tuple(findings))
    return made, house


def _spoken(name: str, values: Plain, faults: Iterable[Fault]) -> list[Finding]:
    return [
        Finding(
            Severity.ERROR,
            f"{name}: {spoken_path(values, fault.path)}".rstrip(": "),
            fault.what,
            fault.limit,
            fault.remedy,
            "file",
        )
        for fault in dict.fromkeys(faults)
    ]


NameCheck = Callable[[Any], Iterable[Fault]]


def _read(
    path: FilePath, model: type[Model], names: NameCheck | None, check: Callable[[Model], Iterable[Fault]]
) -> Model:
    return _read_with_document(path, model, names, check)[1]


def _read_with_document(
    path: FilePath, model: type[Model], names: NameCheck | None, check: Callable[[Model], Iterable[Fault]]
) -> tuple[Document, Model]:
    return _with_document(read_text(path), str(path), model, names, check)


def _from_text(
    text: str,
    name: str,
    model: type[Model],
    names: NameCheck | None,
    check: Callable[[Model], Iterable[Fault]],
) -> Model:
    return _with_document(text, name, model, names, check)[1]


def _with_document(
    text: str,
    name: str,
    model: type[Model],
    names: NameCheck | None,
    check: Callable[[Model], Iterable[Fault]],
) -> tuple[Document, Model]:
    document = _document(text, name, model)
    values = _values(document)
    read, faults = _model(model, values)
    if read is not None:
        faults = list(check(read))
    elif names is not None:
        faults += names(values)
    findings = _findings(name, document, values, faults)
    if read is None or findings:
        raise BadFile(findings)
    return document, read


def _values(document: Document) -> Plain:
    return plain(document.root) if document.root is not None else None


#: Where a newcomer finds how a file of a kind is written, if not in the page of its kind.
_BEGIN: Final = {
    "study": "see docs/studies.md",
    "rotation": "see docs/rotation-file.md",
    "columnmap": "see docs/tool-lists.md",
}


def _document(text: str, name: str, model: type[Record]) -> Document:
    kind = model.__name__.lower()
    try:
        document = read_tree(text)
    except BadText as error:
        fault = error.fault
        raise refuse(f"{name}:{fault.mark}", fault.what, fault.limit, fault.remedy) from None
    begin = _BEGIN.get(kind, f"begin with `sequencer new` or see docs/{kind}-file.md")
    root = document.root
    if root is None or plain(root) is None:
        what = "it holds only comments" if text.strip() else "it is empty"
        raise refuse(name, what, f"a {kind} file", begin)
    if not isinstance(root, Keyed):
        raise refuse(f"{name}:{root.mark}", f"it does not begin with keys, as a {kind} file does", "", begin)
    return document


def _model(model: type[Model], values: Plain) -> tuple[Model | None, list[Fault]]:
    """Read values without any conversion: text stays text, numbers stay numbers."""
    try:
        return model.model_validate_json(json.dumps(values), strict=True), []
    except ValidationError as error:
        return None, faults_of(model, values, error.errors(include_url=False))


def findings_of(name: str, document: Document, faults: Iterable[Fault]) -> tuple[Finding, ...]:
    """Give faults that were found later as findings with their lines.

    Parameters
    ----------
    name
        Name of the file.
    document
        What the file says.
    faults
        The faults.
    """
    return _findings(name, document, _values(document), faults)


def _findings(name: str, document: Document, values: Plain, faults: Iterable[Fault]) -> tuple[Finding, ...]:
    placed = [(fault.mark, _text_finding(name, fault)) for fault in document.faults]
    taken = {mark for mark, _ in placed}
    for fault in faults:
        key, value = document.place(fault.path)
        if value not in taken and key not in taken:
            placed.append((key, _finding(name, key, values, fault)))
    return tuple(dict.fromkeys(finding for _, finding in sorted(placed, key=lambda pair: pair[0])))


def _text_finding(name: str, fault: TextFault) -> Finding:
    return Finding(Severity.ERROR, f"{name}:{fault.mark}", fault.what, fault.limit, fault.remedy, "file")


def _finding(name: str, mark: Mark, values: Plain, fault: Fault) -> Finding:
    spoken = spoken_path(values, fault.path)
    where = f"{name}:{mark}: {spoken}" if spoken else f"{name}:{mark}"
    return Finding(Severity.ERROR, where, fault.what, fault.limit, fault.remedy, "file")


def spoken_path(values: Plain, path: Path) -> str:
    """Write a path for a message: entries of lists with their names, such as "features[3] (bore) diameter".

    Parameters
    ----------
    values
        The plain values of the file.
    path
        Keys and positions.
    """
    text = ""
    here: Any = values
    for step in path:
        if isinstance(step, int):
            here = here[step] if isinstance(here, list) and step < len(here) else None
            called = here.get("name") if isinstance(here, dict) else None
            text += f"[{step}] ({called}) " if isinstance(called, str) else f"[{step}]"
        else:
            here = here.get(step) if isinstance(here, dict) else None
            text += step if not text or text.endswith(" ") else f".{step}"
    return text.strip()
