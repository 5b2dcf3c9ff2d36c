"""What each clamping visit takes its axis, its face and its angle from, and the way from visit to visit."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from sequencer.ledger.visits import RAW, Course, Visit
from sequencer.operations import Action
from sequencer.part import BLANK
from sequencer.tolerancing import Kind, Reclamping, TolerancedRelation

Which = Literal["axis", "face", "angle"]

_MILLED = (Action.MILL, Action.DRILL, Action.CUT_TEETH, Action.REAM, Action.TAP, Action.SEND_OUT)


@dataclass(frozen=True)
class Bearing:
    """A surface that gives a visit its axis, face or angle.

    Parameters
    ----------
    visit
        Number of the visit that takes it.
    feature
        The surface; "blank" for raw skin.
    direct
        True if the surface itself is indicated; False if the part stands on it or is gripped by it.
    parent
        Visit that made the surface; `RAW` for raw skin.
    """

    visit: int
    feature: str
    direct: bool
    parent: int

    @property
    def raw(self) -> bool:
        """Whether the surface is raw."""
        return self.parent == RAW


@dataclass(frozen=True)
class Bearings:
    """The bearings of all visits.

    Parameters
    ----------
    course
        The order surface by surface.
    """

    course: Course

    @cached_property
    def axis(self) -> dict[int, Bearing]:
        """Axis of each visit."""
        return {visit.number: self._axis(visit) for visit in self.course.visits}

    @cached_property
    def face(self) -> dict[int, Bearing]:
        """Face of each visit."""
        return {visit.number: self._face(visit) for visit in self.course.visits}

    @cached_property
    def angle(self) -> dict[int, Bearing]:
        """Angle of the visits that must find one again."""
        found = ((visit.number, self._angle(visit)) for visit in self.course.visits)
        return {number: bearing for number, bearing in found if bearing is not None}

    def stakes(self, visit: Visit, which: Which) -> tuple[TolerancedRelation, ...]:
        """Relations between what a visit makes and what earlier visits made, the closest first.

        Parameters
        ----------
        visit
            The visit.
        which
            Whether they feel its axis, its face or its angle.
        """
        found = [
            relation
            for relation in self.course.relations
            if any(self._enters(visit, relation, partner) for partner in partners_by(relation, which))
        ]
        return tuple(sorted(found, key=lambda relation: relation.allowance))

    def _enters(self, visit: Visit, relation: TolerancedRelation, partner: str) -> bool:
        numbers = sorted(self.numbers(relation, partner))
        return len(numbers) == 2 and numbers[1] == visit.number and numbers[0] != RAW

    def numbers(self, relation: TolerancedRelation, partner: str) -> set[int]:
        """Visits in which a relation's feature and its partner are made; work outside is left out.

        Parameters
        ----------
        relation
            The relation.
        partner
            Its datum, or the feature it counts from.
        """
        own = self.course.making(relation.feature, relation.half)
        other = self.course.making(partner)
        return {step.visit for step in (own, other) if step is not None and step.visit}

    # -- one visit ---------------------------------------------------------------------------------

    def _axis(self, visit: Visit) -> Bearing:
        candidates = self.course.teeth_after_hardening(visit) or self.course.round_before(visit)
        wanted = self._shown_by(visit, "axis", candidates)
        if wanted:
            return self._bearing(visit, wanted, direct=True)
        held = visit.fitted.clamping.on
        gripped = self.course.making(held, before=visit.number) if held != BLANK else None
        if gripped is not None and isinstance(held, str) and "jaws" in visit.fitted.clamping.hold:
            return Bearing(visit.number, held, False, gripped.visit)
        return Bearing(visit.number, BLANK, True, RAW)

    def _face(self, visit: Visit) -> Bearing:
        seat = visit.fitted.clamping.rests_on
        made = self.course.making(seat, before=visit.number) if seat != BLANK else None
        if made is not None:
            return Bearing(visit.number, seat, False, made.visit)
        shown = self._shown_by(visit, "face", self.course.faces_before(visit))
        return self._bearing(visit, shown, direct=True) if shown else Bearing(visit.number, BLANK, False, RAW)

    def _angle(self, visit: Visit) -> Bearing | None:
        stakes = self.stakes(visit, "angle")
        if not stakes:
            return None
        for name in self._earlier(visit, stakes, "angle"):
            if self.course.reached(visit, name):
                return self._bearing(visit, name, direct=True)
        return self._other_angle(visit, stakes)

    def _other_angle(self, visit: Visit, stakes: Iterable[TolerancedRelation]) -> Bearing | None:
        """Something with an angle that was made together with the counterpart and can be probed."""
        for name in self._earlier(visit, stakes, "angle"):
            made = self.course.making(name, before=visit.number)
            for other, steps in self.course.cuts.items():
                last = steps[-1]
                together = made is not None and last.visit == made.visit
                if together and last.operation.action in _MILLED and self.course.reached(visit, other):
                    return self._bearing(visit, other, direct=True)
        return None

    def _bearing(self, visit: Visit, name: str, *, direct: bool) -> Bearing:
        made = self.course.making(name, before=visit.number)
        return Bearing(visit.number, name, direct, made.visit if made is not None else RAW)

    def _shown_by(self, visit: Visit, which: Which, candidates: tuple[str, ...]) -> str:
        """The counterpart of the closest relation, else what was made with it, a datum, or the best."""
        stakes = self.stakes(visit, which)
        for name in self._earlier(visit, stakes, which):
            if name in candidates:
                return name
            made = self.course.making(name, before=visit.number)
            for other in candidates:
                twin = self.course.making(other, before=visit.number)
                if made is not None and twin is not None and made.visit == twin.visit:
                    return other
        letters = self.course.operations.part.datums.values()
        best = [name for name in candidates if self.course.is_finished(name, visit.number)] or candidates
        return next((name for name in best if name in letters), best[0] if best else "")

    def _earlier(self, visit: Visit, stakes: Iterable[TolerancedRelation], which: Which) -> Iterator[str]:
        """Of each relation the surface that an earlier visit made."""
        for relation in stakes:
            for partner in partners_by(relation, which):
                for name in (partner, relation.feature):
                    made = self.course.making(name, relation.half if name == relation.feature else "")
                    if made is not None and 0 < made.visit < visit.number:
                        yield name

    # -- from visit to visit -----------------------------------------------------------------------

    def route(self, which: Which, first: int, second: int) -> tuple[Reclamping, ...]:
        """Re-clampings on the way between two visits: what enters between surfaces made in them.

        Parameters
        ----------
        which
            Axis, face or angle.
        first, second
            Numbers of the visits.
        """
        tree: dict[int, Bearing] = {"axis": self.axis, "face": self.face, "angle": self.angle}[which]
        up, down = self._climb(tree, first), self._climb(tree, second)
        shared = [number for number in up if number in down]
        meeting = shared[0] if shared else RAW
        numbers = [*up[: up.index(meeting)], *down[: down.index(meeting)]] if shared else [first, second]
        if not shared and which == "angle":
            numbers = [max(first, second)]
        return tuple(self._reclamping(tree.get(number), number) for number in sorted(dict.fromkeys(numbers)))

    def _climb(self, tree: dict[int, Bearing], number: int) -> list[int]:
        way = [number]
        while way[-1] in tree and tree[way[-1]].parent not in way:
            way.append(tree[way[-1]].parent)
        return way

    def _reclamping(self, bearing: Bearing | None, number: int) -> Reclamping:
        visit = next(each for each in self.course.visits if each.number == number)
        shown = bearing.feature if bearing is not None else ""
        diameter = self.course.context.section.extent(shown).outer if shown not in ("", BLANK) else 0.0
        raw = bearing is not None and bearing.raw
        return Reclamping(visit.name, visit.fitted.means, shown, diameter, raw)


def partners_by(relation: TolerancedRelation, which: Which) -> tuple[str, ...]:
    """Partners of a relation by which it feels the axis, the face or the angle of a clamping.

    Source: derived

    Parameters
    ----------
    relation
        The relation.
    which
        Axis, face or angle.
    """
    phase = relation.kind is Kind.PHASE
    if which == "angle":
        return (relation.other,) if phase else ()
    if which == "axis":
        return tuple(name for name in (relation.axis, relation.other if phase else "") if name)
    height = relation.kind is Kind.HEIGHT
    return tuple(name for name in (relation.face, relation.axis, relation.other if height else "") if name)
