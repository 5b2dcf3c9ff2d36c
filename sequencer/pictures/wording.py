"""Words that sheets and pictures share: sizes as written, how a part is held, what it is made from."""

from __future__ import annotations

from sequencer.part import AnyFeature, Blank, Clamping
from sequencer.part.feature import Zone
from sequencer.part.milled import BoltCircle, Flat, Keyway, Marking, Pocket
from sequencer.part.toothed import BevelGear, DoubleHelicalGear, ExternalGear, InternalGear, Spline
from sequencer.part.turned import (
    ApexGroove,
    Bore,
    Chamfer,
    Face,
    FaceGroove,
    Groove,
    Radius,
    RunOutGroove,
    Taper,
    Thread,
    TurnedDiameter,
)
from sequencer.units import Quantity

HOLDS = {
    "outside jaws": "jaws outside on",
    "inside jaws": "jaws inside in",
    "bolts": "bolted down through",
    "face plate": "on a face plate, located by",
}


def size_words(feature: AnyFeature, *, short: bool = False) -> str:
    """Give the main sizes of a feature, each as the planner wrote it.

    Parameters
    ----------
    feature
        Feature of the part.
    short
        True for the first size with its tolerances only.
    """
    words = [*_sizes(feature)][: 1 if short else None]
    tolerance = getattr(feature, "tolerance", None)
    if tolerance is not None and not isinstance(feature, Keyway | Flat | Pocket):
        words[0] = f"{words[0]} {tolerance}"
    flank_class = getattr(feature, "flank_class", None)
    if flank_class is not None:
        words.append(str(flank_class))
    if feature.roughness is not None:
        words.append(f"Ra {feature.roughness}")
    return ", ".join(words)


def _sizes(feature: AnyFeature) -> tuple[str, ...]:
    if isinstance(feature, ExternalGear | InternalGear | DoubleHelicalGear | Spline | BevelGear):
        return _teeth(feature)
    if isinstance(feature, BoltCircle | Keyway | Flat | Pocket | Marking):
        return _milled(feature)
    return _turned(feature)


def _turned(feature: AnyFeature) -> tuple[str, ...]:
    match feature:
        case Face():
            return (f"z {feature.z}",)
        case TurnedDiameter() | Bore():
            return (f"Ø {feature.diameter}",)
        case Taper():
            return (f"Ø {feature.lower_diameter} to Ø {feature.upper_diameter}",)
        case FaceGroove():
            return (f"Ø {feature.inner_diameter} to Ø {feature.outer_diameter}", f"{feature.depth} deep")
        case Groove() | ApexGroove() | RunOutGroove():
            return (f"{span_words(feature)}", f"floor Ø {feature.diameter}")
        case Chamfer():
            return (f"{feature.size} x {feature.angle}", _edge(feature.edge, feature.on))
        case Radius():
            return (f"R {feature.size}", _edge(feature.edge, feature.on))
        case Thread():
            plain = f"Ø {feature.diameter}, pitch {feature.pitch}"
            return (feature.designation or plain, *_hand(feature.hand if feature.hand == "left" else None))
        case _:
            return ("",)


def _teeth(feature: ExternalGear | InternalGear | DoubleHelicalGear | Spline | BevelGear) -> tuple[str, ...]:
    module = feature.module.text
    size = f"{feature.teeth} teeth, {module if module[0].isalpha() else f'module {module}'}"
    match feature:
        case DoubleHelicalGear():
            hands = f"{feature.lower.hand} below, {feature.upper.hand} above"
            return (size, f"helix {feature.helix_angle}", hands)
        case Spline():
            fit = f" {feature.tolerance_class}" if feature.tolerance_class else ""
            return (size, f"{feature.standard}{fit}", f"pressure angle {feature.pressure_angle}")
        case BevelGear():
            return (size, f"{feature.form} bevel, apex {feature.apex} side", *_hand(feature.hand))
        case _:
            if float(feature.helix_angle) == 0:
                return (size, "spur")
            return (size, f"helix {feature.helix_angle}", *_hand(feature.hand))


def _milled(feature: BoltCircle | Keyway | Flat | Pocket | Marking) -> tuple[str, ...]:
    match feature:
        case BoltCircle():
            return _holes(feature)
        case Keyway():
            limits = f" {feature.tolerance}" if feature.tolerance else ""
            return (f"{feature.width}{limits} wide", f"{feature.depth} deep")
        case Flat():
            limits = f" {feature.tolerance}" if feature.tolerance else ""
            return (f"{_times(feature.count)}{feature.distance}{limits} from the axis",)
        case Pocket():
            size = f"{_times(feature.count)}{feature.length} x {feature.width}"
            return (size, f"{feature.depth} deep", f"corners R {feature.corner_radius}")
        case Marking():
            return (f'"{feature.text}"', f"letters {feature.height} high")


def _holes(feature: BoltCircle) -> tuple[str, ...]:
    words = [f"{_times(feature.count)}Ø {feature.diameter}"]
    if feature.thread_pitch is not None:
        words[0] += f", thread pitch {feature.thread_pitch}"
    if feature.ream is not None:
        words[0] += f" {feature.ream}"
    words.append("through" if feature.depth is None else f"{feature.depth} deep")
    if feature.circle_diameter is not None:
        words.append(f"on Ø {feature.circle_diameter}")
    elif feature.z is not None:
        words.append(f"radial at z {feature.z}")
    if feature.counterbore is not None:
        words.append(f"counterbore Ø {feature.counterbore.diameter}, {feature.counterbore.depth} deep")
    return tuple(words)


def _times(count: int) -> str:
    return f"{count} x " if count > 1 else ""


def _hand(hand: str | None) -> tuple[str, ...]:
    return (f"{hand} hand",) if hand else ()


def _edge(edge: str, on: str) -> str:
    return f"both edges of {on}" if edge == "both" else f"{edge} edge of {on}"


def span_words(feature: Zone) -> str:
    """Give the ends of a feature on the axis, as written.

    Parameters
    ----------
    feature
        A feature that spans a length of the axis.
    """
    return f"z {feature.z_from} to {feature.z_to}"


def blank_words(blank: Blank) -> str:
    """Give form and sizes of the blank, as written.

    Parameters
    ----------
    blank
        The blank.
    """
    bore = f", bore Ø {blank.bore}" if blank.bore > 0 else ", solid"
    return f"{blank.form}, Ø {blank.diameter}{bore}, z {blank.z_from} to {blank.z_to}"


def hold_words(clamping: Clamping) -> str:
    """Say how and where a clamping holds the part.

    Parameters
    ----------
    clamping
        The clamping.
    """
    on = "the blank" if clamping.on == "blank" else clamping.on
    return f"{HOLDS[clamping.hold]} {on}"


def band_words(clamping: Clamping) -> str:
    """Give the band that the jaws cover, as written; empty without jaws.

    Parameters
    ----------
    clamping
        The clamping.
    """
    if clamping.z_from is None or clamping.z_to is None:
        return ""
    return f"z {clamping.z_from} to {clamping.z_to}"


def written(quantity: Quantity | None, otherwise: str = "") -> str:
    """Give a quantity as the planner wrote it.

    Parameters
    ----------
    quantity
        The quantity, or None if it was not given.
    otherwise
        Words for one that was not given.
    """
    return otherwise if quantity is None else quantity.text
