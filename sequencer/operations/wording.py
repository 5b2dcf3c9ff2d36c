"""Titles of operations: the name of a feature inside a sentence, without words said twice."""

from __future__ import annotations

from typing import Final

from sequencer.part import AnyFeature

#: What is said instead of a verb that the name of the feature begins with.
_OTHERWISE: Final = {
    "chamfer": "Cut",
    "round": "Turn",
    "thread": "Cut",
    "slot": "Cut",
    "mill": "Cut",
    "drill": "Make",
    "tap": "Cut",
    "ream": "Finish",
    "counterbore": "Cut",
    "rough": "Turn",
    "finish": "Make",
    "measure": "Check",
}


def named(feature: AnyFeature) -> str:
    """Give the words for a feature inside a sentence: a title begins small there, a name stays as it is.

    Words that are no plain words, such as O-ring or M20, keep their capitals.

    Parameters
    ----------
    feature
        Feature of the part.
    """
    if not feature.title:
        return feature.name
    first, space, rest = feature.title.partition(" ")
    plain = first.partition("-")[0]
    if len(plain) > 1 and plain.isalpha() and plain[1:].islower():
        first = first[:1].lower() + first[1:]
    return f"{first}{space}{rest}"


def work(verb: str, feature: AnyFeature) -> str:
    """Say what is done to a feature: "Finish lower face", but not "Chamfer chamfer of the rim".

    Parameters
    ----------
    verb
        What is done, such as "Finish".
    feature
        Feature of the part.
    """
    name = named(feature)
    doubled = name.lower().startswith(verb.lower())
    return f"{_OTHERWISE.get(verb.lower(), verb) if doubled else verb} {name}"


def work_of(phrase: str, feature: AnyFeature) -> str:
    """Say what is done to something of a feature: "Cut teeth of pinion", but not "Cut teeth of teeth".

    Parameters
    ----------
    phrase
        Verb and object, such as "Cut teeth".
    feature
        Feature of the part.
    """
    name, (rest, _, last) = named(feature), phrase.rpartition(" ")
    return f"{rest} {name}" if last in name.lower().split() else f"{phrase} of {name}"
