"""What a rule sees: the operations of a part by kind, stage and place, never by a part's own names."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from sequencer.operations import BENCH, Action, FittedClamping, Operation, OperationList, Stage
from sequencer.operations.closeness import has_close_size
from sequencer.part import AnyFeature, Part
from sequencer.part.extents import zone_of
from sequencer.part.profile import SAME
from sequencer.part.section import Section, make_section
from sequencer.part.surfaces import place_of
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import Thread
from sequencer.precedence.arrows import joined_operations
from sequencer.precedence.deduction import Deduction, deduce
from sequencer.precedence.dependency import Dependency
from sequencer.precedence.work import is_late, removes
from sequencer.shop import Shop

Toothed = ExternalGear | InternalGear | DoubleHelicalGear | Spline | BevelGear

_TOOTH_CUTTING = (Action.CUT_TEETH, Action.SEND_OUT)


@dataclass(frozen=True)
class RuleContext:
    """The operations of a part, seen the way rules ask for them.

    Parameters
    ----------
    operations
        All operations.
    known
        What other rules demand already; empty for rules that speak first.
    """

    operations: OperationList
    known: tuple[Dependency, ...] = ()

    @property
    def part(self) -> Part:
        """The part."""
        return self.operations.part

    @property
    def shop(self) -> Shop:
        """The shop."""
        return self.operations.shop

    @property
    def all(self) -> tuple[Operation, ...]:
        """All operations."""
        return self.operations.operations

    @property
    def clampings(self) -> tuple[FittedClamping, ...]:
        """All clampings."""
        return self.operations.clampings

    @cached_property
    def section(self) -> Section:
        """Half-section of the part."""
        return make_section(self.part)

    @cached_property
    def toothed(self) -> tuple[Toothed, ...]:
        """Features with teeth, in file order."""
        return tuple(feature for feature in self.part.features if isinstance(feature, Toothed))

    # -- operations of one feature ---------------------------------------------------------------

    def cuts(self, name: str) -> tuple[Operation, ...]:
        """Operations of a feature that remove material, deburring apart.

        Parameters
        ----------
        name
            Name of the feature.
        """
        listed = self.operations.by_feature.get(name, ())
        return tuple(op for op in listed if removes(op))

    def starts(self, name: str) -> tuple[Operation, ...]:
        """First cut of each half or edge of a feature.

        Parameters
        ----------
        name
            Name of the feature.
        """
        firsts: dict[str, Operation] = {}
        for op in self.cuts(name):
            firsts.setdefault(op.half, op)
        return tuple(firsts.values())

    def begun(self, name: str) -> Operation | None:
        """First cut of a feature; None if it has no operations.

        Parameters
        ----------
        name
            Name of the feature.
        """
        cuts = self.cuts(name)
        return cuts[0] if cuts else None

    def opened(self, name: str) -> Operation | None:
        """First cut that takes stock off a surface, of teeth and threads that of their cylinder.

        Parameters
        ----------
        name
            Name of the feature.
        """
        feature = self.part.by_name.get(name)
        cuts = self.cuts(name)
        if isinstance(feature, Toothed):
            cuts = self.blank(feature)
        elif isinstance(feature, Thread) and not any(op.action is Action.TURN for op in cuts):
            cuts = tuple(op for carrier in self.carriers(feature)[:1] for op in self.cuts(carrier))
        return cuts[0] if cuts else None

    def done(self, name: str, *, hard: bool = False) -> tuple[Operation, ...]:
        """Cuts that complete a feature: the last of each half of a gear, of each kind of work on holes.

        Parameters
        ----------
        name
            Name of the feature.
        hard
            Whether cuts after hardening, and what finishes soft teeth later, count.
        """
        feature = self.part.by_name.get(name)
        if isinstance(feature, Toothed):
            return self.last_teeth(name, hard=hard)
        cuts = [op for op in self.cuts(name) if hard or not is_late(op)]
        threads = [op for op in cuts if op.action in (Action.TAP, Action.REAM)]
        return tuple({op.half: op for op in (threads or cuts)}.values())

    def ready(self, name: str, operation: Operation) -> tuple[Operation, ...]:
        """Cuts that must be done before an operation may refer to a feature, on its side of hardening.

        Parameters
        ----------
        name
            Name of the feature referred to.
        operation
            The operation that refers to it.
        """
        return self.done(name, hard=is_late(operation))

    # -- teeth -----------------------------------------------------------------------------------

    def teeth(self, name: str) -> tuple[Operation, ...]:
        """Operations that cut the teeth of a feature, in the shop or sent out.

        Parameters
        ----------
        name
            Name of the gear or spline.
        """
        listed = self.operations.by_feature.get(name, ())
        return tuple(op for op in listed if op.action in _TOOTH_CUTTING)

    def first_teeth(self, name: str) -> tuple[Operation, ...]:
        """First tooth cuts, one for each half.

        Parameters
        ----------
        name
            Name of the gear or spline.
        """
        firsts: dict[str, Operation] = {}
        for op in self.teeth(name):
            firsts.setdefault(op.half, op)
        if len(firsts) > 1 and firsts.get("") is not None and is_late(firsts[""]):
            del firsts[""]
        return tuple(firsts.values())

    def last_teeth(self, name: str, *, hard: bool = False) -> tuple[Operation, ...]:
        """Tooth cuts that finish the flanks, one for each half.

        Parameters
        ----------
        name
            Name of the gear or spline.
        hard
            Whether cuts after hardening, and what finishes soft teeth later, count.
        """
        lasts: dict[str, Operation] = {}
        for op in self.teeth(name):
            if hard or not is_late(op):
                lasts[op.half] = op
        if "" in lasts and len(lasts) > 1 and is_late(lasts[""]):
            return (lasts[""],)
        return tuple(lasts.values())

    def tooth_roughs(self, name: str) -> tuple[Operation, ...]:
        """Tooth cuts that only rough.

        Parameters
        ----------
        name
            Name of the gear or spline.
        """
        return tuple(op for op in self.teeth(name) if op.stage is Stage.ROUGH)

    def blank(self, gear: Toothed) -> tuple[Operation, ...]:
        """Turning of the cylinder that teeth are cut into, in the order of its stages.

        Parameters
        ----------
        gear
            The gear or spline.
        """
        own = tuple(op for op in self.cuts(gear.name) if op.action not in _TOOTH_CUTTING)
        if own:
            return own
        return tuple(op for name in self.carriers(gear)[:1] for op in self.cuts(name))

    def carriers(self, feature: AnyFeature) -> tuple[str, ...]:
        """Give the surfaces that a feature is cut into: the one it names, else those that lie round its zone.

        Parameters
        ----------
        feature
            Teeth, groove, thread, edge, holes or marking.
        """
        if feature.on is not None:
            return (feature.on,)
        place = place_of(feature)
        if place is None:
            return ()
        z_from, z_to = zone_of(feature)
        return tuple(
            other.name
            for other in self.part.of_kind("turned_diameter", "bore", "taper")
            if place_of(other) == place and other.name != feature.name and _covers(other, z_from, z_to)
        )

    def deburring(self, name: str) -> tuple[Operation, ...]:
        """Deburring operations of a feature.

        Parameters
        ----------
        name
            Name of the feature.
        """
        return self.operations.of(name, action=Action.DEBURR)

    def measuring(self, name: str) -> tuple[Operation, ...]:
        """Measuring operations of a feature.

        Parameters
        ----------
        name
            Name of the feature.
        """
        return self.operations.of(name, action=Action.MEASURE)

    # -- the part --------------------------------------------------------------------------------

    def resolve(self, reference: str) -> str:
        """Give the feature that a datum letter or a name stands for; empty if none.

        Parameters
        ----------
        reference
            Datum letter of the drawing, or the name of a feature.
        """
        name = self.part.datums.get(reference, reference)
        return name if name in self.part.by_name else ""

    @cached_property
    def datum_features(self) -> tuple[str, ...]:
        """Features that carry a datum letter."""
        return tuple(dict.fromkeys(name for name in self.part.datums.values() if name in self.part.by_name))

    def is_close(self, feature: AnyFeature) -> bool:
        """Say whether a feature is close: by grade, roughness, geometry, phase, its teeth or as a datum.

        Parameters
        ----------
        feature
            The feature.
        """
        limits = self.shop.limits
        if feature.name in self.datum_features or feature.geometric or feature.phase is not None:
            return True
        if feature.roughness is not None and feature.roughness <= limits.close_roughness:
            return True
        if isinstance(feature, Toothed):
            return True
        return has_close_size(feature, self.shop)

    @cached_property
    def heat_treatments(self) -> tuple[Operation, ...]:
        """Heat treatments of the whole part."""
        return tuple(op for op in self.all if op.action is Action.HEAT_TREAT)

    def heat_treatment(self, *kinds: str) -> Operation | None:
        """Heat treatment of one of these kinds, or None.

        Parameters
        ----------
        kinds
            Kinds as the part file names them.
        """
        treatment = self.part.heat_treatment
        if treatment is None or treatment.kind not in kinds or not self.heat_treatments:
            return None
        return self.heat_treatments[0]

    def in_clamping(self, clamping: str, *actions: Action) -> tuple[Operation, ...]:
        """Steps of a clamping itself, such as its soak or its release.

        Parameters
        ----------
        clamping
            Name of the clamping.
        actions
            What is done.
        """
        return tuple(op for op in self.operations.by_feature.get(clamping, ()) if op.action in actions)

    # -- what the other rules say ----------------------------------------------------------------

    @cached_property
    def deduction(self) -> Deduction:
        """What follows from what is known."""
        return deduce(self.all, self.known)

    @property
    def possible(self) -> dict[str, tuple[str, ...]]:
        """Clampings left to each operation, by what is known."""
        return self.deduction.possible

    @cached_property
    def groups(self) -> dict[str, tuple[str, ...]]:
        """Operations that are bound to one clamping visit with each one, by what is known."""
        return joined_operations(self.all, self.known)

    def together(self, first: Operation, second: Operation) -> bool:
        """Say whether two operations are bound to one clamping visit, by what is known.

        Parameters
        ----------
        first, second
            The operations.
        """
        return second.name in self.groups[first.name]

    def leads(self, first: Operation, second: Operation) -> bool:
        """Say whether one operation certainly comes before another, by the musts that are known.

        Parameters
        ----------
        first, second
            The operations.
        """
        return self.deduction.reach.leads(first.name, second.name)


def _covers(feature: AnyFeature, z_from: float, z_to: float) -> bool:
    low, high = zone_of(feature)
    return low <= z_from + SAME and z_to - SAME <= high


def machine_clampings(operation: Operation) -> tuple[str, ...]:
    """Clampings on the machine that an operation can be done in.

    Parameters
    ----------
    operation
        The operation.
    """
    return tuple(name for name in operation.clampings if name != BENCH)


def shared(first: Operation, second: Operation) -> tuple[str, ...]:
    """Clampings on the machine that both operations can be done in.

    Parameters
    ----------
    first, second
        The operations.
    """
    return tuple(name for name in machine_clampings(first) if name in second.clampings)
