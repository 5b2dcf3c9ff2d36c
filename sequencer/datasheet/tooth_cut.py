"""What a hob or skiving cutter of the shop leaves of a tooth space, played through in space."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final, Literal, get_args

from sequencer.cutting import hobbing, skiving
from sequencer.cutting.simulation import (
    Deviation,
    HobbingSetup,
    PartlyCut,
    Profile,
    SkivingSetup,
    hobbing_setup,
    ideal_cutter,
    involute_cutter,
    profile_of,
    simulate_hobbing,
    simulate_skiving,
    skiving_setup,
)
from sequencer.datasheet.wanted import Toothed
from sequencer.errors import BadFile, Finding, SequencerError, Severity
from sequencer.operations.operation import Action, Alternative, OperationList
from sequencer.operations.teeth.checks import match_check, normal_module_of
from sequencer.operations.teeth.zone import Teeth, teeth_of
from sequencer.part.fault import near
from sequencer.part.section import make_section
from sequencer.part.toothed import BevelGear
from sequencer.shop.tools import Hob, SkivingCutter
from sequencer.units import Mm, parse, shown

Mistake = Literal["sense", "differential", "angle"]
Edge = Literal["made", "involute"]
MISTAKES: Final[tuple[Mistake, ...]] = get_args(Mistake)
EDGES: Final[tuple[Edge, ...]] = get_args(Edge)

#: Feed for one table turn where the plan does not use the cutter here [mm].
USUAL_FEED: Final[dict[str, Mm]] = {"hob": 2.0, "skiving cutter": 0.1}
#: Times that a profile is made narrower before the cutter is given up.
_TRIES: Final = 4
#: An end of the profile that can be cut is drawn in by this share of the tooth depth.
_INSET: Final = 1e-3
_MISTAKE_WORDS: Final[dict[Mistake, str]] = {
    "sense": "MISTAKE: the table turns the wrong way",
    "differential": "MISTAKE: the differential has the wrong sign",
    "angle": "MISTAKE: the axis is tilted to the wrong side",
}
_EDGE_WORDS: Final[dict[Edge, str]] = {
    "made": "made for this gear and set-up",
    "involute": "a plain involute",
}


@dataclass(frozen=True, kw_only=True)
class CutWanted:
    """Which cut is wanted.

    Parameters
    ----------
    mistake
        What is set wrong; None for the planned set-up.
    edge
        Edge of a skiving cutter: the one made for this very gear and set-up, or a plain involute.
    feed_marks
        Whether the marks of the axial feed of a hob count.
    start_diameter
        Smaller end of the compared profile; None for the whole involute [mm].
    end_diameter
        Larger end of the compared profile; None for the whole involute [mm].
    """

    mistake: Mistake | None = None
    edge: Edge = "made"
    feed_marks: bool = False
    start_diameter: Mm | None = None
    end_diameter: Mm | None = None


def cut_wanted(
    mistake: str | None, edge: str, start: str | None, end: str | None, *, feed_marks: bool = False
) -> CutWanted:
    """Read which cut is wanted from the words of options.

    Parameters
    ----------
    mistake
        What is set wrong; None for nothing.
    edge
        Edge of a skiving cutter.
    start, end
        Ends of the compared profile as lengths; None for the whole involute.
    feed_marks
        Whether feed marks count.

    Raises
    ------
    BadFile
        With every fault of these options.
    """
    faults: list[Finding] = []
    known = [word for word in MISTAKES if word == mistake]
    if mistake is not None and not known:
        faults.append(_unknown("--mistake", mistake, MISTAKES))
    edges = [word for word in EDGES if word == edge]
    if not edges:
        faults.append(_unknown("--edge", edge, EDGES))
    ends: list[Mm | None] = []
    for name, text in (("--from-diameter", start), ("--to-diameter", end)):
        try:
            ends.append(None if text is None else float(parse(text, "length")))
        except ValueError as error:
            faults.append(Finding(Severity.ERROR, name, str(error), subject="options"))
    if faults:
        raise BadFile(tuple(faults))
    return CutWanted(
        mistake=known[0] if known else None,
        edge=edges[0],
        feed_marks=feed_marks,
        start_diameter=ends[0],
        end_diameter=ends[1],
    )


def _unknown(name: str, word: str, known: tuple[str, ...]) -> Finding:
    close = near(word, known)
    remedy = f"did you mean {close!r}?" if close else ""
    limit = f"one of {', '.join(known)}"
    return Finding(Severity.ERROR, name, f"{word!r} is not known", limit, remedy, "options")


@dataclass(frozen=True)
class ToothCut:
    """One tooth space as a cutter leaves it.

    Parameters
    ----------
    name
        Tooth system, with the half of a double-helical gear.
    tool
        Name of the cutter.
    settings
        The set-up in words, one a line.
    notes
        What limits the answer: a narrower profile, a way that the method table refuses.
    deviation
        What is left on both flanks.
    """

    name: str
    tool: str
    settings: tuple[str, ...]
    notes: tuple[str, ...]
    deviation: Deviation

    @property
    def file(self) -> str:
        """Name for the file of its picture."""
        return f"cut-{'-'.join(self.name.split(' half of ')[::-1])}-{self.tool}"

    @property
    def worst(self) -> tuple[str, Mm, float]:
        """Flank, diameter [mm] and deviation [um] where it is largest."""
        points = [
            (flank, diameter, value)
            for flank, pairs in (("left", self.deviation.left), ("right", self.deviation.right))
            for diameter, value in pairs
        ]
        return max(points, key=lambda point: abs(point[2]))


def tooth_cuts(
    operations: OperationList, feature: Toothed, tool: Hob | SkivingCutter, wanted: CutWanted
) -> tuple[ToothCut, ...]:
    """Cut a tooth space of a feature with a cutter; both halves of a double-helical gear.

    Parameters
    ----------
    operations
        Operations of the part on the shop: the feed is theirs.
    feature
        The tooth system.
    tool
        Hob or skiving cutter.
    wanted
        Which cut is wanted.

    Raises
    ------
    SequencerError
        When the cutter does not suit the teeth, or the mistake makes no difference to them.
    OutOfRange
        When no cut is possible, such as an internal gear with a hob.
    """
    if isinstance(feature, BevelGear):
        raise SequencerError(
            "a bevel gear is not generated by a hob or a skiving cutter here",
            where=feature.name,
            remedy="name a cylindrical gear or a spline",
        )
    return tuple(
        _cut(operations, teeth, tool, wanted) for teeth in teeth_of(make_section(operations.part), feature)
    )


def _cut(operations: OperationList, teeth: Teeth, tool: Hob | SkivingCutter, wanted: CutWanted) -> ToothCut:
    fault = match_check(teeth, tool).fault
    if fault is not None:
        raise SequencerError(fault.sentence, where=teeth.words, remedy="choose a cutter of these teeth")
    if wanted.mistake == "differential" and not teeth.helix_angle:
        raise SequencerError(
            "straight teeth are cut without a differential",
            where=teeth.words,
            remedy="choose the mistake sense or angle",
        )
    way, notes = _planned(operations, teeth, tool)
    feed = _feed(way, tool)
    profile = profile_of(teeth.gear, wanted.start_diameter, wanted.end_diameter)
    if isinstance(tool, Hob):
        hobbed = _hob(teeth, tool, feed)
        settings = _hob_words(tool, hobbed, wanted)
        used = _wrong_hob(hobbed, wanted.mistake)
        deviation = simulate_hobbing(teeth.gear, used, profile, feed_marks=wanted.feed_marks)
    else:
        skived = skiving_setup(teeth.gear, tool.teeth, _signed_helix(tool), feed)
        settings = _skiving_words(tool, skived, wanted)
        deviation, narrowed = _skive(teeth, skived, wanted, profile)
        notes = (*notes, *narrowed)
    if wanted.mistake is not None:
        settings = (*settings, _MISTAKE_WORDS[wanted.mistake])
        notes = (*notes, *_mistake_notes(teeth, tool, wanted.mistake, profile, deviation))
    return ToothCut(teeth.words, tool.name, settings, notes, deviation)


def _mistake_notes(
    teeth: Teeth, tool: Hob | SkivingCutter, mistake: Mistake, profile: Profile, deviation: Deviation
) -> tuple[str, ...]:
    """What a mistake does that the flanks alone do not say."""
    if _nothing_left(profile, deviation):
        return ("nothing is left of the tooth: half its thickness is the largest deviation that can be",)
    if mistake != "angle" or isinstance(tool, Hob):
        return ()
    across = 2 * abs(skiving.crossed_axes_angle(_signed_helix(tool), teeth.signed_helix, teeth.internal))
    return (
        f"only the cutting edge is compared; with this tilt the teeth of the cutter stand "
        f"{shown(across, 2)} deg across the gap, and their bodies behind the edge mill away the teeth",
    )


def _nothing_left(profile: Profile, deviation: Deviation) -> bool:
    """Whether both flanks are cut back to the middle of the tooth all the way."""
    gear = profile.gear

    def half_tooth(diameter: Mm) -> float:
        return 1000 * profile.normal_arm * (profile.half_pitch - gear.space_width_at(diameter) / diameter)

    pairs = (*deviation.left, *deviation.right)
    return all(value <= -(1 - _INSET) * half_tooth(diameter) for diameter, value in pairs)


def _planned(
    operations: OperationList, teeth: Teeth, tool: Hob | SkivingCutter
) -> tuple[Alternative | None, tuple[str, ...]]:
    """The way that cuts these teeth with the tool; where there is none, the reason of the method table."""
    reason = ""
    for operation in reversed(operations.of(teeth.feature.name, action=Action.CUT_TEETH)):
        if operation.half != teeth.half:
            continue
        for way in operation.alternatives:
            if way.tool == tool.name:
                return way, ()
        for rejection in operation.rejected:
            if rejection.tool == tool.name and not reason:
                reason = rejection.sentence
    text = f"not planned with {tool.name}: {reason}" if reason else f"no method uses {tool.name} here"
    return None, (text,)


def _feed(way: Alternative | None, tool: Hob | SkivingCutter) -> Mm:
    """The last axial feed of the way; a usual one where there is no way."""
    feeds = [fact.value for fact in way.facts if fact.name.startswith("axial feed")] if way else []
    return feeds[-1] if feeds else USUAL_FEED[tool.kind]


def _hob(teeth: Teeth, tool: Hob, feed: Mm) -> HobbingSetup:
    module = normal_module_of(tool.module)
    pitch = hobbing.hob_pitch_diameter(float(tool.outside_diameter), tool.addendum * module)
    return hobbing_setup(teeth.gear, tool.starts, tool.hand, pitch, feed, tool.gashes)


def _signed_helix(tool: SkivingCutter) -> float:
    angle = float(tool.helix_angle)
    return -angle if tool.hand == "left" else angle


def _wrong_hob(setup: HobbingSetup, mistake: Mistake | None) -> HobbingSetup:
    if mistake == "sense":
        return replace(setup, ratio=-setup.ratio)
    if mistake == "differential":
        return replace(setup, differential=-setup.differential)
    return replace(setup, swivel=-setup.swivel) if mistake == "angle" else setup


def _wrong_skiving(setup: SkivingSetup, mistake: Mistake | None) -> SkivingSetup:
    if mistake == "sense":
        return replace(setup, ratio=-setup.ratio)
    if mistake == "differential":
        return replace(setup, differential=-setup.differential)
    return replace(setup, crossed_axes_angle=-setup.crossed_axes_angle) if mistake == "angle" else setup


def _skive(
    teeth: Teeth, setup: SkivingSetup, wanted: CutWanted, profile: Profile
) -> tuple[Deviation, tuple[str, ...]]:
    """Cut with the edge that the right set-up asks for; on the part of the profile that has one."""
    make = involute_cutter if wanted.edge == "involute" else ideal_cutter
    notes: tuple[str, ...] = ()
    used = _wrong_skiving(setup, wanted.mistake)
    for _ in range(_TRIES):
        try:
            edges = make(profile, setup)
        except PartlyCut as error:
            inset = _INSET * teeth.gear.tooth_depth
            profile = Profile(teeth.gear, error.start_diameter + inset, error.end_diameter - inset)
            notes = (
                f"{error.what}: compared from diameter {shown(profile.start_diameter)} to "
                f"{shown(profile.end_diameter)} mm only",
            )
            continue
        return simulate_skiving(teeth.gear, used, edges, profile), notes
    raise SequencerError(
        f"no part of the profile can be cut by {setup.cutter_teeth} teeth in this set-up",
        where=teeth.words,
        remedy="take a cutter with more teeth or a smaller crossed-axes angle",
    )


def _hob_words(tool: Hob, setup: HobbingSetup, wanted: CutWanted) -> tuple[str, ...]:
    marks = "with" if wanted.feed_marks else "without"
    return (
        f"hob {tool.name}: {setup.hand} hand, starts {setup.starts}, gashes {setup.used_gashes}, "
        f"pitch diameter {shown(setup.pitch_diameter)} mm",
        f"swivel {shown(setup.swivel, 4)} deg, centre distance {shown(setup.centre_distance)} mm, "
        f"{shown(abs(1 / setup.ratio), 5)} hob turns for one table turn, "
        f"differential {shown(setup.differential, 8)} turns/mm",
        f"feed {shown(setup.feed)} mm/rev, {marks} feed marks",
    )


def _skiving_words(tool: SkivingCutter, setup: SkivingSetup, wanted: CutWanted) -> tuple[str, ...]:
    return (
        f"skiving cutter {tool.name}: {setup.cutter_teeth} teeth, helix {shown(setup.cutter_helix, 3)} deg, "
        f"edge {_EDGE_WORDS[wanted.edge]}",
        f"crossed axes {shown(setup.crossed_axes_angle, 4)} deg, centre distance "
        f"{shown(setup.centre_distance)} mm, {shown(abs(1 / setup.ratio), 5)} cutter turns for one table "
        f"turn, {'same' if setup.ratio > 0 else 'opposite'} sense, "
        f"differential {shown(setup.differential, 8)} turns/mm",
        f"feed {shown(setup.feed)} mm/rev, taken as small: no feed marks",
    )
