"""Titles without doubled words, and cutting speeds as they are run."""

from __future__ import annotations

import math

import pytest
from small_parts import LOWER, UPPER, bore, fact, formula, outside, part, plain_ring, small_shop, way, zone

from sequencer.operations import OperationList, make_operations
from sequencer.operations.wording import named, work, work_of
from sequencer.part import Part


def made(given: Part) -> OperationList:
    """Operations on the small shop."""
    return make_operations(given, small_shop())


def titled(title: str):
    """A turned diameter with a title."""
    return part(outside("rim", 0, 200, 390, title=title)).by_name["rim"]


@pytest.mark.parametrize(
    ("title", "words"),
    [
        ("Lower face", "lower face"),
        ("Run-out groove", "run-out groove"),
        ("O-ring groove", "O-ring groove"),
        ("M360x4 thread", "M360x4 thread"),
        ("DIN 509 undercut", "DIN 509 undercut"),
        ("V groove", "V groove"),
        ("", "rim"),
    ],
)
def test_a_title_begins_small_inside_a_sentence(title: str, words: str):
    """Abbreviations and names keep their capitals."""
    assert named(titled(title)) == words


@pytest.mark.parametrize(
    ("verb", "title", "words"),
    [
        ("Finish", "Lower face", "Finish lower face"),
        ("Chamfer", "Chamfer of the rim", "Cut chamfer of the rim"),
        ("Thread", "Thread M100", "Cut thread M100"),
        ("Drill", "Drilled holes", "Make drilled holes"),
    ],
)
def test_no_word_is_said_twice(verb: str, title: str, words: str):
    """Another verb stands where the title begins with it."""
    assert work(verb, titled(title)) == words


def test_teeth_of_teeth_are_just_teeth():
    """The object is left out where the name says it."""
    assert work_of("Cut teeth", titled("Drive spur teeth")) == "Cut drive spur teeth"
    assert work_of("Cut teeth", titled("Pinion")) == "Cut teeth of pinion"


def test_titles_on_the_sheets():
    """Slotted keyway, chamfers of both edges, teeth, groove and blank, as the route sheet prints them."""
    keyway = zone("key", "keyway", 0, 200, title="Keyway", on="bore", width="20 mm", depth="5 mm")
    edges = {
        "name": "edges",
        "title": "Chamfers",
        "kind": "chamfer",
        "on": "bore",
        "edge": "both",
        "size": "2 mm",
    }
    groove = zone("relief", "groove", 60, 70, title="Groove", diameter="370 mm")
    flat = zone("flats", "flat", 0, 50, title="Flats", on="rim", distance="190 mm", count=2)
    listed = made(plain_ring(keyway, edges, groove, flat)).by_name
    assert listed["key/finish"].title == "Slot keyway"
    assert listed["flats/finish"].title == "Mill flats"
    assert listed["edges/finish_lower"].title == "Chamfer lower edge of bore"
    assert listed["relief/finish"].title == "Finish groove"


def test_the_title_of_a_drilled_hole_gives_the_drill():
    """M20 x 2.4 wants 17.6 mm: the drill has 17.5, an end mill makes 17.6; M20 x 2.5 has one size."""
    tapped = {
        "name": "taps", "kind": "bolt_circle", "on": "upper_face", "circle_diameter": "250 mm", "count": 4,
        "diameter": "20 mm", "thread_pitch": "2.4 mm", "depth": "50 mm", "thread_depth": "40 mm",
    }  # fmt: skip
    assert made(plain_ring(tapped)).by_name["taps/drill"].title == "Drill taps (4 x 17.5 to 17.6 mm)"
    usual = {**tapped, "thread_pitch": "2.5 mm"}
    assert made(plain_ring(usual)).by_name["taps/drill"].title == "Drill taps (4 x 17.5 mm)"


def test_the_cutting_speed_is_the_one_that_is_run():
    """Bore 120 at 200 m/min wants 530 rpm, the table turns 400: pi*120*400/1000 = 150.8 m/min."""
    finish = way(made(part(LOWER, UPPER, bore())).by_name["bore/finish"], "B2", "I")
    rpm = fact(finish, "revolutions")
    assert rpm < 1000 * 200 / (math.pi * 120) - 1
    assert fact(finish, "cutting speed") == pytest.approx(math.pi * 120 * rpm / 1000, rel=0.01)
    assert "m/min instead of 200: " in formula(finish, "cutting speed")
    assert "held down to" in formula(finish, "revolutions")


def test_a_speed_that_nothing_holds_down_stays_as_given():
    """An outside of 390 mm at 250 m/min wants 204 rpm: no cap."""
    finish = way(made(plain_ring()).by_name["rim/finish"], "F1", "II")
    assert fact(finish, "cutting speed") == 250
    assert formula(finish, "cutting speed") == ""
