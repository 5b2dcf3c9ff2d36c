"""Checks of all names in a part document: each named thing exists and nothing refers to itself in a circle.

The checks read the plain values of the file, so that they also run on a part that has other faults.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, Final

from sequencer.part.fault import Fault, Path, did_you_mean
from sequencer.part.part import BLANK

TOOTHED_KINDS: Final = ("external_gear", "internal_gear", "double_helical_gear", "spline", "bevel_gear")
#: Kinds that have an angle of their own about the axis.
TIMED_KINDS: Final = (*TOOTHED_KINDS, "keyway", "bolt_circle", "flat", "pocket", "marking")
#: Names that have a meaning already.
RESERVED: Final = {
    BLANK: "the raw surface of the blank",
    "bench": "work that is done beside the machine",
    "part": 'work on the whole part, such as "part/inspect"',
}
#: Names of clampings that are proposed where the part gives none.
_PROPOSED: Final = ("I", "II", "III", "IV")
_OUTSIDE: Final = ("turned_diameter", "external_gear", "double_helical_gear", "bevel_gear")
_INSIDE: Final = ("bore", "internal_gear")

Entry = Mapping[str, Any]


def check_names(document: Any) -> tuple[Fault, ...]:
    """Check all names of a part document.

    Source: derived

    Parameters
    ----------
    document
        The plain values of a part file, right or wrong.
    """
    if not isinstance(document, Mapping):
        return ()
    return tuple(_Names(document).faults())


def _entries(document: Entry, key: str) -> list[tuple[int, Entry]]:
    """The groups of keys in a list of the document, with their positions."""
    listed = document.get(key)
    if not isinstance(listed, list | tuple):
        return []
    return [(i, entry) for i, entry in enumerate(listed) if isinstance(entry, Mapping)]


def _words(value: Any) -> list[tuple[int, str]]:
    """The words of a list, with their positions."""
    if not isinstance(value, list | tuple):
        return []
    return [(i, word) for i, word in enumerate(value) if isinstance(word, str)]


class _Names:
    """All names of one document and the checks on them."""

    def __init__(self, document: Entry) -> None:
        self.features = _entries(document, "features")
        self.clampings = _entries(document, "clampings")
        self.by_name = {e["name"]: e for _, e in self.features if isinstance(e.get("name"), str)}
        datums = document.get("datums")
        self.datums: Mapping[Any, Any] = datums if isinstance(datums, Mapping) else {}
        order = document.get("order")
        self.order: Entry = order if isinstance(order, Mapping) else {}

    def faults(self) -> Iterator[Fault]:
        yield from self._twice("features", self.features)
        yield from self._twice("clampings", self.clampings)
        yield from self._shared()
        yield from self._datum_letters()
        for at, feature in self.features:
            yield from self._feature(("features", at), feature)
        for at, clamping in self.clampings:
            yield from self._clamping(("clampings", at), clamping)
        yield from self._wishes()
        yield from self._circles()

    def _twice(self, key: str, entries: list[tuple[int, Entry]]) -> Iterator[Fault]:
        first: dict[str, int] = {}
        for at, entry in entries:
            name = entry.get("name")
            if not isinstance(name, str):
                continue
            if name in first:
                limit = f"{key}[{first[name]}] has it already"
                yield Fault(
                    (key, at, "name"), f"name {name!r} is used twice", limit, "give each its own name"
                )
            elif name in RESERVED:
                what = f"{name!r} means {RESERVED[name]}"
                yield Fault((key, at, "name"), what, "", "choose another name")
            first.setdefault(name, at)

    def _shared(self) -> Iterator[Fault]:
        """Operations are named after features and clampings, so these have different names."""
        for at, clamping in self.clampings:
            name = clamping.get("name")
            if isinstance(name, str) and name in self.by_name and name not in RESERVED:
                what = f"a feature and a clamping are both called {name!r}"
                limit = "operations carry the name of their feature or clamping"
                yield Fault(("clampings", at, "name"), what, limit, "give one of them another name")

    def _known(
        self, path: Path, name: Any, wanted: str = "feature", also: tuple[str, ...] = ()
    ) -> Iterator[Fault]:
        """Complain about a name that no feature has."""
        if isinstance(name, str) and name not in self.by_name and name not in also:
            remedy = did_you_mean(name, [*self.by_name, *also], "features")
            yield Fault(path, f"there is no {wanted} {name!r}", "", remedy)

    def _datum_letters(self) -> Iterator[Fault]:
        for letter, name in self.datums.items():
            yield from self._known(("datums", str(letter)), name)

    def _letters(self, path: Path, value: Any) -> Iterator[Fault]:
        words = _words(value)
        for at, letter in words:
            if any(other == letter for before, other in words if before < at):
                yield Fault((*path, at), f"datum {letter!r} is named twice", "", "name each datum once")
            if letter in self.datums:
                continue
            if letter in self.by_name:
                remedy = f"give the feature a letter under datums, such as A: {letter}, and refer to that"
            else:
                remedy = did_you_mean(letter, [str(known) for known in self.datums], "datums of this part")
            yield Fault((*path, at), f"there is no datum {letter!r}", "", remedy)

    def _feature(self, path: Path, feature: Entry) -> Iterator[Fault]:
        yield from self._letters((*path, "datums"), feature.get("datums"))
        tolerances = feature.get("geometric")
        if isinstance(tolerances, list | tuple):
            for at, tolerance in enumerate(tolerances):
                if isinstance(tolerance, Mapping):
                    yield from self._letters((*path, "geometric", at, "to"), tolerance.get("to"))
        for key in ("on", "mounting_face"):
            yield from self._known((*path, key), feature.get(key))
        for at, name in _words(feature.get("next_to")):
            yield from self._known((*path, "next_to", at), name)
            if name == feature.get("name"):
                yield Fault((*path, "next_to", at), "a feature is not next to itself", "", "take it out")
        yield from self._gear((*path, "gear"), feature)
        yield from self._phase((*path, "phase", "to"), feature)
        yield from self._clamped((*path, "clamping"), feature.get("clamping"))

    def _gear(self, path: Path, feature: Entry) -> Iterator[Fault]:
        name = feature.get("gear")
        if not isinstance(name, str):
            return
        apex = feature.get("kind") == "apex_groove"
        kinds = ("double_helical_gear",) if apex else TOOTHED_KINDS
        wanted = "double-helical gear" if apex else "gear or spline"
        listed = "double-helical gears of this part" if apex else "gears and splines of this part"
        fitting = [other for other, entry in self.by_name.items() if entry.get("kind") in kinds]
        if name not in self.by_name:
            remedy = did_you_mean(name, fitting, listed)
            yield Fault(path, f"there is no {wanted} {name!r}", "", remedy)
        elif name not in fitting and isinstance(self.by_name[name].get("kind"), str):
            kind = self.by_name[name].get("kind")
            remedy = did_you_mean("", fitting, listed)
            yield Fault(path, f"{name!r} is of kind {kind}, no {wanted}", "", remedy)

    def _phase(self, path: Path, feature: Entry) -> Iterator[Fault]:
        phase = feature.get("phase")
        if not isinstance(phase, Mapping):
            return
        name, other = feature.get("name"), phase.get("to")
        if isinstance(feature.get("kind"), str) and feature["kind"] not in TIMED_KINDS:
            what = f"a feature of kind {feature['kind']} is round and has no angle"
            yield Fault(path[:-1], what, "", "give the phase at a gear, hole circle, keyway, flat or pocket")
        yield from self._known(path, other)
        if isinstance(other, str) and other == name:
            yield Fault(path, "the phase refers to the feature itself", "", "name the feature it is timed to")
        elif isinstance(other, str) and other in self.by_name:
            kind = self.by_name[other].get("kind")
            if isinstance(kind, str) and kind not in TIMED_KINDS:
                what = f"{other!r} is of kind {kind}: it is round and has no angle"
                yield Fault(path, what, "", "time it to a gear, hole circle, keyway, flat or pocket")

    def _clamped(self, path: Path, name: Any) -> Iterator[Fault]:
        known = [entry.get("name") for _, entry in self.clampings]
        names = [word for word in known if isinstance(word, str)]
        if isinstance(name, str) and names and name not in names:
            remedy = did_you_mean(name, names, "clampings")
            yield Fault(path, f"there is no clamping {name!r}", "", remedy)

    def _clamping(self, path: Path, clamping: Entry) -> Iterator[Fault]:
        for key in ("on", "rests_on"):
            yield from self._known((*path, key), clamping.get(key), also=(BLANK,))
        yield from self._gripped((*path, "on"), clamping)
        yield from self._stands((*path, "rests_on"), clamping)

    def _gripped(self, path: Path, clamping: Entry) -> Iterator[Fault]:
        hold, name = clamping.get("hold"), clamping.get("on")
        if not isinstance(name, str) or not isinstance(hold, str):
            return
        if name == BLANK:
            if hold == "bolts":
                remedy = "name a bolt_circle, or hold the blank by jaws or on the face plate"
                yield Fault(path, "the raw blank has no holes to bolt through", "", remedy)
            return
        entry = self.by_name.get(name)
        kind = entry.get("kind") if entry else None
        if entry is None or not isinstance(kind, str):
            return
        wanted = _wanted(hold, entry, kind)
        if wanted:
            yield Fault(
                path, f"{hold} cannot hold on {name!r}, which is of kind {kind}", "", f"name {wanted}"
            )

    def _stands(self, path: Path, clamping: Entry) -> Iterator[Fault]:
        name, up = clamping.get("rests_on"), clamping.get("up")
        face = self.by_name.get(name) if isinstance(name, str) else None
        if face is None or not isinstance(face.get("kind"), str):
            return
        if face.get("kind") != "face":
            faces = [other for other, entry in self.by_name.items() if entry.get("kind") == "face"]
            remedy = did_you_mean("", [*faces, BLANK], "faces")
            yield Fault(path, f"{name!r} is of kind {face.get('kind')}, no face", "", remedy)
        elif isinstance(up, str) and face.get("side") == up:
            what = f"{name!r} looks to the {up} side, which is up in this clamping"
            yield Fault(path, what, "the part stands on a face that looks down", "correct up or rests_on")

    def _wishes(self) -> Iterator[Fault]:
        clampings = [entry.get("name") for _, entry in self.clampings]
        named = [name for name in clampings if isinstance(name, str)]
        heads = [*self.by_name, *(named or _PROPOSED), "part"]
        for key in ("before", "never_next", "same_clamping"):
            pairs = self.order.get(key)
            if not isinstance(pairs, list | tuple):
                continue
            for at, pair in enumerate(pairs):
                words = _words(pair)
                for position, operation in words:
                    yield from self._operation(("order", key, at, position), operation, heads)
                if len(words) == 2 and words[0][1] == words[1][1]:
                    yield Fault(("order", key, at), f"{words[0][1]!r} is paired with itself", "", "name two")
                elif key == "before" and words[::-1] and _turned(pair) in map(_pair, pairs[:at]):
                    what = f"{words[0][1]!r} is wanted before and after {words[1][1]!r}"
                    yield Fault(("order", key, at), what, "", "take one of the two wishes out")

    def _operation(self, path: Path, operation: str, heads: list[str]) -> Iterator[Fault]:
        head, slash, word = operation.partition("/")
        if not slash or not word:
            yield Fault(
                path, f"{operation!r} is no operation", "", 'write feature/word, such as "bore/finish"'
            )
        elif head not in heads:
            yield Fault(
                path, f"there is no feature or clamping {head!r}", "", did_you_mean(head, heads, "names")
            )

    def _circles(self) -> Iterator[Fault]:
        carriers = {name: self._carrier(entry) for name, entry in self.by_name.items()}
        yield from self._loops(carriers, "on", "{0} is carried by {1}", "name what really carries it")
        timed = {name: self._timed_to(entry) for name, entry in self.by_name.items()}
        yield from self._loops(timed, "phase", "{0} is timed to {1}", "time only one of them to the other")
        located = {name: self._located_by(entry) for name, entry in self.by_name.items()}
        yield from self._loops(
            located, "datums", "{0} is located by {1}", "let the first datum stand by itself"
        )

    def _carrier(self, feature: Entry) -> list[str]:
        name = feature.get("on")
        return [name] if isinstance(name, str) and name in self.by_name else []

    def _timed_to(self, feature: Entry) -> list[str]:
        phase = feature.get("phase")
        name = phase.get("to") if isinstance(phase, Mapping) else None
        own = feature.get("name")
        return [name] if isinstance(name, str) and name in self.by_name and name != own else []

    def _located_by(self, feature: Entry) -> list[str]:
        letters = [letter for _, letter in _words(feature.get("datums"))]
        tolerances = feature.get("geometric")
        for tolerance in tolerances if isinstance(tolerances, list | tuple) else ():
            if isinstance(tolerance, Mapping):
                letters += [letter for _, letter in _words(tolerance.get("to"))]
        named = [self.datums.get(letter) for letter in letters]
        return list(dict.fromkeys(name for name in named if isinstance(name, str) and name in self.by_name))

    def _loops(self, arrows: dict[str, list[str]], key: str, words: str, remedy: str) -> Iterator[Fault]:
        for loop in _loops(arrows):
            at = next(i for i, feature in self.features if feature.get("name") == loop[0])
            steps = ", ".join(words.format(a, b) for a, b in zip(loop, [*loop[1:], loop[0]], strict=True))
            key_here = key if self.by_name[loop[0]].get(key) else "geometric"
            yield Fault(("features", at, key_here), f"a circle: {steps}", "", remedy)


def _wanted(hold: str, entry: Entry, kind: str) -> str:
    """What a way of holding needs; empty if the feature will do."""
    if hold == "bolts":
        return "" if kind == "bolt_circle" else "a bolt_circle"
    if hold not in ("outside jaws", "inside jaws"):
        return ""
    place = "outside" if kind in _OUTSIDE else "inside" if kind in _INSIDE else entry.get("place", "outside")
    needed = hold.split()[0]
    round_kinds = (*_OUTSIDE, *_INSIDE, "taper", "spline", "thread")
    if kind not in round_kinds or place != needed:
        return "a turned_diameter or another round outside" if needed == "outside" else "a bore"
    return ""


def _pair(value: Any) -> tuple[Any, ...]:
    return tuple(value) if isinstance(value, list | tuple) else ()


def _turned(value: Any) -> tuple[Any, ...]:
    return _pair(value)[::-1]


def _loops(arrows: Mapping[str, list[str]]) -> list[list[str]]:
    """Circles among arrows, each once, beginning at its first member in the order of the file."""
    place = {name: at for at, name in enumerate(arrows)}
    found: dict[tuple[str, ...], None] = {}
    done: set[str] = set()
    for start in arrows:
        trail: list[str] = []
        rows = [iter((start,))]
        while rows:
            name = next(rows[-1], None)
            if name is None:
                rows.pop()
                if trail:
                    done.add(trail.pop())
            elif name in trail:
                loop = trail[trail.index(name) :]
                first = min(range(len(loop)), key=lambda i: place[loop[i]])
                found[(*loop[first:], *loop[:first])] = None
            elif name not in done:
                trail.append(name)
                rows.append(iter(arrows[name]))
    return [list(loop) for loop in found]
