"""A study file, or options of the command line, become a list of variants with the values of their files."""

from __future__ import annotations

import hashlib
import itertools
import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from sequencer.errors import BadFile, Finding, SequencerError
from sequencer.files.load import findings_of, read_model, read_part_and_shop, values_of_file
from sequencer.files.source import read_text
from sequencer.files.tree import read_tree
from sequencer.part.fault import Fault
from sequencer.studies.keypath import changed
from sequencer.studies.ranges import MOST_VARIANTS, range_faults, values_of
from sequencer.studies.study import Study, Variant, Vary

#: Name of the variant that changes nothing.
AS_IT_IS = "as it is"


@dataclass(frozen=True)
class Case:
    """One variant.

    Parameters
    ----------
    number
        Place in the study; 0 is the part as it is.
    name
        Name for the table.
    changes
        Paths and their values.
    files
        Place of its part and shop among the bases of the study.
    """

    number: int
    name: str
    changes: dict[str, Any]
    files: int


@dataclass(frozen=True)
class ReadStudy:
    """A study that is ready to run.

    Parameters
    ----------
    study
        As written.
    cases
        All variants, that without a change first.
    bases
        Part and shop values that the variants begin with.
    """

    study: Study
    cases: tuple[Case, ...]
    bases: tuple[dict[str, Any], ...]

    @cached_property
    def fingerprint(self) -> str:
        """A number that changes with anything that the results depend on."""
        told = {
            "program": program_mark(),
            "aim": self.study.aim,
            "seconds": self.study.seconds,
            "bases": self.bases,
            "cases": [[case.name, case.changes, case.files] for case in self.cases],
        }
        return hashlib.sha256(json.dumps(told, sort_keys=True).encode()).hexdigest()

    @property
    def keys(self) -> tuple[str, ...]:
        """Keys that any variant changes, in the order of their first mention."""
        return tuple(dict.fromkeys(key for case in self.cases for key in case.changes))


def program_mark() -> str:
    """Give a number that changes with any line of this program, since that may change any plan."""
    package = Path(__file__).parents[1]
    mark = hashlib.sha256()
    for file in sorted(package.rglob("*.py")):
        mark.update(file.relative_to(package).as_posix().encode())
        mark.update(file.read_bytes())
    return mark.hexdigest()


def read_study(path: Path) -> ReadStudy:
    """Read a study file with its part and shop.

    Parameters
    ----------
    path
        The study file.

    Raises
    ------
    BadFile
        With every fault of the study file, or of part and shop file, each with its line.
    """
    try:
        document, study = read_model(path, Study, _faults)
    except BadFile as error:
        raise BadFile(tuple(dict.fromkeys((*error.faults, *_faults_of_ranges(path))))) from None
    ready = _ready(study, path.parent)
    faults = [fault for case in ready.cases for fault in _lost_keys(ready, case)]
    if faults:
        raise BadFile(findings_of(str(path), document, tuple(dict.fromkeys(faults))))
    return ready


def _faults_of_ranges(path: Path) -> tuple[Finding, ...]:
    """Faults of the ranges of a file that has other faults too, so that all are told at once."""
    try:
        listed = values_of_file(path).get("vary")
        document = read_tree(read_text(path))
    except BadFile:
        return ()
    faults: list[Fault] = []
    for at, entry in enumerate(listed if isinstance(listed, list) else []):
        try:
            vary = Vary.model_validate(entry)
        except ValidationError:
            continue
        faults += [
            Fault(("vary", at, *each.path), each.what, each.limit, each.remedy) for each in range_faults(vary)
        ]
    return findings_of(str(path), document, tuple(faults))


def study_from_options(study: Study, folder: Path) -> ReadStudy:
    """Make a study ready that the command line describes.

    Parameters
    ----------
    study
        The study.
    folder
        Folder from which its files are seen.

    Raises
    ------
    SequencerError
        When a value or a key is wrong, with what was given.
    """
    for fault in _faults(study):
        raise SequencerError(fault.what, where="what if", limit=fault.limit, remedy=fault.remedy)
    ready = _ready(study, folder)
    for case in ready.cases:
        changed(ready.bases[case.files], case.changes)
    return ready


def _faults(study: Study) -> Iterator[Fault]:
    """Check a study beyond single values."""
    if not study.vary and not study.variants:
        yield Fault((), "nothing is varied", "", "add vary or variants")
    broken = False
    for at, vary in enumerate(study.vary):
        for fault in range_faults(vary):
            broken = True
            yield Fault(("vary", at, *fault.path), fault.what, fault.limit, fault.remedy)
    names = [variant.name for variant in study.variants]
    for at, name in enumerate(names):
        if name in names[:at] or name == AS_IT_IS:
            yield Fault(("variants", at, "name"), f"{name!r} is taken", "", "give it a name of its own")
    if broken:
        return
    counts = [len(values_of(vary)) for vary in study.vary]
    if study.combine == "in step" and len(set(counts)) > 1:
        words = f"keys that go in step have different numbers of values: {', '.join(map(str, counts))}"
        yield Fault(("combine",), words, "", "give each key as many values as the others")
    total = 1
    for count in counts:
        total *= count
    if study.combine == "product" and total > MOST_VARIANTS:
        yield Fault(("vary",), f"{total} combinations", f"at most {MOST_VARIANTS}", "leave values out")


def _ready(study: Study, folder: Path) -> ReadStudy:
    pairs: dict[tuple[str, str], int] = {(study.part, study.shop): 0}
    for variant in study.variants:
        pairs.setdefault((variant.part or study.part, variant.shop or study.shop), len(pairs))
    bases = tuple(_base(folder / part, folder / shop) for part, shop in pairs)
    cases = [Case(0, AS_IT_IS, {}, 0)]
    for changes in _combined(study):
        name = ", ".join(f"{key.split('.', 1)[1]}={written(value)}" for key, value in changes.items())
        cases.append(Case(len(cases), name, changes, 0))
    for variant in study.variants:
        place = pairs[variant.part or study.part, variant.shop or study.shop]
        cases.append(Case(len(cases), variant.name, _changes(variant, bases[place]), place))
    return ReadStudy(study, tuple(cases), bases)


def _base(part: Path, shop: Path) -> dict[str, Any]:
    """Values of both files, which must be good as they are."""
    read_part_and_shop(part, shop)
    return {"part": values_of_file(part), "shop": values_of_file(shop)}


def _combined(study: Study) -> Iterator[dict[str, Any]]:
    if not study.vary:
        return
    keys = [vary.key for vary in study.vary]
    lists = [values_of(vary) for vary in study.vary]
    if study.combine == "one at a time":
        for key, values in zip(keys, lists, strict=True):
            for value in values:
                yield {key: value}
        return
    rows = zip(*lists, strict=True) if study.combine == "in step" else itertools.product(*lists)
    for row in rows:
        yield dict(zip(keys, row, strict=True))


def _changes(variant: Variant, base: dict[str, Any]) -> dict[str, Any]:
    """Changes of a named variant; what it forbids comes to what the shop forbids."""
    changes: dict[str, Any] = dict(variant.set)
    if variant.forbid:
        key = "shop.rules.forbid"
        before = changes.get(key, base["shop"].get("rules", {}).get("forbid", []))
        ways = [way.model_dump(mode="json", exclude_unset=True) for way in variant.forbid]
        changes[key] = [*before, *ways]
    return changes


def _lost_keys(ready: ReadStudy, case: Case) -> Iterator[Fault]:
    """Say which line of the study names a key that leads nowhere."""
    for key, value in case.changes.items():
        try:
            changed(ready.bases[case.files], {key: value})
        except SequencerError as error:
            yield Fault(_place(ready.study, case, key), f"{key}: {error.what}", error.limit, error.remedy)


def _place(study: Study, case: Case, key: str) -> tuple[str | int, ...]:
    for at, variant in enumerate(study.variants):
        if variant.name == case.name and key in variant.set:
            return ("variants", at, "set", key)
    places = [at for at, vary in enumerate(study.vary) if vary.key == key]
    return ("vary", places[0], "key") if places else ("variants",)


def written(value: Any) -> str:
    """Write a value for a name or a table.

    Parameters
    ----------
    value
        A plain value.
    """
    if isinstance(value, str):
        return value
    return json.dumps(value, ensure_ascii=False, sort_keys=True)
