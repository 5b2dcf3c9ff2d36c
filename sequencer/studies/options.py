"""Options of the command line become a study."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any, Final, Literal

from pydantic import ValidationError

from sequencer.errors import SequencerError
from sequencer.shop import Forbidden
from sequencer.shop.references import METHODS
from sequencer.studies.study import Study, Variant, Vary

_RANGE: Final = re.compile(r"^(?P<first>[^.].*?)\.\.(?P<last>.+?)/(?P<step>.+)$")


def study_of(
    part: Path,
    shop: Path,
    vary: list[str],
    change: list[str],
    forbid: list[str],
    aim: Literal["clampings", "changes", "minutes"],
    seconds: float,
) -> Study:
    """Make a study of options.

    Parameters
    ----------
    part, shop
        The files.
    vary
        "KEY=V1,V2" or "KEY=FROM..TO/STEP", all combined.
    change
        "KEY=VALUE", all in one variant.
    forbid
        "METHOD", "TOOL" or "FEATURE:METHOD", all in one variant.
    aim, seconds
        How each variant is planned.

    Raises
    ------
    SequencerError
        When an option cannot be read.
    """
    variants = []
    if change or forbid:
        sets = dict(_pair(text, "--set") for text in change)
        ways = tuple(_way(text) for text in forbid)
        name = ", ".join([*change, *(f"without {text}" for text in forbid)])
        values = {key: scalar(text) for key, text in sets.items()}
        variants.append(Variant(name=name[:80], set=values, forbid=ways))
    try:
        return Study(
            name=f"What if: {part.stem}"[:80],
            part=str(part),
            shop=str(shop),
            aim=aim,
            seconds=seconds,
            vary=tuple(_vary(text) for text in vary),
            variants=tuple(variants),
        )
    except ValidationError as error:
        first = error.errors(include_url=False)[0]
        raise SequencerError(first["msg"], where="what if", remedy="check the options") from None


def _pair(text: str, option: str) -> tuple[str, str]:
    key, sign, value = text.partition("=")
    if not sign or not key.strip() or not value.strip():
        raise SequencerError(
            f"{text!r} is no KEY=VALUE", where=option, remedy="write part.lot=4, for example"
        )
    return key.strip(), value.strip()


def _vary(text: str) -> Vary:
    key, values = _pair(text, "--vary")
    match = _RANGE.match(values)
    if match:
        ends: dict[str, Any] = {
            "key": key,
            "from": scalar(match["first"]),
            "to": scalar(match["last"]),
            "step": scalar(match["step"]),
        }
        return Vary.model_validate(ends)
    if values[:1] == "[":
        listed = scalar(values)
        return Vary(key=key, values=tuple(listed))
    return Vary(key=key, values=tuple(scalar(each.strip()) for each in values.split(",")))


def _way(text: str) -> Forbidden:
    feature, sign, rest = text.rpartition(":")
    word = rest if sign else text
    values = {"method": word} if word in METHODS else {"tool": word}
    try:
        return Forbidden.model_validate(values | ({"feature": feature} if sign else {}))
    except ValidationError:
        raise SequencerError(
            f"{text!r} is neither a method nor a tool",
            where="--forbid",
            remedy=f"write a tool such as T55, or a method: {', '.join(METHODS)}",
        ) from None


def scalar(text: str) -> Any:
    """Read a word of the command line: numbers, true and false, a list or group as JSON, else text.

    Parameters
    ----------
    text
        The word.
    """
    if text[:1] in ("[", "{"):
        try:
            return json.loads(text)
        except json.JSONDecodeError as error:
            raise SequencerError(
                f"{text!r} is no list or group of keys: {error.msg}",
                where="what if",
                remedy='write it as JSON, such as ["hobbing"]',
            ) from None
    if text in ("true", "false"):
        return text == "true"
    if re.fullmatch(r"[-+]?[0-9]+", text):
        return int(text)
    if re.fullmatch(r"[-+]?([0-9]+\.[0-9]*|\.[0-9]+)([eE][-+]?[0-9]+)?", text):
        return float(text)
    return text
