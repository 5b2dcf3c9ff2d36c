"""Which features force a further clamping: a smallest set that fewer clampings cannot cut."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sequencer.operations.covering import Covering, Wanted
from sequencer.operations.layouts import Layout
from sequencer.part import AnyFeature
from sequencer.part.surfaces import TOOTHED
from sequencer.part.turned import Bore, Chamfer, Face, Radius, TurnedDiameter
from sequencer.setups.holds import hold_words


@dataclass(frozen=True)
class Remedy:
    """A change that avoids a clamping; the operations were made again with it.

    Parameters
    ----------
    change
        What is changed, in words.
    clampings
        Number of clampings with the change.
    how
        How the part is then held, in words.
    """

    change: str
    clampings: int
    how: str


@dataclass(frozen=True)
class Forced:
    """One clamping more than the first, and what forces it.

    Parameters
    ----------
    clamping
        Its number, from 2.
    names
        Features that no fewer clampings cut together; without any one of them fewer would do.
    reason
        Why, in words.
    remedies
        Changes that avoid it, the cheapest first.
    tried
        Changes that do not avoid it.
    """

    clamping: int
    names: tuple[str, ...]
    reason: str
    remedies: tuple[Remedy, ...]
    tried: tuple[str, ...]


#: Finds remedies for a core of features and a number of clampings: those that do, and those tried in vain.
Finder = Callable[[tuple[str, ...], int], tuple[tuple[Remedy, ...], tuple[str, ...]]]


def forced_by(
    covering: Covering, wanted: tuple[Wanted, ...], clamping: int, finder: Finder, refusal: str = ""
) -> Forced:
    """Give the features that force a clamping, with reason and remedies.

    Source: derived; deletion filter: each feature in turn is left out and stays out if the rest is still
    too much for one clamping less

    Parameters
    ----------
    covering
        The candidates.
    wanted
        What must be cut.
    clamping
        Number of the clamping that is forced, from 2.
    finder
        Finds remedies.
    refusal
        Why no order was found where fewer clampings reach everything.
    """
    names = tuple(dict.fromkeys(each.feature for each in wanted))
    if _does(covering, wanted, names, clamping - 1) is not None:
        # What forces the clamping is what must be cut together or in an order, not reach.
        core = tuple(name for name in names if f"{name}/" in refusal) or names
        reason = refusal or "their cuts cannot be put into an order with fewer"
    else:
        core = _core(covering, wanted, names, clamping - 1)
        reason = _bound(covering, wanted, core, clamping - 1) or _reason(covering, wanted, core, clamping - 1)
    remedies, tried = finder(core, clamping - 1)
    return Forced(clamping, core, reason, remedies, tried)


def _core(
    covering: Covering, wanted: tuple[Wanted, ...], all_names: tuple[str, ...], count: int
) -> tuple[str, ...]:
    names, section = list(all_names), covering.holder.section
    ends = (section.lower_face, section.upper_face)

    def weight(name: str) -> int:
        return 5 if name in ends else _weight(covering.holder.part.by_name[name])

    for name in sorted(names, key=weight):
        fewer = [each for each in names if each != name]
        if fewer and _does(covering, wanted, fewer, count) is None:
            names = fewer
    return tuple(names)


def _weight(feature: AnyFeature) -> int:
    """Faces, round surfaces and teeth are named rather than what they carry."""
    if isinstance(feature, Face):
        return 4
    if isinstance(feature, TOOTHED):
        return 3
    if isinstance(feature, Bore | TurnedDiameter):
        return 2
    return 0 if isinstance(feature, Chamfer | Radius) or feature.kind == "marking" else 1


def _does(covering: Covering, wanted: tuple[Wanted, ...], names: Iterable[str], count: int) -> Layout | None:
    kept = set(names)
    return next(covering.layouts([each for each in wanted if each.feature in kept], count, wanted), None)


def _bound(covering: Covering, wanted: tuple[Wanted, ...], core: tuple[str, ...], count: int) -> str:
    """What binds cuts of the core to one clamping, where fewer clampings would do but for that."""
    asked = [each for each in wanted if each.feature in core]
    apart = next(covering.bound_by(()).layouts(asked, count, wanted), None)
    if apart is None:
        return ""
    pairs = covering.together
    for pair in covering.together:
        fewer = tuple(each for each in pairs if each != pair)
        if next(covering.bound_by(fewer).layouts(asked, count, wanted), None) is None:
            pairs = fewer
    said = "; ".join(dict.fromkeys(each.reason for each in pairs))
    held = "; ".join(hold_words(clamping) for clamping in apart.clampings)
    return f"{said}; but for that {count} would do (held {held})"


def _reason(covering: Covering, wanted: tuple[Wanted, ...], core: tuple[str, ...], count: int) -> str:
    """Why each feature of the core is missed where the others are cut."""
    words = []
    if len(core) == 1 and any(each.hard for each in wanted if each.feature == core[0]):
        words = [f"{core[0]} is cut before hardening and again after it"]
        if count > 1:
            words.append("what it stands on then is made first, the other side up")
    for name in core[:3]:
        others = [each for each in core if each != name]
        layout = _does(covering, wanted, others, count) if others else None
        if layout is None:
            continue
        held = "; ".join(hold_words(clamping) for clamping in layout.clampings)
        words.append(f"{name}: {_missed(covering, wanted, name, layout)} (held {held})")
    return "; ".join(words) or f"no way to hold the part lets {core[0]} be cut"


def _missed(covering: Covering, wanted: tuple[Wanted, ...], name: str, layout: Layout) -> str:
    ops = [each for each in wanted if each.feature == name]
    keys = [c.clamping.model_dump_json(exclude={"name"}) for c in covering.candidates]
    said: list[str] = []
    for clamping in layout.clampings:
        index = keys.index(clamping.model_dump_json(exclude={"name"}))
        if name not in covering.reached_by(index):
            said.append(covering.answer(index, name))
            continue
        for each in ops:
            operation = covering.cut_by(index).get(each.name)
            if not covering.cuts(index, each.name) and operation is not None and operation.rejected:
                said.append(f"{each.name}: {operation.rejected[0].sentence}")
                break
    if any(each.hard for each in ops) and layout.hard_from >= len(layout.clampings):
        said.append("it is cut after hardening as well, and nothing is held from before to after it")
    return "; ".join(dict.fromkeys(said)) or "it is cut on the other side of hardening"
